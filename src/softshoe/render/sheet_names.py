"""What a section does, as its name: "Vine right, rocking chair". The heading's own words come first.

A pattern is two or four counts of actions as letters of our own: the verb, and the way seen from the moving foot
(``side`` is its own side, ``over`` the other). Its names are those of ``data/dance/pattern_names.csv``, from which the
voice takes them too.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from softshoe.dance.feet import Foot
from softshoe.dance.places import Direction
from softshoe.render.phrase_words import sentence
from softshoe.tables import table

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.dance.action import Action, Event
    from softshoe.dance.dance import Dance, Section

D = Direction
WAY = {
    D.FORWARD: "front", D.BACK: "back", D.TOGETHER: "beside", D.IN_PLACE: "place", D.CENTRE: "home",
    D.ACROSS_FRONT: "cross", D.ACROSS_BEHIND: "behind", D.FORWARD_LEFT: "slant", D.FORWARD_RIGHT: "slant",
    D.BACK_LEFT: "slant", D.BACK_RIGHT: "slant", D.APART: "side", D.UP: "up", D.DOWN: "down",
}  # fmt: skip
SIDE = {D.LEFT: Foot.LEFT, D.RIGHT: Foot.RIGHT}
# {s} is the side or foot that leads, {way} forward or back; of those that are equally long the first is taken.
WORDS = tuple(
    (re.compile(rf"(?:^|(?<= )){row['letters']}(?= |$)"), row["written"])
    for row in table("dance/pattern_names")
    if row["letters"]
)
LONE = {
    "step": "steps", "rock": "rocks", "recover": "rocks", "sway": "sways", "lunge": "lunges", "stomp": "stomps",
    "drop": "struts", "grind": "heel grinds", "pivot": "pivot turn", "hop": "hops", "jump": "jumps",
    "touch": "toe touches", "point": "points", "heel": "heels", "kick": "kicks", "flick": "flicks",
    "hitch": "knee lifts", "hook": "hooks", "scuff": "scuff", "brush": "brushes", "sweep": "floor circles",
    "drag": "drags", "fan": "toe fans", "swivel": "heel twists", "raise": "heel raises", "lower": "heel raises",
    "bump": "hip bumps", "stomp-up": "stomps", "turn": "turn", "unwind": "unwind",
}  # fmt: skip
STEP_NAMES = {"step-cross": "cross", "step-behind": "behind", "step-slant": "diagonal steps", "step-side": "side step",
              "step-front": "step forward", "step-back": "step back", "step-beside": "close"}  # fmt: skip
ARM_NAMES = {
    "clap": "claps", "snap": "snaps", "pat": "pats", "drum": "drumming", "push": "pushes", "pull": "pulls",
    "punch": "punches", "reach": "reaches", "raise": "arms up", "lower": "arms down", "open": "open arms",
    "close": "arms in", "cross": "crossed arms", "point": "pointing", "rest": "resting hands",
    "circle": "hand circles", "roll": "rolling hands", "sweep": "sweeping arms", "swing": "swinging arms",
    "wave": "waves", "shake": "shaking hands", "rotate": "turning thumbs", "follow": "a following hand",
}  # fmt: skip
QUIET = {"hold", "arms"}
QUICK = ("shuffle", "sailor", "kick ball")  # three steps to two counts; on whole counts they are others
MOST_NAMES = 3


def section_name(dance: Dance, section: Section, events: Sequence[Event]) -> str:
    """Return the heading's own words, or what the section does: "Vine right, rocking chair"."""
    if section.title.strip():
        return sentence(section.title.strip().rstrip(":.").strip())
    return named(_in(dance, section, events))


def _in(dance: Dance, section: Section, events: Sequence[Event]) -> list[Action]:
    """Return the actions of a section; only those near it are asked where they belong."""
    first, last = section.start.at - 1, (section.start + section.length).at
    return [e.action for e in events if first < e.action.at.at < last and dance.section_at(e.action.at) == section]


def patterns_in(dance: Dance, section: Section, events: Sequence[Event]) -> list[str]:
    """Return the figures of the trade that a section holds, without their sides: "vine", "rocking chair"."""
    moving = [action for action in _in(dance, section, events) if action.verb not in QUIET]
    known = {name.partition(" {")[0] for _, name in WORDS if not name.startswith("{")}
    found = [name.removesuffix(" left").removesuffix(" right") for name in _feet_names(moving)]
    return [name for name in dict.fromkeys(found) if name in known]


def named(actions: Sequence[Action]) -> str:
    """Return what these actions do, in at most three names; the arms name it where the feet rest."""
    names: list[str] = []
    moving = [a for a in actions if a.verb not in QUIET]
    for name in _feet_names(moving):
        if name not in names:
            names.append(name)
    arms = list(dict.fromkeys(ARM_NAMES[m.gesture] for a in actions for m in a.arms if a.verb in QUIET))
    names += [name for name in arms if name not in names][: max(0, MOST_NAMES - min(len(names), MOST_NAMES - 1))]
    return sentence(", ".join(names[:MOST_NAMES])) or "Hold"


def _feet_names(moving: Sequence[Action]) -> list[str]:
    words = [_letters(a) for a in moving]
    names: list[str] = []
    at = 0
    while at < len(words):
        found, name = _longest(words, moving, at)
        names.append(name)
        at += found
    return names


def _longest(words: list[str], moving: Sequence[Action], at: int) -> tuple[int, str]:
    rest = " ".join(words[at : at + 8])
    best = (1, STEP_NAMES.get(words[at], LONE[moving[at].verb]))
    for pattern, name in WORDS:
        match = pattern.match(rest)
        if match and (taken := len(match.group().split())) > best[0] and _in_time(name, moving[at : at + taken]):
            best = (taken, _filled(name, moving[at]))
    return best


def _in_time(name: str, actions: Sequence[Action]) -> bool:
    """False where a figure that hurries would be danced on whole counts."""
    return not any(word in name for word in QUICK) or any(action.at.at.denominator > 1 for action in actions)


def _filled(name: str, first: Action) -> str:
    way = {D.FORWARD: "forward", D.BACK: "back"}.get(first.dir or D.IN_PLACE, "step")
    return name.replace("{s}", first.foot.word if first.foot else "").replace("{way}", way)


def _letters(action: Action) -> str:
    way = action.dir or D.IN_PLACE
    if way in SIDE:
        return f"{action.verb}-{'side' if action.foot in (SIDE[way], Foot.BOTH) else 'over'}"
    return f"{action.verb}-{WAY[way]}"
