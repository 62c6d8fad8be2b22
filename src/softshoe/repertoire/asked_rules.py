"""The rules by which a query's words become conditions, tried in this order at every place of the query."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from softshoe.dance.dance import LEVELS
from softshoe.errors import nearest
from softshoe.repertoire.asked import Condition, phrase_of
from softshoe.repertoire.asked_days import days_of
from softshoe.repertoire.plain import words_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from softshoe.repertoire.asked import Field, Reading

NUMBERS = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "sixteen": 16,
    "twenty-four": 24, "thirty-two": 32, "forty-eight": 48, "sixty-four": 64,
}  # fmt: skip
N = rf"(?P<n>\d{{1,3}}(?:\.\d+)?|{'|'.join(sorted(NUMBERS, key=len, reverse=True))})"
MOST = "under|below|at most|up to|not over|no more than|less than|fewer than|slower than|max(?:imum)?|<=?|until"
LEAST = "over|above|at least|not under|no less than|more than|faster than|min(?:imum)?|from|>=?"
BEATS = r"(?: ?(?:bpm|beats(?: a| per)? ?(?:minute|min)?|beats))"
AROUND = 0.06  # share by which a tempo "around" a number may differ


def _compiled(words: str) -> re.Pattern[str]:
    return re.compile(words, re.IGNORECASE)


def number(said: str) -> float:
    """Return a number written in digits or in a word."""
    return float(NUMBERS.get(said.casefold(), 0) or said)


def _range(reading: Reading, field: Field, low: float | None, high: float | None, said: str) -> bool:
    return reading.put("conditions", Condition(field, low, high, said=said))


UNITS: tuple[tuple[Field, str], ...] = (
    ("counts", r"[ -]?counts?"), ("walls", r"[ -]?walls?"), ("tempo", f"{BEATS}?"),
)  # fmt: skip
LIMITED: dict[Field, tuple[re.Pattern[str], re.Pattern[str], re.Pattern[str]]] = {
    field: (_compiled(rf"(?P<most>{MOST}) {N}{unit}"), _compiled(rf"(?P<least>{LEAST}) {N}{unit}"),
            _compiled(rf"{N} ?(?:-|–|to) ?(?P<m>\d{{1,3}}){unit}"))
    for field, unit in UNITS
}  # fmt: skip
OVER = ("less than", "fewer than", "under", "below", "slower than", "<")
STRICT_LEAST = ("more than", "over", "above", "faster than", ">")


def _limited(reading: Reading) -> bool:
    """ "Under 110", "at most 32 counts", "100 to 112 bpm". Tempo has no halves, counts and walls are whole."""
    for field, (most, least, between) in LIMITED.items():
        if found := reading.take(most):
            edge = number(found["n"]) - (1 if field != "tempo" and found["most"].casefold() in OVER else 0)
            return _range(reading, field, None, edge, found.group())
        if found := reading.take(least):
            edge = number(found["n"]) + (1 if field != "tempo" and found["least"].casefold() in STRICT_LEAST else 0)
            return _range(reading, field, edge, None, found.group())
        if found := reading.take(between):
            return _range(reading, field, number(found["n"]), float(found["m"]), found.group())
    return False


COUNTS, WALLS = _compiled(rf"{N}[ -]?counts?"), _compiled(rf"{N}[ -]?walls?")
TEMPO = _compiled(rf"(?:(?P<around>around|about|near|at|~) ?{N}{BEATS}?|(?P<m>\d{{2,3}}){BEATS})")


def _exact(reading: Reading) -> bool:
    """ "32 counts", "two walls", "110 bpm", "around 100"."""
    if found := reading.take(COUNTS):
        return _range(reading, "counts", number(found["n"]), number(found["n"]), found.group())
    if found := reading.take(WALLS):
        return _range(reading, "walls", number(found["n"]), number(found["n"]), found.group())
    if found := reading.take(TEMPO):
        bpm, slack = number(found["n"] or found["m"]), 1 + AROUND
        return _range(reading, "tempo", round(bpm / slack, 1), round(bpm * slack, 1), found.group())
    return False


LEVEL = _compiled(rf"(?P<how>{MOST}|{LEAST})? ?(?P<level>{'|'.join(LEVELS)})s?(?: level)?")
METRE = _compiled(r"(?:in )?(?P<metre>waltz(?:es)?|3/4|4/4|6/8|2/4)(?: time)?")
PLAIN: tuple[tuple[re.Pattern[str], Field, float | None, float | None], ...] = (
    (_compiled(r"(?:seated|sitting|on (?:a )?chairs?|chair dances?)"), "seated", 1, 1),
    (_compiled(r"(?:standing|on (?:your|their) feet)"), "seated", 0, 0),
    (_compiled(r"(?:two|several|different) texts|unsettled"), "heads", 2, None),
    (_compiled(r"(?:to mend|with (?:errors|faults)|faulty)"), "errors", 1, None),
    (_compiled(r"(?:sound|without (?:errors|faults)|no (?:errors|faults))"), "errors", None, 0),
)


def _header(reading: Reading) -> bool:
    """ "Beginner", "up to improver", "waltz", "seated", "to mend"."""
    if found := reading.take(LEVEL):
        at = float([str(level) for level in LEVELS].index(found["level"].casefold()))
        how = (found["how"] or "").casefold()
        low: float | None = None if how and re.fullmatch(MOST, how) else at
        high = None if how and not re.fullmatch(MOST, how) else at
        return _range(reading, "level", low, high, found.group())
    if found := reading.take(METRE):
        metre = found["metre"].casefold()
        name = "3/4" if metre.startswith("waltz") else metre
        return reading.put("conditions", Condition("metre", names=frozenset({name}), said=found.group()))
    for pattern, field, low, high in PLAIN:
        if found := reading.take(pattern):
            return _range(reading, field, low, high, found.group())
    return False


WITH = _compiled(r"(?:has|have|having|with|contains?|containing|includes?|including) (?:an? |the |some |any )?")
WITHOUT = _compiled(r"(?:has no|have no|with no|without|no|not?|never) (?:an? |any )?")
MEASURES: tuple[tuple[re.Pattern[str], Field, float], ...] = (
    (_compiled(r"half turns?"), "biggest_turn", 180), (_compiled(r"full turns?"), "biggest_turn", 360),
    (_compiled(r"quarter turns?"), "biggest_turn", 90), (_compiled(r"turns?|turning"), "turning", 1),
    (_compiled(r"tags?|bridges?"), "tags", 1), (_compiled(r"restarts?"), "restarts", 1),
    (_compiled(r"endings?"), "endings", 1), (_compiled(r"arms?|hands?|arm movements?"), "arms", 1),
)  # fmt: skip


def _having(reading: Reading) -> bool:
    """ "Has a Monterey", "no turns", "without claps"; "no" before what is no step wants sheets without that word."""
    before = reading.left
    holds = True
    if reading.take(WITHOUT):
        holds = False
    elif not reading.take(WITH):
        return False
    if any(rule(reading, before, holds=holds) for rule in (_measure, _step, _slip)):
        return True
    if holds:
        reading.left = before
        return False
    words = phrase_of(reading)
    return reading.put("without", words) if words else True


def _measure(reading: Reading, before: str, *, holds: bool) -> bool:
    for pattern, field, least in MEASURES:
        if reading.take(pattern):
            said = before[: len(before) - len(reading.left)]
            return _range(reading, field, least if holds else None, None if holds else least - 1, said)
    return False


def _step(reading: Reading, before: str, *, holds: bool) -> bool:
    """Take the longest run of words that names a step."""
    from softshoe.repertoire.facts import LONGEST_NAME, steps_named

    ends = [found.end() for found in re.finditer(r"[^\s,;]+", reading.left)][:LONGEST_NAME]
    for end in reversed(ends):
        phrase = reading.left[:end]
        if "," not in phrase and ";" not in phrase and (names := steps_named(tuple(words_of(phrase)))):
            reading.left = reading.left[end:]
            said = before[: len(before) - len(reading.left)]
            return reading.put("conditions", Condition("step", names=names, holds=holds, said=said))
    return False


def _slip(reading: Reading, before: str, *, holds: bool) -> bool:
    """A misspelled step, where a step was asked for by "has" or "no"."""
    from softshoe.repertoire.facts import step_words, steps_named

    found = re.match(r"[^\s,;]{4,}", reading.left)
    word = "".join(words_of(found.group())) if found else ""
    near = nearest(word, [phrase[0] for phrase in step_words() if len(phrase) == 1], cutoff=0.8) if word else None
    if found is None or near is None:
        return False
    reading.left = reading.left[found.end() :]
    said = before[: len(before) - len(reading.left)]
    reading.put("told", f"no step is called “{word}”: looked for “{near}”")
    return reading.put("conditions", Condition("step", names=steps_named((near,)), holds=holds, said=said))


LABEL = _compiled(r'(?:#|label(?:led)? )(?P<label>"[^"]+"|[^\s,;#]+)')
TITLE = _compiled(r"(?:called|titled?|named) ")
FITS = _compiled(r"(?:that )?(?:fits?|fitting|goes? with|goes? to|suits?)(?: the)?(?: song)? (?P<song>.+)$")
DANCED = _compiled(r"(?P<no>not |never |un)?danced")


def _named(reading: Reading) -> bool:
    """ "#christmas", "called Lantern Street", "fits Copper Kettle"."""
    if found := reading.take(LABEL):
        name = " ".join(words_of(found["label"]))
        return reading.put("conditions", Condition("label", names=frozenset({name}), said=found.group()))
    if reading.take(TITLE):
        words = phrase_of(reading)
        return reading.put("title", words) if words else True
    if found := reading.take(FITS):
        reading.song = found["song"].strip(' "')
        return True
    return False


def _danced(reading: Reading) -> bool:
    """ "Danced last month", "not danced since May", "never danced"."""
    before = reading.left
    found = reading.take(DANCED)
    if not found:
        return False
    low, high, rest = days_of(reading.left, today=reading.today)
    reading.left = rest
    said = before[: len(before) - len(rest)].strip()
    return reading.put("conditions", Condition("danced", low, high, holds=not found["no"], said=said))


RULES: tuple[Callable[[Reading], bool], ...] = (_named, _danced, _header, _limited, _exact, _having)
