from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import pytest

from fit.made_maps import all_dances, dance_named, made_map
from softshoe.dance.footwork import danced
from softshoe.fit.timeline import timeline
from softshoe.music.songmap import Swing
from softshoe.teach.at_tempo import at_tempo
from softshoe.teach.document import lesson_from_json, lesson_json
from softshoe.teach.parts import parts
from teach.lessons import adapted, best

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance
    from softshoe.music.songmap import SongMap
    from softshoe.teach.lesson import Lesson

SONG = made_map([32, 32, 36, 32, 32, 32, 4])
WALTZ_SONG = made_map([48] * 4, metre=3, bpm=96, intro=24)
DANCES = all_dances()


def lesson_of(dance: Dance, song: SongMap, **wishes: Any) -> Lesson:
    run = best(dance, song)
    return at_tempo(dance, adapted(dance, "seated"), run, song, timeline(dance, run, song), **wishes)


def at_tempo_standing(dance: Dance) -> Lesson:
    run = best(dance, SONG)
    return at_tempo(dance, adapted(dance, "standing"), run, SONG, timeline(dance, run, SONG))


def song_for(dance: Dance) -> SongMap:
    return WALTZ_SONG if dance.metre == "3/4" else SONG


@pytest.fixture(scope="module")
def harbour() -> Lesson:
    return lesson_of(dance_named("harbour"), SONG)


def said_at(lesson: Lesson, words: str) -> list[float]:
    return [round(cue.at_s, 2) for cue in lesson.cues if cue.words == words]


def test_five_six_seven_eight_fall_on_the_last_four_counts_of_the_intro(harbour: Lesson) -> None:
    counted = [(round(c.at_s, 2), c.words) for c in harbour.cues if c.voice == "count" and c.at_s < 9.6]
    assert counted == [(7.2, "five"), (7.8, "six"), (8.4, "seven"), (9.0, "eight")]


def test_a_waltz_is_counted_in_with_four_five_six() -> None:
    lesson = lesson_of(dance_named("millpond"), WALTZ_SONG)
    counted = [c.words for c in lesson.cues if c.voice == "count" and c.at_s < WALTZ_SONG.first_count_s]
    assert counted == ["four", "five", "six"]


@pytest.mark.parametrize("pace", [0.7, 0.85, 1.0])
@pytest.mark.parametrize("dance", DANCES, ids=lambda dance: dance.title)
def test_a_call_begins_two_seconds_ahead_and_is_over_one_count_before_its_move(dance: Dance, pace: float) -> None:
    lesson = lesson_of(dance, song_for(dance), pace=pace)
    wall = next(p for p in lesson.passages if p.title == "Wall 1")
    step_s = wall.beats[0].step_s
    size = dance.counts_per_section // 2
    begins = wall.beats[size::size]
    calls = [c for c in lesson.cues if c.voice == "cue" and wall.start_s - 4 * step_s <= c.at_s < wall.end_s]
    for beat in begins:
        called = [
            c
            for c in calls
            if c.at_s + c.room_s <= beat.at_s - 0.95 * step_s
            and beat.now.startswith(re.sub(r", [^,]*(hand|arms)[^,]*$", "", c.words))
        ]
        assert called, beat.now
        assert beat.at_s - called[-1].at_s >= min(2.1, size * step_s) - 1e-6


def test_cues_fade_as_the_walls_go_by(harbour: Lesson) -> None:
    first_wall = [c for c in harbour.cues if c.voice == "cue" and 9.6 <= c.at_s < 28.7]
    fifth_wall = [c for c in harbour.cues if c.voice == "cue" and 88.8 <= c.at_s < 105.0]
    assert len(first_wall) == 8
    assert [c.words for c in fifth_wall] == ["circle right"]  # and the next wall's first move as it ends


