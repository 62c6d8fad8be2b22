"""Cue words: one to three words for what is done on a count; action first, then direction; the same words each time."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from softshoe.dance.feet import Foot
from softshoe.dance.places import Direction
from softshoe.dance.verbs import VERB
from softshoe.tables import table

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.dance.action import Action
    from softshoe.dance.arms import ArmMove

D = Direction
COUNT_WORDS = ("one", "two", "three", "four", "five", "six", "seven", "eight")
PLACE = (D.IN_PLACE,)
AT_HOME = (D.IN_PLACE, D.TOGETHER, D.CENTRE)
AND = "and"
QUIET_ARMS = ("rest", "lower")
PAIRED = ("thigh", "knee", "hip", "shoulder")
LASTING = ("sweep", "drag", "hold")
LASTING_ARMS = ("roll", "swing", "wave", "circle", "follow", "shake", "drum", "sweep")
SHORT = {
    D.FORWARD: "forward",
    D.BACK: "back",
    D.LEFT: "left",
    D.RIGHT: "right",
    D.FORWARD_LEFT: "forward left",
    D.FORWARD_RIGHT: "forward right",
    D.BACK_LEFT: "back left",
    D.BACK_RIGHT: "back right",
    D.TOGETHER: "together",
    D.CENTRE: "home",
    D.IN_PLACE: "",
    D.ACROSS_FRONT: "across",
    D.ACROSS_BEHIND: "behind",
    D.APART: "out",
    D.UP: "up",
    D.DOWN: "down",
}
SIDEWAYS = (D.LEFT, D.RIGHT)
SAYS = {
    "all": tuple(D),
    "side": (*SIDEWAYS, D.ACROSS_FRONT, D.ACROSS_BEHIND),
    "sideback": (*SIDEWAYS, D.BACK, D.ACROSS_FRONT, D.ACROSS_BEHIND),
    "sideways": (*SIDEWAYS, D.CENTRE),
    "updown": (D.UP, D.DOWN),
    "none": (),
}
TURNS = {45: "an eighth", 90: "quarter", 180: "half", 270: "three quarters", 360: "full turn"}


@dataclass(frozen=True, slots=True)
class CueWord:
    """One row: the word for one, for several, which directions are said with it, and what is written for it."""

    word: str
    many: str
    says: tuple[Direction, ...]
    written: str


def _table(name: str, key: str) -> dict[str, CueWord]:
    return {
        row[key]: CueWord(row["word"], row["many"], SAYS[row["says"]], row.get("written", row["word"]))
        for row in table(name)
    }


FEET = _table("teach/cue_words", "verb")
ARMS = _table("teach/arm_words", "gesture")


NUMBERS = (*COUNT_WORDS, "nine", "ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen",
           "eighteen", "nineteen")  # fmt: skip
TENS = ("", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")


def number_word(number: int) -> str:
    """Return a number from 0 ("no") to 999 in words; others as figures.

    >>> number_word(32), number_word(8), number_word(120)
    ('thirty-two', 'eight', 'one hundred and twenty')
    """
    if not 0 <= number < 1000:
        return str(number)
    if number <= len(NUMBERS):
        return NUMBERS[number - 1] if number else "no"
    hundreds, rest = divmod(number, 100)
    if hundreds:
        return f"{NUMBERS[hundreds - 1]} hundred" + (f" and {number_word(rest)}" if rest else "")
    tens, ones = divmod(number, 10)
    return f"{TENS[tens]}-{NUMBERS[ones - 1]}" if ones else TENS[tens]


def count_word(count: int, *, per_section: int = 8) -> str:
    """Return the spoken count inside its section.

    >>> count_word(9), count_word(16)
    ('one', 'eight')
    """
    return COUNT_WORDS[(count - 1) % per_section]


def turn_words(turn_deg: int) -> str:
    """Return a turn: "quarter left"; "" for none."""
    if not turn_deg:
        return ""
    share = TURNS.get(abs(turn_deg), f"{abs(turn_deg)} degrees")
    return f"{share} {'right' if turn_deg > 0 else 'left'}"


def foot_words(action: Action) -> str:
    """Return the words for a foot: "heel", "step left", "home"; a step in place is named by its foot."""
    if action.foot is None:
        return "hold" if action.verb == "hold" else ""
    return " ".join(word for word in (_foot_phrase(action), turn_words(action.turn_deg)) if word)


def _foot_phrase(action: Action) -> str:
    place, verb = action.dir, action.verb
    if verb == "step" and place in PLACE and action.foot is not Foot.BOTH:
        return action.foot.word if action.foot else ""
    if verb == "step" and place in (D.CENTRE, D.TOGETHER):
        return SHORT[place]
    if verb == "step" and place is D.ACROSS_FRONT:
        return "cross"
    if verb == "step" and place is D.ACROSS_BEHIND:
        return "behind"
    if verb == "touch" and place in (D.TOGETHER, D.CENTRE, D.IN_PLACE):
        return "touch"
    row = FEET[verb]
    word = row.word if action.foot is Foot.BOTH or not row.word.startswith(("toes", "heels")) else _singular(row.word)
    where = "centre" if verb in ("fan", "swivel") and place is D.CENTRE else SHORT.get(place, "") if place else ""
    return f"{word} {where}" if where and place in row.says else word


def _singular(word: str) -> str:
    first, *rest = word.split(" ")
    return " ".join([first.removesuffix("s"), *rest])


def arm_phrase(arms: Sequence[ArmMove], *, written: bool = False) -> str:
    """Return the words for arms: "clap", "reach up", "punch right"; "" for none. ``written``: "roll hands"."""
    if not arms:
        return ""
    arm = arms[0]
    row = ARMS[arm.gesture]
    if arm.gesture == "follow" and arm.side is not Foot.BOTH:
        return row.written if written else f"{arm.side.word} hand"
    toward = {D.APART: "out", D.UP: "up"}.get(arm.toward, SHORT.get(arm.toward, "")) if arm.toward else ""
    word = f"{row.written}{_patted(arm)}" if written else row.word
    said = f"{word} {toward}" if toward and arm.toward in row.says else word
    alone = len(arms) == 1 and arm.side is not Foot.BOTH and not said.endswith((" left", " right"))
    return f"{said} {arm.side.word}" if alone else said


def _patted(arm: ArmMove) -> str:
    """Where hands pat: " thighs"; "" for other gestures."""
    if arm.gesture != "pat" or arm.place is None:
        return ""
    return f" {arm.place}{'s' if arm.side is Foot.BOTH and arm.place in PAIRED else ''}"


def _on(actions: Sequence[Action], count: int) -> list[Action]:
    return [action for action in actions if action.at.whole == count]


def _goes_on(action: Action, before: Sequence[Action]) -> bool:
    """True where the same foot only goes on with what it did on the count before, or nothing goes on being done."""
    return action.verb in LASTING and any(b.verb == action.verb and b.foot is action.foot for b in before)


def _hands_go_on(action: Action, before: Sequence[Action]) -> bool:
    """True where the hands only go on with what they did on the count before."""
    lasting = [arm for arm in action.arms if arm.gesture in LASTING_ARMS]
    return bool(lasting) and any(lasting == [a for a in b.arms if a.gesture in LASTING_ARMS] for b in before)


def _quiet(action: Action) -> bool:
    """True where hands only come to rest while a foot moves: the foot is called."""
    return action.foot is not None and all(arm.gesture in QUIET_ARMS for arm in action.arms)


def _pressing(action: Action, actions: Sequence[Action]) -> str:
    """The foot's name where a foot that is home already is set down at home; "" elsewhere."""
    if action.verb != "step" or action.dir is not D.CENTRE or action.foot in (None, Foot.BOTH):
        return ""
    own = [other for other in actions if other.foot in (action.foot, Foot.BOTH) and other.at < action.at]
    at_home = not own or own[-1].dir in AT_HOME
    return action.foot.word if at_home and action.foot else ""


