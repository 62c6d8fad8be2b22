"""A dance written as a sheet again, in a style that reads back to an equal dance.

One line a whole count; what shares a count stands in its order, what shares a moment is joined by "while". Words come
from
``data/wording/writing.csv``; the styles differ in how they name feet and places.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from softshoe.dance.counts import SIGNS
from softshoe.dance.facing import clock
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.places import Direction
from softshoe.errors import SettingError
from softshoe.wording.vocabulary import table

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from softshoe.dance.action import Action
    from softshoe.dance.arms import ArmMove
    from softshoe.dance.dance import Dance, Ending, Restart, Section, Tag


@dataclass(frozen=True, slots=True)
class Style:
    """How a style names feet, places, turns; ``row`` lays out a count and its words."""

    name: str
    feet: dict[Foot, str]
    places: dict[Direction, str]
    turn: str
    row: str


FEET_SHORT = {Foot.LEFT: "L", Foot.RIGHT: "R", Foot.BOTH: "both feet"}
FEET_LONG = {Foot.LEFT: "left foot", Foot.RIGHT: "right foot", Foot.BOTH: "both feet"}
PLACES_SHORT = {
    Direction.FORWARD: "fwd", Direction.BACK: "back", Direction.LEFT: "to L side", Direction.RIGHT: "to R side",
    Direction.FORWARD_LEFT: "to fwd L diag",
    Direction.FORWARD_RIGHT: "to fwd R diag", Direction.BACK_LEFT: "to back L diag",
    Direction.BACK_RIGHT: "to back R diag", Direction.TOGETHER: "tog",
    Direction.IN_PLACE: "in place", Direction.CENTRE: "home", Direction.ACROSS_FRONT: "across the other",
    Direction.ACROSS_BEHIND: "behind", Direction.APART: "apart",
    Direction.UP: "up", Direction.DOWN: "down",
}  # fmt: skip
PLACES_LONG = PLACES_SHORT | {
    Direction.FORWARD: "forward", Direction.LEFT: "to the left side", Direction.RIGHT: "to the right side",
    Direction.FORWARD_LEFT: "to the forward left diagonal", Direction.FORWARD_RIGHT: "to the forward right diagonal",
    Direction.BACK_LEFT: "to the back left diagonal", Direction.BACK_RIGHT: "to the back right diagonal",
    Direction.TOGETHER: "together",
    Direction.IN_PLACE: "on the spot", Direction.CENTRE: "back to the centre",
    Direction.ACROSS_FRONT: "across in front of the other",
    Direction.ACROSS_BEHIND: "behind the other",
}  # fmt: skip
STYLES = {
    "short": Style("short", FEET_SHORT, PLACES_SHORT, "{part} turn {side}", "{count}  {words}"),
    "sentences": Style("sentences", FEET_LONG, PLACES_LONG, "turning {part} to the {side}", "Count {count}: {words}."),
    "table": Style("table", FEET_SHORT, PLACES_LONG, "{part} turn {side}", "{count} | {words}"),
}
PARTS = {45: "1/8", 90: "1/4", 135: "3/8", 180: "1/2", 225: "5/8", 270: "3/4", 315: "7/8", 360: "full"}
HANDS = {Foot.LEFT: "left hand", Foot.RIGHT: "right hand", Foot.BOTH: "both hands"}
GESTURES = {
    "clap": "clap", "snap": "snap the fingers of {hand}", "pat": "pat with {hand}", "drum": "{hand} drum",
    "push": "{hand} push",
    "pull": "{hand} pull", "punch": "{hand} punch", "reach": "{hand} reach", "raise": "{hand} raise",
    "lower": "{hand} lower",
    "open": "{hand} open", "close": "{hand} close", "cross": "{hand} cross", "point": "{hand} point",
    "rest": "{hand} rest",
    "circle": "{hand} circle", "roll": "{hand} roll", "sweep": "{hand} sweep", "swing": "{hand} swing",
    "wave": "{hand} wave",
    "shake": "{hand} shake", "rotate": "{hand} rotate", "follow": "{hand} follow",
}  # fmt: skip
AT = {
    "lap": "at the lap", "thigh": "at the thighs", "knee": "at own knee", "hip": "at the hips",
    "waist": "at waist height",
    "chest": "at chest height", "shoulder": "at shoulder height", "head": "at head height", "overhead": "overhead",
    "foot": "above the foot",
}  # fmt: skip
TOWARD = {
    Direction.APART: "out to the sides", Direction.LEFT: "to the left", Direction.RIGHT: "to the right",
    Direction.FORWARD: "forward", Direction.BACK: "back", Direction.UP: "up",
    Direction.DOWN: "down", Direction.CENTRE: "in", Direction.TOGETHER: "together", Direction.ACROSS_FRONT: "across",
}  # fmt: skip


@lru_cache(maxsize=1)
def _templates() -> dict[str, tuple[str, str]]:
    return {row["verb"]: (row["one"], row["both"]) for row in table("writing.csv")}


def write(dance: Dance, *, style: str = "short") -> str:
    """Return the dance as a sheet. Raises SettingError for a style that is not there ("short", "sentences",
    "table").
    """
    if style not in STYLES:
        raise SettingError("style", f"there is no style “{style}”", "sheets are written in a few styles only",
                           f"choose one of {', '.join(STYLES)}")  # fmt: skip
    chosen = STYLES[style]
    lines = [*_header(dance), ""]
    for section in dance.sections:
        lines += [_heading(section), *_section(dance, section, chosen)]
    for restart in dance.restarts:
        lines.append(_restart(restart))
    for tag in dance.tags:
        lines += ["", _tag(tag), *_rows(tag.actions, chosen, first=1, last=tag.counts)]
    for ending in dance.endings:
        lines += ["", _ending(ending), *_rows(ending.actions, chosen, first=1, last=ending.counts)]
    return "\n".join(lines) + "\n"


def _header(dance: Dance) -> list[str]:
    tempo = dance.tempo_bpm
    bpm = f"{tempo[0]:g}-{tempo[1]:g}" if isinstance(tempo, tuple) else f"{tempo:g}" if tempo is not None else ""
    weight = {Weight.LEFT: "on the left foot", Weight.RIGHT: "on the right foot", Weight.BOTH: "on both feet"}.get(
        dance.start_weight
    )
    rows = [
        ("Title", dance.title), ("Counts", str(dance.counts)), ("Walls", str(dance.walls) if dance.walls else ""),
        ("Level", dance.level or ""), ("Tempo", f"{bpm} bpm" if bpm else ""),
        ("Intro", "" if dance.intro_counts is None else f"{dance.intro_counts} counts"),
        ("Time", dance.metre), ("Position", "seated" if dance.seated else ""), ("Start",
        f"weight {weight}" if weight else ""),
    ]  # fmt: skip
    return [f"{name}: {value}" for name, value in rows if value]


def _heading(section: Section) -> str:
    first = int(section.start.at)
    return f"\nSection {section.number} [{first}-{first + int(section.length.n) - 1}]"


def _section(dance: Dance, section: Section, style: Style) -> list[str]:
    first = int(section.start.at)
    last = first + int(section.length.n) - 1
    inside = [a for a in dance.actions if first <= max(a.at.whole, 1) <= last]
    return _rows(inside, style, first=first, last=last)


def _rows(actions: Iterable[Action], style: Style, *, first: int, last: int) -> list[str]:
    """Return a line a whole count; an "&" before count 1 stands with it."""
    rows: dict[int, list[Action]] = {n: [] for n in range(first, last + 1)}
    for action in actions:
        rows.setdefault(max(1, action.at.whole), []).append(action)
    return [style.row.format(count=_label(n, row), words=_moments(row, style)) for n, row in rows.items() if row]


def _label(count: int, row: Sequence[Action]) -> str:
    label = "&" if any(a.at.at < 1 for a in row) else ""
    parts = {a.at.at - count for a in row if a.at.at >= 1}
    return label + str(count) + "".join(sign for sign, part in SIGNS.items() if part in parts)


def _moments(row: Sequence[Action], style: Style) -> str:
    """Return what happens in a count, moment by moment."""
    at: dict[object, list[Action]] = {}
    for action in row:
        at.setdefault(action.at, []).append(action)
    return ", ".join(" while ".join(_words(a, style) for a in together) for together in at.values())


def _words(action: Action, style: Style) -> str:
    hands = " and ".join(_hand(arm) for arm in action.arms)
    if action.verb == "arms":
        return hands
    words = [_foot(action, style)]
    if action.turn_deg:
        side = "right" if action.turn_deg > 0 else "left"
        words.append(
            style.turn.format(part=PARTS.get(abs(action.turn_deg), f"{abs(action.turn_deg)} degrees"), side=side)
        )
    bears = _bears(action)
    if bears:
        words.append(f"({bears})")
    text = " ".join(w for w in words if w)
    return f"{text} and {hands}" if hands else text


def _foot(action: Action, style: Style) -> str:
    one, both = _templates()[action.verb]
    way = style.places[action.dir] if action.dir is not None else ""
    if action.verb in ("hitch", "hold", "bump") and action.dir in (Direction.UP, None):
        way = ""
    foot = action.foot or Foot.BOTH
    short = (
        FEET_SHORT[foot]
        if action.verb in ("heel", "hitch", "drop", "fan", "swivel", "raise", "lower", "sweep")
        else style.feet[foot]
    )
    template = both if action.foot is Foot.BOTH or (action.foot is None and action.verb != "hold") else one
    return " ".join(template.format(foot=short, dir=way, side=foot.word).split())


def _bears(action: Action) -> str:
    """Return what is to be said of the weight: where words make it another than the verb's, and always of a pivot."""
    said = action.weight_said
    if said is None and action.verb in ("pivot", "turn", "hop") and action.foot in (Foot.LEFT, Foot.RIGHT):
        return f"weight on {action.foot.value}"
    names = {Weight.LEFT: "L", Weight.RIGHT: "R", Weight.BOTH: "both"}
    return f"weight on {names[said]}" if said in names else ""


