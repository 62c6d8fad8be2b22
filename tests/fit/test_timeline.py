from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fit.made_maps import dance_named, made_map
from softshoe.fit.document import fit_json, run_from_json, run_json
from softshoe.fit.grid import counted
from softshoe.fit.lay import fit
from softshoe.fit.timeline import timeline


def test_every_count_from_the_intro_to_the_end_has_its_second() -> None:
    dance, song = dance_named("harbour"), made_map([32, 36, 32, 4])
    run = fit(dance, song).runs[0]
    moments = timeline(dance, run, song)
    assert [m.at_s for m in moments] == pytest.approx(song.beats_s)
    assert [m.to_go for m in moments[:16]] == list(range(16, 0, -1))
    assert [m.part for m in moments].count("tag") == 4
    assert [m.part for m in moments][-4:] == ["after"] * 4
    first = moments[16]
    assert first.count is not None
    assert (first.part, first.wall, first.count.label) == ("wall", 1, "1")


def test_the_tag_comes_after_its_wall_and_counts_from_one() -> None:
    dance, song = dance_named("harbour"), made_map([32, 36, 32])
    run = fit(dance, song).runs[0]
    tags = [m for m in timeline(dance, run, song) if m.part == "tag"]
    assert [(m.wall, m.tag, m.count and m.count.label) for m in tags] == [(2, 0, str(n)) for n in range(1, 5)]


@settings(deadline=None, max_examples=30)
@given(
    phrases=st.lists(st.sampled_from([16, 32, 36, 48]), min_size=1, max_size=6),
    bpm=st.sampled_from([58.0, 100.0, 170.0]),
)
def test_seconds_increase_and_stay_inside_the_song(phrases: list[int], bpm: float) -> None:
    dance, song = replace(dance_named("cushion"), tempo_bpm=None), made_map(phrases, bpm=bpm)
    for run in fit(dance, song).runs:
        times = [m.at_s for m in timeline(dance, run, song)]
        assert all(a < b for a, b in pairwise(times))
        assert times[-1] < song.end_s


def test_at_double_time_a_count_falls_between_two_beats_and_one_after_the_last() -> None:
    song = made_map([16], intro=4, bpm=60)
    grid = counted(song, beats_per_count=0.5, start_s=4.0)
    assert grid.times_s[:3] == pytest.approx((4.0, 4.5, 5.0))
    assert grid.times_s[-1] == pytest.approx(song.beats_s[-1] + 0.5)
    assert grid.times_s[-1] < song.end_s
    assert len(grid.intro_s) == 8


def test_a_run_survives_its_own_json_to_the_millisecond() -> None:
    dance, song = dance_named("signal_box"), made_map([32, 40, 32, 32, 16, 32, 18], bpm=120)
    for run in fit(dance, song).runs:
        assert run_from_json(run_json(run)) == run


def test_the_printed_run_has_the_keys_that_are_promised() -> None:
    doc = fit_json(fit(dance_named("signal_box"), made_map([32, 40, 32, 32, 16, 32, 18], bpm=114)))
    run = doc["runs"][0]
    assert set(run) == {"beats_per_count", "start", "walls", "tags", "restarts", "ending", "score", "why"}
    assert set(run["walls"][0]) == {"wall", "start_s", "counts", "facing"}
    assert {"after_wall", "at_count", "counts"} <= set(run["tags"][0])
    assert "in_wall" not in run["tags"][0]
    assert {"wall", "at_count", "time_s", "facing", "turn", "what"} <= set(run["ending"])
    assert set(run["score"]) == {"total", "parts"}