def _coming_back(action: Action, actions: Sequence[Action]) -> str:
    """ "home" or "down" where the foot that moved last comes back; "" elsewhere."""
    moved = [other for other in actions if other.foot is not None and other.at < action.at]
    last = moved[-1] if moved else None
    if last is None or action.verb != "step" or last.foot is not action.foot or action.foot is None:
        return ""
    if action.dir in AT_HOME and VERB[last.verb].lifts:
        return "down"
    return "home" if action.dir in (D.TOGETHER, D.CENTRE) and not action.turn_deg else ""


def cue_for(actions: Sequence[Action], count: int, *, arms: bool = False, per_section: int = 8) -> str:
    """Return what is said on a whole count of these actions.

    ``arms``: the hands are being learned, so their words come before those of the feet. What only goes on (a circle, a
    hold) is counted instead of named again.
    """
    here, before = _on(actions, count), _on(actions, count - 1)
    if not here:
        return count_word(count, per_section=per_section)
    first = here[0]
    hands = "" if _hands_go_on(first, before) or _quiet(first) else arm_phrase(first.arms)
    said = hands if arms or first.foot is None else ""
    if not said and not _goes_on(first, before) and not (arms and _hands_go_on(first, before)):
        said = _pressing(first, actions) or _coming_back(first, actions) or foot_words(first)
    said = said or count_word(count, per_section=per_section)
    return f"{said} {AND}" if len([a for a in here if a.at.at.denominator > 1 and a.foot]) else said


