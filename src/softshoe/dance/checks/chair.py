"""On a chair: what a seated dance can not ask for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.dance.checks.given import all_actions, moment
from softshoe.dance.feet import Foot
from softshoe.dance.verbs import VERB
from softshoe.errors import Finding

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from softshoe.dance.dance import Dance

NOT_SEATED = {
    "pivot": "a pivot",
    "unwind": "an unwind",
    "hop": "a hop",
    "jump": "a jump",
    "turn": "a turn on one foot",
}


def seated(dance: Dance, lines: Mapping[str, int]) -> Iterator[Finding]:
    """A chair allows no turns, pivots, hops, jumps, nor both feet in the air; the first of them is told.

    "Seated. 3 jump with both feet".
    """
    del lines
    if not dance.seated:
        return
    for action in all_actions(dance):
        what = NOT_SEATED.get(action.verb) or ("a turn" if action.turn_deg else "")
        if not what and action.foot is Foot.BOTH and VERB[action.verb].lifts:
            what = f"a {action.verb} of both feet"
        if what:
            yield Finding(
                "error", "seated", action.line, moment(action.at),
                f"The dance is seated, and {what} can't be danced on a chair.",
                "Give these counts a step that the chair allows: a touch, a march, a floor circle.",
            )  # fmt: skip
            return
