"""The stretches of a dance that are written one by one: its sections, tags and endings, each counted from 1."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from softshoe.dance.footwork import danced, state_after, wall_events

if TYPE_CHECKING:
    from collections.abc import Iterable

    from softshoe.dance.action import Action, Event
    from softshoe.dance.dance import Dance, Ending

Shape = tuple[tuple[object, ...], ...]


@dataclass(slots=True)
class Stretch:
    """A section, tag or ending to be written: its actions by whole count, counted from 1."""

    name: str
    counts: int
    rows: dict[int, tuple[Action, ...]]
    start: int  # the count of the dance before it
    earlier: list[tuple[int, Stretch]] = field(default_factory=list)
    facings: dict[int, int] = field(default_factory=dict)  # degrees when a count is over, where the walls tell them

    def shape(self, first: int, last: int, *, mirror: bool = False) -> Shape:
        """Return what is danced from first to last, counted from there."""
        actions = [a.mirrored if mirror else a for n in range(first, last + 1) for a in self.rows.get(n, ())]
        base = self.start + first
        return tuple((a.at.at - base, a.foot, a.verb, a.dir, a.turn_deg, a.arms, a.weight_said) for a in actions)

    def actions(self, first: int, last: int) -> list[Action]:
        """Return the actions of these counts."""
        return [a for n in range(first, last + 1) for a in self.rows.get(n, ())]


def stretch_of(name: str, actions: Iterable[Action], *, start: int, counts: int) -> Stretch:
    """Return the stretch; an "&" before count 1 of the dance stands with it."""
    rows: dict[int, list[Action]] = defaultdict(list)
    for action in actions:
        n = max(1, action.at.whole) - start
        if 1 <= n <= counts:
            rows[n].append(action)
    return Stretch(name, counts, {n: tuple(row) for n, row in sorted(rows.items())}, start)


def stretches_of(dance: Dance) -> list[Stretch]:
    """Return the sections, then the tags, then the endings."""
    out: list[Stretch] = []
    facings = _facings(wall_events(dance))
    for section in dance.sections:
        start, counts = int(section.start.at) - 1, int(section.length.n)
        one = stretch_of(f"section {section.number}", dance.actions, start=start, counts=counts)
        one.earlier = list(enumerate(out, 1))
        one.facings = {n - start: deg for n, deg in facings.items()}
        out.append(one)
    out += [stretch_of(f"tag {i}", t.actions, start=0, counts=t.counts) for i, t in enumerate(dance.tags, 1)]
    for i, ending in enumerate(dance.endings, 1):
        one = stretch_of(f"ending {i}", ending.actions, start=0, counts=ending.counts)
        one.facings = _facings(_ending_events(dance, ending))
        out.append(one)
    return out


def _ending_events(dance: Dance, ending: Ending) -> tuple[Event, ...]:
    weight, turned_deg = state_after(dance, ending.after_count)
    return danced(ending.actions, weight=weight, facing_deg=(ending.start_facing_deg + turned_deg) % 360)


def _facings(events: Iterable[Event]) -> dict[int, int]:
    """Return where she looks when each whole count is over [degrees]."""
    return {max(1, event.action.at.whole): event.facing_deg for event in events}
