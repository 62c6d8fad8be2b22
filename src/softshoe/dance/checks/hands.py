"""Hands: one thing and one place at a moment."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.dance.checks.given import all_actions, moment
from softshoe.dance.feet import Foot
from softshoe.errors import Finding

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from softshoe.dance.arms import ArmMove
    from softshoe.dance.dance import Dance

# Gestures that one hand can do together with another.
TOGETHER = frozenset(
    ("raise", "reach", "lower", "open", "close", "wave", "shake", "snap", "rotate", "swing", "sweep", "roll", "circle")
)


def arms(dance: Dance, lines: Mapping[str, int]) -> Iterator[Finding]:
    """A hand is asked for one thing, and one place, at a moment.

    "Clap and pat the thighs" on one count.
    """
    del lines
    told: set[tuple[ArmMove, ...]] = set()
    for action in all_actions(dance):
        if action.arms in told:
            continue
        for i, one in enumerate(action.arms):
            other = next((o for o in action.arms[:i] if _both_at_once(o, one)), None)
            if other is not None:
                told.add(action.arms)
                who = {Foot.LEFT: "left hand", Foot.RIGHT: "right hand"}.get(one.side, "hands")
                yield Finding(
                    "error", "arms", action.line, moment(action.at),
                    f"The {who} can't {other.gesture} and {one.gesture} at one moment.",
                    "Give one of the two a count of its own.",
                )  # fmt: skip
                break


def _both_at_once(one: ArmMove, two: ArmMove) -> bool:
    shared = one.side is two.side or Foot.BOTH in (one.side, two.side)
    if not shared or one == two:
        return False
    if one.gesture == two.gesture:
        return one.place != two.place and None not in (one.place, two.place)
    return not (one.gesture in TOGETHER and two.gesture in TOGETHER)
