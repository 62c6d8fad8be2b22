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

import re
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.begins import first_count
from softshoe.wording.headings import heading_of, kind_of
from softshoe.wording.lex import tokens_of
from softshoe.wording.numbers import in_digits, ordinals_in_digits, place_number
from softshoe.wording.pointing import ASKS, WHOLE, Pointer, pointer_of, stretch_number, title_words
from softshoe.wording.respelled import Edit
from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

ASKING = "Repeat section "
MOST_LINES, LONGEST_HEAD = 400, 64
FEW = 6  # words of a title
EIGHT = 8  # counts of a section
WHOLE_SECTION = (6, 8, 12, 16, 24)  # counts of one
GENERIC = frozenset(
    (
        "part", "section", "sec", "sect", "set", "round", "block", "number", "no", "line", "row", "sequence", "step",
        "eight", "four", "figure", "one", "s",
    )
)  # fmt: skip
NUMBER = r"(?:\d{1,2}|[IVX]{1,4}|[A-H]|one|two|three|four|five|six|seven|eight|nine|ten)"
NTH = r"(?:first|second|third|fourth|fifth|sixth|seventh|eighth|ninth|tenth|\d{1,2}(?:st|nd|rd|th))"
END = r"(?=[\s.:,;)\]/–—=*-]|$)"
NAMED = shape(
    rf"^\W*(?P<noun>[^\W\d_]{{2,12}}|[SP](?=\d))\.?\s*(?:no\.?|nr\.?|number|#)?\s*(?P<number>(?-i:{NUMBER}|ONE|TWO|THREE|FOUR|FIVE|SIX)){END}",
    re.IGNORECASE,
)
ORDERED = shape(
    rf"^\W*(?:the\s+)?(?P<number>{NTH})\s+(?P<noun>[^\W\d_]{{2,12}})\b|^\W*(?P<noun2>[^\W\d_]{{2,12}})\s+the\s+(?P<number2>{NTH})\b",
    re.IGNORECASE,
)
NTH_ALONE = shape(rf"^\W*(?:the\s+)?(?P<number>{NTH})\W*$", re.IGNORECASE)
NUMBERED = shape(
    r"^[\s(\[#*=>-]*(?P<number>\d{1,2}(?:/\d{1,2}(?=\W*$))?|[IVX]{1,4}|[A-H]|(?<=[(\[])[a-h](?=[)\]]))(?:[\s.:)\]/–—=*-]+|$)(?![\d&])"
)
RANGE = shape(r"[\s,:(\[–-]*\b(?:counts?\s+)?(\d{1,3})\s*[-–]\s*(\d{1,3})[)\]\s.:]*$", re.IGNORECASE)
STRETCH = shape(
    r"\W*(?P<noun>bars?|measures?)\s+(?P<low>\d{1,3})\s*(?:to|and|-|–|,|&|\+)\s*(?P<high>\d{1,3})\W*", re.IGNORECASE
)
SPAN = shape(
    r"\W*(?:counts?\s+)?(?P<low>\d{1,3})\s*[-–]\s*(?P<high>\d{1,3})(?![\d&/])[)\]]?[\s.:)–-]*(?P<title>.*)",
    re.IGNORECASE,
)
SIZED = shape(r"(?:[\s,]*[(\[]\s*|,\s*)\d{1,2}\s*(?:counts?|cts?|beats?)?\s*[)\]]\W*$", re.IGNORECASE)
TAILED = shape(
    rf"^[^\d,;:–—-]{{3,24}}(?:,|:|\s[-–—])\s*(?P<noun>line|part|half|section|row|eight|block)\s+(?P<number>{NUMBER})\W*$",
    re.IGNORECASE,
)
LETTER = shape(r"[A-Z](?=\s*[(\[:–-]|$)")
MARKS = " .:,;()[]/–—=*-#"
SENTENCE = shape(r"[,;=|]|[.!?]\s+\S|\d")


ITSELF = shape(
    r"^(?P<head>[^,;]{1,24}?)\s*[:–—-]?\s*\b(?:is(?:\s+just)?|equals|goes|does)\s+(?P<asked>\S.*)$",
    re.IGNORECASE,
)


