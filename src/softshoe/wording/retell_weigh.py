"""Rules or network: which of two readings of a section is taken, and when neither.

Sections by writers that neither had met decide: where the network is SURE and the rules read otherwise, it was right
five times of six, the rules once of seven; where it is not, neither was right half of the time. What the author has to
mend is never mended for her: a count that no line has, a foot left out, a word that nobody knows.
"""

from __future__ import annotations

import re
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING, Any, NamedTuple

from softshoe.dance.document import arm_json
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from softshoe.dance.action import Action
    from softshoe.dance.dance import Dance, Section
    from softshoe.errors import Finding
    from softshoe.wording.retell_ask import Answer, Words

    Json = Mapping[str, Any]

SURE = 0.8  # the least likely of all codes of a section
OPEN = 0.5  # from here on another reading is told
CERTAIN = 0.95
HOME = ("together", "centre", "in place")
DOWN = {"rest": "lower"}
LEFT_OUT = frozenset(("foot-missing", "direction-missing", "side", "seated", "arms"))
SEEN_AGAIN = frozenset(("side", "seated"))  # told again of what the network tells, if it was the author's slip
CONTRARY = LEFT_OUT | {"word"}
QUOTED = shape(r"“([^”]*)”")
WORD = shape(r"[^\W\d_]{3,}")
LABELLED = shape(r"^\W*(?:on )?(?:counts? )?(\d+)(?:\s*[-–]\s*(\d+))?")
COUNTED = shape(r"^\W*(?:on )?(?:(?:counts?|cts?) )?(?:\d+|one|two|three|four|five|six|seven|eight)\b", re.IGNORECASE)
HALVES = shape(
    r"[&+½]|\d\s*,?\s*(?:and|a|e)\b|\band\s+\d|(?:one|two|three|four|five|six|seven|eight)[\s-]+(?:and|a)\b|"
    r"\b(?:quick|quickly|half counts?)\b",
    re.IGNORECASE,
)
LIMB = shape(r"^\W*(?:arms?|hands?|feet|foot)\b\W", re.IGNORECASE)
NUMBER = shape(r"(?<![\d.:/])\d{1,2}(?![\d:/])")
NAMED = shape(r"(?<![\w.:/])(\d{1,2})(?:\s*(?:-|–|—|to|&|and|,)\s*(\d{1,2}))?(?![\d:/])")
MOST_OF_RANGE = 16
MEANT = "Did you mean"
STOPS = shape(r"\bstops after (\d+)\b")
BESIDE = 2  # lines without counts: a heading above, a remark below
MOST_TOLD = 4  # counts
SIGN = shape(r"\s*,?\s*(?:[&+½]|and\b|a\b|e\b)", re.IGNORECASE)
ELSEWHERE = shape(
    r"\b(?:section|part|round|set|verse|chorus|block|stretch|figure|line|phrase|bar)s?\s+"
    r"(?:\d|[a-h]\b|one|two|three|four|five|six)",
    re.IGNORECASE,
)


LOOKS_BACK = shape(
    r"\b(?:same|again|repeat\w*|rpt|other|mirror\w*|opposite|chang\w*|before|above|likewise|swap\w*|switch\w*|ditto|"
    r"reverse\w*|once more|another|earlier|back to|like|as|still|instead|this time|those|these|section|part|"
    r"finish with)\b",
    re.IGNORECASE,
)


TIMES = shape(
    r"\b(?:twice|thrice|times|x ?\d|\d ?x|both|each|every|slow\w*|(?:two|2) (?:counts|beats))\b", re.IGNORECASE
)


class Doubt(NamedTuple):
    """A section that both read otherwise, and how the rules fared with it."""

    words: Words
    answer: Answer
    amiss: tuple[Finding, ...]
    known: frozenset[str]  # words that the network was taught
    rules: tuple[Json, ...] = ()  # what the rules read, from the section's first count


def shade(event: Json) -> tuple[object, ...]:
    """Return what two tellings of one event share: a foot that comes home is home in any word, hands at rest low."""
    way = event["dir"]
    if event["action"] in ("step", "touch", "stomp") and way in HOME:
        way = "home"
    verb = "touch" if event["action"] == "point" else event["action"]
    hands = tuple(sorted((arm["side"], DOWN.get(arm["gesture"], arm["gesture"])) for arm in event["arms"]))
    return str(event["t"]), event["foot"], verb, way, event["turn"], hands


def events_in(dance: Dance, section: Section) -> list[Json]:
    """Return the events of a section from its own first count, as far as two readings of it are compared."""
    return events_between(dance, section.start.at, section.start.at + section.length.n)


