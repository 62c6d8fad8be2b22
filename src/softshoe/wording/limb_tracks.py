"""Feet and hands told one behind the other, each count by count: "Feet: R heel, home, rest 2. Hands: clap, -, clap, -".

Each limb's words are parted at their commas; a piece lasts as long as it says or as its movements take. Where both come
to the same length, every piece gets the counts it stands on, so that the hands lie over the feet moment by moment.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise, product
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.counting import Label, is_mark
from softshoe.wording.laying_ways import natural
from softshoe.wording.lengths_told import length_items, told_lengths
from softshoe.wording.parts import Item
from softshoe.wording.phrases import NOTHING
from softshoe.wording.stage import ready
from softshoe.wording.track_pieces import JOINTS, LEADING, RESTING, last_times, pieces_of, without_tails, without_times

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.lex import Token
    from softshoe.wording.stage import Ready

SOFT = frozenset(("fill", "prep", "on", "join", "count", "word"))
MOST_PIECES, LONGEST = 40, 32
FILLS = 0  # a rest that takes what counts are left


class Piece(NamedTuple):
    """Words and the counts they take; no words where the limb rests."""

    tokens: list[Token]
    counts: int


Track = list[Piece]


def tracked(items: list[Item], unit: int) -> list[Item]:
    """Return a section's items with the counts that its limbs' lists take, where they are told so and agree."""
    items = _without_idle(items)
    limbs = _limbs(items)
    if not 2 <= len(items) <= 6 or set(limbs) != {"feet", "arms"} or any(i.label is not None for i in items):
        return _by_lengths(items)
    if sum(a != b for a, b in pairwise(limbs)) > 1:
        return _by_lengths(items)  # lines in turns
    feet, arms = ([i for i, own in zip(items, limbs, strict=True) if own == limb] for limb in ("feet", "arms"))
    if not all(arms[k].limb or _hands_only(arms[k]) for k in range(len(arms))):
        return _by_lengths(items)
    below = _ways(feet, "feet")
    above = [] if _timed(arms) else _ways(arms, "arms")
    for one, two in product(below, above):
        total = _agree(one, two, unit)
        if total:
            return [*_counted(one, feet, total, "feet"), *_counted(two, arms, total, "arms")]
    for one in below:
        total = _total(one)
        if _timed(arms) and total and total % unit == 0:
            return [*_counted(one, feet, total, "feet"), *arms]
    return _by_lengths(items)


def _without_idle(items: list[Item]) -> list[Item]:
    """ "Feet: nothing." beside hands that move: no count is theirs."""
    idle = [
        i for i in items if i.limb == "feet" and i.label is None and _rests(i.tokens, last=True, alone=True) == FILLS
    ]
    rest = [i for i in items if i not in idle]
    return rest if idle and rest and not _timed(rest) else items


def _limbs(items: Sequence[Item]) -> list[str]:
    """Return whose each item is; words above "Arms: …" that name no limb are the feet's, above "Feet: …" the hands'."""
    named = {i.limb for i in items}
    if "" not in named or len(named) != 2 or any(i.label is not None for i in items) or len(items) > 3:
        return [i.limb for i in items]
    other = "feet" if "arms" in named else "arms"
    return [i.limb or other for i in items]


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


def _counted(track: Track, items: Sequence[Item], total: int, limb: str) -> list[Item]:
    """Return the pieces as items on their counts."""
    left = total - _total(track)
    out: list[Item] = []
    at = 0
    first = items[0]
    for piece in track:
        length = piece.counts or left
        places = tuple(Fraction(at + k) for k in range(1, length + 1))
        at += length
        if not places or (not piece.tokens and limb == "arms"):
            continue
        begin = piece.tokens[0].start if piece.tokens else first.tokens[0].start
        label = Label(places, length > 1, begin, begin, first.line)
        out.append(Item(label, list(piece.tokens), first.line, limb=limb))
    if out:
        out[0].heads = [*first.heads]
    return out


def _timed(items: Sequence[Item]) -> bool:
    """Return whether hands tell their own counts, or the steps they move on."""
    if any(t.kind == "each" for i in items for t in i.tokens):
        return True
    one = ready(Item(None, [t for i in items for t in i.tokens], items[0].line, limb="arms"), Fraction(0))
    return any(a.at or a.on_verb for a in one.atoms)


def _hands_only(item: Item) -> bool:
    one = ready(Item(None, list(item.tokens), item.line), Fraction(0))
    return bool(one.atoms) and all(a.arms_only or a.holds for a in one.atoms)


def _ways(items: Sequence[Item], limb: str) -> list[Track]:
    """Return the ways to part a limb's words: as they stand, and all of it as often as its end says."""
    tokens = [t for i in items for t in i.tokens]
    pieces, tail = pieces_of(tokens)
    if not pieces or len(pieces) > MOST_PIECES:
        return []
    pieces, times = without_times(pieces)
    pieces, more = without_tails(pieces)
    tail = [*tail, *more]
    track = _lengths(pieces, tail, limb)
    if track is None:
        return []
    whole = [track * times] if times > 1 else [track]
    if times == 1 and len(track) > 1 and track[-1] == Piece([], 1):
        whole.append([*track[:-1], Piece([], FILLS)])
    once = last_times(pieces[-1]) if times == 1 else 1
    if once > 1:
        bare = _lengths([*pieces[:-1], [t for t in pieces[-1] if t.kind != "times"]], tail, limb)
        whole += [bare * once] if bare is not None else []
    return whole


