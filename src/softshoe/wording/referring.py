"""Sections that only ask for an earlier one, by its number, its letter or its name: "As round one with the left foot".

    Bread            ->  Section 1: Bread
    heel, home, …        heel, home, …
    Butter           ->  Section 2: Butter
    clap, clap, …        clap, clap, …
    Bread            ->  Section 3: Bread
    as before        ->  Repeat section 1

What is asked for shows which lines are headings; they are counted, and both are written in the reader's plain words.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from softshoe.wording.begins import first_count
from softshoe.wording.headings import heading_of, kind_of
from softshoe.wording.numbers import in_digits
from softshoe.wording.pointing import ASKS, Pointer, pointer_of, stretch_number, title_words
from softshoe.wording.respelled import Edit
from softshoe.wording.section_heads import MARKS, RANGE, Head, asked_by, head_at, may_title, titled
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

ASKING = "Repeat section "
MOST_LINES = 400
EIGHT = 8  # counts of a section
GENERIC = frozenset(
    (
        "part", "section", "sec", "sect", "set", "round", "block", "number", "no", "line", "row", "sequence", "step",
        "eight", "four", "figure", "one", "s",
    )
)  # fmt: skip


BRACKETED = shape(r"\((\d{1,2}|[A-Z])\)(?=\W*$)")  # "Repeat (1)"
HEADING, ASKED, DANCED = "S", "R", ("B", "C", "R")  # kinds of lines


def plain_pointers(text: str) -> list[list[Edit]]:
    """Return the ways in which a sheet's headings, and the lines that ask for a section again, may be meant.

    >>> [edit.words for edit in plain_pointers("X\\nRound one\\nstep R\\nRound two\\nas round one with the left")[0]]
    ['Section 1', 'Section 2', 'Repeat section 1 with the left']
    """
    if not asks_for_sections(text):
        return []
    rows = text.split("\n")
    heads = _heads(rows)
    if _out_of_turn(heads, rows):
        return []  # the author has to mend it
    numbers = [h for h in heads if h.number]
    out: list[list[Edit]] = []
    for found in (heads, numbers if len(numbers) < len(heads) else []):
        edits = _edits(rows, found) if len(found) > 1 else []
        if edits:
            out.append(edits)
    return out


def asks_for_sections(text: str) -> bool:
    """Return whether a line of the sheet only asks for another part of it."""
    rows = text.split("\n") if ASKS.search(text) else []
    return len(rows) <= MOST_LINES and any(asked_by(row) for row in rows[1:])


def told_pointers(text: str, kinds: Mapping[int, str]) -> list[Edit]:
    """Return the same where it is known which lines are headings ("S") and which are danced ("B", "C", "R")."""
    rows = text.split("\n")
    rows = [BRACKETED.sub(r" \1 ", row) if kinds.get(i) == ASKED else row for i, row in enumerate(rows, 1)]
    shown = [row if kinds.get(i) in DANCED else "" for i, row in enumerate(rows, 1)]
    heads = [head_at(i - 1, rows[i - 1]) or titled(i - 1, rows[i - 1]) for i, kind in kinds.items() if kind == HEADING]
    asking = [head_at(i - 1, rows[i - 1]) for i, kind in kinds.items() if kind == ASKED]
    named = sorted(
        [*heads, *(head for head in asking if head is not None and (head.number or head.asks))],
        key=lambda head: head.at,
    )
    heads = named if _count_up(named, rows) else heads
    return _edits(rows, heads, shown) if heads and _count_up(heads, rows) else []


def shown_pointers(text: str, lines: Sequence[int]) -> list[Edit]:
    """Return the same where the sections were found at these lines; lines that ask for one by name are sections too."""
    rows = text.split("\n")
    at = {i - 1 for i in lines}
    names = {rows[i].strip(MARKS).casefold() for i in at}
    heads: list[Head] = []
    for i, row in enumerate(rows):
        known = i in at or (row.strip(MARKS).casefold() in names and i > min(at, default=0))
        head = head_at(i, row) if known or (heads and _named_before(row, heads)) else None
        if head is not None and not (heads and _next(rows, heads[-1].at) == i and _over(heads[-1], head)):
            heads.append(head)
    return _edits(rows, heads) if len(heads) > 1 and not _out_of_turn(heads, rows) else []


def _named_before(row: str, heads: Sequence[Head]) -> bool:
    """Return whether a line asks for one of these by its name."""
    pointer = pointer_of(row)
    return pointer is not None and any(pointer.words and list(pointer.words) == _words(h.title) for h in heads)


def _count_up(heads: Sequence[Head], rows: Sequence[str]) -> bool:
    """Return whether the headings of each noun count up from 1: a number out of turn is the author's to mend."""
    next_one: dict[str, int] = {}
    for head in heads:
        known = heading_of(rows[head.at].strip())
        number = head.number or (known.number if known is not None else None)
        wanted = next_one.get(head.noun, 1)
        if number and number != wanted:
            return False
        if number or (head.asks and head.noun in next_one):
            next_one[head.noun] = wanted + 1
    return True


