"""What is other in a section that asks for another: "kick on 4", "no claps", "a clap at every touch".

Each clause changes some counts of the section asked for; where one can't be understood wholly, nothing is told.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from softshoe.wording.asks_clauses import WORD, Clause, clauses_of, is_filled
from softshoe.wording.asks_moves import ALL_HANDS, HOMES, MOVES, STEMS, TURNS, WAITING, WAYS, stem
from softshoe.wording.asks_rows import SIDED, STAY, Rows
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Iterable, Sequence

    from softshoe.wording.asks_rows import Step
    from softshoe.wording.whole_copies import Moment

MOST = 0.5  # of the counts: of more it is no longer the other section
ALL = r"(?:(?:the|any|both|all|two|its|your|of|a)\s+)*"
NOT = shape(
    r"\b(?:no|not|without(?: any)?|don['’]t|do not|leav\w+ out|drop\w*|skip\w*|omit\w*|miss\w* out|minus|never|nor|"
    r"forget)\s+"
    rf"{ALL}(?:left\s+|right\s+)?(?P<what>[a-z]+)(?:\s+any\s?more)?(?:\s+(?:at all|this time|anywhere))?",
    re.IGNORECASE,
)
OUT = shape(rf"{ALL}(?P<what>[a-z]+)\s+(?:is|are|stays?|go(?:es)?)\s+(?:left\s+)?(?:out|away)\b", re.IGNORECASE)
EACH = shape(
    r"\b(?:at|on|in|with|for|to|as|under|over)\s+(?:every|each|both|all|the)(?:\s+of)?(?:\s+the)?(?:\s+(?:two|three|four))?\s+"
    r"(?P<what>[a-z]+)\b(?:\s+(?:comes?|goes)\s+(?:home|in|back|down))?|"
    r"\b(?:each|every) time\s+(?:(?:you|the|a|it|your)\s+)*(?P<time>[a-z]+)(?:\s+(?:comes?|goes|is|lands?))?"
    r"(?:\s+(?P<way>home|in|back|down|together))?",
    re.IGNORECASE,
)
WHENEVER = shape(
    r"^\W*(?:and\s+)?(?:whenever|each time|every time|wherever)\s+"
    r"(?:you|we|they|it says|there is a|there's a|the foot|a foot|your foot)\s+(?:wants? to\s+)?(?P<what>[a-z]+)\W*$",
    re.IGNORECASE,
)
EVERY = shape(
    r"^\W*(?:(?:and|that|now)\s+)*(?:every|each|both|all)\s+(?:(?:of the|the|two)\s+)*(?P<what>[a-z]+)\s+"
    r"(?:is|are|goes?|becomes?|now)\s+(?:(?:now|made|done|danced|a|an|with the)\s+)*(?P<new>.+)",
    re.IGNORECASE,
)
EXCHANGED = tuple(
    shape(words, re.IGNORECASE)
    for words in (
        r"\b(?:swap\w*|chang\w+|replac\w+|exchang\w+|fill\w*|trad\w+)\s+(?P<old>.+?)\s+(?:for|with|by|into|to)\s+(?P<new>.+)",
        r"\bmake\s+(?:the|each|every|both|all)\s+(?P<old>[a-z]+)\s+(?:into\s+)?(?P<new>.+)",
        r"\bfor\s+[\"“](?P<old>[^\"”]+)[\"”]\s+(?:read|do|dance|say|use|put)\s+[\"“]?(?P<new>[^\"”]+)[\"”]?",
        r"(?P<old>.+?)\s+(?:becomes?|turns? into|is now|are now)\s+(?P<new>.+)",
    )
)
WAS = r"(?:it|you|we|they|there|the \w+ was|the \w+ were|\w+ was)\b"
INSTEAD = shape(
    rf"\b(?:instead of|in (?:the )?(?:place|stead) of|rather than|in lieu of|where(?=\s+{WAS})|where(?=\s+\w+ed\b)|"
    r"(?:and\s+)?not|(?:and\s+)?no longer)\s+(?:there\s+(?:was|were)\s+)?"
    r"(?:(?:the|an?|your|both|at|to|in|two|each|every|any|we|you|it|they|goes|go|went|first|second|"
    r"third|fourth|last|finger|fingers)\s+)*"
    r"(?P<old>[a-z]+)(?:\s+(?:was|were|is|are|stood|came|comes|"
    r"(?:to the |in |at the )?(?:forwards?|back|behind|sides?|up|front|together|beside|next to it))\b)*|\binstead\b",
    re.IGNORECASE,
)
ON_WHAT = shape(
    r"^\W*(?:(?:on|at|with)\s+(?:the|each|every|both)\s+[a-z]+|"
    r"(?:at\s+)?(?:shoulder|chest|head|waist)s?\s+(?:high|height|level))\W*$",
    re.IGNORECASE,
)
EXCEPTED = shape(
    r"\b(?:but|except(?:ing)?|apart from|save)\s+(?:for\s+)?(?:on\s+)?(?:the\s+|counts?\s+)*"
    r"(?:last|first|second|\d+)\W*$",
    re.IGNORECASE,
)
STEPPING = shape(r"^\W*(?:stepping|turning|crossing|putting|bringing)\b", re.IGNORECASE)
ONLY = shape(r"^\W*(?:a\s+|the\s+)?(?P<what>[a-z]+)\s+only\W*$", re.IGNORECASE)
KEPT = shape(
    r"\b(?:stays?|remains?|kept|keeps?|as (?:it|they) (?:was|were|is|are)|still|as before|unchanged|the same)\b",
    re.IGNORECASE,
)
WAY = shape(r"\b(?P<new>behind|backwards?|back|forwards?|front|sides?)\b(?:\s+you)?", re.IGNORECASE)
BECOMES = shape(
    r"^\W*(?:(?:and|all|every|what was)\s+)*(?P<old>forwards?|front|back|sides?|behind)\s+"
    r"(?:becomes?|is now|turns? into|is|goes|for)\s+(?:now\s+)?"
    r"(?P<new>backwards?|back|behind|forwards?|front|sides?)\W*$",
    re.IGNORECASE,
)
BACKWARDS = shape(
    r"^\W*(?:in which\s+|but\s+)?(?:what|where you|where it) went forward (?:goes|go|comes) back(?:wards)?"
    r"(?:,?\s*and\s+(?:what|where you|where it) went back (?:goes|go|comes) forward)?\W*$|"
    r"^\W*(?:and\s+)?(?:what|where you|where it) went back (?:goes|go|comes) forward\W*$|"
    r"^\W*(?:(?:and|but|now|all)\s+)*(?:backwards|(?:going|travelling|moving|walking)\s+back(?:wards)?)\W*$",
    re.IGNORECASE,
)
SIZE, SIZES = shape(r"\b(?:quarter|half)\b", re.IGNORECASE), {"quarter": 90, "half": 180}
SIDES = ("", " right diagonal", " left diagonal")
FRONTS, BACKS = (tuple(f"dir:{way}{side}" for side in SIDES) for way in ("forward", "back"))
AWAY = dict(zip(FRONTS + BACKS, BACKS + FRONTS, strict=True))
PARTS = frozenset(("toe", "heel"))
WAITS, DONE = "waits", "done"


def changed(words: str, moments: Iterable[Moment], step: Step, fillers: Collection[str]) -> list[Moment] | None:
    """Return the moments of the counts that words change; None where they can't be understood wholly."""
    rows = Rows(moments, step)
    if EXCEPTED.search(words):
        return None
    clauses = _in_order(clauses_of(words, rows.counts, rows.with_either))
    left: tuple[int, ...] = ()  # counts that a clause before told, with nothing to be done on them yet
    laid = Clause("")  # the clause before
    for k, clause in enumerate(clauses):
        if STAY.match(clause.words.casefold()) and not clause.counts and len(laid.counts) > 1:
            list(map(rows.wait, laid.counts[1:]))  # "throw the arms open and stay there"
            continue
        here, behind = _with_counts(rows, clauses[k:], left, laid, fillers)
        if clause.is_filled(fillers) or (laid.words and is_filled(INSTEAD.sub(" ", clause.words), fillers)):
            if not _says_again(clauses[k:], laid, fillers):
                left = (*left, *clause.counts)
                continue
            here = here._replace(words=laid.words)
        taken = _one(rows, here, fillers)
        if taken is None and not clause.is_talk:
            return None
        if taken is not None:
            left, laid = (here.counts if taken is WAITS else behind), here
    other = rows.changed()
    few = rows.free or len({moment.at[0] for moment in other}) <= MOST * rows.counts
    return other if few and not left and not rows.waiting else None