def events_between(dance: Dance, start: Fraction, end: Fraction) -> list[Json]:
    """Return the events from one moment on and before another, counted from the first."""
    return events_in_actions([a for a in dance.actions if start <= a.at.at < end], start)


def events_in_actions(actions: Iterable[Action], start: Fraction | int) -> list[Json]:
    """Return actions as events that are counted from a moment."""
    return [
        {
            "t": a.at.at - start,
            "foot": a.foot.value if a.foot else None,
            "action": a.verb,
            "dir": a.dir.value if a.dir else None,
            "turn": a.turn_deg,
            "arms": [arm_json(arm) for arm in a.arms],
        }
        for a in actions
    ]


def alike(one: Sequence[Json], other: Sequence[Json]) -> bool:
    """Return whether two tellings of a section are the same but for a shade."""
    return sorted(map(str, map(shade, one))) == sorted(map(str, map(shade, other)))


def is_taken(doubt: Doubt, *, whole: bool = False) -> bool:
    """Return whether the network's reading of a section is taken; ``whole``: it has read all of the sheet."""
    if whole:
        return doubt.answer.sure >= SURE and not any(slip(doubt) for slip in SLIPS_WHOLE)
    enough = CERTAIN if is_the_rules(doubt.words, doubt.amiss) else SURE
    return doubt.answer.sure >= enough and not any(slip(doubt) for slip in SLIPS)


def stands_open(doubt: Doubt) -> bool:
    """Return whether the network's reading, not taken, is worth telling."""
    return not doubt.amiss and doubt.answer.sure >= OPEN and not any(slip(doubt) for slip in SLIPS)


def _strange(doubt: Doubt) -> bool:
    """Rules met a word that the network was never taught."""
    known = doubt.known
    told = [f for f in doubt.amiss if f.kind in ("word", "unread")]
    said = [w.casefold() for f in told for part in QUOTED.findall(f.message) for w in WORD.findall(part)]
    return bool(known) and any(word not in known for word in said)


def gap(doubt: Doubt) -> bool:
    """The counts before the lines leave one out, or have one twice, or end elsewhere; or a line stands there twice."""
    lines = doubt.words.text.split("\n")
    if any(f.kind == "count-twice" for f in doubt.amiss) and any(map(str.__eq__, lines, lines[1:])):
        return True
    if not any(f.kind in ("count-missing", "count-twice", "section-length") for f in doubt.amiss):
        return False
    found = [LABELLED.match(line) for line in lines]
    rows = [(int(m[1]), _last_told(line, int(m[2] or m[1]))) for m, line in zip(found, lines, strict=True) if m]
    if len(rows) < 2:
        return False
    gaps = any(two[0] != one[1] + 1 for one, two in pairwise(rows))
    return gaps or (rows[-1][1] != doubt.answer.counts and len(found) - len(rows) <= BESIDE)


def _last_told(line: str, count: int) -> int:
    """Return the last of the counts that a line tells from one of its own on: "1 heel . 2 . 3 wait" tells three."""
    told = {int(n) for n in NUMBER.findall(line)}
    while count + 1 in told:
        count += 1
    return count


def misspelt(doubt: Doubt) -> bool:
    """A word that is nearly a step's own: its author means another."""
    return any(f.kind == "word" and (f.mend or "").startswith(MEANT) for f in doubt.amiss)


def _written_so(doubt: Doubt) -> bool:
    """A foot that bears moves, or a count comes twice, where nearly every line has its counts: so it was written."""
    lines = doubt.words.text.split("\n")
    counted = sum(COUNTED.match(line) is not None for line in lines)
    return (
        any(f.kind in ("weight", "count-twice") for f in doubt.amiss) and len(lines) - counted <= BESIDE < 2 * counted
    )


def untold(doubt: Doubt) -> bool:
    """Nearly all counts are named, and one of those that the network fills is not: the author left it out."""
    if not any(f.kind in ("count-missing", "section-length") for f in doubt.amiss):
        return False
    named: set[int] = set()
    for found in NAMED.finditer(doubt.words.text):
        first, last = int(found[1]), int(found[2] or found[1])
        named |= set(range(first, min(last, first + MOST_OF_RANGE) + 1))
    filled = set(range(1, doubt.answer.counts + 1))
    return bool(filled - named) and len(filled & named) > len(filled) / 2


def filled_up(doubt: Doubt) -> bool:
    """All words were read and agree with the network, which only adds counts behind them: the section is too short."""
    stops = next((m for f in doubt.amiss if f.kind == "section-length" and (m := STOPS.search(f.message))), None)
    if stops is None or any(f.kind in ("word", "unread") for f in doubt.amiss):
        return False
    told, read = ([e for e in one if Fraction(e["t"]) < int(stops[1])] for one in (doubt.answer.events, doubt.rules))
    asks = LOOKS_BACK.search(doubt.words.text) or TIMES.search(doubt.words.text)
    return not asks and bool(read) and alike(told, read) and not _has_words(doubt, int(stops[1]))


