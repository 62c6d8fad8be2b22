from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fit.made_maps import all_dances, dance_named, made_map
from softshoe.dance.facing import turned
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.footwork import danced, net_turn_deg, state_after
from softshoe.errors import Finding, FitError
from softshoe.fit.lay import fit
from softshoe.music.songmap import Said

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance

PHRASES = st.lists(st.sampled_from([8, 16, 32, 32, 34, 36, 40, 48, 64]), min_size=2, max_size=8)


@pytest.mark.parametrize("dance", all_dances(), ids=lambda dance: dance.title)
def test_every_dance_is_laid_on_a_song_of_its_own_metre(dance: Dance) -> None:
    waltz = dance.metre == "3/4"
    song = made_map([48] * 4, metre=3, bpm=96) if waltz else made_map([32] * 6, bpm=100)
    result = fit(dance, song)
    assert result.runs
    assert all(one.score.total >= other.score.total for one, other in pairwise(result.runs))


@settings(deadline=None, max_examples=40)
@given(phrases=PHRASES)
def test_walls_and_tags_fill_the_song_without_gap_or_overlap(phrases: list[int]) -> None:
    dance = replace(dance_named("copper_kettle"), tempo_bpm=None)
    song = made_map(phrases)
    for run in fit(dance, song).runs:
        beat_s = 60.0 / song.tempo_bpm
        at = run.start.time_s
        for wall in run.walls:
            assert wall.start_s == pytest.approx(at)
            extra = sum(t.counts for t in run.tags if wall.wall in (t.after_wall, t.in_wall))
            at += (wall.counts + extra) * beat_s
        assert at <= song.end_s + 1e-6
        assert song.end_s - at < 5 * beat_s


@settings(deadline=None, max_examples=40)
@given(phrases=PHRASES)
def test_each_wall_faces_where_the_wall_before_has_turned_to(phrases: list[int]) -> None:
    dance = replace(dance_named("copper_kettle"), tempo_bpm=None)
    for run in fit(dance, made_map(phrases)).runs:
        for wall, following in pairwise(run.walls):
            own = net_turn_deg(dance) if wall.counts == dance.counts else state_after(dance, wall.counts)[1]
            assert following.facing_deg == turned(wall.facing_deg, own)


@settings(deadline=None, max_examples=30)
@given(phrases=PHRASES)
def test_a_restart_leaves_the_leading_foot_free_or_says_what_frees_it(phrases: list[int]) -> None:
    dance = replace(dance_named("copper_kettle"), tempo_bpm=None)
    for run in fit(dance, made_map(phrases)).runs:
        for restart in run.restarts:
            weight, _ = state_after(dance, restart.after_count)
            assert weight is dance.start_weight or restart.change


@pytest.mark.parametrize("extra", [2, 4, 8])
def test_a_tag_leaves_the_leading_foot_free_and_turns_nobody(extra: int) -> None:
    dance = replace(dance_named("copper_kettle"), tempo_bpm=None)
    run = fit(dance, made_map([32, 32 + extra, 32, 32])).runs[0]
    (tag,) = run.tags
    events = danced(tag.actions, weight=dance.start_weight)
    assert events[0].action.foot is Foot.RIGHT
    assert events[-1].weight is Weight.LEFT
    assert all(event.facing_deg == 0 for event in events)
    assert sorted({event.action.at.whole for event in events}) == list(range(1, extra + 1))


def test_a_waltz_on_a_song_in_four_is_a_finding_and_no_run() -> None:
    result = fit(dance_named("millpond"), made_map([32] * 4))
    assert result.runs == ()
    assert [(f.severity, f.kind) for f in result.findings] == [("error", "metre")]


def test_written_tag_and_restart_are_honoured_where_the_song_asks_for_them() -> None:
    dance = dance_named("signal_box")
    result = fit(dance, made_map([32, 40, 32, 32, 16, 32, 18], bpm=114))
    best = result.runs[0]
    assert [(t.after_wall, t.counts, t.written) for t in best.tags] == [(2, 8, True)]
    assert [(r.wall, r.after_count) for r in best.restarts] == [(5, 16)]
    assert best.ending is not None
    assert best.ending.what.startswith("the ending as written")
    assert (best.ending.facing_deg, best.ending.turn_deg) == (0, -180)
    assert not [f for f in result.findings if f.severity == "error"]


