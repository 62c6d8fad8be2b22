"""Cards of words for the time when nobody dances: title, what to see to, when to stop, rest.

Where the words leave room, the dancer sits or stands beside them at rest, and it is said which side is which.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.render.look import palette
from softshoe.render.screen import BAND_TOP, caption_marks, ring_marks
from softshoe.render.stage import Capsule, Mark, Text

if TYPE_CHECKING:
    from softshoe.render.picture_camera import Box
    from softshoe.render.screen_time import Shown
    from softshoe.render.stage_pixels import Typeface

LEFT, TOP = 124.0, 76.0
NARROW, WIDE = 690.0, 1060.0
TITLES, SIZES = (64, 54, 44), (44, 40, 36, 34, 32, 28, 25)
LEAST_BESIDE = 34  # words smaller than this take the whole width rather than share it
BESIDE: Box = (880.0, 70.0, 1220.0, 522.0)
SIDES_Y = 570.0


def card_marks(shown: Shown, face: Typeface, *, counts: int) -> tuple[list[Mark], Box | None]:
    """Return a card, and the box beside its words where the dancer may rest (None: the words need the room)."""
    for width, least in ((NARROW, LEAST_BESIDE), (WIDE, 0)):
        words, size = _words(shown, face, width)
        if size >= least:
            break
    marks = [*words, *ring_marks(shown, counts), *caption_marks(shown)]
    if width == WIDE or (shown.beat is not None and shown.beat.label):
        return marks, None
    return [*marks, *_sides()], BESIDE


def _sides() -> list[Mark]:
    """Which side is which, said under the dancer."""
    colours = palette()
    middle = (BESIDE[0] + BESIDE[2]) / 2
    return [
        Text(middle - 16, SIDES_Y, "striped: left", 26, colours["left"], bold=True, anchor="end"),
        Text(middle + 16, SIDES_Y, "plain: right", 26, colours["right"], bold=True),
    ]


def _words(shown: Shown, face: Typeface, width: float) -> tuple[list[Mark], int]:
    """The title, the sentences in the largest size that ends above the captions, and that size."""
    colours = palette()
    title = shown.passage.title
    size = next((s for s in TITLES if face.width(title, size=s, bold=True) <= width), TITLES[-1])
    y = TOP
    marks: list[Mark] = []
    for line in face.wrapped(title, size=size, bold=True, width=width):
        y += size * 1.15
        marks.append(Text(LEFT, y, line, size, colours["ink"], bold=True))
    text = tuple(words for words in shown.passage.text if words != title)
    body, low, size = _sentences(text, face, y + 26.0, width)
    edge = Capsule(LEFT - 40, TOP + 18, 6, LEFT - 40, max(low, TOP + 90), 6, colours["accent"])
    return [edge, *marks, *body], size


def _sentences(text: tuple[str, ...], face: Typeface, top: float, width: float) -> tuple[list[Mark], float, int]:
    for size in SIZES:
        blocks = [face.wrapped(words, size=size, width=width) for words in text]
        lead, gap = size * 1.30, size * 0.40
        if top + sum(len(lines) * lead + gap for lines in blocks) <= BAND_TOP - 24:
            break
    marks: list[Mark] = []
    y = top
    for lines in blocks:
        for line in lines:
            y += lead
            marks.append(Text(LEFT, y, line, size, palette()["ink"]))
        y += gap
    return marks, y - (gap if blocks else 0.0), size
