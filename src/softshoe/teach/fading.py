"""How much is called as a dance becomes known: a row of ``fading.csv`` from each of some walls on.

Common practice of leaders: everything at first, then the head of each section, later the head of every second section,
so that nobody who has lost the place waits longer than two sections for a word.
"""

from __future__ import annotations

from dataclasses import dataclass

from softshoe.tables import table

EVERY, SECTIONS = 0, 1
HEADS = {"every": EVERY, "sections": SECTIONS, "halves": 2}


@dataclass(frozen=True, slots=True)
class Stage:
    """From this wall on: the first pattern of every so many sections (0: every pattern), counts in their first half."""

    from_wall: int
    heads: int
    counts: bool

    def leads(self, count: int, *, per_section: int) -> bool:
        """True where a pattern that begins on this count is called."""
        return self.heads == EVERY or (count - 1) % (self.heads * per_section) == 0


def stages() -> tuple[Stage, ...]:
    """Return the rows of the table, the first wall first."""
    rows = table("teach/fading")
    return tuple(Stage(int(row["from_wall"]), HEADS[row["patterns"]], row["counts"] == "yes") for row in rows)


def stage(wall: int, *, fading: bool = True) -> Stage:
    """Return what is called in a wall; without fading the calls of the fourth wall stay to the end."""
    known = [row for row in STAGES if fading or row.heads <= SECTIONS]
    return [row for row in known if row.from_wall <= max(wall, 1)][-1]


STAGES = stages()
