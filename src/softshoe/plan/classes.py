"""A class laid out: arrival, warm-up, dances with rests, cool-down, close, with the minute each begins."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from softshoe.errors import SettingError
from softshoe.plan.effort import tempo_of
from softshoe.plan.order import breaches, ordered

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.dance.dance import Dance
    from softshoe.plan.groups import Group

ARRIVAL_S = 60.0
WARM_SHARE, COOL_SHARE, CLOSE_SHARE = 0.15, 0.10, 0.05
LEAST_S = 300.0
SONG_S = 190.0
TEACH_S = 480.0
SHORTEST_MIN, LONGEST_MIN = 20, 180


@dataclass(frozen=True, slots=True)
class Item:
    """One thing of the class: when it begins and how long it takes, seconds."""

    start_s: float
    length_s: float
    what: str


@dataclass(frozen=True, slots=True)
class ClassPlan:
    """The class in order, and which of the usual rules it could not keep, in sentences."""

    items: tuple[Item, ...]
    dancing_s: float
    notes: tuple[str, ...]


def plan_class(dances: Sequence[Dance], *, group: Group, minutes: int, new: Sequence[str] = ()) -> ClassPlan:
    """Lay out a class of so many minutes; titles in ``new`` are taught first and danced twice.

    Raises SettingError when the minutes can't hold a class or there is no dance.
    """
    if not SHORTEST_MIN <= minutes <= LONGEST_MIN:
        raise SettingError("--minutes", f"{minutes} minutes hold no class", "a class takes 20 to 180 minutes",
                           "say how long the class is, such as 45")  # fmt: skip
    if not dances:
        raise SettingError("the dances", "none was given", "a class needs a dance", "name the sheets of some dances")
    warm_s, cool_s = (max(LEAST_S, share * minutes * 60) for share in (WARM_SHARE, COOL_SHARE))
    close_s = CLOSE_SHARE * minutes * 60
    room_s = minutes * 60 - ARRIVAL_S - warm_s - cool_s - close_s
    parts, left_out = _dances(ordered(dances), group, room_s, set(new))
    dancing_s = sum(length for length, what in parts if what.startswith("Dance"))
    rows = [(ARRIVAL_S, "Arrival: chairs, floor and brakes checked, stop signs said"), (warm_s, "Warm-up"), *parts,
            (cool_s, "Cool-down, easing out"), (close_s, "Close: water, a word, next week")]  # fmt: skip
    return ClassPlan(_timed(rows), dancing_s, tuple(_notes(dances, group, minutes, dancing_s, left_out)))


def _dances(
    order: Sequence[Dance], group: Group, room_s: float, new: set[str]
) -> tuple[list[tuple[float, str]], list[str]]:
    parts: list[tuple[float, str]] = []
    left_out = []
    for dance in order:
        rows = [(TEACH_S, f"Teach “{dance.title}”")] if dance.title in new else []
        rows += [(SONG_S, f"Dance “{dance.title}”"), (float(group.rest_s), "Rest, water")] * (1 + (dance.title in new))
        if sum(length for length, _ in (*parts, *rows)) > room_s:
            left_out.append(dance.title)
        else:
            parts += rows
    spare_s = room_s - sum(length for length, _ in parts)
    if spare_s > group.rest_s:
        parts.append((spare_s, "Room for a wish, or for a dance again"))
    return parts, left_out


def _timed(rows: Sequence[tuple[float, str]]) -> tuple[Item, ...]:
    items, at_s = [], 0.0
    for length_s, what in rows:
        items.append(Item(at_s, length_s, what))
        at_s += length_s
    return tuple(items)


def _notes(dances: Sequence[Dance], group: Group, minutes: int, dancing_s: float, left_out: list[str]) -> list[str]:
    notes = [f"no room for “{title}”" for title in left_out]
    if not group.whole_min <= minutes <= group.whole_max:
        notes.append(
            f"{minutes} minutes are unusual for {group.name}: {group.whole_min} to {group.whole_max} are usual"
        )
    if not group.dancing_min <= dancing_s / 60 <= group.dancing_max:
        notes.append(f"{dancing_s / 60:.0f} minutes of dancing; {group.dancing_min} to {group.dancing_max} are usual")
    notes += [f"“{dance.title}” is written standing: give seated dancers its seated version (softshoe adapt)"
              for dance in dances if group.seated and not dance.seated]  # fmt: skip
    notes += [f"“{dance.title}” goes at {tempo_of(dance):.0f}, outside {group.low_bpm:.0f} to {group.high_bpm:.0f}"
              for dance in dances if not group.low_bpm <= tempo_of(dance) <= group.high_bpm]  # fmt: skip
    return notes + breaches(ordered([dance for dance in dances if dance.title not in left_out]))