def test_a_tag_is_announced_eight_counts_ahead_and_named_four_ahead(harbour: Lesson) -> None:
    tag_s = (16 + 96) * 0.6
    assert said_at(harbour, "tag next, four counts") == [round(tag_s - 8 * 0.6, 2)]
    assert said_at(harbour, "sways") == [round(tag_s - 4 * 0.6, 2)]
    assert said_at(harbour, "from the top") or said_at(harbour, "from the top, heels right")


def test_a_restart_is_announced_and_its_last_two_counts_hold_only_again() -> None:
    dance = dance_named("signal_box")
    song = made_map([32, 40, 32, 32, 16, 32, 18], bpm=100)
    lesson = lesson_of(dance, song)
    cut_s = (16 + 32 + 40 + 32 + 32 + 16) * 0.6
    late = [c.words for c in lesson.cues if cut_s - 1.25 <= c.at_s < cut_s - 0.01]
    assert late == ["again"]
    assert any(c.words.startswith("restart next") for c in lesson.cues)


def test_the_last_wall_and_the_end_are_announced(harbour: Lesson) -> None:
    said = [c.words for c in harbour.cues]
    assert said[-3:] == ["last time, heels right", "circle right", "and finish, arms open"]


@pytest.mark.parametrize("dance", DANCES, ids=lambda dance: dance.title)
def test_every_count_of_the_song_has_a_beat_whose_motion_is_known(dance: Dance) -> None:
    song = song_for(dance)
    run = best(dance, song)
    for kind in ("standing", "seated"):
        version = adapted(dance, kind)
        lesson = at_tempo(dance, version, run, song, timeline(dance, run, song))
        beats = [b for p in lesson.passages for b in p.beats]
        known = parts(dance, {kind: version}, run)
        assert [b.at_s for b in beats] == pytest.approx([m.at_s for m in timeline(dance, run, song)])
        for beat in beats:
            assert beat.step_s > 0
            if beat.motion is not None:
                assert beat.count is not None
                assert 1 <= beat.count.whole <= known[beat.motion].counts
                assert beat.now


@pytest.mark.parametrize("pace", [0.7, 0.85, 1.0])
def test_the_lesson_stretches_with_the_pace_and_says_where_the_song_starts(pace: float) -> None:
    lesson = lesson_of(dance_named("harbour"), SONG, pace=pace, card_s=3.0)
    assert lesson.song_start_s == 3.0
    first = next(b for p in lesson.passages for b in p.beats if b.motion)
    assert (first.at_s - 3.0) * pace == pytest.approx(SONG.first_count_s)
    assert lesson.length_s == pytest.approx(3.0 + SONG.end_s / pace)


def test_counts_alone_or_nothing_are_spoken_when_asked() -> None:
    counts = lesson_of(dance_named("harbour"), SONG, speech="counts")
    assert {cue.voice for cue in counts.cues} == {"count"}
    assert len(counts.cues) >= 6 * 32
    assert lesson_of(dance_named("harbour"), SONG, speech="none").cues == ()


def test_passages_follow_one_another_without_a_gap(harbour: Lesson) -> None:
    assert harbour.passages[0].start_s == 0.0
    assert harbour.passages[-1].end_s == pytest.approx(harbour.length_s)
    for before, after in pairwise(harbour.passages):
        assert after.start_s == pytest.approx(before.end_s)


def test_next_is_shown_before_it_comes(harbour: Lesson) -> None:
    wall = next(p for p in harbour.passages if p.title == "Wall 1")
    assert (wall.beats[0].now, wall.beats[0].next_) == ("heels right, toes right", "claps")
    assert (wall.beats[4].now, wall.beats[4].next_) == ("claps", "heels left, toes left")


def test_a_lesson_survives_its_json(harbour: Lesson) -> None:
    assert lesson_from_json(lesson_json(harbour)) == harbour


def test_a_song_whose_beats_begin_with_the_dance_still_has_a_lesson() -> None:
    dance, song = dance_named("cushion"), made_map([32, 32], intro=0)
    lesson = lesson_of(replace(dance, tempo_bpm=None), song)
    assert lesson.cues
    assert all(cue.at_s >= 0 for cue in lesson.cues)