def with_foot(words: str, actions: Sequence[Action], count: int) -> str:
    """Return the cue of a count with its foot, "heel right", where the words leave open which foot moves.

    A step to the side or across says enough by its direction, and a foot that comes home has just been named.
    """
    here = [action for action in _on(actions, count) if action.foot in (Foot.LEFT, Foot.RIGHT)]
    if not here or here[0].foot is None or VERB[here[0].verb].takes_weight:
        return words
    first = here[0]
    aside = first.dir in (*SIDEWAYS, D.ACROSS_FRONT, D.ACROSS_BEHIND)
    if aside or words != foot_words(first) or words.endswith(("right", "left", "touch")):
        return words
    return f"{words} {here[0].foot.word}"


def short_cue(words: str) -> str:
    """Return a shorter way to say a cue that is too long for its count: the turn alone, or without the word "step".

    >>> short_cue("step forward right")
    'forward right'
    """
    for turn in ("quarter", "half", "an eighth", "three quarters", "full turn"):
        if f" {turn} " in words:
            return words[words.index(turn) :]
    return words.removeprefix("step ")


def shown_for(actions: Sequence[Action], count: int) -> str:
    """Return what is written for a count: "right heel, clap"; the foot is always named."""
    said = [_shown(action, _coming_back(action, actions)) for action in _on(actions, count)]
    return " & ".join(words for words in said if words)


def _shown(action: Action, back: str) -> str:
    feet = back or _written_feet(action)
    named = feet.split(" ") if VERB[action.verb].takes_weight else feet.split(" ")[:1]
    if action.foot in (Foot.LEFT, Foot.RIGHT) and action.foot.word not in named:
        feet = f"{action.foot.word} {feet}"
    hands = arm_phrase(action.arms, written=True)
    if action.verb == "hold" and hands:
        return hands
    return ", ".join(words for words in (feet, hands) if words)


def _written_feet(action: Action) -> str:
    """The words for a foot as they are written: where it goes is always named, for nobody says it.

    A foot that goes to its own side goes "to side", so that the one word for a side is the foot's.
    """
    words, foot = foot_words(action), action.foot
    if words in (Foot.LEFT.word, Foot.RIGHT.word):
        return f"{words} step in place"
    if foot not in (Foot.LEFT, Foot.RIGHT) or action.dir is None or VERB[action.verb].takes_weight:
        return words
    own = D.RIGHT if foot is Foot.RIGHT else D.LEFT
    where = SHORT[action.dir] if action.dir in SHORT and action.dir not in (*AT_HOME, D.UP, D.DOWN) else ""
    if action.dir is own and words.endswith(f" {where}"):
        return f"{words.removesuffix(f' {where}')} to side"
    return words if not where or where in words.split(" ") or action.turn_deg else f"{words} {where}"
