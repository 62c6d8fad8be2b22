"""The run as time: every action on its beat, drift followed, swing where the song swings."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fit.made_maps import all_dances, dance_named, made_map
from fit.planted import stepping
from softshoe.dance.counts import Count
from softshoe.errors import SettingError
from softshoe.fit.lay import fit
from softshoe.fit.seconds import SWUNG, danced, second_of, within_beat
from softshoe.fit.timeline import timeline
from softshoe.music.songmap import Swing

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance


def test_whole_counts_fall_on_the_beats_of_a_song_that_drifts() -> None:
    song = made_map([32, 36, 32])
    drifting = tuple(i * 0.6 - i * i * 0.0002 for i in range(len(song.beats_s)))
    moved = dict(zip(song.beats_s, drifting, strict=True))
    song = replace(
        song,
        beats_s=drifting,
        downbeats_s=tuple(moved[s] for s in song.downbeats_s),
        eights_s=tuple(moved[s] for s in song.eights_s),
        phrases_s=tuple(moved[s] for s in song.phrases_s),
        first_count_s=moved[song.first_count_s],
        end_s=drifting[-1] + 0.5,
    )
    dance = stepping(32)
    times = [one.at_s for one in danced(dance, fit(dance, song).runs[0], song)]
    assert times == pytest.approx(drifting[16:])


@pytest.mark.parametrize("dance", all_dances(), ids=lambda dance: dance.title)
def test_every_action_of_every_run_has_its_second_in_order(dance: Dance) -> None:
    song = made_map([48] * 4, metre=3, bpm=96) if dance.metre == "3/4" else made_map([32, 36, 32, 32, 16, 32], bpm=100)
    for run in fit(dance, song).runs:
        found = danced(dance, run, song, swing=SWUNG)
        assert [one.at_s for one in found] == sorted(one.at_s for one in found)
        starts = {wall.wall: wall.start_s for wall in run.walls}
        firsts = [one for one in found if one.part == "wall" and one.action.at.at == 1]
        assert all(one.at_s == pytest.approx(starts[one.wall]) for one in firsts)


def test_at_half_time_the_half_of_a_count_is_a_beat() -> None:
    song = made_map([64] * 4, bpm=176)
    dance = replace(dance_named("cushion"), tempo_bpm=None)
    run = fit(dance, song).runs[0]
    assert run.beats_per_count == 2
    found = danced(dance, run, song, swing=SWUNG)
    halves = [one for one in found if (one.action.at.at * 2).denominator == 1]
    assert all(min(abs(one.at_s - beat) for beat in song.beats_s) < 1e-9 for one in halves)


@given(st.fractions(0, 1), st.fractions(0, 1), st.floats(0.5, 0.75))
def test_what_comes_later_in_the_beat_never_sounds_earlier(one: Fraction, other: Fraction, swing: float) -> None:
    if one.denominator in (3, 6) or other.denominator in (3, 6):
        return
    early, late = sorted((one, other))
    assert within_beat(early, swing=swing) <= within_beat(late, swing=swing) + 1e-12


def test_the_swing_that_was_heard_is_followed_and_what_is_said_wins() -> None:
    dance = replace(dance_named("porchlight"), tempo_bpm=None)
    song = replace(made_map([32] * 4, bpm=100), swing=Swing(0.66, 0.9))
    run = fit(dance, song).runs[0]
    unsure = replace(song, swing=Swing(0.66, 0.3))
    assert danced(dance, run, song) == danced(dance, run, unsure, swing=0.66)
    assert danced(dance, run, unsure) == danced(dance, run, song, swing=0.5)
    assert danced(dance, run, song) != danced(dance, run, song, swing=0.5)


def test_swing_moves_the_half_and_leaves_triplets() -> None:
    beats = [0.0, 0.6, 1.2]
    assert second_of(beats, Fraction(1, 2), swing=SWUNG) == pytest.approx(0.4)
    assert second_of(beats, Fraction(2, 3), swing=SWUNG) == pytest.approx(0.4)
    assert second_of(beats, Fraction(-1, 2)) == pytest.approx(-0.3)
    with pytest.raises(SettingError, match="no swing"):
        within_beat(Fraction(1, 2), swing=0.3)


@pytest.mark.parametrize("turn_deg", [0, 90, 180, -90])
def test_a_closing_step_on_the_beat_after_the_last_count_is_danced_and_faces_the_front(turn_deg: int) -> None:
    dance, song = stepping(32, turn_deg=turn_deg), made_map([32] * 5, over=3)
    run = fit(dance, song, most=1).runs[0]
    ending = run.ending
    assert ending is not None
    assert (ending.at_count, ending.facing_deg) == (33, 0)
    closing = [one for one in danced(dance, run, song) if one.part == "ending"]
    assert closing[-1].at_s == pytest.approx(ending.time_s)
    assert sum(one.action.turn_deg for one in closing) == ending.turn_deg
    moment = next(m for m in timeline(dance, run, song) if m.at_s == closing[-1].at_s)
    assert (moment.part, moment.wall, moment.count) == ("wall", 5, Count(Fraction(33)))
