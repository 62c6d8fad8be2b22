"""Words that tell how long a clause lasts: "heel forward, back (2 counts), left the same (2)", "sway right 2, left 2".

Such lengths are no counts of the section: they follow on each other. A line is cut behind each of them.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.asked import asked
from softshoe.wording.counting import Label, is_mark
from softshoe.wording.parts import Item

if TYPE_CHECKING:
    from collections.abc import Sequence
    from fractions import Fraction

    from softshoe.wording.lex import Token

LONGEST = 32  # counts
MOST = 8  # times
LEADING = frozenset(("for", "over", "in", "takes", "through"))
DOING = frozenset(("verb", "gest", "dual", "draw", "pattern", "footpart"))
NAMING = DOING | frozenset(("side", "foot", "hand", "dir", "place", "same", "repeat", "again", "mirror", "thumb"))
NOT_A_LENGTH = frozenset(("first", "next", "last", "final", "on", "count", "counts", "from", "to", "wall", "section",
"part", "x", "after", "until", "every", "each", "all", "of", "another", "those", "these", "the", "same", "that", "this",
"more", "previous", "above", "your", "my", "our"))  # fmt: skip
SHARING = frozenset(("each", "a", "per", "either", "every"))  # "two counts each": told of several things at once
STRUCK = frozenset(("clap", "snap", "pat", "stomp", "bounce"))
WALKS = ("walk", "run", "stroll", "step", "shuffle")
TAPS = ("tap", "stamp", "nod", "pulse", "bump", "kick")
LEADERS = frozenset(("first", "starting", "start", "leading", "beginning", "begin"))
ENDS = ".!;"
PARTS = ",;.:)]!|–—-"


class Piece(NamedTuple):
    """Words and how many counts they last; 0 where no word says."""

    words: list[Token]
    length: int
    told: tuple[int, int] = (0, 0)  # the characters that say so
    heads: tuple[Token, ...] = ()  # joints before the words
    stopped: bool = False  # a full stop stands before them


class _Length(NamedTuple):
    """A length told by the tokens from ``begin`` to ``end``; ``plain`` is a number without any word for counts."""

    begin: int
    end: int
    n: int
    plain: bool
    bracket: bool


def told_lengths(tokens: Sequence[Token], whole: int = 0) -> list[Piece]:
    """Return the pieces of a line that tells its lengths behind its words; [] for any other.

    ``whole`` is how many counts the line has in all, 0 where it names none.
    """
    if not any(t.kind == "num" for t in tokens):
        return []
    ways = _by_ways(tokens, whole)
    if ways:
        return ways
    found = _found(tokens)
    breath = any(t.low.startswith(("breath", "inhal", "exhal")) for t in tokens)
    if breath and not any(t.kind in DOING and t.value != "hold" for t in tokens):
        return []  # "breathe in for two, out for two"
    if not found or (whole and (len(found) < 2 or sum(one.n for one in found) != whole)) or _are_counts(found):
        return []
    pieces: list[Piece] = []
    at = 0
    for one in found:
        cut = next((i for i in range(one.begin - 1, at, -1) if is_mark(tokens[i], ENDS)), 0) if not whole else 0
        before = _bare(tokens[at:cut]) if cut else []
        if before:  # sentences that don't say how long
            pieces.append(Piece(before, 0, stopped=bool(pieces)))
            at = cut
        words = _bare(tokens[at : one.begin])
        first = (
            NAMING if len(found) > 1 and not any(o.plain and not o.bracket for o in found) else (*DOING, "hand")
        )  # "R fwd (2), L fwd (2)"
        if not any(t.kind in (NAMING if pieces else first) for t in words) or not _one_thing(words, one, whole):
            return []
        if not pieces and (_only_waits(words, one) or _walks(words, one)):
            return []
        pieces.append(_piece(tokens, at, one, words))
        at = one.end
        if one.bracket and at < len(tokens) and tokens[at].kind == "times" and 1 < int(tokens[at].value) <= MOST:
            pieces += [pieces[-1]._replace(heads=())] * (int(tokens[at].value) - 1)  # "toe fan (2 counts) x2"
            at += 1
    return _with_rest(pieces, tokens, at, whole)


def tells_lengths(tokens: Sequence[Token]) -> bool:
    """Return whether a limb's words tell lengths in brackets, and no counts: "heel forward (2), home (2)"."""
    bracketed = [
        two.number
        for one, two, three in zip(tokens, tokens[1:], tokens[2:], strict=False)
        if two.kind == "num" and is_mark(one, "([") and is_mark(three, ")]")
    ]
    rising = all(b > a for a, b in pairwise(bracketed))
    return (
        bool(bracketed)
        and not is_mark(tokens[0], "([")
        and tokens[0].kind != "num"
        and (len(bracketed) < 2 or not rising)
    )


