"""The table of what a foot can do: one row a verb, as the dance events name them.

``weight`` says what bears afterwards: "foot" the foot named (both after an action of both feet), "both", "same"
unchanged, "said" what the words say. ``home`` is the direction when the words give none; None where it must be said.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from softshoe.dance.places import Direction

Bears = Literal["foot", "both", "same", "said"]


@dataclass(frozen=True, slots=True)
class Verb:
    """One row: name, what bears afterwards, whether the foot leaves the floor, usual direction, meaning."""

    name: str
    weight: Bears
    lifts: bool
    home: Direction | None
    meaning: str

    @property
    def takes_weight(self) -> bool:
        """True when the foot named bears the dancer afterwards."""
        return self.weight == "foot"


_D = Direction
VERBS = (
    Verb("step", "foot", False, None, "the foot is set down and bears the dancer"),
    Verb("rock", "foot", False, None, "a step from which the weight comes straight back"),
    Verb("recover", "foot", False, _D.IN_PLACE, "the weight comes back onto the foot left in place"),
    Verb("sway", "foot", False, None, "the weight goes over the named side's foot with the body"),
    Verb("lunge", "foot", False, None, "a long step onto a bent knee"),
    Verb("stomp", "foot", False, _D.IN_PLACE, "the foot is struck on the floor and stays"),
    Verb("drop", "foot", False, _D.IN_PLACE, "after a touch or heel, the rest of the foot is lowered and bears"),
    Verb("grind", "foot", False, _D.FORWARD, "the heel bears while its toe swings outward"),
    Verb("pivot", "foot", False, _D.IN_PLACE, "a turn on both balls, feet left where they are"),
    Verb("hop", "foot", True, _D.IN_PLACE, "spring from a foot and land on it"),
    Verb("jump", "both", True, _D.IN_PLACE, "spring and land on both"),
    Verb("touch", "same", False, _D.TOGETHER, "toe or ball of the foot meets the floor"),
    Verb("point", "same", False, None, "toe meets the floor with the leg stretched"),
    Verb("heel", "same", False, _D.FORWARD, "heel meets the floor"),
    Verb("kick", "same", True, _D.FORWARD, "the leg swings out from the knee"),
    Verb("flick", "same", True, _D.BACK, "the lower leg swings up behind"),
    Verb("hitch", "same", True, _D.UP, "the knee is lifted"),
    Verb("hook", "same", True, _D.ACROSS_FRONT, "the foot is lifted across the other shin"),
    Verb("scuff", "same", True, _D.FORWARD, "the heel strikes the floor in passing"),
    Verb("brush", "same", True, _D.FORWARD, "the ball of the foot strikes the floor in passing"),
    Verb("sweep", "same", False, None, "the free foot draws an arc"),
    Verb("drag", "same", False, _D.TOGETHER, "the free foot is drawn along the floor"),
    Verb("fan", "same", False, None, "heel stays, toes swing"),
    Verb("swivel", "same", False, None, "toes stay, heel or heels swing"),
    Verb("raise", "same", False, _D.UP, "heel or heels lift, toes stay"),
    Verb("lower", "same", False, _D.DOWN, "the lifted heel or heels come down"),
    Verb("bump", "same", False, None, "the hips go to a side, feet stay"),
    Verb("stomp-up", "same", False, _D.TOGETHER, "the foot is struck on the floor and lifted again"),
    Verb("turn", "same", False, _D.IN_PLACE, "a turn on the bearing foot with the other in the air"),
    Verb("unwind", "said", False, _D.IN_PLACE, "feet crossed, a turn uncrosses them"),
    Verb("arms", "same", False, None, "only the arms move"),
    Verb("hold", "same", False, None, "nothing moves"),
)
VERB = {verb.name: verb for verb in VERBS}
