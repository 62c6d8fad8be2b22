"""``softshoe listen``: the leader's word, pieces of a mix, taps on the keyboard, and the picture."""

from __future__ import annotations

import io
import json
from typing import TYPE_CHECKING

import pytest

from cli.conftest import Softshoe  # noqa: TC001
from music.songs_made import click_track
from softshoe.cli.tapping import Tapped, in_a_row
from softshoe.errors import SettingError
from softshoe.music.songmap import Said

if TYPE_CHECKING:
    from pathlib import Path

pytestmark = pytest.mark.media


@pytest.fixture
def clicks(tmp_path: Path) -> Path:
    import wave

    sound, _ = click_track(bpm=120, seconds=24)
    path = tmp_path / "tin clicks.wav"
    with wave.open(str(path), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(44_100)
        file.writeframes((sound.samples[0] * 32_000).astype("<i2").tobytes())
    return path


def test_half_and_double_count_the_song_at_another_speed_without_hearing_it_again(
    softshoe: Softshoe, clicks: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    plain = softshoe("listen", clicks, "--json")
    assert json.loads(plain.out)["tempo"] == pytest.approx(120, rel=0.005)
    monkeypatch.setattr("softshoe.music.audio.heard", lambda *_, **__: pytest.fail("heard again"))
    half = softshoe("listen", clicks, "--half", "--json")
    assert json.loads(half.out)["tempo"] == pytest.approx(60, rel=0.005)
    assert json.loads(half.out)["said"]["tempo"] == pytest.approx(60, rel=0.005)


def test_moments_may_be_minutes_and_seconds(softshoe: Softshoe, clicks: Path) -> None:
    told = json.loads(softshoe("listen", clicks, "--first-count", "0:08.3", "--one", "0:12.3", "--json").out)
    assert told["first_count"] == pytest.approx(8.3)
    assert any(abs(eight - 12.3) < 0.05 for eight in told["eights"])
    assert softshoe("listen", clicks, "--one", "soon").code == 2


def test_a_piece_is_told_in_seconds_of_the_file(softshoe: Softshoe, clicks: Path) -> None:
    told = json.loads(softshoe("listen", clicks, "--from", "6", "--to", "0:21", "--json").out)
    assert 6 <= told["beats"][0] < 7
    assert told["end"] <= 21.01
    assert softshoe("listen", clicks, "--from", "20", "--to", "6").code == 2


def test_the_song_is_drawn_and_the_file_named(softshoe: Softshoe, clicks: Path, tmp_path: Path) -> None:
    answer = softshoe("listen", clicks, "--picture", tmp_path / "song.svg")
    assert answer.code == 0
    assert "written:" in answer.out
    assert "<desc>" in (tmp_path / "song.svg").read_text("utf-8")
    refused = softshoe("listen", clicks, "--picture", tmp_path / "song.gif")
    assert refused.code == 2
    assert ".svg" in refused.err


def test_two_words_about_the_tempo_are_one_too_many(softshoe: Softshoe, clicks: Path) -> None:
    assert softshoe("listen", clicks, "--half", "--double").code == 2


def test_taps_without_the_song_s_start_give_the_tempo_alone_without_those_before_a_pause() -> None:
    steady = [10 + 0.55 * k for k in range(16)]
    told = Tapped((1.0, 1.2, *steady)).said(Said())
    assert told.tempo_bpm == pytest.approx(60 / 0.55, abs=0.1)
    assert told.taps_s == ()
    with pytest.raises(SettingError):
        in_a_row((0.0, 0.5, 1.0))


def test_taps_after_the_song_s_start_say_where_the_beats_and_the_ones_are(
    softshoe: Softshoe, clicks: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    plain = json.loads(softshoe("listen", clicks, "--json").out)["beats"]
    late = [beat + 0.25 + 0.05 for beat in plain[4:24]]  # she counts between the clicks, and her hand is late
    presses = iter([100.0, *(100 + tap for tap in late), 200.0])
    monkeypatch.setattr("softshoe.cli.tapping.time.monotonic", lambda: next(presses))
    monkeypatch.setattr("sys.stdin", io.StringIO("s\n" + "\n" * 5 + "1\n" + "\n" * 14 + "q\n"))
    told = json.loads(softshoe("listen", clicks, "--tap-here", "--json").out)
    away = [min(abs(beat - (click + 0.25)) for click in plain) for beat in told["beats"][6:20]]
    assert max(away) < 0.1
    assert min(abs(eight - plain[9] - 0.25) for eight in told["eights"]) < 0.1
    assert told["confidence"]["beats"] == 1


def test_too_few_taps_are_told_with_a_mend(softshoe: Softshoe, clicks: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO("\n\n\nq\n"))
    answer = softshoe("listen", clicks, "--tap-here")
    assert answer.code == 2
    assert "tap again" in answer.err
