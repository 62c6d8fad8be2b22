"""How the last wall closes: on the final beat, to the front, with what the bodies in the room can do."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.dance.facing import clock, turned
from softshoe.dance.footwork import net_turn_deg, state_after
from softshoe.fit.run import RunEnding
from softshoe.fit.tags import leading_foot

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance, Ending
    from softshoe.fit.grid import Grid
    from softshoe.fit.path import Step


def shorter_turn_deg(facing_deg: int) -> int:
    """Return the turn that brings a facing to the front the shorter way, -180 < turn <= 180; a half goes right.

    >>> [shorter_turn_deg(d) for d in (0, 90, 180, 270)]
    [0, -90, 180, 90]
    """
    turn = (-facing_deg) % 360
    return turn if turn <= 180 else turn - 360


def ending_of(dance: Dance, grid: Grid, step: Step, wall_facing_deg: int) -> RunEnding | None:
    """Return how the song's last wall closes, or None where a whole wall ends at the front on the last count.

    On a song that fades the last wall closes by itself; only a turn to the front may be wanted.

    Counts left over after the last wall are one closing pose, struck on the first of them.
    """
    if step.end == grid.total and step.tag == 0 and (said := _written(dance, step, wall_facing_deg)):
        return _said(grid, step, said)
    at_end = state_after(dance, step.counts)[1] if step.counts < dance.counts else net_turn_deg(dance)
    facing = 0 if dance.seated else turned(wall_facing_deg, at_end)
    turn = shorter_turn_deg(facing)
    spare = grid.total > step.end
    whole = step.counts == dance.counts
    if whole and turn == 0 and (grid.fades or not spare):
        return None
    if grid.fades:
        spare = False
    at_count = step.counts + spare
    last = step.end - (not spare)
    what = _what(dance, at_count=at_count, turn_deg=turn, whole=whole, spare=spare)
    return RunEnding(step.wall, at_count, grid.times_s[last], turned(facing, turn), turn, what)


def _written(dance: Dance, step: Step, wall_facing_deg: int) -> Ending | None:
    """The sheet's own ending, where the song stops just there and the wall begins as it says."""
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


def _what(dance: Dance, *, at_count: int, turn_deg: int, whole: bool, spare: bool) -> str:
    if dance.seated:
        return f"on count {at_count} bring the arms to a closing shape, and hold it until the sound is gone"
    hold = "and hold until the sound is gone"
    if spare and turn_deg == 0:
        return f"after the last count step {leading_foot(dance).word} forward to the front, {hold}"
    if turn_deg == 0:
        return f"close on count {at_count}, facing the front, {hold}" if not whole else f"step forward {hold}"
    way = "right" if turn_deg > 0 else "left"
    if abs(turn_deg) == 180:
        return (
            f"change counts {max(1, at_count - 1)} and {at_count}: step {leading_foot(dance).word} forward, pivot half "
            f"{'left' if leading_foot(dance).word == 'right' else 'right'} to face {clock(0)}, {hold}"
        )
    share = "quarter" if abs(turn_deg) == 90 else f"{abs(turn_deg)} degrees"
    return f"on count {at_count} turn a {share} {way} to face {clock(0)}, {hold}"
