from __future__ import annotations

from functools import cache
from itertools import pairwise
from typing import TYPE_CHECKING

import pytest

from fit.made_maps import all_dances, dance_named, made_map
from softshoe.adapt.cautions import cautions
from softshoe.teach.document import lesson_from_json, lesson_json
from softshoe.teach.parts import parts
from softshoe.teach.voice import ONSET_S
from softshoe.teach.walkthrough import walkthrough
from teach.lessons import best, versions

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance
    from softshoe.teach.lesson import Lesson, Passage

SONG = made_map([32, 32, 36, 32, 32, 32, 4])
WALTZ_SONG = made_map([48] * 4, metre=3, bpm=96, intro=24)
DANCES = {dance.title: dance for dance in all_dances()}


@cache
def taught(title: str) -> Lesson:
    dance = DANCES[title]
    song = WALTZ_SONG if dance.metre == "3/4" else SONG
    shown = versions(dance)
    return walkthrough(dance, shown, best(dance, song), song)


every_lesson = pytest.mark.parametrize("lesson", list(DANCES), indirect=True)


@pytest.fixture
def lesson(request: pytest.FixtureRequest) -> Lesson:
    return taught(request.param)


def said_in(lesson: Lesson, passage: Passage) -> list[str]:
    return [c.words for c in lesson.cues if passage.start_s - ONSET_S <= c.at_s < passage.end_s - ONSET_S]


@every_lesson
def test_a_walkthrough_of_32_counts_lasts_three_to_six_minutes(lesson: Lesson) -> None:
    assert 120 < lesson.length_s < 360


@every_lesson
def test_the_stop_words_are_spoken_and_written_before_anybody_dances(lesson: Lesson) -> None:
    first = next(p for p in lesson.passages if any(b.motion for b in p.beats))
    before = " ".join(c.words for c in lesson.cues if c.at_s < first.start_s)
    cards = [line for p in lesson.passages if p.start_s < first.start_s for line in p.text]
    for sign in cautions()["stop_signs"].watch.split(", "):
        assert sign in before
        assert sign in cards
    assert "get help" in before
    assert "doctor or therapist" in before


@every_lesson
def test_nobody_speaks_over_anybody(lesson: Lesson) -> None:
    for before, after in pairwise(lesson.cues):
        assert after.at_s - (0 if after.voice == "remark" else ONSET_S) >= before.at_s + before.room_s - 1e-6


@every_lesson
def test_no_remark_is_longer_than_its_caption(lesson: Lesson) -> None:
    written = " ".join(c.words.replace("\n", " ") for c in lesson.captions)
    for cue in lesson.cues:
        if cue.voice == "remark":
            assert cue.words in written


@every_lesson
def test_words_that_belittle_or_promise_are_not_said(lesson: Lesson) -> None:
    words = {word.strip(".,:").lower() for cue in lesson.cues for word in cue.words.split()}
    assert not words & {"easy", "just", "simply", "wrong", "safe", "no", "patient", "cure"}


@every_lesson
def test_passages_fill_the_lesson_without_gap(lesson: Lesson) -> None:
    assert lesson.passages[0].start_s == 0
    for before, after in pairwise(lesson.passages):
        assert after.start_s == pytest.approx(before.end_s)
    assert lesson.passages[-1].end_s == pytest.approx(lesson.length_s)


@pytest.mark.parametrize("dance", DANCES.values(), ids=DANCES)
def test_every_motion_shown_is_one_of_the_parts(dance: Dance) -> None:
    song = WALTZ_SONG if dance.metre == "3/4" else SONG
    shown = versions(dance)
    known = parts(dance, shown, best(dance, song))
    for passage in taught(dance.title).passages:
        for beat in passage.beats:
            if beat.motion is None:
                continue
            assert beat.count is not None
            assert 1 <= beat.count.whole <= known[beat.motion].counts
            assert known[beat.motion].stance == passage.figure


@every_lesson
def test_a_walkthrough_survives_its_json(lesson: Lesson) -> None:
    assert lesson_from_json(lesson_json(lesson)) == lesson


