"""How good a run is: 100 less what each named part charges. The numbers are in ``data/fit/weights.csv``."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from softshoe.fit.pattern import again, charge, like_places
from softshoe.fit.rules import Weights, limit, part_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from softshoe.dance.dance import Dance
    from softshoe.fit.grid import Grid, PhraseStart
    from softshoe.fit.steps import Step

THROUGH_LEVELS = ("absolute beginner", "beginner")
BEST = 100.0


def parts_of(dance: Dance, grid: Grid, steps: Sequence[Step], weights: Weights) -> dict[str, float]:
    """Return what walls, tags and restarts charge by part, numbers of 0 or less; parts without charge are left out."""
    sums: dict[str, float] = defaultdict(float)
    for step in steps:
        for name, value in misfits(dance, grid, step, weights).items():
            sums[part_of(name)] -= value
    for name, value in _repairs(dance, steps, weights):
        sums[part_of(name)] -= value
    return {part: round(value, 2) for part, value in sums.items() if value}


def misfits(dance: Dance, grid: Grid, step: Step, weights: Weights) -> dict[str, float]:
    """Return what one wall charges by itself, by weight: phrases missed, a start off the eight, a pause inside."""
    found = {
        "missed": weights.of("missed") * sum(phrase.weight for phrase in missed_in(dance, grid, step)),
        "pause": weights.of("pause") * sum(step.at < pause < step.end for pause in grid.pauses),
    }
    before = grid.phrase_before(step.at)
    off = (step.at - before.at) if before else 0
    if before and off % off_unit(dance):
        found["off_eight"] = weights.of("off_eight") * before.weight
        found["off_bar"] = weights.of("off_bar") * before.weight * bool(off % grid.counts_per_bar)
    return {name: value for name, value in found.items() if value}


def off_unit(dance: Dance) -> int:
    """Return how far apart the places of a phrase are where a wall begins freely: 8 counts (6), or a short dance."""
    return min(dance.counts_per_section, dance.counts)


def _repairs(dance: Dance, steps: Sequence[Step], weights: Weights) -> Iterator[tuple[str, float]]:
    """Yield what tags, restarts and bridges charge, by weight; at like places a repair is charged once and a little
    for each further time."""
    learnt = like_places(dance, steps, weights)
    paid: set[int] = set()
    for step in steps:
        for key in step.repairs:
            alone = charge(dance, weights, key, changed=step.change is not None)
            mine = [index for index, one in enumerate(learnt) if one.has(key, step.wall)]
            if not mine or mine[0] not in paid:
                yield from alone.items()
                paid.update(mine[:1])
            else:
                yield "again", again(weights, sum(alone.values()))


def repairs_cost(dance: Dance, steps: Sequence[Step], weights: Weights) -> float:
    """Return what the tags, restarts and bridges of these steps cost together."""
    return sum(value for _, value in _repairs(dance, steps, weights))


def missed(dance: Dance, grid: Grid, steps: Sequence[Step]) -> list[PhraseStart]:
    """Return the phrase starts that no wall begins on and that charge something."""
    return [phrase for step in steps for phrase in missed_in(dance, grid, step)]


def missed_in(dance: Dance, grid: Grid, step: Step) -> list[PhraseStart]:
    """Return the phrase starts missed in one wall with its tag.

    A phrase that begins with a tag or a bridge is met by it, and so is one on which the dance goes on after a bridge
    with a new section. A dance longer than the phrase passes freely over phrase starts of the usual length where its
    wall began on one.
    """
    inside = grid.phrases_between(step.at, step.end)
    if not inside:
        return []
    anchors = {step.at: step.at in grid.phrase_positions}
    met = set()
    for extra, at in step.places():
        met |= {at, at + extra.counts}
        anchors[at + extra.counts] = at + extra.counts in grid.phrase_positions
    found = [p for p in inside if p.weight and p.at not in met and not _passes(dance, grid, anchors, p.at)]
    return [] if _danced_through(dance, grid, step, found) else found


def _passes(dance: Dance, grid: Grid, anchors: Mapping[int, bool], at: int) -> bool:
    anchor = max(place for place in anchors if place <= at)
    usual, into = grid.phrase_counts, at - anchor
    long = dance.counts > usual > 0
    return long and anchors[anchor] and into % usual == 0


def _danced_through(dance: Dance, grid: Grid, step: Step, found: Sequence[PhraseStart]) -> bool:
    """True where a beginner's wall that began on a phrase misses one and is back by itself within 32 counts."""
    if len(found) != 1 or dance.level not in THROUGH_LEVELS or step.cut or step.extras:
        return False
    back = step.at in grid.phrase_positions and step.end in grid.phrase_positions
    following = next((p.at for p in grid.phrases if p.at > found[0].at), None)
    return back and following == step.end and step.end - found[0].at <= limit("through")
