"""A whole sheet retold at once: its sections, where each begins, what is danced in it, what walls leave out or add.

One section at a time can only be retold where it was cut rightly. Told whole, prose needs no cutting: the network says
itself where a section begins, and of one that only asks for an earlier section, which that is.
"""

from __future__ import annotations

from bisect import bisect_right
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.lines import lines_of
from softshoe.wording.retell_ask import KEPT, Answer, Words, answered, joined, without_claps_unsaid
from softshoe.wording.retell_codes import (
    AFTER,
    ALL,
    AS,
    BUT,
    ENDING,
    ENDS,
    MANY,
    PLUS,
    RESTART,
    SECTION,
    TAG,
    THEN,
    WALL,
    codes_of,
    events_of,
)  # fmt: skip
from softshoe.wording.retell_pieces import SHEET
from softshoe.wording.whole_copies import counts_of_its_own, danced_as, own_from

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from softshoe.wording.lines import Line
    from softshoe.wording.retell_net import Net, Told
    from softshoe.wording.retell_pieces import Piece
    from softshoe.wording.retell_plain import Place

MOST_LETTERS = 6000
MOST_PIECES = 760
SIGNS = 2  # numbers before the first piece
LAST = "last"
Stretch = tuple[int, int]


class Part(NamedTuple):
    """One section: where its heading or its first words begin, its own words, what was told of them.

    ``copied`` are the codes that tell of which earlier ones it is danced as, if of any.
    """

    begin: int
    words: Words
    answer: Answer
    copied: tuple[str, ...] = ()


class End(NamedTuple):
    """A tag, a restart or an ending: behind which count (None: the last) of which walls, what comes then.

    ``steps`` are None for a restart; ``sure`` is how likely the least likely of its codes is.
    """

    kind: str
    after: int | None
    walls: tuple[str, ...]
    then: str
    words: Words
    steps: Answer | None
    sure: float


class Way(NamedTuple):
    """A way to tell a sheet. ``ends`` are None where what is told of them makes no sense; ``closed`` is how sure it is
    that there are no more.
    """

    parts: tuple[Part, ...] = ()
    ends: tuple[End, ...] | None = None
    closed: float = 0.0


def whole_answer(net: Net, text: str, guess: Sequence[str], *, seated: bool) -> Way:
    """Return what the network tells of a sheet; no parts where it makes no sense, or is too long."""
    pieces = _pieces(net, text)
    return _way(text, pieces, KEPT.told(net, [(seated, SHEET + text)], [guess])[0]) if pieces else Way()


def _pieces(net: Net, text: str) -> list[Piece]:
    """Return the pieces of a sheet; none where it is empty or too long."""
    pieces = net.cutter.cut(text) if len(text) <= MOST_LETTERS else []
    return pieces if len(pieces) <= MOST_PIECES else []


def _cut(codes: Sequence[str]) -> int:
    """Return where the sections end."""
    return next((k for k, code in enumerate(codes) if code in ENDS), len(codes) - 1)


def _way(text: str, pieces: Sequence[Piece], told: Told) -> Way:
    if told.codes[-1] != "end":
        return Way()
    looked = [_stretch(pieces, k) for k in told.looked]
    parts = _parts(text, told, looked)
    return Way(parts, _ends(text, parts, told, looked), told.likely[-1]) if parts else Way()


def _parts(text: str, told: Told, looked: Sequence[Stretch | None]) -> tuple[Part, ...]:
    cut = _cut(told.codes)
    begins = [k for k, code in enumerate(told.codes[:cut]) if code == SECTION]
    if not begins or begins[0] != 0:
        return ()
    first = [_begin(text, looked[k]) for k in begins]
    if any(one >= two for one, two in pairwise(first)):
        return ()
    parts: list[Part] = []
    ends = [*first[1:], len(text)]
    for k, (begin, end) in enumerate(zip(first, ends, strict=True)):
        own = slice(begins[k] + 1, begins[k + 1] if k + 1 < len(begins) else cut)
        again = told.codes[begins[k] + 1].startswith(AS)
        part = (_copied if again else _part)(text, parts, (begin, end), told, looked, own)
        if part is None:
            return ()
        parts.append(part)
    return tuple(parts)


