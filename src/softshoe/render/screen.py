"""The film's page: where everything stands around the dancer, as marks on a page of 1280 by 720.

One view at a time; the count in its ring stands on the floor beside the feet, the move and the next one at the left,
the room plan in the upper right corner, captions in a band under the floor so that feet stay free. Nothing here moves.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.render.captions import LINES, wrapped
from softshoe.render.look import palette
from softshoe.render.look_signs import rail, ring, room_plan
from softshoe.render.stage import Capsule, Line, Mark, Text

if TYPE_CHECKING:
    from softshoe.render.screen_time import Shown
    from softshoe.render.stage_pixels import Typeface
    from softshoe.teach.lesson import Lesson, Passage

    Walls = tuple[tuple[Passage, str], ...]

WIDTH, HEIGHT = 1280, 720
STAGE = (396.0, 80.0, 940.0, 572.0)  # left, top, right, bottom: the box that holds the dancer
BAND_TOP = 606.0
VIEW_WORDS = {"mirror": "mirror image", "behind": "from behind"}
LEFT, MOVE_WIDTH = 44.0, 340.0
NOW_SIZES, NEXT_SIZES = (54, 46, 40, 34), (38, 34, 30, 28)
MOST_LINES = 3
RING = (1098.0, 462.0, 108.0)
PLAN = (1150.0, 186.0, 132.0)
CARD_LEFT, CARD_TOP, CARD_WIDTH = 124.0, 84.0, 1060.0
CARD_TITLES, CARD_SIZES = (64, 54, 44), (44, 40, 36, 32, 28, 25)
RAIL_X = 1252.0


def counts_of(lesson: Lesson) -> int:
    """Return how many links the ring has: eight, or six when no count of the lesson is over six."""
    most = max((_whole(b.label) for p in lesson.passages for b in p.beats if b.motion is not None), default=8)
    return 6 if 0 < most <= 6 else 8


def _whole(label: str) -> int:
    digits = label[: len(label) - len(label.lstrip("0123456789"))]
    return int(digits) if digits else 0


def page_marks(shown: Shown, face: Typeface, *, counts: int, walls: Walls) -> list[Mark]:
    """Return the page round a dancer: everything but floor and figure."""
    return [
        *_heading(shown),
        *_moves(shown, face),
        *_place(shown),
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
    section = f", section {shown.beat.section}" if shown.beat is not None and shown.beat.section else ""
    marks: list[Mark] = [Text(LEFT, 54, shown.passage.title + section, 32, colours["ink"], bold=True)]
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
        marks.append(Text(LEFT, 196, "now", 26, colours["soft"]))
        marks += _block(beat.now, 196, NOW_SIZES, face, bold=True, ink=colours["ink"])
    if beat.next_:
        marks.append(Line(((LEFT, 410), (LEFT + 60, 410)), colours["rule"], 3.0))
        marks.append(Text(LEFT, 452, "next", 26, colours["soft"]))
        marks += _block(beat.next_, 452, NEXT_SIZES, face, bold=False, ink=colours["ink"])
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


def _place(shown: Shown) -> list[Mark]:
    beat = shown.beat
    if beat is None or beat.motion is None:
        return []
    x, y, size = PLAN
    ink = palette()["soft"]
    marks = room_plan(x, y, size, facing_deg=beat.facing_deg)
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


def card_marks(shown: Shown, face: Typeface, *, counts: int) -> list[Mark]:
    """Return a card of words for the time when nobody dances: the title large, then each sentence in its own lines."""
    colours = palette()
    title = shown.passage.title
    size = next((s for s in CARD_TITLES if face.width(title, size=s, bold=True) <= CARD_WIDTH), CARD_TITLES[-1])
    y = CARD_TOP
    marks: list[Mark] = []
    for line in face.wrapped(title, size=size, bold=True, width=CARD_WIDTH):
        y += size * 1.15
        marks.append(Text(CARD_LEFT, y, line, size, colours["ink"], bold=True))
    body, low = _sentences(shown.passage.text, face, y + 30.0)
    edge = Capsule(CARD_LEFT - 40, CARD_TOP + 18, 6, CARD_LEFT - 40, max(low, CARD_TOP + 90), 6, colours["accent"])
    return [edge, *marks, *body, *ring_marks(shown, counts), *caption_marks(shown)]


def _sentences(text: tuple[str, ...], face: Typeface, top: float) -> tuple[list[Mark], float]:
    """The sentences in the largest size that ends above the captions, and where they end."""
    for size in CARD_SIZES:
        blocks = [face.wrapped(words, size=size, width=CARD_WIDTH) for words in text]
        lead, gap = size * 1.32, size * 0.42
        if top + sum(len(lines) * lead + gap for lines in blocks) <= BAND_TOP - 24:
            break
    marks: list[Mark] = []
    y = top
    for lines in blocks:
        for line in lines:
            y += lead
            marks.append(Text(CARD_LEFT, y, line, size, palette()["ink"]))
        y += gap
    return marks, y - (gap if blocks else 0.0)
