"""What is heard: words on the beat, speech clear of the music, one loudness, slow songs in time."""

from __future__ import annotations

import numpy as np
import pytest

from softshoe.errors import SettingError
from softshoe.render.loudness import cell_peaks, levelled, limit
from softshoe.render.loudness_meter import integrated_lufs, measure
from softshoe.render.mix import duck, speech_over, ticks_over
from softshoe.render.sound import onset_s, speech, ticks
from softshoe.render.stretch import slowed
from softshoe.render.voice import RATE_HZ, HibariVoice, Spoken, WordBank
from softshoe.render.voice_aligner import aligned_vowel_s
from softshoe.teach.lesson import Cue

NUMBERS = ("one", "two", "three", "four", "five", "six", "seven", "eight")

pytestmark = pytest.mark.media


class Toot:
    """A voice for tests: a quiet breath of 80 ms, then a loud tone, its "vowel", of a quarter of a second."""

    name = "toot"

    def say(self, words: str, *, pace: float) -> Spoken:
        t = np.arange(round(0.33 * RATE_HZ)) / RATE_HZ
        x = np.sin(2 * np.pi * 700 * t) * np.where(t < 0.08, 0.02, 0.4)
        return Spoken(x.astype(np.float32), 0.08)


def noise(length_s: float, *, rms: float = 0.1) -> np.ndarray:
    rng = np.random.default_rng(3)
    return (rms * rng.standard_normal((2, round(length_s * RATE_HZ)))).astype(np.float32)


def counts(first_s: float, step_s: float, size: int) -> list[Cue]:
    return [Cue(first_s + k * step_s, 0.9 * step_s, NUMBERS[k % 8], "count") for k in range(size)]


def test_the_vowels_of_spoken_counts_fall_on_the_beat() -> None:
    """Measured on the track by a recogniser (steps of 10 ms, itself good to some 20 ms). "eight" is left out: the
    recogniser counts the silence before a first vowel to it; test_voice holds it to begin on its vowel."""
    cues = [cue for cue in counts(1.0, 1.0, 8) if cue.words != "eight"]
    said = speech(cues, WordBank(HibariVoice()), length_s=10.0)
    off_ms = []
    for cue in cues:
        start = round((cue.at_s - 0.45) * RATE_HZ)
        piece = said.samples[start : start + round(0.95 * RATE_HZ)]
        off_ms.append(1000 * ((aligned_vowel_s(piece, RATE_HZ, cue.words) or 0.0) - 0.45))
    assert np.max(np.abs(off_ms)) <= 40
    assert abs(np.median(off_ms)) <= 20


def test_a_count_is_laid_by_its_vowel_and_a_remark_by_its_start() -> None:
    count, remark = Cue(2.0, 0.5, "one", "count"), Cue(4.0, 0.5, "now rest", "remark")
    out = speech([count, remark], WordBank(Toot()), length_s=6.0).samples
    loud = np.flatnonzero(np.abs(out) > 0.1) / RATE_HZ
    assert loud[0] == pytest.approx(2.0, abs=0.001)
    assert onset_s(remark, Toot().say("x", pace=1.0)) == 4.0
    assert loud[loud > 3.0][0] == pytest.approx(4.08, abs=0.001)


def test_a_count_too_near_the_start_keeps_its_vowel_and_loses_its_breath() -> None:
    out = speech([Cue(0.02, 0.5, "one", "count")], WordBank(Toot()), length_s=1.0).samples
    assert np.flatnonzero(np.abs(out) > 0.1)[0] / RATE_HZ == pytest.approx(0.02, abs=0.001)
    assert out[0] == 0.0


def test_no_cues_are_silence_and_a_cue_past_the_end_is_cut() -> None:
    assert not speech([], WordBank(Toot()), length_s=1.0).samples.any()
    assert len(speech([Cue(0.9, 1.0, "one", "count")], WordBank(Toot()), length_s=1.0).samples) == RATE_HZ


