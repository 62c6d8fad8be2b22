"""What an outfit draws on the body: the collar and buttons of a shirt, the bib and straps of dungarees."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.render.look import cut_now, palette
from softshoe.render.stage import Circle, Line, Mark, Polygon

if TYPE_CHECKING:
    from softshoe.render.picture_camera import Seen
    from softshoe.render.picture_figure import Spot

OUTLINE_PX = 1.8
SHOULDERS_M = 0.34  # from one shoulder joint to the other, about; only how far the body is turned is read from it
SEEN = 0.35  # how far the body must look at us, or away, for what it wears there to show
BUTTONS = (0.30, 0.52, 0.74)


def outfit_marks(left: Spot, right: Spot, neck: Spot, pelvis: Spot, *, view: Seen) -> list[Mark]:
    """Return what the outfit in force adds to the body between shoulders, neck and pelvis, drawn over it."""
    body = _Body(left, right, neck, pelvis, view)
    if abs(body.faces) < SEEN:
        return []
    if cut_now() == "dungarees":
        return _bib(body) if body.faces > 0 else _crossed(body)
    return _collar(body) if body.faces > 0 else []


class _Body:
    """The front of the body on the screen: ``at(across, down)`` from shoulder to shoulder and from neck to hips."""

    def __init__(self, left: Spot, right: Spot, neck: Spot, pelvis: Spot, view: Seen) -> None:
        self.size = neck[3]
        way = 1.0 if view == "mirror" else -1.0
        self.faces = way * (right[0] - left[0]) / (SHOULDERS_M * self.size)
        self._neck, self._down = neck, (pelvis[0] - neck[0], pelvis[1] - neck[1])
        self._across = ((right[0] - left[0]) / 2, (right[1] - left[1]) / 2)

    def at(self, across: float, down: float) -> tuple[float, float]:
        """The screen point ``across`` from -1 (left shoulder) to 1, ``down`` from 0 (neck) to 1 (pelvis)."""
        x = self._neck[0] + across * self._across[0] + down * self._down[0]
        return x, self._neck[1] + across * self._across[1] + down * self._down[1]


def _collar(body: _Body) -> list[Mark]:
    colours = palette()
    seam, ink = colours["top_deep"], colours["outline"]
    front = Line((body.at(0.0, 0.16), body.at(0.0, 1.0)), seam, 0.010 * body.size)
    buttons = [Circle(*body.at(0.0, down), 0.013 * body.size, seam) for down in BUTTONS]
    wings = [
        Polygon(
            (body.at(s * 0.30, -0.06), body.at(0.0, 0.15), body.at(s * 0.42, 0.13)), colours["top"], ink, OUTLINE_PX
        )
        for s in (-1, 1)
    ]
    return [front, *buttons, *wings]


def _bib(body: _Body) -> list[Mark]:
    colours = palette()
    cloth, ink, deep = colours["trousers"], colours["outline"], colours["trousers_deep"]
    bib = Polygon(
        (body.at(-0.46, 0.34), body.at(0.46, 0.34), body.at(0.60, 1.04), body.at(-0.60, 1.04)), cloth, ink, OUTLINE_PX
    )
    straps = [_strap(body, (s * 0.40, 0.38), (s * 0.62, -0.02)) for s in (-1, 1)]
    pocket = Polygon(
        (body.at(-0.22, 0.52), body.at(0.22, 0.52), body.at(0.20, 0.78), body.at(-0.20, 0.78)), cloth, deep, OUTLINE_PX
    )
    buttons = [Circle(*body.at(s * 0.40, 0.40), 0.016 * body.size, colours["top"]) for s in (-1, 1)]
    return [*(m for strap in straps for m in strap), bib, pocket, *buttons]


def _crossed(body: _Body) -> list[Mark]:
    return [m for s in (-1, 1) for m in _strap(body, (-s * 0.34, 1.0), (s * 0.62, -0.02))]


def _strap(body: _Body, low: tuple[float, float], high: tuple[float, float]) -> list[Mark]:
    ends, wide = (body.at(*low), body.at(*high)), 0.044 * body.size
    return [Line(ends, palette()["outline"], wide + 2 * OUTLINE_PX), Line(ends, palette()["trousers"], wide)]
