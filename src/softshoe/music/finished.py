"""The last touches that every song map gets: calibrated confidence, tempo curve, words, seconds of the file."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.errors import Finding
from softshoe.music.calibrated import calibrated
from softshoe.music.moved import moved
from softshoe.music.swing import heard_swing
from softshoe.music.tempo_curve import tempo_curve
from softshoe.music.why import why

if TYPE_CHECKING:
    from softshoe.music.listen import Hearsay
    from softshoe.music.songmap import SongMap

ONE_AWAY = 0.5  # of a beat: farther from every eight than this, a one was not kept


def finished(found: SongMap, heard: Hearsay) -> SongMap:
    """Return a listener's map as everybody gets it, in seconds of the file."""
    sure, others = calibrated(found, by=heard.by)
    song = replace(
        found,
        end_s=min(found.end_s, heard.seconds),
        confidence=sure,
        alternatives=others,
        tempo_curve=tempo_curve(found.beats_s),
        swing=None if heard.onsets is None else heard_swing(heard.onsets, found.beats_s),
        findings=(*heard.findings, *found.findings, *_ones_let_go(found)),
    )
    song = moved(song, heard.start_s)
    return replace(song, why=(*found.why, *why(song)))


def _ones_let_go(song: SongMap) -> tuple[Finding, ...]:
    """Return a warning for each one that could not be counted where the listener marked it."""
    lost = []
    for one in song.said.ones_s:
        if min((abs(one - eight) for eight in song.eights_s), default=99.0) > ONE_AWAY * 60 / song.tempo_bpm:
            message = f"the one at {one:.1f} s could not be kept: it lies oddly between the others"
            lost.append(Finding("warning", "one-not-kept", None, None, message, "mark fewer ones, or tap the beat"))
    return tuple(lost)
