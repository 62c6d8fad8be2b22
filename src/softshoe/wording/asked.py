"""Sentences and lines that ask for nothing but what stands before them once more: "Twice.", "Left foot: the same".

What may stand in such a sentence: words that ask ("again", "the same", "other side"), how often, which limb leads, how
many counts, and words that only join. What is named to be done makes it a movement of its own.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.counting import is_mark
from softshoe.wording.lex import Token
from softshoe.wording.parts import Repeat

if TYPE_CHECKING:
    from collections.abc import Sequence

ASKING = frozenset(("again", "same", "repeat", "mirror", "times"))
COPYING = frozenset(("again", "same", "mirror"))
LIMBS = frozenset(("side", "foot", "footpart", "hand", "dir"))
JOINING = frozenset(("fill", "prep", "join", "mark", "on", "count", "num", *ASKING, *LIMBS))
MORE = frozenset(("more", "another", "further", "extra"))
LOT = frozenset(
    (
        "whole",
        "lot",
        "times",
        "time",
        "altogether",
        "total",
        "other",
        "sequence",
        "thing",
        "each",
        "bit",
        "way",
        "does",
        "do",
    )
)
WAYS = frozenset(("left", "right", "in", "to the left", "to the right", "other"))
GOING = frozenset(("go", "through", "do", "run", "take", "start", "starting", "begin"))
NOW = frozenset(("now", "then", "next", "with"))
LONGEST = 14  # words
MOST_TIMES = 32


class Asked(NamedTuple):
    """How many times more, whether with the other side, which side leads ("R", "L", ""), how many counts (0: all)."""

    more: int = 1
    mirror: bool = False
    lead: str = ""
    last: int = 0

    def repeat(self, tokens: Sequence[Token]) -> Repeat:
        """Return it as what a line asks to be copied."""
        span = (tokens[0].start, tokens[-1].end)
        return Repeat(
            span, tokens[0].line, mirror=self.mirror, lead=self.lead, times=self.more, last=self.last or None
        )  # fmt: skip


def asked(tokens: Sequence[Token]) -> Asked | None:
    """Return what a sentence asks to be done once more; None where it does anything else."""
    words = [t for t in tokens if t.kind != "mark"]
    if not 0 < len(words) <= LONGEST or not any(t.kind in ASKING or t.low in ("times", "other") for t in words):
        return _now_the_other(words)
    if not all(map(_only_asks, words)):
        return None
    many = _many(words)
    copies = any(t.kind in COPYING for t in words) or _other(words)
    asks = copies or any(t.kind == "repeat" for t in words)
    ranged = any(is_mark(t, "-–—") for t in tokens[1:-1]) or sum(t.kind == "num" for t in words) > 1
    if ranged or (many is None and not asks) or words[0].low in ("as", "like"):
        return None
    last = _counts(words)
    numbers = sum(t.kind == "num" for t in words)
    if numbers > bool(last) + (many is not None and not any(t.kind == "times" for t in words)):
        return None  # "repeat section 1"
    if any(t.kind == "hand" and t.value in ("both", "?", "same") for t in words) and not _sides(words):
        return None  # "same arms"
    if many is None:
        more = 1
    else:
        further = any(t.low in MORE or "more" in t.low.split() for t in words)
        more = many if further or (asks and words[0].kind == "repeat" and _repeats(words[0])) else many - 1
    sides = _sides(words)
    if sides and not asks:
        return None  # "x4) R, L, R, L"
    both = {"R", "L"} <= set(sides)
    mirror = _other(words) or any(t.kind == "mirror" for t in words)
    return Asked(more, mirror, "" if mirror or both or not sides else sides[-1], last) if more > 0 else None


def asking(tokens: Sequence[Token]) -> list[Token]:
    """Return the words of a line that only asks for all that stands above it as a word that asks for a copy, and how
    often; [] for any other line.

    >>> from softshoe.wording.lex import tokens_of
    >>> lines = ("x2", "Do it again, you finish at the back.", "and again (4)", "again to the left")
    >>> [bool(asking(tokens_of(text, line=1))) for text in lines]
    [True, True, True, False]
    """
    copies = _copies_of_all(tokens)
    words = [t._replace(kind="fill", value="", dir="") for t in tokens if t.kind != "mark"] if copies else []
    words[:1] = [t._replace(kind="again", low="again") for t in words[:1]]
    if copies > 1:
        words.append(Token("times", str(copies), "", "", words[-1].end, words[-1].end, words[-1].line))
    return words


def _copies_of_all(tokens: Sequence[Token]) -> int:
    words = _within_marks(_without_length(_without_remark(_all_over(tokens))))
    if not all(_once_more(t) or set(t.low.split()) <= ALL_OF_IT for t in words):
        return 0
    ask = asked([t for t in words if _once_more(t)] or [t for t in words if _repeats(t)])
    return ask.more if ask is not None else 0


ALL_OF_IT = frozenset(("and", "then", "now", "so", "please", "do", "dance", "repeat", "rpt", "the", "it", "that",
"this", "all", "both", "of", "whole", "thing", "lot", "once", "same", "line", "lines", "above", "everything", "eight",
"four", "8", "4", "count", "counts"))  # fmt: skip
TELLING = frozenset(("you", "we", "it", "this", "that", "which", "no", "please", "with", "to", "facing"))


def _once_more(token: Token) -> bool:
    return token.kind == "times" or (token.kind == "again" and token.low.split()[0] not in ("as", "like"))


def _within_marks(tokens: Sequence[Token]) -> Sequence[Token]:
    told = [i for i, t in enumerate(tokens) if t.kind != "mark"]
    return tokens[told[0] : told[-1] + 1] if told else ()


def _without_remark(tokens: Sequence[Token]) -> Sequence[Token]:
    """ "Do it again, you finish at the back": the words before what is only told."""
    for i in range(1, len(tokens)):
        behind = next((t for t in tokens[i:] if t.low not in SO and t.kind != "mark"), None)
        if is_mark(tokens[i], ",;.!–-") and behind is not None and behind.low.split()[0] in TELLING:
            return tokens if any(t.kind == "num" for t in tokens[i:]) else tokens[:i]
    return tokens


SO = ("so", "and", "now", "then")


def _without_length(tokens: Sequence[Token]) -> Sequence[Token]:
    """ "And again (4 counts)": the words before the bracket."""
    opened = next((i for i, t in enumerate(tokens) if i and is_mark(t, "([")), len(tokens))
    kinds = [t.kind for t in tokens[opened:] if t.kind != "mark"]
    return tokens[:opened] if kinds in (["num"], ["num", "count"]) else tokens


def _all_over(tokens: Sequence[Token]) -> list[Token]:
    """ "Do it all over": it asks for a copy."""
    over = {i for i in range(1, len(tokens)) if tokens[i].low == "over" and tokens[i - 1].low == "all"}
    return [t._replace(kind="again", value="", dir="") if i in over else t for i, t in enumerate(tokens)]


def asked_behind(tokens: Sequence[Token]) -> tuple[list[Token], Asked] | None:
    """Return a line's words and what its last sentence, or the bracket at its end, asks of all of them; else None."""
    end = len(tokens)
    while end and is_mark(tokens[end - 1], ".;!)]"):
        end -= 1
    cut = next((i for i in range(end - 1, 0, -1) if _cuts(tokens[i])), 0)
    last = next((i for i in range(end - 1, 0, -1) if is_mark(tokens[i], ",")), 0)
    if (
        last > cut
        and any(t.kind == "times" for t in tokens[last:end])
        and any(is_mark(t, ",") or t.low == "and" for t in tokens[:last])
    ):
        cut = last  # "heel, home, x2": of all of it
    if cut and cut + 1 < end and is_mark(tokens[cut + 1], ">"):
        return None
    ask = asked(tokens[cut + 1 : end]) if cut and end - cut <= LONGEST else None
    words = list(tokens[:cut])
    return (words, ask) if ask is not None and any(t.kind not in ("mark", "fill") for t in words) else None


