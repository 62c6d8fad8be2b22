"""A lesson of the minutes asked for, and a lesson as words that are read back."""

from __future__ import annotations

from functools import cache
from itertools import pairwise
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from softshoe.errors import SettingError, WordingError
from softshoe.teach.length import PARTS, chosen
from softshoe.teach.pieces import lesson_of, remark_s
from softshoe.teach.text import lesson_text
from softshoe.teach.text_read import lesson_from_text
from softshoe.teach.voice import ONSET_S, spoken_s
from softshoe.teach.walkthrough import every_piece
from teach.lessons import DANCES, laid, versions

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance
    from softshoe.teach.lesson import Lesson
    from softshoe.teach.pieces import Piece

NEAR_S = 30.0
every_dance = pytest.mark.parametrize("dance", DANCES.values(), ids=DANCES.keys())


@cache
def pieces_of(title: str) -> tuple[Piece, ...]:
    dance = DANCES[title]
    run, song = laid(title, "restart with a tag")
    return every_piece(dance, versions(dance), run, song)


def lesson(dance: Dance, minutes: float | None) -> tuple[Lesson, str]:
    """The lesson and its text."""
    pieces, told = chosen(pieces_of(dance.title), minutes, seated=dance.seated)
    return lesson_of(dance.title, pieces, told=told), lesson_text(dance.title, pieces, told)


def section_one(text: str) -> str:
    """The block that teaches the words of section one."""
    return next(block for block in text.split("\n\n") if block.startswith("== Section 1, seated\n"))


@every_dance
@pytest.mark.parametrize("minutes", [6, 12])
def test_the_minutes_asked_for_are_met(dance: Dance, minutes: int) -> None:
    made, _ = lesson(dance, minutes)
    assert minutes * 60 - NEAR_S <= made.length_s <= minutes * 60
    assert made.told[0] == f"{minutes} minutes were asked for."


@every_dance
def test_what_everybody_needs_is_in_the_shortest_lesson_and_that_it_is_longer_is_told(dance: Dance) -> None:
    made, text = lesson(dance, 1)
    titles = [passage.title for passage in made.passages]
    assert titles[1:3] == ["Chair and floor", "When to stop"]
    assert any(title.startswith("Tag") for title in titles)
    assert "told: A shorter one would leave out something that everybody needs." in text
    assert {piece.kind for piece in pieces_of(dance.title)} <= PARTS.keys()


@given(st.floats(1, 90), st.sampled_from(sorted(DANCES)))
@settings(max_examples=6)
def test_nobody_speaks_over_anybody_in_a_lesson_of_any_length(minutes: float, title: str) -> None:
    made, text = lesson(DANCES[title], minutes)
    for before, after in pairwise(made.cues):
        assert after.at_s - (0 if after.voice == "remark" else ONSET_S) >= before.at_s + before.room_s - 1e-6
    assert sum(c.voice == "remark" for c in made.cues) == text.count("\nsay: ")
    assert lesson_from_text(text, pieces_of(title)) == made


def test_a_quarter_of_an_hour_goes_from_watching_to_the_song_slowly_and_faster() -> None:
    made, _ = lesson(DANCES["Harbour Rope Hum"], 15)
    titles = list(dict.fromkeys(passage.title for passage in made.passages))
    order = ["The whole dance, to watch", "Section 1, standing", "Section 1, seated, slowly", "Section 1, seated",
             "Section 1, the arms alone", "Section 1, seated, with arms", "Sections 1 and 2 together", "Tag",
             "The whole dance, slowly", "The whole dance", "The whole dance, at its own speed", "A rest",
             "With the song", "Wall 1", "To end with"]  # fmt: skip
    assert [title for title in titles if title in order] == order
    song = next(passage for passage in made.passages if passage.title == "With the song")
    assert made.song_start_s == pytest.approx(song.start_s + remark_s("Now with the music."))


@pytest.mark.parametrize("minutes", [0.5, 91, float("nan")])
def test_no_lesson_lasts_half_a_minute_or_two_hours(minutes: float) -> None:
    with pytest.raises(SettingError, match="minutes"):
        lesson(DANCES["Harbour Rope Hum"], minutes)


