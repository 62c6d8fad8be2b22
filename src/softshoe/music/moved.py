"""Times moved: a piece cut out of a longer recording is heard in its own seconds and told in seconds of the file."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.music.songmap import Said

if TYPE_CHECKING:
    from softshoe.music.songmap import SongMap


def moved_said(said: Said, by_s: float) -> Said:
    """Return what was said with every time moved. [s]"""
    if not by_s:
        return said
    first = None if said.first_count_s is None else said.first_count_s + by_s
    taps, ones = (tuple(t + by_s for t in times) for times in (said.taps_s, said.ones_s))
    return Said(said.tempo_bpm, first, said.metre, taps, ones)


def moved(song: SongMap, by_s: float) -> SongMap:
    """Return the map with every time moved: a piece of a longer file is told in seconds of the file."""
    if not by_s:
        return song
    return replace(
        song,
        beats_s=tuple(t + by_s for t in song.beats_s),
        downbeats_s=tuple(t + by_s for t in song.downbeats_s),
        eights_s=tuple(t + by_s for t in song.eights_s),
        phrases_s=tuple(t + by_s for t in song.phrases_s),
        first_count_s=song.first_count_s + by_s,
        end_s=song.end_s + by_s,
        alternatives=tuple(replace(a, first_count_s=a.first_count_s + by_s) for a in song.alternatives),
        tempo_curve=tuple((t + by_s, bpm) for t, bpm in song.tempo_curve),
        said=moved_said(song.said, by_s),
    )