def asked_first(tokens: Sequence[Token]) -> tuple[list[Token], list[Token]] | None:
    """ "Change sides. Breathe out on the way up.": a sentence that asks and what is only said behind it; else None."""
    stop = next((i for i, t in enumerate(tokens[:LONGEST]) if is_mark(t, ".!")), 0)
    rest = list(tokens[stop + 1 :])
    if not stop or not any(t.kind != "mark" for t in rest) or any(t.kind in MOVING for t in rest):
        return None
    return (list(tokens[:stop]), rest) if asked(tokens[:stop]) is not None else None


MOVING = frozenset(("gest", "dual", "pattern", "draw", "side", "num", "times", "amount", "footpart", "again", "mirror"))


def _cuts(token: Token) -> bool:
    return is_mark(token, ".;!([") or (is_mark(token, "–—-") and not token.glued)


def _now_the_other(words: Sequence[Token]) -> Asked | None:
    """ "Now with the left.", "Then the left heel": a joint and a limb alone."""
    limbs = [t for t in words if t.kind in ("side", "foot", "footpart", "hand")]
    too = any(t.low in ALSO for t in words)
    if len(limbs) == 1 and too and len(words) < 7 and all(_goes_along(t, limbs) for t in words):
        side = limbs[0].value[:1] if limbs[0].value[:1] in ("R", "L") and limbs[0].value[1:2] in ("", " ") else ""
        return Asked(lead=side) if side else None  # "Left foot too.", "the left does it as well"
    plain = (
        len(limbs) == 1
        and 1 < len(words) <= 6
        and all(t.kind in ("fill", "prep", "join", "on") or t in limbs for t in words)
    )
    if not plain or not any(t.low in NOW or t.low.split()[0] in NOW for t in words if t not in limbs):
        return None
    side = limbs[0].value[:1] if limbs[0].value[:2] in ("R", "L", "R ", "L ") else ""
    return Asked(lead=side) if side else None


