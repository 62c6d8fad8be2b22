"""What is asked of the retelling network: the words of each section; and what it answers, in their places."""

from __future__ import annotations

import re
from collections import Counter, OrderedDict
from fractions import Fraction
from threading import Lock
from typing import TYPE_CHECKING, Any, NamedTuple

from softshoe.wording.lengths import base_of
from softshoe.wording.lines import lines_of
from softshoe.wording.retell_codes import events_of
from softshoe.wording.retell_plain import Place
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.blocks import Block, Outline
    from softshoe.wording.retell_net import Net, Told

MOST_LETTERS = 900  # of a section
MOST_SECTIONS = 64  # of a sheet
MOST_COUNTS = 16  # of a section: what is told beyond them is no running count
MOST_TOLD = 4096  # kept
NUMBER = shape(r"(?<![\w:/])\d{1,3}(?![\d/\w]|:\d)|(?<![\w:/])\d{1,3}(?=[ae&])")
COUNT = shape(r"c\d+")
SIDES = {"right": "R", "r": "R", "rf": "R", "rh": "R", "left": "L", "l": "L", "lf": "L", "lh": "L"}
OTHER = shape(
    r"\b(same|again|repeat\w*|rpt|other|mirror\w*|opposite|chang\w*|as before|likewise|swap|switch|both sides|"
    r"alternat\w*|in turn|ditto|reverse\w*|as \d|too|then (?:left|right))\b",
    re.IGNORECASE,
)


HOME = shape(r"\b(?:home|middle|centre|center)\b", re.IGNORECASE)
BESIDE = shape(r"\b(?:together|tog|beside|next to|join\w*|meets?|clos\w+)\b", re.IGNORECASE)


CLAPS = shape(r"clap|hand|palm|\bcl?\b|\bx\b|applau|smack|strike|slap|\barms?\b|[*!]", re.IGNORECASE)


class Words(NamedTuple):
    """The words of one section: ``text`` as the network reads it, and where its characters stand in the sheet.

    ``lines`` are (first character in ``text``, first character in the sheet, number of the line).
    """

    block: int  # which of the outline's
    text: str
    lines: tuple[tuple[int, int, int], ...]

    @property
    def span(self) -> tuple[int, int]:
        """The characters of the sheet from the first to the last."""
        at, start, _ = self.lines[-1]
        return self.lines[0][1], start + len(self.text) - at

    def place(self, first: int, last: int) -> Place:
        """Return the place in the sheet of characters of ``text`` that stand on one line."""
        at, start, number = next(row for row in reversed(self.lines) if row[0] <= first)
        return Place(number, (start + first - at, start + last - at))


class Answer(NamedTuple):
    """A section retold: its events from its own first count, the place of each count, how sure the least sure code is.

    ``crossed``: a foot or hand was told of a word that names the other side, where no word speaks of the other side; or
    what hands do beside a foot was told of a word that only names a side.
    """

    events: tuple[dict[str, Any], ...]
    places: dict[int, Place]
    sure: float
    crossed: bool

    @property
    def counts(self) -> int:
        """How many counts it fills."""
        return max(Fraction(e["t"]).__floor__() for e in self.events) + 1


def words_of_sections(text: str, outline: Outline, unit: int) -> list[Words]:
    """Return the words of each section that has some, without its heading, and without lines of tags and restarts."""
    lines = {line.number: line for line in lines_of(text)}
    others = {number for number, *_ in outline.restarts} | {number for number, _ in outline.header}
    others -= {item.line for block in outline.blocks for item in block.items}
    loose = [number for number, _ in outline.loose]
    out: list[Words] = []
    shared = _shared(outline.blocks)
    for k, block in enumerate(outline.blocks):
        if block.kind != "section" or not block.items or k in shared:
            continue
        ends = min((b.line for b in outline.blocks[k + 1 :] if b.line > block.line), default=10**9)
        own = [t.line for item in block.items for t in item.tokens] + [item.line for item in block.items]
        own += [number for number in loose if block.line < number < ends and number <= max(own) + 2]
        own = [number for number in own if block.line <= number < ends]
        rows = [lines[n] for n in range(min(own), max(own) + 1) if n in lines and n not in others] if own else []
        parts = [(_begin(block, row.number, row.start), row) for row in rows]
        told = [(max(0, begin - row.start), row) for begin, row in parts]
        said = [(skip, row) for skip, row in told if row.text[skip:].strip()]
        if said and sum(len(row.text) for _, row in said) <= MOST_LETTERS:
            out.append(joined(k, said, base_of(block, unit)))
    return out[:MOST_SECTIONS]


def _shared(blocks: Sequence[Block]) -> set[int]:
    """Return the blocks that have a line together with another."""
    own = [{item.line for item in b.items} | {t.line for item in b.items for t in item.tokens} for b in blocks]
    users = Counter(line for lines in own for line in lines)
    return {k for k, lines in enumerate(own) if any(users[line] > 1 for line in lines)}


def _begin(block: Block, number: int, start: int) -> int:
    """Return the character where a section's own words begin on a line: behind its heading, if they share one."""
    if number != block.line or block.heading is None:
        return start
    if block.rest is not None:
        return block.rest[2]
    tokens = [t.start for item in block.items for t in (*item.heads, *item.tokens) if t.line == number]
    labels = [item.label.start for item in block.items if item.label is not None and item.label.line == number]
    return min(tokens + labels, default=start)


