"""Reading sound files, good and bad; every file is made here."""

from __future__ import annotations

import struct
import wave
from pathlib import Path

import av
import numpy as np
import pytest

from softshoe.errors import MusicError
from softshoe.music.audio import heard

RATE = 44_100
CODECS = {"mp3": "mp3", "ogg": "libopus", "flac": "flac", "wav": "pcm_s16le", "m4a": "aac", "opus": "libopus"}


def tone(seconds: float, *, rate: int = RATE) -> np.ndarray:
    t = np.arange(int(seconds * rate)) / rate
    both = np.stack([0.3 * np.sin(2 * np.pi * 440 * t), 0.2 * np.sin(2 * np.pi * 660 * t)])
    return both.astype(np.float32)


def write(path: Path, samples: np.ndarray, *, codec: str, rate: int = RATE) -> Path:
    with av.open(str(path), "w") as box:
        stream = box.add_stream(codec, rate=rate)
        stream.layout = "stereo"
        shape = av.AudioResampler(format=stream.codec_context.format or "fltp", layout="stereo", rate=rate)
        frame = av.AudioFrame.from_ndarray(np.ascontiguousarray(samples), format="fltp", layout="stereo")
        frame.sample_rate = rate
        for part in (*shape.resample(frame), *shape.resample(None)):
            box.mux(stream.encode(part))
        box.mux(stream.encode(None))
    return path


def float_wav(path: Path, samples: np.ndarray) -> Path:
    """Write 32-bit float WAV by hand, so that any value can be put in."""
    data = samples.T.astype("<f4").tobytes()
    head = struct.pack("<4sI4s4sIHHIIHH4sI", b"RIFF", 36 + len(data), b"WAVE", b"fmt ", 16, 3, len(samples), RATE,
                       RATE * 4 * len(samples), 4 * len(samples), 32, b"data", len(data))  # fmt: skip
    path.write_bytes(head + data)
    return path


@pytest.mark.parametrize("ending", sorted(CODECS))
def test_every_usual_kind_of_file_is_read(tmp_path: Path, ending: str) -> None:
    rate = 48_000 if CODECS[ending] == "libopus" else RATE
    sound = heard(write(tmp_path / f"söng of mine.{ending}", tone(2, rate=rate), codec=CODECS[ending], rate=rate))
    assert sound.samples.dtype == np.float32
    assert sound.rate_hz == RATE
    assert sound.seconds == pytest.approx(2, abs=0.06)
    assert sound.damaged_packets == 0
    assert np.sqrt(np.mean(sound.samples[0] ** 2)) == pytest.approx(0.3 / np.sqrt(2), rel=0.05)


def refused(path: Path) -> MusicError:
    with pytest.raises(MusicError) as error:
        heard(path)
    assert all((error.value.where, error.value.what, error.value.why, error.value.mend))
    return error.value


def test_what_is_no_song_is_refused_in_plain_words(tmp_path: Path) -> None:
    (tmp_path / "empty.mp3").write_bytes(b"")
    (tmp_path / "words.mp3").write_text("Dear Ann, the hall is booked for nine.\n" * 50)
    (tmp_path / "bytes.mp3").write_bytes(np.random.default_rng(1).bytes(20_000))
    for name, what in (("empty.mp3", "empty"), ("words.mp3", ""), ("bytes.mp3", ""), ("none.mp3", "no such file")):
        assert what in refused(tmp_path / name).what
    assert "folder" in refused(tmp_path).what


