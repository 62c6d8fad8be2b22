"""Beats laid on counts: by counts told before or behind them, by lengths, one a count; they must fill the section."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

from softshoe.wording.chair_parts import MARCH, OTHER, SOUNDS, Beat

if TYPE_CHECKING:
    from collections.abc import Sequence

ENDS = 4  # the last movement told by its count stands in the last counts


def laid(beats: list[Beat], counts: int, each: int) -> list[Beat] | None:
    """Return the beats with the counts they fall on; None where they don't fill the section."""
    found = None if any(b.track for b in beats) else _laid(beats, counts, each)
    return found or _in_tracks(beats, counts, each)


def _laid(beats: list[Beat], counts: int, each: int) -> list[Beat] | None:
    plain = [b for b in beats if b.kind != "dash" or b.at]
    for own in (plain, beats) if len(plain) < len(beats) else (plain,):
        if any(b.label for b in own):
            found = _labelled(own, counts, each)
        else:
            found = Runner(own, counts, each, "at").run() or Runner(own, counts, each, "length").run()
        if found is not None:
            return found
    return None


def _in_tracks(beats: list[Beat], counts: int, each: int) -> list[Beat] | None:
    """Return feet and hands told apart, laid over each other."""
    feet = [b for b in beats if b.track == "feet" or (not b.track and b.feet)]
    hands = [b for b in beats if b not in feet]
    if not feet or not hands or any(b.feet for b in hands):
        return None
    if any(b.label for b in beats) and not (feet[0].label and hands[0].label):
        return None
    under, over = _laid(feet, counts, 0) or _through(feet, counts), _laid(hands, counts, each)
    both = [*under, *over] if under is not None and over is not None else None
    return both if both is not None and _apart(both) else None


def _through(feet: list[Beat], counts: int) -> list[Beat] | None:
    """A march that is told once goes on to the end."""
    marches = len(feet) == 1 and bool(feet[0].feet) and feet[0].feet[0].verb == MARCH
    whole = marches and feet[0].length in (0, counts)
    return _spread(feet[0], range(1, counts + 1), held=True) if whole else None


class Runner:
    """Lays beats without labels; ``lone`` says what a number alone behind the words is: a count or a length."""

    def __init__(self, beats: list[Beat], counts: int, each: int, lone: str) -> None:
        self.beats, self.counts, self.each, self.lone = beats, counts, each, lone
        self.told = any(b.at for b in beats) or (lone == "at" and any(b.nums for b in beats))
        self.out: list[Beat] = []
        self.cursor = 0
        self.numbers: set[int] = set()  # the counts told
        self.rests = False  # whether a rest is told by its count

    def run(self) -> list[Beat] | None:
        """Return the beats laid down, or None."""
        if not all(map(self._beat, self.beats)) or not self.out or not _apart(self.out):
            return None
        last = max(n for b in self.out for n in b.at)
        if self.rests and self.numbers == set(range(1, max(self.numbers) + 1)) and self.cursor < self.counts:
            return None  # who tells every count, its rests too, leaves none out at the end
        if self.told:
            return self.out if self.counts - ENDS < last <= self.counts >= self.cursor else None
        return self.out if self.cursor == self.counts else None

    def _beat(self, b: Beat) -> bool:
        """Lay one beat; return whether that can be."""
        lengths = self.lone == "length"
        if (lengths and len(b.nums) > 1) or (b.kind == "copy" and (b.at or (b.nums and not lengths))):
            return False
        at = b.at or (() if lengths else b.nums)
        if at:
            return self._told(b, at)
        length = b.length or (b.nums[0] if lengths and b.nums else 0)
        if self.told and not length and not b.still and (not lengths or b.lasts):
            return False
        if self.told and b.still and not length:
            self.cursor += 1
            return True
        length = length or (1 if b.still else self.each or 1)
        held = not (lengths and b.nums and b.often)
        self.out += _spread(b, range(self.cursor + 1, self.cursor + length + 1), held=held)
        self.cursor += length
        return True

    def _told(self, b: Beat, at: tuple[int, ...]) -> bool:
        back = list(at) != sorted(at) or (at[0] <= self.cursor and not b.still)
        if back and len(at) < 2:
            return False
        self.out += _spread(b, at, held=False)
        self.numbers.update(at)
        self.rests = self.rests or b.still
        self.cursor = max(self.cursor, at[-1])
        if b.length and not b.still:
            self.cursor = at[0] + b.length - 1
        return True


def _spread(b: Beat, at: Sequence[int], *, held: bool) -> list[Beat]:
    """Return a beat on each of its counts, or on the first where it is ``held`` through the others."""
    if b.still:
        return []
    run = list(at) == list(range(at[0], at[-1] + 1))
    once = run and not b.lasts and (held or b.ranged or (b.listed and not b.sounds))
    out: list[Beat] = []
    for k, n in enumerate(at[:1] if once else at):
        marches = k % 2 and b.feet and b.feet[0].verb == MARCH
        feet = tuple(replace(f, foot=OTHER[f.foot]) for f in b.feet) if marches else b.feet
        out.append(replace(b, at=(n,), feet=feet))
    return out


