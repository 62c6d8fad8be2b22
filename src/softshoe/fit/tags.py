"""What fills a tag, and how a restart frees the foot: the simplest material, right footwork, no turn."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

from softshoe.dance.action import Action
from softshoe.dance.arms import ArmMove
from softshoe.dance.counts import Count
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.footwork import state_after
from softshoe.dance.places import Direction

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance

SIDE = {Foot.LEFT: Direction.LEFT, Foot.RIGHT: Direction.RIGHT}
SWAPPED_FOR_TOUCH = ("step", "stomp", "recover", "drop")


def leading_foot(dance: Dance) -> Foot:
    """Return the foot that begins the dance; right when nothing says otherwise."""
    if dance.start_weight.free is not None:
        return dance.start_weight.free
    moves = (a.foot for a in dance.actions if a.foot in (Foot.LEFT, Foot.RIGHT))
    return next(moves, None) or Foot.RIGHT


def _at(count: int) -> Count:
    return Count(Fraction(count))


def _claps(dance: Dance) -> bool:
    return any(arm.gesture == "clap" for action in dance.actions for arm in action.arms)


def _sways(foot: Foot, counts: int, *, every: int = 1) -> list[Action]:
    """Sways to alternate sides, one every ``every`` counts, holds between them."""
    actions = []
    for count in range(1, counts + 1):
        if (count - 1) % every:
            actions.append(Action(_at(count), None, "hold"))
            continue
        actions.append(Action(_at(count), foot, "sway", SIDE[foot]))
        foot = foot.other
    return actions


def _hold_and_clap(first: int, counts: int) -> list[Action]:
    clap = (ArmMove(Foot.BOTH, "clap"),)
    return [
        Action(_at(count), None, "arms", arms=clap) if (count - first) % 2 else Action(_at(count), None, "hold")
        for count in range(first, first + counts)
    ]


def tag_actions(dance: Dance, counts: int) -> tuple[Action, ...]:
    """Return what is danced in a tag of so many counts behind a whole wall.

    Sways to alternate sides, the leading foot first; the second half hold and clap where the dance has claps and there
    are eight counts or more. An even number of sways leaves the leading foot free. In three: one sway a bar.
    """
    foot = leading_foot(dance)
    if dance.metre == "3/4":
        bars = counts // 3
        if bars % 2 and not dance.seated:
            return tuple(_hold_touch(foot, counts))
        return tuple(_sways(foot, counts, every=3))
    if counts >= 8 and _claps(dance):
        return (*_sways(foot, 4), *_hold_and_clap(5, counts - 4))
    if counts % 2 and not dance.seated:
        return tuple(_hold_touch(foot, counts))
    return tuple(_sways(foot, counts))


def bridge_actions(dance: Dance, after_count: int, counts: int) -> tuple[Action, ...]:
    """Return what is danced in a bridge of so many counts after that count of a wall: sways that give the weight back
    to the foot that bore it, so that the wall goes on as written.
    """
    bears, _ = state_after(dance, after_count)
    foot = bears.free or leading_foot(dance)
    bar = 3 if dance.metre == "3/4" else 1
    if counts // bar % 2 and not dance.seated:
        return tuple(_hold_touch(foot, counts))
    return tuple(_sways(foot, counts, every=bar))


def _hold_touch(foot: Foot, counts: int) -> list[Action]:
    """An odd length that leaves the foot free: one touch, then stillness."""
    first = Action(_at(1), foot, "touch", Direction.TOGETHER)
    return [first, *(Action(_at(count), None, "hold") for count in range(2, counts + 1))]


def freeing_action(dance: Dance, after_count: int) -> tuple[Action, Action] | None:
    """Return the last action before a restart and the touch that takes its place so that the leading foot is free.

    None where the foot is free already, or no touch can free it (the weight after that count tells which).
    """
    weight, _ = state_after(dance, after_count)
    if weight in (dance.start_weight, Weight.SEAT, Weight.BOTH):
        return None
    moves = [a for a in dance.actions if a.at.whole <= after_count and a.foot is not None]
    if not moves or moves[-1].verb not in SWAPPED_FOR_TOUCH:
        return None
    last = moves[-1]
    touch = replace(last, verb="touch", dir=Direction.TOGETHER, weight_said=None)
    freed = replace(dance, actions=tuple(touch if a is last else a for a in dance.actions))
    return (last, touch) if state_after(freed, after_count)[0] is dance.start_weight else None


def restart_change(dance: Dance, after_count: int) -> str | None:
    """Return in words how the last action before a restart frees the leading foot, or None (see ``freeing_action``)."""
    change = freeing_action(dance, after_count)
    if change is None or change[0].foot is None:
        return None
    return f"on count {change[0].at.label} touch the {change[0].foot.word} foot instead of putting weight on it"
