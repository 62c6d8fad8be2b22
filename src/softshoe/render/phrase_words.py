"""Actions as plain trade sentences: what the foot does, what the arms do, and the turn, without a code or a shortening.

Feet and arms are two sentences, since a sheet sets them apart. Who sits reads the same words as who stands.
Every verb, direction, gesture and place of the ground has its row here; nothing falls back to a code.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.dance.facing import clock
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.places import Direction

if TYPE_CHECKING:
    from collections.abc import Iterable

    from softshoe.dance.action import Action, Event
    from softshoe.dance.arms import ArmMove

D = Direction

# Where one foot goes; {o} is the other foot.
WAYS = {
    D.FORWARD: "forward",
    D.BACK: "back",
    D.LEFT: "to the left",
    D.RIGHT: "to the right",
    D.FORWARD_LEFT: "to the forward left diagonal",
    D.FORWARD_RIGHT: "to the forward right diagonal",
    D.BACK_LEFT: "to the back left diagonal",
    D.BACK_RIGHT: "to the back right diagonal",
    D.TOGETHER: "beside {o}",
    D.IN_PLACE: "in place",
    D.CENTRE: "home",
    D.ACROSS_FRONT: "across in front of {o}",
    D.ACROSS_BEHIND: "across behind {o}",
    D.APART: "out to the side",
    D.UP: "up",
    D.DOWN: "down",
}
BOTH_WAYS = WAYS | {
    D.TOGETHER: "together",
    D.ACROSS_FRONT: "crossed, one in front of the other",
    D.ACROSS_BEHIND: "crossed, one behind the other",
    D.APART: "apart",
}
OWN_SIDE = {Foot.LEFT: D.LEFT, Foot.RIGHT: D.RIGHT}
BACK_HOME = {D.CENTRE: "back to the middle"}
FLAT = {D.IN_PLACE: "", D.UP: "", D.DOWN: ""}  # what the verb says already

# The verb's sentence for one foot and for both, and ways that sound otherwise with this verb.
# {f} the foot, {F} the same to begin with, {o} the other foot, {d} the way, {t} the turn.
Row = tuple[str, str, dict[D, str]]
SENTENCES: dict[str, Row] = {
    "step": ("step {f} {d}", "both feet step {d}", {}),
    "rock": ("rock {f} {d}", "rock on both feet {d}", {}),
    "recover": ("recover onto {f} {d}", "recover onto both feet {d}", {D.IN_PLACE: ""}),
    "sway": ("sway {d}", "sway {d}", {D.IN_PLACE: "in place onto {f}", D.TOGETHER: "in place onto {f}"}),
    "lunge": ("lunge {f} {d}", "lunge on both feet {d}", {}),
    "stomp": ("stomp {f} {d}", "stomp both feet {d}", {D.IN_PLACE: ""}),
    "drop": ("lower {f} flat {d}", "lower both feet flat {d}", FLAT),
    "grind": ("grind {f} heel {d}, toes turning out", "grind both heels {d}, toes turning out", {}),
    "pivot": ("pivot{t} {d}, weight onto {f}", "pivot{t} {d}, weight onto both feet", {D.IN_PLACE: ""}),
    "hop": ("hop on {f} {d}", "hop on both feet {d}", {D.IN_PLACE: "in place", D.UP: ""}),
    "jump": ("jump from {f} {d}, landing on both feet", "jump {d}, landing on both feet", {D.UP: ""}),
    "touch": ("touch {f} {d}", "touch the toes of both feet {d}", {}),
    "point": ("point {f} {d}", "point the toes of both feet {d}", {}),
    "heel": ("{f} heel {d}", "both heels {d}", {}),
    "kick": ("kick {f} {d}", "kick both feet {d}", {}),
    "flick": ("flick {f} {d}", "flick both feet {d}", {}),
    "hitch": ("lift {f} knee {d}", "lift both knees {d}", FLAT),
    "hook": ("hook {f} {d}", "hook both feet {d}",
             {D.ACROSS_FRONT: "in front of {o} shin", D.ACROSS_BEHIND: "behind {o} shin"}),
    "scuff": ("scuff {f} heel {d}", "scuff both heels {d}", {}),
    "brush": ("brush {f} {d}", "brush both feet {d}", {}),
    "sweep": ("sweep {f} round on the floor {d}", "sweep both feet round on the floor {d}",
    {D.FORWARD: "to the front", D.BACK: "to the back", D.CENTRE: "and home"}),
    "drag": ("drag {f} {d}", "drag both feet {d}", {D.TOGETHER: "in toward {o}", D.CENTRE: "in, home"}),
    "fan": ("swing {f} toes {d}", "swing both toes {d}", BACK_HOME),
    "swivel": ("swivel {f} heel {d}", "swivel both heels {d}", BACK_HOME),
    "raise": ("raise {f} heel {d}", "raise both heels {d}", FLAT),
    "lower": ("lower {f} heel {d}", "lower both heels {d}", FLAT),
    "bump": ("bump the hips {d}", "bump the hips {d}", BACK_HOME | {D.TOGETHER: "in place"}),
    "stomp-up": ("stomp {f} up {d}, no weight", "stomp both feet up {d}, no weight", {D.UP: "", D.IN_PLACE: ""}),
    "turn": ("turn on the spot,{t}, {f} free", "turn on the spot,{t}", {}),
    "unwind": ("unwind{t}", "unwind{t}", {}),
    "arms": ("feet still", "feet still", {}),
    "hold": ("hold", "hold", {}),
}  # fmt: skip
BOTH_SAYS = {"drag": {D.TOGETHER: "together"}, "hook": {D.ACROSS_FRONT: "in front", D.ACROSS_BEHIND: "behind"},
             "sway": {D.IN_PLACE: "in place", D.TOGETHER: "in place"}}  # fmt: skip
TURNING_VERBS = {"pivot", "turn", "unwind"}
SHARES = {45: "eighth", 90: "quarter", 135: "three-eighths", 180: "half", 225: "five-eighths", 270: "three-quarter",
          315: "seven-eighths", 360: "full", 540: "one and a half", 720: "two full"}  # fmt: skip
CUES: dict[str, str] = {
    "hold": "hold", "arms": "arms", "rock": "rock", "recover": "recover", "sway": "sway", "lunge": "lunge",
    "stomp": "stomp", "drop": "down", "grind": "grind", "pivot": "pivot", "hop": "hop", "jump": "jump",
    "touch": "touch", "point": "point", "heel": "heel", "kick": "kick", "flick": "flick", "hitch": "knee",
    "hook": "hook", "scuff": "scuff", "brush": "brush", "sweep": "sweep", "drag": "drag", "fan": "fan",
    "swivel": "twist", "raise": "heels up", "lower": "heels down", "bump": "bump", "stomp-up": "stomp up",
    "turn": "turn", "unwind": "unwind",
}  # fmt: skip
BACK_SAID = ("rock", "touch", "point", "lunge", "kick", "brush")  # forward and back look alike in one word
STEP_CUES = {
    D.FORWARD: "step", D.BACK: "back", D.LEFT: "side", D.RIGHT: "side", D.TOGETHER: "together", D.IN_PLACE: "step",
    D.CENTRE: "home", D.ACROSS_FRONT: "cross", D.ACROSS_BEHIND: "behind", D.APART: "out", D.UP: "step",
    D.DOWN: "step", D.BACK_LEFT: "back diagonal", D.BACK_RIGHT: "back diagonal",
}  # fmt: skip


def turn_words(turn_deg: int) -> str:
    """Return a turn in words; right is clockwise.

    >>> turn_words(90), turn_words(-180)
    ('quarter turn right', 'half turn left')
    """
    amount = abs(turn_deg)
    side = "right" if turn_deg > 0 else "left"
    if amount in SHARES:
        return f"{SHARES[amount]} turn{'s' if amount >= 540 else ''} {side}"
    return f"turn of {amount} degrees {side}"


def way_words(verb: str, foot: Foot | None, way: D) -> str:
    """Return where the foot goes, in the words that suit the verb."""
    both = foot not in OWN_SIDE
    special = SENTENCES[verb][2] | (BOTH_SAYS.get(verb, {}) if both else {})
    words = special.get(way, (BOTH_WAYS if both else WAYS)[way])
    if foot is not None and OWN_SIDE.get(foot) is way and verb not in ("sway", "bump", "fan", "swivel"):
        words += " side"
    return words


def action_words(action: Action, *, facing_deg: int | None = None, before: Action | None = None) -> str:
    """Return what the feet do as a phrase that begins small, with the turn; ``facing_deg`` adds the clock after a turn.

    ``before`` is the action before it: after a toe touch a drop lowers the heel. Arms are not in it: see ``arm_words``.
    """
    one, both = _pattern(action, before)
    two_feet = action.foot not in OWN_SIDE
    way = way_words(action.verb, action.foot, action.dir) if action.dir else ""
    inside = action.verb in TURNING_VERBS
    turn = f" {turn_words(action.turn_deg)}" if action.turn_deg else ""
    words = (both if two_feet else one).replace("{d}", way)
    if action.foot is not None:
        words = words.replace("{f}", action.foot.word).replace("{o}", action.foot.other.word)
    words = words.replace("{t}", turn if inside else "")
    words += f",{turn}" if turn and not inside else ""
    words += _weight_words(action)
    words += f" ({clock(facing_deg)})" if facing_deg is not None and action.turn_deg else ""
    return tidy(words)


def _pattern(action: Action, before: Action | None) -> tuple[str, str]:
    if action.verb == "step" and action.dir is D.CENTRE:
        return "{f} home", "both feet home"
    if action.verb == "sweep" and action.dir is D.CENTRE:
        return "{f} foot draws a circle on the floor and ends home", "both feet draw a circle on the floor and end home"
    if action.verb == "drop" and before is not None and before.foot is action.foot:
        part = {"heel": "toes", "touch": "heel", "point": "heel"}.get(before.verb)
        if part:
            return f"lower {{f}} {part} {{d}}", f"lower both {part.rstrip('s')}s {{d}}"
    return SENTENCES[action.verb][:2]


def _weight_words(action: Action) -> str:
    said = action.weight_said
    if said is None or said is Weight.SEAT or action.verb in ("pivot", "stomp-up"):
        return ""
    return ", weight on both feet" if said is Weight.BOTH else f", weight on {Foot(said.value).word}"


def tidy(words: str) -> str:
    """Return the words with single spaces and none before a comma."""
    return " ".join(words.split()).replace(" ,", ",").replace(",,", ",")


def sentence(words: str) -> str:
    """Return the words begun with a capital."""
    return words[:1].upper() + words[1:]


def cue_word(action: Action) -> str:
    """Return the one or two words a leader calls for this action: "heel", "side", "home"."""
    if action.verb in ("step", "touch") and action.dir is D.CENTRE:
        return "home"
    if action.verb == "step" and action.dir:
        return STEP_CUES.get(action.dir, "diagonal")
    back = " back" if action.verb in BACK_SAID and action.dir is D.BACK else ""
    return CUES.get(action.verb, "step") + back


# One hand, both; what a hand does, what hands do.
Hands = tuple[str, str, str]
MOVES: dict[str, Hands] = {
    "clap": ("hand", "claps", "clap"),
    "snap": ("hand", "snaps the fingers", "snap the fingers"),
    "pat": ("hand", "pats", "pat"),
    "drum": ("hand", "drums", "drum, one after the other,"),
    "push": ("hand", "pushes", "push"),
    "pull": ("hand", "pulls", "pull"),
    "punch": ("fist", "punches", "punch"),
    "reach": ("arm", "reaches", "reach"),
    "raise": ("arm", "rises", "rise"),
    "lower": ("hand", "comes down", "come down"),
    "open": ("arm", "opens wide", "open wide"),
    "close": ("arm", "closes in", "close in"),
    "cross": ("arm", "crosses", "cross"),
    "point": ("hand", "points a finger", "point a finger"),
    "rest": ("hand", "rests", "rest"),
    "circle": ("hand", "draws a circle", "draw a circle"),
    "roll": ("hand", "rolls round and round", "roll round each other"),
    "sweep": ("arm", "sweeps", "sweep"),
    "swing": ("arm", "swings", "swing"),
    "wave": ("hand", "waves", "wave"),
    "shake": ("hand", "shakes loosely", "shake loosely"),
    "rotate": ("hand", "turns over", "turn over"),
    "follow": ("hand", "follows", "follow"),
}
HAND_WAYS = {
    D.FORWARD: "forward", D.BACK: "back", D.LEFT: "to the left", D.RIGHT: "to the right",
    D.FORWARD_LEFT: "to the forward left diagonal", D.FORWARD_RIGHT: "to the forward right diagonal",
    D.BACK_LEFT: "to the back left diagonal", D.BACK_RIGHT: "to the back right diagonal", D.TOGETHER: "together",
    D.IN_PLACE: "in place", D.CENTRE: "in to the middle", D.ACROSS_FRONT: "across in front",
    D.ACROSS_BEHIND: "across behind", D.APART: "out to the sides", D.UP: "up", D.DOWN: "down",
}  # fmt: skip
HEIGHTS = {"lap": "just over the lap", "thigh": "thigh height", "knee": "knee height", "hip": "hip height",
           "waist": "waist height", "chest": "chest height", "shoulder": "shoulder height", "head": "head height",
           "overhead": "overhead", "foot": "above the foot"}  # fmt: skip
ON = {"lap": "on the lap", "thigh": "on the thighs", "knee": "on the knees", "hip": "on the hips",
      "waist": "at the waist", "chest": "on the chest", "shoulder": "on the shoulders", "head": "on the head",
      "overhead": "overhead", "foot": "above the foot"}  # fmt: skip
TO = {"lap": "to the lap", "thigh": "to the thighs", "knee": "to the knees", "hip": "to the hips",
      "waist": "to the waist", "chest": "to the chest", "shoulder": "to the shoulders", "head": "to the head",
      "overhead": "overhead", "foot": "to the foot"}  # fmt: skip
TO_HEIGHT = HEIGHTS | {"lap": "from the lap", "overhead": "overhead", "foot": "above the foot"}
PAT = {"lap": "the lap", "thigh": "the thighs", "knee": "the knees", "hip": "the hips", "waist": "the waist",
       "chest": "the chest", "shoulder": "the shoulders", "head": "the head", "overhead": "overhead",
       "foot": "the foot"}  # fmt: skip
PLACED = {"pat": PAT, "drum": ON, "rest": ON, "cross": ON, "lower": TO, "pull": TO, "raise": TO_HEIGHT}
SAID_ALREADY = {("lower", D.DOWN), ("raise", D.UP), ("close", D.CENTRE), ("close", D.TOGETHER), ("close", D.IN_PLACE)}
RAISED = {"thigh", "knee", "hip", "waist", "chest", "shoulder", "head"}
ONE_SIDED = {"thighs": "thigh", "knees": "knee", "hips": "hip", "shoulders": "shoulder"}


def arm_words(arms: Iterable[ArmMove]) -> str:
    """Return what the arms do at one moment as a phrase that begins small; "" for nothing.

    >>> from softshoe.dance.arms import ArmMove
    >>> arm_words([ArmMove(Foot.BOTH, "push", "chest", D.RIGHT)])
    'both hands push to the right, chest height'
    """
    return ", and ".join(_arm(arm) for arm in arms)


def _arm(arm: ArmMove) -> str:
    limb, one, both = MOVES[arm.gesture]
    if arm.gesture == "rotate":
        return _rotated(arm)
    two = arm.side is Foot.BOTH
    who = f"both {limb}s" if two else f"{arm.side.word} {limb}"
    if two and arm.gesture in ("clap", "snap"):
        who = ""
    way = HAND_WAYS[arm.toward] if arm.toward and (arm.gesture, arm.toward) not in SAID_ALREADY else ""
    if arm.toward is D.APART and not two:
        way = "out to the side"
    return tidy(f"{who} {both if two else one} {_placed(arm, way)}")


def _placed(arm: ArmMove, way: str) -> str:
    if arm.place is None:
        return way
    surface = PLACED.get(arm.gesture)
    if surface is None:
        height = HEIGHTS[arm.place]
        return f"{way} {height}" if arm.place in ("overhead", "foot") else f"{way}, {height}"
    where = surface[arm.place]
    if arm.gesture == "raise" and arm.place in RAISED:
        where = f"to {where}"
    if arm.side is not Foot.BOTH:
        where = " ".join(ONE_SIDED.get(word, word) for word in where.split())
    if arm.gesture in ("pat", "drum", "rest", "cross"):
        return f"{where}, {way}" if way else where
    return f"{way} {where}"


THUMBS = {D.UP: "up", D.DOWN: "down", D.LEFT: "to the left", D.RIGHT: "to the right", D.CENTRE: "in", D.APART: "out",
          D.TOGETHER: "in"}  # fmt: skip


def _rotated(arm: ArmMove) -> str:
    two = arm.side is Foot.BOTH
    who = "both thumbs turn" if two else f"{arm.side.word} thumb turns"
    way = THUMBS.get(arm.toward, HAND_WAYS[arm.toward]) if arm.toward else "over"
    height = f", {HEIGHTS[arm.place]}" if arm.place else ""
    return f"{who} {way}{height}"


def pictured(event: Event) -> str:
    """Return the event as the words that stand for its picture: count, feet, weight, facing, arms."""
    action = event.action
    feet = action_words(action, facing_deg=event.facing_deg)
    bearing = {Weight.SEAT: "seated", Weight.BOTH: "weight on both feet"}.get(
        event.weight, f"weight on the {Foot(event.weight.value).word} foot" if event.weight is not Weight.SEAT else ""
    )
    arms = arm_words(action.arms)
    tail = f" {sentence(arms)}." if arms else ""
    return f"Count {action.at.label}: {feet}; {bearing}, facing {clock(event.facing_deg)}.{tail}"