def _words(text: str, number: int, room: Stretch, looked: Sequence[Stretch | None]) -> Words | None:
    """Return the words of a room from its first line to the last that was looked at; None where there are none."""
    begin, end = room
    last = max((there[1] for there in looked if there and begin <= there[0] < end), default=begin)
    rows = _rows(text, begin, min(end, _end_of_line(text, last)))
    return joined(number, rows, 0) if rows else None


def words_between(text: str, number: int, room: Stretch) -> Words | None:
    """Return all words of a room; None where there are none."""
    rows = _rows(text, *room)
    return joined(number, rows, 0) if rows else None


def _part(
    text: str, before: Sequence[Part], room: Stretch, told: Told, looked: Sequence[Stretch | None], own: slice
) -> Part | None:
    """Return one section with the events told of it."""
    words = _words(text, len(before), room, looked[own])
    answer = _answered(text, words, told, looked, own) if words is not None else None
    return Part(room[0], words, answer) if words is not None and answer is not None else None


def _answered(text: str, words: Words, told: Told, looked: Sequence[Stretch | None], own: slice) -> Answer | None:
    """Return the events told of words in a run of codes that begins behind a sign."""
    inside = [_within(words, there) for there in looked[own]]
    codes = (*told.codes[own], "end")
    likely = (told.likely[own.start - 1], *told.likely[own], told.likely[own.stop])
    return answered(words, codes, likely, [*inside, None], text)


def _copied(
    text: str, before: Sequence[Part], room: Stretch, told: Told, looked: Sequence[Stretch | None], own: slice
) -> Part | None:
    """Return a section that is danced as others before it: what it has of them stands where it asks for that."""
    words = _words(text, len(before), room, looked[own])
    codes = danced_as(told.codes[own], [codes_of(part.answer.events) for part in before])
    events = events_of([*codes, "end"]) if codes is not None else None
    if words is None or events is None:
        return None
    events = without_claps_unsaid(events, text)
    place = _asking(words, _within(words, looked[own.start]))
    sure = min(told.likely[own.start - 1 : own.stop + 1])
    other = _other(text, words, told, looked, own)
    answer = Answer(tuple(events), {}, sure, crossed=other is not None and other.crossed)
    places = dict.fromkeys(range(1, answer.counts + 1), place)
    there = other.places if other is not None else {}
    places |= {n: there[n] for n in counts_of_its_own(told.codes[own]) if n in places and n in there}
    return Part(room[0], words, answer._replace(places=places), tuple(told.codes[own]))


def _other(text: str, words: Words, told: Told, looked: Sequence[Stretch | None], own: slice) -> Answer | None:
    """Return what is other in a section told by others; None where nothing is."""
    first = own.start + own_from(told.codes[own])
    rows = [k for k in range(first, own.stop) if told.codes[k] not in (BUT, PLUS)]
    codes, likely = [*(told.codes[k] for k in rows), "end"], [*(told.likely[k] for k in rows), 1.0]
    return answered(words, codes, likely, [*(_within(words, looked[k]) for k in rows), None], text) if rows else None


def _asking(words: Words, there: Stretch | None) -> Place:
    """Return where a section asks for another: the words looked at, but for its heading; else its last line."""
    at, *_ = words.lines[-1]
    if there is None or there[0] < words.text.find("\n"):
        there = (at, len(words.text))
    return words.place(*there)


def _ends(text: str, parts: Sequence[Part], told: Told, looked: Sequence[Stretch | None]) -> tuple[End, ...] | None:
    """Return what is told of tags, restarts and endings; None where it makes no sense, or of words of the sections."""
    codes = told.codes
    begins = [k for k, code in enumerate(codes) if code in ENDS]
    first = [looked[k] for k in begins]
    starts = sorted({_begin(text, there) for there in first})
    out: list[End] = []
    for there, (begin, stop) in zip(first, pairwise([*begins, len(codes) - 1]), strict=True):
        start = _begin(text, there)
        room = start, min((at for at in starts if at > start), default=len(text))
        one = _end(text, room, told, looked, slice(begin, stop)) if there is not None else None
        if one is None or any(_overlap(one.words.span, place.span) for part in parts for place in _places(part)):
            return None
        out.append(one)
    return tuple(out)


