"""Every step, drawn: each verb and each gesture half a count before it and on its count, standing and seated.

The steps are rows of ``data/look/every_step.csv``; the gestures are those of ``dance.arms``.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

import numpy as np

from softshoe.dance.action import Action
from softshoe.dance.arms import GESTURES, ArmMove
from softshoe.dance.counts import Count
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.footwork import danced
from softshoe.dance.places import Direction
from softshoe.dance.verbs import VERB
from softshoe.figure.feet_rules import foot_rule
from softshoe.figure.move import move
from softshoe.figure.supports import stance_of
from softshoe.render.look import palette
from softshoe.render.picture import BEFORE_COUNTS, figure_marks
from softshoe.render.picture_camera import Seen, rig_for
from softshoe.render.picture_ground import floor_marks
from softshoe.render.stage import Text
from softshoe.tables import table

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.figure.motion import Motion, Support
    from softshoe.render.stage import Mark

WIDE, HIGH, WORDS_HIGH = 150.0, 220.0, 24.0
FOLLOWS = 0.34  # counts after the count: a scuffed foot is up, a grinding heel has turned
ON = 3  # the moment on which everything happens
LOOKS: tuple[tuple[float, Seen], ...] = ((ON - 0.3, "mirror"), (float(ON), "mirror"), (float(ON), "side"))


@dataclass(frozen=True, slots=True)
class Shown:
    """One thing to draw: its words and the actions that lead to it and do it, the last on moment 3."""

    words: str
    actions: tuple[Action, ...]


def steps() -> list[Shown]:
    """Return every step of the table."""
    return [Shown(row["words"], tuple(_actions(row))) for row in table("look/every_step")]


def gestures() -> list[Shown]:
    """Return every gesture with both hands, at its own place."""
    return [Shown(g.name, tuple(_arm(n, g.name) for n in ((ON, ON + 1) if g.lasting else (ON,)))) for g in GESTURES]


def _arm(moment: int, gesture: str) -> Action:
    if gesture == "follow":
        return Action(_at(moment), Foot.RIGHT, "touch", Direction.RIGHT, arms=(ArmMove(Foot.RIGHT, gesture, "foot"),))
    return Action(_at(moment), None, "arms", arms=(ArmMove(Foot.BOTH, gesture),))


def _actions(row: dict[str, str]) -> list[Action]:
    foot = Foot[row["foot"].upper()]
    made: list[Action] = []
    if row["before"]:
        verb, _, way = row["before"].partition(" ")
        first = Foot.LEFT if way == "left" and verb == "sway" else Foot.BOTH if verb == "raise" else Foot.RIGHT
        made.append(Action(_at(ON - 1), first, verb, Direction(way)))
    made.append(Action(_at(ON), foot, row["verb"], Direction(row["way"]), int(row["turn"])))
    return made


def _at(moment: int) -> Count:
    return Count.at_moment(Fraction(moment))


def motion_of(shown: Shown, support: Support) -> Motion:
    """Return the motion of one thing, with quiet counts before and after."""
    seated = stance_of(support) == "seated"
    first = shown.actions[0]
    weight = Weight.SEAT if seated else Weight.RIGHT if first.foot is Foot.LEFT else Weight.LEFT
    return move(danced(shown.actions, weight=weight), counts=ON + 2, stance="standing", support=support)


def cell(motion: Motion, moment: float, left: float, top: float, *, view: Seen) -> list[Mark]:
    """Return the dancer at a moment in a cell of the page; arrows show the way her feet came."""
    box = (left + 6, top + 4, left + WIDE - 6, top + HIGH - 16)
    rig = rig_for(motion, box, view=view, follow=0.0)
    frames = motion.at(np.array([moment, moment - BEFORE_COUNTS]))
    frames.active[:] = motion.at(np.full(2, moment - 0.2)).active
    frames.active[:, 2:] = 0.0  # an arrow would cover the hand it speaks of
    floor = floor_marks(rig, width=WIDE * 0.94, bottom=top + HIGH - 4)
    return [*floor, *figure_marks(frames, rig.at(moment), motion, travels=False, came=True)]


def _looks(shown: Shown, support: Support) -> tuple[tuple[float, Seen], ...]:
    """Return when and how a thing is looked at: what shows only as it follows through is seen from the side on its
    count and then; a lunge when the weight has come over its foot."""
    verb = shown.actions[-1].verb
    if verb == "lunge":
        return (LOOKS[1], (ON + FOLLOWS, "mirror"), (ON + FOLLOWS, "side"))
    after = foot_rule(verb, stance_of(support)).after if verb in VERB else None
    return (LOOKS[1], LOOKS[2], (ON + FOLLOWS, "side")) if after and (after.up or after.pitch_deg) else LOOKS


def page(
    things: Sequence[Shown], supports: Sequence[Support], *, across: int, words: bool = True
) -> tuple[list[Mark], float, float]:
    """Return the marks of a page of things and its size: each for every support on its way and on its count, as in a
    mirror, and from the dancer's right side on its count, or as it follows through.

    ``across`` is how many things stand beside each other; without ``words`` nothing tells what is drawn.
    """
    block = WIDE * len(LOOKS) * len(supports) + 14.0
    marks: list[Mark] = []
    for index, shown in enumerate(things):
        left, top = (index % across) * block, (index // across) * (HIGH + WORDS_HIGH)
        if words:
            middle = left + (block - 14.0) / 2
            marks.append(Text(middle, top + 16, shown.words, 17, palette()["ink"], bold=True, anchor="middle"))
        for place, support in enumerate(supports):
            motion = motion_of(shown, support)
            for number, (moment, view) in enumerate(_looks(shown, support)):
                at = left + WIDE * (len(LOOKS) * place + number)
                marks += cell(motion, moment, at, top + WORDS_HIGH, view=view)
    rows = -(-len(things) // across)
    return marks, block * min(across, len(things)), rows * (HIGH + WORDS_HIGH)
