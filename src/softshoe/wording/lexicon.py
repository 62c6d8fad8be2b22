"""The words the reader knows, one entry a verb, pattern or gesture: what it means, counts, weight, how it is written.

All of it is taken from the tables of the ground and of the wording; ``page`` is the vocabulary page of the documents.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING

from softshoe.dance.action import Action
from softshoe.dance.arms import GESTURES, ArmMove
from softshoe.dance.counts import Count
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.footwork import danced
from softshoe.dance.patterns import patterns
from softshoe.dance.places import Direction
from softshoe.dance.verbs import VERBS
from softshoe.errors import nearest
from softshoe.wording.reading_patterns import read_patterns, steps_of
from softshoe.wording.tongue import LANGUAGES
from softshoe.wording.vocabulary import key, table
from softshoe.wording.write_book import book
from softshoe.wording.write_hands import hands_words
from softshoe.wording.write_names import step_of
from softshoe.wording.write_words import feet_of

if TYPE_CHECKING:
    from softshoe.dance.arms import Gesture
    from softshoe.dance.verbs import Verb

KINDS = {"foot": "What feet do", "pattern": "Named patterns", "hand": "What hands do"}
BEARS = {
    "foot": "takes the weight", "both": "weight on both", "same": "no weight", "said": "weight as the words say",
}  # fmt: skip
MOST_ALSO = 14


@dataclass(frozen=True, slots=True)
class Entry:
    """One word: ``facts`` are (name, words), ``steps`` the lines of a pattern, ``also`` other words for it."""

    name: str
    kind: str
    meaning: str
    facts: tuple[tuple[str, str], ...]
    steps: tuple[str, ...] = ()
    also: tuple[str, ...] = ()


@lru_cache(maxsize=1)
def entries() -> tuple[Entry, ...]:
    """Return every verb, pattern and gesture that can be read."""
    feet = [_verb(verb) for verb in VERBS if verb.name != "arms"]
    return (*feet, *(_pattern(name) for name in read_patterns()), *(_gesture(g) for g in GESTURES))


def look_up(word: str) -> tuple[tuple[Entry, ...], str | None]:
    """Return the entries that a word or phrase may mean; where there is none, the known word nearest to it.

    >>> [entry.name for entry in look_up("coaster")[0]], look_up("coastr")[1]
    (['coaster step'], 'coaster')
    """
    asked = key(word)
    known = {name: entry for entry in entries() for name in map(key, (entry.name, *entry.also))}
    found = tuple(e for e in entries() if asked in map(key, (e.name, *e.also)))
    return found, None if found else nearest(word.casefold(), sorted(" ".join(name) for name in known), cutoff=0.7)


def _words(kinds: tuple[str, ...], value: str) -> tuple[str, ...]:
    """Return the words of the reader's rows of these kinds and this value, without repetition."""
    rows = [row for row in table("words.csv") if row["kind"] in kinds and row["value"] == value]
    return tuple(dict.fromkeys(row["word"] for row in rows))


def _verb(verb: Verb) -> Entry:
    place = verb.home or (None if verb.name == "hold" else Direction.RIGHT)
    foot = None if verb.name in ("hold", "bump") else Foot.BOTH if verb.weight in ("both", "said") else Foot.RIGHT
    action = Action(Count(Fraction(1)), foot, verb.name, place, 180 if verb.name in ("pivot", "turn", "unwind") else 0)
    facts = [("afterwards", BEARS[verb.weight]), ("usual place", verb.home.value if verb.home else "is said")]
    facts += [(LANGUAGES[code], feet_of(action, book(code, "sentences"))) for code in LANGUAGES]
    also = tuple(word for word in _words(("verb", "dual"), verb.name) if word != verb.name)
    return Entry(verb.name, "foot", verb.meaning, tuple(facts), also=also)


