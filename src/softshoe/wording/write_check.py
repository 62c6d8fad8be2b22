"""A written sheet read again and compared: which folds did not come back equal."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.write_stretch import Stretch, stretch_of

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance
    from softshoe.wording.write_units import Key, Unit


def wrong_folds(dance: Dance, again: Dance | None, cut: list[tuple[Stretch, list[Unit]]]) -> set[Key]:
    """Return the fold to write otherwise, the first that went wrong; all of a stretch where none is to blame.

    What comes behind a wrong line may be wrong on its account, so only the first is told.
    """
    if again is None:
        return {key for stretch, units in cut for key in _all(stretch, units)}
    if again == dance and not _misfaced(again):
        return set()
    for stretch, units in cut:
        unit = _first_wrong(stretch, _same_stretch(stretch, again), units)
        if unit is not None and unit.kind != "one":
            return {(stretch.name, unit.kind, unit.first, unit.last)}
        if unit is not None and _all(stretch, units):
            return _all(stretch, units)
    return {key for stretch, units in cut for key in _all(stretch, units)}


def _misfaced(again: Dance) -> bool:
    """Return whether a facing written down was read as a wrong one."""
    return any(finding.kind == "facing" for finding in again.findings)


def _all(stretch: Stretch, units: list[Unit]) -> set[Key]:
    return {(stretch.name, u.kind, u.first, u.last) for u in units if u.kind != "one"}


def _same_stretch(stretch: Stretch, again: Dance) -> Stretch:
    """Return the same section, tag or ending of the dance read again; an empty one where it has none."""
    kind, number = stretch.name.split()
    n = int(number) - 1
    if kind == "section":
        return stretch_of(stretch.name, again.actions, start=stretch.start, counts=stretch.counts)
    extras = again.tags if kind == "tag" else again.endings
    actions = extras[n].actions if n < len(extras) else ()
    return stretch_of(stretch.name, actions, start=0, counts=stretch.counts)


def _first_wrong(stretch: Stretch, there: Stretch, units: list[Unit]) -> Unit | None:
    for unit in units:
        if stretch.shape(unit.first, unit.last) != there.shape(unit.first, unit.last):
            return unit
    return None