def test_a_written_restart_on_the_wrong_wall_is_an_error_that_names_the_right_one() -> None:
    dance = replace(dance_named("signal_box"), tags=(), endings=())
    findings = fit(dance, made_map([32, 32, 16, 32, 32, 32, 32], bpm=114)).findings
    (wrong,) = [f for f in findings if f.severity == "error"]
    assert wrong.kind == "written-repair"
    assert wrong.mend is not None
    assert "wall 3 after count 16" in wrong.mend


def test_the_listeners_first_count_is_the_only_start() -> None:
    song = made_map([32] * 5, said=Said(first_count_s=9.6 + 32 * 0.6))
    starts = [run.start.time_s for run in fit(dance_named("harbour"), song).runs]
    assert starts == pytest.approx([9.6 + 32 * 0.6] * len(starts))


def test_counts_left_over_at_the_end_are_a_closing_pose_and_no_wall() -> None:
    run = fit(dance_named("harbour"), made_map([32, 32, 4])).runs[0]
    assert [w.counts for w in run.walls] == [32, 32]
    assert run.ending is not None
    assert (run.ending.wall, run.ending.at_count, run.ending.turn_deg) == (2, 33, 0)
    assert run.ending.time_s == pytest.approx((16 + 64) * 0.6)


def test_a_fast_song_is_danced_on_every_other_beat() -> None:
    run = fit(dance_named("cushion"), made_map([32] * 4, bpm=168)).runs[0]
    assert run.beats_per_count == 2
    assert [w.counts for w in run.walls] == [16] * 4
    assert run.walls[1].start_s - run.walls[0].start_s == pytest.approx(16 * 2 * 60 / 168)


def test_a_later_start_is_offered_and_never_put_first_without_need() -> None:
    runs = fit(dance_named("harbour"), made_map([32] * 6)).runs
    assert runs[0].start.intro_counts == 16
    assert {run.start.intro_counts for run in runs} == {16, 48, 80}


def test_a_song_of_one_beat_cannot_be_danced() -> None:
    song = replace(made_map([8]), beats_s=(0.0,), downbeats_s=(0.0,), eights_s=(0.0,), phrases_s=())
    with pytest.raises(FitError, match="no steady beat"):
        fit(dance_named("harbour"), song)


def test_every_run_says_why_in_whole_sentences() -> None:
    for run in fit(dance_named("harbour"), made_map([32, 36, 32])).runs:
        assert run.why
        assert all(sentence.endswith(".") for sentence in run.why)
        assert run.score.total == pytest.approx(max(0.0, 100 + sum(run.score.parts.values())))


def test_a_phrase_start_a_little_less_sure_than_its_neighbours_still_asks_for_its_tag() -> None:
    song = made_map([32, 32, 32, 36, 32, 32, 4], confidence=(0.87, 0.9, 0.9, 0.9, 0.85, 0.9, 0.88))
    best = fit(dance_named("harbour"), song).runs[0]
    assert [(t.after_wall, t.counts) for t in best.tags] == [(4, 4)]


def test_a_phrase_start_that_is_hardly_more_than_a_guess_moves_nothing() -> None:
    song = made_map([32, 20, 12, 32, 32], confidence=(0.9, 0.9, 0.3, 0.9, 0.9))
    best = fit(dance_named("harbour"), song).runs[0]
    assert (best.tags, best.restarts) == ((), ())


def test_beginners_dance_through_one_odd_place_when_the_dance_fits_again_by_itself() -> None:
    dance = replace(dance_named("copper_kettle"), tempo_bpm=None)
    best = fit(dance, made_map([32, 16, 16, 32, 32])).runs[0]
    assert (best.tags, best.restarts) == ((), ())
    assert "phrases missed" not in best.score.parts


def test_a_phrase_of_an_odd_number_of_counts_points_at_the_beat() -> None:
    kinds = [f.kind for f in fit(dance_named("harbour"), made_map([32, 33, 32, 32])).findings]
    assert "beat" in kinds


def test_on_a_song_that_fades_the_dance_ends_with_its_last_whole_wall() -> None:
    fade = Finding("note", "fade", None, None, "the song fades out")
    song = replace(made_map([32, 32, 32, 20]), findings=(fade,))
    run = fit(dance_named("harbour"), song).runs[0]
    assert [w.counts for w in run.walls] == [32, 32, 32]
    assert run.ending is None
    assert any("fades out" in sentence for sentence in run.why)
    turning = replace(dance_named("copper_kettle"), tempo_bpm=None)
    ending = fit(turning, song).runs[0].ending
    assert ending is not None
    assert (ending.wall, ending.at_count, ending.facing_deg) == (3, 32, 0)