def joined(block: int, said: Sequence[tuple[int, Any]], base: int) -> Words:
    """Return the words of lines, each from a character on, counted from one behind ``base``."""
    text, rows = "", []
    for skip, line in said:
        words = line.text[skip:].rstrip()
        first = len(words) - len(words.lstrip())
        rows.append((len(text), line.start + skip + first, line.number))
        text += words[first:] + "\n"
    return Words(block, from_one(text[:-1], base), tuple(rows))


def from_one(text: str, base: int) -> str:
    """Return "9-12 …, 13-16 …" counted from one; every character keeps its place."""
    if not base or any(int(n) > base + MOST_COUNTS for n in NUMBER.findall(text)):
        return text
    return NUMBER.sub(lambda m: str(int(m[0]) - base).rjust(len(m[0])) if int(m[0]) > base else m[0], text)


class Kept:
    """What was told of a section's words, the least lately asked for go first; it may be asked from any thread."""

    def __init__(self, most: int) -> None:
        self.most, self.lock = most, Lock()
        self.rows: OrderedDict[tuple[bool, str], Told] = OrderedDict()

    def told(self, net: Net, keys: Sequence[tuple[bool, str]], guesses: Sequence[Sequence[str]]) -> list[Told]:
        """Return what the network tells of each text; only those not kept are asked, with the codes guessed of them."""
        with self.lock:
            known = {key: self.rows[key] for key in keys if key in self.rows}
        new = {key: guess for key, guess in zip(keys, guesses, strict=True) if key not in known}
        if new:
            rows = [net.numbers(text, seated=seated) for seated, text in new]
            known |= dict(zip(new, net.told(rows, list(new.values())), strict=True))
        with self.lock:
            for key in keys:
                self.rows[key] = known[key]
                self.rows.move_to_end(key)
            while len(self.rows) > self.most:
                self.rows.popitem(last=False)
        return [known[key] for key in keys]


KEPT = Kept(MOST_TOLD)


def answers(
    net: Net, sections: Sequence[Words], guesses: Sequence[Sequence[str]], *, seated: bool
) -> list[Answer | None]:
    """Return what the network makes of each section; None where it makes no sense. Guessed right it is told sooner."""
    told = KEPT.told(net, [(seated, one.text) for one in sections], guesses)
    return [_answer(net, words, one) for words, one in zip(sections, told, strict=True)]


def _answer(net: Net, words: Words, told: Told) -> Answer | None:
    pieces = net.cutter.cut(words.text)
    looked = [(pieces[k - 1].start, pieces[k - 1].end) if 0 < k <= len(pieces) else None for k in told.looked]
    return answered(words, told.codes, told.likely, looked)


def answered(
    words: Words,
    codes: Sequence[str],
    likely: Sequence[float],
    looked: Sequence[tuple[int, int] | None],
    beside: str = "",
) -> Answer | None:
    """Return a section's codes as its events; ``looked`` are the characters of its words that each code was told of.

    ``beside`` is the whole sheet where it was read. None where the codes make no sense.
    """
    events = _homed(without_claps_unsaid(events_of(codes) or [], beside or words.text), words.text)
    if not events:
        return None
    found: dict[int, list[tuple[int, int]]] = {}
    at = crossed = 0
    for code, there in zip(codes, looked, strict=True):
        if COUNT.fullmatch(code):
            at = int(code[1:])
            continue
        if there is None or there[0] < 0:
            continue
        start, end = there
        sign, _, side = code.partition(":")
        named = SIDES.get(words.text[start:end].casefold())
        if not OTHER.search(words.text):
            crossed += sign in ("foot", "arm") and side in ("L", "R") and named not in (None, side)
        crossed += sign == "hand" and named is not None and _moves(events, at)
        if code != "end" and words.text[start].isalpha():
            found.setdefault(at, []).append((start, end))
    places = {n: words.place(*_stretch(words.text, found.get(n, []))) for n in range(1, at + 1)}
    return Answer(tuple(events), places, min(likely), crossed > 0)


def _homed(events: list[dict[str, Any]], text: str) -> list[dict[str, Any]]:
    """Where the words say "home" or "middle", a foot that comes back comes to the centre, as the rules read it."""
    if not HOME.search(text):
        return events
    beside = BESIDE.search(text) is not None
    away: dict[str, bool] = {}
    for event in events:
        foot, way = event["foot"], event["dir"]
        if event["action"] == "step" and (way == "in place" or (way == "together" and not beside)) and away.get(foot):
            event["dir"] = way = "centre"
        if foot is not None:
            away[foot] = way not in ("in place", "centre", "together", "up")
    return events


def without_claps_unsaid(events: list[dict[str, Any]], text: str) -> list[dict[str, Any]]:
    """Return events without the claps that no word of a text can mean."""
    if CLAPS.search(text):
        return events
    for event in events:
        event["arms"] = [arm for arm in event["arms"] if arm["gesture"] != "clap"]
        if event["action"] == "arms" and not event["arms"]:
            event["action"] = "hold"
    return events


def _moves(events: Sequence[dict[str, Any]], count: int) -> bool:
    """Return whether a foot moves on a count."""
    return any(e["foot"] and Fraction(e["t"]).__floor__() == count - 1 for e in events)


def _stretch(text: str, looked: Sequence[tuple[int, int]]) -> tuple[int, int]:
    """Return the words from the first to the last that were looked at on the line of the first; else the whole line."""
    if not looked:
        return 0, text.find("\n") if "\n" in text else len(text)
    first, last = looked[0]
    for start, end in looked[1:]:
        if "\n" not in text[min(first, start) : max(last, end)]:
            first, last = min(first, start), max(last, end)
    return first, last