def test_without_a_voice_only_counts_tick() -> None:
    tick = ticks([*counts(1.0, 0.5, 2), Cue(3.0, 1.0, "vine right", "cue")], length_s=4.0)
    assert not np.any(tick[round(2.9 * RATE_HZ) :])
    heard = np.flatnonzero(np.abs(tick) > 0.1) / RATE_HZ
    assert heard[np.diff(heard, prepend=0.0) > 0.2] == pytest.approx([1.0, 1.5], abs=0.003)


def test_ticks_stand_out_of_the_music_and_leave_it_as_it_was() -> None:
    music = noise(8.0, rms=0.05)
    before = music.copy()
    ticks_over(music, ticks(counts(1.0, 0.5, 12), length_s=8.0), RATE_HZ)
    assert np.array_equal(music[:, :RATE_HZ], before[:, :RATE_HZ])
    here = slice(round(1.0 * RATE_HZ), round(1.06 * RATE_HZ))
    tick_db = 20 * np.log10(np.sqrt(np.mean((music - before)[:, here] ** 2) / np.mean(before[:, here] ** 2)))
    assert 0 < tick_db < 8


@pytest.mark.parametrize("swell", [1.0, 3.0])
def test_speech_is_at_least_ten_above_the_music_wherever_it_is_heard(swell: float) -> None:
    """Also where the music swells while somebody speaks (print and screen: speech over music, at least 10 LU)."""
    music = noise(24.0)
    music[:, 12 * RATE_HZ :] *= swell
    said = speech(counts(4.0, 0.6, 8) + counts(14.0, 0.6, 8), WordBank(Toot()), length_s=24.0)
    alone = music.copy()
    speech_over(music, said.samples, RATE_HZ, spoken=said.spoken)
    under = music - said.samples
    for start_s in (4.0, 14.0):
        here = slice(round((start_s - 0.1) * RATE_HZ), round((start_s + 4.6) * RATE_HZ))
        speech_lufs = integrated_lufs(np.stack([said.samples[here]] * 2), RATE_HZ)
        assert speech_lufs - integrated_lufs(np.ascontiguousarray(under[:, here]), RATE_HZ) >= 10.0
    assert integrated_lufs(under[:, : 2 * RATE_HZ], RATE_HZ) > integrated_lufs(
        under[:, 5 * RATE_HZ : 7 * RATE_HZ], RATE_HZ
    )
    assert alone.shape == music.shape


@pytest.mark.parametrize(("step_s", "size"), [(0.6, 8), (1.2, 8), (3.2, 3)])
def test_the_music_steps_back_smoothly_and_does_not_pump_between_words(step_s: float, size: int) -> None:
    tone = 0.1 * np.sin(np.arange(24 * RATE_HZ) * 0.1)
    music = np.stack([tone, tone]).astype(np.float32)
    spoken = [(8.0 + step_s * k, 8.35 + step_s * k) for k in range(size)]
    duck(music, RATE_HZ, speech_lufs=-20.0, spoken=spoken)
    cell = RATE_HZ // 20
    level_db = 20 * np.log10(np.sqrt(np.mean(music[0, : 479 * cell].reshape(-1, cell) ** 2, axis=1)))
    assert np.abs(np.diff(level_db[10:470])).max() < 2.0
    during = level_db[160 : 160 + round((size - 1) * step_s * 20)]
    assert during.max() - during.min() < 0.5
    assert level_db[60] - during.mean() == pytest.approx(6.5, abs=1.0)
    assert level_db[440] == pytest.approx(level_db[60], abs=0.3)


def test_music_alone_keeps_its_balance() -> None:
    music = noise(3.0)
    before = music.copy()
    speech_over(music, np.zeros(3 * RATE_HZ, np.float32), RATE_HZ, spoken=())
    assert np.array_equal(music, before)