def _places(part: Part) -> Iterable[Place]:
    """Return where a section tells steps of its own."""
    own = counts_of_its_own(part.copied) if part.copied else part.answer.places
    return [part.answer.places[n] for n in own if n in part.answer.places]


def _overlap(one: Stretch, other: Stretch) -> bool:
    return one[0] < other[1] and other[0] < one[1]


def _are_walls(kind: str, walls: Sequence[str]) -> bool:
    """Return whether an ending is of one wall or the last, anything else of walls by number."""
    if kind == ENDING and tuple(walls) == (LAST,):
        return True
    return bool(walls) and all(map(str.isdigit, walls)) and (kind != ENDING or len(walls) == 1)


def _end(text: str, room: Stretch, told: Told, looked: Sequence[Stretch | None], own: slice) -> End | None:
    codes = told.codes[own]
    kind = codes[0]
    after = [code.removeprefix(AFTER) for code in codes if code.startswith(AFTER)]
    walls = tuple(code.removeprefix(WALL) for code in codes if code.startswith(WALL))
    then = [code.removeprefix(THEN) for code in codes if code.startswith(THEN)]
    many = [code.removeprefix(MANY) for code in codes if code.startswith(MANY)]
    words = _words(text, 0, room, looked[own])
    wanted = {TAG: (1, 1), ENDING: (0, 1), RESTART: (0, 0)}[kind]
    if words is None or len(after) != 1 or (len(then), len(many)) != wanted or not _are_walls(kind, walls):
        return None
    if kind == RESTART and after[0] == ALL:
        return None
    steps: Answer | None = None
    if kind != RESTART:
        first = own.start + 1 + next(k for k, code in enumerate(codes) if code.startswith(MANY))
        steps = _answered(text, words, told, looked, slice(first, own.stop))
        if steps is None or steps.counts != int(many[0]):
            return None
    number = None if after[0] == ALL else int(after[0])
    sure = min(told.likely[own.start : own.stop + 1])
    return End(kind, number, walls, then[0] if then else "", words, steps, sure)


def _stretch(pieces: Sequence[Piece], looked: int) -> Stretch | None:
    at = looked - SIGNS
    return (pieces[at].start, pieces[at].end) if 0 <= at < len(pieces) else None


def _begin(text: str, there: Stretch | None) -> int:
    """Return where a section begins: with its line, unless words of the section before stand on it."""
    at = there[0] if there is not None else 0
    line = text.rfind("\n", 0, at) + 1
    return line if not any(char.isalnum() for char in text[line:at]) else at


def _end_of_line(text: str, at: int) -> int:
    end = text.find("\n", at)
    return len(text) if end < 0 else end


def _rows(text: str, begin: int, end: int) -> list[tuple[int, Line]]:
    """Return the written lines of a stretch, each with the characters to skip on it."""
    out: list[tuple[int, Line]] = []
    for line in lines_of(text):
        start, stop = max(begin, line.start), min(end, line.start + len(line.text))
        if start < stop and line.text[start - line.start : stop - line.start].strip():
            out.append((start - line.start, line._replace(text=line.text[: stop - line.start])))
    return out


def _within(words: Words, there: Stretch | None) -> Stretch | None:
    """Return where characters of the sheet stand among the words; None where they are not among them."""
    if there is None:
        return None
    starts = [start for _, start, _ in words.lines]
    k = bisect_right(starts, there[0]) - 1
    if k < 0:
        return None
    at, start, _ = words.lines[k]
    first, last = there[0] - start + at, there[1] - start + at
    ends = words.lines[k + 1][0] - 1 if k + 1 < len(words.lines) else len(words.text)
    return (first, last) if last <= ends else None
