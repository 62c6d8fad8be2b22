"""Songs made so that the best way to lay a dance on them is known: the walls are planted, the phrases follow."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from fit.made_maps import dance_named, made_map
from softshoe.dance.action import Action
from softshoe.dance.counts import Count, Counts
from softshoe.dance.dance import Dance, Level, Section
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.places import Direction
from softshoe.fit.pins import Pins, WallPin

if TYPE_CHECKING:
    from random import Random

    from softshoe.fit.run import Run
    from softshoe.music.songmap import SongMap


def stepping(counts: int, *, turn_deg: int = 0, level: Level | None = "improver", section: int = 8) -> Dance:
    """Steps in place, right and left in turn, with one turn on the last count but one of the wall."""
    feet = (Foot.RIGHT, Foot.LEFT)
    actions = tuple(
        Action(Count(Fraction(n)), feet[(n - 1) % 2], "step", Direction.IN_PLACE, turn_deg * (n == counts - 1))
        for n in range(1, counts + 1)
    )
    starts = range(1, counts + 1, section)
    sections = tuple(
        Section(k + 1, Count(Fraction(at)), Counts(Fraction(min(section, counts + 1 - at))))
        for k, at in enumerate(starts)
    )
    return replace(
        dance_named("copper_kettle"),
        title=f"{counts} counts",
        counts=counts,
        walls={0: 1, 180: 2}.get(turn_deg % 360, 4),
        level=level,
        tempo_bpm=None,
        start_weight=Weight.LEFT,
        sections=sections,
        actions=actions,
    )


@dataclass(frozen=True, slots=True)
class Planted:
    """A dance, a song made for it, and the walls that were planted."""

    kind: str
    dance: Dance
    song: SongMap
    walls: dict[int, WallPin]
    beats_per_count: float = 1.0

    @property
    def pins(self) -> Pins:
        """Everything planted, held."""
        return Pins(tags=False, restarts=False, bridges=False, walls=self.walls)

    def found_in(self, run: Run) -> bool:
        """True when the run has the planted repairs and no others."""
        tags = {(t.after_wall or t.in_wall, t.at_count, t.counts) for t in run.tags}
        cuts = {(r.wall, r.after_count) for r in run.restarts}
        planted = {(w, after, n) for w, pin in self.walls.items() for after, n in pin.extras}
        stops = {(w, pin.counts) for w, pin in self.walls.items() if pin.counts}
        return (tags, cuts, run.beats_per_count) == (planted, stops, self.beats_per_count)


KINDS = (
    "plain",
    "one tag",
    "regular tag",
    "restarts",
    "bridge",
    "half time",
    "ending",
    "tag and restart",
    "restart with a tag",
)


def planted(random: Random, kind: str) -> Planted:
    """Return one case of a kind."""
    counts = 64 if kind == "bridge" else random.choice([16, 32, 32, 48, 64])
    walls = random.randint(6, 12) if counts < 64 else random.randint(4, 7)
    dance = stepping(counts, turn_deg=random.choice([0, 0, 180, 90, -90]))
    pins = _pins(random, kind, counts, walls)
    phrases = [length for wall in range(1, walls + 1) for length in _phrases(counts, pins.get(wall))]
    left = random.choice([12, 16, 20]) if kind == "ending" else 0
    half = kind == "half time"
    song = made_map(
        [length * (2 if half else 1) for length in phrases + ([left] if left else [])],
        intro=random.choice([16, 32]) * (2 if half else 1),
        bpm=random.uniform(172, 190) if half else random.uniform(94, 122),
        confidence=tuple(round(random.uniform(0.88, 1.0), 3) for _ in range(len(phrases) + bool(left))),
    )
    return Planted(kind, dance, song, pins, 2.0 if half else 1.0)


def _pins(random: Random, kind: str, counts: int, walls: int) -> dict[int, WallPin]:
    tag = random.choice([2, 4, 8])
    cut = counts // 2
    first = random.randint(1, 3)
    if kind == "one tag":
        return {random.randint(1, walls - 2): WallPin(None, ((counts, tag),))}
    if kind == "regular tag":
        return {wall: WallPin(None, ((counts, tag),)) for wall in range(2, walls, 2)}
    if kind == "restarts":
        return {wall: WallPin(cut) for wall in (3, 6) if wall < walls}
    if kind == "bridge":
        return {first: WallPin(None, ((32, 4),))}
    if kind == "tag and restart":
        return {first: WallPin(None, ((counts, tag),)), first + 2: WallPin(cut)}
    if kind == "restart with a tag":
        return {first + 1: WallPin(cut, ((cut, min(tag, 4)),))}
    return {}


def _phrases(counts: int, pin: WallPin | None) -> list[int]:
    """The phrases under one wall: whole for a short dance, halves for one of 64."""
    halves = [32, 32] if counts == 64 else [counts]
    if pin is None:
        return halves
    if pin.counts is not None:
        return [pin.counts + sum(extra for _, extra in pin.extras)]
    ((after, extra),) = pin.extras
    if after == counts:
        return [*halves[:-1], halves[-1] + extra]
    return [after + extra, counts - after]