def _has_words(doubt: Doubt, counts: int) -> bool:
    """Return whether one of the counts behind so many was told of words of its own."""
    begin, end = doubt.words.span
    spans = {n: place.span for n, place in doubt.answer.places.items() if place.span[1] - place.span[0] < end - begin}
    before = [span for n, span in spans.items() if n <= counts]
    behind = [span for n, span in spans.items() if n > counts]
    return any(all(one[1] <= other[0] or other[1] <= one[0] for other in before) for one in behind)


def is_the_rules(words: Words, amiss: Sequence[Finding]) -> bool:
    """Return whether every line has its counts before it and no word is strange: rules are seldom wrong there."""
    strange = any(f.kind in ("word", "unread") for f in amiss)
    return not strange and all(COUNTED.match(line) or LIMB.match(line) for line in words.text.split("\n"))


def _miscounted(doubt: Doubt) -> bool:
    """A line with its counts before it has more or fewer movements than these."""
    lines = {f.line for f in doubt.amiss if f.kind == "steps-per-count"}
    said = zip((number for _, _, number in doubt.words.lines), doubt.words.text.split("\n"), strict=True)
    return any(number in lines and COUNTED.match(line) is not None and not _told_within(line) for number, line in said)


def _told_within(line: str) -> bool:
    """Return whether a line tells most of its counts behind their range: "1-8 rock side 1, recover 2, behind 3 & …"."""
    found = LABELLED.match(line)
    return found is not None and len(NUMBER.findall(line[found.end() :])) >= MOST_TOLD


def unsigned(doubt: Doubt) -> bool:
    """Half counts that no sign tells: behind their number where it stands, else on the line where they were told."""
    answer, words = doubt.answer, doubt.words
    said = dict(zip((number for _, _, number in words.lines), words.text.split("\n"), strict=True))
    halves = {int(Fraction(e["t"])) + 1 for e in answer.events if Fraction(e["t"]).denominator > 1}
    return any(not _signed(n, words.text, said[answer.places[n].line]) for n in halves)


def _signed(count: int, text: str, line: str) -> bool:
    there = [m.end() for m in NUMBER.finditer(text) if int(m[0]) == count]
    return any(SIGN.match(text, end) for end in there) if there else HALVES.search(line) is not None


def _filled_in(doubt: Doubt) -> bool:
    """All words were understood, and what is missing or can't be is the author's to mend."""
    kinds = {f.kind for f in doubt.amiss}
    if kinds and kinds <= SEEN_AGAIN and doubt.answer.sure >= CERTAIN:
        return False
    return bool(kinds) and ("arms" in kinds or kinds <= LEFT_OUT or (kinds <= CONTRARY and doubt.answer.sure < CERTAIN))


def _unsaid(doubt: Doubt) -> bool:
    """What is missing is the author's to mend, unless the very words send the dancer back to where it is told."""
    kinds = {f.kind for f in doubt.amiss}
    if "arms" in kinds or ("steps-per-count" in kinds and unsigned(doubt)):
        return True
    lines = {number: line for (_, _, number), line in zip(doubt.words.lines, doubt.words.text.split("\n"), strict=True)}
    left_out = [lines.get(f.line or 0, "") for f in doubt.amiss if f.kind in LEFT_OUT]
    if any(LOOKS_BACK.search(line) is None for line in left_out):
        return True
    return LOOKS_BACK.search(doubt.words.text) is None and (_filled_in(doubt) or unsigned(doubt))


def _elsewhere(doubt: Doubt) -> bool:
    """Words that speak of another section."""
    return bool(ELSEWHERE.search(doubt.words.text))


def _theirs(doubt: Doubt) -> bool:
    """Between the counts, and where it turns, rules that found nothing amiss are right more often."""
    if doubt.amiss or (doubt.answer.sure >= CERTAIN and not is_the_rules(doubt.words, doubt.amiss)):
        return False
    told = (*doubt.rules, *doubt.answer.events)
    return any(e["turn"] or Fraction(e["t"]).denominator > 1 for e in told)


def _crossed(doubt: Doubt) -> bool:
    """A word names the other foot: it may be the author's slip."""
    return doubt.answer.crossed


WRITTEN = (_strange, misspelt, _written_so, gap, untold, filled_up, _miscounted)  # what the words themselves show
SLIPS = (*WRITTEN, unsigned, _filled_in, _elsewhere, _theirs, _crossed)
SLIPS_WHOLE = (*WRITTEN, _unsaid, _crossed)  # where all of the sheet was read