HEADING, DANCED = "S", ("B", "C", "R")  # kinds of lines


class Head(NamedTuple):
    """A line that may be a heading: where it stands among the lines, its series' noun, number, and title."""

    at: int
    noun: str
    number: int
    title: str
    full: str
    asks: bool = False
    span: tuple[int, int] | None = None  # the counts that it tells


def plain_pointers(text: str) -> list[list[Edit]]:
    """Return the ways in which a sheet's headings, and the lines that ask for a section again, may be meant.

    >>> [edit.words for edit in plain_pointers("X\\nRound one\\nstep R\\nRound two\\nas round one with the left")[0]]
    ['Section 1', 'Section 2', 'Repeat section 1 with the left']
    """
    if not ASKS.search(text):
        return []
    rows = text.split("\n")
    if len(rows) > MOST_LINES or not any(_asked(row) for row in rows[1:]):
        return []
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


def told_pointers(text: str, kinds: Mapping[int, str]) -> list[Edit]:
    """Return the same where it is known which lines are headings ("S") and which are danced ("B", "C", "R")."""
    rows = text.split("\n")
    shown = [row if kinds.get(i) in DANCED else "" for i, row in enumerate(rows, 1)]
    heads = [_head(i - 1, rows[i - 1]) or _named(i - 1, rows[i - 1]) for i, kind in kinds.items() if kind == HEADING]
    return _edits(rows, heads, shown) if heads and _count_up(heads, rows) else []


def _count_up(heads: Sequence[Head], rows: Sequence[str]) -> bool:
    """Return whether the headings of each noun count up from 1: a number out of turn is the author's to mend."""
    known = [heading_of(rows[h.at].strip()) for h in heads]
    told = [(h.noun, h.number or (k.number if k is not None else None)) for h, k in zip(heads, known, strict=True)]
    series = ([n for noun, n in told if n and noun == one] for one in {noun for noun, _ in told})
    return all(row == list(range(1, len(row) + 1)) for row in series)


def _out_of_turn(heads: Sequence[Head], rows: Sequence[str]) -> bool:
    """Return whether a numbered heading does not follow the last one, though it asks for none before."""
    last = 0
    for head in heads:
        known = heading_of(rows[head.at].strip())
        below = _next(rows, head.at)
        if known is None or not known.named or not known.number:
            continue
        asks = head.asks or (below and _asked(rows[below]))
        if known.number <= last and not asks:
            return True
        last = max(last, known.number)
    return False


def _named(at: int, row: str) -> Head:
    title = row.strip(" :.-*#")
    return Head(at, "", 0, title, title)


def _heads(rows: Sequence[str]) -> list[Head]:
    """Return the lines that may be headings: those that count up, and titles of few words over what is danced."""
    told = [head for i, row in enumerate(rows) if i and (head := _head(i, row, _below(rows, i))) is not None]
    counted = {
        h.at for noun in {h.noun for h in told if h.number} for h in _series([h for h in told if h.noun == noun])
    }
    out: list[Head] = []
    for head in told:
        if head.at not in counted:
            if not _is_title(rows[head.at]):
                continue
            head = head._replace(number=0, noun="", title=head.full)
        if out and head.at in counted and out[-1].at not in counted and _next(rows, out[-1].at) == head.at:
            out.pop()
        elif out and head.at not in counted and _next(rows, out[-1].at) == head.at and not out[-1].asks:
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


def _next(rows: Sequence[str], at: int) -> int:
    """Return the next line with words, 0 where there is none."""
    return next((i for i in range(at + 1, len(rows)) if rows[i].strip()), 0)


def _series(heads: Sequence[Head]) -> list[Head]:
    """Return the heads that count up from 1 without a gap, if there are some."""
    out: list[Head] = []
    if not heads[0].noun and sum(h.number == 1 for h in heads) > 1:
        return []  # counts, which begin again
    for head in heads:
        if head.number == len(out) + 1 and (not out or head.at > out[-1].at + 1 or out[-1].asks):
            out.append(head)
    return out if len(out) > 1 else []