def _hand(arm: ArmMove) -> str:
    words = [GESTURES[arm.gesture].format(hand=HANDS[arm.side])]
    if arm.gesture == "clap" and arm.side is not Foot.BOTH:
        words = [f"{HANDS[arm.side]} clap"]
    if arm.toward is not None:
        words.append(TOWARD.get(arm.toward, arm.toward.value))
    if arm.place is not None:
        words.append(AT[arm.place])
    return " ".join(words)


# tags, restarts, endings


def _list(walls: Sequence[int]) -> str:
    return f"wall{'s' * (len(walls) > 1)} " + " and ".join(", ".join(map(str, walls)).rsplit(", ", 1))


def _restart(restart: Restart) -> str:
    return f"Restart on {_list(restart.walls)} after count {restart.after_count}"


def _tag(tag: Tag) -> str:
    then = "continue" if tag.then == "continue" else "start again"
    return f"Tag ({tag.counts} counts) on {_list(tag.walls)} after count {tag.after_count}, then {then}"


def _ending(ending: Ending) -> str:
    wall = "the last wall" if ending.wall == "last" else f"wall {ending.wall}"
    start = clock(ending.start_facing_deg)
    return f"Ending ({ending.counts} counts) on {wall}, which starts at {start}: dance to count {ending.after_count}"
