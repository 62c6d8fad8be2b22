"""Feet and hands told one behind the other, each count by count: "Feet: R heel, home, rest 2. Hands: clap, -, clap, -".

Each limb's words are parted at their commas; a piece lasts as long as it says or as its movements take. Where both come
to the same length, every piece gets the counts it stands on, so that the hands lie over the feet moment by moment.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import product
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.counting import Label, is_mark
from softshoe.wording.laying_ways import natural
from softshoe.wording.lengths_told import length_items, told_lengths
from softshoe.wording.parts import Item
from softshoe.wording.phrases import NOTHING
from softshoe.wording.stage import ready

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.lex import Token
    from softshoe.wording.stage import Ready

SEPARATORS = ",;.|/!"
DASHES = "-–—"
JOINTS = frozenset(("and", "then", "and then", "&", "now", "next"))
RESTING = frozenset(("rest", "rests", "resting", "nothing", "none", "still", "wait", "hold", "pause", "stay", "stop", "be still",
"keep still", "quiet", "sit still", "silence", "no", "free"))  # fmt: skip
SOFT = frozenset(("fill", "prep", "on", "join", "count", "word"))
OVERALL = frozenset(("all", "both", "all of it", "everything", "the", "that", "lot", "whole"))
MOST_PIECES, LONGEST = 40, 32
FILLS = 0  # a rest that takes what counts are left


class Piece(NamedTuple):
    """Words and the counts they take; no words where the limb rests."""

    tokens: list[Token]
    counts: int


Track = list[Piece]


def tracked(items: list[Item], unit: int) -> list[Item]:
    """Return a section's items with the counts that its limbs' lists take, where they are told so and agree."""
    limbs = [i.limb for i in items]
    if not 2 <= len(items) <= 6 or set(limbs) != {"feet", "arms"} or any(i.label is not None for i in items):
        return _by_lengths(items)
    if sum(a != b for a, b in zip(limbs, limbs[1:], strict=False)) > 1:
        return _by_lengths(items)  # lines in turns
    feet, arms = ([i for i in items if i.limb == limb] for limb in ("feet", "arms"))
    below = _ways(feet)
    above = [] if _timed(arms) else _ways(arms)
    for one, two in product(below, above):
        total = _agree(one, two, unit)
        if total:
            return [*_counted(one, feet, total), *_counted(two, arms, total)]
    for one in below:
        total = _total(one)
        if _timed(arms) and total and total % unit == 0:
            return [*_counted(one, feet, total), *arms]
    return _by_lengths(items)


def _by_lengths(items: list[Item]) -> list[Item]:
    """ "Feet: heel forward (2), home (2)": items that last as long as is told."""
    out: list[Item] = []
    for item in items:
        pieces = told_lengths(item.tokens) if item.limb and item.label is None else []
        more = length_items(pieces, Fraction(0), floats=True)
        for one in more:
            one.limb = item.limb
        if more:
            more[0].heads = [*item.heads, *more[0].heads]
        out += more or [item]
    return out


def _agree(feet: Track, arms: Track, unit: int) -> int:
    """Return how many counts both come to, 0 where they differ."""
    one, two = _total(feet), _total(arms)
    open_ends = [sum(p.counts == FILLS for p in track) for track in (feet, arms)]
    if max(open_ends) > 1 or min(one, two) < 0:
        return 0
    if not any(open_ends):
        return one if one == two and one % (unit // 2) == 0 else 0
    if all(open_ends):
        return -(-max(one, two, 1) // unit) * unit
    total, least = (one, two) if open_ends[1] else (two, one)
    return total if total % (unit // 2) == 0 and total > least else 0


def _total(track: Track) -> int:
    return sum(p.counts for p in track)


def _counted(track: Track, items: Sequence[Item], total: int) -> list[Item]:
    """Return the pieces as items on their counts."""
    left = total - _total(track)
    out: list[Item] = []
    at = 0
    first = items[0]
    for piece in track:
        length = piece.counts or left
        places = tuple(Fraction(at + k) for k in range(1, length + 1))
        at += length
        if not places or (not piece.tokens and first.limb == "arms"):
            continue
        begin = piece.tokens[0].start if piece.tokens else first.tokens[0].start
        label = Label(places, length > 1, begin, begin, first.line)
        out.append(Item(label, list(piece.tokens), first.line, limb=first.limb))
    if out:
        out[0].heads = [*first.heads]
    return out


def _timed(items: Sequence[Item]) -> bool:
    """Return whether hands tell their own counts, or the steps they move on."""
    if any(t.kind == "each" for i in items for t in i.tokens):
        return True
    one = ready(Item(None, [t for i in items for t in i.tokens], items[0].line, limb="arms"), Fraction(0))
    return any(a.at or a.on_verb for a in one.atoms)


def _ways(items: Sequence[Item]) -> list[Track]:
    """Return the ways to part a limb's words: as they stand, and all of it as often as its end says."""
    tokens = [t for i in items for t in i.tokens]
    pieces, tail = _pieces(tokens)
    if not pieces or len(pieces) > MOST_PIECES:
        return []
    pieces, times = _without_times(pieces)
    track = _lengths(pieces, tail, items[0].limb)
    if track is None:
        return []
    whole = [track * times] if times > 1 else [track]
    once = _last_times(pieces[-1]) if times == 1 else 1
    if once > 1:
        bare = _lengths([*pieces[:-1], [t for t in pieces[-1] if t.kind != "times"]], tail, items[0].limb)
        whole += [bare * once] if bare is not None else []
    return whole


