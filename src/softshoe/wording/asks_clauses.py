"""The clauses of what is other in a section that asks for another, each with the counts that it names.

"only that on 4 you kick L, and clap on the last two counts"
("you kick L", 4), ("clap", 7 and 8)
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.asks_moves import NAMED, stem
from softshoe.wording.lex import tokens_of
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Iterator, Sequence

    Where = Callable[[str], Sequence[int]]  # the counts on which something is done

APART = shape(
    r"[;:.!|(){}]|,|\s[-–—]\s|\bbut\b|\bexcept(?:ing)?(?: that| for)?\b|\bapart from\b|\bsave(?: for| that)?\b|"
    r"\bonly that\b|\bthough\b|\bthen\b|"
    r"\band\b(?=\s+(?:(?:on|at|for)\s+(?:counts?\s+)?\d|(?:then\s+)?(?:stay|hold|wait)\b))",
    re.IGNORECASE,
)
NUMBER = r"\d{1,2}\b(?![/:]\d)"
LIST = rf"(?:\s*(?:-|–|to|through)\s*\d{{1,2}}\b)|(?:(?:\s*(?:,\s*and|,|and|&|\+)\s*|\s+){NUMBER})*"
COUNTS = shape(rf"(?:\b(?:on|at|for|the|counts?|beats?|by)\s+)*(?<![/\d.:])\b({NUMBER})({LIST})", re.IGNORECASE)
RANGED = shape(r"-|–|to|through")
BEHIND = shape(
    r"\((?:(?:on\s+)?counts?\s+|on\s+)?(\d{1,2}(?:\s*(?:,|&|and|\+|-|–|to)\s*\d{1,2})*)\)", re.IGNORECASE
)  # "clap on the kick (4)"
SO_FAR = shape(
    r"(?:^|[,.;:])\s*(?:counts?\s+1\s*(?:-|–|to)\s*(\d{1,2})\b|"
    r"(?:as far as|up to(?: and including)?)\s+(?:the\s+)?(?:counts?\s+)?(\d{1,2})\b(?!\s*[-–]))",
    re.IGNORECASE,
)
SOME = shape(
    r"\b(?:(?:on|at|for|over|in|each|every|of)\s+)*(?:the\s+)?(?P<which>last|first|final)\s+"
    r"(?P<many>two|three|four|[234])\b(?:\s+(?:counts?|beats?|steps?|ones?|of\s+them))?",
    re.IGNORECASE,
)
EVEN = shape(r"\bon\s+(?:all\s+)?(?:the\s+)?(?P<which>even|odd)\s+(?:counts|beats|ones)\b", re.IGNORECASE)
NTH = shape(
    r"\b(?:(?:on|at|for|with|to)\s+)?(?:the\s+|each\s+)?(?:very\s+)?(?P<which>first|second|third|fourth|last|final)\s+(?P<what>[a-z]+)\b",
    re.IGNORECASE,
)
LAST = shape(
    r"\b(?:on|at|for)?\s*(?:the\s+)?(?:very\s+)?(?:last|final)(?:\s+(?:count|step|beat|move|one))?\b|"
    r"\b(?:at|for|in)\s+the\s+(?:very\s+)?end\b",
    re.IGNORECASE,
)
WEIGHT = shape(
    r"\b(?:with|no|takes|keep|without)?\s*(?:the\s+)?weight(?:\s+(?:on|is|onto|stays)?\s*(?:the\s+)?(?:left|right|[LR]|it))?\b",
    re.IGNORECASE,
)
LIGHT = shape(r"\b(?:without(?: any)?|no) weight\b", re.IGNORECASE)
STOMP = shape(r"\bst(?:omp|amp)s?\b(?!\s+up)", re.IGNORECASE)
BOUND = shape(
    r"\b(?:before|after|from|until|till|through|past)\s+(?:the\s+)?(?:counts?\s+)?\d|\bwalls?\b|\bchang\w*\s+weight\b|\d&(?!\s*\d)|&\d|"
    r"\b(?:last|first)\s+(?:two|three|four)\s+(?!counts?|beats?|steps?|ones?|of)[a-z]+",
    re.IGNORECASE,
)  # counts that are no counts of the section, or only where they begin; halves
AS_YOU = shape(
    r"\bas (?:you|we|they|it|the foot) (?:close|come|comes|step|land)s?(?:\s+(?:home|in|down))?\b", re.IGNORECASE
)
WORD = shape(r"[^\W\d_]+(?:['’-][^\W\d_]+)*")
SENTENCE = shape(
    r"\b(?:it|you|we|they|she|he|i|somebody|someone|nobody|everybody|everyone|is|are|was|does|let|please|mind|smile|enjoy|"
    r"dears?|love|yours)\b",
    re.IGNORECASE,
)
MANNER = shape(
    r"\b(?:slow\w*|fast\w*|quick\w*|double\w*|clockwise|facing|faces|tiptoes?|revers\w*|mirror\w*|backwards|anti\w*|not|never|"
    r"no|nothing|without|lefts?|rights?|less|more|bigger|smaller)\b(?!\s+does it)",
    re.IGNORECASE,
)
UNCLEAR = "‹"
MANY = {"two": 2, "three": 3, "four": 4}
PLACES = {"first": 0, "second": 1, "third": 2, "fourth": 3, "last": -1, "final": -1}
TOLD = frozenset(
    ("side", "dir", "verb", "pattern", "gest", "dual", "draw", "footpart", "turn", "num", "amount", "times")
)


class Clause(NamedTuple):
    """Words of a clause without its counts, and these."""

    words: str
    counts: tuple[int, ...] = ()

    def is_filled(self, fillers: Collection[str]) -> bool:
        """Return whether nothing but filling words is in it."""
        return is_filled(self.words, fillers)

    @property
    def is_talk(self) -> bool:
        """Whether it is a sentence about nothing that is danced, no way and no count: "Slowly does it!"."""
        if self.counts or UNCLEAR in self.words or any(stem(word) in NAMED for word in WORD.findall(self.words)):
            return False
        said = SENTENCE.search(self.words) is not None and not MANNER.search(self.words)
        return said and not any(token.kind in TOLD for token in tokens_of(self.words, line=0))


def is_filled(words: str, fillers: Collection[str]) -> bool:
    """Return whether all words are filling words."""
    return UNCLEAR not in words and all(word.casefold() in fillers for word in WORD.findall(words))


def clauses_of(words: str, counts: int, where: Where) -> list[Clause]:
    """Return the clauses of words about a section of so many counts; one alone where its counts are not clear.

    >>> clauses_of("only on 4 you kick L, and clap on the last two counts", 8, lambda word: [])
    [Clause(words='only you kick L', counts=(4,)), Clause(words='and clap', counts=(7, 8))]
    """
    words, until = _so_far(BEHIND.sub(r" on \1 , ", words.replace("*", " ")))
    plain = words
    plain = COUNTS.sub(lambda found: found[0].replace(",", "&"), plain)
    out: list[Clause] = []
    for part in APART.split(plain):
        if not (WORD.search(part) or COUNTS.search(part)):
            continue
        clause = _clause(part, counts, where)
        if clause is None or any(not 0 < n <= counts for n in clause.counts):
            return [Clause(UNCLEAR)]
        light = LIGHT.search(part) is not None
        if light and out and not clause.counts and not STOMP.search(clause.words):
            out[-1] = out[-1]._replace(words=STOMP.sub("stomp up", out[-1].words))  # "stomp R, no weight"
        out.append(clause._replace(words=STOMP.sub("stomp up", clause.words)) if light else clause)
    told = {n for clause in out for n in clause.counts}
    return out if not until or told >= set(range(until + 1, counts + 1)) else [Clause(UNCLEAR)]


def _so_far(words: str) -> tuple[str, int]:
    """Return words without "up to count 6", and that count; 0 where there is none."""
    found = SO_FAR.search(words)
    return (words[: found.start()] + " , " + words[found.end() :], int(found[1] or found[2])) if found else (words, 0)


def _clause(part: str, counts: int, where: Where) -> Clause | None:
    """Return a clause with the counts that it names; None where it names them twice."""
    if BOUND.search(part):
        return None
    told: list[int] = []
    for found, some in _some_of(part, counts):
        told += some
        part = part.replace(found, " ", 1)
    named = [*COUNTS.finditer(part)]
    if len(named) > 1:
        return None
    told += [n for found in named for n in _in_list(found)]
    rest = AS_YOU.sub(" ", WEIGHT.sub(" ", COUNTS.sub(" ", part)))
    if not told:
        told, rest = _by_place(rest, counts, where)
    return Clause(" ".join(rest.split()), tuple(told))


def _some_of(part: str, counts: int) -> Iterator[tuple[str, list[int]]]:
    """Return "the last two counts", "the even counts", each with its counts."""
    if found := SOME.search(part):
        many = MANY.get(found["many"].casefold()) or int(found["many"])
        first = found["which"].casefold() == "first"
        yield found[0], [*range(1, many + 1)] if first else [*range(counts - many + 1, counts + 1)]
    elif found := EVEN.search(part):
        yield found[0], [*range(1 if found["which"].casefold() == "odd" else 2, counts + 1, 2)]


def _in_list(found: re.Match[str]) -> list[int]:
    first, more = int(found[1]), [int(n) for n in re.findall(r"\d+", found[2] or "")]
    ranged = bool(more) and RANGED.search(found[2]) is not None
    return ([*range(first, more[0] + 1)] or [0]) if ranged else [first, *more]


def _by_place(words: str, counts: int, where: Where) -> tuple[list[int], str]:
    """Return the count of "the second heel", "the end", and the words without it."""
    found = NTH.search(words)
    some = where(found["what"]) if found else ()
    place = PLACES[found["which"].casefold()] if found else 0
    if found and some and place < len(some):
        return [some[place]], words[: found.start()] + words[found.end() :]
    return ([counts], LAST.sub(" ", words)) if LAST.search(words) else ([], words)
