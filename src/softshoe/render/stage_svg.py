"""Marks to SVG 1.1: one string that can stand alone, be put into a page, or be set into print."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING

from softshoe.render.stage import Arc, Capsule, Circle, Line, Mark, Point, Polygon, Text, arc_points, capsule_points

if TYPE_CHECKING:
    from collections.abc import Iterable

FAMILY, COUNT_FAMILY = "Atkinson Hyperlegible", "B612"


def svg(marks: Iterable[Mark], *, width: float, height: float, alt: str = "", family: str = FAMILY) -> str:
    """Return a picture of these marks as one SVG document; ``alt`` becomes its title for screen readers."""
    title = f"<title>{escape(alt)}</title>" if alt else ""
    role = f' role="img" aria-label="{escape(alt)}"' if alt else ""
    body = "".join(_element(mark, family) for mark in marks)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_n(width)} {_n(height)}" '
        f'width="{_n(width)}" height="{_n(height)}"{role}>{title}{body}</svg>'
    )


def _n(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _paint(fill: str | None, ink: str | None, width: float) -> str:
    stroke = f' stroke="{ink}" stroke-width="{_n(width)}" stroke-linejoin="round"' if ink and width else ""
    return f'fill="{fill or "none"}"{stroke}'


def _path(points: tuple[Point, ...], *, closed: bool) -> str:
    return "M" + "L".join(f"{_n(x)} {_n(y)}" for x, y in points) + ("Z" if closed else "")


def _element(mark: Mark, family: str) -> str:
    match mark:
        case Polygon():
            return f'<path d="{_path(mark.points, closed=True)}" {_paint(mark.fill, mark.ink, mark.width)}/>'
        case Capsule():
            return f'<path d="{_path(capsule_points(mark), closed=True)}" {_paint(mark.fill, mark.ink, mark.width)}/>'
        case Circle():
            paint = _paint(mark.fill, mark.ink, mark.width)
            return f'<circle cx="{_n(mark.x)}" cy="{_n(mark.y)}" r="{_n(mark.r)}" {paint}/>'
        case Line():
            return _stroke(mark.points, mark.ink, mark.width, "round")
        case Arc():
            steps = max(2, round(abs(mark.end_deg - mark.start_deg) / 6))
            points = arc_points(mark.x, mark.y, mark.r, start_deg=mark.start_deg, end_deg=mark.end_deg, steps=steps)
            return _stroke(points, mark.ink, mark.width, "butt")
        case Text():
            return _words(mark, family)


def _stroke(points: tuple[Point, ...], ink: str, width: float, cap: str) -> str:
    return (
        f'<path d="{_path(points, closed=False)}" fill="none" stroke="{ink}" stroke-width="{_n(width)}" '
        f'stroke-linecap="{cap}" stroke-linejoin="round"/>'
    )


def _words(text: Text, family: str) -> str:
    family = COUNT_FAMILY if text.face == "count" else family
    weight = ' font-weight="bold"' if text.bold or text.face == "count" else ""
    return (
        f'<text x="{_n(text.x)}" y="{_n(text.y)}" font-family="{escape(family)}" font-size="{text.size}"{weight} '
        f'text-anchor="{text.anchor}" fill="{text.ink}">{escape(text.words, quote=False)}</text>'
    )
