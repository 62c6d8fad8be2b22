"""How a hand is held, told beside what it does: "It is flat, the palm faces up and the thumb points out".

Such words describe; they move nothing. They stand behind a movement: in a sentence of their own, or behind "with".
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.counting import is_mark

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.lex import Token

PARTS = ("palm", "thumb", "finger", "knuckle", "wrist", "elbow")
WHO = (*PARTS, "hand", "fist", "arm", "both hands", "right hand", "left hand", "it", "they", "both")
STATES = frozenset(
    (
        "is", "are", "face", "faces", "facing", "point", "points", "pointing", "lie", "lies", "stay", "stays", "remain",
        "remains", "still", "look", "looks", "sit", "sits", "rest on top", "stick", "sticks",
        "kept", "held", "keep", "keeps",
    )
)  # fmt: skip
STATIC = ("is", "are", "stay", "remain")
SHAPED = frozenset(
    (
        "open", "closed", "spread", "long", "loose", "straight", "relaxed", "soft", "together", "apart", "flat", "bent",
        "curled", "tucked", "pointing", "facing", "inside", "outside", "stretched", "wide",
    )
)  # fmt: skip


def undescribed(tokens: Sequence[Token]) -> list[Token]:
    """Return the words with those that only tell a hand's shape as words that only say how."""
    out = list(tokens)
    start, moved = 0, False
    for end in [*(i for i, t in enumerate(tokens) if is_mark(t, ".;!")), len(tokens)]:
        sentence = tokens[start:end]
        if moved and _describes(sentence):
            _fill(out, start, end)
        else:
            at = _with_shape(sentence)
            if at is not None and (moved or any(t.kind in ("verb", "gest", "dual", "draw") for t in sentence[:at])):
                _fill(out, start + at, end)
            moved = moved or any(t.kind in ("verb", "gest", "dual", "hand", "draw") for t in sentence)
        start = end + 1
    return out


def _fill(tokens: list[Token], start: int, end: int) -> None:
    for i in range(start, end):
        if tokens[i].kind != "num":
            tokens[i] = tokens[i]._replace(kind="fill", value="", dir="")


def _words(tokens: Sequence[Token]) -> list[str]:
    return [word for t in tokens for word in t.low.split()]


def _describes(sentence: Sequence[Token]) -> bool:
    """ "The palm faces up and the thumb points out", "it is flat with the fingers closed"."""
    words = [w for w in _words(sentence) if w not in ("the", "your", "both", "and", "with", "all", "right", "left")]
    other = any(t.kind in ("foot", "num", "repeat", "same", "again") for t in sentence if t.low not in ("it", "like"))
    if len(words) < 2 or other:
        return False
    who, state = words[0], next((w for w in words[1:3] if w in STATES), "")
    shaped = who.startswith(WHO) and state.startswith(STATIC) and any(w in SHAPED for w in words)
    return bool(state) and (who.startswith(PARTS) or shaped)


def _with_shape(sentence: Sequence[Token]) -> int | None:
    """ "…, with the palms to the front, the thumbs up and the fingers long": return where that begins, or None."""
    for i, token in enumerate(sentence):
        if not token.low.startswith("with"):
            continue
        words = _words(sentence[i:])
        parts = {p for p in PARTS for w in words if w.startswith(p)}
        near = [w for w in words[:4] if w.startswith(PARTS)]
        if near and (len(parts) > 1 or (parts & {"finger", "thumb"} and any(w in SHAPED for w in words))):
            moves = any(t.kind in ("foot", "num", "gest") and t.low not in STATES for t in sentence[i:])
            return None if moves else i
    return None
