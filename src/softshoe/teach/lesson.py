"""A lesson: passages with their counts, spoken cues and captions, all in seconds of the film or track they make.

A walkthrough, a dance at tempo and a practice track are all lessons: the rendering rooms know no other shape.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from softshoe.dance.counts import Count  # noqa: TC001  (read at run time when a lesson is read back)

View = Literal["mirror", "behind"]
FigureKind = Literal["standing", "seated"]
Voice = Literal["count", "cue", "remark"]
EVEN = 0.5


@dataclass(frozen=True, slots=True)
class Beat:
    """One count shown on the screen at one second.

    ``motion`` names the motion that is danced (a key of ``parts.parts``) and ``count`` where in it; both None while
    nobody dances. ``label`` is what the ring shows ("5"); ``now`` and ``next_`` the move in few words.
    ``facing_deg`` is where this motion began. ``step_s`` is the length of this count in seconds.
    """

    at_s: float
    step_s: float
    label: str
    motion: str | None = None
    count: Count | None = None
    section: int | None = None
    wall: int | None = None
    facing_deg: int = 0
    now: str = ""
    next_: str = ""


@dataclass(frozen=True, slots=True)
class Cue:
    """Words spoken. A count or cue is placed so that the vowel of its first stressed word falls on ``at_s``; a remark
    begins there. ``room_s`` is the most it may last."""

    at_s: float
    room_s: float
    words: str
    voice: Voice


@dataclass(frozen=True, slots=True)
class Caption:
    """Words written, from ``start_s`` to ``end_s``; at most two lines of 42 characters."""

    start_s: float
    end_s: float
    words: str


@dataclass(frozen=True, slots=True)
class Passage:
    """One stretch of the lesson: a title, a figure, a view. ``text`` is shown while nobody dances (a card)."""

    title: str
    start_s: float
    end_s: float
    figure: FigureKind
    view: View
    beats: tuple[Beat, ...]
    text: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Lesson:
    """The whole film or track. Where the song plays (pace 1 is its
    own speed), lesson second t is song second ``(t - song_start_s) * pace``; None when no song plays. ``told``: how the
    length that was asked for was met, in sentences. ``swing`` is where "&" falls between two counts, 0.5 half way."""

    title: str
    length_s: float
    passages: tuple[Passage, ...]
    cues: tuple[Cue, ...]
    captions: tuple[Caption, ...]
    song_start_s: float | None = None
    pace: float = 1.0
    told: tuple[str, ...] = ()
    swing: float = EVEN