def _lengths(pieces: Sequence[list[Token]], tail: Sequence[Token], limb: str, *, opened: bool = False) -> Track | None:
    """Return the pieces with their counts; None where one can't be read."""
    out: Track = []
    behind = NOTHING
    for k, piece in enumerate(pieces):
        words = _bare(piece)
        if not words:
            out.append(Piece([], 1))
            continue
        ends = k + 1 == len(pieces) and (len(words) < len(piece) or opened)
        ends = ends or (k == 0 and words[0].low in ("first", "the first", "first time") and len(pieces) > 1)
        rest = _rests(words, last=ends, alone=len(pieces) == 1)
        if rest is not None:
            out.append(Piece([], rest))
            continue
        told, words = _told(_without_brackets(_second_time(words)))
        words = _with_tail(words, tail)
        words = _led(words, tail) if not any(p.tokens for p in out) else words
        one = ready(Item(None, list(words), words[0].line, limb=limb), Fraction(0), behind)
        behind = one.behind.here()
        length = _length(one)
        if length is None:
            return None
        out.append(Piece(words, told or length))
    return out


def _second_time(words: list[Token]) -> list[Token]:
    """ "First time rest, second time push, pull": whose turn it is stands in the order already."""
    at = next((i + 2 for i in range(min(2, len(words) - 2)) if words[i].low in ("second", "the second")), 0)
    return words[at:] if at and words[at - 1].low == "time" else words


def _without_brackets(words: list[Token]) -> list[Token]:
    """ "Heel R (front)": a place in a bracket is the piece's own."""
    inner = [t for t in words if t.kind in ("dir", "fill") or is_mark(t, "([")]
    first = next((i for i, t in enumerate(words) if is_mark(t, "([")), 0)
    last = next((i for i, t in enumerate(words) if is_mark(t, ")]")), 0)
    plain = 0 < first < last and all(t in inner for t in words[first:last])
    return [t for i, t in enumerate(words) if i not in (first, last)] if plain else words


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
    """ "Rest 4", "nothing for 4": how many counts the limb rests; ``FILLS`` for what is left; None: it moves."""
    said = [t for t in words if t.kind != "mark"]
    numbers = [t.number for t in said if t.kind == "num"]
    if len(numbers) == 2 and numbers[0] < numbers[1]:
        numbers = [numbers[1] - numbers[0] + 1]  # "nothing on 1-4"
    elif len(numbers) == 1 and any(t.low in ("until", "till") for t in said):
        numbers = [numbers[0] - 1]  # "rest until 7"
    rest = [t for t in said if t.low in RESTING or t.kind == "quiet" or t.value == "hold"]
    others = [t for t in said if t not in rest and t.kind not in SOFT and t.kind != "num"]
    if not rest or others or len(numbers) > 1:
        return None
    if numbers:
        return min(numbers[0], LONGEST)
    return FILLS if alone or last else 1


def _told(words: list[Token]) -> tuple[int, list[Token]]:
    """ "Heel forward (2)", "circle both for 4": the counts that are told, and the words without them."""
    if len(words) > 2 and is_mark(words[-1], ")]") and words[-2].kind == "num" and is_mark(words[-3], "(["):
        return words[-2].number, words[:-3]
    end = len(words) - (words[-1].kind == "count")
    for k, low in ((end - 2, ("for", "over")),):
        if k > 0 and words[end - 1].kind == "num" and words[k].low in low:
            return words[end - 1].number, words[:k]
    return 0, words


def _led(words: list[Token], tail: Sequence[Token]) -> list[Token]:
    """ "8 marches … RF first": the foot that leads is that of the first piece, where it names none."""
    leads = any(t.low in LEADING or t.low.split()[-1] in LEADING for t in tail) or len(tail) == 1
    side = next((t for t in tail if t.kind in ("side", "foot") and t.value in ("R", "L")), None)
    named = any(t.kind in ("side", "foot", "footpart") and t.value[:1] in ("R", "L") for t in words)
    return [*words, side] if leads and side is not None and not named else words


def _with_tail(words: list[Token], tail: Sequence[Token]) -> list[Token]:
    """ "R, L, R, rest (in place)": a place in the last bracket is that of each piece that names none."""
    there = [t for t in tail if t.kind == "dir" and t.value == "in place"]
    bare = not any(t.kind in ("dir", "verb", "footpart", "hand", "gest", "dual", "pattern") for t in words)
    return [*words, there[0]] if there and bare else words
