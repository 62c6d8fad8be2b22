"""The film's page: everything round the dancer, as marks in the places of a layout.

One view at a time; the count in its ring stands on the floor beside the feet, the move and the next one apart from it,
the feet from above on the plan of the room in an inset, captions in a band under the floor so that feet stay free.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from softshoe.render.captions import wrapped
from softshoe.render.look import guise_now, palette, typeface
from softshoe.render.look_signs import ring
from softshoe.render.screen_rail import on_rail, screen_rail
from softshoe.render.screen_time import VIEW_WORDS
from softshoe.render.stage import Line, Mark, Text

if TYPE_CHECKING:
    from softshoe.render.look import Guise
    from softshoe.render.screen_layout import Layout, Words
    from softshoe.render.screen_rail import Rail
    from softshoe.render.screen_time import Shown
    from softshoe.teach.lesson import Lesson

EDGE = 44.0
KEPT = 64  # so many pieces of pages are kept: the same words come again and again


def counts_of(lesson: Lesson) -> int:
    """Return how many links the ring has: eight, or six when no count of the lesson is over six."""
    most = max((_whole(b.label) for p in lesson.passages for b in p.beats if b.motion is not None), default=8)
    return 6 if 0 < most <= 6 else 8


def _whole(label: str) -> int:
    digits = label[: len(label) - len(label.lstrip("0123456789"))]
    return int(digits) if digits else 0


def page_marks(shown: Shown, layout: Layout, *, counts: int, rail: Rail) -> list[Mark]:
    """Return the page round a dancer: everything but floor, figure and inset."""
    return [
        *_heading(shown, layout, walls=on_rail(rail, shown.passage)),
        *_moves(shown, layout),
        *ring_marks(shown, layout, counts),
        *screen_rail(rail, shown, layout),
        *caption_marks(shown, layout),
    ]


def ring_marks(shown: Shown, layout: Layout, counts: int) -> list[Mark]:
    """Return the ring of the present count; nothing where nobody counts."""
    if shown.beat is None or not shown.beat.label:
        return []
    whole = _whole(shown.beat.label)
    done = (whole - 1) % counts + 1 if whole else 0
    return [*_ring(layout.ring, counts, done, shown.beat.label, guise_now())]


@lru_cache(maxsize=KEPT)
def _ring(place: tuple[float, float, float], counts: int, done: int, label: str, _guise: Guise) -> list[Mark]:
    x, y, r = place
    return ring(x, y, r, counts=counts, done=done, label=label, thick=r * 0.185)


def _heading(shown: Shown, layout: Layout, *, walls: bool) -> list[Mark]:
    colours = palette()
    title, beat = shown.passage.title, shown.beat
    if beat is not None and beat.section and "section" not in title.casefold():
        title += f", section {beat.section}"
    if beat is not None and beat.wall and not walls and str(beat.wall) not in title:
        title += f", wall {beat.wall}"
    x, y, size = layout.title
    marks: list[Mark] = [Text(x, y, title, size, colours["ink"], bold=True)]
    words, ink = VIEW_WORDS[shown.passage.view], colours["soft"]
    if shown.coming:
        words, ink = f"next: {shown.coming}", colours["accent"]
    x, y, size = layout.view
    anchor = "end" if x > layout.width / 2 else "start"
    return [*marks, Text(x, y, words, size, ink, bold=True, anchor=anchor)]  # type: ignore[arg-type]


def _moves(shown: Shown, layout: Layout) -> list[Mark]:
    colours = palette()
    beat = shown.beat
    if beat is None:
        return []
    marks: list[Mark] = []
    if beat.now:
        marks += _block("now", beat.now, layout.now, True, guise_now())
    if beat.next_:
        left, top = layout.next_.left, layout.next_.top
        marks.append(Line(((left, top - 42), (left + 60, top - 42)), colours["rule"], 3.0))
        marks += _block("next", beat.next_, layout.next_, False, guise_now())
    return marks


@lru_cache(maxsize=KEPT)
def _block(name: str, words: str, place: Words, bold: bool, _guise: Guise) -> list[Mark]:
    """A name, and below it words in the largest size that needs no more lines than the column has; the very largest is
    for words of one line."""
    face, colours = typeface(), palette()
    for size in place.sizes:
        lines = face.wrapped(words, size=size, bold=bold, width=place.width)
        widest = max(face.width(line, size=size, bold=bold) for line in lines)
        if len(lines) <= (1 if size == place.sizes[0] else place.lines) and widest <= place.width:
            break
    lead = size * 1.16
    marks: list[Mark] = [Text(place.left, place.top, name, 26, colours["soft"])]
    return marks + [
        Text(place.left, place.top + 10 + lead * (k + 1), line, size, colours["ink"], bold=bold)
        for k, line in enumerate(lines)
    ]


def caption_marks(shown: Shown, layout: Layout) -> list[Mark]:
    """Return the band under the floor: a thin line, and the words in as few lines as the layout has letters for."""
    colours = palette()
    band = layout.band_top
    marks: list[Mark] = [Line(((0.0, band), (float(layout.width), band)), colours["rule"], 2.0)]
    if shown.caption is None:
        return marks
    top, lead, size, letters, most = layout.caption
    lines = wrapped(shown.caption.words, characters=letters)[:most]
    top += lead / 2 if len(lines) == 1 else 0.0
    middle = layout.width / 2
    marks += [Text(middle, top + lead * k, line, size, colours["ink"], anchor="middle") for k, line in enumerate(lines)]
    return marks
