"""Ranges that stand behind their words and count back: "tap, home, tap, home, that's 1-4. Then the same again 5-8"."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.asked import asked
from softshoe.wording.counting import WHOLE, Label, is_mark, label_at

if TYPE_CHECKING:
    from collections.abc import Sequence
    from fractions import Fraction

    from softshoe.wording.lex import Token

# Words before a range that make it the name of counts danced already, or a length.
NAMING = ("repeat", "same", "mirror", "count", "num", "on", "prep")
MOVING = ("verb", "pattern", "gest", "dual", "draw", "footpart")
BEHIND = ("side", "foot", "hand", "dir", "place")
NAMED = (*MOVING, "side", "foot", "hand", "dir")
LONGEST_TOLD = 64  # counts
ASKING = ("again", "same", "repeat", "mirror")
SAYING = ("that's", "that", "thats", "is", "makes", "for", "on", "=", ",", ":", "-", "–", "—", "counts", "count",
"on counts", "on count", "over", "through")  # fmt: skip


def sentences(tokens: Sequence[Token], ends: str = ".;!") -> list[list[Token]]:
    """Return the tokens cut behind the marks that end a sentence."""
    out: list[list[Token]] = [[]]
    for token in tokens:
        out[-1].append(token)
        if is_mark(token, ends):
            out.append([])
    return [s for s in out if any(t.kind != "mark" for t in s)]


def range_behind(sentence: Sequence[Token], last: Fraction | None) -> tuple[list[Token], Label] | None:
    """Return a sentence's words and the range at its end, where that range counts back over them; else None.

    The range must begin the count (at 1) or go on from ``last``; words that name counts ("repeat 1-4") are no steps.
    """
    end = len(sentence)
    while end and is_mark(sentence[end - 1], ".;,!)"):
        end -= 1
    for i in range(max(1, end - 8), end):
        read = label_at(sentence, i) if sentence[i].kind == "num" else None
        if is_mark(sentence[i - 1], "(["):
            return None  # counts in brackets stand behind their words on the whole line
        if read is None or read[1] < end or len(read[0].wholes) < 2:
            continue
        begins = read[0].first == last + 1 if last is not None else read[0].first == 1
        words = _words_before(sentence, i)
        named = sentence[i - 1].low in ("as", "of", "like")
        asks = any(t.kind in ASKING for t in words) and last is not None and not named
        moves = any(t.kind in MOVING for t in words) and sentence[i - 1].kind not in NAMING
        return (words, read[0]) if begins and (moves or asks) else None
    return None


def _words_before(sentence: Sequence[Token], i: int) -> list[Token]:
    """Return the words before a range, without "that's" or a mark between."""
    while i and sentence[i - 1].low in SAYING:
        i -= 1
    return list(sentence[:i])


NO_COUNT_BEHIND = ("for", "over", "wall", "walls", "from", "after", "on", "section", "part", "of", "x")
REMARKS = ("mark", "fill", "join", "clock", "look", "weight", "noweight", "side", "note")


def counts_behind(tokens: Sequence[Token], last: Fraction | None) -> list[tuple[list[Token], Label | None]]:
    """Return words and the counts that stand behind each, told by the marks behind the counts: "mambo 1&2, rock 3, …".

    [] where the line is none such: fewer than two counts, one that does not go on, words left over.
    """
    if tokens[-1].kind == "word" or label_at(tokens, 0) is not None:
        return []
    if any(t.kind in ("on", "count") for t in tokens) and not _ranged(tokens):
        return []
    out: list[tuple[list[Token], Label | None]] = []
    start, i, so_far = 0, 1, last
    while i < len(tokens):
        bare = tokens[i].kind == "num" and tokens[i].dir != "spelled" and _may_stand(tokens[i - 1])
        read = label_at(tokens, i) if bare or tokens[i].kind in ("on", "count") else None
        if read is None:
            i += 1
            continue
        label, end = read
        words = list(tokens[start:i])
        moves = any(t.kind in (*MOVING, *ASKING) or (out and t.kind in BEHIND) for t in words)
        if not (_closed(tokens, end) and _goes_on(label, so_far) and moves):
            return []
        open_and = any(t.low == "and" for t in tokens[i:end])  # "…, 5 and 6": two counts, or the half between
        out.append((words, label._replace(plus=label.plus or open_and)))
        start, i, so_far = end, end, label.last
    left = [t for t in tokens[start:] if t.kind not in REMARKS]
    if len(out) > 1 and left and is_mark(tokens[start], ".!;") and asked(tokens[start:]) is not None:
        return [*out, (list(tokens[start:]), None)]  # "…, 3-4. Two times in all."
    return out if len(out) > 1 and not left else []


def _ranged(tokens: Sequence[Token]) -> bool:
    """ "…, counts 1 and 2; …, 3 and 4", "… 1, 2, 3 and … on 4": more counts than one stand bare behind words."""
    found = [i for i, t in enumerate(tokens) if t.kind == "num" and t.dir != "spelled" and i]
    bare = [i for i in found if tokens[i - 1].kind not in ("on", "count", "num")]
    read = [label_at(tokens, i) for i in bare]
    return any(r is not None and len(r[0].wholes) > 1 for r in read)


def count_at_end(tokens: Sequence[Token], last: Fraction | None) -> tuple[list[Token], Label] | None:
    """Return the words of a line and the one count behind their last comma: "Right arm up, 5"; None where none is."""
    end = len(tokens)
    while end and is_mark(tokens[end - 1], ".;!"):
        end -= 1
    if end < 3 or tokens[end - 1].kind != "num" or not is_mark(tokens[end - 2], ",-–—:="):
        return None
    words = list(tokens[: end - 2])
    counted = any(t.kind in ("num", "count") or (t.kind == "on" and label_at(words, i)) for i, t in enumerate(words))
    if counted or not any(t.kind in NAMED for t in words):
        return None
    read = label_at(tokens, end - 1)
    if read is None or len(read[0].places) != 1 or not (last is None or _goes_on(read[0], last)):
        return None
    return words, read[0]


def length_at_end(tokens: Sequence[Token], last: Fraction | None) -> tuple[list[Token], Label] | None:
    """Return the words of a line that only tells its length behind them, and its counts: "Vine right (4 counts)".

    None for any other line: one that names counts, or holds too few words of steps to be one.
    """
    end = len(tokens)
    while end and is_mark(tokens[end - 1], ".;,!)]"):
        end -= 1
    if end < 4 or tokens[end - 1].kind != "count" or tokens[end - 2].kind != "num":
        return None
    number, begin = tokens[end - 2].number, end - 3
    words = list(tokens[: begin + 1])
    while words and is_mark(words[-1], "([-–—=:,"):
        words.pop()
    if len(words) > begin or not 0 < number <= LONGEST_TOLD or any(t.kind in ("num", "count") for t in words):
        return None
    steps = sum(t.kind in (*NAMED, *ASKING, "place", "times") for t in words)
    named = any(t.kind in ("gest", "pattern") for t in words)
    if steps < 2 - named or 2 * sum(t.kind == "word" for t in words) > steps:
        return None
    first = WHOLE[last.__floor__() if last is not None else 0]
    places = tuple(first + k for k in range(1, number + 1))
    told = tokens[end - 2].start, tokens[end - 1].end, tokens[0].line
    label = Label(places, len(places) > 1, *told, plus=number == 2, floats=True)
    return words, label


def _may_stand(before: Token) -> bool:
    """Return whether a number behind this word may be a count."""
    return before.low not in NO_COUNT_BEHIND and before.kind not in (
        "repeat",
        "again",
        "same",
        "mirror",
        "num",
        "times",
    )


def _closed(tokens: Sequence[Token], end: int) -> bool:
    """Return whether a mark, or the line, ends behind a count that goes to token ``end``."""
    if end == len(tokens) or is_mark(tokens[end - 1], ".;"):
        return end == len(tokens) or not is_mark(tokens[end - 1], ":")
    if is_mark(tokens[end - 1], ",") or tokens[end].low in ("and", "then", "and then"):
        return True
    return is_mark(tokens[end], ",;.!") and not is_mark(tokens[end - 1], ":-–—|=")


def _goes_on(label: Label, so_far: Fraction | None) -> bool:
    """Return whether a count goes on from the one before, or begins an eight or a six."""
    if so_far is not None and 0 < label.first - so_far <= 1:
        return True
    return label.first.denominator == 1 and (label.first - 1) % 8 == 0 and (so_far is None or so_far % 8 == 0)


def same_for(tokens: Sequence[Token], last: Fraction | None) -> tuple[list[Token], Label, list[Token], Label] | None:
    """ "Heels up, down, up, down, and the same for 5-8": words, their counts, what asks for them again, its counts."""
    end = len(tokens)
    while end and is_mark(tokens[end - 1], ".;,!)"):
        end -= 1
    asks = next((i for i in range(max(1, end - 8), end) if tokens[i].kind in ASKING), 0)
    at = next((i for i in range(asks + 1, end) if tokens[i].kind == "num"), 0)
    read = label_at(tokens, at) if asks and at else None
    before = int(last or 0)
    if read is None or read[1] < end or len(read[0].wholes) < 2 or not before + 1 < read[0].first:
        return None
    said = all(
        t.kind in ("fill", "prep", "on", "again", "count") or t.low in ("for", "on") for t in tokens[asks + 1 : at]
    )
    apart = is_mark(tokens[asks - 1], ",.;") or tokens[asks - 1].low == "and"
    words = tokens[: asks - 1]
    if not (said and apart and tokens[at - 1].low in ("for", "on")) or any(t.kind in ("num", "on") for t in words):
        return None
    places = WHOLE[before + 1 : int(read[0].first)]
    own = Label(tuple(places), len(places) > 1, tokens[0].start, tokens[0].start, tokens[0].line)
    return (list(words), own, list(tokens[asks:at]), read[0]) if any(t.kind in MOVING for t in words) else None
