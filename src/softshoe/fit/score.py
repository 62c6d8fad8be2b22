"""How good a run is: 100 less what each named part charges. The numbers are the project's own (docs: fitting)."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance
    from softshoe.fit.grid import Grid
    from softshoe.fit.path import Step

MISSED, TAG, AGAIN, RESTART, RESTART_EARLY, BRIDGE = 8.0, 6.0, 1.0, 5.0, 8.0, 10.0
START_OFF_PHRASE, WAITED, ENDING, CHANGED, OFF_SECTION, ODD_TAG, OFF_SHEET = 10.0, 2.0, 5.0, 2.0, 1.0, 2.0, 10.0
DANCED_LESS = 1.0  # for every section not danced because of a later start
USUAL_TAGS = (2, 4, 8, 3, 6)

MISSED_PART, TAG_PART, RESTART_PART, BRIDGE_PART = "phrases missed", "tags", "restarts", "bridges"
START_PART, WAIT_PART, ENDING_PART, SHEET_PART = "start", "waiting", "ending", "departs from the sheet"


def charges(dance: Dance, grid: Grid, steps: tuple[Step, ...]) -> dict[str, float]:
    """Return what walls, tags and restarts charge by part, numbers of 0 or less; parts without charge are left out."""
    parts = {
        MISSED_PART: -MISSED * len(missed(dance, grid, steps)),
        TAG_PART: -_tags(steps),
        RESTART_PART: -_restarts(dance, steps),
        BRIDGE_PART: -BRIDGE * sum(len(step.bridges) for step in steps),
    }
    return {part: value for part, value in parts.items() if value}


def total_of(parts: dict[str, float]) -> float:
    """Return the sum of the charges, 0 or less."""
    return sum(parts.values())


def missed(dance: Dance, grid: Grid, steps: tuple[Step, ...]) -> list[int]:
    """Return the positions of strong phrase starts that no wall begins on.

    A dance longer than the phrase passes over phrase starts without a miss where its own wall began on one; a phrase
    that begins with a tag is met by the tag.
    """
    starts = grid.phrase_positions
    usual = grid.phrase_counts
    found = []
    ends = [step.at for step in steps[1:]] + [steps[-1].end] if steps else []
    for step, end in zip(steps, ends, strict=True):
        for phrase in grid.phrases:
            tag_begins = step.tag > 0 and phrase.at == end - step.tag
            if tag_begins or not (phrase.strong and step.at < phrase.at < end):
                continue
            passes = dance.counts > usual > 0 and step.at in starts and (phrase.at - step.at) % usual == 0
            if not passes:
                found.append(phrase.at)
    return found


def _alike(before: list[int], wall: int) -> bool:
    """True where a repair comes again at a like place: the second time, then the same number of walls apart."""
    if not before or wall - before[-1] < 2:
        return False
    return len(before) == 1 or wall - before[-1] == before[-1] - before[-2]


def _restart(dance: Dance, step: Step) -> float:
    early = step.counts * 2 < dance.counts
    off_section = step.counts % dance.counts_per_section != 0
    changed = step.change is not None
    return (RESTART_EARLY if early else RESTART) + OFF_SECTION * off_section + CHANGED * changed


def _restarts(dance: Dance, steps: tuple[Step, ...]) -> float:
    return _repairs([(s.wall, s.counts, _restart(dance, s)) for s in steps if s.cut])


def _tags(steps: tuple[Step, ...]) -> float:
    return _repairs([(s.wall, s.tag, TAG + (0.0 if s.tag in USUAL_TAGS else ODD_TAG)) for s in steps if s.tag])


def _repairs(places: list[tuple[int, int, float]]) -> float:
    """Sum (wall, counts, charge): at like places a repair is charged once, and 1 more each further time."""
    cost = 0.0
    walls_of: dict[int, list[int]] = {}
    for wall, counts, charge in places:
        before = walls_of.setdefault(counts, [])
        cost += AGAIN if _alike(before, wall) else charge
        before.append(wall)
    return cost
