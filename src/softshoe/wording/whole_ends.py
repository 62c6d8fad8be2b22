"""Tags, restarts and endings as the network tells them with the whole sheet, beside those that were read.

One is taken where the network is sure of it, it can be danced, and nothing is hidden that is the author's to mend; what
was read so already stays as it is. What was taken is told in a note, or in a warning where it was hard to read.
"""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from typing import TYPE_CHECKING, Any, NamedTuple

from softshoe.errors import Finding
from softshoe.wording.extras import placed, stated_lengths
from softshoe.wording.numbers import in_digits, ordinals_in_digits
from softshoe.wording.read_once import read_whole
from softshoe.wording.retell_codes import AFTER, ALL, ENDING, MANY, RESTART, TAG, THEN, WALL, codes_of
from softshoe.wording.retell_plain import PLAIN
from softshoe.wording.retell_weigh import OPEN, SURE, WRITTEN, Doubt, alike, events_in_actions, unsigned
from softshoe.wording.retold import amiss_in, net, said
from softshoe.wording.shape import shape
from softshoe.wording.whole_ask import LAST
from softshoe.wording.write_book import book
from softshoe.wording.write_head import walls_words

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from softshoe.dance.action import Action
    from softshoe.dance.dance import Dance, Ending, Restart, Tag
    from softshoe.wording.reading import Reading
    from softshoe.wording.whole_ask import End, Way

    Key = tuple[str, int, tuple[str, ...], str, int]
    Steps = Sequence[Mapping[str, Any]]

LENGTH, PROMISE = "tag-length", "promise"
HERS = frozenset(("place", "facing", "free-foot"))
NUMBER = shape(r"\d+")
OF_ENDS = shape(r"\b(?:tags?|restarts?|bridges?|endings?|walls? \d|w\d)\b", re.IGNORECASE)
NO_WALL = shape(  # counts, how many walls there are, the counts before a line of steps
    r"\b\d+[\s-]*(?:extra\s+|more\s+)?(?:counts?|cts?|beats?|c|walls?|w)\b(?!\s*:)|^\W*\d+(?:\s*[-–&,]\s*\d+)*(?=\W*\s[a-z])",
    re.IGNORECASE,
)
SLIPS = (*WRITTEN, unsigned)
WAITS = shape(r"\b(?:hold|wait|pause|rest|stay|keep|freeze|still|count|beat|for|slow)|\d\s*[-–]\s*\d", re.IGNORECASE)


class Row(NamedTuple):
    """A tag, restart or ending of a dance: what it is, its steps, itself."""

    key: Key
    steps: Steps
    own: Tag | Restart | Ending


def codes_of_ends(dance: Dance) -> list[str]:
    """Return the codes of a dance's tags, restarts and endings, in the order of the lines that tell them."""
    rows = sorted(_rows(dance), key=lambda row: row.own.line)
    return [code for row in rows for code in _codes(row.key, row.steps, dance.counts)]


def _codes(key: Key, steps: Steps, counts: int) -> list[str]:
    kind, after, walls, then, many = key
    out = [kind, f"{AFTER}{ALL if after == counts else after}", *(f"{WALL}{wall}" for wall in walls)]
    out += [f"{THEN}{then}"] if then else []
    return [*out, f"{MANY}{many}", *codes_of(steps)[:-1]] if kind != RESTART else out


def _rows(dance: Dance) -> list[Row]:
    """Return what a dance's walls leave out or add."""
    out = [Row((TAG, t.after_count, _names(t.walls), t.then, t.counts), _steps(t.actions), t) for t in dance.tags]
    out += [Row((RESTART, r.after_count, _names(r.walls), "", 0), (), r) for r in dance.restarts]
    out += [Row((ENDING, e.after_count, (str(e.wall),), "", e.counts), _steps(e.actions), e) for e in dance.endings]
    return out


def _names(walls: Sequence[int]) -> tuple[str, ...]:
    return tuple(map(str, sorted(walls)))


def _steps(actions: Sequence[Action]) -> Steps:
    return events_in_actions(actions, 1)


def _key(end: End, counts: int) -> Key:
    after = counts if end.after is None else end.after
    many = end.steps.counts if end.steps is not None else 0
    return end.kind, after, tuple(sorted(end.walls, key=lambda wall: (len(wall), wall))), end.then, many