def test_a_picture_and_a_film_without_sound_hold_no_sound(tmp_path: Path) -> None:
    for name, codec in (("picture.jpg", "mjpeg"), ("film.mp4", "mpeg4")):
        with av.open(str(tmp_path / name), "w", format="image2" if name.endswith("jpg") else None) as box:
            stream = box.add_stream(codec, rate=25)
            stream.width = stream.height = 64
            stream.pix_fmt = "yuvj420p" if codec == "mjpeg" else "yuv420p"
            frame = av.VideoFrame.from_ndarray(np.zeros((64, 64, 3), np.uint8), format="rgb24")
            box.mux(stream.encode(frame.reformat(format=stream.pix_fmt)))
            box.mux(stream.encode(None))
    song = (tmp_path / "picture.jpg").rename(tmp_path / "song.mp3")
    for path in (song, tmp_path / "film.mp4"):
        assert refused(path).mend


def test_a_file_cut_short_is_read_as_far_as_it_goes(tmp_path: Path) -> None:
    for ending in ("mp3", "ogg", "flac", "wav"):
        rate = 48_000 if CODECS[ending] == "libopus" else RATE
        whole = write(tmp_path / f"whole.{ending}", tone(6, rate=rate), codec=CODECS[ending], rate=rate)
        cut = tmp_path / f"cut.{ending}"
        cut.write_bytes(whole.read_bytes()[: whole.stat().st_size // 2])
        assert 1 < heard(cut).seconds < 5.5


def test_a_programme_of_hours_is_refused_without_being_decoded(tmp_path: Path) -> None:
    path = tmp_path / "long.wav"
    with wave.open(str(path), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(1)
        file.setframerate(8000)
        file.writeframes(b"\x80" * 8000 * 60 * 30)
    assert "longer than 20 minutes" in refused(path).what


def test_a_list_of_other_files_is_not_followed(tmp_path: Path) -> None:
    write(tmp_path / "real.mp3", tone(2), codec="mp3")
    (tmp_path / "list.mp3").write_text("#EXTM3U\n#EXT-X-TARGETDURATION:2\n#EXTINF:2,\nreal.mp3\n#EXT-X-ENDLIST\n")
    (tmp_path / "list.m3u8").write_bytes((tmp_path / "list.mp3").read_bytes())
    for name in ("list.mp3", "list.m3u8"):
        assert refused(tmp_path / name).where == name


def test_samples_that_are_no_numbers_are_mended_when_few_and_refused_when_many(tmp_path: Path) -> None:
    samples = tone(2)
    samples[:, 1000:1010] = np.nan
    samples[0, 2000] = np.inf
    sound = heard(float_wav(tmp_path / "few.wav", samples))
    assert np.isfinite(sound.samples).all()
    assert [finding.kind for finding in sound.findings] == ["damaged-sound"]
    samples[:, :40_000] = np.nan
    assert "damaged" in refused(float_wav(tmp_path / "many.wav", samples)).what


def test_a_peak_of_over_12_db_is_damage(tmp_path: Path) -> None:
    samples = tone(2)
    samples[0, 5000] = 30_000
    assert "damaged" in refused(float_wav(tmp_path / "loud.wav", samples)).what


def test_six_channels_are_mixed_without_going_over(tmp_path: Path) -> None:
    t = np.arange(2 * RATE) / RATE
    samples = np.repeat(0.95 * np.sin(2 * np.pi * 100 * t)[None], 6, axis=0)
    assert np.abs(heard(float_wav(tmp_path / "six.wav", samples)).samples).max() <= 1.0


def test_a_file_that_may_not_be_read_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = write(tmp_path / "mine.wav", tone(1), codec="pcm_s16le")

    def closed(*_: object, **__: object) -> None:
        raise PermissionError

    monkeypatch.setattr(Path, "open", closed)
    assert "may not be read" in refused(path).what


def test_one_channel_at_another_rate_is_the_mean_of_both(tmp_path: Path) -> None:
    sound = heard(write(tmp_path / "tone.wav", tone(2), codec="pcm_s16le"))
    mono = sound.mono(22_050)
    assert mono.shape == (44_100,)
    assert np.sqrt(np.mean(mono**2)) == pytest.approx(np.sqrt((0.15**2 + 0.1**2) / 2), rel=0.02)
