"""What could not be kept, in sentences: the named parts of what a version gave up."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.tables import table

if TYPE_CHECKING:
    from collections.abc import Mapping

SAID = {row["part"]: row["lost"].split("|") for row in table("adapt/costs") if row["lost"]}


def lost_sentences(costs: Mapping[str, float]) -> tuple[str, ...]:
    """Return what a version gave up, the table's order, one sentence a part: "2 turns are left out."."""
    found = []
    for part, (one, many) in SAID.items():
        times = round(costs.get(part, 0))
        if times:
            found.append(f"{times} {one if times == 1 else many}.")
    return tuple(found)