def test_a_section_is_shown_standing_then_seated_with_words_then_with_arms() -> None:
    """Common practice, no source: the steps with their counts standing first, then seated with the arms."""
    lesson = taught("Cushion Cove")
    titles = [p.title for p in lesson.passages if p.title.startswith("Section 1")]
    assert titles == ["Section 1, standing", "Section 1, seated", "Section 1, seated, with arms"]
    standing, seated, arms = (p for p in lesson.passages if p.title.startswith("Section 1"))
    assert (standing.figure, seated.figure, arms.figure) == ("standing", "seated", "seated")
    assert said_in(lesson, standing)[-8:] == ["one", "two", "three", "four", "five", "six", "seven", "eight"]
    assert said_in(lesson, seated)[-4:] == ["step right", "home", "step left", "home"]
    assert said_in(lesson, arms)[-4:] == ["push right", "pull", "push left", "pull"]


def test_the_words_name_the_foot_where_the_move_leaves_it_open() -> None:
    said = {p.title: said_in(taught("Shoelace Serenade"), p) for p in taught("Shoelace Serenade").passages}
    assert said["Section 1, seated"][-8:-4] == ["toe right", "home", "toe left", "home"]
    cushion = {p.title: said_in(taught("Cushion Cove"), p) for p in taught("Cushion Cove").passages}
    assert cushion["Section 1, seated"][-4:] == ["step right", "home", "step left", "home"]


def test_a_section_that_comes_again_is_only_recalled() -> None:
    said = [c.words for c in taught("Porchlight Polka").cues]
    assert not any("same as section one" in words for words in said)  # the arms are new there
    waltz = [c.words for c in taught("Millpond Moon Waltz").cues]
    assert "Section four: the same as section one." in waltz


def test_turning_sections_are_seen_from_behind_and_that_is_said_before() -> None:
    lesson = taught("Copper Kettle Canter")
    passage = next(p for p in lesson.passages if p.view == "behind")
    spoken = [c for c in lesson.cues if passage.start_s <= c.at_s < passage.end_s]
    told = next(c for c in spoken if "from behind" in c.words)
    first = next(b for b in passage.beats if b.motion)
    assert first.at_s - told.at_s >= 2 * first.step_s


def test_slow_counts_are_danced_at_three_fifths_of_the_song() -> None:
    passage = next(p for p in taught("Harbour Rope Hum").passages if p.title == "Section 1, seated")
    assert {round(b.step_s, 6) for b in passage.beats} == {1.0}


def test_each_tag_is_taught_once_with_its_sign() -> None:
    lesson = taught("Harbour Rope Hum")
    (tag,) = [p for p in lesson.passages if p.title == "Tag"]
    assert said_in(lesson, tag)[:2] == ["After wall three the song has four counts more.", "There we dance: sways."]


def test_restarts_are_told_on_a_card() -> None:
    dance = dance_named("signal_box")
    song = made_map([32, 40, 32, 32, 16, 32, 18])
    shown = versions(dance)
    lesson = walkthrough(dance, shown, best(dance, song), song)
    (card,) = [p for p in lesson.passages if p.title == "Restart"]
    assert card.text == ("wall 5: stop after count 16, begin again",)


@every_lesson
def test_sections_together_show_the_move_of_every_count_beside_the_name_of_its_pattern(lesson: Lesson) -> None:
    alone = {b.count: b.now for p in lesson.passages if p.title.endswith("with arms") for b in p.beats if b.count}
    for passage in lesson.passages:
        for beat in passage.beats if passage.title.endswith("together") else ():
            if beat.count in alone:
                assert beat.now.endswith(alone[beat.count])


def test_a_passage_named_with_arms_moves_the_arms() -> None:
    said = [p.title for p in taught("Copper Kettle Canter").passages]
    assert "Section 2, seated, with counts" in said  # no arms are written there
    assert "Section 1, seated, with arms" in said


def test_whoever_sits_is_told_to_stay_seated_while_the_feet_are_shown_standing() -> None:
    said = {title: [c.words for c in taught(title).cues] for title in ("Cushion Cove", "Copper Kettle Canter")}
    assert said["Cushion Cove"].count("Stay on your chair, and watch the feet.") == 1
    assert "Stay on your chair, and watch the feet." not in said["Copper Kettle Canter"]
