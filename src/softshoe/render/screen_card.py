"""Cards of words for the time when nobody dances: title, what to see to, when to stop, rest.

Where the words leave room, the dancer sits or stands beside them at rest, and it is said which side is which.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.render.look import palette, typeface
from softshoe.render.screen import caption_marks, ring_marks
from softshoe.render.stage import Capsule, Mark, Text

if TYPE_CHECKING:
    from softshoe.render.picture_camera import Box
    from softshoe.render.screen_layout import CardLayout, Layout
    from softshoe.render.screen_time import Shown


def card_marks(shown: Shown, layout: Layout, *, counts: int) -> tuple[list[Mark], Box | None]:
    """Return a card, and the box beside or below its words where the dancer rests (None: the words need the room)."""
    card = layout.card
    for width, low, least in (
        (card.narrow, card.low, card.least_beside),
        (card.wide, layout.band_top - 24, 0),
    ):
        words, size, fits = _words(shown, card, width, low)
        if size >= least and fits:
            break
    marks = [*words, *ring_marks(shown, layout, counts), *caption_marks(shown, layout)]
    if low != card.low or (shown.beat is not None and shown.beat.label):
        return marks, None
    return [*marks, *_sides(card)], card.beside


def _sides(card: CardLayout) -> list[Mark]:
    """Which side is which, said under the dancer."""
    colours = palette()
    middle = (card.beside[0] + card.beside[2]) / 2
    return [
        Text(middle - 16, card.sides_y, "striped: left", 26, colours["left"], bold=True, anchor="end"),
        Text(middle + 16, card.sides_y, "plain: right", 26, colours["right"], bold=True),
    ]


def _words(shown: Shown, card: CardLayout, width: float, low: float) -> tuple[list[Mark], int, bool]:
    """The title and the sentences in the largest size that ends above ``low``, that size, and whether it does."""
    colours, face = palette(), typeface()
    title = shown.passage.title
    size = next((s for s in card.titles if face.width(title, size=s, bold=True) <= width), card.titles[-1])
    y = card.top
    marks: list[Mark] = []
    for line in face.wrapped(title, size=size, bold=True, width=width):
        y += size * 1.15
        marks.append(Text(card.left, y, line, size, colours["ink"], bold=True))
    text = tuple(words for words in shown.passage.text if words != title)
    body, end, size = _sentences(text, card, y + 26.0, width, low)
    edge = Capsule(card.left - 40, card.top + 18, 6, card.left - 40, max(end, card.top + 90), 6, colours["accent"])
    return [edge, *marks, *body], size, end <= low


def _sentences(
    text: tuple[str, ...], card: CardLayout, top: float, width: float, low: float
) -> tuple[list[Mark], float, int]:
    face = typeface()
    for size in card.sizes:
        blocks = [face.wrapped(words, size=size, width=width) for words in text]
        lead, gap = size * 1.30, size * 0.40
        if top + sum(len(lines) * lead + gap for lines in blocks) <= low:
            break
    marks: list[Mark] = []
    y = top
    for lines in blocks:
        for line in lines:
            y += lead
            marks.append(Text(card.left, y, line, size, palette()["ink"]))
        y += gap
    return marks, y - (gap if blocks else 0.0), size
