"""A lesson's sound as a whole, and the file it becomes."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import av
import numpy as np
import pytest

from softshoe.errors import OutputError
from softshoe.render.groove import groove_notes
from softshoe.render.loudness_meter import measure
from softshoe.render.track import lesson_sound, music_of, pulses_of, song_part, style_of, write_track
from softshoe.render.voice import RATE_HZ, Spoken, WordBank
from softshoe.teach.lesson import Beat, Cue, Lesson, Passage

if TYPE_CHECKING:
    from pathlib import Path

pytestmark = pytest.mark.media

LENGTH_S = 12.0


class Toot:
    """A voice for tests: a tone of 300 ms whose vowel is 50 ms in."""

    name = "toot"

    def say(self, words: str, *, pace: float) -> Spoken:
        x = 0.3 * np.hanning(round(0.3 * RATE_HZ)) * np.sin(np.arange(round(0.3 * RATE_HZ)) * 0.1)
        return Spoken(x.astype(np.float32), 0.05)


def lesson(*, song_start_s: float | None = 2.0, pace: float = 0.8, labels: int = 8) -> Lesson:
    beats = tuple(Beat(4.0 + 0.75 * k, 0.75, str(k % labels + 1), "m") for k in range(8))
    cues = tuple(Cue(beat.at_s, 0.6, beat.label, "count") for beat in beats)
    passage = Passage("At tempo", 0.0, LENGTH_S, "seated", "mirror", (*beats, Beat(10.1, 0.3, "&", "m")))
    return Lesson("Practice", LENGTH_S, (passage,), cues, (), song_start_s, pace)


def clicks(rate_hz: int = RATE_HZ, *, channels: int = 2, length_s: float = 20.0) -> np.ndarray:
    x = np.zeros((channels, round(length_s * rate_hz)), np.float32)
    for at_s in range(1, round(length_s)):
        x[:, at_s * rate_hz : at_s * rate_hz + rate_hz // 100] = 0.5
    return x


def heard_clicks(x: np.ndarray) -> list[float]:
    loud = np.flatnonzero(np.abs(x).max(0) > 0.2)
    return [k / RATE_HZ for k in loud[np.diff(loud, prepend=-RATE_HZ) > RATE_HZ // 4]]


def test_the_song_lies_where_the_lesson_says_at_its_pace() -> None:
    """Lesson second t is song second (t - start) * pace."""
    x = song_part((clicks(), RATE_HZ), start_s=2.0, pace=0.8, length_s=LENGTH_S)
    assert heard_clicks(x) == pytest.approx([2.0 + k / 0.8 for k in range(1, 8)], abs=0.006)


def test_a_song_that_began_before_the_lesson_is_cut_into() -> None:
    x = song_part((clicks(), RATE_HZ), start_s=-3.0, pace=0.8, length_s=6.0)
    assert heard_clicks(x) == pytest.approx([-3.0 + k / 0.8 for k in range(3, 7)], abs=0.006)


def test_a_song_of_another_rate_or_one_channel_is_heard_alike() -> None:
    x = song_part((clicks(22_050, channels=1), 22_050), start_s=2.0, pace=1.0, length_s=LENGTH_S)
    assert x.shape == (2, round(LENGTH_S * RATE_HZ))
    assert heard_clicks(x) == pytest.approx([2.0 + k for k in range(1, 10)], abs=0.006)


def test_a_song_cut_by_the_end_of_the_lesson_fades_and_a_shorter_song_ends_by_itself() -> None:
    long = song_part((np.full((2, 30 * RATE_HZ), 0.2, np.float32), RATE_HZ), start_s=0.0, pace=1.0, length_s=10.0)
    assert np.abs(long[:, -400:]).max() < 0.01
    short = song_part((np.full((2, 3 * RATE_HZ), 0.2, np.float32), RATE_HZ), start_s=1.0, pace=1.0, length_s=10.0)
    assert np.abs(short[:, 4 * RATE_HZ + 10 :]).max() == 0.0
    assert short[0, 4 * RATE_HZ - 5] == pytest.approx(0.2)


@pytest.mark.parametrize("start_s", [11.99, 12.0, 40.0, -60.0])
def test_a_song_outside_the_lesson_is_silence(start_s: float) -> None:
    x = song_part((clicks(), RATE_HZ), start_s=start_s, pace=0.8, length_s=LENGTH_S)
    assert x.shape == (2, round(LENGTH_S * RATE_HZ))
    assert not heard_clicks(x)


@pytest.mark.parametrize("sound", ["song", "groove", "voice"])
def test_every_kind_of_sound_is_as_long_as_the_lesson_and_as_loud_as_the_rest(sound: str) -> None:
    x = lesson_sound(lesson(), song=(clicks(), RATE_HZ), voice=Toot(), sound=sound)  # type: ignore[arg-type]
    assert x.shape == (2, round(LENGTH_S * RATE_HZ))
    assert x.dtype == np.float32
    now = measure(x, RATE_HZ)
    assert now.lufs == pytest.approx(-16.0, abs=0.5)
    assert now.peak_dbtp <= -1.0


def test_the_plain_rhythm_plays_when_asked_or_when_there_is_no_song() -> None:
    song = (clicks(), RATE_HZ)
    rhythm = music_of(lesson(), song=song, sound="groove")
    assert np.any(rhythm)
    assert np.array_equal(rhythm, music_of(lesson(), song=None, sound="song"))
    assert not np.any(rhythm[:, : round(3.99 * RATE_HZ)] > 1e-6)


def test_nothing_plays_under_the_voice_when_only_the_voice_is_asked_or_the_lesson_rests_the_song() -> None:
    song = (clicks(), RATE_HZ)
    assert not np.any(music_of(lesson(), song=song, sound="voice"))
    assert not np.any(music_of(lesson(song_start_s=None), song=song, sound="song"))


def test_the_rhythm_leaves_out_half_counts_and_knows_a_waltz_by_its_numbers() -> None:
    assert [pulse.number for pulse in pulses_of(lesson())] == [1, 2, 3, 4, 5, 6, 7, 8]
    assert style_of(pulses_of(lesson())) == "straight"
    assert style_of(pulses_of(lesson(labels=6))) == "waltz"
    assert style_of([]) == "straight"


def test_without_a_voice_the_counts_tick() -> None:
    x = lesson_sound(lesson(), song=None, voice=None, sound="voice")
    first = np.flatnonzero(np.abs(x[0]) > 0.05)[0] / RATE_HZ
    assert first == pytest.approx(4.0, abs=0.003)


def test_a_word_bank_says_its_words_once_for_all_lessons() -> None:
    bank = WordBank(Toot())
    lesson_sound(lesson(), song=None, voice=bank, sound="voice")
    said = dict(bank._said)
    lesson_sound(lesson(), song=None, voice=bank, sound="voice")
    assert all(bank._said[key] is said[key] for key in said)


def test_a_lesson_of_nothing_is_silence() -> None:
    empty = Lesson("Rest", 2.0, (), (), ())
    assert not np.any(lesson_sound(empty, song=None, voice=Toot(), sound="song"))


def test_a_track_keeps_its_title_chapters_and_time(tmp_path: Path) -> None:
    path = tmp_path / "practice.mp3"
    x = lesson_sound(lesson(), song=None, voice=Toot(), sound="groove")
    write_track(x, RATE_HZ, path, title="Practice at 80 %", chapters=[(0.0, "Count-in"), (4.0, "Wall 1")])
    with av.open(str(path)) as box:
        assert box.metadata["title"] == "Practice at 80 %"
        marks = [(c["start"], c["metadata"]["title"]) for c in box.chapters()]
        back = np.concatenate([f.to_ndarray() for f in box.decode(audio=0)], axis=1)
    assert marks == [(0, "Count-in"), (4000, "Wall 1")]
    assert back.shape == x.shape
    n = min(back.shape[1], x.shape[1])
    alike = np.fft.irfft(np.fft.rfft(back[0, :n]) * np.conj(np.fft.rfft(x[0, :n])))
    assert np.argmax(alike) < 45
    now = measure(back, RATE_HZ)
    assert now.lufs == pytest.approx(-16.0, abs=0.3)
    assert now.peak_dbtp <= -1.0
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize("ending", [".wav", ".flac"])
def test_a_track_kept_without_loss_comes_back_sample_for_sample(tmp_path: Path, ending: str) -> None:
    path = tmp_path / f"track{ending}"
    x = lesson_sound(lesson(), song=None, voice=None, sound="groove")
    write_track(x, RATE_HZ, path, title="Groove")
    with av.open(str(path)) as box:
        back = np.concatenate([f.to_ndarray().reshape(-1, 2) for f in box.decode(audio=0)]).T
    assert back.shape == x.shape
    assert np.abs(back / 32767 - x).max() < 1 / 32000


@pytest.mark.parametrize("place", ["missing/track.mp3", "track.tune"])
def test_a_track_that_cannot_be_written_leaves_nothing_and_says_why(tmp_path: Path, place: str) -> None:
    with pytest.raises(OutputError):
        write_track(np.zeros((2, 4410), np.float32), RATE_HZ, tmp_path / place, title="x")
    assert not list(tmp_path.iterdir())


def test_the_rhythm_swings_where_the_song_does() -> None:
    """Between two counts the shaker falls on the song's own "&"."""
    pulses = pulses_of(lesson())
    shaken = [note.at_s for note in groove_notes(pulses, style="straight", swing=2 / 3) if note.instrument == "shaker"]
    assert shaken == pytest.approx([pulse.at_s + 2 / 3 * pulse.step_s for pulse in pulses])
    swinging = music_of(replace(lesson(), swing=2 / 3), song=None, sound="groove")
    assert not np.array_equal(swinging, music_of(lesson(), song=None, sound="groove"))