def _pattern(name: str) -> Entry:
    pattern, english = read_patterns()[name], book("en", "sentences")
    actions = _danced(name)
    steps = tuple(f"{_label(a.at)}  {feet_of(a, english)}" for a in actions)
    bears = danced(actions, weight=Weight.LEFT)[-1].weight
    ends = {Weight.RIGHT: "weight on the leading foot", Weight.LEFT: "weight on the other foot"}
    facts = [("counts", str(max(a.at.whole for a in actions))), ("afterwards", ends.get(bears, "weight on both"))]
    turns = [part for rule, part in ((pattern.quarter, "a quarter"), (pattern.half, "a half")) if rule]
    facts += [("may turn", " or ".join(turns))] if turns else []
    words = [row["word"] for row in table("pattern_words.csv") if row["name"] == name]
    also = tuple(word for word in words if word != name)
    note = patterns()[name].note if name in patterns() else ""
    return Entry(name, "pattern", note, tuple(facts), steps, also)


def _danced(name: str) -> tuple[Action, ...]:
    """Return a pattern as a leading right foot dances it; what may go anywhere goes its usual way, else forward."""
    pattern = read_patterns()[name]
    code = steps_of(name, closed=bool(pattern.closing), lead="R", turn_deg=0, spin=0)
    way = {"side": "right", "": "forward"}.get(pattern.travel, pattern.travel)
    goes = any(step.place == "any" for step in code)
    done = [step_of(step, way if goes else "") for step in code]
    return tuple(Action(Count(step.at + 1), step.foot, step.verb, step.dir, step.turn_deg) for step in done)


def _gesture(gesture: Gesture) -> Entry:
    move = ArmMove(Foot.BOTH, gesture.name)
    facts = [("written", "on every count it lasts" if gesture.lasting else "once, where it is reached")]
    facts += [(LANGUAGES[code], hands_words((move,), book(code, "sentences"))) for code in LANGUAGES]
    also = tuple(word for word in _words(("gest", "dual"), gesture.name) if word != gesture.name)
    return Entry(gesture.name, "hand", gesture.meaning, tuple(facts), also=also)


def _label(at: Count) -> str:
    return f"&{at.whole + 1}" if at.whole < 1 else at.label


def page() -> str:
    """Return the vocabulary page, in Markdown."""
    out = ["# Vocabulary", "", PREFACE]
    for kind, title in KINDS.items():
        out += ["", f"## {title}", ""]
        rows = [entry for entry in entries() if entry.kind == kind]
        out += _patterns(rows) if kind == "pattern" else _table(rows)
    return "\n".join(out) + "\n"


PREFACE = """Every verb, named pattern and gesture that can be read, made from the tables by `softshoe words --page`.
One word at a time: `softshoe words coaster`. The steps of a pattern are those of a leading right foot, with its usual
close (common practice, no source). German, French and Spanish are checked by machine alone."""


def _table(rows: list[Entry]) -> list[str]:
    """Return a table of verbs or gestures: what they mean, what is said of them, how they are written and read."""
    first = [name for name, _ in rows[0].facts]
    out = [f"| word | meaning | {' | '.join(first)} | also read |", "|---" * (len(first) + 3) + "|"]
    for entry in rows:
        cells = [words for _, words in entry.facts]
        out.append(f"| **{entry.name}** | {entry.meaning} | {' | '.join(cells)} | {_also(entry)} |")
    return out


def _patterns(rows: list[Entry]) -> list[str]:
    out = ["| pattern | counts | steps | afterwards | may turn | also read |", "|---|---|---|---|---|---|"]
    for entry in rows:
        facts = dict(entry.facts)
        steps = "<br>".join(entry.steps)
        out.append(f"| **{entry.name}** | {facts['counts']} | {steps} | {facts['afterwards']} | "
                   f"{facts.get('may turn', '')} | {_also(entry)} |")  # fmt: skip
    return out


def _also(entry: Entry) -> str:
    more = ", …" if len(entry.also) > MOST_ALSO else ""
    return ", ".join(entry.also[:MOST_ALSO]) + more