def _apart(out: Sequence[Beat]) -> bool:
    """Return whether no hand does two things at once, and no foot."""
    parts: list[tuple[int, str]] = []
    for b in out:
        hands = [s for h in b.hands for s in (("R", "L") if h.side == "both" else (h.side,))]
        parts += [(n, part) for n in b.at for part in (*hands, *("foot" for _ in b.feet))]
    return len(set(parts)) == len(parts)


# counts before the words


def grouped(beats: Sequence[Beat]) -> list[list[Beat]]:
    """Return the beats by the labels they stand behind; [] where the first stands behind none."""
    groups: list[list[Beat]] = []
    for b in beats:
        if b.label:
            groups.append([b])
        elif not groups:
            return []
        else:
            groups[-1].append(b)
    return groups


def _labelled(beats: list[Beat], counts: int, each: int) -> list[Beat] | None:
    out: list[Beat] = []
    cursor = 0
    groups = grouped(beats)
    steps = {b[0].label[0] - a[0].label[0] for a, b in pairwise(groups)}
    lone = len(steps) == 1 and min(steps) > 1 and all(len(g[0].label) == 1 for g in groups)  # 1, 3, 5, 7
    for k, group in enumerate(groups):
        label = group[0].label
        own = [b for b in group if b.kind != "label"]
        if lone and len(own) == 1:
            label = tuple(range(label[0], groups[k + 1][0].label[0] if k + 1 < len(groups) else counts + 1))
        if not label or list(label) != list(range(cursor + 1, label[-1] + 1)) or (lone and len(label) > max(steps)):
            return None
        if len(own) == 2 and len(label) == 2 and _opposed(own[0], own[1]):
            own = [replace(own[0], hands=(*own[0].hands, *own[1].hands), words=(*own[0].words, *own[1].words))]
        found = _filled(own, cursor, len(label), each)
        if found is None:
            return None
        out += found
        cursor = label[-1]
    return out if out and cursor == counts and _apart(out) else None


def _opposed(one: Beat, two: Beat) -> bool:
    """ "R arm up, L arm down", "heel forward and both hands reach": at one moment, and held."""
    if one.feet and not one.hands and two.hands and not two.feet and not (two.sounds or two.lasts):
        return True
    if len(one.hands) != 1 or len(two.hands) != 1 or one.feet or two.feet:
        return False
    a, b = one.hands[0], two.hands[0]
    ways = {a.way or a.gest, b.way or b.gest}
    return {a.side, b.side} == {"R", "L"} and ways in ({"up", "down"}, {"up", "lower"})


def _filled(own: list[Beat], start: int, counts: int, each: int) -> list[Beat] | None:
    """Fill so many counts behind ``start`` with the beats of one label."""
    told = any(b.at for b in own)
    lengths = None if told else lengths_of(own, counts, each, lone="length")
    if lengths is None and not told and not any(b.nums for b in own):
        return None
    out: list[Beat] = []
    if lengths is None:
        for b in own:
            at = b.at or b.nums
            if not at or not start < at[0] <= at[-1] <= start + counts:
                return None
            out += _spread(b, at, held=False)
        return out
    often = len(own) == 1 and _several(own[0])
    for b, length in zip(own, lengths, strict=True):
        out += _spread(b, range(start + 1, start + length + 1), held=not often)
        start += length
    return out


def _several(b: Beat) -> bool:
    """ "5-7 claps": one a count."""
    return b.plural and not b.length and bool(b.hands) and b.hands[0].gest in SOUNDS


def lengths_of(own: list[Beat], counts: int, each: int, *, lone: str) -> list[int] | None:
    """Return how long each of a label's beats lasts; None where they don't fill it."""
    if any(len(b.nums) > 1 or b.at for b in own):
        return None
    lengths = [b.length or (b.nums[0] if b.nums and lone == "length" else 0) for b in own]
    usual = [n or (0 if b.still else each) or 1 for n, b in zip(lengths, own, strict=True)]
    if sum(usual) == counts:
        return usual
    moving = [k for k, b in enumerate(own) if not lengths[k] and not b.still]
    left = counts - sum(lengths)
    if len(own) == 1 and (not lengths[0] or own[0].slow):
        heard = counts > 2 and own[0].sounds and not own[0].lasts and not _several(own[0])
        return None if heard else [counts]
    if moving and len(moving) == len(own) and left > 0 and left % len(moving) == 0:
        return [left // len(moving)] * len(own)
    lasting = [k for k in moving if own[k].lasts]
    if len(lasting) == 1 and counts > sum(usual):
        usual[lasting[0]] += counts - sum(usual)
        return usual
    return None