def _out_of_turn(heads: Sequence[Head], rows: Sequence[str]) -> bool:
    """Return whether a numbered heading does not follow the last one, though it asks for none before."""
    last = 0
    for head in heads:
        known = heading_of(rows[head.at].strip())
        below = _next(rows, head.at)
        if known is None or not known.named or not known.number:
            continue
        asks = head.asks or (below and asked_by(rows[below]))
        if known.number <= last and not asks:
            return True
        last = max(last, known.number)
    return False


def _heads(rows: Sequence[str]) -> list[Head]:
    """Return the lines that may be headings: those that count up, and titles of few words over what is danced."""
    told = [head for i, row in enumerate(rows) if i and (head := head_at(i, row, _below(rows, i))) is not None]
    counted = {
        h.at for noun in {h.noun for h in told if h.number} for h in _series([h for h in told if h.noun == noun])
    }
    out: list[Head] = []
    for head in told:
        if head.at not in counted:
            if not may_title(rows[head.at]):
                continue
            head = head._replace(number=0, noun="", title=head.full)
        if out and head.at in counted and out[-1].at not in counted and _next(rows, out[-1].at) == head.at:
            out.pop()
        elif out and head.at not in counted and _next(rows, out[-1].at) == head.at and _over(out[-1], head):
            continue  # what stands straight below a heading is danced
        if _next(rows, head.at) or head.asks:
            out.append(head)
    again = {
        h.full.casefold()
        for k, h in enumerate(out)
        if any(h.full.casefold() == o.full.casefold() for o in out[k + 1 :])
    }
    first = next((k for k, h in enumerate(out) if h.at in counted or h.full.casefold() in again), 0) if counted else 0
    return out[first:]


def _over(above: Head, head: Head) -> bool:
    """Return whether the line straight above is the heading of this one: one that asks for itself is over none."""
    return not above.asks or above.full == head.full


def _next(rows: Sequence[str], at: int) -> int:
    """Return the next line with words, 0 where there is none."""
    return next((i for i in range(at + 1, len(rows)) if rows[i].strip()), 0)


def _series(heads: Sequence[Head]) -> list[Head]:
    """Return the heads that count up from 1 without a gap, if there are some."""
    out: list[Head] = []
    if not heads[0].noun and sum((a.number, b.number) == (1, 2) for a, b in pairwise(heads)) > 1:
        return []  # counts, which begin again
    for head in heads:
        if head.number == len(out) + 1 and (not out or head.at > out[-1].at + 1 or out[-1].asks):
            out.append(head)
    return out if len(out) > 1 else []


def _below(rows: Sequence[str], at: int) -> str:
    return rows[at + 1] if at + 1 < len(rows) else ""


def _edits(rows: Sequence[str], heads: Sequence[Head], shown: Sequence[str] | None = None) -> list[Edit]:
    """Return the headings and the asking lines in plain words; none where no line asks for a section that is there.

    ``shown`` are the lines that may be danced, the others empty.
    """
    starts = [0]
    for row in rows:
        starts.append(starts[-1] + len(row) + 1)
    out: list[Edit] = []
    asked = False
    for k, head in enumerate(heads):
        after = heads[k + 1].at if k + 1 < len(heads) else len(rows)
        body = _body(shown or rows, head.at + 1, after)
        own = asked_by(rows[head.at]) if not body else None
        found = _meant(own, heads, k) if own is not None else 0
        if found and own is not None:
            asked = True
            out.append(_whole(rows, starts, head.at, f"Section {k + 1}: {_asking(own, found)}"))
            continue
        out += _heading(rows, starts, k + 1, head)
        last = k + 1 == len(heads) and len(body) == 2 and first_count(rows[body[1]]) is None  # below it a remark
        pointer = pointer_of(rows[body[0]]) if len(body) == 1 or last else None
        found = _meant(pointer, heads, k) if pointer is not None else 0
        if found and pointer is not None:
            asked = True
            row = rows[body[0]]
            begin, end = pointer.start, pointer.end
            out.append(Edit(starts[body[0]] + begin, starts[body[0]] + end, _asking(pointer, found)))
    return out if asked else []