def _with_rest(pieces: list[Piece], tokens: Sequence[Token], at: int, whole: int) -> list[Piece]:
    """Return the pieces with what stands behind the last length; [] where that is a movement with no length."""
    rest = _bare(tokens[at:])
    if rest and not whole and asked(rest) is not None:
        return [*pieces, Piece(rest, 0, stopped=True)]  # "…, push forward (2). Twice."
    if rest and all(t.kind in ("hand", "fill", "prep", "mark") for t in rest) and any(t.value == "both" for t in rest):
        return [*pieces[:-1], pieces[-1]._replace(heads=(*pieces[-1].heads, *rest))]  # "… (2) - both hands"
    leads = any(t.low in LEADERS for t in rest) and not any(t.kind in DOING for t in rest)
    if any(t.kind in NAMING for t in rest) and not leads:
        stopped = at and (is_mark(tokens[at - 1], ENDS) or (at < len(tokens) and is_mark(tokens[at], ENDS)))
        if whole or not stopped:
            return []
        pieces.append(Piece(rest, 0, stopped=True))
    elif rest:
        pieces[-1] = pieces[-1]._replace(words=[*pieces[-1].words, _comma(rest[0]), *rest])
    return pieces


def length_items(pieces: Sequence[Piece], before: Fraction, *, floats: bool) -> list[Item]:
    """Return the pieces of a line as items behind the count ``before``."""
    items: list[Item] = []
    for piece in pieces:
        places = tuple(before + k for k in range(1, piece.length + 1))
        line = piece.words[0].line
        both = floats and len(places) == 2  # a shuffle told for two counts
        label = Label(places, len(places) > 1, *piece.told, line, plus=both, floats=floats) if places else None
        items.append(Item(label, piece.words, line, stopped=piece.stopped, heads=list(piece.heads)))
        before += piece.length
    return items


def _with_posture(words: list[Token]) -> list[Token]:
    """ "Hands on knees, sway right 2": what the hands take up first is theirs from the first count."""
    comma = next((i for i, t in enumerate(words) if is_mark(t, ",")), 0)
    posture = comma and words[0].kind == "hand" and not any(t.kind in DOING - {"footpart"} for t in words[:comma])
    if not posture or any(t.kind in ("mark", "hand", "gest") for t in words[comma + 1 :]):
        return words
    return [*words[:comma], words[comma]._replace(kind="join", value="with", low="while"), *words[comma + 1 :]]


def _after(before: Sequence[Token], words: list[Token]) -> list[Token]:
    """ "Sway right 2, left 2": a side alone does what the clause before did, where that named no more than a side."""
    if len(words) != 1 or words[0].kind != "side":
        return words
    doing = next((i for i in range(len(before) - 1, -1, -1) if before[i].kind in ("verb", "gest")), -1)
    said = [t for t in before[doing + 1 :] if t.kind not in ("mark", "num", "count", "join", "fill", "prep")]
    plain = doing >= 0 and before[doing].value == "sway" and all(t.kind == "side" for t in said)
    return [before[doing], *words] if plain else words


def _piece(tokens: Sequence[Token], at: int, one: _Length, words: list[Token]) -> Piece:
    """Return the words from token ``at`` to a length; a plain number of what is struck says how often."""
    heads = tuple(t for t in tokens[at : one.begin] if t.start < words[0].start)
    stopped = any(is_mark(t, ENDS) for t in (*tokens[max(0, at - 1) : at], *heads))
    words = _after(tokens[:at], _with_posture(words))
    said = tokens[one.begin : one.end]
    doing = next((t for t in reversed(words) if t.kind in DOING), None)
    if one.plain and not one.bracket and doing is not None and (doing.value in STRUCK or doing.low.startswith(TAPS)):
        words = [*words, said[0]._replace(kind="times")]
    return Piece(words, one.n, (said[0].start, said[-1].end), heads, stopped)


