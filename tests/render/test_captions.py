from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from render.film_scene import lesson
from softshoe.render.captions import (
    LINE_CHARACTERS,
    LINES,
    TimedText,
    captions_of,
    chapters_of,
    read_vtt,
    seconds,
    stamp,
    vtt,
    wrapped,
)
from softshoe.teach.lesson import Caption, Lesson

words = st.text(st.characters(codec="utf-8", exclude_categories=("C", "Z")), min_size=1, max_size=12)
lines = st.lists(words, min_size=1, max_size=8).map(" ".join).filter(lambda line: "-->" not in line)


@given(st.integers(0, 400_000_000))
def test_a_time_written_and_read_is_the_same_to_the_thousandth(ms: int) -> None:
    assert seconds(stamp(ms / 1000)) == pytest.approx(ms / 1000, abs=1e-6)


@given(st.lists(st.tuples(st.integers(0, 9000), st.integers(1, 9000), lines), max_size=6))
def test_captions_written_and_read_are_the_same(cues: list[tuple[int, int, str]]) -> None:
    given_cues = tuple(TimedText(start / 1000, (start + long) / 1000, text) for start, long, text in sorted(cues))
    assert read_vtt(vtt(given_cues)) == given_cues


@given(st.lists(words, min_size=1, max_size=30))
def test_wrapping_keeps_every_word_in_order_within_the_width(said: list[str]) -> None:
    broken = wrapped(" ".join(said))
    assert " ".join(broken).split() == said
    assert all(len(line) <= LINE_CHARACTERS for line in broken)


def test_lines_are_as_even_as_they_can_be() -> None:
    assert wrapped("Right heel forward, right foot together, left heel forward, left") == [
        "Right heel forward, right foot",
        "together, left heel forward, left",
    ]


def test_a_long_caption_is_shown_in_parts_of_two_lines_each_for_its_share_of_time() -> None:
    long = "right heel forward and together " * 6
    parts = read_vtt(captions_of(Lesson("t", 9.0, (), (), (Caption(1.0, 7.0, long),))))
    assert [len(part.words.splitlines()) <= LINES for part in parts] == [True] * len(parts)
    assert (parts[0].start_s, parts[-1].end_s) == (1.0, 7.0)
    assert " ".join(part.words for part in parts).split() == long.split()


def test_chapters_are_the_passages() -> None:
    assert [(c.start_s, c.words) for c in read_vtt(chapters_of(lesson()))] == [
        (0.0, "Chair and floor"),
        (2.0, "The whole dance"),
        (8.0, "Rest"),
    ]


def test_an_empty_caption_or_one_without_length_is_refused() -> None:
    for cue in (TimedText(0.0, 1.0, "  \n "), TimedText(1.0, 1.0, "heel"), TimedText(-1.0, 1.0, "heel")):
        with pytest.raises(ValueError, match="caption at"):
            vtt([cue])


def test_a_lesson_without_captions_is_a_file_with_nothing_but_its_head() -> None:
    assert read_vtt(captions_of(Lesson("t", 1.0, (), (), ()))) == ()
