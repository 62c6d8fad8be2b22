"""Weight: a foot that bears can not move, and the foot that moves next must be free."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.dance.checks.given import extras, moment
from softshoe.dance.feet import ONE, Foot, Weight
from softshoe.dance.footwork import danced, state_after, weight_after
from softshoe.dance.places import Direction
from softshoe.errors import Finding

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from softshoe.dance.action import Action
    from softshoe.dance.counts import Count
    from softshoe.dance.dance import Dance

# Words for what English has no such verb for.
SAID = {"heel": "touch with its heel", "stomp-up": "stomp", "drag": "be drawn in"}
BUMPED = {
    Direction.RIGHT: Weight.RIGHT, Direction.FORWARD_RIGHT: Weight.RIGHT, Direction.BACK_RIGHT: Weight.RIGHT,
    Direction.LEFT: Weight.LEFT, Direction.FORWARD_LEFT: Weight.LEFT, Direction.BACK_LEFT: Weight.LEFT,
}  # fmt: skip
CONSEQUENCE_COUNTS = 8  # so long a clash may be the consequence of the one before
# What a foot that bears the dancer can do without handing the weight over first.
ON_BEARING = frozenset((
    "swivel", "fan", "raise", "lower", "hop", "turn", "pivot", "bump", "sway", "drop", "jump", "unwind", "grind",
    "hold", "arms",
))  # fmt: skip


def weight(dance: Dance, lines: Mapping[str, int]) -> Iterator[Finding]:
    """The foot that bears the dancer must hand the weight over before it moves.

    "Walk right, left, right, hitch right": the right foot bears on the third count and can't lift on the fourth.
    """
    del lines
    runs: list[tuple[Iterable[Action], Weight]] = [(dance.actions, dance.start_weight)]
    runs += [(extra.actions, state_after(dance, extra.after_count)[0]) for extra in extras(dance)]
    for actions, start in runs:
        for action, _ in _clashes(actions, start):
            foot = action.foot.word if action.foot else ""
            other = action.foot.other.word if action.foot else ""
            yield Finding(
                "error", "weight", action.line, moment(action.at),
                f"The {foot} foot bears the weight here and can't {SAID.get(action.verb, action.verb)} before "
                f"the {other} foot has taken it.",
                f"Write {other} for {foot} here, or let the {foot} foot only touch before.",
            )  # fmt: skip


def _clashes(actions: Iterable[Action], weight: Weight) -> Iterator[tuple[Action, Weight]]:
    """Yield each action of the foot that bears the dancer; after one of them the next action may be of either foot."""
    unsure = False
    told: Count | None = None
    hips: Weight | None = None
    for action in actions:
        clash = not unsure and moves_bearing(action, weight) and moves_bearing(action, hips or weight)
        if clash and (told is None or action.at.at - told.at >= CONSEQUENCE_COUNTS):
            yield action, weight
            told = action.at
        if clash or action.foot is not None:
            unsure = clash
        weight, hips = weight_after(action, weight), _hips(action, hips)


def _hips(action: Action, before: Weight | None) -> Weight | None:
    """Return what the hips may have brought the weight to, until a foot moves again; None where they did not.

    Bumped right, the weight may have gone to the right foot, or have stayed where it was.
    """
    if action.verb == "bump":
        return BUMPED.get(action.dir) if action.dir is not None else None
    return before if action.foot is None else None


def _bears(foot: Foot, actions: Sequence[Action], end: Weight) -> bool:
    """Return whether a foot bears the dancer for certain after some actions that end with this weight."""
    hips: Weight | None = None
    for action in actions:
        hips = _hips(action, hips)
    return end.value == foot.value and hips in (None, end)


def moves_bearing(action: Action, weight: Weight) -> bool:
    """Return whether an action moves the foot that bears, without saying that it goes on bearing."""
    bears = (action.foot is Foot.LEFT and weight is Weight.LEFT) or (
        action.foot is Foot.RIGHT and weight is Weight.RIGHT
    )
    return bears and action.weight_said is not weight and action.verb not in ON_BEARING


def free_foot(dance: Dance, lines: Mapping[str, int]) -> Iterator[Finding]:
    """The dance, a tag and a restart must leave free the foot that moves next.

    A dance that begins with the right foot can't end with the weight on it.
    """
    del lines
    lead = _leads(dance)
    if dance.seated or lead is None or lead.foot is None:
        return
    foot = lead.foot
    end = state_after(dance, dance.counts)[0]
    last = dance.actions[-1] if dance.actions else None
    if last is not None and _bears(foot, dance.actions, end):
        yield _wrong_free(foot, last.line, moment(last.at), "The dance ends")
    for restart in dance.restarts:
        before = [action for action in dance.actions if action.at.whole <= restart.after_count]
        wrong = _bears(foot, before, state_after(dance, restart.after_count)[0]) and not restart.changed
        if wrong and restart.after_count < dance.counts:
            yield _wrong_free(foot, restart.line, str(restart.after_count - 1), "The restart comes")
    for tag in dance.tags:
        after = tag.after_count if tag.then == "continue" else 0
        goes_on = _leads(dance, after)
        if goes_on is None or goes_on.foot is None or not tag.actions:
            continue
        events = danced(tag.actions, weight=state_after(dance, tag.after_count)[0])
        if _bears(goes_on.foot, tag.actions, events[-1].weight):
            yield _wrong_free(goes_on.foot, tag.actions[-1].line, moment(tag.actions[-1].at), "The tag ends")


def _leads(dance: Dance, after: int = 0) -> Action | None:
    """Return the first single foot that moves after a whole count, if nothing of both feet comes before it; at the
    start of the dance a step on the "&" before count 1 is the first.
    """
    for action in dance.actions:
        if (after and action.at.whole <= after) or action.foot is None:
            continue
        return action if action.foot in ONE and action.verb not in ON_BEARING else None
    return None


def _wrong_free(foot: Foot, line: int, count: str, what: str) -> Finding:
    return Finding(
        "error", "free-foot", line, count,
        f"{what} with the weight on the {foot.word} foot, and the {foot.word} foot moves next.",
        "Let the last step be a touch, or add a step that hands the weight over.",
    )  # fmt: skip
