"""Marks to pixels: anti-aliased drawing into one reusable picture, bytes R G B A.

Fonts are files the caller names (regular and bold); text is measured with the very letters that are drawn.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import chain, groupby
from typing import TYPE_CHECKING, Any

import numpy as np

from softshoe.render.stage import (
    Arc,
    Capsule,
    Circle,
    Line,
    Mark,
    Polygon,
    Text,
    arc_points,
    capsule_points,
    capsule_rims,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence
    from pathlib import Path

    from numpy.typing import NDArray

    Pixels = NDArray[np.uint8]
    Stroke = tuple[str, Sequence[float], tuple[Any, ...]]

ASCENT = 0.93  # the drawing library places text by its top; letters stand this share of the size below it


@lru_cache(maxsize=512)
def _pen(ink: str, width: float) -> Any:
    import aggdraw

    return aggdraw.Pen(ink, width)


@lru_cache(maxsize=512)
def _brush(fill: str) -> Any:
    import aggdraw

    return aggdraw.Brush(fill)


@lru_cache(maxsize=256)
def _font(ink: str, file: str, size: int) -> Any:
    import aggdraw

    return aggdraw.Font(ink, file, size)


@lru_cache(maxsize=256)
def _rims(c: Capsule, half: float) -> tuple[list[float], list[float]]:
    """Both outlines of a capsule; half of the limbs of a film stand as they stood."""
    return capsule_rims(c, half)


class Typeface:
    """The font files of one look, and what their letters measure.

    ``held`` are the letters that the faces for words hold; any other letter is taken from ``further``.
    """

    def __init__(self, regular: Path, bold: Path, *, count: Path, further: Path, held: frozenset[str]) -> None:
        import aggdraw

        self._files = {False: str(regular), True: str(bold)}
        self._count, self._further, self._held = str(count), str(further), held
        self._ruler = aggdraw.Draw("L", (1, 1))
        self._widths: dict[tuple[str, str, int], float] = {}
        self._runs: dict[tuple[str, str, str, int], list[tuple[str, Any, float]]] = {}

    def runs(self, text: Text, ink: str | None = None) -> list[tuple[str, Any, float]]:
        """Return a text as runs of letters of one font: the letters, the font, how wide they are [px].

        ``ink``: another colour than the text's own."""
        file, colour = self._count if text.face == "count" else self._files[text.bold], ink or text.ink
        key = text.words, file, colour, text.size
        if key not in self._runs:
            self._runs[key] = [
                (letters, _font(colour, face, text.size), self._wide(letters, face, text.size))
                for letters, face in self._parted(text.words, file)
            ]
        return self._runs[key]

    def width(self, words: str, *, size: int, bold: bool = False) -> float:
        """Return how wide these words are drawn [px]."""
        return sum(self._wide(letters, file, size) for letters, file in self._parted(words, self._files[bold]))

    def _parted(self, words: str, file: str) -> list[tuple[str, str]]:
        runs = groupby(words, key=lambda letter: file if letter in self._held else self._further)
        return [("".join(letters), chosen) for chosen, letters in runs]

    def _wide(self, letters: str, file: str, size: int) -> float:
        key = letters, file, size
        if key not in self._widths:
            self._widths[key] = float(self._ruler.textsize(letters, _font("#000000", file, size))[0])
        return self._widths[key]

    def wrapped(self, words: str, *, size: int, bold: bool = False, width: float) -> list[str]:
        """Break words into lines no wider than ``width`` [px]; a word that is wider alone keeps its line."""
        lines: list[str] = []
        for word in words.split():
            longer = f"{lines[-1]} {word}" if lines else word
            if lines and self.width(longer, size=size, bold=bold) <= width:
                lines[-1] = longer
            else:
                lines.append(word)
        return lines


class Canvas:
    """One picture of fixed size, drawn over again and again; every colour is what ``ink`` makes of a mark's own."""

    def __init__(self, width: int, height: int, typeface: Typeface, *, ink: Callable[[str], str] = str) -> None:
        import aggdraw

        self.width, self.height, self.typeface, self._ink = width, height, typeface, ink
        self._draw = aggdraw.Draw("RGBA", (width, height), "#ffffff")
        self._tools = {name: getattr(self._draw, name) for name in ("polygon", "ellipse", "line", "text")}

    def move(self, left: int, top: int) -> None:
        """Have marks at ``left``, ``top`` come to the picture's corner from now on."""
        self._draw.settransform((1.0, 0.0, float(-left), 0.0, 1.0, float(-top)))

    def lay(self, pixels: Pixels) -> None:
        """Cover the picture with a finished one of the same size, shape (height, width, 4)."""
        self._draw.frombytes(pixels)

    def draw(self, marks: Iterable[Mark]) -> None:
        """Draw marks over what is there."""
        for mark in marks:
            self.stroke(strokes(mark, self.typeface, self._ink))

    def stroke(self, made: Iterable[Stroke]) -> None:
        """Draw the strokes of marks over what is there."""
        for tool, place, how in made:
            self._tools[tool](place, *how)

    def pixels(self) -> Pixels:
        """Return a copy of the picture, shape (height, width, 4), R G B A."""
        return np.frombuffer(self._draw.tobytes(), np.uint8).reshape(self.height, self.width, 4)


