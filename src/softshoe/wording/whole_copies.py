"""Sections danced as earlier ones, and what is other in them: told by their numbers, not code by code.

``as:`` the number of a section, behind it ``mirror`` on the other side, ``feet`` without what its hands do, ``hands``
only that, ``half:1`` or ``half:2`` only its first or its last half; halves follow each other, feet and hands of two
go together. ``but`` comes before counts that are danced otherwise, ``plus`` before counts whose hands alone do.
"""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING, NamedTuple

from softshoe.wording.retell_codes import AS, BUT, COUNT, FEET, HALF, HANDS, MIRROR, PLUS, other_side

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

ARM, ARMS, HOLD, END = "arm:", "arms", "hold", "end"
IN_ORDER = ("", "e", "&", "a")  # parts of a count
At = tuple[int, str]  # the count, the part of it


class Moment(NamedTuple):
    """What is danced at one moment of a section: codes of the feet, codes of the hands."""

    at: At
    feet: tuple[str, ...] = ()
    hands: tuple[str, ...] = ()


class Source(NamedTuple):
    """An earlier section, by its number, and what of it is danced."""

    number: int
    mirror: bool = False
    only: str = ""  # FEET or HANDS
    half: int = 0


def moments_of(codes: Iterable[str]) -> list[Moment]:
    """Return the moments of a run of codes; one that waits has neither feet nor hands.

    >>> moments_of(["c1", "foot:R", "stomp", "arm:both", "hand:clap", "c2", "hold"])[1]
    Moment(at=(2, ''), feet=(), hands=())
    """
    out: list[Moment] = []
    rows: list[list[str]] = []
    for code in codes:
        if COUNT.fullmatch(code):
            rows.append([code])
        elif rows and code not in (END, BUT, PLUS):
            rows[-1].append(code)
    for count, *row in rows:
        part = row[0] if row and row[0] in IN_ORDER else ""
        told = row[1:] if part else row
        first = next((k for k, code in enumerate(told) if code.startswith(ARM)), len(told))
        feet = tuple(code for code in told[:first] if code not in (ARMS, HOLD))
        out.append(Moment((int(count[1:]), part), feet, tuple(told[first:])))
    return out


def codes_of_moments(moments: Iterable[Moment]) -> list[str]:
    """Return the codes of moments."""
    out: list[str] = []
    for (count, part), feet, hands in moments:
        out += [f"c{count}", *([part] if part else [])]
        out += [*(feet or ((ARMS,) if hands else (HOLD,))), *hands]
    return out


