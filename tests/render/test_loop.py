"""A section round and round: no seam, in time, as loud as every track."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from softshoe.errors import SettingError
from softshoe.fit.timeline import timeline
from softshoe.render.loop import loop_sound, seamless
from softshoe.render.loudness_meter import measure
from softshoe.render.voice import RATE_HZ, Spoken
from softshoe.teach.loop import section_loop
from teach.lessons import DANCES, adapted, laid

if TYPE_CHECKING:
    from softshoe.teach.lesson import Lesson

pytestmark = pytest.mark.media


class Toot:
    """A voice for tests: a tone of 300 ms whose vowel is 50 ms in."""

    name = "toot"

    def say(self, words: str, *, pace: float) -> Spoken:
        x = 0.3 * np.hanning(round(0.3 * RATE_HZ)) * np.sin(np.arange(round(0.3 * RATE_HZ)) * 0.1)
        return Spoken(x.astype(np.float32), 0.05)


def round_of(section: int, *, pace: float = 1.0, song: str = "plain") -> Lesson:
    dance = DANCES["Harbour Rope Hum"]
    run, made = laid(dance.title, song)  # type: ignore[arg-type]
    moments = timeline(dance, run, made)
    return section_loop(dance, adapted(dance, "seated"), run, moments, section=section, pace=pace)


@pytest.mark.parametrize("pace", [0.7, 1.0])
def test_a_round_lasts_as_long_as_its_counts_and_says_what_they_are(pace: float) -> None:
    lesson = round_of(2, pace=pace)
    assert lesson.length_s == pytest.approx(8 * 0.6 / pace)
    assert [beat.label for beat in lesson.passages[0].beats] == list("12345678")
    assert [cue.words for cue in lesson.cues if cue.voice == "count"] == ["three", "four", "seven", "eight"]
    assert lesson.song_start_s == pytest.approx(-(16 + 8) * 0.6 / pace)


@pytest.mark.parametrize("sound", ["groove", "song", "voice"])
def test_the_end_flows_into_the_beginning(sound: str) -> None:
    """Where two rounds meet nothing jumps more than it does anywhere else, and the level goes on."""
    t = np.arange(40 * RATE_HZ) / RATE_HZ
    song = np.tile((0.2 * np.sin(2 * np.pi * 220 * t)).astype(np.float32), (2, 1))
    x = loop_sound(round_of(1), song=(song, RATE_HZ), voice=Toot(), sound=sound, times=2)  # type: ignore[arg-type]
    size = round(round_of(1).length_s * RATE_HZ)
    assert x.shape == (2, 2 * size)
    assert np.array_equal(x[:, :size], x[:, size:])
    steps = np.abs(np.diff(x[0]))
    assert steps[size - 1] <= steps.max()
    around = np.abs(x[0, size - 2000 : size + 2000])
    assert steps[size - 200 : size + 200].max() <= 1.05 * max(steps[: size - 400].max(), around.max())
    assert measure(np.tile(x, 4), RATE_HZ).lufs == pytest.approx(-16.0, abs=0.5)


def test_a_song_is_cut_on_the_counts_without_a_click_at_the_seam() -> None:
    t = np.arange(40 * RATE_HZ) / RATE_HZ
    song = np.tile((0.2 * np.sin(2 * np.pi * 223.7 * t)).astype(np.float32), (2, 1))
    lesson = round_of(1)
    x = seamless((song, RATE_HZ), lesson, round(lesson.length_s * RATE_HZ))
    steps = np.abs(np.diff(np.concatenate([x[0], x[0]])))
    assert steps.max() <= 0.2 * 2 * np.pi * 223.7 / RATE_HZ * 1.2


def test_a_word_that_begins_before_the_first_beat_is_heard_at_the_end_of_the_round() -> None:
    x = loop_sound(round_of(1), song=None, voice=Toot(), sound="voice")
    before = round(0.04 * RATE_HZ)
    assert np.abs(x[0, -before:]).max() > 0.005


def test_a_section_that_is_not_there_is_said_with_those_that_are() -> None:
    with pytest.raises(SettingError, match="there is no section 7") as told:
        round_of(7)
    assert told.value.mend == "say a number from 1 to 4"
