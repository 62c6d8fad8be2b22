"""What is said happens, in time, and one voice at a time: asked of all test dances on songs of every kind."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING

import pytest

from softshoe.teach.room import Room, room_of
from softshoe.teach.voice import ONSET_S
from softshoe.teach.words import COUNT_WORDS
from teach.lessons import DANCES, SONGS, SongName, danced, laid

if TYPE_CHECKING:
    from softshoe.adapt.version import Kind
    from softshoe.dance.dance import Dance
    from softshoe.teach.lesson import Beat, Cue, Lesson

OF_HANDS = re.compile(r"\b(hands?|arms)\b")  # "hands push and pull" beside the feet
BEFORE = ("first", "restart next", "last time", "from the top", "go on")
ALONE = ("again", "and finish", "and finish, arms open")
every_dance = pytest.mark.parametrize("dance", DANCES.values(), ids=DANCES.keys())
every_song = pytest.mark.parametrize("song", SONGS)
KINDS: tuple[Kind, ...] = ("standing", "seated")


def move_of(cue: Cue) -> str:
    """The move that a cue calls, without the words around it."""
    feet = [thing for thing in cue.words.split(", ") if not OF_HANDS.search(thing)]
    things = [thing for thing in feet if thing not in BEFORE and not thing.startswith("to the ")]
    return ", ".join(things)


def called(move: str, beat: Beat) -> bool:
    """True where this beat dances the move: its things, in their order, some perhaps left out; “turn to the …”."""
    if move.startswith("turn to"):
        return any(turn in beat.now for turn in ("quarter", "half"))
    things = iter(beat.now.removeprefix("tag: ").split(", "))
    return not move or all(thing in things for thing in move.split(", "))


def beats_of(lesson: Lesson) -> list[Beat]:
    return [beat for passage in lesson.passages for beat in passage.beats]


@every_song
@every_dance
def test_a_cue_is_over_before_its_move_and_the_move_comes(dance: Dance, song: SongName) -> None:
    for kind, pace in (("standing", 1.0), ("seated", 1.3)):
        lesson = danced(dance, song, kind, pace=pace)  # type: ignore[arg-type]
        beats, step_s = beats_of(lesson), lesson.passages[1].beats[0].step_s
        heads = ("1", str(dance.counts_per_section // 2 + 1))
        starts = [b for a, b in pairwise(beats) if b.motion and (a.now != b.now or b.label in heads)]
        tags = {p.beats[0].at_s for p in lesson.passages if p.title.startswith("Tag")}
        for cue in lesson.cues:
            if cue.voice != "cue" or cue.words in ALONE:
                continue
            over_s = cue.at_s + cue.room_s + 0.3 * step_s
            coming = [b for b in starts if over_s <= b.at_s <= cue.at_s + 13 * step_s]
            if "tag" in cue.words:
                assert any(beat.at_s in tags for beat in coming), cue
            elif not any(beat.at_s in tags for beat in coming[:1]):
                assert any(called(move_of(cue), beat) for beat in coming), (cue, [b.now for b in coming])


@every_song
@every_dance
def test_nobody_is_spoken_over_and_counts_are_those_of_the_beat(dance: Dance, song: SongName) -> None:
    for kind in KINDS:
        lesson = danced(dance, song, kind, pace=0.7)
        labels = {round(beat.at_s, 4): beat.label for beat in beats_of(lesson)}
        for before, after in pairwise(lesson.cues):
            assert after.at_s - ONSET_S >= before.at_s + before.room_s
        for cue in lesson.cues:
            if cue.voice == "count":
                assert str(COUNT_WORDS.index(cue.words) + 1) == labels[round(cue.at_s, 4)]


@every_song
@every_dance
def test_the_room_is_never_left_without_a_word_for_more_than_two_sections_and_a_half(
    dance: Dance, song: SongName
) -> None:
    for kind in KINDS:
        lesson = danced(dance, song, kind)
        walls = [p for p in lesson.passages if p.title.startswith("Wall")]
        said = [c.at_s for c in lesson.cues if c.at_s < walls[-1].beats[-1].at_s]
        most = 2.5 * dance.counts_per_section * walls[0].beats[0].step_s
        assert all(after - before <= most for before, after in pairwise(said))


@every_dance
def test_a_cut_with_a_tag_is_warned_of_named_and_followed_by_from_the_top(dance: Dance) -> None:
    run, _ = laid(dance.title, "restart with a tag")
    assert (3, dance.counts // 2) in [(cut.wall, cut.after_count) for cut in run.restarts]
    for kind in KINDS:
        lesson = danced(dance, "restart with a tag", kind)
        tag = next(p for p in lesson.passages if p.title == "Tag after wall 3")
        said = [c.words for c in lesson.cues if tag.start_s - 6.5 <= c.at_s < tag.end_s]
        assert any(words.startswith("stop early, tag") for words in said), said
        assert any(words.startswith("from the top") or words == "again" for words in said), said


@every_dance
def test_a_plain_cut_is_warned_of_and_again_is_said_on_its_last_counts(dance: Dance) -> None:
    lesson = danced(dance, "restart", "seated")
    third = next(p for p in lesson.passages if p.title == "Wall 3")
    said = [c.words for c in lesson.cues if third.start_s - 3 <= c.at_s < third.end_s]
    assert any(words.startswith("restart next") for words in said)
    assert said[-1] == "again"


def test_the_last_wall_is_told_even_where_it_follows_a_cut_or_a_tag() -> None:
    for song in SONGS:
        said = [cue.words for cue in danced(DANCES["Harbour Rope Hum"], song, "seated").cues]
        assert sum("last time" in words for words in said) == 1


def test_a_turn_to_another_wall_is_called_by_what_is_seen_there() -> None:
    room = room_of("mirrors, windows, clock, door")
    dance = DANCES["Copper Kettle Canter"]
    lesson = danced(dance, "plain", "standing", room=room)
    facings = [wall.facing_deg for wall in laid(dance.title, "plain")[0].walls]
    told = [cue.words.rpartition("to ")[2] for cue in lesson.cues if "to the " in cue.words]
    assert told == [room.wall(facing) for facing in facings[1:]]
    assert not any("to the " in cue.words for cue in danced(dance, "plain", "seated", room=room).cues)


def test_a_room_without_names_has_a_front_and_a_back() -> None:
    assert room_of(" ") == Room()
    assert [Room().wall(facing) for facing in (0, 90, 180, 270, 360)] == [
        "the front", "the right side", "the back", "the left side", "the front",
    ]  # fmt: skip