def _in_order(clauses: list[Clause]) -> list[Clause]:
    """Return "hitch, don't kick" as "don't kick, hitch"; "a clap, on the kick" and "turn left, stepping L" as one."""
    for k in range(len(clauses) - 1, 0, -1):
        one, two = clauses[k - 1 : k + 1]
        goes_on = STEPPING.match(two.words) if one.counts else ON_WHAT.match(two.words)
        if goes_on and not two.counts:
            clauses[k - 1 : k + 1] = [one._replace(words=f"{one.words} {two.words}")]
    if len(clauses) > 1:
        one, two = clauses[-2:]
        if not one.counts and not NOT.search(one.words) and NOT.match(two.words):
            return [*clauses[:-2], two, one]
    return clauses


def _with_counts(
    rows: Rows, clauses: Sequence[Clause], left: tuple[int, ...], laid: Clause, fillers: Collection[str]
) -> tuple[Clause, tuple[int, ...]]:
    """Return a clause with the counts that it is of, and the counts left for those behind it."""
    clause = clauses[0]
    if clause.counts:
        return clause, ()
    if len(left) > 1 and _in_a_row(clauses, fillers) == len(left):
        rows.alone = True  # "counts 7 and 8: stomp, clap"
        return clause._replace(counts=left[:1]), left[1:]
    if rows.waiting and not left and not clause.is_filled(fillers):
        counts, rows.waiting = rows.waiting, ()
        return clause._replace(counts=counts), ()
    return clause._replace(counts=left or (laid.counts if NOT.match(clause.words) else ())), ()


