"""What a lesson is made from: the dance, its versions and motions, the run, and how slowly it is shown."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from softshoe.teach.parts import MotionPart, parts

if TYPE_CHECKING:
    from collections.abc import Mapping

    from softshoe.adapt.version import Version
    from softshoe.dance.dance import Dance, Section
    from softshoe.fit.run import Run
    from softshoe.music.songmap import SongMap

SLOW, TOGETHER = 0.6, 0.75  # of the song's speed
SLOW_STEP_S = (0.8, 1.6)


@dataclass(frozen=True, slots=True)
class Taught:
    """``seat`` is the kind of version that is taught, seated where there is one."""

    dance: Dance
    versions: Mapping[str, Version]
    run: Run
    parts: Mapping[str, MotionPart]
    counts_per_min: float
    seat: str

    @property
    def sections(self) -> tuple[Section, ...]:
        """The sections that are taught."""
        return self.versions[self.seat].dance.sections

    def step_s(self, share: float) -> float:
        """Seconds of a count at this share of the song's speed, within what can still be danced slowly."""
        low, high = SLOW_STEP_S
        step_s = 60.0 / (self.counts_per_min * share)
        return min(max(step_s, low), high) if share == SLOW else step_s


def taught(dance: Dance, versions: Mapping[str, Version], run: Run, song: SongMap) -> Taught:
    """Return what a lesson of this dance on this song is made from; ``versions`` by kind."""
    seat = "seated" if "seated" in versions else next(iter(versions))
    return Taught(dance, versions, run, parts(dance, versions, run), song.tempo_bpm / run.beats_per_count, seat)
