"""The pieces of a limb's list: words between commas and dashes, rests, and what is said of all of them at its end."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from softshoe.wording.counting import is_mark

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.lex import Token

SEPARATORS = ",;.|/!"
DASHES = "-–—"
JOINTS = frozenset(("and", "then", "and then", "&", "now", "next"))
RESTING = frozenset(
    (
        "rest", "rests", "resting", "nothing", "none", "still", "wait", "hold", "pause", "stay", "stop", "be still",
        "keep still", "quiet", "sit still", "silence", "no", "free",
    )
)  # fmt: skip
OVERALL = frozenset(("all", "both", "all of it", "everything", "the", "that", "lot", "whole"))


def pieces_of(tokens: Sequence[Token]) -> tuple[list[list[Token]], list[Token]]:
    """Return the words between the separators, [] for a dash that rests, and the words of a last bracket for all."""
    body = list(tokens)
    tail: list[Token] = []
    while body and is_mark(body[-1], ".;,"):
        body.pop()
    if body and is_mark(body[-1], ")]"):
        at = next((i for i in range(len(body) - 1, 0, -1) if is_mark(body[i], "([")), 0)
        inner = body[at + 1 : -1]
        if at and inner and not (len(inner) < 3 and any(t.kind in ("num", "times") for t in inner)):
            body, tail = body[:at], inner
    commas = any(is_mark(t, ",;") for t in body)
    dotted = not commas and any(is_mark(a, DASHES + ".") and is_mark(b, DASHES + ".") for a, b in pairwise(body))
    out: list[list[Token]] = [[]]
    depth, rested = 0, True
    for token in body:
        depth += is_mark(token, "([") - is_mark(token, ")]")
        dash = is_mark(token, DASHES) and not token.glued
        if depth or not (is_mark(token, SEPARATORS) or dash or dotted):
            out[-1].append(token)
            rested = False
        elif dotted and not is_mark(token, SEPARATORS.replace(".", "") + DASHES + "."):
            out += [[token], []]
        elif (dash or dotted) and not out[-1] and (rested or commas):
            out += [[]]  # a dash by itself rests
            rested = True
        else:
            out += [[]] if out[-1] else []
            rested = False
    out = out if out[-1] else out[:-1]
    return [part for piece in out for part in _parted_rests(piece)], tail


def _parted_rests(piece: list[Token]) -> list[list[Token]]:
    """ "R L R rest L R L rest": a rest among words without commas."""
    rests = [i for i, t in enumerate(piece) if _is_rest(piece, i)]
    if not rests or len(piece) < 2 or any(t.kind in ("mark", "num", "prep") for t in piece):
        return [piece]
    out: list[list[Token]] = []
    at = 0
    for i in rests:
        out += [piece[at:i]] if piece[at:i] else []
        out.append([piece[i]])
        at = i + 1
    return out + ([piece[at:]] if piece[at:] else [])


def _is_rest(piece: Sequence[Token], i: int) -> bool:
    behind = piece[i + 1].kind if i + 1 < len(piece) else ""
    before = piece[i - 1].kind if i else ""
    return piece[i].low in RESTING and before not in ("fill", "join") and behind not in ("on", "place", "prep", "fill")


def without_times(pieces: list[list[Token]]) -> tuple[list[list[Token]], int]:
    """Return the pieces without a last one that asks for all of them again, and how often all is done."""
    last = [t for t in pieces[-1] if t.kind != "mark" and t.low not in OVERALL and t.low not in JOINTS]
    if len(pieces) < 2 or not last:
        return pieces, 1
    if all(t.kind == "times" for t in last):
        return pieces[:-1], int(last[0].value)
    asks = all(t.kind in ("again", "repeat", "same", "fill") for t in last) and any(t.kind != "fill" for t in last)
    return (pieces[:-1], 2) if asks else (pieces, 1)


def without_tails(pieces: list[list[Token]]) -> tuple[list[list[Token]], list[Token]]:
    """ "…, RF first", "…, both", "…, heels forward": what is said of all of them at the end."""
    tail: list[Token] = []
    while len(pieces) > 1 and _of_all(pieces[-1]):
        tail = [*pieces[-1], *tail]
        pieces = pieces[:-1]
    return pieces, tail


def _of_all(piece: Sequence[Token]) -> bool:
    words = [t for t in piece if t.kind != "mark"]
    lows = {t.low for t in words}
    if not words:
        return False
    if all(t.low in BOTH or t.kind == "fill" or (k and t.kind == "gest") for k, t in enumerate(words)) and bool(
        lows & BOTH
    ):
        return words[-1].low != "hands" or len(words) > 1
    leads = bool(lows & LEADING) or any(t.low.split()[-1] in LEADING for t in words)
    if leads and all(t.kind in ("side", "foot", "fill", "prep", "hand", "word") for t in words):
        return True
    plural = any(t.kind == "footpart" and t.value.startswith("both") for t in words)
    plural = plural or any(
        t.kind == "verb" and t.low in ("kicks", "taps", "touches", "digs", "brushes", "points") for t in words
    )
    way = any(t.kind == "dir" and t.value in ("forward", "back", "side", "in place", "across front") for t in words)
    return way and (plural or "all" in lows) and not any(t.kind in ("side", "gest", "hand") for t in words)


LEADING = frozenset(
    ("first", "leads", "lead", "leading", "starts", "start", "starting", "begins", "beginning", "throughout")
)
BOTH = frozenset(
    ("both", "both hands", "both arms", "both feet", "both together", "together", "hands", "arms", "both of them")
)


def last_times(piece: Sequence[Token]) -> int:
    """Return how often the last piece says that it, or all, is done."""
    told = [t for t in piece if t.kind == "times"]
    return int(told[-1].value) if told else 1
