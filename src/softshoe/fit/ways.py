"""Really different ways to lay a dance on one start: with everything allowed, with nothing new, with one kind only,
and without each thing the best way rests on. Every one of them is the cheapest of its kind."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.fit.solve import Way, cheapest

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from softshoe.fit.growing import Edge
    from softshoe.fit.lattice import Lattice
    from softshoe.fit.steps import Key

MOST_LEFT_OUT = 3  # repairs of the best way that are left out in turn


def ways(song: Lattice, *, thorough: bool) -> tuple[Way, ...]:
    """Return the cheapest ways, the best first, each once.

    ``thorough`` also looks for the best without each repair of the best, and with one kind of repair only.
    """
    best = cheapest(song)
    if best is None:
        return ()
    found = {best.steps: best}
    found.setdefault(song.plain, Way(song.plain, song.plain_cost))
    new = _new_keys(song, best)
    for allowed in _restrictions(new, thorough=thorough):
        other = cheapest(song, allowed)
        if other is not None:
            found.setdefault(other.steps, other)
    return tuple(sorted(found.values(), key=lambda way: way.cost))


def _new_keys(song: Lattice, way: Way) -> tuple[Key, ...]:
    """What the way repairs that nobody wrote or pinned."""
    taken = {(step.wall, step.at): step for step in way.steps}
    edges = (edge for node in taken for edge in song.edges[node] if edge.step == taken[node])
    return tuple(dict.fromkeys(key for edge in edges for key in edge.new))


def _restrictions(new: tuple[Key, ...], *, thorough: bool) -> Iterator[Callable[[Edge], bool]]:
    if not thorough:
        return
    kinds = {key[0] for key in new}
    for kind in ("tag", "restart"):
        if kinds != {kind}:
            yield lambda edge, kind=kind: all(key[0] == kind for key in edge.new)  # type: ignore[misc]
    for key in new[:MOST_LEFT_OUT]:
        yield lambda edge, key=key: key not in edge.new  # type: ignore[misc]