def _is(row: Row, end: End, counts: int) -> bool:
    """Return whether what was read is an end as it is told."""
    return row.key == _key(end, counts) and alike(row.steps, end.steps.events if end.steps is not None else ())


def joined(ends: Sequence[End]) -> list[End]:
    """Return ends with the restarts behind one count as one."""
    out: list[End] = []
    for end in ends:
        same = next(
            (k for k, one in enumerate(out) if one.kind == end.kind == RESTART and one.after == end.after), None
        )
        if same is None:
            out.append(end)
        else:
            sure = min(out[same].sure, end.sure)
            out[same] = out[same]._replace(walls=(*out[same].walls, *end.walls), sure=sure)
    return out


def unlike_ends(dance: Dance, ends: Sequence[End]) -> tuple[list[End], list[Row]]:
    """Return the ends told that a dance has not, and what it has that is not told."""
    rows, new = _rows(dance), []
    for end in joined(ends):
        there = next((row for row in rows if _is(row, end, dance.counts)), None)
        if there is None:
            new.append(end)
        else:
            rows.remove(there)
    return new, rows


def with_ends(text: str, found: Reading, way: Way) -> Reading:
    """Return a sheet with those tags, restarts and endings that are told otherwise than they were read, where sure.

    What was read and is not told stays, and nothing is taken then: the network may have passed it over.
    """
    new, left = unlike_ends(found.dance, way.ends or ())
    kept = {row.own.line for row in _rows(found.dance) if row not in left}
    if way.ends is None or not new or not _in_the_place_of(new, left):
        return found
    if not all(_is_said(text, end, found.dance.counts, kept) for end in new):
        return found
    if not _are_sure(found.dance, way, new, kept):
        return found
    before, other = read_whole(text, way.parts), read_whole(text, way.parts, way.ends)
    if before is None or other is None or not _fit(found.dance, other.dance, way.ends):
        return found
    gone, more = _changed(found.dance, before.dance, other.dance, kept | (_lines(way.ends) - _lines(new)))
    if any(f.severity == "error" for f in more) or any(_is_hers(f, new) for f in gone):
        return found
    hidden = [row for row in before.dance.kept if row not in other.dance.kept]
    shown = [row for row in other.dance.kept if row not in before.dance.kept and row not in found.dance.kept]
    dance = _with_rows(found.dance, other.dance, new, left)
    dance = replace(
        dance, kept=(*(row for row in dance.kept if row not in hidden), *shown),
        findings=(*(f for f in dance.findings if f not in gone), *more, *map(_note, new)),
    )  # fmt: skip
    return replace(found, dance=dance, paints=(*found.paints, *((*end.words.span, "event") for end in new)))


def _changed(found: Dance, before: Dance, other: Dance, stay: set[int]) -> tuple[list[Finding], list[Finding]]:
    """Return what is told no more where other ends are danced, and what is told besides; not of lines that stay."""
    gone = [f for f in before.findings if f not in other.findings and f.line not in stay]
    known = (*before.findings, *found.findings)
    return gone, [f for f in other.findings if f not in known and f.line not in stay]


def _lines(ends: Sequence[End]) -> set[int]:
    return {number for end in ends for _, _, number in end.words.lines}


def _with_rows(dance: Dance, other: Dance, new: Sequence[End], left: Sequence[Row]) -> Dance:
    """Return a dance with the ends of another one that are new in it, instead of those that are left over."""
    rows = [row for row in _rows(dance) if row not in left]
    rows += [row for end in new for row in _rows(other) if _is(row, end, other.counts)]
    rows.sort(key=lambda row: row.own.line)
    of_kind = {kind: tuple(row.own for row in rows if row.key[0] == kind) for kind in (TAG, RESTART, ENDING)}
    return replace(dance, tags=of_kind[TAG], restarts=of_kind[RESTART], endings=of_kind[ENDING])  # type: ignore[arg-type]


def _in_the_place_of(new: Sequence[End], left: Sequence[Row]) -> bool:
    """Return whether each end that was read and is not told has another of its kind in its place."""
    told, read = (Counter(kinds) for kinds in ((end.kind for end in new), (row.key[0] for row in left)))
    return not read - told