def _body(rows: Sequence[str], begin: int, end: int) -> list[int]:
    """Return the lines of a section; behind the last one's steps an empty line ends it."""
    out: list[int] = []
    for i in range(begin, end):
        if rows[i].strip():
            if kind_of(rows[i].strip()):
                break
            out.append(i)
        elif out and end == len(rows):
            break
    return out


def _whole(rows: Sequence[str], starts: Sequence[int], i: int, words: str) -> Edit:
    begin = len(rows[i]) - len(rows[i].lstrip())
    return Edit(starts[i] + begin, starts[i] + len(rows[i].rstrip()), words)


def _asking(pointer: Pointer, number: int) -> str:
    return f"{ASKING}{number}" + (f" with the {pointer.side}" if pointer.side else "")


def _heading(rows: Sequence[str], starts: Sequence[int], number: int, head: Head) -> list[Edit]:
    """Return a heading with its own number; its title stays, and its counts."""
    row = rows[head.at]
    told = heading_of(row.strip())
    asks = ASKS.search(head.title) is not None
    if told is not None and told.named and told.number == number and not asks:
        return []
    at = row.find(head.title) if head.title and not asks else -1
    if head.span is not None:
        end = row.rfind(head.title) if head.title else len(row.rstrip())
        joins = ": " if head.title else ""
        low, high = head.span
        begin = len(row) - len(row.lstrip())
        return [Edit(starts[head.at] + begin, starts[head.at] + end, f"Section {number} ({low}-{high}){joins}")]
    begin = len(row) - len(row.lstrip())
    if at >= 0:
        return [Edit(starts[head.at] + begin, starts[head.at] + at, f"Section {number}: ")]
    counts = RANGE.search(row)
    ranged = f" ({counts[1]}-{counts[2]})" if counts else ""
    return [_whole(rows, starts, head.at, f"Section {number}{ranged}")]


def _meant(pointer: Pointer, heads: Sequence[Head], k: int) -> int:
    """Return the number of the section that a line below, or in, the k-th heading asks for; 0 where none is found."""
    before = heads[:k]
    if pointer.counts:
        low, high = pointer.counts
        spans = [i for i, h in enumerate(before, 1) if h.span == pointer.counts]
        found = spans[0] if spans else stretch_number(low, high) if high - low == EIGHT - 1 else 0
        return found if found <= k else 0
    if pointer.number:
        return _numbered(pointer, before)
    named = [i for i, h in enumerate(before, 1) if pointer.words and _words(h.title) == list(pointer.words)]
    own = [i for i, h in enumerate(before, 1) if _alike(h, heads[k])] if pointer.same or not pointer.words else []
    return (named or own or [k if pointer.side and pointer.same and not pointer.words else 0])[0]


def _numbered(pointer: Pointer, before: Sequence[Head]) -> int:
    """Return the section of that number, or the n-th of that name: "like turn 2", "the first chorus"."""
    words = [w for w in pointer.words if w not in GENERIC]
    of = [
        i
        for i, h in enumerate(before, 1)
        if h.number == pointer.number and words in ([], _words(h.noun), _words(h.title))
    ]
    same = [i for i, h in enumerate(before, 1) if words and _words(h.title) == words]
    if of:
        return of[0]
    if len(same) >= pointer.number:
        return same[pointer.number - 1]
    return 0 if words or pointer.number > len(before) else pointer.number


def _alike(one: Head, two: Head) -> bool:
    """Return whether two headings say the same: "VERSE" twice, "Box" and "Box again"."""
    return one.full.casefold() == two.full.casefold() or bool(_title(one) and _title(one) == _title(two))


def _title(head: Head) -> tuple[str, ...]:
    return tuple(w for w in _words(head.title) if w not in ("again", "once", "more"))


def _words(title: str) -> list[str]:
    return title_words(in_digits(title))
