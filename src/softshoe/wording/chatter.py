"""Sentences and brackets among the steps that only talk: "No wriggling, Grandad!", "(handbags under the chairs)".

They are kept as written and are no part of what is danced. What could be a step misspelled is left where it stands.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import islice
from typing import TYPE_CHECKING

from softshoe.wording.counting import is_mark
from softshoe.wording.remark import talks
from softshoe.wording.strange import is_filler, meant_by
from softshoe.wording.vocabulary import table

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from softshoe.wording.lex import Token

TRADE = ("verb", "pattern", "gest", "dual", "draw", "footpart", "side", "foot", "hand", "dir", "amount", "turnword",
"again", "same", "repeat", "mirror", "quiet", "thumb", "times", "count", "weight", "noweight", "place")  # fmt: skip
NAMES_LIMB = ("side", "foot", "footpart", "hand", "pattern", "gest", "draw", "again", "same", "repeat", "mirror")
IDLE = ("go", "goes", "going", "take", "takes", "move", "moves", "do", "bring", "put", "return", "set")


def parted(tokens: Sequence[Token]) -> tuple[list[Token], list[list[Token]]]:
    """Return the words that may be danced, and the sentences and brackets that only talk."""
    if not any(t.kind == "mark" and t.text in ".!?([" for t in tokens[:-1]):
        return list(tokens), []
    pieces = _pieces(tokens)
    if len(pieces) < 2:
        return list(tokens), []
    said = [talks(p) for p in pieces]
    steps = [_steps(p) and not said[i] for i, p in enumerate(pieces)]
    if not any(steps) and (all(said) or not any(said)):
        return list(tokens), []
    talk = [p for i, p in enumerate(pieces) if said[i] or (any(steps) and not steps[i] and _talks(p, first=i == 0))]
    if not talk:
        return list(tokens), []
    gone = {id(t) for p in talk for t in p}
    return [t for t in tokens if id(t) not in gone], talk


def only_talks(text: str, tokens: Sequence[Token]) -> bool:
    """Return whether a line without a count is no step: "Roll shoulders?", "Bring a cushion"."""
    words = [t for t in tokens if t.kind != "mark"]
    things = [t for t in words if t.kind == "word"]
    fetched = any(t.kind == "verb" and t.low in IDLE for t in words) and bool(things)
    idle = all(t.kind not in TRADE or (t.kind == "verb" and t.low in IDLE) for t in words)
    return text.rstrip(" \"”'*").endswith("?") or (
        fetched and idle and not any(meant_by(t.text) and not is_filler(t.text) for t in things)
    )


HANDS = ("hand", "thumb")
HEARD = ("clap", "snap", "pat", "drum")


def remarks(text: str, tokens: Sequence[Token]) -> bool:
    """Return whether a sentence between counted lines speaks of people: "Most people want to lean on the left here."

    No hands are told, and no step but in passing.
    """
    trade = sum(t.kind in NAMES_LIMB for t in tokens)
    danced = any(t.kind in HANDS or t.value in HEARD for t in tokens)
    return _speaks(text) and not danced and 3 * trade < len(text.split())


def remarks_often(texts: Iterable[str]) -> bool:
    """Return whether a sheet remarks between its counted lines by habit; a line alone is rather a stray one."""
    remarked = (text for text in texts if not text[:1].isdigit() and _speaks(text))
    return len(list(islice(remarked, HABIT))) == HABIT


HABIT = 4  # lines


@lru_cache(maxsize=1)
def _speakers() -> tuple[frozenset[str], tuple[str, ...]]:
    """Return the words, and the phrases, of those who speak or are spoken of: rows of ``speakers.csv``."""
    rows = [row["word"] for row in table("speakers.csv")]
    return frozenset(r for r in rows if " " not in r), tuple(f" {r} " for r in rows if " " in r)


def _speaks(text: str) -> bool:
    words = [word.strip(".,;:!?\"”’'()").casefold() for word in text.split()]
    single, phrases = _speakers()
    plain = f" {' '.join(words)} "
    return not single.isdisjoint(words) or any(phrase in plain for phrase in phrases)


def _pieces(tokens: Sequence[Token]) -> list[list[Token]]:
    """Return the sentences; a bracket is a piece of its own."""
    out: list[list[Token]] = [[]]
    for token in tokens:
        if is_mark(token, "(["):
            out.append([])
        out[-1].append(token)
        if is_mark(token, ".!?)]"):
            out.append([])
    return [p for p in out if any(t.kind != "mark" for t in p)]


def _steps(piece: Sequence[Token]) -> bool:
    """Return whether something can be danced in it beyond doubt."""
    named = any(t.kind in NAMES_LIMB and t.low not in ("like", "as", "copy") for t in piece)
    return named and not any(is_mark(t, "?") for t in piece)


def _talks(piece: Sequence[Token], *, first: bool) -> bool:
    """Return whether a piece holds more strange words than words of the trade, asks a question, or sets off."""
    strange = sum(t.kind == "word" for t in piece)
    trade = [t for t in piece if t.kind in TRADE]
    if any(is_mark(t, "?") for t in piece):
        return strange > 0 or sum(t.kind in ("verb", "pattern") for t in trade) < 3  # "hitch, step, hitch, step?"
    if first and strange and trade:
        return strange > len(trade)
    if strange:
        return strange >= len(trade)
    return bool(trade) and all(t.kind == "verb" and t.low in IDLE for t in trade)
