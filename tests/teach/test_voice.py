from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from softshoe.teach.lesson import Cue
from softshoe.teach.voice import (
    CAPTION_LEAST_S,
    LINE_CHARS,
    ONSET_S,
    Wanted,
    captions_of,
    fitting,
    one_at_a_time,
    two_lines,
)

WANTED = st.builds(
    Wanted,
    at_s=st.floats(0.2, 60),
    room_s=st.floats(0.1, 4),
    words=st.sampled_from(["one", "heel, home", "tag next, four counts"]),
    voice=st.sampled_from(["count", "cue", "remark"]),
    rank=st.integers(0, 5),
)


@given(st.lists(WANTED, max_size=30))
def test_two_voices_never_sound_together(wanted: list[Wanted]) -> None:
    cues = one_at_a_time(wanted)
    for before, after in pairwise(cues):
        begins_s = after.at_s if after.voice == "remark" else after.at_s - ONSET_S
        assert begins_s >= before.at_s + before.room_s


@given(st.lists(WANTED, min_size=1, max_size=30))
def test_what_matters_most_is_always_said(wanted: list[Wanted]) -> None:
    first = min(wanted, key=lambda w: (w.rank, w.at_s))
    assert Cue(first.at_s, first.room_s, first.words, first.voice) in one_at_a_time(wanted)


@given(st.lists(WANTED, max_size=30))
def test_captions_are_long_enough_to_read_and_follow_one_another(wanted: list[Wanted]) -> None:
    captions = captions_of(one_at_a_time(wanted), length_s=70.0)
    for caption in captions:
        assert caption.end_s - caption.start_s >= CAPTION_LEAST_S
    for before, after in pairwise(captions):
        assert after.start_s >= before.end_s - 1e-9


@given(st.lists(st.text("abcdefgh", min_size=1, max_size=12), min_size=1, max_size=14))
def test_a_caption_has_at_most_two_lines_of_42(words: list[str]) -> None:
    lines = two_lines(" ".join(words)).split("\n")
    assert len(lines) <= 2
    assert all(len(line) <= LINE_CHARS for line in lines)


def test_counts_of_one_breath_stand_on_one_caption() -> None:
    cues = [Cue(0.6 * n, 0.45, word, "count") for n, word in enumerate(("five", "six", "seven", "eight"), start=1)]
    (caption,) = captions_of(cues, length_s=10.0)
    assert caption.words == "5, 6, 7, 8"
    assert caption.end_s > 0.6 * 4


def test_a_call_too_long_for_its_room_keeps_its_first_things() -> None:
    assert fitting("roll, pat, clap", 3.0) == "roll, pat, clap"
    assert fitting("roll, pat, clap", 0.2) == "roll"


def test_music_is_announced_where_nothing_is_said_yet() -> None:
    captions = captions_of([Cue(8.0, 1.0, "heels", "cue")], length_s=20.0, music_s=0.0)
    assert [caption.words for caption in captions] == ["[music starts]", "heels"]


def test_a_caption_begins_where_its_first_word_is_heard_earlier_for_a_hiss_and_later_for_a_vowel() -> None:
    starts = [
        captions_of([Cue(5.0, 1.5, words, "cue")], length_s=20.0)[0].start_s
        for words in ("step right", "heel right", "arms down", "and step")
    ]
    assert starts == pytest.approx([4.86, 4.925, 4.98, 4.76])