def _below(rows: Sequence[str], at: int) -> str:
    return rows[at + 1] if at + 1 < len(rows) else ""


def _head(i: int, row: str, below: str = "") -> Head | None:
    text = row.strip()
    if not text or len(text) > LONGEST_HEAD or kind_of(text):
        return None
    itself = ITSELF.match(text)
    if itself is not None and _asks_itself(text) is not None:
        head = _head(i, itself["head"])
        return head._replace(asks=True) if head is not None and head.number and not head.title else None
    span = _spanned(i, text)
    if span is not None:
        return span
    bare = RANGE.sub("", text) or text
    bare = SIZED.sub("", bare) or bare
    full, asks = bare.strip(MARKS), pointer_of(row) is not None
    stretch = STRETCH.fullmatch(text)
    if stretch is not None:
        low, high = int(stretch["low"]), int(stretch["high"])
        return Head(i, stretch["noun"].casefold(), stretch_number(low, high), "", text.strip(MARKS))
    for rule in (TAILED, NTH_ALONE, ORDERED, NUMBERED, NAMED):
        found = rule.match(bare)
        if found is None:
            continue
        told = {k: v for k, v in found.groupdict().items() if v}
        mark = (told.get("number") or told.get("number2") or "").split("/")[0]
        number = place_number(ordinals_in_digits(mark) if len(mark) > 1 else mark.upper()) or 0
        title = bare[found.end() :].strip(MARKS)
        over = rule is NUMBERED and text[:1] in "([" and first_count(below) == 1 and len(title.split()) < FEW
        if number and not SENTENCE.search(title.replace(",", "") if over else title):
            return Head(i, (told.get("noun") or told.get("noun2") or "").casefold(), number, title, full, asks)
    return Head(i, "", 0, full, full, asks)


def _spanned(i: int, text: str) -> Head | None:
    """ "Counts 25-30", "[1-8]", "13-18: twinkles": the counts of a whole section head it."""
    found = SPAN.fullmatch(text)
    if found is None:
        return None
    low, high = int(found["low"]), int(found["high"])
    title = found["title"].strip(MARKS)
    number = stretch_number(low, high) if high - low + 1 in WHOLE_SECTION else 0
    if not number or len(title.split()) >= FEW or SENTENCE.search(title) or pointer_of(title) is not None:
        return None
    return Head(i, "counts", number, title, text.strip(MARKS), span=(low, high))


def _asked(row: str) -> Pointer | None:
    """Return what a line asks for, be it for itself."""
    return _asks_itself(row) or pointer_of(row)


def _asks_itself(row: str) -> Pointer | None:
    """ "Round four is round two, left leg leading": what a heading asks for in its own line."""
    found = ITSELF.match(row.strip())
    return pointer_of("as " + found["asked"].removeprefix("as ")) if found is not None else None


def _is_title(row: str) -> bool:
    """Return whether a line may be a title: few words, no side, no number, no sentence."""
    text = WHOLE.sub("", RANGE.sub("", row.strip()))
    words = tokens_of(text, line=0) if 0 < len(text.split()) < FEW and not SENTENCE.search(text) else ()
    return (
        bool(words)
        and text[-1:] not in ".,"
        and not any(t.kind in ("side", "num", "times", "foot") and t.value != "same" for t in words)
    )


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
        own = _asked(rows[head.at]) if not body else None
        found = _meant(own, heads, k) if own is not None else 0
        if found and own is not None:
            asked = True
            out.append(_whole(rows, starts, head.at, f"Section {k + 1}: {_asking(own, found)}"))
            continue
        out += _heading(rows, starts, k + 1, head)
        last = len(body) > 1 and k + 1 == len(heads)  # below it a remark may stand
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
        return []
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
    letter = LETTER.match(one.full)
    lettered = letter is not None and two.full == letter[0]  # "A (arms)", and "A" once more
    return lettered or one.full.casefold() == two.full.casefold() or bool(_title(one) and _title(one) == _title(two))


def _title(head: Head) -> tuple[str, ...]:
    return tuple(w for w in _words(head.title) if w not in ("again", "once", "more"))


def _words(title: str) -> list[str]:
    return title_words(in_digits(title))
