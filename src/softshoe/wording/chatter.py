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
    said = [talks(p) and not _lets_swing(p) for p in pieces]
    steps = [_steps(p) and not said[i] for i, p in enumerate(pieces)]
    if not any(steps) and (all(said) or not any(said)):
        return list(tokens), []
    chat = [i > 0 and steps[0] and chats_on(p) for i, p in enumerate(pieces)]
    said = [one or chat[i] for i, one in enumerate(said)]
    talk = [
        p
        for i, p in enumerate(pieces)
        if said[i] or (any(steps) and ((not steps[i] and _talks(p, first=i == 0)) or (i and _idle_talk(p))))
    ]
    if not talk:
        return list(tokens), []
    gone = {id(t) for p in talk for t in p}
    return [t for t in tokens if id(t) not in gone], talk


def _lets_swing(piece: Sequence[Token]) -> bool:
    """ "Let your arms swing": that is danced."""
    words = [t for t in piece if t.kind not in ("mark", "join")]
    kinds = {t.kind for t in words}
    who = next((t.kind for t in words[1:] if t.kind != "fill"), "")  # not "let the eyes follow the hand"
    return bool(words) and words[0].low == "let" and who == "hand" and bool(kinds & {"gest", "dual"})


def only_talks(text: str, tokens: Sequence[Token]) -> bool:
    """Return whether a line without a count is no step: "Roll shoulders?", "Bring a cushion"."""
    words = [t for t in tokens if t.kind != "mark"]
    things = [t for t in words if t.kind == "word"]
    fetched = any(t.kind == "verb" and t.low in IDLE for t in words) and bool(things)
    idle = all(t.kind not in TRADE or (t.kind == "verb" and t.low in IDLE) for t in words)
    asks = bool(things) and "? " in text and not any(t.kind in ("side", "num", "times") for t in words)
    return (
        asks
        or text.rstrip(" \"”'*").endswith("?")
        or (fetched and idle and not any(meant_by(t.text) and not is_filler(t.text) for t in things))
    )


HANDS = ("hand", "thumb")
HEARD = ("clap", "snap", "pat", "drum")


def chats(tokens: Iterable[Token]) -> bool:
    """ "Nobody has to do all of it. Miss out what you like and join in again on the clap.": talk below the last step.

    It begins with no word of the trade, names no limb, and has words that no table has.
    """
    words = [t for t in tokens if t.kind not in ("mark", "join")]
    if not words or words[0].kind not in ("word", "fill", "note"):
        return False
    return sum(t.kind == "word" for t in words) > 1 and not any(t.kind in LIMBS for t in words)


LIMBS = ("side", "foot", "footpart", "hand", "thumb")


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
    if _perceives(piece) or _holds_chair(piece):
        return False
    return named and not any(is_mark(t, "?") for t in piece)


PERCEIVING = frozenset(("listen", "feel", "hear", "notice", "watch", "think", "imagine", "picture", "enjoy", "remember",
"mind", "pretend", "see", "try"))  # fmt: skip
HELD = frozenset(("chair", "chairs", "seat", "rail", "armrest", "armrests", "chair back", "the chair", "your chair"))


def _perceives(piece: Sequence[Token]) -> bool:
    """ "Listen for your heels on the floor": what is only heard or felt."""
    words = [t for t in piece if t.kind not in ("mark", "join")]
    return len(words) > 1 and words[0].low in PERCEIVING and not is_mark(piece[piece.index(words[0]) + 1], ":")


def _holds_chair(piece: Sequence[Token]) -> bool:
    """ "Hold on to the chair": no count is held."""
    words = [t for t in piece if t.kind not in ("mark", "join", "fill")]
    holds = bool(words) and words[0].low.split()[0] in ("hold", "keep", "holding", "hang")
    return holds and any(t.low in HELD or t.low.split()[-1] in HELD for t in words[1:])


OPENING = frozenset(
    ("if", "those", "good", "great", "only", "no", "don't", "dont", "don’t", "never", "nobody", "stop", "lovely",
     "nice", "well", "big", "small", "this", "a", "make", "let", "your", "it", "back", "sit", "it's", "that's")
)  # fmt: skip
DENYING = frozenset(("if", "those", "don't", "dont", "don’t", "never", "nobody", "stop", "no", "good", "great", "only"))
MODAL = frozenset(("should", "can", "may", "might", "must", "will", "would", "could"))
STEPPING = (
    "side",
    "gest",
    "pattern",
    "draw",
    "times",
    "repeat",
    "same",
    "again",
    "mirror",
    "hand",
    "num",
    "dual",
    "count",
)
UPRIGHT = frozenset(("straight", "long", "tall", "flat", "upright"))


def chats_on(piece: Sequence[Token]) -> bool:
    """ "Big happy knees!", "If your knees hurt, just lift the heels.", "Keep your back long.": talk behind steps."""
    words = [t for t in piece if t.kind not in ("mark", "join")]
    if len(words) < 2 or any(is_mark(t, "([:") for t in piece):
        return False
    first, lows = words[0].low, {t.low for t in words}
    strange = sum(t.kind == "word" for t in words)
    trade = [t for t in words if t.kind in STEPPING and t.low != "one"]
    moving = [t for t in words if t.kind == "verb" and t.low not in IDLE]
    if first in DENYING and strange and not any(t.kind in ("side", "num", "times") and t.low != "one" for t in words):
        return True
    if lows & UPRIGHT and "back" in lows and not trade:
        return True
    if "only" in lows and strange and any(t.low == "as" for t in piece) and not any(t.kind == "side" for t in words):
        return True
    if trade or moving:
        return False
    if first == "this" and "for" in lows:
        return True
    return strange > 0 and (first in OPENING or bool(lows & MODAL))


def _idle_talk(piece: Sequence[Token]) -> bool:
    """ "Firm but friendly to the knees": a part of the body, a strange word, and nothing that is done."""
    named = any(t.kind in ("verb", "gest", "dual", "pattern", "draw", "dir", "side", *ASKING) for t in piece)
    strange = [t for t in piece if t.kind == "word" and not meant_by(t.text)]
    return not named and bool(strange) and any(t.kind in ("footpart", "hand", "foot") for t in piece)


ASKING = ("again", "same", "repeat", "mirror", "num", "times")


def _talks(piece: Sequence[Token], *, first: bool) -> bool:
    """Return whether a piece holds more strange words than words of the trade, asks a question, or sets off."""
    if _perceives(piece) or _holds_chair(piece):
        return True
    strange = sum(t.kind == "word" for t in piece)
    trade = [t for t in piece if t.kind in TRADE]
    if any(is_mark(t, "?") for t in piece):
        return strange > 0 or sum(t.kind in ("verb", "pattern") for t in trade) < 3  # "hitch, step, hitch, step?"
    if first and strange and trade:
        return strange > len(trade)
    if strange:
        return strange >= len(trade)
    return bool(trade) and all(t.kind == "verb" and t.low in IDLE for t in trade)
