"""Made choreographies: any verb of a free foot in any of its ways, standing and seated, with half counts and turns."""

from __future__ import annotations

import random
from fractions import Fraction
from typing import TYPE_CHECKING

from softshoe.dance.action import Action
from softshoe.dance.counts import Count
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.footwork import danced, weight_after
from softshoe.dance.places import Direction
from softshoe.dance.verbs import VERB

if TYPE_CHECKING:
    from softshoe.dance.action import Event
    from softshoe.figure.motion import Stance

TAKING = ("step", "rock", "stomp", "lunge", "sway", "recover")
FREE = ("touch", "point", "heel", "kick", "flick", "hitch", "hook", "scuff", "brush", "sweep", "drag", "fan", "swivel")
HOME = ("recover", "hook", "hitch", "flick")  # their way is their own
PLAIN_WAYS = (Direction.FORWARD, Direction.BACK, Direction.TOGETHER, Direction.IN_PLACE, Direction.ACROSS_FRONT)
GAPS = (Fraction(1), Fraction(1), Fraction(1, 2), Fraction(2))
TURNS = (0, 0, 0, 90, -90)


def start_weight(stance: Stance) -> Weight:
    return Weight.LEFT if stance == "standing" else Weight.SEAT


def choreography(number: int, stance: Stance) -> tuple[tuple[Event, ...], float]:
    """The made dance of a number, in which only a free foot moves; and its length in counts."""
    rng = random.Random(f"{number} {stance}")
    moment, weight, actions = Fraction(0), start_weight(stance), []
    for _ in range(rng.randint(4, 24)):
        foot = weight.free or rng.choice((Foot.LEFT, Foot.RIGHT))
        own = Direction.RIGHT if foot is Foot.RIGHT else Direction.LEFT
        verb = rng.choice((*TAKING, *FREE))
        way = VERB[verb].home if verb in HOME else rng.choice((own, *PLAIN_WAYS))
        turn = rng.choice(TURNS) if verb == "step" and stance == "standing" else 0
        actions.append(Action(Count.at_moment(moment), foot, verb, way, turn_deg=turn))
        weight = weight_after(actions[-1], weight)
        moment += rng.choice(GAPS)
    return danced(actions, weight=start_weight(stance)), float(moment)