def test_changed_words_are_said_and_longer_sentences_move_what_follows() -> None:
    made, text = lesson(DANCES["Harbour Rope Hum"], None)
    block = section_one(text)
    new = block.replace("say: ", "say: Look at my striped sock.\nsay: ").replace("\n1: ", "\n1: striped ")
    changed = lesson_from_text(text.replace(block, new), pieces_of("Harbour Rope Hum"))
    said = [cue.words for cue in changed.cues]
    assert "Look at my striped sock." in said
    assert any(words.startswith("striped ") for words in said)
    assert changed.length_s == pytest.approx(made.length_s + remark_s("Look at my striped sock."))


def test_blocks_may_be_taken_out_repeated_and_danced_slower_and_cards_of_ones_own_put_in() -> None:
    _, text = lesson(DANCES["Harbour Rope Hum"], None)
    block = section_one(text)
    speed = next(line for line in block.split("\n") if line.startswith("counts a minute"))
    slow = block.replace(speed, "counts a minute: 40")
    own = "== Tea\nwrite: a cup of tea\nsay: Now a cup of tea.\nrest: 60"
    changed = lesson_from_text(f"lesson: Mine\n\n{own}\n\n{block}\n\n{slow}", pieces_of("Harbour Rope Hum"))
    assert [passage.title for passage in changed.passages] == ["Tea", "Section 1, seated", "Section 1, seated"]
    assert changed.passages[0].text == ("a cup of tea",)
    assert changed.passages[0].end_s > 60
    assert {beat.step_s for beat in changed.passages[2].beats} == {1.5}


@pytest.mark.parametrize(
    ("line", "wrong", "mend"),
    [
        ("99: heel", "has no count “99”", "its counts are named 2 before … 8"),
        ("say nothing", "“say nothing” can't be read", "put “say:” before"),
        ("counts a minute: quick", "“quick” can't be used", "write such a number"),
        ("2: " + "heel " * 9, "is too long for count 2", "take fewer words"),
        ("say: " + "and again " * 9, "is too long for a caption", "in two sentences"),
        ("3: heel\n3: toe", "two things are said on count 3", "take one out"),
    ],
)
def test_what_cannot_be_read_is_told_with_its_line(line: str, wrong: str, mend: str) -> None:
    text = f"lesson: Mine\n\n== Section 1, seated\n1: heel\n{line}\n4: toe\n"
    with pytest.raises(WordingError) as told:
        lesson_from_text(text, pieces_of("Harbour Rope Hum"), where="l.txt")
    assert wrong in told.value.what
    assert mend in told.value.mend
    assert told.value.where == f"l.txt, line {5 + line.count(chr(10))}"


def test_a_title_nobody_knows_is_answered_with_the_nearest_and_every_wrong_line_is_named() -> None:
    with pytest.raises(WordingError) as told:
        lesson_from_text("hello: you\n== Sektion 1, seated\n1: heel", pieces_of("Harbour Rope Hum"))
    assert told.value.where.endswith("line 1")
    assert told.value.mend.endswith("(line 2 can't be read either)")
    with pytest.raises(WordingError, match="did you mean “Section 1, seated”"):
        lesson_from_text("== Sektion 1, seated\n1: heel", pieces_of("Harbour Rope Hum"))
    with pytest.raises(WordingError, match="nothing in this lesson"):
        lesson_from_text("# all taken out", pieces_of("Harbour Rope Hum"))


def test_the_song_plays_once_and_at_its_own_speed() -> None:
    pieces = pieces_of("Harbour Rope Hum")
    with pytest.raises(WordingError, match="plays twice"):
        lesson_from_text("== With the song\nwall 1, 1: go\n== With the song\nwall 1, 1: go", pieces)
    with pytest.raises(WordingError, match="keeps its own speed"):
        lesson_from_text("== With the song\ncounts a minute: 60\nwall 1, 1: go", pieces)


@given(st.text(st.sampled_from("=: \n#1abesaywrit2fo,"), max_size=200))
def test_no_text_makes_the_reader_fall_over(text: str) -> None:
    try:
        made = lesson_from_text(text, pieces_of("Harbour Rope Hum"))
    except WordingError:
        return
    assert made.length_s > 0


def test_words_put_between_others_get_the_room_that_is_left() -> None:
    text = "== Section 1, seated\n1: heel\n2: heel and home\n"
    made = lesson_from_text(text, pieces_of("Harbour Rope Hum"))
    first, second = made.cues
    assert first.at_s + first.room_s <= second.at_s - ONSET_S
    assert spoken_s(first.words) <= first.room_s * 1.4
