"""A lesson in the writing: passages are added one after another, each with its beats and words, on a running clock."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from softshoe.dance.counts import Count
from softshoe.teach.groups import Group, groups
from softshoe.teach.lesson import Beat, Lesson, Passage
from softshoe.teach.voice import (
    AFTER_S,
    CAPTION_LEAST_S,
    PAUSE_S,
    Wanted,
    captions_of,
    count_room_s,
    fitting,
    one_at_a_time,
    spoken_s,
)
from softshoe.teach.words import COUNT_WORDS, count_word, cue_for, short_cue, shown_for

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from softshoe.teach.cards import Card
    from softshoe.teach.lesson import FigureKind, View
    from softshoe.teach.parts import MotionPart

Says = Literal["counts", "words", "arms", "calls"]
REMARK, CALL, COUNT = range(3)  # ranks of what is said
READY_COUNTS = 2


@dataclass(frozen=True, slots=True)
class Stretch:
    """Counts ``first`` to ``first + counts - 1`` of a motion, danced slowly, and what is said on them."""

    title: str
    key: str
    part: MotionPart
    first: int
    counts: int
    step_s: float
    says: Says
    lead: tuple[str, ...]
    view: View
    per_section: int
    section: int | None = None

    @property
    def figure(self) -> FigureKind:
        """Who dances it."""
        return self.part.stance


@dataclass(slots=True)
class Script:
    """The writing of one lesson; ``now_s`` is where the next passage begins."""

    title: str
    now_s: float = 0.0
    passages: list[Passage] = field(default_factory=list)
    wanted: list[Wanted] = field(default_factory=list)

    def lesson(self) -> Lesson:
        """Return the finished lesson."""
        cues = one_at_a_time(self.wanted)
        captions = captions_of(cues, length_s=self.now_s)
        return Lesson(self.title, self.now_s, tuple(self.passages), cues, captions)

    def say(self, remarks: Sequence[str]) -> None:
        """Speak sentences one after another from now on."""
        for words in remarks:
            room_s = spoken_s(words)
            self.wanted.append(Wanted(self.now_s, room_s, words, "remark", REMARK))
            self.now_s += max(room_s + PAUSE_S, CAPTION_LEAST_S + 0.01)

    def card(self, card: Card, *, figure: FigureKind) -> None:
        """Add a card that stays while its sentences are spoken."""
        start_s = self.now_s
        self.say(card.spoken)
        self.now_s += PAUSE_S
        self.passages.append(Passage(card.title, start_s, self.now_s, figure, "mirror", (), card.lines))

    def dance(self, stretch: Stretch) -> None:
        """Add a stretch: its lead spoken, two counts in, then the counts danced."""
        start_s = self.now_s
        self.say(stretch.lead)
        beats = [*self._ready(stretch), *self._danced(stretch)]
        self.now_s += AFTER_S
        self.passages.append(Passage(stretch.title, start_s, self.now_s, stretch.figure, stretch.view, tuple(beats)))

    def _ready(self, stretch: Stretch) -> Iterator[Beat]:
        """Two counts in, spoken."""
        for number in range(stretch.per_section - READY_COUNTS + 1, stretch.per_section + 1):
            room_s = count_room_s(stretch.step_s)
            self.wanted.append(Wanted(self.now_s, room_s, COUNT_WORDS[number - 1], "count", COUNT))
            yield Beat(self.now_s, stretch.step_s, str(number), next_=_next(stretch, stretch.first - 1))
            self.now_s += stretch.step_s

    def _danced(self, stretch: Stretch) -> Iterator[Beat]:
        for count in range(stretch.first, stretch.first + stretch.counts):
            self.wanted += _said(stretch, count, self.now_s)
            yield Beat(
                at_s=self.now_s,
                step_s=stretch.step_s,
                label=str((count - 1) % stretch.per_section + 1),
                motion=stretch.key,
                count=Count(Fraction(count)),
                section=stretch.section,
                now=_shown(stretch, count),
                next_=_next(stretch, count),
            )
            self.now_s += stretch.step_s

    def add(self, wanted: Sequence[Wanted], passage: Passage) -> None:
        """Add a passage laid out elsewhere, its seconds already those of this lesson."""
        self.wanted += wanted
        self.passages.append(passage)
        self.now_s = passage.end_s


def _said(stretch: Stretch, count: int, at_s: float) -> Iterator[Wanted]:
    room_s = count_room_s(stretch.step_s)
    number = count_word(count, per_section=stretch.per_section)
    actions = stretch.part.actions
    if stretch.says == "calls":
        called = {group.first: group.words for group in _groups(stretch)}
        if count in called:
            yield Wanted(at_s, stretch.step_s + room_s, fitting(called[count], stretch.step_s + room_s), "cue", CALL)
            return
        yield Wanted(at_s, room_s, number, "count", COUNT)
        return
    words = number
    if stretch.says != "counts":
        words = cue_for(actions, count, arms=stretch.says == "arms", per_section=stretch.per_section)
        words = words if spoken_s(words) <= room_s else short_cue(words)
    yield Wanted(at_s, room_s, words, "count" if words == number else "cue", COUNT)


def _groups(stretch: Stretch) -> list[Group]:
    last = stretch.first + stretch.counts - 1
    size = stretch.per_section // 2
    return [group for group in groups(stretch.part.actions, last, size=size) if group.first >= stretch.first]


def _shown(stretch: Stretch, count: int) -> str:
    if not stretch.first <= count < stretch.first + stretch.counts:
        return ""
    if stretch.says != "calls":
        return shown_for(stretch.part.actions, count)
    return next((g.words for g in reversed(_groups(stretch)) if g.first <= count), "")


def _next(stretch: Stretch, count: int) -> str:
    if stretch.says != "calls":
        return _shown(stretch, count + 1)
    return next((g.words for g in _groups(stretch) if g.first > count), "")
