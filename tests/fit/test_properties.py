"""What holds for every dance and every song: counts, footwork, phrases added, songs shifted, runs pinned."""

from __future__ import annotations

from dataclasses import replace
from random import Random
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fit.made_maps import all_dances, made_map
from fit.planted import KINDS, planted, stepping
from softshoe.dance.feet import Weight
from softshoe.dance.footwork import danced
from softshoe.errors import FitError, SettingError
from softshoe.fit.anatomy import anatomy
from softshoe.fit.grid import counted
from softshoe.fit.lay import fit
from softshoe.fit.pins import Pins, WallPin, pins_of
from softshoe.fit.rules import Weights
from softshoe.fit.tags import leading_foot

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance
    from softshoe.fit.run import Run, RunTag
    from softshoe.music.songmap import SongMap

DANCES = {"3/4": [d for d in all_dances() if d.metre == "3/4"], "4/4": [d for d in all_dances() if d.metre != "3/4"]}
PHRASES = st.lists(st.sampled_from([8, 16, 24, 32, 32, 34, 36, 40, 48, 64]), min_size=1, max_size=7)
SURE = st.lists(st.floats(0, 1), min_size=7, max_size=7)


@st.composite
def dances_on_songs(draw: st.DrawFn) -> tuple[Dance, SongMap]:
    """A hand-written dance of any kind, its tempo left open, on a song of its metre."""
    three = draw(st.booleans())
    dance = draw(st.sampled_from(DANCES["3/4" if three else "4/4"]))
    phrases = [(length // 3 or 1) * 3 if three else length for length in draw(PHRASES)]
    sure = tuple(draw(SURE)[: len(phrases)])
    song = made_map(phrases, metre=3 if three else 4, bpm=100, confidence=sure, over=draw(st.integers(0, 20)))
    return replace(dance, tempo_bpm=None), song


@settings(deadline=None, max_examples=20)
@given(case=dances_on_songs())
def test_every_count_of_the_song_is_danced_once(case: tuple[Dance, SongMap]) -> None:
    dance, song = case
    for run in fit(dance, song).runs:
        grid = counted(song, beats_per_count=run.beats_per_count, start_s=run.start.time_s)
        laid = sum(wall.counts for wall in run.walls) + sum(tag.counts for tag in run.tags)
        assert 0 <= grid.total - laid < (dance.counts if grid.fades else 5) or len(run.walls) == 1


@settings(deadline=None, max_examples=20)
@given(case=dances_on_songs())
def test_no_run_breaks_the_footwork(case: tuple[Dance, SongMap]) -> None:
    dance, song = case
    seen = anatomy(dance)
    for run in fit(dance, song).runs:
        for restart in run.restarts:
            assert seen.facings_deg[restart.after_count] % 90 == 0
            weight = seen.weights[restart.after_count]
            written = restart.after_count in {r.after_count for r in dance.restarts}
            assert weight is dance.start_weight or restart.change or written
        for tag in run.tags:
            assert tag.written or keeps_the_weight(dance, tag)


def keeps_the_weight(dance: Dance, tag: RunTag) -> bool:
    """A proposed tag or bridge begins with a free foot, turns nobody, and gives the weight back."""
    before = anatomy(dance).weights[tag.at_count]
    events = danced(tag.actions, weight=before)
    first = next((e.action.foot for e in events if e.action.foot is not None), None)
    free = before in (Weight.SEAT, Weight.BOTH) or first is None or first is before.free
    back = events[-1].weight is before or (before is Weight.BOTH and events[-1].weight.free is leading_foot(dance))
    return free and back and all(event.facing_deg == 0 for event in events)


@settings(deadline=None, max_examples=20)
@given(case=dances_on_songs())
def test_the_best_run_held_in_every_decision_comes_back(case: tuple[Dance, SongMap]) -> None:
    dance, song = case
    best = fit(dance, song).runs[0]
    held = fit(dance, song, pins=pins_of(best), most=1).runs[0]
    assert (held.walls, held.tags, held.restarts, held.ending) == (best.walls, best.tags, best.restarts, best.ending)
    left_out = {"departs from the sheet", "counted otherwise"}
    charged = -sum(value for part, value in best.score.parts.items() if part not in left_out)
    assert held.score.charged == pytest.approx(charged, abs=0.02)


@settings(deadline=None, max_examples=20)
@given(case=dances_on_songs(), seconds=st.floats(0.1, 90))
def test_a_song_that_begins_later_is_danced_later_and_else_alike(case: tuple[Dance, SongMap], seconds: float) -> None:
    dance, song = case
    later = shifted(song, seconds)
    for one, other in zip(fit(dance, song).runs, fit(dance, later).runs, strict=True):
        assert other.start.time_s == pytest.approx(one.start.time_s + seconds)
        assert [w.counts for w in other.walls] == [w.counts for w in one.walls]
        assert (other.tags, other.restarts, other.score) == (one.tags, one.restarts, one.score)


def shifted(song: SongMap, seconds: float) -> SongMap:
    def moved(times_s: tuple[float, ...]) -> tuple[float, ...]:
        return tuple(at_s + seconds for at_s in times_s)

    return replace(
        song,
        beats_s=moved(song.beats_s),
        downbeats_s=moved(song.downbeats_s),
        eights_s=moved(song.eights_s),
        phrases_s=moved(song.phrases_s),
        first_count_s=song.first_count_s + seconds,
        end_s=song.end_s + seconds,
    )


@settings(deadline=None, max_examples=20)
@given(phrases=st.lists(st.sampled_from([32, 32, 34, 36, 40]), max_size=6), turn=st.sampled_from([0, 90, 180]))
def test_a_phrase_more_adds_no_misfit_elsewhere(phrases: list[int], turn: int) -> None:
    dance = stepping(32, turn_deg=turn)
    shorter, longer = (best_of(dance, [*phrases, 32, *more]) for more in ([], [32]))
    assert longer.score.charged <= shorter.score.charged + Weights().of("ending") + 0.01  # it may end elsewhere


def best_of(dance: Dance, phrases: list[int]) -> Run:
    return fit(dance, made_map(phrases), most=1).runs[0]


@pytest.mark.parametrize("kind", KINDS)
def test_a_pin_holds_and_the_rest_is_solved_around_it(kind: str) -> None:
    case = planted(Random(kind), kind)
    wall = min(2, len(fit(case.dance, case.song, most=1).runs[0].walls))
    run = fit(case.dance, case.song, pins=Pins(walls={wall: WallPin(None, ((case.dance.counts, 4),))})).runs[0]
    assert (wall, 4) in {(tag.after_wall, tag.counts) for tag in run.tags}


def test_no_tags_and_no_restarts_can_be_asked_for() -> None:
    dance, song = stepping(32), made_map([32, 36, 32, 36, 32, 36])
    assert fit(dance, song).runs[0].tags
    for pins, kinds in ((Pins(tags=False), "tags"), (Pins(tags=False, restarts=False, bridges=False), "all")):
        for run in fit(dance, song, pins=pins).runs:
            assert not [tag for tag in run.tags if tag.after_wall]
            assert kinds != "all" or (run.tags, run.restarts) == ((), ())


def test_the_dance_ends_on_the_note_that_is_pinned() -> None:
    song = made_map([32] * 6)
    run = fit(stepping(32), song, pins=Pins(end_s=song.beats_s[16 + 64 + 15] + 0.1)).runs[0]
    assert [wall.counts for wall in run.walls] == [32, 32, 16]
    assert run.ending is not None
    assert run.ending.at_count == 16


def test_a_pin_that_footwork_forbids_says_where_one_may_be() -> None:
    with pytest.raises(FitError, match="restart after one of these: 4, 8"):
        fit(stepping(32), made_map([32] * 4), pins=Pins(walls={2: WallPin(5)}))
    with pytest.raises(FitError, match="can't be added after count 40"):
        fit(stepping(32), made_map([32] * 4), pins=Pins(walls={2: WallPin(None, ((40, 4),))}))


@pytest.mark.parametrize(
    "pins", [Pins(start_s=900), Pins(end_s=-5), Pins(start_s=60, end_s=30), Pins(end_s=float("nan"))]
)
def test_a_moment_that_is_not_in_the_song_is_refused(pins: Pins) -> None:
    with pytest.raises(FitError, match=r"not in the counted song|before the start"):
        fit(
            stepping(32), made_map([32] * 4, intro=16, bpm=100), pins=replace(pins, end_s=pins.end_s and pins.end_s - 2)
        )


def test_moving_a_weight_moves_the_answer() -> None:
    dance, song = stepping(32), made_map([32, 32, 36, 32, 32])
    assert fit(dance, song).runs[0].tags
    assert not fit(dance, song, weights=Weights({"tag": 40.0, "restart": 40.0, "restart_early": 40.0})).runs[0].tags
    with pytest.raises(SettingError, match="did you mean “bridge”"):
        Weights({"brige": 1.0})
