"""Songs without sound: perfect grids of beats with phrases of given lengths, for the tests of fitting and teaching."""

from __future__ import annotations

import json
from itertools import accumulate
from pathlib import Path
from typing import TYPE_CHECKING

from softshoe.dance.document import dance_from_json
from softshoe.music.songmap import Confidence, MetreOfSong, Said, SongMap

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance

DANCES = Path(__file__).parent.parent / "adapt" / "dances"


def dance_named(stem: str) -> Dance:
    """One of the dances whose meaning was written by hand."""
    (path,) = DANCES.glob(f"*{stem}*.json")
    return dance_from_json(json.loads(path.read_text(encoding="utf-8")))


def all_dances() -> list[Dance]:
    """All of them, in order."""
    files = sorted(DANCES.glob("*.json"))
    assert len(files) == 9
    return [dance_from_json(json.loads(path.read_text(encoding="utf-8"))) for path in files]


def made_map(
    phrases: list[int],
    *,
    intro: int = 16,
    bpm: float = 100.0,
    metre: MetreOfSong = 4,
    over: int = 0,
    said: Said | None = None,
    confidence: tuple[float, ...] | None = None,
) -> SongMap:
    """A song of even beats: so many beats of intro, then phrases of these lengths [beats], then ``over`` beats more."""
    beat_s = 60.0 / bpm
    total = intro + sum(phrases) + over
    beats = tuple(i * beat_s for i in range(total))
    starts = [intro + at for at in accumulate([0, *phrases[:-1]])]
    eight = 6 if metre == 3 else 8
    sure = confidence or tuple(1.0 for _ in starts)
    return SongMap(
        beats_s=beats,
        downbeats_s=beats[::metre],
        eights_s=beats[::eight],
        phrases_s=tuple(beats[i] for i in starts),
        first_count_s=beats[intro],
        end_s=total * beat_s,
        tempo_bpm=bpm,
        metre=metre,
        confidence=Confidence(1.0, 1.0, 1.0, 1.0, 1.0, 1.0, sure),
        said=said or Said(),
    )
