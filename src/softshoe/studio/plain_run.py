"""A dance without a song: a steady rhythm at its own tempo, and as many walls as fill a few minutes."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import count as counting
from typing import TYPE_CHECKING

from softshoe.dance.facing import turned
from softshoe.fit.run import Run, RunRestart, RunTag, RunWall, Score, Start
from softshoe.fit.timeline import turn_after
from softshoe.music.songmap import Confidence, SongMap
from softshoe.studio.reading import tempo_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from softshoe.dance.dance import Dance
    from softshoe.music.songmap import MetreOfSong

LEAST_S, MOST_WALLS, FEWEST_WALLS = 200.0, 40, 4


@dataclass(frozen=True, slots=True)
class _Laid:
    """One wall: where it begins [counts of dance time], its facing, the counts danced, and its tags."""

    wall: int
    at: int
    facing_deg: int
    counts: int
    tags: tuple[RunTag, ...]

    @property
    def after(self) -> int:
        return self.at + self.counts + sum(tag.counts for tag in self.tags)


def plain_run(dance: Dance) -> tuple[Run, SongMap]:
    """Return a run on an even rhythm, with the sheet's own tags and restarts, and the rhythm as a song's map."""
    step_s = 60.0 / tempo_of(dance)
    intro = dance.counts_per_section
    walls = list(_walls(dance, step_s))
    total = intro + walls[-1].after
    beats = tuple(round(0.3 + k * step_s, 4) for k in range(total + 1))
    first = beats[intro]
    per = dance.counts_per_section
    eights = beats[intro:total:per]
    phrases = eights[::4]
    sure = Confidence(1.0, 1.0, 1.0, 1.0, 1.0, 1.0, (1.0,) * len(phrases))
    metre: MetreOfSong = 3 if per == 6 else 4
    song = SongMap(
        beats, beats[intro % metre :: metre], eights, phrases, first, beats[total], round(60.0 / step_s, 4), metre, sure
    )
    run = Run(
        1.0,
        Start(first, intro, "after the count-in"),
        tuple(RunWall(one.wall, beats[intro + one.at], one.counts, one.facing_deg) for one in walls),
        tuple(tag for one in walls for tag in one.tags),
        tuple(RunRestart(one.wall, one.counts, None) for one in walls if one.counts < dance.counts),
        None,
        Score(100.0, {}),
        (),
    )
    return run, song


def _walls(dance: Dance, step_s: float) -> Iterator[_Laid]:
    at = facing = 0
    for wall in counting(1):
        cut = next((one.after_count for one in dance.restarts if wall in one.walls), dance.counts)
        counts = cut if 0 < cut <= dance.counts else max(1, dance.counts)
        laid = _Laid(wall, at, facing, counts, tuple(_tags(dance, wall, counts)))
        yield laid
        at, facing = laid.after, turned(facing, turn_after(dance, counts))
        if wall >= MOST_WALLS or (wall >= FEWEST_WALLS and at * step_s >= LEAST_S):
            return


def _tags(dance: Dance, wall: int, counts: int) -> Iterator[RunTag]:
    for tag in dance.tags:
        if wall in tag.walls and tag.after_count <= counts and tag.counts > 0:
            over = tag.then == "start" or tag.after_count == counts
            after, inside = (wall, None) if over else (None, wall)
            yield RunTag(after, inside, tag.after_count, tag.counts, tag.actions, written=True)
