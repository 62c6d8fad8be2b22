"""Events made for tests: sound dances of every verb and direction, every gesture and place."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

from figure.choreographies import start_weight
from softshoe.dance.action import Action, Event
from softshoe.dance.arms import GESTURE, GESTURES, PLACES, ArmMove
from softshoe.dance.counts import Count
from softshoe.dance.document import dance_from_json
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.footwork import danced
from softshoe.dance.places import Direction
from softshoe.dance.verbs import VERB, VERBS, Verb

if TYPE_CHECKING:
    from collections.abc import Container

    from softshoe.dance.dance import Dance
    from softshoe.figure.motion import Stance

SHEETS = sorted((Path(__file__).parents[1] / "sheets" / "sound").glob("*.json"))
BOTH_FEET = {"jump", "unwind"}
NO_FOOT = {"arms", "hold"}
WAYS = tuple(Direction)


def sound_dance(path: Path) -> Dance:
    return dance_from_json(json.loads(path.read_text(encoding="utf-8")))


def at(moment: Fraction | int) -> Count:
    return Count.at_moment(Fraction(moment))


def home(stance: Stance) -> Direction:
    return Direction.TOGETHER if stance == "standing" else Direction.CENTRE


def _once(verb: Verb, way: Direction | None, stance: Stance, moment: int) -> list[Action]:
    """The verb done by the right foot, and both feet brought home so that the right foot is free again."""
    if verb.name in NO_FOOT:
        return [Action(at(moment), None, verb.name, way)]
    foot = Foot.BOTH if verb.name in BOTH_FEET else Foot.RIGHT
    steps = [Action(at(moment), foot, verb.name, way)]
    if verb.weight != "foot":
        steps.append(Action(at(moment + 1), Foot.RIGHT, "step", home(stance)))
    return [*steps, Action(at(moment + len(steps)), Foot.LEFT, "step", home(stance))]


def every_verb(stance: Stance, names: Container[str] = VERB) -> tuple[tuple[Event, ...], int]:
    """The verbs of these names in every direction, one after the other; and how many counts that takes."""
    actions: list[Action] = []
    for verb in (verb for verb in VERBS if verb.name in names):
        for way in (None,) if verb.name in NO_FOOT else WAYS:
            actions += _once(verb, way, stance, len(actions))
    return danced(actions, weight=start_weight(stance)), len(actions)


def every_gesture(stance: Stance, names: Container[str] = GESTURE) -> tuple[tuple[Event, ...], int]:
    """The gestures of these names at every place, toward every direction with each hand and with both, two counts
    apart."""
    rows: list[ArmMove] = []
    for gesture in (gesture for gesture in GESTURES if gesture.name in names):
        rows += [ArmMove(Foot.BOTH, gesture.name, place) for place in (None, *PLACES)]
        rows += [ArmMove(side, gesture.name, None, way) for way in WAYS for side in Foot]
        rows += [
            ArmMove(Foot.BOTH, gesture.name, place, way)
            for place in ("waist", "head", "overhead")
            for way in (Direction.LEFT, Direction.FORWARD)
        ]
    actions = [Action(at(2 * n), None, "arms", arms=(move,)) for n, move in enumerate(rows)]
    weight = Weight.BOTH if stance == "standing" else Weight.SEAT
    return danced(actions, weight=weight), 2 * len(actions)
