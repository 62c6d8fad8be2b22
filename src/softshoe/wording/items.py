"""A line's words cut at its count labels, wherever the labels stand: before the words, behind them, in columns."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.and_counts import counted_ands
from softshoe.wording.beats import MARKS, beat_items
from softshoe.wording.counting import Label, is_mark, label_at
from softshoe.wording.counts_within import counted_within
from softshoe.wording.hours import facings_back, with_hours
from softshoe.wording.keeping import LONGEST_KEPT, MOST_KEPT
from softshoe.wording.labels import WORDS_OF, Row, listed
from softshoe.wording.lengths_told import length_items, tells_lengths, told_lengths
from softshoe.wording.lex import Token, tokens_of
from softshoe.wording.limb_counts import counted_before
from softshoe.wording.limbed import bare, limbed, with_arms
from softshoe.wording.limbs import limb_of, limbs_in_a_row
from softshoe.wording.looking import told
from softshoe.wording.named_counts import (
    counted_under_a_name,
    lengths_ahead,
    name_before_counts,
    next_few,
    tells_how_often,
)
from softshoe.wording.parts import Item
from softshoe.wording.prose import prose_items
from softshoe.wording.ranges_behind import count_at_end, counts_behind, length_at_end, range_behind, same_for, sentences
from softshoe.wording.remark import talks
from softshoe.wording.shape import shape
from softshoe.wording.shared_place import placed_alike
from softshoe.wording.woven import interleaved

if TYPE_CHECKING:
    from collections.abc import Sequence

PROSAIC = ("on", "count", "prep")


def items_of(text: str, *, line: int, offset: int, last: Fraction | None = None) -> list[Item]:
    """Return the items of a line (without its section's name); ``last`` is the count the section has come to."""
    if MARKS.search(text):
        return [item.moved(offset, line) for item in beat_items(text)]
    found = _kept(text, last) if len(text) <= LONGEST_KEPT else _items(text, last)
    return [item.moved(offset, line) for item in found]


@lru_cache(maxsize=MOST_KEPT)
def _kept(text: str, last: Fraction | None) -> tuple[Item, ...]:
    return tuple(_items(text, last))


def _items(text: str, last: Fraction | None) -> list[Item]:
    """Return the items of a line as if it stood alone: on line 0, from character 0."""
    if parts := limbs_in_a_row(text):
        items = [item.moved(at, 0) for at, words in parts for item in _items(words, last)]
        return counted_before(text[: min(at for at, _ in parts)], items)
    told_ahead = lengths_ahead(text, last)
    if not told_ahead and (few := next_few(text, last)) is not None:
        told_ahead = [(*few, len(text))]
    if told_ahead:
        return _ahead(text, told_ahead)
    limb, begin = limb_of(text)
    tokens = told(tokens_of(text[begin:], line=0, offset=begin))
    tokens = counted_ands(tokens, last) if "&" in text or "and" in text else tokens
    if not tokens:
        return []
    tokens = with_hours(placed_alike(tokens))
    heads = list(tokens_of(text[:begin], line=0)) if begin else []
    if limb and (tells_lengths(tokens) or (is_mark(tokens[0], "-–—.") and not tokens[0].glued)):
        return [Item(None, list(tokens), 0, limb, heads=heads)]
    row = Row(tokens)
    if tells_how_often(tokens, last):
        return [Item(None, bare(tokens), 0, limb, heads=heads)]
    head = row.label_at(0)
    if head is not None and not any(i >= head[1] for i in row.begins):
        label, words = _held(head[0], tokens[head[1] - 1 :])
        items = [limbed(Item(label, bare(words), 0))]
        items = with_arms(items[0])
    else:
        if listed(tokens):
            heads, row = [*heads, *tokens[:2]], Row(tokens[2:])
        rest = _without_summary(row)
        items = [] if limb else _by_lengths(row, head, last)
        items = items or counted_within(row.tokens, head) or _cut(text[begin:], row, rest, Line(begin, last, limb))
        heads += row.tokens[: len(row.tokens) - len(rest.tokens)]
    for item in items:
        item.limb = item.limb or limb
    if limb == "feet":
        items = [part for item in items for part in with_arms(item)]  # "1  Feet: home  Arms: down"
    for item in items[:1]:
        item.heads = [*heads, *item.heads]
    return facings_back(items)


def _ahead(text: str, found: Sequence[tuple[Label, int, int]]) -> list[Item]:
    """ "4 counts: clap", "next four: …": the items behind each length."""
    items: list[Item] = []
    before = 0
    for label, begin, end in found:
        words = told(tokens_of(text[begin:end], line=0, offset=begin))
        heads = list(tokens_of(text[before:begin], line=0, offset=before))
        items += with_arms(limbed(Item(label, bare(words), 0, heads=heads))) if words else []
        before = end
    return items


class Line(NamedTuple):
    """Where a line's words begin, the count before it, its limb."""

    offset: int
    last: Fraction | None
    limb: str


def _cut(text: str, row: Row, rest: Row, line: Line) -> list[Item]:
    """Cut a line's words at its count labels; ``rest`` are the words without a range that only sums them up."""
    named = counted_under_a_name(row.tokens)
    if named is not None:
        return [limbed(named)]
    title = name_before_counts(row.tokens, line.last) if not line.limb else 0
    if title:
        items = _before(Row(row.tokens[title:]), line.last)
        items[0].heads = row.tokens[:title]
        return items
    edge = _at_edge(text, line.offset)
    if edge is not None:
        return edge
    several = not line.limb and len(rest.begins) > 1 and rest.label_at(0) is None
    behind = counts_behind(rest.tokens, line.last) if several else []
    if behind:
        return [limbed(Item(label, bare(words), 0)) for words, label in behind]
    single = count_at_end(rest.tokens, line.last) if not line.limb else None
    single = single or (length_at_end(row.tokens, line.last) if not line.limb else None)
    if single is not None:
        return [limbed(Item(single[1], bare(single[0]), 0))]
    if not line.limb and (again := _same_for(rest, line)):
        return again
    if not line.limb and (woven := interleaved(rest.tokens)) is not None:
        return [woven]
    said = _in_prose(rest, line)
    if said is not None:
        return said
    told = _told_amid(rest)
    if told is not None and not line.limb:
        return [told]
    counted_back = _counted_back(row, line.last) if not line.limb else []
    if counted_back:
        return counted_back
    amid = _amid(rest)
    if amid is not None:
        return [amid]
    if _trailing(rest):
        return [limbed(item) for item in _behind(rest)]
    items = _before(rest, line.last)
    return [part for item in items for part in with_arms(limbed(item))]


def _same_for(row: Row, line: Line) -> list[Item]:
    """ "…, and the same for 5-8": what is danced, and its copy; [] for other lines."""
    found = same_for(row.tokens, line.last)
    if found is None:
        return []
    words, own, asking, label = found
    return [*with_arms(limbed(Item(own, bare(words), 0))), Item(label, bare(asking), 0)]


def _by_lengths(row: Row, head: tuple[Label, int] | None, last: Fraction | None) -> list[Item]:
    """ "Sway right 2, left 2", "1-8 sway right (2), …": items that follow on each other; [] for other lines."""
    whole = len(head[0].wholes) if head is not None else 0
    if head is not None and (whole < 2 or whole != len(head[0].places)):
        return []
    pieces = told_lengths(row.tokens[head[1] :] if head is not None else row.tokens, whole)
    before = head[0].first - 1 if head is not None else last or Fraction(0)
    items = length_items(pieces, before, floats=head is None)
    if items and head is not None:
        items[0].heads = [*row.tokens[: head[1]], *items[0].heads]
    return items


def _in_prose(row: Row, line: Line) -> list[Item] | None:
    """Return the items of sentences that tell their counts among their words; None where the line is none of them."""
    tokens = row.tokens
    if line.limb or not (tokens[0].kind in PROSAIC or row.label_at(0) is None):
        return None
    if not any(t.kind in ("on", "count") or t.dir == "spelled" for t in tokens):
        return None
    items = prose_items(tokens, 0, line.last)
    first = next((t.start for item in items or () for t in item.tokens[:1]), 0)
    lead = [t for t in tokens if t.end <= first]
    if items and items[0].label is not None and any(is_mark(t, ":") for t in lead):
        items[0].heads = [t for t in lead if t.end <= min(first, items[0].label.start) or is_mark(t, ":")]
    return items


def _told_amid(row: Row) -> Item | None:
    """ "March where you sit on 1 to 4, right, left, …": the one stretch of counts told is the whole line's."""
    tokens = row.tokens
    if row.label_at(0) is not None:
        return None
    found = [(i, read) for i in row.begins if tokens[i].kind in ("on", "count") and (read := row.label_at(i))]
    if not found or (len(found) == 1 and sum(t.kind == "num" for t in tokens) > len(found[0][1][0].places)):
        return None
    first, (label, end) = found[0]
    if any(not label.first <= inner.first <= inner.last <= label.last for _, (inner, _) in found[1:]):
        return None  # "… on 1 to 8, and clap on 4 and on 8"
    words = [*tokens[:first], *tokens[end - is_mark(tokens[end - 1], ",:") :]]
    moves = any(t.kind in WORDS_OF and t.kind not in ("word", "num") for t in tokens[:first])
    if len(label.wholes) < 3 or label.last - label.first != len(label.wholes) - 1 or not moves or _copies(words):
        return None
    return limbed(Item(label, bare(words), 0))


HANDS = ("hand", "gest", "thumb")


def _amid(row: Row) -> Item | None:
    """ "R foot out (1) … R arm out to the side": a count in brackets between the feet's words and the hands'."""
    tokens, labels = row.tokens, row.labels()
    if len(labels) != 1 or labels[0][0] == 0 or not is_mark(tokens[labels[0][0]], "(["):
        return None
    first, end, label = labels[0]
    behind = bare(list(tokens[end:]))
    feet = any(t.kind in WORDS_OF and t.kind not in ("word", "num") for t in tokens[:first])
    if not feet or not behind or behind[0].kind not in HANDS:
        return None
    joint = Token("join", "and", "", "", behind[0].start, behind[0].start, behind[0].line, low="and")
    return limbed(Item(label, [*bare(list(tokens[:first])), joint, *behind], 0))


def _counted_back(row: Row, last: Fraction | None) -> list[Item]:
    """ "Tap, home, tap, home, that's 1-4. 5-8 clap": sentences of which the first tells its counts at its end."""
    if row.label_at(0) is not None:
        return []
    items: list[Item] = []
    for sentence in sentences(row.tokens):
        found = range_behind(sentence, last)
        if found is None and not items:
            return []
        between = sentence[len(found[0]) :] if found else []
        own = [Item(found[1], bare(found[0]), 0, heads=between)] if found else _before(Row(sentence), last)
        items += own
        last = next((i.label.last for i in reversed(items) if i.label is not None), last)
    return items


def _without_summary(row: Row) -> Row:
    """ "[1-4] Step right (1), touch left (2) …": a range over labels of its own says nothing more."""
    first = row.label_at(0)
    if first is None or not (first[0].ranged or len(first[0].wholes) > 1):
        return row
    rest = Row(row.tokens[first[1] :])
    inner = rest.labels()
    if not inner or not all(first[0].first <= label.first and label.last <= first[0].last for _, _, label in inner):
        return row
    told = sum(len(label.places) for _, _, label in inner)
    return rest if told >= len(first[0].places) else row


def _before(row: Row, last: Fraction | None) -> list[Item]:
    """Labels before their words."""
    tokens, labels = row.tokens, row.labels(last)
    if not labels and is_mark(tokens[0], "&") and len(tokens) > 1 and last is not None:
        half = Fraction(last.__floor__()) + Fraction(1, 2)
        label = Label((half,), False, tokens[0].start, tokens[0].end, 0)
        return [Item(label, bare(tokens[1:]), 0)] if half > last else [Item(None, bare(tokens), 0)]
    items: list[Item] = []
    first = labels[0][0] if labels else len(tokens)
    head = bare(tokens[:first])
    if head:
        told = len(labels) > 1 and first > 0 and is_mark(tokens[first - 1], ".!")
        items.append(Item(None, head, 0, remark=told))
    for k, (at, behind, label) in enumerate(labels):
        until = labels[k + 1][0] if k + 1 < len(labels) else len(tokens)
        stopped = at > 0 and is_mark(tokens[at - 1], ".;")
        label, words = _held(label, tokens[behind - 1 : until])
        items.append(Item(label, bare(words), 0, stopped=stopped))
    return items if len(labels) < 2 else [*items[:-1], *_with_hands_of_all(items[-1], labels[0][2])]


def _with_hands_of_all(item: Item, first: Label) -> list[Item]:
    """ "1-4 …; 5-8 …; both hands push up on 1 and 3": a last clause for the hands, on counts before its own range."""
    tokens = item.tokens
    cut = next((i for i in range(len(tokens) - 1, 0, -1) if is_mark(tokens[i], ";.")), 0)
    hands = tokens[cut + 1 :] if cut and any(t.kind == "hand" for t in tokens[cut + 1 : cut + 4]) else []
    on = next((i for i, t in enumerate(hands) if t.kind == "on"), len(hands))
    told = label_at(hands, on)
    if told is None or item.label is None or not first.first <= told[0].first < item.label.first:
        return [item]
    item.tokens = bare(tokens[:cut])
    return [item, Item(None, bare(hands), 0, limb="arms")]


def _held(label: Label, words: list[Token]) -> tuple[Label, list[Token]]:
    """ "1-2-3-hold Walk R L R": a hold in the label is the last count. The first of the words ends the label."""
    if len(words) < 3 or not is_mark(words[0], "-–—,") or words[1].value != "hold" or not words[1].glued:
        return label, words[1:]
    return label._replace(places=(*label.places, label.last + 1)), [*words[2:], words[1]]


def _trailing(row: Row) -> bool:
    """Return whether labels stand behind their words: "Step right (1), touch left (2)", or counts at the right edge."""
    tokens, labels = row.tokens, row.labels()
    if not labels or labels[0][0] == 0:
        return False
    first, behind, _ = labels[0]
    doing = [t.kind in (*WORDS_OF, *HANDS) and t.kind not in ("word", "num") for t in tokens]
    if len(labels) == 1 and any(doing[behind:]) and not any(doing[:first]):
        return False  # "Bar 2 (5-8): right arm up, …"
    if is_mark(tokens[first], "([") and is_mark(tokens[behind - 1], ")]"):
        words_behind = any(t.kind in WORDS_OF for t in tokens[labels[-1][1] :])
        words_behind = words_behind and not talks(tokens[labels[-1][1] :])
        if len(labels) > 1 and _copies(tokens[labels[-1][1] :]):
            return True
        return not words_behind or (len(labels) > 1 and not any(t.kind in WORDS_OF for t in tokens[labels[-1][1] :]))
    return len(labels) == 1 and first > 0 and not any(t.kind in WORDS_OF for t in tokens[behind:])


def _copies(tokens: Sequence[Token]) -> bool:
    """Return whether a sentence only asks for what stands before it once more: "Do that again for 5 to 8"."""
    words = [t for t in tokens if t.kind not in ("mark", "join", "fill")]
    return bool(words) and words[0].kind in ("repeat", "again", "same", "mirror")


def _copied(tokens: list[Token]) -> Item | None:
    """Return such a sentence as an item with the counts it names, None where it names none."""
    for i, token in enumerate(tokens[1:], 1):
        named = token.kind in ("num", "count") and tokens[i - 1].low in ("for", "on", "over")
        read = label_at(tokens, i) if named else None
        if read is not None and len(read[0].places) > 1:
            return Item(read[0], bare([*tokens[: i - 1], *tokens[read[1] :]]), 0)
    return None


EDGE = shape(r"(?:\s{2,}|\t|\|)\s*\(?((?:&\s?)?\d{1,2}(?:\s?[-–&+,ae]\s?\d{0,2}|\s\d{1,2})*)\)?\s*\|?\s*$")


def _at_edge(text: str, offset: int) -> list[Item] | None:
    """Counts at the right edge, a wide gap or a column away from the words."""
    found = EDGE.search(text)
    if not found or not text[: found.start()].strip(" |*-•"):
        return None
    label = label_at(tokens_of(found[1], line=0, offset=offset + found.start(1)), 0)
    if label is None:
        return None
    row = Row(list(with_hours(placed_alike(told(tokens_of(text[: found.start()], line=0, offset=offset))))))
    if row.labels()[:1] and row.labels()[0][0] == 0:
        return None
    return [limbed(Item(label[0], bare(list(row.tokens)), 0))]


def _behind(row: Row) -> list[Item]:
    """Labels behind their words."""
    items: list[Item] = []
    tokens, start = row.tokens, 0
    for first, behind, label in row.labels():
        items.append(Item(label, bare(tokens[start:first]), 0))
        start = behind
    rest = bare(tokens[start:])
    if rest and _copies(rest) and (copy := _copied(rest)) is not None:
        items.append(copy)
    elif (
        rest and items and all(t.kind in ("clock", "look", "mark", "weight", "side", "noweight", "fill") for t in rest)
    ):
        items[-1].tokens += tokens[start:]
    elif rest:
        items.append(Item(None, rest, 0))
    return items
