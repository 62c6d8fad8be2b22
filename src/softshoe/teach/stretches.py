"""Counts of one motion danced slowly, as a piece of a lesson: two counts in, then a word or a number on every count."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from softshoe.dance.counts import Count
from softshoe.teach.groups import groups
from softshoe.teach.lesson import Beat
from softshoe.teach.pieces import Piece, let_in
from softshoe.teach.voice import AFTER_S, Wanted, count_room_s, fitting, spoken_s
from softshoe.teach.words import COUNT_WORDS, count_word, cue_for, short_cue, shown_for, with_foot

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from softshoe.teach.lesson import View
    from softshoe.teach.parts import MotionPart

Says = Literal["counts", "words", "arms", "calls"]
CALL, COUNT = range(2)  # ranks of what is said
READY_COUNTS = 2


@dataclass(frozen=True, slots=True)
class Stretch:
    """Counts ``first`` to ``first + counts - 1`` of a motion, ``step_s`` seconds each, and what is said on them."""

    key: str
    part: MotionPart
    first: int
    counts: int
    step_s: float
    says: Says
    per_section: int
    section: int | None = None

    def piece(self, kind: str, title: str, *, view: View = "mirror") -> Piece:
        """Return the stretch as a piece."""
        called = self._called()
        beats = tuple(self._beats(called))
        wanted = [want for at, beat in enumerate(beats) for want in self._said(at - READY_COUNTS, beat.at_s, called)]
        names = tuple(f"{READY_COUNTS - at} before" for at in range(READY_COUNTS))
        names += tuple(str(count) for count in range(self.first, self.first + self.counts))
        return Piece(
            kind=kind,
            title=title,
            figure=self.part.stance,
            view=view,
            section=self.section or 0,
            beats=beats,
            names=names,
            said=let_in(wanted, [beat.at_s for beat in beats]),
            length_s=len(beats) * self.step_s + AFTER_S,
        )

    def _beats(self, called: Mapping[int, str]) -> Iterator[Beat]:
        for at in range(READY_COUNTS):
            label = str(self.per_section - READY_COUNTS + at + 1)
            yield Beat(at * self.step_s, self.step_s, label, next_=self._next(self.first - 1, called))
        for at in range(self.counts):
            count = self.first + at
            yield Beat(
                at_s=(at + READY_COUNTS) * self.step_s,
                step_s=self.step_s,
                label=str((count - 1) % self.per_section + 1),
                motion=self.key,
                count=Count(Fraction(count)),
                section=self.section,
                now=self._shown(count, called),
                next_=self._next(count, called),
            )

    def _said(self, at: int, at_s: float, called: Mapping[int, str]) -> Iterator[Wanted]:
        """What is said on the count that is ``at`` counts behind the first; two counts in before it."""
        room_s = count_room_s(self.step_s)
        if at < 0:
            yield Wanted(at_s, room_s, COUNT_WORDS[self.per_section + at], "count", COUNT)
            return
        count = self.first + at
        number = count_word(count, per_section=self.per_section)
        if count in called:
            room_s += self.step_s
            yield Wanted(at_s, room_s, fitting(called[count], room_s), "cue", CALL)
            return
        words = number
        if self.says in ("words", "arms"):
            words = cue_for(self.part.actions, count, arms=self.says == "arms", per_section=self.per_section)
            named = with_foot(words, self.part.actions, count) if self.says == "words" else words
            words = next((way for way in (named, words) if spoken_s(way) <= room_s), short_cue(words))
        yield Wanted(at_s, room_s, words, "count" if words == number else "cue", COUNT)

    def _called(self) -> dict[int, str]:
        """What is called, by the count on which it begins; {} where every count has its own word."""
        if self.says != "calls":
            return {}
        last = self.first + self.counts - 1
        found = groups(self.part.actions, last, size=self.per_section // 2)
        return {group.first: group.words for group in found if group.first >= self.first}

    def _shown(self, count: int, called: Mapping[int, str]) -> str:
        if not self.first <= count < self.first + self.counts:
            return ""
        move = shown_for(self.part.actions, count)
        name = next((called[first] for first in sorted(called, reverse=True) if first <= count), "")
        told = set(name.split()) <= set(move.replace(",", "").split())
        return move if told else f"{name}: {move}" if move else name

    def _next(self, count: int, called: Mapping[int, str]) -> str:
        """What comes next: the next count's move, or the first that differs from one that goes on."""
        if self.says != "calls":
            now, last = self._shown(count, called), self.first + self.counts
            later = (self._shown(other, called) for other in range(count + 1, last))
            return next((words for words in later if words != now), "")
        return next((called[first] for first in sorted(called) if first > count), "")
