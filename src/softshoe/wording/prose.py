"""Sentences that tell their counts among their words: "step right on 1 and home on 2. Then, on 3, touch left …".

A count stands before its words ("on 3 touch left") or behind them ("home, two"). What stands between two counts belongs
to the one whose words it is. A sentence without a count in such a line is a remark, unless it says how long it lasts.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING

from softshoe.wording.counting import Label, counts_named, is_mark, label_at, leads_counts
from softshoe.wording.parts import Item
from softshoe.wording.ranges_behind import sentences
from softshoe.wording.woven import interleaved

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.lex import Token

ENDS = ".;!?"
PARTS = ",:(–—-|"
MOVING = ("verb", "pattern", "gest", "dual", "draw", "footpart", "dir", "side", "foot", "hand", "place", "amount",
"again", "same", "repeat", "mirror")  # fmt: skip
DOING = ("verb", "pattern", "gest", "dual", "draw", "again", "same", "repeat", "mirror")
COPYING = ("again", "same", "repeat", "mirror")
SUMMING = ("that's", "thats", "that’s", "that is", "makes", "making")  # "…, that's one, two, three, four"
JOINING = ("and", "then", "and then", "but", "now", "so")


@dataclass(frozen=True, slots=True)
class Told:
    """A count in a sentence: its tokens from ``start`` to ``end``; ``ahead`` says that its words follow it."""

    start: int
    end: int
    label: Label
    ahead: bool


def prose_items(tokens: Sequence[Token], line: int, last: Fraction | None) -> list[Item] | None:
    """Return the items of a line of prose; None where it is none (fewer than two counts told that way)."""
    told_so = _counted_back([(words, _told(words)) for words in map(_without_head, sentences(tokens, ENDS))])
    counts = [t.label for _, told in told_so for t in told]
    if not counts and told_so and all(_length(words) and _leads(words) for words, _ in told_so):
        return _lengthened([Item(None, _trimmed(words), line, stopped=True) for words, _ in told_so], last)
    if len(counts) < (1 if any(_alone_will_do(words, t) for words, told in told_so for t in told) else 2) or any(
        b.first <= a.last for a, b in pairwise(counts)
    ):
        return None
    items: list[Item] = []
    for words, told in told_so:
        if not told:
            _uncounted(words, items, line, last)
            continue
        if woven := interleaved(words):
            items.append(woven)
            continue
        if any(_listed(words, t) for t in told):
            return None
        found = _counted(words, told, line)
        if found is None:
            return None
        found = _run_up(found, told, next((i.label.last for i in reversed(items) if i.label), last))
        if items:
            found[0].stopped = True
        items += found
    return _lengthened(items, last)


def _alone_will_do(words: Sequence[Token], told: Told) -> bool:
    """ "Heel in front, toe behind. That's one, two.", "roll for three counts and clap on four": one count is enough."""
    return told.start == len(words) or (not told.ahead and _own_length(words[: told.start]) > 0)


def _counted_back(sentences: list[tuple[list[Token], list[Told]]]) -> list[tuple[list[Token], list[Told]]]:
    """ "Heel in front, toe behind. That's one, two.": counts alone in a sentence are those of the one before."""
    out: list[tuple[list[Token], list[Told]]] = []
    for words, told in sentences:
        label = None if told or _moves(words) else _alone(words)
        if label is not None and out and not out[-1][1] and _moves(out[-1][0]):
            before = out[-1][0]
            out[-1] = (before, [Told(len(before), len(before), label, ahead=False)])
        else:
            out.append((words, told))
    return out


def _alone(words: Sequence[Token]) -> Label | None:
    """Return the counts of a sentence that holds nothing else but "that's" or "and"."""
    found = [f for i in range(len(words)) if words[i].kind == "num" and (f := label_at(words, i)) is not None]
    return found[0][0] if found and len(found[0][0].places) > 1 else None


def _without_head(words: list[Token]) -> list[Token]:
    """ "Keep the feet still on 5 to 8: clap on 5, hold on 6 …": a range before a colon only sums up what it heads."""
    colon = next((i for i, t in enumerate(words) if is_mark(t, ":")), 0)
    if not colon or any(t.kind in DOING and t.value != "hold" for t in words[:colon]):
        return words
    head = next((found[0] for i in range(colon) if (found := _count_at(words, i)) is not None), None)
    rest = words[colon + 1 :]
    first = next((found[0] for i in range(len(rest)) if (found := _count_at(rest, i)) is not None), None)
    heads = head is not None and first is not None and len(head.places) > 1 and head.first == first.first
    return rest if heads else words


def _moves(tokens: Sequence[Token]) -> bool:
    return any(t.kind in MOVING for t in tokens)


def _told(words: Sequence[Token]) -> list[Told]:
    """Return the counts of a sentence in order."""
    out: list[Told] = []
    i = 0
    while i < len(words):
        found = _count_at(words, i) or (_next_one(words, i, out[-1].label.last) if out else None)
        if found is None or (out and found[0].first <= out[-1].label.last):
            i += 1
            continue
        label, end = found
        if out and _only_joints(words[out[-1].end : i]) and not _moves(words[end : _next(words, end)]):
            whole = out[-1].label._replace(places=(*out[-1].label.places, *label.places), ranged=False, single=True)
            out[-1] = replace(out[-1], end=end, label=whole)  # "on 1, on 2 and on 3"
            i = end
            continue
        boundary = i == 0 or is_mark(words[i - 1], PARTS) or words[i - 1].low in JOINING
        spelled = words[i].dir == "spelled"
        behind = words[end : _next(words, end)]
        led = i == 0 or (bool(out) and out[-1].ahead)
        ahead = boundary and _moves(behind) and not (spelled and not led)
        if ahead or _moves(words[out[-1].end if out else 0 : i]):
            out.append(Told(i, end, label, ahead))
        i = end
    return out


def _next_one(words: Sequence[Token], i: int, last: Fraction) -> tuple[Label, int] | None:
    """ "Clap on six, clap seven and eight": what is done on the very next count, and those after."""
    if words[i].kind != "num" or words[i].number != last + 1 or words[i - 1].kind not in ("gest", "place", "verb"):
        return None
    label, end = _in_a_row(words, i)
    stops = end >= len(words) or words[end].kind == "mark" or words[end].low in JOINING
    return (label, end) if stops else None


def _in_a_row(words: Sequence[Token], i: int) -> tuple[Label, int]:
    """Return the whole counts from token i on, "two", "two and three", "2, 3, 4", and where they end."""
    end, places = i + 1, [Fraction(words[i].number)]
    while end + 1 < len(words) and words[end].low in ("and", ",", "&") and words[end + 1].kind == "num":
        if words[end + 1].number != places[-1] + 1:
            break
        places.append(places[-1] + 1)
        end += 2
    return Label(tuple(places), False, words[i].start, words[end - 1].end, words[i].line, single=True), end


def _only_joints(words: Sequence[Token]) -> bool:
    return all(t.low in ("and", ",", "&") for t in words)


def _listed(words: Sequence[Token], told: Told) -> bool:
    """ "Push on 1 and 5": counts far apart are a list for the one thing before them."""
    joint = told.end < len(words) and words[told.end].low in ("and", "&", ",", "or")
    return (
        joint
        and told.end + 1 < len(words)
        and label_at(words, told.end + 1) is not None
        and (words[told.end + 1].kind == "num" and words[told.end + 1].dir != "spelled")
    )


def _next(words: Sequence[Token], start: int) -> int:
    """Return where the next count begins."""
    return next((j for j in range(start, len(words)) if _count_at(words, j) is not None), len(words))


def _count_at(words: Sequence[Token], i: int) -> tuple[Label, int] | None:
    """Return the count at token i: "on 3", "for counts 5 to 8", ", three, four", "hold 2" behind another."""
    token = words[i]
    named = counts_named(words, i) and (i == 0 or words[i - 1].low not in ("as", "like", "of", "same", "repeat"))
    over = token.low == "over" and i + 2 < len(words) and words[i + 1].kind == "num" and words[i + 2].low == "and"
    if token.kind == "on" or named or leads_counts(words, i):
        found = label_at(words, i)
    elif over:
        found = _in_a_row(words, i + 1)  # "drag the left foot over 2 and 3"
    elif token.dir == "spelled" and token.kind == "num" and _apart(words, i):
        found = label_at(words, i)
        if found is not None and words[i - 1].low == "for" and len(found[0].places) < 2:
            found = None
        if found is not None and not any(is_mark(t, ",.;:!?–—-") for t in words[found[1] - 1 : found[1] + 1]):
            found = None
    elif is_mark(token, "(") and i + 2 < len(words) and is_mark(words[i + 2], ")"):
        found = label_at(words, i)  # "rock back on the left (3)" among sentences
    elif token.kind == "num" and i > 0 and words[i - 1].value == "hold":
        found = label_at(words, i)
    else:
        found = None
    return found


def _apart(words: Sequence[Token], i: int) -> bool:
    """Return whether token i begins a clause: "home, two", ", and eight, tap"."""
    joint = i > 1 and words[i - 1].low in JOINING
    return i == 0 or is_mark(words[i - 2 if joint else i - 1], ",.;:–—-") or words[i - 1].low in ("for", *SUMMING)


def _run_up(items: list[Item], told: Sequence[Told], last: Fraction | None) -> list[Item]:
    """ "Walk right, left, right, and kick on 4": the count is the last clause's, those before it lead up to it."""
    behind = {id(t.label) for t in told if not t.ahead}
    out: list[Item] = []
    for item in items:
        label = item.label
        if label is not None and id(label) in behind and label.first.denominator == 1:
            before = last if last is not None else Fraction((int(label.first) - 1) // 8 * 8)
            out += _led_up(item, label, before) if before.denominator == 1 and label.first - before > 1 else [item]
        else:
            out.append(item)
        last = label.last if label is not None else last
    return out


def _led_up(item: Item, label: Label, before: Fraction) -> list[Item]:
    """Return the clauses that lead up to a count from the one ``before``, and the last one, which stands on it."""
    tokens = item.tokens
    places = tuple(before + k for k in range(1, int(label.first - before) + 1))
    cuts = [i for i, t in enumerate(tokens) if is_mark(t, ",;") or t.low in JOINING]
    cut = next((i for i in reversed(cuts) if any(t.kind in DOING for t in tokens[i:])), 0)
    lead = _trimmed(tokens[:cut])
    if any(t.kind in DOING for t in lead):
        run = Label(places[:-1], len(places) > 2, lead[0].start, lead[-1].end, item.line)
        item.tokens = _trimmed(tokens[cut:])
        return [Item(run, lead, item.line, stopped=item.stopped), item]
    if len(label.places) == 1 and sum(t.kind == "side" for t in tokens) == len(places):
        item.label = label._replace(places=places, ranged=True)  # "march right, left, right, left on 8"
    return [item]


def _counted(words: Sequence[Token], told: list[Told], line: int) -> list[Item] | None:
    """Return the items of a sentence, one a count."""
    pieces: list[list[Token]] = [[] for _ in told]
    lead = _without_copy(words[: told[0].start])
    if not told[0].ahead or (_moves(lead) and not any(t.kind in COPYING for t in lead)):
        pieces[0] += lead
    for k, one in enumerate(told):
        after = told[k + 1] if k + 1 < len(told) else None
        gap = words[one.end : after.start if after else len(words)]
        if after is None or after.ahead:
            pieces[k] += gap
        elif not one.ahead:
            cut = _still_before(gap)
            pieces[k] += gap[:cut]
            pieces[k + 1] += gap[cut:]
        else:
            cut = _boundary(gap)
            pieces[k] += gap[:cut]
            pieces[k + 1] += gap[cut:]
    cut = _posture(pieces[-1]) if len(pieces) > 1 and not any(t.kind in ("hand", "gest") for t in pieces[0]) else 0
    if cut:
        comma = pieces[-1][cut]._replace(kind="join", value="with", low="while")
        pieces[0], pieces[-1] = [*_trimmed(pieces[0]), comma, *pieces[-1][cut + 1 :]], pieces[-1][:cut]
    if not all(_moves(p) for p in pieces):
        return None
    out: list[Item] = []
    for one, piece in zip(told, pieces, strict=True):
        cut = 0 if one.ahead else _own_length(piece)
        out += [Item(None, _trimmed(piece[:cut]), line)] if cut else []
        out.append(Item(one.label, _trimmed(piece[cut:]), line))
    return out


def _posture(piece: Sequence[Token]) -> int:
    """ "…, hold on 2 and 3, hands resting on the thighs": return the comma before it, or 0."""
    cut = next((i for i in range(len(piece) - 1, 0, -1) if is_mark(piece[i], ",")), 0)
    words = piece[cut + 1 :] if cut else []
    rests = any(t.kind == "hand" for t in words) and any(t.kind == "place" or t.value.endswith("knee") for t in words)
    plain = all(t.kind not in DOING or (t.value == "rest" and t.low.endswith("ing")) for t in words)
    return cut if rests and plain and not any(t.kind in ("dir", "num") for t in words) else 0


def _own_length(piece: Sequence[Token]) -> int:
    """ "Roll the hands for two counts, clap on 3": return where the clause with a length of its own ends, or 0."""
    cuts = [i for i, t in enumerate(piece) if is_mark(t, ",") or t.low in JOINING]
    return next((i for i in cuts if _length(piece[:i]) and _moves(piece[i:])), 0)


def _without_copy(lead: Sequence[Token]) -> Sequence[Token]:
    """ "And again: out with the right, five …", "Other side: on count 5 …": the copy is told in full behind it."""
    colon = next((i for i, t in enumerate(lead) if is_mark(t, ":")), None)
    if colon is None or not any(t.kind in COPYING for t in lead[:colon]):
        return lead
    return lead[colon + 1 :]


def _still_before(gap: Sequence[Token]) -> int:
    """ "Push on 1 at chest height and pull on 2": a place behind the count is the place of what stands before it."""
    feet = _feet_told(gap)
    if feet:
        return feet
    meanwhile = bool(gap) and gap[0].kind == "join" and gap[0].value == "while"
    cut = next((i for i, t in enumerate(gap) if is_mark(t, ",") or t.low in JOINING), 0)
    if meanwhile and cut and _moves(gap[cut:]):
        return cut  # "kick on 1 as the left arm reaches forward, and step on 2"
    plain = (
        bool(cut)
        and gap[0].kind in ("prep", "place", "dir", "weight", "bearing", "takeweight", "noweight")
        and not any(t.kind in DOING for t in gap[:cut])
    )
    return cut if plain and _moves(gap[cut:]) else 0


def _feet_told(gap: Sequence[Token]) -> int:
    """ "Walk on one, two, three - right, left, right - and lift …": return where the feet told once more end, or 0."""
    end = next((i for i, t in enumerate(gap) if t.kind != "side" and not is_mark(t, "-–—,:()")), len(gap))
    joint = end < len(gap) and (gap[end].low in JOINING or is_mark(gap[end - 1], "-–—)"))
    return end if joint and sum(t.kind == "side" for t in gap[:end]) > 1 and _moves(gap[end:]) else 0


def _boundary(gap: Sequence[Token]) -> int:
    """Return where the words of the next count begin, between a count before its words and one behind them."""
    cuts = [i for i, t in enumerate(gap) if is_mark(t, PARTS) or t.low in JOINING]
    return next((i for i in reversed(cuts) if _moves(gap[:i]) and _moves(gap[i:])), len(gap))


def _trimmed(tokens: Sequence[Token]) -> list[Token]:
    """Return the words without joints and marks at either end."""
    start, end = 0, len(tokens)
    while start < end and (is_mark(tokens[start], PARTS + ENDS) or tokens[start].low in JOINING):
        start += 1
    while end > start and (is_mark(tokens[end - 1], ",;:|([") or tokens[end - 1].low in JOINING):
        end -= 1
    return list(tokens[start:end])


def _uncounted(words: list[Token], items: list[Item], line: int, last: Fraction | None) -> None:
    """A sentence without a count: a length of its own, a hold of the one before, a copy, or a remark."""
    del last
    copies = any(t.kind in COPYING for t in words) and not any(t.kind == "word" for t in words)
    if _length(words) or (copies and not _again_at_end(words)):
        items.append(Item(None, _trimmed(words), line, stopped=True))
        return
    first = next((t for t in words if t.kind not in ("mark", "fill") and t.low not in JOINING), None)
    if items and items[-1].label is not None and first is not None and first.value == "hold":
        items[-1].tokens = [*items[-1].tokens, *words]
        return
    items.append(Item(None, _trimmed(words), line, remark=True))


def _again_at_end(words: Sequence[Token]) -> bool:
    """ "The left hand pats, the right hand pats, and those two again": what is danced again is its own."""
    copy = next(i for i, t in enumerate(words) if t.kind in COPYING)
    own = sum(t.kind in ("verb", "pattern", "gest", "dual") for t in words[:copy])
    return own > 1 and all(t.kind in ("mark", "fill") for t in words[copy + 1 :])


def _length(words: Sequence[Token]) -> int:
    """Return how many counts a sentence says it lasts ("for two counts"), where something moves in it."""
    if not any(t.kind in DOING and t.value != "hold" for t in words):
        return 0
    for i, token in enumerate(words[:-1]):
        ends = words[i + 1].kind == "count" or (words[i - 1].low == "for" and is_mark(words[i + 1], ":,.;"))
        if token.kind == "num" and ends and i and words[i - 1].low in ("for", "over", "takes"):
            return token.number
    return 0


def _leads(words: Sequence[Token]) -> bool:
    """ "For four counts walk …", "Walk forward for four: right, left, …": the length is told of what follows."""
    return words[0].low == "for" or any(is_mark(b, ":") and a.kind in ("num", "count") for a, b in pairwise(words))


def _lengthened(items: list[Item], last: Fraction | None) -> list[Item]:
    """Give a sentence that only says its length the counts before those of the next one."""
    now = last or Fraction(0)
    for i, item in enumerate(items):
        length = 0 if item.label is not None or item.remark else _length(item.tokens)
        after = items[i + 1].label if i + 1 < len(items) else None
        if length and (after is None or after.first == now + length + 1) and now.denominator == 1:
            places = tuple(now + k for k in range(1, length + 1))
            item.label = Label(places, True, item.tokens[0].start, item.tokens[-1].end, item.line)
        if item.label is not None:
            now = item.label.last
    return items
