"""The groups a class is planned for: minutes and tempo bands, from the table ``data/plan/groups.csv``."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from softshoe.errors import SettingError, nearest
from softshoe.tables import table


@dataclass(frozen=True, slots=True)
class Group:
    """One row: minutes of the class and of dancing in it, the rest after a song, the tempo band [counts a minute]."""

    name: str
    whole_min: int
    whole_max: int
    dancing_min: int
    dancing_max: int
    rest_s: int
    low_bpm: float
    high_bpm: float
    new_dances: int
    seated: bool


@cache
def groups() -> dict[str, Group]:
    """Return every group by name."""
    return {row["name"]: _group(row) for row in table("plan/groups")}


def _group(row: dict[str, str]) -> Group:
    return Group(
        row["name"], int(row["whole_min"]), int(row["whole_max"]), int(row["dancing_min"]), int(row["dancing_max"]),
        int(row["rest_s"]), float(row["low_bpm"]), float(row["high_bpm"]), int(row["new_dances"]),
        row["seated"] == "yes",
    )  # fmt: skip


def group_named(name: str) -> Group:
    """Return the group of that name; raises SettingError that offers the nearest."""
    known = groups()
    if name in known:
        return known[name]
    near = nearest(name, known)
    raise SettingError("--group", f"“{name}” is no group of the table", f"there are: {', '.join(known)}",
                       f"did you mean “{near}”?" if near else "choose one of them")  # fmt: skip
