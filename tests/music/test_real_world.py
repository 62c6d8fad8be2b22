"""Sound as it comes: any file, any rate, pieces of long mixes, the odd things that are no song."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

import av
import numpy as np
import pytest

from music.songs_made import CHORUS, VERSE, Part, Recipe, Song, common, made
from softshoe.errors import MusicError, SettingError
from softshoe.music.audio import RATE_HZ, Sound, heard
from softshoe.music.listen import listen
from softshoe.music.tempo_curve import tempo_words
from softshoe.music.why import counts_between

if TYPE_CHECKING:
    from pathlib import Path

pytestmark = pytest.mark.media


def clicks(bpm: float, *, seconds: float, rate_hz: int, first_s: float = 0.3) -> tuple[np.ndarray, np.ndarray]:
    """Return a metronome, shape (n,), and the seconds of its clicks."""
    beats = np.arange(first_s, seconds - 0.2, 60 / bpm)
    out = np.zeros(int(seconds * rate_hz), np.float32)
    t = np.arange(int(0.03 * rate_hz)) / rate_hz
    tick = (0.7 * np.sin(2 * np.pi * 1000 * t) * np.exp(-t / 0.006)).astype(np.float32)
    for beat in beats:
        i = round(beat * rate_hz)
        out[i : i + len(tick)] += tick[: len(out) - i]
    return out, beats


def write(path: Path, samples: np.ndarray, *, codec: str, rate_hz: int) -> Path:
    """Write samples, shape (channels, n)."""
    layout = "mono" if len(samples) == 1 else "stereo"
    with av.open(str(path), "w") as box:
        stream = box.add_stream(codec, rate=rate_hz)
        stream.layout = layout
        shape = av.AudioResampler(format=stream.codec_context.format or "fltp", layout=layout, rate=rate_hz)
        frame = av.AudioFrame.from_ndarray(np.ascontiguousarray(samples), format="fltp", layout=layout)
        frame.sample_rate = rate_hz
        for part in (*shape.resample(frame), *shape.resample(None)):
            box.mux(stream.encode(part))
        box.mux(stream.encode(None))
    return path


@pytest.mark.parametrize(("rate_hz", "channels"), [(8_000, 1), (22_050, 2), (48_000, 1), (96_000, 2), (192_000, 1)])
def test_a_recording_of_any_rate_is_heard_at_its_tempo(tmp_path: Path, rate_hz: int, channels: int) -> None:
    wave, beats = clicks(104, seconds=16, rate_hz=rate_hz)
    path = write(tmp_path / "clicks.wav", np.repeat(wave[None], channels, axis=0), codec="pcm_s16le", rate_hz=rate_hz)
    song = listen(heard(path))
    assert song.tempo_bpm == pytest.approx(104, rel=0.005)
    assert np.abs(np.array(song.beats_s)[:, None] - beats[None]).min(axis=1).max() < 0.012


METRONOMES = [(40, 2), (56, 2), (72, 1), (100, 1), (132, 1), (160, 1), (180, 0.5), (240, 0.5)]


@pytest.mark.parametrize(("bpm", "times"), METRONOMES)
def test_a_short_metronome_is_heard_at_its_own_tempo_or_at_the_one_people_step_to(bpm: int, times: float) -> None:
    wave, beats = clicks(bpm, seconds=24, rate_hz=RATE_HZ)
    song = listen(Sound(np.stack([wave, wave])))
    assert song.tempo_bpm == pytest.approx(times * bpm, rel=0.01)
    told = np.array(song.beats_s)
    away = np.abs(told[:, None] - beats[None]).min(axis=1)
    assert np.median(away[away < 0.2]) < 0.01


# The start of the file


@cache
def at_once() -> Song:
    parts = tuple(
        Part(beats, chords, lead=k > 0) for k, (beats, chords) in enumerate([(16, VERSE), (32, VERSE), (32, CHORUS)])
    )
    return made(Recipe(parts, bpm=92, style="country", silence_s=0.0))


@pytest.mark.parametrize("cut_s", [0.0, 0.03, 0.07])
def test_a_first_beat_that_the_file_s_start_cuts_into_is_counted(cut_s: float) -> None:
    samples = at_once().sound.samples[:, round(cut_s * RATE_HZ) :]
    song = listen(Sound(samples))
    assert counts_between(song, 0.0, song.first_count_s) % 8 == 0
    assert song.beats_s[0] < 0.06


def test_silence_before_the_song_adds_no_count() -> None:
    beat_s = 60 / 92
    samples = np.pad(at_once().sound.samples, ((0, 0), (round(beat_s * RATE_HZ), 0)))
    song = listen(Sound(samples))
    assert counts_between(song, 0.0, song.first_count_s) % 8 == 0
    assert song.beats_s[0] == pytest.approx(beat_s, abs=0.05)


def test_applause_after_the_song_does_not_move_its_end() -> None:
    song = at_once()
    rng = np.random.default_rng(0)
    claps = 0.08 * rng.standard_normal((2, 8 * RATE_HZ)) * np.linspace(1, 0, 8 * RATE_HZ)
    noisy = listen(Sound(np.concatenate([song.sound.samples, claps], axis=1).astype(np.float32)))
    assert noisy.end_s == pytest.approx(song.end, abs=2.5)


def test_two_songs_played_into_one_another_are_counted_each_at_its_own_tempo() -> None:
    one = made(Recipe(common(rounds=1), bpm=100, style="country", silence_s=0.3, tail_s=0.0))
    two = made(Recipe(common(rounds=1, intro=8), bpm=126, style="disco", silence_s=0.2))
    song = listen(Sound(np.concatenate([one.sound.samples, two.sound.samples], axis=1)))
    truth = np.concatenate([one.beats, two.beats + one.sound.seconds])
    found = np.abs(np.array(song.beats_s)[:, None] - truth[None]).min(axis=0) < 0.07
    assert found[: len(one.beats)].mean() > 0.95
    assert found[len(one.beats) :].mean() > 0.95
    assert "126" in tempo_words(song.tempo_curve)
    assert [f.kind for f in song.findings].count("medley") == 1


# Pieces of a longer recording


KINDS = [
    ("wav", "pcm_s16le", 44_100),
    ("ogg", "libopus", 48_000),
    ("mp3", "mp3", 44_100),
    ("m4a", "aac", 44_100),
    ("flac", "flac", 44_100),
]


@pytest.mark.parametrize(("ending", "codec", "rate_hz"), KINDS)
def test_a_piece_is_cut_to_the_sample_and_told_in_seconds_of_the_file(
    tmp_path: Path, ending: str, codec: str, rate_hz: int
) -> None:
    wave, beats = clicks(100, seconds=60, rate_hz=rate_hz)
    path = write(tmp_path / f"mix.{ending}", np.stack([wave, wave]), codec=codec, rate_hz=rate_hz)
    whole, piece = heard(path), heard(path, from_s=20.1, to_s=45.0)
    assert piece.seconds == pytest.approx(24.9, abs=0.01)
    assert piece.start_s == 20.1
    same = whole.samples[0, round(20.1 * RATE_HZ) :][: piece.samples.shape[1]]
    lag = np.correlate(same[:44_100], piece.samples[0, 300:43_800], "valid").argmax() - 300
    assert abs(lag) <= 30
    song = listen(piece)
    inside = beats[(beats > 20.2) & (beats < 44.2)]
    assert np.abs(np.array(song.beats_s)[:, None] - inside[None]).min(axis=0).max() < 0.03
    assert 20 <= song.first_count_s <= 45


def test_a_programme_of_hours_is_heard_a_piece_at_a_time(tmp_path: Path) -> None:
    wave, _ = clicks(100, seconds=20, rate_hz=8_000)
    long = np.tile(wave, 6 * 25)
    path = write(tmp_path / "mix.wav", long[None], codec="pcm_s16le", rate_hz=8_000)
    with pytest.raises(MusicError) as error:
        heard(path)
    assert "--from" in error.value.mend
    assert heard(path, from_s=1500.0, to_s=1520.0).seconds == pytest.approx(20, abs=0.01)
    with pytest.raises(MusicError):
        heard(path, from_s=100.0, to_s=2500.0)


@pytest.mark.parametrize(("from_s", "to_s"), [(-1.0, None), (5.0, 5.0), (9.0, 2.0), (500.0, None)])
def test_a_piece_that_can_t_be_is_refused_with_a_mend(tmp_path: Path, from_s: float, to_s: float | None) -> None:
    wave, _ = clicks(100, seconds=14, rate_hz=8_000)
    path = write(tmp_path / "short.wav", wave[None], codec="pcm_s16le", rate_hz=8_000)
    with pytest.raises(SettingError) as error:
        heard(path, from_s=from_s, to_s=to_s)
    assert error.value.mend
