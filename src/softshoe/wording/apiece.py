"""How long, or how often, each of several things is done: "sways right, left, two counts each", "lifts x2 each side".

The words that say so are taken out of the line; its moments then last so long, or its movements are done on both sides.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.counting import is_mark

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.lex import Token

LONGEST = 16  # counts
EACH = frozenset(
    ("each", "per", "every", "either", "apiece", "on each", "each time", "every time", "for each", "each one")
)
NOUNS = frozenset(
    (
        "side", "way", "direction", "hand", "arm", "foot", "feet", "leg", "heel", "toe", "knee", "one", "time", "go",
        "sway", "swing", "dig", "tap", "circle", "lift", "push", "punch", "wave", "reach", "roll", "kick", "step",
        "move", "movement", "of them", "foot tap", "stretch", "raise", "side to side",
    )
)  # fmt: skip
BOTH_SIDES = frozenset(("both sides", "each side", "both legs", "either side", "on both sides"))
SIDES = frozenset(("side", "sides", "way", "hand", "hands", "arm", "foot", "feet", "leg", "direction"))


class Apiece(NamedTuple):
    """The words without what is told of each; ``counts`` each lasts (0: not said); whether both sides do it."""

    words: list[Token]
    counts: int = 0
    sides: bool = False


def over_again(tokens: Sequence[Token]) -> tuple[list[Token], int, bool]:
    """ "Heel forward, home - x4", "reach, hold, rest (both sides)": what a line asks for at its end, of all of it.

    Returns the words without it, how often, and whether it is done on both sides.
    """
    end = len(tokens)
    while end and is_mark(tokens[end - 1], ".;!)]"):
        end -= 1
    told = _told_of_all(tokens, end)
    if told is not None:
        return list(tokens[: told[0]]), told[1], False
    begin = end - 1
    if begin > 1 and tokens[begin].low in BOTH_SIDES and is_mark(tokens[begin - 1], "-–—([,"):
        return list(tokens[: begin - 1]), 1, True
    times = begin > 1 and tokens[begin].kind == "times" and is_mark(tokens[begin - 1], "-–—([")
    if times and not tokens[begin].glued and int(tokens[begin].value) > 1:
        return list(tokens[: begin - 1]), int(tokens[begin].value), False
    return list(tokens), 1, False


def hands_beside(tokens: Sequence[Token]) -> bool:
    """ "Kick and clap, home with hands to the chest": the words end with hands that move beside the feet."""
    cut = next((i for i in range(len(tokens) - 1, 0, -1) if is_mark(tokens[i], ",;.")), 0)
    last = tokens[cut + 1 :]
    joint = next((i for i, t in enumerate(last) if t.kind == "join" or t.low in ("with", "w/")), 0)
    feet = any(t.kind in ("verb", "dir", "footpart", "foot") for t in last[:joint])
    return bool(cut and joint) and feet and any(t.kind in ("hand", "gest") for t in last[joint:])


ALL_OVER = frozenset(("altogether", "in", "all", "in all", "total", "in total", "through", "over", "overall"))
DOING_SO = ("fill", "repeat", "join", "same", "prep")


def _told_of_all(tokens: Sequence[Token], end: int) -> tuple[int, int] | None:
    """ "…. Do it twice", "…, four times altogether": return where the words before end, and how often they are done."""
    at = next((i for i in range(end - 1, max(0, end - 4), -1) if tokens[i].kind == "times"), 0)
    if at < 2 or int(tokens[at].value) < 2 or any(t.low not in ALL_OVER for t in tokens[at + 1 : end]):
        return None
    cut = next((i for i in range(at - 1, 0, -1) if tokens[i].kind == "mark"), 0)
    said = tokens[cut + 1 : at]
    plain = all(t.kind in DOING_SO or t.low in ("it", "whole", "them") for t in said)
    of_all = bool(said) and all(
        t.low in ("all", "both", "everything", "all of it", "all that", "the lot") for t in said
    )
    stops, comma = is_mark(tokens[cut], ".;!"), is_mark(tokens[cut], ",")
    if not cut or not plain or not (stops or (comma and (not said or of_all or at + 1 < end))):
        return None
    asks = any(t.kind in ("repeat", "same") for t in said) or at + 1 < end or not said or of_all
    again = any(t.low.startswith(("repeat", "rpt", "again")) for t in said)  # "repeat twice": how often more is open
    several = sum(is_mark(t, ",;.") or t.kind == "join" for t in tokens[:cut]) > 0
    return (cut, int(tokens[at].value)) if asks and not again and several else None


def apiece(tokens: Sequence[Token]) -> Apiece:
    """Return a line's words and what they say of each of its movements."""
    for i, token in enumerate(tokens):
        if token.kind not in ("num", "times") or not i:
            continue
        read = _read(tokens, i)
        if read is not None:
            begin, end, counts, sides, kept = read
            return Apiece([*tokens[:begin], *kept, *tokens[end:]], counts, sides)
    return Apiece(list(tokens))


def _read(tokens: Sequence[Token], i: int) -> tuple[int, int, int, bool, list[Token]] | None:
    """Return where the words begin and end, the counts each lasts, whether both sides do it, and words that stay."""
    token = tokens[i]
    begin, end = i, i + 1
    counted = token.kind == "num" and end < len(tokens) and tokens[end].kind == "count"
    end += counted
    before = _each_before(tokens, i) if counted else i
    each = end < len(tokens) and tokens[end].low in EACH
    article = counted and not each and end + 1 < len(tokens) and tokens[end].low in ("a", "an", "to each", "to a")
    if before == i and not each and not (article and tokens[end + 1].low in NOUNS):
        return None
    noun = ""
    if before == i:
        end += 1
        if end < len(tokens) and (tokens[end].low in NOUNS or tokens[end].low.rstrip("s") in NOUNS):
            noun, end = tokens[end].low, end + 1
    begin = before
    if end < len(tokens) and not (tokens[end].kind in ("mark", "join", "num", "times") or is_mark(tokens[end], ")]")):
        return None
    begin, end = _around(tokens, begin, end)
    if counted and token.number <= LONGEST:
        return begin, end, token.number, noun in SIDES, []
    if noun not in SIDES or token.value in ("0", "1"):
        return None
    often = token._replace(kind="times")  # "four each side"
    return begin, end, 0, True, [often]


def _each_before(tokens: Sequence[Token], i: int) -> int:
    """ "Each for two counts", "each one 2 counts": return where that begins, or ``i``."""
    j = i
    while (
        j
        and i - j < 4
        and tokens[j - 1].low in ("for", "over", "taking", "takes", "lasts", "lasting", "held", "one", "of", "gets")
    ):
        j -= 1
    return j - 1 if j and tokens[j - 1].low in EACH else i


def _around(tokens: Sequence[Token], begin: int, end: int) -> tuple[int, int]:
    """Return the stretch with its brackets, or with the comma before it."""
    while begin and tokens[begin - 1].low in ("for", "over", "at", "in", "taking", "and"):
        begin -= 1
    if begin and is_mark(tokens[begin - 1], "([") and end < len(tokens) and is_mark(tokens[end], ")]"):
        return begin - 1, end + 1
    if begin and is_mark(tokens[begin - 1], ",;–—-"):
        return begin - 1, end
    return begin, end
