"""What changed between two texts of a dance, in counts: "counts 13–16 mirrored", "wall 3 now restarts after 16".

Pure: two dances in, differences out. Counts are numbered in the later dance; where something was left out, in the
earlier one.
"""

from __future__ import annotations

from dataclasses import dataclass
from difflib import SequenceMatcher
from itertools import groupby
from typing import TYPE_CHECKING, Literal

from softshoe.repertoire.difference_around import around
from softshoe.repertoire.difference_words import counts_words, danced_words, now_words

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from softshoe.dance.action import Action
    from softshoe.dance.dance import Dance

Kind = Literal[
    "around", "mirrored", "turn", "way", "foot", "arms", "time", "changed", "exchanged", "moved", "added", "left out"
]
Row = tuple[tuple[object, ...], ...]
Pair = tuple[int | None, int | None]
Stretch = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing that changed. ``counts`` are first and last in the later dance, ``was`` in the earlier; None where the
    change is not in the wall's counts (header, tags, restarts, endings) or there is nothing there.
    """

    kind: Kind
    counts: Stretch | None
    was: Stretch | None
    words: str


@dataclass(frozen=True, slots=True)
class _Wall:
    """A dance as rows, one a whole count; row 0 holds the "&" before count 1."""

    dance: Dance
    rows: tuple[tuple[Action, ...], ...]
    keys: tuple[Row, ...]

    @classmethod
    def of(cls, dance: Dance) -> _Wall:
        last = max([dance.counts, *(action.at.whole for action in dance.actions)])
        rows: list[list[Action]] = [[] for _ in range(last + 1)]
        for action in dance.actions:
            rows[max(0, action.at.whole)].append(action)
        return cls(dance, tuple(map(tuple, rows)), tuple(_key(row) for row in rows))

    def actions(self, first: int, last: int) -> list[Action]:
        return [action for n in range(first, last + 1) for action in self.rows[n]]


def _key(row: Iterable[Action], *, mirror: bool = False) -> Row:
    actions = [action.mirrored if mirror else action for action in row]
    return tuple((a.at.at - a.at.whole, a.foot, a.verb, a.dir, a.turn_deg, a.arms, a.weight_said) for a in actions)


def differences(before: Dance, after: Dance) -> tuple[Difference, ...]:
    """Return what changed from one dance to the other, the wall's counts first; () where they dance alike.

    >>> from softshoe.wording.read import read
    >>> old = read("Tin Lane\\n1 Step right to the side\\n2 Touch left together\\n3-4 Step left, touch right")
    >>> new = read("Tin Lane\\n1 Step left to the side\\n2 Touch right together\\n3-4 Step left, touch right")
    >>> [one.words for one in differences(old, new)][0]
    'counts 1–2 mirrored'
    """
    was, now = _Wall.of(before), _Wall.of(after)
    found = [*_exchanged(was, now)] or min((_told(was, now, pairs) for pairs in _alignments(was, now)), key=len)
    return (*found, *(Difference("around", None, None, words) for words in around(before, after)))


def alike(one: Dance, other: Dance) -> float:
    """Return the share of the counts, 0 to 1, that two dances dance alike, in whatever order the stretches come."""
    was, now = _Wall.of(one), _Wall.of(other)
    return SequenceMatcher(None, was.keys, now.keys, autojunk=False).ratio()


def _exchanged(was: _Wall, now: _Wall) -> Iterator[Difference]:
    """Two sections that changed places, where nothing else in the wall did."""
    if was.keys == now.keys or len(was.keys) != len(now.keys):
        return
    parts = [(int(s.start.at), int(s.start.at) + int(s.length.n) - 1) for s in was.dance.sections]
    for a, (a1, a2) in enumerate(parts):
        for b1, b2 in parts[a + 1 :]:
            order = [
                *range(a1),
                *range(b1, b2 + 1),
                *range(a2 + 1, b1),
                *range(a1, a2 + 1),
                *range(b2 + 1, len(was.keys)),
            ]
            if b2 < len(was.keys) and tuple(was.keys[n] for n in order) == now.keys:
                words = f"{counts_words(a1, a2)} and {b1}–{b2} exchanged"
                yield Difference("exchanged", (a1, a2), (b1, b2), words)
                return


def _told(was: _Wall, now: _Wall, pairs: list[Pair]) -> list[Difference]:
    """What there is to tell where these counts became those."""
    found = _moves([*_changed(was, now, pairs), *_gone(was, pairs), *_new(now, pairs)], was, now)
    return sorted(found, key=lambda one: one.counts or one.was or (0, 0))


def _alignments(was: _Wall, now: _Wall) -> Iterator[list[Pair]]:
    """Which count became which: one to one, then by the longest stretches that stayed."""
    most = max(len(was.keys), len(now.keys))
    yield [(n if n < len(was.keys) else None, n if n < len(now.keys) else None) for n in range(most)]
    shifted: list[Pair] = []
    for what, a1, a2, b1, b2 in SequenceMatcher(None, was.keys, now.keys, autojunk=False).get_opcodes():
        if what in ("equal", "replace") and a2 - a1 == b2 - b1:
            shifted += zip(range(a1, a2), range(b1, b2), strict=True)
        else:
            shifted += [(n, None) for n in range(a1, a2)] + [(None, n) for n in range(b1, b2)]
    yield shifted


def _class(old: tuple[Action, ...], new: tuple[Action, ...]) -> Kind:
    """What kind of change one count went through."""
    if _key(new) == _key(old, mirror=True):
        return "mirrored"
    if len(old) != len(new):
        return "changed"
    parts: tuple[tuple[Kind, int], ...] = (("time", 0), ("foot", 1), ("way", 3), ("turn", 4), ("arms", 5))
    for kind, at in parts:
        if all(a[:at] + a[at + 1 :] == b[:at] + b[at + 1 :] for a, b in zip(_key(old), _key(new), strict=True)):
            return kind
    return "changed"


def _changed(was: _Wall, now: _Wall, pairs: list[Pair]) -> Iterator[Difference]:
    """Counts that are in both and differ, neighbours of one kind together."""
    both = [(a, b) for a, b in pairs if a is not None and b is not None]
    kinds: list[Kind | None] = [
        None if was.keys[a] == now.keys[b] else _class(was.rows[a], now.rows[b]) for a, b in both
    ]
    for k in range(1, len(both) - 1):  # a hold between mirrored counts is its own mirror
        a = both[k][0]
        if kinds[k] is None and kinds[k - 1] == "mirrored" and _key(was.rows[a], mirror=True) == was.keys[a]:
            ahead = next((kind for kind in kinds[k + 1 :] if kind is not None), None)
            kinds[k] = "mirrored" if ahead == "mirrored" else None
    at = 0
    sections = [_section(now.dance, b) if kind == "changed" else 0 for kind, (_, b) in zip(kinds, both, strict=True)]
    for (kind, *_), group in groupby(zip(kinds, (b - a for a, b in both), sections, strict=True)):
        size = len(list(group))
        first, last = both[at], both[at + size - 1]
        at += size
        if kind is not None:
            yield _one(kind, was, now, (first[0], last[0]), (first[1], last[1]))


def _section(dance: Dance, count: int) -> int:
    """Which section a count is in: what became another dance is told section by section."""
    return (max(count, 1) - 1) // dance.counts_per_section


def _one(kind: Kind, was: _Wall, now: _Wall, old: Stretch, new: Stretch) -> Difference:
    waltz = now.dance.metre == "3/4"
    words = now_words(kind, new, was.actions(*old), now.actions(*new), waltz=waltz)
    return Difference(kind, new, old, words)


def _stretches(numbers: list[int]) -> Iterator[Stretch]:
    for _, group in groupby(enumerate(numbers), key=lambda row: row[1] - row[0]):
        run = [n for _, n in group]
        yield run[0], run[-1]


def _gone(was: _Wall, pairs: list[Pair]) -> Iterator[Difference]:
    gone = [a for a, b in pairs if b is None and a is not None and (a or was.rows[0])]
    for old in _stretches(gone):
        said = danced_words(was.actions(*old), waltz=was.dance.metre == "3/4")
        yield Difference("left out", None, old, f"{counts_words(*old)} of before left out ({said})")


def _new(now: _Wall, pairs: list[Pair]) -> Iterator[Difference]:
    new = [b for a, b in pairs if a is None and b is not None and (b or now.rows[0])]
    for stretch in _stretches(new):
        said = danced_words(now.actions(*stretch), waltz=now.dance.metre == "3/4")
        yield Difference("added", stretch, None, f"{counts_words(*stretch)} added ({said})")


def _moves(found: list[Difference], was: _Wall, now: _Wall) -> list[Difference]:
    """What was left out at one place and added at another moved."""
    left = list(found)
    for gone in [one for one in found if one.kind == "left out"]:
        for new in [one for one in left if one.kind == "added"]:
            a, b = gone.was, new.counts
            if a and b and was.keys[a[0] : a[1] + 1] == now.keys[b[0] : b[1] + 1]:
                left = [one for one in left if one not in (gone, new)]
                left.append(Difference("moved", b, a, f"{counts_words(*a)} of before moved to {counts_words(*b)}"))
                break
    return left