@pytest.mark.parametrize("rms", [0.001, 0.1, 0.5])
def test_a_track_is_set_to_minus_sixteen_with_peaks_under_minus_one(rms: float) -> None:
    now = measure(levelled(noise(6.0, rms=rms), RATE_HZ), RATE_HZ)
    assert now.lufs == pytest.approx(-16.0, abs=0.5)
    assert now.peak_dbtp <= -1.0


def test_sharp_hits_over_soft_music_are_caught_without_losing_loudness() -> None:
    x = noise(8.0, rms=0.02)
    for k in range(1, 15):
        x[:, k * RATE_HZ // 2 : k * RATE_HZ // 2 + 60] = 0.9
    set_to = measure(levelled(x, RATE_HZ), RATE_HZ)
    assert set_to.lufs == pytest.approx(-16.0, abs=0.5)
    assert set_to.peak_dbtp <= -1.0


@pytest.mark.parametrize("rms", [0.05, 0.3])
def test_the_peaks_that_the_limiter_sees_are_the_meters(rms: float) -> None:
    """Within 0.1 dB of FFmpeg's true peak, wherever the samples come near the ceiling."""
    x = noise(2.03, rms=rms)
    x[:, RATE_HZ : RATE_HZ + 50] *= 3
    peak_db = 20 * np.log10(cell_peaks(x, RATE_HZ, float(np.abs(x).max())).max())
    assert peak_db == pytest.approx(measure(x, RATE_HZ).peak_dbtp, abs=0.1)


def test_the_limiter_leaves_alone_what_is_under_the_ceiling() -> None:
    x = noise(3.0, rms=0.05)
    x[:, RATE_HZ : RATE_HZ + 50] = 0.99
    before = x.copy()
    limit(x, RATE_HZ, ceiling_db=-3.0)
    far = slice(round(1.5 * RATE_HZ), None)
    assert np.array_equal(x[:, far], before[:, far])
    assert np.abs(x).max() < 0.75


@pytest.mark.parametrize("pace", [0.7, 0.85])
def test_clicks_of_a_slowed_song_come_when_they_should(pace: float) -> None:
    """Within 2 ms at every click, without drift (the engine's own figure is 0.6 ms)."""
    clicks = np.arange(1.0, 19.5, 0.75)
    x = np.zeros((2, 20 * RATE_HZ), np.float32)
    burst = np.exp(-np.arange(400) / 60) * np.sin(np.arange(400) * 0.6)
    for at_s in clicks:
        x[:, round(at_s * RATE_HZ) : round(at_s * RATE_HZ) + 400] = burst.astype(np.float32)
    y = slowed(x, RATE_HZ, pace=pace)
    assert y.shape[1] == pytest.approx(x.shape[1] / pace, abs=RATE_HZ // 1000)
    middle = float((np.arange(400) * burst**2).sum() / (burst**2).sum())
    for at_s in clicks:
        k = round(at_s / pace * RATE_HZ)
        power = y[0, k - 2205 : k + 2205].astype(np.float64) ** 2
        assert abs((np.arange(4410) * power).sum() / power.sum() - 2205 - middle) < 0.002 * RATE_HZ


def test_a_slowed_song_keeps_its_pitch() -> None:
    t = np.arange(4 * RATE_HZ) / RATE_HZ
    x = np.stack([np.sin(2 * np.pi * 440 * t)] * 2).astype(np.float32)
    y = slowed(x, RATE_HZ, pace=0.7)[0, RATE_HZ : 4 * RATE_HZ]
    hz = np.fft.rfftfreq(len(y), 1 / RATE_HZ)[np.argmax(np.abs(np.fft.rfft(y * np.hanning(len(y)))))]
    assert hz == pytest.approx(440, abs=0.5)


def test_full_speed_changes_nothing_and_a_wild_pace_is_refused() -> None:
    x = noise(0.5)
    assert slowed(x, RATE_HZ, pace=1.0) is x
    with pytest.raises(SettingError, match="5 % of its speed"):
        slowed(x, RATE_HZ, pace=0.05)
