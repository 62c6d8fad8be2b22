"""How the last wall closes: on the final beat, to the front, with what the bodies in the room can do."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from softshoe.dance.action import Action
from softshoe.dance.counts import Count
from softshoe.dance.facing import clock, turned
from softshoe.dance.places import Direction
from softshoe.fit.anatomy import anatomy
from softshoe.fit.run import RunEnding
from softshoe.fit.tags import leading_foot

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance, Ending
    from softshoe.dance.feet import Foot
    from softshoe.fit.anatomy import Anatomy
    from softshoe.fit.grid import Grid
    from softshoe.fit.steps import Step

HALF_DEG = 180
HOLD = "and hold until the sound is gone"


def shorter_turn_deg(facing_deg: int) -> int:
    """Return the turn that brings a facing to the front the shorter way, -180 < turn <= 180; a half goes right.

    >>> [shorter_turn_deg(d) for d in (0, 90, 180, 270)]
    [0, -90, 180, 90]
    """
    turn = (-facing_deg) % 360
    return turn if turn <= HALF_DEG else turn - 360


def needs_ending(dance: Dance, grid: Grid, step: Step, wall_facing_deg: int, seen: Anatomy) -> bool:
    """Return whether a last wall asks for a turn or a closing pose that the sheet does not write."""
    if _written(dance, grid, step, wall_facing_deg):
        return False
    spare = grid.total > step.end and not grid.fades
    return spare or step.counts < dance.counts or _facing(dance, step, wall_facing_deg, seen) != 0


def ending_of(dance: Dance, grid: Grid, step: Step, wall_facing_deg: int) -> RunEnding | None:
    """Return how the song's last wall closes, or None where a whole wall ends at the front on the last count.

    On a song that fades the last wall closes by itself; only a turn to the front may be wanted. Counts left over
    after the last wall are one closing pose, struck on the first of them.
    """
    if said := _written(dance, grid, step, wall_facing_deg):
        return _said(grid, step, said)
    seen = anatomy(dance)
    if not needs_ending(dance, grid, step, wall_facing_deg, seen):
        return None
    facing = _facing(dance, step, wall_facing_deg, seen)
    turn = shorter_turn_deg(facing)
    spare = grid.total > step.end and not grid.fades
    time_s = grid.times_s[min(step.end, grid.total) - (not spare)]
    actions = _closing(dance, step, turn, spare=spare)
    changed = max((action.at.whole for action in actions), default=0)
    what = _what(dance, step, turn_deg=turn, spare=spare)
    return RunEnding(step.wall, step.counts + spare, time_s, turned(facing, turn), turn, what, actions, changed)


def _facing(dance: Dance, step: Step, wall_facing_deg: int, seen: Anatomy) -> int:
    return 0 if dance.seated else turned(wall_facing_deg, seen.facings_deg[step.counts])


def _written(dance: Dance, grid: Grid, step: Step, wall_facing_deg: int) -> Ending | None:
    """The sheet's own ending, where the song stops just there and the wall begins as it says."""
    if step.end != grid.total or step.tag is not None:
        return None
    fits = (
        e
        for e in dance.endings
        if e.wall in ("last", step.wall)
        and e.after_count + e.counts == step.counts
        and (dance.seated or e.start_facing_deg == wall_facing_deg)
    )
    return next(fits, None)


def _said(grid: Grid, step: Step, said: Ending) -> RunEnding:
    turn = sum(action.turn_deg for action in said.actions)
    what = f"the ending as written: {said.counts} counts after count {said.after_count}"
    time_s = grid.times_s[step.end - 1]
    return RunEnding(step.wall, step.counts, time_s, 0, turn, what, said.actions, said.counts)


def _free(dance: Dance, after_count: int) -> Foot:
    """The foot that can step when so many counts of a wall are over."""
    return anatomy(dance).weights[max(0, after_count)].free or leading_foot(dance)


def _closing(dance: Dance, step: Step, turn_deg: int, *, spare: bool) -> tuple[Action, ...]:
    """What is danced to close at the front, up to the last count or, where one is to spare, the beat after it."""
    if dance.seated or not (spare or turn_deg):
        return ()
    half = abs(turn_deg) == HALF_DEG
    if spare and not half:
        return (Action(Count(Fraction(1)), _free(dance, step.counts), "step", Direction.FORWARD, turn_deg),)
    if spare and step.tag is not None:  # its last count can't be altered with that of the wall
        return ()
    return _turning(dance, step.counts + spare, turn_deg)


def _turning(dance: Dance, counts: int, turn_deg: int) -> tuple[Action, ...]:
    """The last count or two danced so that they turn to the front; counted from ``Count(1)``."""
    first, second = (Count(Fraction(n)) for n in (1, 2))
    if abs(turn_deg) < HALF_DEG or counts < 2:
        return (Action(first, _free(dance, counts - 1), "step", Direction.FORWARD, turn_deg),)
    foot = _free(dance, counts - 2)
    way = turn_deg if foot.word == "left" else -turn_deg
    return (
        Action(first, foot, "step", Direction.FORWARD),
        Action(second, foot.other, "pivot", Direction.IN_PLACE, way),
    )


def _what(dance: Dance, step: Step, *, turn_deg: int, spare: bool) -> str:
    last = step.counts
    if dance.seated:
        when = "on the beat after the last count" if spare else f"on count {last}"
        return f"{when} bring the arms to a closing shape, {HOLD}"
    if turn_deg == 0:
        return _to_the_front(dance, step, spare=spare)
    front = f"to face {clock(0)}, {HOLD}"
    if abs(turn_deg) < HALF_DEG:
        share = "quarter" if abs(turn_deg) == 90 else f"{abs(turn_deg)} degrees"
        when, foot = ("on the beat after the last count", _free(dance, last)) if spare else (
            f"on count {last}", _free(dance, last - 1))  # fmt: skip
        return f"{when} step {foot.word} forward with a {share} turn {'right' if turn_deg > 0 else 'left'} {front}"
    if spare:
        foot = _free(dance, last - 1)
        return (
            f"change the last count: step {foot.word} forward on {last}, pivot half {foot.other.word} on the beat "
            f"after it {front}"
        )
    foot = _free(dance, last - 2)
    when = f"change counts {last - 1} and {last}" if last > 1 else "instead of count 1"
    return f"{when}: step {foot.word} forward, pivot half {foot.other.word} {front}"


def _to_the_front(dance: Dance, step: Step, *, spare: bool) -> str:
    if spare:
        return f"after the last count step {_free(dance, step.counts).word} forward to the front, {HOLD}"
    return f"close on count {step.counts}, facing the front, {HOLD}"