def strokes(mark: Mark, typeface: Typeface, ink: Callable[[str], str] = str) -> list[Stroke]:
    """Return a mark as the drawing library's own strokes: the tool, the place, pens, brushes, letters and fonts.

    They may be drawn on any canvas, again and again."""
    match mark:
        case Polygon():
            return _shape(list(chain.from_iterable(mark.points)), mark.fill, mark.ink, mark.width, ink)
        case Capsule():
            return _capsule(mark, ink)
        case Circle():
            return _circle(mark, ink)
        case Line():
            return _line(mark, ink)
        case Arc():
            return _arc(mark, ink)
        case Text():
            return _text(mark, typeface, ink)


def _shape(
    flat: list[float], fill: str | None, edge: str | None, width: float, ink: Callable[[str], str]
) -> list[Stroke]:
    if len(flat) < 6:
        return []
    pens = (_pen(ink(edge), width),) if edge and width else ()
    brushes = (_brush(ink(fill)),) if fill else ()
    return [("polygon", flat, (*pens, *brushes))] if pens or brushes else []


def _capsule(c: Capsule, ink: Callable[[str], str]) -> list[Stroke]:
    """An outline is a larger capsule under a smaller one: that costs less than a pen that goes round."""
    half = c.width / 2
    if not (c.ink and c.width and c.fill) or min(c.r0, c.r1) <= half:
        return _shape(list(chain.from_iterable(capsule_points(c))), c.fill, c.ink, c.width, ink)
    outer, inner = _rims(c, half)
    return [("polygon", outer, (_brush(ink(c.ink)),)), ("polygon", inner, (_brush(ink(c.fill)),))]


def _circle(c: Circle, ink: Callable[[str], str]) -> list[Stroke]:
    half = c.width / 2 if c.ink else 0.0
    if half and not c.fill:
        return [_round(c.x, c.y, c.r, _pen(ink(str(c.ink)), c.width))]
    rings = ((c.r + half, c.ink if half else None), (c.r - half, c.fill))
    return [_round(c.x, c.y, r, _brush(ink(colour))) for r, colour in rings if colour and r > 0]


def _round(x: float, y: float, r: float, how: Any) -> Stroke:
    return "ellipse", (x - r, y - r, x + r, y + r), (how,)


def _line(line: Line, ink: Callable[[str], str]) -> list[Stroke]:
    half, colour = line.width / 2, ink(line.ink)
    brush = _brush(colour)
    if len(line.points) > 2 and line.points[0] != line.points[-1]:  # a curve is drawn at once, its ends made round
        ends = (line.points[0], line.points[-1])
        curve: Stroke = "line", list(chain.from_iterable(line.points)), (_pen(colour, line.width),)
        return [curve, *(_round(x, y, half, brush) for x, y in ends)]
    return [
        ("polygon", _rims(Capsule(x0, y0, half, x1, y1, half, None), 0.0)[0], (brush,))
        for (x0, y0), (x1, y1) in zip(line.points, line.points[1:], strict=False)
    ]


def _arc(arc: Arc, ink: Callable[[str], str]) -> list[Stroke]:
    steps = max(2, round(abs(arc.end_deg - arc.start_deg) / 6))
    span = {"start_deg": arc.start_deg, "end_deg": arc.end_deg, "steps": steps}
    outer = arc_points(arc.x, arc.y, arc.r + arc.width / 2, **span)  # type: ignore[arg-type]
    inner = arc_points(arc.x, arc.y, arc.r - arc.width / 2, **span)  # type: ignore[arg-type]
    return _shape(list(chain.from_iterable(outer + inner[::-1])), arc.ink, None, 0.0, ink)


def _text(text: Text, typeface: Typeface, ink: Callable[[str], str]) -> list[Stroke]:
    runs = typeface.runs(text, ink(text.ink))
    back = {"start": 0.0, "middle": 0.5, "end": 1.0}[text.anchor]
    x = text.x - back * sum(width for _, _, width in runs)
    made: list[Stroke] = []
    for letters, font, width in runs:
        made.append(("text", (x, text.y - ASCENT * text.size), (letters, font)))
        x += width
    return made
