"""How good a run is: 100 less what each named part charges. The numbers are the project's own (docs: fitting)."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance
    from softshoe.fit.grid import Grid, PhraseStart
    from softshoe.fit.path import Step

MISSED, TAG, AGAIN, RESTART, RESTART_EARLY, BRIDGE = 8.0, 6.0, 1.0, 5.0, 8.0, 10.0
START_OFF_PHRASE, WAITED, ENDING, CHANGED, OFF_SECTION, ODD_TAG, OFF_SHEET = 10.0, 2.0, 5.0, 2.0, 1.0, 2.0, 10.0
DANCED_LESS = 2.0  # for every section not danced because of a later start
THROUGH_LEVELS, THROUGH_COUNTS = ("absolute beginner", "beginner"), 32
USUAL_TAGS = (2, 4, 8, 3, 6)

MISSED_PART, TAG_PART, RESTART_PART, BRIDGE_PART = "phrases missed", "tags", "restarts", "bridges"
START_PART, WAIT_PART, ENDING_PART, SHEET_PART = "start", "waiting", "ending", "departs from the sheet"


def charges(dance: Dance, grid: Grid, steps: tuple[Step, ...]) -> dict[str, float]:
    """Return what walls, tags and restarts charge by part, numbers of 0 or less; parts without charge are left out."""
    parts = {
        MISSED_PART: -MISSED * sum(phrase.weight for phrase in missed(dance, grid, steps)),
        TAG_PART: -_tags(steps),
        RESTART_PART: -_restarts(dance, steps),
        BRIDGE_PART: -_bridges(steps),
    }
    return {part: round(value, 2) for part, value in parts.items() if value}


def of_repairs(dance: Dance, steps: tuple[Step, ...]) -> float:
    """Return what the tags, restarts and bridges of these steps cost together."""
    return _tags(steps) + _restarts(dance, steps) + _bridges(steps) if steps else 0.0


def total_of(parts: dict[str, float]) -> float:
    """Return the sum of the charges, 0 or less."""
    return sum(parts.values())


def missed(dance: Dance, grid: Grid, steps: tuple[Step, ...]) -> list[PhraseStart]:
    """Return the phrase starts, weak ones too, that no wall begins on.

    Below improver a single miss is forgiven where the dance fits again by itself within 32 counts.
    """
    found = [phrase for step in steps for phrase in missed_in(dance, grid, step)]
    if dance.level in THROUGH_LEVELS:
        return [one for one in found if not _danced_through(one.at, [p.at for p in found], grid, steps)]
    return found


def missed_in(dance: Dance, grid: Grid, step: Step) -> list[PhraseStart]:
    """Return the phrase starts missed in one wall with its tag.

    A dance longer than the phrase passes over phrase starts without a miss where its own wall began on one; a phrase
    that begins with a tag is met by the tag.
    """
    inside = grid.phrases_between(step.at, step.end)
    usual = grid.phrase_counts
    passes = dance.counts > usual > 0 and step.at in grid.phrase_positions
    tag_at = step.end - step.tag if step.tag else None
    return [
        phrase
        for phrase in inside
        if phrase.weight and phrase.at != tag_at and not (passes and (phrase.at - step.at) % usual == 0)
    ]


def _danced_through(at: int, found: list[int], grid: Grid, steps: tuple[Step, ...]) -> bool:
    """True where the dance fits again by itself within 32 counts: beginners dance through one such place."""
    walls = {step.at for step in steps}
    following = [p.at for p in grid.phrases if p.at > at]
    alone = not any(0 < abs(at - other) <= THROUGH_COUNTS for other in found)
    return alone and bool(following) and following[0] in walls and following[0] - at <= THROUGH_COUNTS


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


def _bridges(steps: tuple[Step, ...]) -> float:
    return BRIDGE * sum(len(step.bridges) for step in steps)


def _repairs(places: list[tuple[int, int, float]]) -> float:
    """Sum (wall, counts, charge): at like places a repair is charged once, and 1 more each further time."""
    cost = 0.0
    walls_of: dict[int, list[int]] = {}
    for wall, counts, charge in places:
        before = walls_of.setdefault(counts, [])
        cost += AGAIN if _alike(before, wall) else charge
        before.append(wall)
    return cost
