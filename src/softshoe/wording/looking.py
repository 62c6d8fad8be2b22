"""Words that say where one faces by now: "and you're looking at nine o'clock", "which brings you to the back wall".

They make no movement; they say where the turns before them have led. The tokens of such a clause are marked as a look,
before they are read into drafts.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.bearing import weighed
from softshoe.wording.each_home import timed_by_feet

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.lex import Token

THERE = frozenset(("clock", "wallname"))
WHO = frozenset(
    (
        "you", "you're", "you’re", "you'll", "you’ll", "you've", "you’ve", "we", "we're", "we’re", "we'll", "we’ll",
        "us", "everyone", "everybody", "dancers", "yourself", "yourselves", "ourselves", "which", "that", "that's",
        "this", "your", "you should", "you are", "it", "they", "she", "he", "one",
    )
)  # fmt: skip
COMING = (
    "bring", "brought", "tak", "took", "com", "go", "went", "end", "finish", "leav", "left", "put", "get", "got",
    "find", "found", "make", "land", "arrive", "wind", "turn", "look", "fac", "see", "start", "be", "will", "have",
    "has", "should", "are", "is", "'ll", "now",
)  # fmt: skip
SOFT = frozenset(("fill", "prep", "look", "on", "quiet", "again", "turnword"))


def told(tokens: Sequence[Token]) -> list[Token]:
    """Return the tokens, clauses that only tell the weight or where one faces marked as such.

    >>> from softshoe.wording.lex import tokens_of
    >>> [t.kind for t in told(tokens_of("and you'll find yourself at 6:00", line=1))]
    ['join', 'fill', 'fill', 'fill', 'look', 'clock']
    """
    out = weighed(tokens)
    if any(t.low in DASHES for t in out):
        out = _rests(out)
    for at, token in enumerate(out):
        if token.low in LIKE and at + 2 < len(out) and (token.low != "like" or out[at + 1].low in ARTICLES):
            _simile(out, at)
        if token.low == "they" and at + 1 < len(out) and out[at + 1].dir == "in place":
            _feet_go_on(out, at)
        if token.value == "follow":
            _eyes(out, at)
        still = (token.kind == "quiet" or token.value == "hold") and token.low.endswith("still")
        if still and at + 1 < len(out) and out[at + 1].low.endswith("ing"):
            _going_on(out, at)
        if token.kind == "again" and token.low.startswith("keep ") and any(t.kind in GOING for t in out[:at]):
            out[at] = token._replace(kind="fill")  # "march, right, left, keep going"
        if token.kind == "again" and at > 1 and out[at - 1].low.endswith("s") and out[at - 1].kind in GOING:
            _those_again(out, at)
        if token.kind in THERE and at:
            _look(out, at)
    return timed_by_feet(out) if any(t.kind in ("gest", "hand") for t in out) else out


DASHES = ("-", "–", "—")


def _rests(tokens: list[Token]) -> list[Token]:
    """ "Kick, home, clap, -", "7 clap 8 -": a dash alone between commas, or behind a last count, is a rest."""
    out = list(tokens)
    for i, token in enumerate(tokens):
        if token.low not in DASHES or token.glued or not i or token.kind != "mark":
            continue
        before, behind = out[i - 1], tokens[i + 1] if i + 1 < len(tokens) else None
        ends = behind is None or behind.low in (",", ";", ".", ")", "|")
        comma = before.low in (",", ";") or (before.value == "hold" and i > 1 and before.low in DASHES)
        if ends and (comma or (behind is None and before.kind == "num" and i > 3)):
            out[i] = token._replace(kind="verb", value="hold", dir="")
    amid = [i for i in range(3, len(tokens) - 1) if _between_counts(tokens, i)]
    if len(amid) > 1 or (amid and out[-1].value == "hold"):
        for i in amid:
            out[i] = out[i]._replace(kind="verb", value="hold", dir="")
    return out


def _between_counts(tokens: Sequence[Token], i: int) -> bool:
    """ "1 Clap 2 - 3 Clap 4 -": a dash between blanks behind single counts is no range."""
    token, one, two = tokens[i], tokens[i - 1], tokens[i + 1]
    if token.low not in DASHES or token.glued or two.glued or one.kind != "num" or two.kind != "num":
        return False
    single = next((k for k in range(i - 2) if tokens[k].kind == "num" and tokens[k].number == one.number - 1), -1)
    alone = (
        single >= 0 and tokens[single + 1].low not in DASHES and (not single or tokens[single - 1].low not in DASHES)
    )
    alone = alone or (
        single > 0
        and not tokens[single - 1].glued
        and tokens[single - 1].low in DASHES
        and _between_counts(tokens, single - 1)
    )
    return alone and two.number == one.number + 1


GOING = ("verb", "gest", "dual", "draw", "pattern")
ALL = ("all", "those", "these", "all the", "all of the", "all of those", "all those", "all these", "the same", "same")
LIKE, ARTICLES = ("like", "as if", "as though"), ("a", "an", "the", "you", "your")
LIMB = ("foot", "footpart", "side", "hand")
GAZE = ("eyes", "eye", "gaze", "look", "head", "nose", "face", "chin", "your eyes", "the eyes")


def _going_on(tokens: list[Token], at: int) -> None:
    """ "Arms still swinging": what goes on is no rest."""
    limb = next((w for w in ("arm", "hand") if w in tokens[at].low), "")
    tokens[at] = tokens[at]._replace(kind="hand" if limb else "fill", value="both" if limb else "")


def _simile(tokens: list[Token], at: int) -> None:
    """ "… from side to side like a clock", "as if you were out for a walk": what it is like is no step."""
    end, told_so = at + 1, tokens[at].low != "like"
    while end < len(tokens) and (
        tokens[end].kind in ("word", "fill", "prep")
        or (told_so and not (_parts(tokens[end]) or tokens[end].kind in LIMB))
    ):
        end += 1
    if end == len(tokens) or _parts(tokens[end]):
        tokens[at:end] = [t._replace(kind="fill", value="", dir="") for t in tokens[at:end]]


def _feet_go_on(tokens: list[Token], at: int) -> None:
    """ "… and they march on for 5 to 8": they are the feet, and "on" names no count."""
    tokens[at] = tokens[at]._replace(kind="fill", value="", dir="")
    if at + 3 < len(tokens) and tokens[at + 2].low == "on" and tokens[at + 3].kind == "prep":
        tokens[at + 2] = tokens[at + 2]._replace(kind="fill", value="", dir="")


def _those_again(tokens: list[Token], at: int) -> None:
    """ "All four punches again", "the same four kicks once more": what was danced, named by its number."""
    before = [t.low for t in tokens[max(0, at - 4) : at - 1]]
    if any(w in ALL for w in before) and (before[-1] in ALL or tokens[at - 2].kind == "num"):
        first = at - 1 - before[::-1].index(next(w for w in before[::-1] if w in ALL)) - 1
        tokens[first:at] = [t._replace(kind="fill", value="", dir="") for t in tokens[first:at]]


def _eyes(tokens: list[Token], at: int) -> None:
    """ "… and your eyes follow the hand", "follow it with your eyes": the look goes along, no hand does."""
    start, end = at, at + 1
    while start and not _parts(tokens[start - 1]) and tokens[start - 1].kind != "gest":
        start -= 1
    while end < len(tokens) and not _parts(tokens[end]):
        end += 1
    first = next((i for i in range(start, end) if tokens[i].low in GAZE), end)
    for i in range(min(first, at) if first < end else end, end):
        tokens[i] = tokens[i]._replace(kind="fill", value="", dir="")


def _look(tokens: list[Token], at: int) -> None:
    """Mark the clause that ends in a facing, if that is all it tells."""
    start = at
    while start and not _parts(tokens[start - 1]):
        start -= 1
    before = tokens[start:at]
    if not any(t.low in WHO for t in before) or not all(map(_only_comes, before)):
        return
    for i in range(start, at):
        tokens[i] = tokens[i]._replace(kind="fill", value="", dir="")
    tokens[at - 1] = tokens[at - 1]._replace(kind="look")


def _parts(token: Token) -> bool:
    return token.kind in ("mark", "join", "num")


def _only_comes(token: Token) -> bool:
    """Return whether a word can stand in such a clause: who, "takes", "are", "round to", "end up"."""
    if token.kind in SOFT or token.low in WHO or token.low in ("up", "back", "round", "around"):
        return True
    return token.kind in ("verb", "word", "dir", "note") and token.low.startswith(COMING)
