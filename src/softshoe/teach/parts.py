"""The motions a lesson shows, by key: what is danced, on what, from which weight.

Keys are "kind:what": "seated:dance" whole, "seated:feet" without arms, "seated:arms" without feet, "seated:tag0" the
run's first tag, "seated:ending" a written ending, "seated:close" the closing shape held when the music stops; the same
for "standing" and other kinds, which also have "standing:cut16" where a restart after 16 alters the last step.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from softshoe.adapt.adapt import remade_actions
from softshoe.dance.action import Action
from softshoe.dance.arms import ArmMove
from softshoe.dance.counts import Count
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.footwork import state_after
from softshoe.fit.tags import freeing_action

if TYPE_CHECKING:
    from collections.abc import Mapping

    from softshoe.adapt.version import Version
    from softshoe.dance.dance import Dance
    from softshoe.figure.motion import Support
    from softshoe.fit.run import Run, RunEnding, RunTag
    from softshoe.teach.lesson import FigureKind

CLOSE_COUNTS = 4
SUPPORTS: dict[str, Support] = {"supported": "chair back", "arms": "wheelchair"}


@dataclass(frozen=True, slots=True)
class MotionPart:
    """One motion: its actions from ``Count(1)``, the stance, whole counts, what bears at first, whether arms move.

    ``loop``: the end flows into the beginning, since it is danced again at once. ``support`` is what she holds or sits
    on; None: the floor or the chair, as the stance says.
    """

    actions: tuple[Action, ...]
    stance: FigureKind
    counts: int
    start_weight: Weight
    arms: bool
    loop: bool = False
    support: Support | None = None


def parts(dance: Dance, versions: Mapping[str, Version], run: Run | None) -> dict[str, MotionPart]:
    """Return every motion that lessons of these versions may show.

    ``dance`` is the dance as written (a run's tags are in its terms); ``versions`` by kind; no run: no tags.
    """
    found: dict[str, MotionPart] = {}
    for kind, version in versions.items():
        found |= {f"{kind}:{name}": part for name, part in _of_dance(version.dance).items()}
        for index, tag in enumerate(run.tags if run else ()):
            found[f"{kind}:tag{index}"] = _of_tag(dance, version, tag)
        for restart in run.restarts if run else ():
            if restart.change and (part := _of_cut(version.dance, restart.after_count)):
                found[f"{kind}:cut{restart.after_count}"] = part
        if run and run.ending and run.ending.actions:
            found[f"{kind}:ending"] = _of_ending(dance, version, run.ending)
    return {name: replace(part, support=SUPPORTS.get(name.partition(":")[0])) for name, part in found.items()}


def tag_actions_for(dance: Dance, version: Version, tag: RunTag) -> tuple[Action, ...]:
    """Return a tag of the run as this version dances it."""
    return remade_actions(dance, version.abilities, tag.actions)


def _of_dance(dance: Dance) -> dict[str, MotionPart]:
    stance: FigureKind = "seated" if dance.seated else "standing"
    whole = MotionPart(dance.actions, stance, dance.counts, dance.start_weight, arms=True, loop=True)
    still = tuple(_still(action) for action in dance.actions if action.arms or action.at.at.denominator == 1)
    return {
        "dance": whole,
        "feet": replace(whole, actions=tuple(_armless(action) for action in dance.actions), arms=False),
        "arms": replace(whole, actions=still),
        "close": MotionPart(closing_shape(), stance, CLOSE_COUNTS, dance.start_weight, arms=True),
    }


def _of_cut(dance: Dance, after_count: int) -> MotionPart | None:
    """A wall that a restart cuts, with the touch that frees the foot; None where nothing has to be altered."""
    change = freeing_action(dance, after_count)
    if change is None:
        return None
    last, touch = change
    actions = tuple(touch if a is last else a for a in dance.actions if a.at.whole <= after_count)
    return MotionPart(actions, "standing", after_count, dance.start_weight, arms=True)


def _of_tag(dance: Dance, version: Version, tag: RunTag) -> MotionPart:
    weight, _ = state_after(version.dance, tag.at_count)
    stance: FigureKind = "seated" if version.dance.seated else "standing"
    return MotionPart(tag_actions_for(dance, version, tag), stance, tag.counts, weight, arms=True)


def _of_ending(dance: Dance, version: Version, ending: RunEnding) -> MotionPart:
    weight, _ = state_after(version.dance, ending.after_count)
    actions = remade_actions(dance, version.abilities, ending.actions)
    stance: FigureKind = "seated" if version.dance.seated else "standing"
    return MotionPart(actions, stance, ending.counts, weight, arms=True)


def closing_shape() -> tuple[Action, ...]:
    """Return the arms opened wide at the height of the chest and held."""
    opened = Action(Count(Fraction(1)), None, "arms", arms=(ArmMove(Foot.BOTH, "open", "chest"),))
    holds = (Action(Count(Fraction(n)), None, "hold") for n in range(2, CLOSE_COUNTS + 1))
    return (opened, *holds)


def _armless(action: Action) -> Action:
    return replace(action, verb="hold" if action.verb == "arms" else action.verb, arms=())


def _still(action: Action) -> Action:
    """The hands of an action while the feet rest; a hand that follows a foot rests with it."""
    arms = tuple(arm for arm in action.arms if arm.place != "foot")
    verb = "arms" if arms else "hold"
    return replace(action, foot=None, verb=verb, dir=None, turn_deg=0, arms=arms, weight_said=None)