def _in_a_row(clauses: Sequence[Clause], fillers: Collection[str]) -> int:
    """Return how many clauses without counts follow each other."""
    told = [one for one in clauses if one.counts or not one.is_filled(fillers)]
    return next((k for k, one in enumerate(told) if one.counts), len(told))


def _says_again(clauses: Sequence[Clause], laid: Clause, fillers: Collection[str]) -> bool:
    """Return whether a clause of counts alone is of what was told before: "clap on 4 and on 8"."""
    clause, *behind = clauses
    ends = not behind or bool(behind[0].counts) or behind[0].is_filled(fillers)
    return bool(clause.counts and laid.words) and ends and not NOT.search(laid.words)


def _one(rows: Rows, clause: Clause, fillers: Collection[str]) -> str | None:
    """Change what one clause says.

    None where it can't be understood, WAITS where what is danced on its counts comes behind it.
    """
    if _is_kept(clause, fillers):
        return DONE
    for way in (_refused, _of_all, _exchanged, _instead, _each):
        taken = way(rows, clause, fillers)
        if taken is not None:
            return taken
    new = INSTEAD.sub(" ", clause.words, count=1)
    return DONE if rows.lay_on(new, clause.counts, alone=rows.alone) else None


def _is_kept(clause: Clause, fillers: Collection[str]) -> bool:
    """Return whether a clause only says that something is as it was: "the two claps stay", "5-8 unchanged"."""
    if not KEPT.search(clause.words):
        return False
    left = [word for word in WORD.findall(KEPT.sub(" ", clause.words)) if word.casefold() not in fillers]
    return not left if clause.counts else len(left) == 1 and stem(left[0]) in MOVES.union(ALL_HANDS)