def test_a_written_ending_is_danced_in_the_place_of_the_last_counts() -> None:
    dance, song = dance_named("signal_box"), made_map([32, 40, 32, 32, 16, 32, 18])
    run = best(dance, song)
    version = adapted(dance, "standing")
    lesson = at_tempo(dance, version, run, song, timeline(dance, run, song))
    last = [b for p in lesson.passages for b in p.beats][-2:]
    assert [(b.motion, b.count and b.count.whole, b.now) for b in last] == [
        ("standing:ending", 1, "step forward, pivot half left"),
        ("standing:ending", 2, "step forward, pivot half left"),
    ]
    assert parts(dance, {"standing": version}, run)["standing:ending"].counts == 2


def test_a_tag_is_shown_count_by_count_and_announced_by_its_name(harbour: Lesson) -> None:
    tag = next(p for p in harbour.passages if p.title == "Tag after wall 3")
    assert [b.now for b in tag.beats] == ["tag: sway right", "tag: sway left", "tag: sway right", "tag: sway left"]
    before = next(p for p in harbour.passages if p.title == "Wall 3")
    assert before.beats[-1].next_ == "tag: sways"


def test_a_restart_that_alters_the_last_step_is_danced_so_standing_and_as_ever_seated() -> None:
    dance, song = replace(dance_named("copper_kettle"), tempo_bpm=None), made_map([32, 32, 16, 32, 32])
    run = best(dance, song)
    (restart,) = run.restarts
    assert restart.change == "on count 16 touch the right foot instead of putting weight on it"
    for kind, motion in (("standing", "standing:cut16"), ("seated", "seated:dance")):
        version = adapted(dance, kind)
        lesson = at_tempo(dance, version, run, song, timeline(dance, run, song))
        beats = [b for p in lesson.passages if p.title == "Wall 3" for b in p.beats]
        assert {b.motion for b in beats} == {motion}
        part = parts(dance, {kind: version}, run)[motion]
        weights = [e.weight for e in danced(part.actions, weight=part.start_weight)]
        assert weights[-1] is part.start_weight


def test_counts_are_all_said_and_told_by_fours_though_the_beats_of_a_song_are_not_equally_long() -> None:
    beats = tuple(at + (0.004 if n % 2 else 0.0) for n, at in enumerate(SONG.beats_s))
    lesson = lesson_of(dance_named("cushion"), replace(SONG, beats_s=beats), pace=0.7)
    counted = [c.words for c in lesson.cues if c.voice == "count"]
    assert counted[:4] == ["five", "six", "seven", "eight"]
    assert "5, 6, 7, 8" in [caption.words for caption in lesson.captions]


def test_late_walls_call_the_turn_itself() -> None:
    lesson = lesson_of(dance_named("kettle"), SONG)
    standing = at_tempo_standing(dance_named("kettle"))
    assert any("quarter left" in cue.words for cue in standing.cues if cue.at_s > lesson.length_s / 2)
    assert not any("shuffle" in cue.words for cue in lesson.cues)  # forward, home, home on even counts is none


def test_without_fading_no_later_wall_is_left_silent() -> None:
    dance = dance_named("harbour")
    faded, steady = (lesson_of(dance, SONG, fading=fading) for fading in (True, False))
    for wall in (5, 6):
        passage = next(p for p in steady.passages if p.title == f"Wall {wall}")
        counts = [c for c in steady.cues if c.voice == "count" and passage.start_s <= c.at_s < passage.end_s]
        assert len(counts) >= dance.counts // 4
        assert len(counts) > sum(c.voice == "count" and passage.start_s <= c.at_s < passage.end_s for c in faded.cues)


def test_a_lesson_knows_where_and_falls_in_its_song() -> None:
    clear, doubtful = (replace(SONG, swing=Swing(0.66, sure)) for sure in (0.9, 0.2))
    assert [lesson_of(dance_named("harbour"), song).swing for song in (SONG, doubtful, clear)] == [0.5, 0.5, 0.66]
