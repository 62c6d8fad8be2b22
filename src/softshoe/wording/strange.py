"""Words that no table has: a step misspelled, one that is no step at all, or words that only say how (fillers).

Fillers are rows of ``data/wording/fillers.csv`` and words in "-ly": they are passed over in silence. Whatever else was
passed over is told once a line, so that nobody believes it was read.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from softshoe.errors import Finding, Severity, nearest
from softshoe.wording.labels import WORDS_OF
from softshoe.wording.meant import meant
from softshoe.wording.shape import shape
from softshoe.wording.vocabulary import step_words, table

if TYPE_CHECKING:
    from softshoe.wording.lex import Token
    from softshoe.wording.stage import Ready, Stage

WORD = shape(r"[^\W\d_]+")
NAME = shape(r"[A-H]|[IVX]+")  # a section's name, in "repeat C"
NO_STEP = "“{}” is no step that this reader knows."
PASSED = "{} passed over: no word of the trade that this reader knows."


@lru_cache(maxsize=1)
def _fillers() -> frozenset[str]:
    return frozenset(row["word"] for row in table("fillers.csv"))


def is_filler(word: str) -> bool:
    """Return whether a word only says how, where in the room, or to whom.

    >>> is_filler("Gracefully"), is_filler("calm"), is_filler("wibble")
    (True, True, False)
    """
    plain = word.casefold().replace("’", "'")
    return plain in _fillers() or (plain.endswith("ly") and len(plain) > 4)


@lru_cache(maxsize=4096)
def meant_by(word: str) -> str | None:
    """Return the step word that a misspelled one may have meant."""
    return nearest(word, step_words(), cutoff=0.74)


def tell_strange(stage: Stage, one: Ready) -> None:
    """Tell the words of an item that no table has."""
    for token in one.item.tokens:
        if token.meant:
            _tell_misspelt(stage, one, token)
    passed: list[Token] = []
    for token in one.item.unknown:
        told = token.line in {line for line, _ in stage.unknown}
        if not told and len(token.text) > 2 and _told(stage, one, token):
            stage.unknown.append((token.line, token.text))
        elif not is_filler(token.text) and not (one.repeat is not None and NAME.fullmatch(token.text)):
            passed.append(token)
    if passed and not {line for line, _ in stage.unknown} & {token.line for token in passed}:
        words = ", ".join(f"“{token.text}”" for token in passed[:5])
        message = PASSED.format(words + (" was" if len(passed) == 1 else " were"))
        stage.tell("warning", "unread", passed[0].line, None, message, "If it is a step, use the step's own name.")


def _tell_misspelt(stage: Stage, one: Ready, token: Token) -> None:
    """A slip of the hand that is beyond doubt: read as meant, and told."""
    found = misspelt_word(token)
    stage.unknown.append((token.line, _misspelt(token)))
    at = one.places[0] if one.places else None
    stage.tell(found.severity, found.kind, token.line, at, found.message, found.mend)


def misspelt_word(token: Token) -> Finding:
    """Return what is told of a token with a word that is misspelt beyond doubt."""
    message = f"{NO_STEP.format(_misspelt(token)).removesuffix('.')}; it is read as “{token.meant}”."
    return Finding("warning", "word", token.line, None, message, f"Did you mean “{token.meant}”?")


def _misspelt(token: Token) -> str:
    return str(next(w for w in WORD.findall(token.text) if meant(w) == token.meant))


def _told(stage: Stage, one: Ready, token: Token) -> bool:
    """Tell a word that stands for a step: misspelled, or where the step's own word should be."""
    alone = (
        (one.item.limb != "arms" and not one.atoms and one.repeat is None)
        or (one.laid is not None and bool(one.laid.problem))
        or token == one.item.leading
        or (one.item.label is not None and not one.atoms and one.repeat is None)
    )
    near = meant_by(token.text) if alone or not is_filler(token.text) else None
    if near is None and not alone and token not in one.item.strange:
        return False
    severity: Severity = "error" if alone else "warning"
    mend = f"Did you mean “{near}”?" if near else "Use a step's own name; the vocabulary lists them."
    stage.tell(severity, "word", token.line, one.places[0] if one.places else None, NO_STEP.format(token.text), mend)
    return True


def is_chatter(one: Ready, *, labelled: bool) -> bool:
    """ "Dead easy! See you Friday": a line without counts and without a step, where the others have theirs
    (``labelled``), or without a word of the trade, is no step misspelled.
    """
    item = one.item
    if item.label is not None or item.limb or one.repeat is not None or (one.atoms and not is_strange(one)):
        return False
    words = [t for t in item.tokens if t.kind not in ("mark", "fill")]
    trade = any(t.kind in WORDS_OF and t.kind not in ("word", "num") for t in words)
    return labelled or (not one.atoms and not trade and len(words) > 2)


def is_strange(one: Ready) -> bool:
    """Return whether a line without counts has more strange words than words of the trade can carry."""
    known = sum(t.kind in WORDS_OF and t.kind != "word" for t in one.item.tokens)
    return bool(one.item.unknown) and 2 * len(one.item.unknown) >= known
