"""What the film shows when: passage, count, caption and moment of the motion at any second of a lesson."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from softshoe.teach.lesson import Beat, Caption, Lesson, Passage

Pose = tuple[str, float]
ANNOUNCE_COUNTS = 2  # a change of view, or the next wall, is announced so many counts ahead; the view moves as long
LONGEST_STEP_COUNTS = 2.0
VIEW_WORDS = {"mirror": "mirror image", "behind": "from behind", "side": "from the side"}


@dataclass(frozen=True, slots=True)
class Shown:
    """One moment of the film. ``motion`` and ``moment`` [counts from 0]: what the figure does, None on cards.

    ``arrival`` is 1 while it dances or holds its last pose; before it begins, 0 at rest, rising to 1 in the last count.
    ``coming`` is what the head announces: another view, or the next wall; "" for nothing. ``then`` is what is danced
    next without a break where the view moves to it, ``gone`` how much of that way is gone, 0 to 1."""

    passage: Passage
    beat: Beat | None
    caption: Caption | None
    motion: str | None
    moment: float
    arrival: float
    coming: str
    then: Beat | None = None
    gone: float = 0.0

    @property
    def page(self) -> tuple[int, int, int, str]:
        """What the page's furniture depends on: equal pages look equal."""
        return id(self.passage), id(self.beat), id(self.caption), self.coming


class Schedule:
    """A lesson laid out for looking up by second."""

    def __init__(self, lesson: Lesson, *, fps: int | None = None) -> None:
        """``fps``: every count is danced in a whole number of frames, at most half a frame from its second, so that a
        count that comes again has the same pictures; None: to the very second."""
        self.lesson, self._fps = lesson, fps
        self._passage_s = [p.start_s for p in lesson.passages]
        self._beat_s = [[b.at_s for b in p.beats] for p in lesson.passages]
        self._captions = sorted(lesson.captions, key=lambda c: c.start_s)
        self._caption_s = [c.start_s for c in self._captions]
        self._seams: dict[tuple[int, int], tuple[Beat, float] | None] = {}

    def at(self, time_s: float) -> Shown:
        """Return what is shown at this second."""
        index = max(bisect_right(self._passage_s, time_s) - 1, 0)
        passage = self.lesson.passages[index]
        k = bisect_right(self._beat_s[index], time_s) - 1
        beat = passage.beats[k] if k >= 0 else None
        danced_s = time_s if beat is None else self._framed(beat, time_s)
        motion, moment, arrival = self._danced(index, k, danced_s)
        then, gone = self._seam(index, k, danced_s)
        coming = self._coming(index, beat, time_s)
        return Shown(passage, beat, self._caption(time_s), motion, moment, arrival, coming, then, gone)

    def _framed(self, beat: Beat, time_s: float) -> float:
        """The second of this frame, were the count as long as a whole number of frames."""
        if self._fps is None or time_s >= beat.at_s + beat.step_s:
            return time_s
        frames = max(1, round(beat.step_s * self._fps))
        return beat.at_s + beat.step_s * round((time_s - beat.at_s) / beat.step_s * frames) / frames

    def _danced(self, index: int, k: int, time_s: float) -> tuple[str | None, float, float]:
        """Motion, moment and arrival at a second: what a beat dances, else a pose to wait in, else none."""
        passage = self.lesson.passages[index]
        beat = passage.beats[k] if k >= 0 else None
        share = min(max((time_s - beat.at_s) / beat.step_s, 0.0), 1.0) if beat is not None else 0.0
        if beat is not None and beat.motion is not None and beat.count is not None:
            return beat.motion, float(beat.count.moment) + share * _step(passage, k), 1.0
        held = _last_pose(passage, k)
        if passage.text or held is not None:
            return (None, 0.0, 1.0) if held is None else (*held, 1.0)
        then = self._beat_after(index, k)
        coming = _pose_of(then) or self._any_pose(index)
        if coming is None:
            return None, 0.0, 1.0
        return (*coming, share if _pose_of(then) is not None else 0.0)

    def _beat_after(self, index: int, k: int) -> Beat | None:
        """The beat that follows beat ``k``, in this passage or at the very start of the next."""
        beats = self.lesson.passages[index].beats
        if k + 1 < len(beats):
            return beats[k + 1]
        after = self.lesson.passages[index + 1 : index + 2]
        return after[0].beats[0] if k >= 0 and after and after[0].beats else None

    def _any_pose(self, index: int) -> Pose | None:
        """A pose danced in this passage, else in one after it, else before it."""
        passages = self.lesson.passages
        ordered = (*passages[index:], *reversed(passages[:index]))
        return next((pose for passage in ordered for beat in passage.beats if (pose := _pose_of(beat))), None)

    def _caption(self, time_s: float) -> Caption | None:
        k = bisect_right(self._caption_s, time_s) - 1
        caption = self._captions[k] if k >= 0 else None
        return caption if caption is not None and time_s < caption.end_s else None

    def _coming(self, index: int, beat: Beat | None, time_s: float) -> str:
        """What is announced in the last counts of a passage: another view, or the wall that is danced at once."""
        if beat is None or index + 1 >= len(self.lesson.passages):
            return ""
        here, then = self.lesson.passages[index : index + 2]
        if time_s < here.end_s - ANNOUNCE_COUNTS * beat.step_s:
            return ""
        if then.view != here.view:
            return VIEW_WORDS[then.view]
        at_once = beat.motion is not None and then.beats and then.beats[0].motion is not None
        return f"{then.title[:1].lower()}{then.title[1:]}" if at_once else ""

    def _seam(self, index: int, k: int, time_s: float) -> tuple[Beat | None, float]:
        """The beat with which another motion begins in the next counts, and how far the view is on its way there."""
        if (index, k) not in self._seams:
            self._seams[index, k] = self._next_seam(index, k)
        seam = self._seams[index, k]
        if seam is None:
            return None, 0.0
        then, start_s = seam
        share = min(max((time_s - start_s) / max(then.at_s - start_s, 1e-6), 0.0), 1.0)
        return then, 10 * share**3 - 15 * share**4 + 6 * share**5

    def _next_seam(self, index: int, k: int) -> tuple[Beat, float] | None:
        passage = self.lesson.passages[index]
        here = passage.beats[k] if k >= 0 else None
        if here is None or here.motion is None or here.count is None:
            return None
        after = self.lesson.passages[index + 1 : index + 2]
        follows = [*passage.beats[k + 1 :], *(after[0].beats[:1] if after and after[0].view == passage.view else ())]
        last = here
        for then in follows:
            if then.at_s - here.at_s > (ANNOUNCE_COUNTS + 1) * here.step_s or then.motion is None or then.count is None:
                return None
            if then.motion != here.motion or (last.count is not None and then.count <= last.count):
                return then, then.at_s - ANNOUNCE_COUNTS * here.step_s
            last = then
        return None


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


def _pose_of(beat: Beat | None) -> Pose | None:
    return (beat.motion, float(beat.count.moment)) if beat is not None and beat.motion and beat.count else None
