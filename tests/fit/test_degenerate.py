"""Songs and dances at the edge: a clear answer, never a crash."""

from __future__ import annotations

from dataclasses import replace
from itertools import accumulate
from typing import TYPE_CHECKING

import pytest

from fit.made_maps import dance_named, made_map
from fit.planted import stepping
from softshoe.errors import FitError
from softshoe.fit.lay import fit
from softshoe.music.songmap import Confidence

if TYPE_CHECKING:
    from softshoe.music.songmap import SongMap


def test_one_phrase_is_danced_through() -> None:
    run = fit(stepping(32), made_map([200])).runs[0]
    assert [wall.counts for wall in run.walls] == [32] * 6 + [8]
    assert not run.tags


def test_five_minutes_of_phrases_of_three_bars_fit_a_dance_of_24() -> None:
    song = made_map([12] * 42)
    assert fit(stepping(24), song, most=1).runs[0].score.total >= 90
    assert fit(stepping(32), song, most=1).runs


def test_where_the_song_turns_into_a_waltz_the_dance_is_laid_up_to_there() -> None:
    song = made_map([32] * 8)
    half = 16 + 32 * 4
    song = replace(song, downbeats_s=(*song.beats_s[:half:4], *song.beats_s[half::3]))
    result = fit(stepping(32), song)
    told = result.findings[0]
    assert told.kind == "metre"
    assert "counted in three" in told.message
    assert [wall.counts for wall in result.runs[0].walls] == [32] * 4


def test_with_no_phrases_known_walls_follow_each_other() -> None:
    song = replace(made_map([32] * 5), phrases_s=(), confidence=Confidence(1, 1, 1, 1, 1, 1, ()))
    result = fit(stepping(32), song)
    assert [wall.counts for wall in result.runs[0].walls] == [32] * 5
    assert "phrases" in [f.kind for f in result.findings]


def test_with_no_confidence_at_all_nothing_is_repaired() -> None:
    song = made_map([32, 36, 20, 32, 44])
    nothing = Confidence(0, 0, 0, 0, 0, 0, (0.0,) * 5)
    run = fit(stepping(32), replace(song, confidence=nothing)).runs[0]
    assert (run.tags, run.restarts) == ((), ())
    told = fit(stepping(32), replace(song, confidence=nothing)).findings
    assert "sure of no phrase" in next(f.message for f in told if f.kind == "phrases")


def test_a_dance_of_four_counts_is_danced_without_a_tag_longer_than_itself() -> None:
    run = fit(stepping(4), made_map([32] * 4)).runs[0]
    assert (run.score.total, run.tags, len(run.walls)) == (100.0, (), 32)


def test_at_double_time_the_last_half_of_the_last_beat_is_danced() -> None:
    run = fit(stepping(32), made_map([32] * 4, bpm=56), most=1).runs[0]
    assert (run.beats_per_count, [wall.counts for wall in run.walls]) == (0.5, [32] * 8)


@pytest.mark.parametrize("counts", [4, 12, 40, 128])
def test_dances_of_any_length_are_laid(counts: int) -> None:
    run = fit(stepping(counts), made_map([32] * 8), most=1).runs[0]
    assert sum(wall.counts for wall in run.walls) + sum(tag.counts for tag in run.tags) <= 256
    assert run.walls


def test_a_dance_without_counts_is_refused() -> None:
    with pytest.raises(FitError, match="no counts to dance"):
        fit(replace(stepping(32), counts=0, actions=(), sections=()), made_map([32]))


@pytest.mark.parametrize("counts", [1, 2, 3])
def test_the_shortest_dances_are_laid(counts: int) -> None:
    assert fit(stepping(counts), made_map([32, 33, 32]), most=1).runs


def test_a_song_shorter_than_one_wall_ends_in_the_first() -> None:
    run = fit(stepping(64), made_map([20])).runs[0]
    assert [wall.counts for wall in run.walls] == [20]
    assert run.ending is not None


def test_a_waltz_on_a_song_in_four_is_told_so() -> None:
    (wrong,) = fit(dance_named("millpond"), made_map([32] * 4)).findings
    assert wrong.message.startswith("This is a waltz, the song is in four")
    (other,) = fit(dance_named("harbour"), made_map([48] * 4, metre=3)).findings
    assert other.message.startswith("This dance is counted in four, the song is in three")


def test_a_pause_in_the_music_falls_between_two_walls() -> None:
    song = made_map([32] * 2 + [36] + [32] * 3)
    at = 16 + 64 + 36
    later = tuple(s + (4.0 if k >= at else 0.0) for k, s in enumerate(song.beats_s))
    moved = dict(zip(song.beats_s, later, strict=True))
    song = replace(
        song,
        beats_s=later,
        downbeats_s=tuple(moved[s] for s in song.downbeats_s),
        eights_s=tuple(moved[s] for s in song.eights_s),
        phrases_s=tuple(moved[s] for s in song.phrases_s if s < song.beats_s[80]),
        end_s=song.end_s + 4.0,
        confidence=Confidence(1, 1, 1, 1, 1, 1, (1.0, 1.0)),
    )
    best = fit(stepping(32), song).runs[0]
    assert any(wall.start_s == pytest.approx(later[at]) for wall in best.walls)


def moved_beats(song: SongMap, times: list[float]) -> SongMap:
    """The same song with its beats at other times."""
    at = dict(zip(song.beats_s, times, strict=True))
    rows = (tuple(at[s] for s in row) for row in (song.beats_s, song.downbeats_s, song.eights_s, song.phrases_s))
    beats, downbeats, eights, phrases = rows
    return replace(song, beats_s=beats, downbeats_s=downbeats, eights_s=eights, phrases_s=phrases,
                   first_count_s=at[song.first_count_s], end_s=times[-1] + 0.6)  # fmt: skip


@pytest.mark.parametrize(("share", "told"), [(0.0, 0), (0.01, 0), (0.08, 1), (-0.08, 1)])
def test_a_tempo_that_changes_by_more_than_three_in_a_hundred_is_told(share: float, told: int) -> None:
    song = made_map([32] * 8)
    many = len(song.beats_s)
    steps = [0.6 / (1 + share * k / many) for k in range(many)]
    found = fit(stepping(32), moved_beats(song, [0.0, *accumulate(steps[:-1])])).findings
    drifts = [f.message for f in found if f.kind == "drift"]
    assert len(drifts) == told
    assert all(("faster" if share > 0 else "slower") in message for message in drifts)


def test_a_song_that_slows_down_at_its_end_says_where() -> None:
    song = made_map([32] * 8)
    steps = [0.6] * (len(song.beats_s) - 5) + [0.66, 0.72, 0.8, 0.95]
    found = fit(stepping(32), moved_beats(song, [0.0, *accumulate(steps)])).findings
    assert [f.message for f in found if f.kind == "drift"] == ["The song slows down at its end, from 2:40 on."]
