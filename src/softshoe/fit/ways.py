"""Really different ways to lay a dance on one start: with everything allowed, with nothing new, with one kind only,
and without each thing the best way rests on. Every one of them is the cheapest of its kind."""

from __future__ import annotations

from math import inf
from typing import TYPE_CHECKING

from softshoe.fit.solve import Way, cheapest

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from softshoe.fit.lattice import Lattice
    from softshoe.fit.steps import Key

MOST_LEFT_OUT = 3  # repairs of the best way that are left out in turn
SLACK = 10.0  # points that a different way may charge more than the best


def ways(song: Lattice, *, thorough: bool, most: float = inf) -> tuple[Way, ...]:
    """Return the cheapest ways that charge ``most`` or less, the best first, each once.

    The one that repairs nothing new is always among them. ``thorough`` also looks for the best without each repair of
    the best, and with one kind of repair only.
    """
    plain = cheapest(song, lambda _: False)
    best = cheapest(song, most=min(most, plain.cost)) if plain is not None else None
    found = {way.steps: way for way in (best, plain) if way is not None}
    if best is not None and thorough:
        for allowed in _restrictions(best.new):
            other = cheapest(song, allowed, most=min(most, best.cost + SLACK))
            if other is not None:
                found.setdefault(other.steps, other)
    return tuple(sorted(found.values(), key=lambda way: way.cost))


def _restrictions(new: tuple[Key, ...]) -> Iterator[Callable[[Key], bool]]:
    kinds = {key[0] for key in new}
    for kind in ("tag", "restart"):
        if kinds != {kind}:
            yield lambda key, kind=kind: key[0] == kind  # type: ignore[misc]
    for left_out in new[:MOST_LEFT_OUT]:
        yield lambda key, left_out=left_out: key != left_out  # type: ignore[misc]
