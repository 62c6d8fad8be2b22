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
    Point,
    Polygon,
    Text,
    arc_points,
    capsule_points,
    capsule_rims,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable
    from pathlib import Path

    from numpy.typing import NDArray

    Pixels = NDArray[np.uint8]

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

    def runs(self, text: Text, ink: str | None = None) -> list[tuple[str, Any, float]]:
        """Return a text as runs of letters of one font: the letters, the font, how wide they are [px].

        ``ink``: another colour than the text's own."""
        return [
            (letters, _font(ink or text.ink, file, text.size), self._wide(letters, file, text.size))
            for letters, file in self._parted(
                text.words, self._count if text.face == "count" else self._files[text.bold]
            )
        ]

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

    def move(self, left: int, top: int) -> None:
        """Have marks at ``left``, ``top`` come to the picture's corner from now on."""
        self._draw.settransform((1.0, 0.0, float(-left), 0.0, 1.0, float(-top)))

    def lay(self, pixels: Pixels) -> None:
        """Cover the picture with a finished one of the same size, shape (height, width, 4)."""
        self._draw.frombytes(pixels)

    def draw(self, marks: Iterable[Mark]) -> None:
        """Draw marks over what is there."""
        for mark in marks:
            match mark:
                case Polygon():
                    self._shape(mark.points, mark.fill, mark.ink, mark.width)
                case Capsule():
                    self._capsule(mark)
                case Circle():
                    self._circle(mark)
                case Line():
                    self._line(mark)
                case Arc():
                    self._arc(mark)
                case Text():
                    self._text(mark)

    def pixels(self) -> Pixels:
        """Return a copy of the picture, shape (height, width, 4), R G B A."""
        return np.frombuffer(self._draw.tobytes(), np.uint8).reshape(self.height, self.width, 4)

    def _shape(self, points: tuple[Point, ...], fill: str | None, ink: str | None, width: float) -> None:
        if len(points) < 3:
            return
        flat = list(chain.from_iterable(points))
        if ink and width and fill:
            self._draw.polygon(flat, _pen(self._ink(ink), width), _brush(self._ink(fill)))
        elif ink and width:
            self._draw.polygon(flat, _pen(self._ink(ink), width))
        elif fill:
            self._draw.polygon(flat, _brush(self._ink(fill)))

    def _capsule(self, c: Capsule) -> None:
        """An outline is a larger capsule under a smaller one: that costs less than a pen that goes round."""
        half = c.width / 2
        if not (c.ink and c.width and c.fill) or min(c.r0, c.r1) <= half:
            self._shape(capsule_points(c), c.fill, c.ink, c.width)
            return
        outer, inner = _rims(c, half)
        self._draw.polygon(outer, _brush(self._ink(c.ink)))
        self._draw.polygon(inner, _brush(self._ink(c.fill)))

    def _circle(self, c: Circle) -> None:
        half = c.width / 2 if c.ink else 0.0
        if half and not c.fill:
            self._draw.ellipse((c.x - c.r, c.y - c.r, c.x + c.r, c.y + c.r), _pen(self._ink(str(c.ink)), c.width))
            return
        for r, colour in ((c.r + half, c.ink if half else None), (c.r - half, c.fill)):
            if colour and r > 0:
                self._draw.ellipse((c.x - r, c.y - r, c.x + r, c.y + r), _brush(self._ink(colour)))

    def _line(self, line: Line) -> None:
        half, ink = line.width / 2, self._ink(line.ink)
        if len(line.points) > 2 and line.points[0] != line.points[-1]:  # a curve is drawn at once, its ends made round
            self._draw.line(list(chain.from_iterable(line.points)), _pen(ink, line.width))
            for x, y in (line.points[0], line.points[-1]):
                self._draw.ellipse((x - half, y - half, x + half, y + half), _brush(ink))
            return
        for (x0, y0), (x1, y1) in zip(line.points, line.points[1:], strict=False):
            self._draw.polygon(_rims(Capsule(x0, y0, half, x1, y1, half, None), 0.0)[0], _brush(ink))

    def _arc(self, arc: Arc) -> None:
        steps = max(2, round(abs(arc.end_deg - arc.start_deg) / 6))
        span = {"start_deg": arc.start_deg, "end_deg": arc.end_deg, "steps": steps}
        outer = arc_points(arc.x, arc.y, arc.r + arc.width / 2, **span)  # type: ignore[arg-type]
        inner = arc_points(arc.x, arc.y, arc.r - arc.width / 2, **span)  # type: ignore[arg-type]
        self._shape(outer + inner[::-1], arc.ink, None, 0.0)

    def _text(self, text: Text) -> None:
        runs = self.typeface.runs(text, self._ink(text.ink))
        back = {"start": 0.0, "middle": 0.5, "end": 1.0}[text.anchor]
        x = text.x - back * sum(width for _, _, width in runs)
        for letters, font, width in runs:
            self._draw.text((x, text.y - ASCENT * text.size), letters, font)
            x += width