def _is_said(text: str, end: End, counts: int, others: set[int]) -> bool:
    """Return whether the walls of an end are named where it is told, or promised; and no other count than told is.

    ``others`` are lines that tell of other ends.
    """
    own = _own_words(end, others)
    lines = (*own.split("\n"), *(line for line in text.split("\n") if OF_ENDS.search(line)))
    named = {number for line in lines for number in _numbers(NO_WALL.sub(" ", in_digits(line)))}
    walls = all(wall in named for wall in end.walls if wall.isdigit())
    where = placed(own)
    all_walls = end.walls == (LAST,) or set(map(str, where.walls)) <= set(end.walls)
    told = counts if end.after is None else end.after
    return walls and all_walls and (where.after in (None, told) or str(end.after) in _numbers(own))


def _own_words(end: End, others: set[int]) -> str:
    rows = zip(end.words.lines, end.words.text.split("\n"), strict=True)
    return "\n".join(words for (_, _, number), words in rows if number not in others)


def _numbers(text: str) -> set[str]:
    return set(NUMBER.findall(in_digits(ordinals_in_digits(text))))


def _is_hers(finding: Finding, new: Sequence[End]) -> bool:
    """Return whether an error is the author's to mend: a place or an hour that is not there, a promise not kept."""
    hers = finding.kind in HERS or (finding.kind == PROMISE and finding.line in _lines(new))
    return hers and finding.severity == "error"


def _fit(found: Dance, other: Dance, ends: Sequence[End]) -> bool:
    """Return whether a dance has the ends told, and they go with a dance of so many counts."""
    return unlike_ends(other, ends) == ([], []) and found.counts == other.counts and found.seated == other.seated


def _are_sure(found: Dance, way: Way, new: Sequence[End], others: set[int]) -> bool:
    """Return whether the network is sure enough of the ends that were not read, and mends nothing for the author."""
    sure = min(end.sure for end in new)
    lacking = way.closed >= OPEN and _is_lacking(found, way.ends or (), new)
    return sure >= (OPEN if lacking else SURE) and not any(_is_slip(found, end, others) for end in new)


def _is_lacking(found: Dance, ends: Sequence[End], new: Sequence[End]) -> bool:
    """Return whether fewer ends were read than are told, or something is amiss in the words of one of the new ones."""
    amiss = any(f.severity != "note" and f.line in _lines(new) for f in found.findings)
    return amiss or len(_rows(found)) < len(joined(ends))


def _is_slip(found: Dance, end: End, others: set[int]) -> bool:
    """Return whether what is amiss in the words of an end is its author's: a length that its steps don't fill, …"""
    if end.steps is None:
        return False
    amiss = amiss_in(found, end.words, end.words.lines[0][2])
    short = any(f.kind == LENGTH for f in amiss)
    own = _own_words(end, others)
    lengths = stated_lengths(own.split("\n")[0]) or stated_lengths(own)
    if (short or lengths) and end.steps.counts not in lengths:
        return True
    if short and any(
        _moves(row.steps) > _moves(end.steps.events) for row in _rows(found) if row.own.line in _lines([end])
    ):
        return True  # more is written than the counts hold
    amiss = tuple(replace(f, kind="section-length") if f.kind == LENGTH else f for f in amiss)
    doubt = Doubt(end.words, end.steps, amiss, net().words, ())
    waits = any(event["action"] == "hold" for event in end.steps.events) and not WAITS.search(end.words.text)
    return any(slip(doubt) for slip in SLIPS) or waits


def _moves(steps: Steps) -> int:
    return sum(step["action"] != "hold" for step in steps)


def _note(end: End) -> Finding:
    where = "at the end" if end.after is None else f"after count {end.after}"
    steps = f": {said(end.steps)}" if end.steps is not None else ""
    told = f"{_article(end.kind)} {_walls(end.walls)}, {where}{steps}"
    line = end.words.lines[0][2]
    if end.sure >= SURE:
        return Finding("note", "inferred", line, None, f"Read as {told}.", None)
    message = f"These words were hard to read; the likeliest was taken: {told}."
    return Finding("warning", "ambiguous", line, None, message, None)


def _article(kind: str) -> str:
    return f"an {kind}" if kind == ENDING else f"a {kind}"


def _walls(walls: Sequence[str]) -> str:
    return "on the last wall" if walls == (LAST,) else walls_words(list(map(int, walls)), book("en", PLAIN))
