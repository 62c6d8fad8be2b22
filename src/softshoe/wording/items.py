"""A line's words cut at its count labels, wherever the labels stand: before the words, behind them, in columns."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.counting import BEGINS, Label, counts_named, is_mark, label_at
from softshoe.wording.headings import LIMB
from softshoe.wording.lex import Token, tokens_of
from softshoe.wording.parts import Item
from softshoe.wording.prose import prose_items
from softshoe.wording.ranges_behind import range_behind, sentences

if TYPE_CHECKING:
    from collections.abc import Sequence

NO_COUNT_BEHIND = ("for", "over", "wall", "from", "after", "on")
PROSAIC = ("on", "count", "prep")
MOST_WORDS = 1500  # of one line, in which counts are looked for
BOUNDARY = ",;.|(:[+-–—\t"
ARMS = ("arm", "arms", "hand", "hands", "upper", "top")
WORDS_OF = {"verb", "pattern", "side", "foot", "footpart", "dir", "gest", "dual", "hand", "draw", "amount",
"turnword", "again",
            "repeat", "same", "mirror", "quiet", "place", "word", "num", "spin", "thumb"}  # fmt: skip


def limb_of(text: str) -> tuple[str, int]:
    """Return "arms", "feet" or "" for a line that names its limb ("arms: …"), and where its words begin."""
    found = LIMB.match(text)
    if not found:
        return "", 0
    return ("arms" if found[1] else "feet"), found.end()


def items_of(text: str, *, line: int, offset: int, last: Fraction | None = None) -> list[Item]:
    """Return the items of a line (without its section's name); ``last`` is the count the section has come to."""
    limb, begin = limb_of(text)
    tokens = list(tokens_of(text[begin:], line=line, offset=offset + begin))
    if not tokens:
        return []
    heads = list(tokens_of(text[:begin], line=line, offset=offset))
    head = label_at(tokens, 0)
    if head is not None and not any(_may_count(tokens, i) for i in range(head[1], len(tokens))):
        label, words = _held(head[0], tokens[head[1] - 1 :])
        items = _with_arms(_limbed(Item(label, _words(words), line)))
    else:
        if _listed(tokens):
            heads, tokens = [*heads, *tokens[:2]], tokens[2:]
        rest = _without_summary(tokens)
        items = _cut(text[begin:], tokens, rest, Line(line, offset + begin, last, limb))
        heads += tokens[: len(tokens) - len(rest)]
    for item in items:
        item.limb = item.limb or limb
    for item in items[:1]:
        item.heads = [*heads, *item.heads]
    return items


class Line(NamedTuple):
    """Where a line's words stand: its number, the character it begins on, the count before it, its limb."""

    number: int
    offset: int
    last: Fraction | None
    limb: str


def _cut(text: str, tokens: list[Token], rest: list[Token], line: Line) -> list[Item]:
    """Cut a line's words at its count labels; ``rest`` are the words without a range that only sums them up."""
    edge = _at_edge(text, line=line.number, offset=line.offset)
    if edge is not None:
        return edge
    said = _in_prose(rest, line)
    if said is not None:
        return said
    counted_back = _counted_back(tokens, line.number, line.last) if not line.limb else []
    if counted_back:
        return counted_back
    amid = _amid(rest, line.number)
    if amid is not None:
        return [amid]
    if _trailing(rest):
        return [_limbed(item) for item in _behind(rest, line.number)]
    items = _before(rest, line.number, line.last)
    return [part for item in items for part in _with_arms(_limbed(item))]


def _in_prose(tokens: list[Token], line: Line) -> list[Item] | None:
    """Return the items of sentences that tell their counts among their words; None where the line is none of them."""
    if line.limb or not (tokens[0].kind in PROSAIC or label_at(tokens, 0) is None):
        return None
    if not any(t.kind in ("on", "count") or t.dir == "spelled" for t in tokens):
        return None
    return prose_items(tokens, line.number, line.last)


HANDS = ("hand", "gest", "thumb")


def _amid(tokens: list[Token], line: int) -> Item | None:
    """ "R foot out (1) … R arm out to the side": a count in brackets between the feet's words and the hands'."""
    labels = labels_of(tokens, None)
    if len(labels) != 1 or labels[0][0] == 0 or not is_mark(tokens[labels[0][0]], "(["):
        return None
    first, end, label = labels[0]
    behind = _words(list(tokens[end:]))
    feet = any(t.kind in WORDS_OF and t.kind not in ("word", "num") for t in tokens[:first])
    if not feet or not behind or behind[0].kind not in HANDS:
        return None
    joint = Token("join", "and", "", "", behind[0].start, behind[0].start, behind[0].line, low="and")
    return _limbed(Item(label, [*_words(list(tokens[:first])), joint, *behind], line))


def _with_arms(item: Item) -> list[Item]:
    """ "1-4: heel out, in, out, in. Arms: out, in, out, in": a sentence for the arms lies over the same counts."""
    tokens = item.tokens
    for i in range(1, len(tokens) - 1):
        named = tokens[i].low in ARMS and is_mark(tokens[i + 1], ":")
        if named and item.label is not None and is_mark(tokens[i - 1], ".;|,"):
            arms = Item(item.label, _words(tokens[i + 2 :]), item.line, limb="arms", heads=tokens[i : i + 2])
            item.tokens = _words(tokens[:i])
            return [item, arms] if item.tokens else [arms]
    return [item]


def _counted_back(tokens: list[Token], line: int, last: Fraction | None) -> list[Item]:
    """ "Tap, home, tap, home, that's 1-4. 5-8 clap": sentences of which the first tells its counts at its end."""
    if label_at(tokens, 0) is not None:
        return []
    items: list[Item] = []
    for sentence in sentences(tokens):
        found = range_behind(sentence, last)
        if found is None and not items:
            return []
        between = sentence[len(found[0]) :] if found else []
        own = [Item(found[1], _words(found[0]), line, heads=between)] if found else _before(sentence, line, last)
        items += own
        last = next((i.label.last for i in reversed(items) if i.label is not None), last)
    return items


def _listed(tokens: Sequence[Token]) -> bool:
    """ "2. For counts 5 and 6, …": where a line names its own counts, the number before them only numbers the line."""
    return (
        len(tokens) > 3
        and tokens[0].kind == "num"
        and is_mark(tokens[1], ".)")
        and counts_named(tokens, 2)
        and label_at(tokens, 2) is not None
    )


def _without_summary(tokens: list[Token]) -> list[Token]:
    """ "[1-4] Step right (1), touch left (2) …": a range over labels of its own says nothing more."""
    first = label_at(tokens, 0)
    if first is None or not first[0].ranged:
        return tokens
    inner = labels_of(tokens[first[1] :], None)
    if not inner or not all(first[0].first <= label.first and label.last <= first[0].last for _, _, label in inner):
        return tokens
    told = sum(len(label.places) for _, _, label in inner)
    return tokens[first[1] :] if told >= len(first[0].places) else tokens


def _limbed(item: Item) -> Item:
    """ "1-4 arms: …": a limb named behind the label."""
    tokens = item.tokens
    for at in (0, 1):
        if (
            len(tokens) > at + 1
            and tokens[at].kind in ("hand", "foot", "word", "verb", "thumb")
            and is_mark(tokens[at + 1], ":")
        ):
            word = tokens[at].low
            if word in ARMS:
                item.limb, item.tokens, item.heads = "arms", tokens[at + 2 :], tokens[: at + 2]
            elif word in ("feet", "foot", "footwork", "legs", "steps", "step", "leg"):
                item.limb, item.tokens, item.heads = "feet", tokens[at + 2 :], tokens[: at + 2]
            break
    return item


def labels_of(tokens: Sequence[Token], last: Fraction | None) -> list[tuple[int, int, Label]]:
    """Return the labels of a line: (index of the first token, index behind, label)."""
    found: list[tuple[int, int, Label]] = []
    i = 0
    while i < min(len(tokens), MOST_WORDS):
        hit = _label(tokens, i, found, last) if _may_count(tokens, i) else None
        if hit is None:
            i += 1
            continue
        found.append((i, hit[1], hit[0]))
        i = hit[1]
    return found


def _may_count(tokens: Sequence[Token], i: int) -> bool:
    """Return whether a count label can begin at token i, by its first words or marks."""
    token = tokens[i]
    if token.kind != "mark":
        return token.kind in BEGINS or token.low in ("for", "during")
    if token.text not in "(&[+" or i + 1 == len(tokens):
        return False
    behind = tokens[i + 1]
    return behind.kind in BEGINS or behind.low in ("for", "during", "&", "+")


def _label(
    tokens: Sequence[Token], i: int, found: list[tuple[int, int, Label]], last: Fraction | None
) -> tuple[Label, int] | None:
    token = tokens[i]
    named = counts_named(tokens, i)
    if not (named or token.kind in BEGINS or token.kind == "mark"):
        return None
    read = label_at(tokens, i)
    if read is None:
        return None
    label, _ = read
    if i == 0 or (found and found[-1][1] == i):
        return read if i == 0 or label.places[0] > found[-1][2].last else None
    before = tokens[i - 1]
    boundary = is_mark(before, BOUNDARY)
    so_far = found[-1][2].last if found else last
    if named or token.kind in ("on", "count"):
        if before.low in ("as", "like", "same", "repeat", "rpt", "of", "do"):
            return None
        clause = boundary or before.kind == "join" or before.low in ("and", "then")
        if before.low in ("and", "&") and not any(t.kind in WORDS_OF for t in tokens[read[1] :]):
            return None  # "pat on 1 and on 4"
        return read if clause and (so_far is None or label.first > so_far) else None
    if is_mark(token, "(["):
        return read
    behind = tokens[read[1]] if read[1] < len(tokens) else None
    if label.spelled and before.kind == "join" and i > 1 and so_far is not None and label.first == so_far + 1:
        return (
            read
            if is_mark(tokens[i - 2], ",;") and any(is_mark(t, ",:") for t in tokens[read[1] - 1 : read[1] + 1])
            else None
        )
    return read if _begins(token, before, behind, label, so_far) else None


def _begins(token: Token, before: Token, behind: Token | None, label: Label, so_far: Fraction | None) -> bool:
    """Return whether numbers amid a line are counts: they go on from those before, or stand behind a mark."""
    boundary = is_mark(before, BOUNDARY)
    follows = so_far is not None and 0 < label.first - so_far <= 1
    if is_mark(token, "&+"):
        return follows and boundary
    words = behind is not None and behind.kind in WORDS_OF
    skips = so_far is not None and 1 < label.first - so_far <= 3
    if boundary and skips and words and behind is not None and not behind.low.endswith("s"):
        return True
    if boundary and (len(label.places) > 1 or follows or is_mark(before, ";.|")):
        return so_far is None or label.first > so_far or is_mark(before, ";|")
    if before.low in NO_COUNT_BEHIND:
        return False
    return follows and words and behind is not None and behind.kind != "num"


def _before(tokens: list[Token], line: int, last: Fraction | None) -> list[Item]:
    """Labels before their words."""
    labels = labels_of(tokens, last)
    if not labels and is_mark(tokens[0], "&") and len(tokens) > 1 and last is not None:
        half = Fraction(last.__floor__()) + Fraction(1, 2)
        label = Label((half,), False, tokens[0].start, tokens[0].end, line)
        return [Item(label, _words(tokens[1:]), line)] if half > last else [Item(None, _words(tokens), line)]
    items: list[Item] = []
    first = labels[0][0] if labels else len(tokens)
    head = _words(tokens[:first])
    if head:
        told = len(labels) > 1 and first > 0 and is_mark(tokens[first - 1], ".!")
        items.append(Item(None, head, line, remark=told))
    for k, (at, behind, label) in enumerate(labels):
        until = labels[k + 1][0] if k + 1 < len(labels) else len(tokens)
        stopped = at > 0 and is_mark(tokens[at - 1], ".;")
        label, words = _held(label, tokens[behind - 1 : until])
        items.append(Item(label, _words(words), line, stopped=stopped))
    return items


def _held(label: Label, words: list[Token]) -> tuple[Label, list[Token]]:
    """ "1-2-3-hold Walk R L R": a hold in the label is the last count. The first of the words ends the label."""
    if len(words) < 3 or not is_mark(words[0], "-–—,") or words[1].value != "hold" or not words[1].glued:
        return label, words[1:]
    return replace(label, places=(*label.places, label.last + 1)), [*words[2:], words[1]]


def _words(tokens: list[Token]) -> list[Token]:
    """Return the tokens without separators at either end."""
    start, end = 0, len(tokens)
    while start < end and is_mark(tokens[start], ",;.|:-–—\t"):
        start += 1
    while end > start and is_mark(tokens[end - 1], ",;|([\t"):
        end -= 1
    return tokens[start:end]


def _trailing(tokens: Sequence[Token]) -> bool:
    """Return whether labels stand behind their words: "Step right (1), touch left (2)", or counts at the right edge."""
    labels = labels_of(tokens, None)
    if not labels or labels[0][0] == 0:
        return False
    first, behind, _ = labels[0]
    if is_mark(tokens[first], "([") and is_mark(tokens[behind - 1], ")]"):
        words_behind = any(t.kind in WORDS_OF for t in tokens[labels[-1][1] :])
        if len(labels) > 1 and _copies(tokens[labels[-1][1] :]):
            return True
        return not words_behind or (len(labels) > 1 and not any(t.kind in WORDS_OF for t in tokens[labels[-1][1] :]))
    return len(labels) == 1 and first > 0 and not any(t.kind in WORDS_OF for t in tokens[behind:])


def _copies(tokens: Sequence[Token]) -> bool:
    """Return whether a sentence only asks for what stands before it once more: "Do that again for 5 to 8"."""
    words = [t for t in tokens if t.kind not in ("mark", "join", "fill")]
    return bool(words) and words[0].kind in ("repeat", "again", "same", "mirror")


def _copied(tokens: list[Token], line: int) -> Item | None:
    """Return such a sentence as an item with the counts it names, None where it names none."""
    for i, token in enumerate(tokens[1:], 1):
        named = token.kind in ("num", "count") and tokens[i - 1].low in ("for", "on", "over")
        read = label_at(tokens, i) if named else None
        if read is not None and len(read[0].places) > 1:
            return Item(read[0], _words([*tokens[: i - 1], *tokens[read[1] :]]), line)
    return None


EDGE = re.compile(r"(?:\s{2,}|\t|\|)\s*\(?((?:&\s?)?\d{1,2}(?:\s?[-–&+,ae]\s?\d{0,2}|\s\d{1,2})*)\)?\s*\|?\s*$")


def _at_edge(text: str, *, line: int, offset: int) -> list[Item] | None:
    """Counts at the right edge, a wide gap or a column away from the words."""
    found = EDGE.search(text)
    if not found or not text[: found.start()].strip(" |*-•"):
        return None
    tokens = tokens_of(text[: found.start()], line=line, offset=offset)
    label = label_at(tokens_of(found[1], line=line, offset=offset + found.start(1)), 0)
    if label is None or (labels_of(tokens, None)[:1] and labels_of(tokens, None)[0][0] == 0):
        return None
    return [_limbed(Item(label[0], _words(list(tokens)), line))]


def _behind(tokens: list[Token], line: int) -> list[Item]:
    """Labels behind their words."""
    items: list[Item] = []
    start = 0
    for first, behind, label in labels_of(tokens, None):
        items.append(Item(label, _words(tokens[start:first]), line))
        start = behind
    rest = _words(tokens[start:])
    if rest and _copies(rest) and (copy := _copied(rest, line)) is not None:
        items.append(copy)
    elif (
        rest and items and all(t.kind in ("clock", "look", "mark", "weight", "side", "noweight", "fill") for t in rest)
    ):
        items[-1].tokens += tokens[start:]
    elif rest:
        items.append(Item(None, rest, line))
    return items