def danced_as(told: Sequence[str], sections: Sequence[Sequence[str]]) -> list[str] | None:
    """Return the codes of a section told by others, without the sign of its end; None where that makes no sense.

    ``sections`` are the codes of those above it.

    >>> first = ["c1", "foot:R", "step", "c2", "foot:L", "step"]
    >>> danced_as(["as:1", "mirror", "but", "c2", "hold"], [first])
    ['c1', 'foot:L', 'step', 'c2', 'hold']
    """
    cut = own_from(told)
    sources = _sources(told[:cut])
    if not sources or any(not 0 < one.number <= len(sections) for one in sources):
        return None
    codes = [_codes_of(one, sections) for one in sources]
    if sources == [Source(sources[0].number, sources[0].mirror)] and cut == len(told):
        return codes[0] or None
    rows = [moments_of(one) for one in codes]
    lengths = {max((moment.at[0] for moment in row), default=0) for row in rows}
    length = lengths.pop()
    if lengths or not length or (sources[0].half and length % 2):
        return None
    found: dict[At, Moment] = {}
    for k, (one, row) in enumerate(zip(sources, rows, strict=True)):
        for moment in _only(_half(row, one.half, length // 2, k) if one.half else row, one.only):
            _add(found, moment)
    counts = length // 2 * len(sources) if sources[0].half else length
    if not _changed(found, told[cut:]):
        return None
    return codes_of_moments(_filled(found, max(counts, max((count for count, _ in found), default=0))))


def own_from(told: Sequence[str]) -> int:
    """Return where what is other begins in the codes of a section told by others."""
    return next((k for k, code in enumerate(told) if code in (BUT, PLUS)), len(told))


def sources_in(told: Sequence[str]) -> list[int]:
    """Return the places of the sections that one is told by, from 0.

    >>> sources_in(["as:2", "mirror", "feet", "as:1", "hands"])
    [1, 0]
    """
    return [int(code.removeprefix(AS)) - 1 for code in told if code.startswith(AS)]


def counts_of_its_own(told: Sequence[str]) -> list[int]:
    """Return the counts that a section told by others tells itself.

    >>> counts_of_its_own(["as:1", "but", "c7", "hold", "plus", "c2", "arms", "arm:both", "hand:clap"])
    [7, 2]
    """
    return [moment.at[0] for moment in moments_of(told[own_from(told) :])]


def _codes_of(source: Source, sections: Sequence[Sequence[str]]) -> list[str]:
    codes = [code for code in sections[source.number - 1] if code != END]
    return other_side(codes) if source.mirror else codes


def _sources(told: Sequence[str]) -> list[Source]:
    """Return what codes name: one section, feet and hands of two, or halves; none where they make no sense."""
    out: list[Source] = []
    for code in told:
        if code.startswith(AS):
            out.append(Source(int(code.removeprefix(AS))))
        elif out and code == MIRROR and not out[-1].mirror:
            out[-1] = out[-1]._replace(mirror=True)
        elif out and code in (FEET, HANDS) and not out[-1].only:
            out[-1] = out[-1]._replace(only=code)
        elif out and code.startswith(HALF) and not out[-1].half:
            out[-1] = out[-1]._replace(half=int(code.removeprefix(HALF)))
        else:
            return []
    halves = [one.half for one in out if one.half]
    if len(out) == 1 or (len(out) == 2 and len(halves) == 2):
        return out
    return out if not halves and sorted(one.only for one in out) == [FEET, HANDS] else []


def _half(moments: Iterable[Moment], which: int, half: int, place: int) -> list[Moment]:
    """Return the moments of one half, moved to the first (0) or the second place (1)."""
    by = half * (place - which + 1)
    inside = [moment for moment in moments if (moment.at[0] > half) == (which > 1)]
    return [moment._replace(at=(moment.at[0] + by, moment.at[1])) for moment in inside]


def _only(moments: Iterable[Moment], only: str) -> list[Moment]:
    """Return what feet or hands alone do; between counts nobody waits."""
    if not only:
        return list(moments)
    left = [m._replace(hands=()) if only == FEET else m._replace(feet=()) for m in moments]
    return [moment for moment in left if moment.feet or moment.hands or not moment.at[1]]


def _add(found: dict[At, Moment], moment: Moment) -> None:
    """Let feet and hands of one moment go together; those that come first stay."""
    before = found.get(moment.at, Moment(moment.at))
    found[moment.at] = Moment(moment.at, before.feet or moment.feet, before.hands or moment.hands)


def _changed(found: dict[At, Moment], told: Sequence[str]) -> bool:
    """Change counts as they are told; return whether that makes sense."""
    for sign, codes in _segments(told):
        moments = moments_of(codes)
        if not moments:
            return False
        counts = {moment.at[0] for moment in moments}
        for at in [at for at in found if at[0] in counts]:
            if sign == BUT:
                del found[at]
            else:
                found[at] = found[at]._replace(hands=())
        for moment in moments:
            if sign == BUT or moment.hands:
                _add(found, moment)
    return True


def _segments(told: Sequence[str]) -> list[tuple[str, list[str]]]:
    out: list[tuple[str, list[str]]] = []
    for code in told:
        if code in (BUT, PLUS):
            out.append((code, []))
        else:
            out[-1][1].append(code)
    return out


def _filled(found: dict[At, Moment], counts: int) -> list[Moment]:
    """Return the moments in order, with a wait on each count on which nothing is danced."""
    rows = sorted(found.values(), key=lambda moment: (moment.at[0], IN_ORDER.index(moment.at[1])))
    by = {count: list(group) for count, group in groupby(rows, key=lambda moment: moment.at[0])}
    danced = {n: [m for m in group if m.feet or m.hands or not m.at[1]] for n, group in by.items()}
    return [moment for count in range(1, counts + 1) for moment in danced.get(count) or [Moment((count, ""))]]
