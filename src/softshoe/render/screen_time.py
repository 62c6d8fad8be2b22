"""What the film shows when: passage, count, caption and moment of the motion at any second of a lesson."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from softshoe.teach.lesson import Beat, Caption, Lesson, Passage

Pose = tuple[str, float]
ANNOUNCE_COUNTS = 2  # a change of view is announced so many counts ahead
LONGEST_STEP_COUNTS = 2.0


@dataclass(frozen=True, slots=True)
class Shown:
    """One moment of the film. ``motion`` and ``moment`` [counts from 0]: what the figure does, None on cards; ``still``
    while it only waits. ``turning`` is True while the next view is announced."""

    passage: Passage
    beat: Beat | None
    caption: Caption | None
    motion: str | None
    moment: float
    still: bool
    turning: bool

    @property
    def page(self) -> tuple[int, int, int, bool]:
        """What the page's furniture depends on: equal pages look equal."""
        return id(self.passage), id(self.beat), id(self.caption), self.turning


class Schedule:
    """A lesson laid out for looking up by second."""

    def __init__(self, lesson: Lesson) -> None:
        self.lesson = lesson
        self._passage_s = [p.start_s for p in lesson.passages]
        self._beat_s = [[b.at_s for b in p.beats] for p in lesson.passages]
        self._captions = sorted(lesson.captions, key=lambda c: c.start_s)
        self._caption_s = [c.start_s for c in self._captions]

    def at(self, time_s: float) -> Shown:
        """Return what is shown at this second."""
        index = max(bisect_right(self._passage_s, time_s) - 1, 0)
        passage = self.lesson.passages[index]
        k = bisect_right(self._beat_s[index], time_s) - 1
        beat = passage.beats[k] if k >= 0 else None
        motion, moment, still = self._danced(index, k, time_s)
        return Shown(passage, beat, self._caption(time_s), motion, moment, still, self._turning(index, beat, time_s))

    def _danced(self, index: int, k: int, time_s: float) -> tuple[str | None, float, bool]:
        """The motion and moment at a second: what a beat dances, else a pose to wait in, else none."""
        passage = self.lesson.passages[index]
        beat = passage.beats[k] if k >= 0 else None
        if beat is not None and beat.motion is not None and beat.count is not None:
            share = min(max((time_s - beat.at_s) / beat.step_s, 0.0), 1.0)
            return beat.motion, float(beat.count.moment) + share * _step(passage, k), False
        if passage.text:
            return None, 0.0, True
        motion, moment = self._pose(index, k) or (None, 0.0)
        return motion, moment, True

    def _pose(self, index: int, k: int) -> Pose | None:
        """The pose to wait in while nobody dances: of this passage, else of the next ones, else of those before."""
        passage = self.lesson.passages[index]
        later = (_first_pose(p, 0) for p in self.lesson.passages[index + 1 :])
        before = (_last_pose(p, len(p.beats)) for p in reversed(self.lesson.passages[:index]))
        poses = (_last_pose(passage, k), _first_pose(passage, k), *later, *before)
        return next((pose for pose in poses if pose is not None), None)

    def _caption(self, time_s: float) -> Caption | None:
        k = bisect_right(self._caption_s, time_s) - 1
        caption = self._captions[k] if k >= 0 else None
        return caption if caption is not None and time_s < caption.end_s else None

    def _turning(self, index: int, beat: Beat | None, time_s: float) -> bool:
        if beat is None or index + 1 >= len(self.lesson.passages):
            return False
        here, then = self.lesson.passages[index : index + 2]
        return then.view != here.view and time_s >= here.end_s - ANNOUNCE_COUNTS * beat.step_s


def _step(passage: Passage, k: int) -> float:
    """How many counts pass until the next beat: what is written when it goes on, else one."""
    beat, then = passage.beats[k], passage.beats[k + 1] if k + 1 < len(passage.beats) else None
    if then is not None and then.motion == beat.motion and then.count is not None and beat.count is not None:
        step = float((then.count - beat.count).n)
        if 0 < step <= LONGEST_STEP_COUNTS:
            return step
    return 1.0


def _last_pose(passage: Passage, k: int) -> Pose | None:
    """Where the last count danced before beat ``k`` ends."""
    for j in range(k - 1, -1, -1):
        beat = passage.beats[j]
        if beat.motion is not None and beat.count is not None:
            return beat.motion, float(beat.count.moment) + _step(passage, j)
    return None


def _first_pose(passage: Passage, k: int) -> Pose | None:
    """Where the first count danced from beat ``k`` on begins."""
    for beat in passage.beats[max(k, 0) :]:
        if beat.motion is not None and beat.count is not None:
            return beat.motion, float(beat.count.moment)
    return None