def _refused(rows: Rows, clause: Clause, fillers: Collection[str]) -> str | None:
    """ "No claps", "no touch on 8", "clap on 4 only", "whenever you touch"."""
    words, counts = clause
    if (sole := ONLY.match(words)) and counts:
        rows.drop(sole["what"], [n for n in rows.rows if n not in counts])
        return DONE if rows.lay_on(sole["what"], counts) else None
    if when := WHENEVER.match(words):
        rows.free, rows.waiting = True, counts or tuple(rows.with_either(when["what"]))
        return DONE if rows.waiting else None
    gone = NOT.search(words) or OUT.search(words)
    if not gone or not is_filled(words.replace(gone[0], " "), fillers):
        return None
    if rows.drop(gone["what"], counts):
        return DONE
    there = rows.with_feet(gone["what"])
    if there and counts:
        return WAITS
    rows.waiting = tuple(there)
    return DONE if there else None


def _of_all(rows: Rows, clause: Clause, _fillers: Collection[str]) -> str | None:
    """ "Forward becomes back", "backwards", "every touch is made behind you"."""
    if becomes := BECOMES.match(clause.words):
        rows.free = True
        return DONE if rows.lead(_ways(becomes["old"]), _ways(becomes["new"])[0], clause.counts) else None
    if BACKWARDS.match(clause.words):
        if not rows.free:
            rows.exchange(AWAY)
        rows.free = True
        return DONE
    every = EVERY.match(clause.words)
    if not every:
        return None
    where = clause.counts or rows.with_either(every["what"])
    new = INSTEAD.sub(" ", every["new"])
    way = WAY.search(new)
    if way and rows.with_feet(every["what"]) and not any(stem(word) in MOVES - PARTS for word in WORD.findall(new)):
        ways = {code for row in rows.before.values() for m in row for code in m.feet if code.startswith("dir:")}
        return DONE if where and rows.lead(ways, _ways(way["new"])[0], where) else None
    return DONE if rows.lay_on(new, where) else None


def _ways(word: str) -> tuple[str, ...]:
    return WAYS[word.casefold()]


def _exchanged(rows: Rows, clause: Clause, _fillers: Collection[str]) -> str | None:
    """ "Swap the claps for snaps", "the touches become kicks"."""
    found = next((m for form in EXCHANGED if (m := form.search(clause.words))), None)
    return _in_stead(rows, found["old"], found["new"], clause.counts) if found else None


def _instead(rows: Rows, clause: Clause, _fillers: Collection[str]) -> str | None:
    """ "Kick in place of the touch", "behind instead of at the side"."""
    found = INSTEAD.search(clause.words)
    if not found or found["old"] is None:
        return None
    new = clause.words[: found.start()] + clause.words[found.end() :]
    if stem(found["old"]) in TURNS and (size := SIZE.search(new)):
        rows.free = True
        return DONE if rows.turn_by(SIZES[size[0].casefold()], clause.counts) else None
    way, old = WAY.search(new), WAYS.get(found["old"].casefold())
    if old and way:
        return DONE if rows.lead(old, _ways(way["new"])[0], clause.counts) else None
    return _in_stead(rows, found["old"], new, clause.counts)


def _in_stead(rows: Rows, old: str, new: str, counts: Sequence[int]) -> str | None:
    """Let something be done in another's stead: on the counts told, else wherever that was done."""
    if SIDED.search(old.casefold()):
        return None
    what = [word for word in WORD.findall(old) if stem(word) in MOVES.union(HOMES, WAITING)]
    hands, feet = _all(rows.with_hands, what), _all(rows.with_feet, what)
    where = counts or hands or feet
    where = where or _all(rows.with_either, [word for word in WORD.findall(new) if stem(word) in MOVES])
    rows.free = True
    return DONE if rows.lay_on(new, where, alone=bool(feet) and not hands) else None


def _all(where: Callable[[str], list[int]], words: Iterable[str]) -> list[int]:
    return [n for word in words for n in where(word)]


def _each(rows: Rows, clause: Clause, _fillers: Collection[str]) -> str | None:
    """ "A clap at every touch", "snap each time the foot comes home"."""
    found = EACH.search(clause.words)
    what = (found["what"] or found["way"] or found["time"]) if found else ""
    if not found or stem(what) not in STEMS:
        return None
    where = clause.counts or rows.with_either(what)
    rows.free = True
    return DONE if rows.lay_on(clause.words[: found.start()] + clause.words[found.end() :], where) else None