def _by_ways(tokens: Sequence[Token], whole: int) -> list[Piece]:
    """ "Circle the hands, 4 forward and 4 back", "four counts forward, four counts back": the length before its way."""
    starts = [i for i, t in enumerate(tokens) if t.kind == "num"]
    head = list(tokens[: starts[0]]) if len(starts) > 1 else []
    if not any(t.kind in DOING and t.value != "hold" for t in head) or any(t.low.startswith(WALKS) for t in head):
        return []
    pieces: list[Piece] = []
    for i, end in zip(starts, [*starts[1:], len(tokens)], strict=True):
        rest = _bare([t for t in tokens[i + 1 : end] if t.kind != "count"])
        plain = [t.low for t in rest if t.kind not in ("dir", "fill", "prep")]
        if not any(t.kind == "dir" for t in rest) or plain or tokens[i].number < 2:
            return []
        words = [*_bare(head), *rest] if not pieces else rest
        pieces.append(Piece(words, tokens[i].number, (tokens[i].start, tokens[i].end)))
    return pieces if not whole or sum(p.length for p in pieces) == whole else []


def _only_waits(words: Sequence[Token], one: _Length) -> bool:
    """ "Wait 12 counts" is how a band is listened to; "Hold (3 counts)" is danced."""
    doing = [t for t in words if t.kind in DOING]
    held = bool(doing) and doing[0].low.startswith("hold") and one.bracket
    hands = any(t.kind == "hand" for t in words)
    return all(t.value == "hold" for t in doing) and not held and not hands


def _walks(words: Sequence[Token], one: _Length) -> bool:
    """ "Walk forward 2, back 2": how many steps."""
    return one.plain and not one.bracket and any(t.low.startswith(WALKS) for t in words)


def _comma(token: Token) -> Token:
    return token._replace(kind="mark", value=",", dir="", text=",", end=token.start, low=",")


def _one_thing(words: Sequence[Token], one: _Length, whole: int) -> bool:
    """ "Tap right, then hold for 3": without a bracket or a comma before it, a length is that of one doing word."""
    if whole or one.bracket:
        return True
    parts = DOING - {"footpart"} if any(t.kind == "hand" for t in words) else DOING  # "hands on knees, sway right 2"
    return sum(t.kind in parts for t in words) < 2 or is_mark(words[-1], ",")


def _are_counts(found: Sequence[_Length]) -> bool:
    """ "Step right 1, left 2, right 3": plain numbers that rise are counts; so is one alone."""
    numbers = [one.n for one in found]
    if not all(one.plain for one in found):
        return False
    return len(found) < 2 or all(b > a for a, b in pairwise(numbers))


def _found(tokens: Sequence[Token]) -> list[_Length]:
    out: list[_Length] = []
    i = 0
    while i < len(tokens):
        one = _at(tokens, i) if tokens[i].kind == "num" else None
        if one is None and tokens[i].kind == "num":
            return []  # a number of another kind: the line is no such list
        if one is not None:
            out.append(one)
        i = one.end if one is not None else i + 1
    return out


def _at(tokens: Sequence[Token], i: int) -> _Length | None:
    """Return the length whose number is token i."""
    n = tokens[i].number
    begin, end = i, i + 1
    word = end < len(tokens) and tokens[end].kind == "count"
    end += word
    if begin and tokens[begin - 1].low in LEADING:
        begin, word = begin - 1, True
    before = tokens[begin - 1] if begin else None
    if n < 2 and begin < i and tokens[end - 1].kind != "count":
        return None  # "for 1, 2, 3, 4"
    if before is None or not 0 < n <= LONGEST or before.low in NOT_A_LENGTH or before.kind in ("num", "on", "count"):
        return None
    if is_mark(before, "([") and end < len(tokens) and is_mark(tokens[end], ")]"):
        return _Length(begin - 1, end + 1, n, not word, bracket=True)
    closed = end == len(tokens) or is_mark(tokens[end], PARTS) or tokens[end].kind == "join"
    if not closed or tokens[end - 1].low in SHARING:
        return None
    holds = before.value == "hold"
    if not word and ((n < 2 and not holds) or before.kind not in NAMING or tokens[i].glued):
        return None
    comma = is_mark(before, ",;:–—-")
    return _Length(begin, end, n, not word, bracket=comma)


def _bare(tokens: Sequence[Token]) -> list[Token]:
    """Return the words without marks and joints at either end."""
    words = list(tokens)
    while words and (is_mark(words[0], ",;.:|!–—-)]") or words[0].low in ("and", "then", "&")):
        words.pop(0)
    while words and (is_mark(words[-1], ",;.:|!–—-([") or words[-1].low in ("and", "then", "&")):
        words.pop()
    return words
