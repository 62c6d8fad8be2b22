"""Hands told of every step home, or out: "clap as each foot comes home", "a click each time the heel goes out".

Such a clause moves no foot: it says when the hands do what stands beside it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.counting import is_mark

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.lex import Token
    from softshoe.wording.parts import Slot, Want

HOME, AWAY = "home", "away"  # what ``Atom.on_verb`` says of them
TIMES = frozenset(("whenever", "when", "as", "while", "each time", "every time", "as soon as", "each", "every"))
HANDED = frozenset(("gest", "hand"))
SAID = frozenset(("fill", "foot", "dir", "prep", "each"))
NOUNS = ("foot", "feet", "heel", "toe", "leg")
COMES = ("come", "coming", "return", "bring", "brought", "get", "arrive", "land", "go", "set", "put", "clos", "step",
         "is", "are", "take", "place", "travel", "reach")  # fmt: skip
HOMES = frozenset(("centre", "in", "together", "back", "in place", "down"))
OUT = frozenset(("out", "forward", "side", "across front"))
LONGEST = 9  # words


def timed_by_feet(tokens: list[Token]) -> list[Token]:
    """Return the words with such a clause marked: its first word is of the kind "each", the others only fill."""
    for i, token in enumerate(tokens):
        if token.low not in TIMES and token.kind != "each" and not _on_the_way(tokens, i):
            continue
        end = next((k for k in range(i + 1, len(tokens)) if _ends(tokens[k])), len(tokens))
        when = _when(tokens[i:end]) if end - i <= LONGEST else ""
        before = any(t.kind in HANDED for t in tokens[:i])
        ahead = (
            end < len(tokens) - 1
            and is_mark(tokens[end], ",")
            and any(t.kind == "gest" for t in tokens[end + 1 : end + 4])
        )
        if not when or not (before or ahead):
            continue
        stop = end + (ahead and not before)
        said = [t._replace(kind="fill", value="", dir="") for t in tokens[i + 1 : stop]]
        return [*tokens[:i], token._replace(kind="each", value=when, dir=""), *said, *timed_by_feet(tokens[stop:])]
    return tokens


def _on_the_way(tokens: Sequence[Token], i: int) -> bool:
    """ "On the way home", "on the home"."""
    behind = tokens[i + 1].low if i + 1 < len(tokens) and tokens[i].low in ("on the", "on each", "on every") else ""
    return behind in ("way", "home", "homes", "return", "returns")


def _ends(token: Token) -> bool:
    return token.kind == "mark" or (token.kind == "join" and token.value in ("and", "then"))


def _when(words: Sequence[Token]) -> str:
    """Return when the clause says that the hands move, "" where it says anything else."""
    rest = words[1:]
    ways = {t.value for t in rest if t.kind == "dir"} | {t.dir for t in rest if t.kind == "verb"} - {""}
    known = all(t.kind in SAID or _comes(t) or _noun(t) for t in rest)
    returns = any(t.low.startswith("return") for t in rest)
    named = any(_noun(t) or t.low in ("you", "it", "they", "way") for t in rest) or words[0].low.startswith("on ")
    rest = [t for t in rest if t.low not in ("the", "a")]
    one = any(t.low in ("it", "that") for t in rest) and words[0].low in ("as", "when", "while")
    if not known or not named or one:
        return ""  # "right heel forward, clap as it comes home": that is the step
    if returns or (ways and ways <= HOMES):
        return HOME
    return AWAY if ways and ways <= OUT else ""


def _noun(token: Token) -> bool:
    one = token.kind in ("foot", "footpart") and token.low.endswith(NOUNS) and token.value[:1] not in ("R", "L")
    return one or (token.kind in ("word", "fill") and token.low in (*NOUNS, "way"))


def _comes(token: Token) -> bool:
    return token.kind in ("verb", "word", "fill") and token.low.startswith(COMES)


def happens(want: Want, what: str) -> bool:
    """Return whether a foot's part is what the hands wait for: a verb of the trade, a step home, or a move out."""
    if what == HOME:
        return want.verb == "step" and want.dir in ("centre", "together", "in place") and not want.goes_on
    if what == AWAY:
        return want.verb in REACHING
    return want.verb == what


REACHING = ("touch", "heel", "point", "kick", "brush", "scuff", "fan", "sweep", "hook")


def comes(slot: Slot, what: str) -> bool:
    """Return whether it happens at a moment."""
    return any(happens(want, what) for want in slot.wants)


def done(verb: str, way: str, what: str) -> bool:
    """Return whether it happens in what is danced already: ``verb`` to ``way``."""
    if what == HOME:
        return verb == "step" and way in ("centre", "together", "in place")
    return verb in REACHING if what == AWAY else verb == what