ALSO = frozenset(("too", "as well", "also", "well"))


def _goes_along(token: Token, limbs: Sequence[Token]) -> bool:
    return token in limbs or token.kind in ("fill", "prep", "join", "mark", "repeat") or token.low in (
        *ALSO, "does", "it", "do", "foot", "as", "the", "likewise",
    )  # fmt: skip


def _only_asks(token: Token) -> bool:
    if token.kind == "dir":
        return token.low in WAYS
    return token.kind in JOINING or token.low in LOT or token.low in GOING or token.low in MORE


def _repeats(token: Token) -> bool:
    """ "Repeat three times" is three times more; "do it three times" is three in all."""
    return token.low.startswith(("rep", "rpt"))


def _many(words: Sequence[Token]) -> int | None:
    """Return the number of times that the words tell."""
    for i, token in enumerate(words):
        if token.kind == "times":
            return int(token.value) if token.value.isdigit() and 0 < int(token.value) <= MOST_TIMES else None
        if token.kind == "num" and any(t.low in ("times", "time") for t in words[i + 1 : i + 3]):
            return token.number
        if token.kind == "num" and i + 1 < len(words) and words[i + 1].low in MORE and i + 2 == len(words):
            return token.number
    return None


def _counts(words: Sequence[Token]) -> int:
    """ "Do all four counts again": how many."""
    for one, two in pairwise(words):
        if one.kind == "num" and two.kind == "count":
            return one.number
    return 0


def _sides(words: Sequence[Token]) -> list[str]:
    out: list[str] = []
    for token in words:
        found = {"left": "L", "right": "R"}.get(token.value, token.value[:1] if token.value[1:2] in ("", " ") else "")
        if token.kind in LIMBS and found in ("R", "L"):
            out.append(found)
        elif token.low in ("right and left", "left and right"):
            out += ["R", "L"]
    return out


def _other(words: Sequence[Token]) -> bool:
    return any(t.value == "other" or t.low == "other" for t in words)
