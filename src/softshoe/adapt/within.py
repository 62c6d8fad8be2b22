"""Whether a dance keeps within abilities: every count that asks for more, and the timing of feet."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from softshoe.adapt.at_once import moments
from softshoe.adapt.costs import comes_home, walked
from softshoe.adapt.limits import breaches
from softshoe.adapt.say import action_words
from softshoe.adapt.state import ROOM
from softshoe.adapt.version import Breach
from softshoe.dance.feet import Foot

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.adapt.at_once import AtOnce
    from softshoe.adapt.version import Abilities
    from softshoe.dance.action import Action
    from softshoe.dance.counts import Count
    from softshoe.dance.dance import Dance

SAME_FOOT_S = 0.5  # one foot wants so long between two actions on a chair
IN_THREE = ("3/4", "6/8")


def half_time(dance: Dance) -> int:
    """Return on which counts feet at half time move: every second, every third in a waltz."""
    return 3 if dance.metre in IN_THREE else 2


def breaches_of(dance: Dance, abilities: Abilities) -> tuple[Breach, ...]:
    """Return every count of a wall, tag or ending that asks for more than the abilities, with what asks for it."""
    found = []
    slow = half_time(dance)
    extras = [*(tag.actions for tag in dance.tags), *(ending.actions for ending in dance.endings)]
    for actions in (dance.actions, *extras):
        given = moments(actions)
        in_time = _in_time([moment for moment, _ in given], slow)
        far = _too_far(actions) if "chair" in abilities.limits else frozenset()
        for moment, like in given:
            words = "; ".join(action_words(a) for a in like)
            broken = [*breaches(moment, sorted(abilities.limits), in_time=in_time), *(["chair"] * (moment.at in far))]
            found += [Breach(moment.at, one, words) for one in dict.fromkeys(broken)]
    return tuple(found)


def _too_far(actions: tuple[Action, ...]) -> frozenset[Count]:
    """Return where the body is more than a step from its place behind the chair."""
    x = y = 0
    found = set()
    for action in actions:
        right, forward = walked(action)
        x, y = (0, 0) if comes_home(action) else (x + right, y + forward)
        if (right or forward) and max(abs(x), abs(y)) > ROOM:
            found.add(action.at)
    return frozenset(found)


def _in_time(given: Sequence[AtOnce], slow: int) -> bool:
    times = [moment.at.at for moment in given if moment.feet]
    return all(b - a >= slow for a, b in pairwise(times)) and all(at.denominator == 1 for at in times)


def hurried(given: Sequence[AtOnce], dance: Dance) -> frozenset[int]:
    """Return the moments between counts that come too soon before or after the same foot's other action."""
    tempo = dance.tempo_bpm
    if tempo is None:
        return frozenset()
    second_counts = (max(tempo) if isinstance(tempo, tuple) else tempo) / 60
    feet = [(i, m.at.at, {a.foot for a in m.feet if a.foot}, m.whole) for i, m in enumerate(given) if m.feet]
    found = set()
    for i, at, mine, whole in feet:
        if whole:
            continue
        near = [abs(other - at) for j, other, theirs, _ in feet if j != i and (mine & theirs or Foot.BOTH in theirs)]
        if any(gap / second_counts < SAME_FOOT_S - 1e-9 for gap in near if gap):
            found.add(i)
    return frozenset(found)
