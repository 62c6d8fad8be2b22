"""The film's page: where everything stands around the dancer, as marks on a page of 1280 by 720.

One view at a time; the count in its ring stands on the floor beside the feet, the move and the next one at the left,
the room plan in the upper right corner, captions in a band under the floor so that feet stay free. Nothing here moves.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.render.captions import LINES, wrapped
from softshoe.render.look import palette
from softshoe.render.look_signs import rail, ring, room_plan
from softshoe.render.stage import Line, Mark, Text

if TYPE_CHECKING:
    from softshoe.render.screen_time import Shown
    from softshoe.render.stage_pixels import Typeface
    from softshoe.teach.lesson import Lesson, Passage

    Walls = tuple[tuple[Passage, str], ...]

Facing = tuple[float, float]
WIDTH, HEIGHT = 1280, 720
STAGE = (396.0, 80.0, 940.0, 572.0)  # left, top, right, bottom: the box that holds the dancer
BAND_TOP = 606.0
VIEW_WORDS = {"mirror": "mirror image", "behind": "from behind"}
LEFT, MOVE_WIDTH = 44.0, 340.0
NOW_SIZES, NEXT_SIZES = (54, 46, 40, 34), (38, 34, 30, 28)
MOST_LINES = 3
RING = (1098.0, 462.0, 108.0)
PLAN = (1150.0, 186.0, 132.0)
RAIL_X = 1252.0


def counts_of(lesson: Lesson) -> int:
    """Return how many links the ring has: eight, or six when no count of the lesson is over six."""
    most = max((_whole(b.label) for p in lesson.passages for b in p.beats if b.motion is not None), default=8)
    return 6 if 0 < most <= 6 else 8


def _whole(label: str) -> int:
    digits = label[: len(label) - len(label.lstrip("0123456789"))]
    return int(digits) if digits else 0


def page_marks(shown: Shown, face: Typeface, *, counts: int, walls: Walls, facing: Facing) -> list[Mark]:
    """Return the page round a dancer: everything but floor and figure.

    ``facing`` is where she looks in the room on this count, and how far she turns until the next [degrees]."""
    return [
        *_heading(shown),
        *_moves(shown, face),
        *_place(shown, *facing),
        *ring_marks(shown, counts),
        *_rail(shown, walls),
        *caption_marks(shown),
    ]


def ring_marks(shown: Shown, counts: int) -> list[Mark]:
    """Return the ring of the present count; nothing where nobody counts."""
    if shown.beat is None or not shown.beat.label:
        return []
    whole = _whole(shown.beat.label)
    done = (whole - 1) % counts + 1 if whole else 0
    x, y, r = RING
    return ring(x, y, r, counts=counts, done=done, label=shown.beat.label, thick=20.0)


def _heading(shown: Shown) -> list[Mark]:
    colours = palette()
    title = shown.passage.title
    if shown.beat is not None and shown.beat.section and "section" not in title.casefold():
        title += f", section {shown.beat.section}"
    marks: list[Mark] = [Text(LEFT, 54, title, 32, colours["ink"], bold=True)]
    words = VIEW_WORDS[shown.passage.view]
    ink = colours["soft"]
    if shown.turning:
        words, ink = f"next: {VIEW_WORDS['behind' if shown.passage.view == 'mirror' else 'mirror']}", colours["accent"]
    marks.append(Text(1236, 54, words, 30, ink, bold=True, anchor="end"))
    return marks


def _moves(shown: Shown, face: Typeface) -> list[Mark]:
    colours = palette()
    beat = shown.beat
    if beat is None:
        return []
    marks: list[Mark] = []
    if beat.now:
        marks.append(Text(LEFT, 170, "now", 26, colours["soft"]))
        marks += _block(beat.now, 170, NOW_SIZES, face, bold=True, ink=colours["ink"])
    if beat.next_:
        marks.append(Line(((LEFT, 416), (LEFT + 60, 416)), colours["rule"], 3.0))
        marks.append(Text(LEFT, 458, "next", 26, colours["soft"]))
        marks += _block(beat.next_, 458, NEXT_SIZES, face, bold=False, ink=colours["ink"])
    return marks


def _block(words: str, y: float, sizes: tuple[int, ...], face: Typeface, *, bold: bool, ink: str) -> list[Mark]:
    """Words in the largest size that needs no more than three lines of the column."""
    for size in sizes:
        lines = face.wrapped(words, size=size, bold=bold, width=MOVE_WIDTH)
        widest = max(face.width(line, size=size, bold=bold) for line in lines)
        if len(lines) <= MOST_LINES and widest <= MOVE_WIDTH:
            break
    lead = size * 1.16
    return [Text(LEFT, y + 10 + lead * (k + 1), line, size, ink, bold=bold) for k, line in enumerate(lines)]


def _place(shown: Shown, facing_deg: float, turn_deg: float) -> list[Mark]:
    beat = shown.beat
    if beat is None or beat.motion is None:
        return []
    x, y, size = PLAN
    ink = palette()["soft"]
    marks = room_plan(x, y, size, facing_deg=facing_deg, turn_deg=turn_deg)
    marks.append(Text(x, y - size / 2 - 12, "front of the room", 22, ink, anchor="middle"))
    if beat.wall and str(beat.wall) not in shown.passage.title:
        marks.append(Text(x, y + size / 2 + 34, f"wall {beat.wall}", 28, palette()["ink"], bold=True, anchor="middle"))
    return marks


def walls_of(lesson: Lesson) -> tuple[tuple[Passage, str], ...]:
    """Return the passages that dance a wall or a tag, in order, each with its kind of link: "wall" or "tag"."""
    found = []
    for passage in lesson.passages:
        danced = [beat for beat in passage.beats if beat.wall and beat.motion is not None and beat.section]
        tagged = [beat for beat in passage.beats if beat.motion is not None and ":tag" in beat.motion]
        if danced or tagged:
            found.append((passage, "wall" if danced else "tag"))
    return tuple(found)


def _rail(shown: Shown, walls: Walls) -> list[Mark]:
    """The rail of the song's walls, while one of several is danced."""
    places = [k for k, (passage, _) in enumerate(walls) if passage is shown.passage]
    if len(walls) < 2 or not places:
        return []
    return rail(RAIL_X, 96, 460, walls=[kind for _, kind in walls], present=places[0])


def caption_marks(shown: Shown) -> list[Mark]:
    """Return the band under the floor: a thin line, and at most two lines of words."""
    colours = palette()
    marks: list[Mark] = [Line(((0.0, BAND_TOP), (float(WIDTH), BAND_TOP)), colours["rule"], 2.0)]
    if shown.caption is None:
        return marks
    lines = wrapped(shown.caption.words)[:LINES]
    top = 654.0 + (24.0 if len(lines) == 1 else 0.0)
    marks += [Text(WIDTH / 2, top + 44 * k, line, 38, colours["ink"], anchor="middle") for k, line in enumerate(lines)]
    return marks