def _pieces(tokens: Sequence[Token]) -> tuple[list[list[Token]], list[Token]]:
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
    dotted = not commas and any(
        is_mark(a, DASHES + ".") and is_mark(b, DASHES + ".") for a, b in zip(body, body[1:], strict=False)
    )
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
            rested = dash and False
    out = out if out[-1] else out[:-1]
    return out, tail


def _without_times(pieces: list[list[Token]]) -> tuple[list[list[Token]], int]:
    """Return the pieces without a last one that asks for all of them again, and how often all is done."""
    last = [t for t in pieces[-1] if t.kind != "mark" and t.low not in OVERALL and t.low not in JOINTS]
    if len(pieces) < 2 or not last:
        return pieces, 1
    if all(t.kind == "times" for t in last):
        return pieces[:-1], int(last[0].value)
    asks = all(t.kind in ("again", "repeat", "same", "fill") for t in last) and any(t.kind != "fill" for t in last)
    return (pieces[:-1], 2) if asks else (pieces, 1)


def _last_times(piece: Sequence[Token]) -> int:
    told = [t for t in piece if t.kind == "times"]
    return int(told[-1].value) if told else 1


def _lengths(pieces: Sequence[list[Token]], tail: Sequence[Token], limb: str) -> Track | None:
    """Return the pieces with their counts; None where one can't be read."""
    out: Track = []
    behind = NOTHING
    for k, piece in enumerate(pieces):
        words = _bare(piece)
        if not words:
            out.append(Piece([], 1))
            continue
        rest = _rests(words, last=k + 1 == len(pieces), alone=len(pieces) == 1)
        if rest is not None:
            out.append(Piece([], rest))
            continue
        told, words = _told(words)
        words = _with_tail(words, tail)
        one = ready(Item(None, list(words), words[0].line, limb=limb), Fraction(0), behind)
        behind = one.behind.here()
        length = _length(one)
        if length is None:
            return None
        out.append(Piece(words, told or length))
    return out


def _length(one: Ready) -> int | None:
    if one.repeat is not None or not one.atoms or any(a.at for a in one.atoms):
        return None
    length = int(natural(one.atoms)[1])
    return length if 0 < length <= LONGEST else None


def _bare(piece: Sequence[Token]) -> list[Token]:
    words = list(piece)
    while words and (words[0].low in JOINTS or words[0].kind == "mark"):
        words.pop(0)
    while words and words[-1].kind == "mark" and not is_mark(words[-1], ")]"):
        words.pop()
    return words


def _rests(words: Sequence[Token], *, last: bool, alone: bool) -> int | None:
    """ "Rest 4", "nothing for 4", "(hold)": how many counts the limb rests; ``FILLS`` for what is left; None: it moves."""
    said = [t for t in words if t.kind != "mark"]
    numbers = [t.number for t in said if t.kind == "num"]
    rest = [t for t in said if t.low in RESTING or t.kind == "quiet" or t.value == "hold"]
    others = [t for t in said if t not in rest and t.kind not in SOFT and t.kind != "num"]
    if not rest or others or len(numbers) > 1:
        return None
    if numbers:
        return min(numbers[0], LONGEST)
    return FILLS if alone or (last and len(said) > 1) else 1


def _told(words: list[Token]) -> tuple[int, list[Token]]:
    """ "Heel forward (2)", "circle both for 4": the counts that are told, and the words without them."""
    if len(words) > 2 and is_mark(words[-1], ")]") and words[-2].kind == "num" and is_mark(words[-3], "(["):
        return words[-2].number, words[:-3]
    end = len(words) - (words[-1].kind == "count")
    for k, low in ((end - 2, ("for", "over")),):
        if k > 0 and words[end - 1].kind == "num" and words[k].low in low:
            return words[end - 1].number, words[:k]
    return 0, words


def _with_tail(words: list[Token], tail: Sequence[Token]) -> list[Token]:
    """ "R, L, R, rest (in place)": a place in the last bracket is that of each piece that names none."""
    there = [t for t in tail if t.kind == "dir" and t.value == "in place"]
    bare = not any(t.kind in ("dir", "verb", "footpart", "hand", "gest", "dual", "pattern") for t in words)
    return [*words, there[0]] if there and bare else words
