"""The main job from the command line: a whole folder, kept and redone by content; broken input loses nothing."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from typing import TYPE_CHECKING

import av
import numpy as np
import pytest

from softshoe.render.demo_song import demo_song
from softshoe.render.track_file import write_track

from .songs_broken import NO_SONGS, noise, speech

if TYPE_CHECKING:
    from pathlib import Path

    from .conftest import Softshoe

ALL = {
    "index.html", "sheet.pdf", "sheet-large.pdf", "sheet-giant.pdf", "sheet.brf", "floor.pdf",
    "leader.pdf", "everyone.pdf", "everyone-large.pdf", "everyone-giant.pdf", "pictures.pdf", "run.pdf",
    "sheet.html", "sheet.txt", "report.html",
    "walkthrough.mp4", "walkthrough.vtt", "walkthrough-chapters.vtt",
    "dance-seated.mp4", "dance-seated.vtt", "dance-seated-chapters.vtt",
    "practice-70.mp3", "practice-85.mp3", "practice-100.mp3", "practice-100-no-voice.mp3",
    "dance.json", "song.json", "run.json", "lesson.json", "lesson.txt",
}  # fmt: skip

WALTZ = """Reed Bed Waltz
12 counts, 1 wall, beginner
1-3 Step left forward, step right together, step left in place
4-6 Step right back, step left together, step right in place
7-9 Step left forward, step right together, step left in place
10-12 Step right back, step left together, step right in place
"""


def write_song(path: Path, *, seconds: float = 26.0) -> Path:
    samples, rate_hz = demo_song()
    write_track(np.ascontiguousarray(samples[:, : int(seconds * rate_hz)]), rate_hz, path, title="A short song")
    return path


@pytest.fixture(scope="session")
def song(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_song(tmp_path_factory.mktemp("chanson été") / "une chanson.flac")


@pytest.fixture(scope="session")
def counted(song: Path) -> Path:
    """The song's count as JSON: what makes the quick tests quick."""
    path = song.with_name("counted.json")
    told = subprocess.run(
        [sys.executable, "-m", "softshoe", "listen", song, "--json"], check=False, capture_output=True
    )
    path.write_bytes(told.stdout)
    return path


def left_over(folder: Path) -> list[str]:
    return [path.name for path in folder.rglob(".part-*")]


@pytest.mark.media
def test_the_whole_folder_is_made_from_a_path_with_spaces_and_accents(
    softshoe: Softshoe, sheet: Path, song: Path
) -> None:
    out = sheet.parent / "für den Kurs"
    answer = softshoe("make", sheet, song, "-o", out, "--sound", "song", "--minutes", "1", "--timings")
    assert answer.code == 0, answer.err
    assert {path.name for path in out.iterdir()} >= ALL
    assert "Where the time went" in answer.err
    for name in ("walkthrough.mp4", "dance-seated.mp4"):
        with av.open(str(out / name)) as film:
            assert [stream.type for stream in film.streams][:2] == ["video", "audio"]
            assert film.streams.video[0].width == 1280
    again = softshoe("make", sheet, song, "-o", out, "--sound", "song", "--minutes", "1")
    assert again.out.strip().split("\n")[-1].startswith("0 made")
    assert left_over(out) == []


def test_only_what_changed_is_made_again(softshoe: Softshoe, sheet: Path, counted: Path, tmp_path: Path) -> None:
    words = ("make", sheet, counted, "-o", tmp_path / "out", "--only", "sheet")
    assert softshoe(*words).code == 0
    assert softshoe(*words).out.strip().split("\n")[-1].startswith("0 made")
    assert softshoe(*words, "--paper", "us-letter").out.strip().split("\n")[-1].startswith("11 made")


def test_a_value_mended_by_hand_survives_and_is_printed(
    softshoe: Softshoe, sheet: Path, counted: Path, tmp_path: Path
) -> None:
    words = ("make", sheet, counted, "-o", tmp_path / "out", "--only", "sheet")
    softshoe(*words)
    path = tmp_path / "out" / "dance.json"
    path.write_text(path.read_text(encoding="utf-8").replace("Tin Kettle", "Copper Kettle"), encoding="utf-8")
    answer = softshoe(*words)
    assert "mended by hand, kept and used" in answer.err
    assert (tmp_path / "out" / "sheet.txt").read_text(encoding="utf-8").startswith("Copper Kettle")


def test_the_lesson_is_as_long_as_asked_and_its_text_may_be_changed(
    softshoe: Softshoe, sheet: Path, counted: Path, tmp_path: Path
) -> None:
    out, own = tmp_path / "out", tmp_path / "own.txt"
    answer = softshoe("make", sheet, counted, "-o", out, "--only", "report", "--minutes", "5")
    assert "5 minutes were asked for." in answer.out
    own.write_text(
        (out / "lesson.txt").read_text("utf-8").replace("\nsay: ", "\nsay: Well then. ", 1), encoding="utf-8"
    )
    assert softshoe("make", sheet, counted, "-o", out, "--only", "report", "--lesson", own).code == 0
    assert "Well then. " in json.loads((out / "lesson.json").read_text("utf-8"))["cues"][0]["words"]
    by_hand = own.read_text("utf-8").replace("Well then. ", "Well now. ")
    (out / "lesson.txt").write_text(by_hand, encoding="utf-8")
    answer = softshoe("make", sheet, counted, "-o", out, "--only", "report", "--minutes", "9")
    assert "so it is filmed as you left it, and --minutes 9 was not used" in answer.out
    own.write_text("== Sektion 1, seated\n1: heel\n", encoding="utf-8")
    answer = softshoe("make", sheet, counted, "-o", out, "--only", "report", "--lesson", own)
    assert (answer.code, "own.txt, line 1" in answer.err) == (2, True)


@pytest.mark.parametrize("name", ["dance.json", "song.json", "run.json"])
def test_a_value_broken_by_hand_is_named_and_kept(
    softshoe: Softshoe, sheet: Path, counted: Path, tmp_path: Path, name: str
) -> None:
    words = ("make", sheet, counted, "-o", tmp_path / "out", "--only", "sheet")
    softshoe(*words)
    (tmp_path / "out" / name).write_text('{"title": ')
    answer = softshoe(*words)
    assert answer.code == 2
    assert name in answer.err or "song" in answer.err
    assert "mend:" in answer.err
    assert (tmp_path / "out" / name).read_text() == '{"title": '


def test_a_dance_that_does_not_fit_the_song_is_still_printed(softshoe: Softshoe, counted: Path, tmp_path: Path) -> None:
    waltz = tmp_path / "waltz.txt"
    waltz.write_text(WALTZ, encoding="utf-8")
    answer = softshoe("make", waltz, counted, "-o", tmp_path / "out", "--only", "sheet")
    assert answer.code != 0
    assert answer.err.count("mend:") == 1
    made = {path.name for path in (tmp_path / "out").iterdir()}
    assert {"sheet.pdf", "sheet-large.pdf", "sheet.txt", "leader.pdf", "everyone.pdf", "pictures.pdf"} <= made
    assert "run.json" not in made


@pytest.mark.parametrize("kind", NO_SONGS)
def test_what_is_no_song_is_said_and_nothing_half_made_is_left(
    softshoe: Softshoe, sheet: Path, tmp_path: Path, kind: str
) -> None:
    write, words = NO_SONGS[kind]
    path = tmp_path / "my song.mp3"
    write(path)
    answer = softshoe("make", sheet, path, "-o", tmp_path / "out")
    assert answer.code == 2
    assert "my song.mp3" in answer.err
    assert words in answer.err
    assert "mend:" in answer.err
    assert left_over(tmp_path / "out") == []


def test_speech_is_not_sold_as_music(softshoe: Softshoe, tmp_path: Path) -> None:
    speech(tmp_path / "talk.mp3")
    answer = softshoe("listen", tmp_path / "talk.mp3")
    assert "no steady beat" in answer.out + answer.err


def test_a_truncated_mp3_is_read_as_far_as_it_goes(softshoe: Softshoe, tmp_path: Path) -> None:
    write_song(tmp_path / "cut.mp3")
    whole = (tmp_path / "cut.mp3").read_bytes()
    (tmp_path / "cut.mp3").write_bytes(whole[: len(whole) * 7 // 10 + 13])
    answer = softshoe("listen", tmp_path / "cut.mp3")
    assert answer.code == 0
    assert "100.0 beats a minute" in answer.out


@pytest.mark.parametrize("ending", [".mp3", ".ogg", ".flac", ".wav", ".m4a", ".mp4"])
def test_every_kind_of_song_is_heard(softshoe: Softshoe, song: Path, tmp_path: Path, ending: str) -> None:
    path = tmp_path / f"song{ending}"
    recode(song, path)
    assert "100.0 beats a minute" in softshoe("listen", path).out


def recode(song: Path, path: Path) -> None:
    """Write the song in another form; an .mp4 gets a picture beside its sound, as a film has."""
    codec = {".ogg": "libopus", ".m4a": "aac", ".mp4": "aac", ".mp3": "libmp3lame", ".wav": "pcm_s16le"}.get(
        path.suffix
    )
    with av.open(str(song)) as source, av.open(str(path), "w") as out:
        picture = out.add_stream("libx264", rate=5) if path.suffix == ".mp4" else None
        sound = out.add_stream(codec or "flac", rate=48_000 if codec == "libopus" else 44_100)
        resampler = av.AudioResampler(format=sound.format, layout="stereo", rate=sound.rate)
        if picture is not None:
            picture.width, picture.height, picture.pix_fmt = 64, 64, "yuv420p"
            for frame in (av.VideoFrame(64, 64, "yuv420p") for _ in range(5)):
                out.mux(picture.encode(frame))
            out.mux(picture.encode())
        for frame in source.decode(audio=0):
            for ready in resampler.resample(frame):
                out.mux(sound.encode(ready))
        out.mux(sound.encode())


def test_a_missing_song_is_said_before_any_work(softshoe: Softshoe, sheet: Path, tmp_path: Path) -> None:
    answer = softshoe("make", sheet, "nowhere.mp3", "-o", tmp_path / "out")
    assert answer.code == 2
    assert "nowhere.mp3" in answer.err
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("content", [b"", b"%PDF-1.7 not a sheet"])
def test_a_sheet_that_can_t_be_read_is_said_before_any_work(
    softshoe: Softshoe, sheet: Path, counted: Path, tmp_path: Path, content: bytes
) -> None:
    sheet.write_bytes(content)
    assert softshoe("make", sheet, counted, "-o", tmp_path / "out").code == 2
    assert not (tmp_path / "out").exists()


def test_the_terminal_says_what_was_found(softshoe: Softshoe, sheet: Path, counted: Path, tmp_path: Path) -> None:
    answer = softshoe("make", sheet, counted, "-o", tmp_path / "out", "--only", "sheet")
    assert "walls" in answer.out
    assert "points" in answer.out


def test_the_plain_sheet_says_what_the_printed_one_says(
    softshoe: Softshoe, sheet: Path, counted: Path, tmp_path: Path
) -> None:
    softshoe("make", sheet, counted, "-o", tmp_path / "out", "--only", "sheet")
    words = (tmp_path / "out" / "sheet.txt").read_text(encoding="utf-8")
    assert "Note:" in words
    assert "chair" in words
    assert softshoe("read", tmp_path / "out" / "sheet.txt").code == 0


def test_a_folder_that_can_t_be_written_is_said_before_any_work(softshoe: Softshoe, sheet: Path, counted: Path) -> None:
    answer = softshoe("make", sheet, counted, "-o", "/proc/nowhere")
    assert answer.code == 1
    assert "/proc/nowhere" in answer.err
    assert "choose another folder" in answer.err


def test_a_recording_asked_for_where_only_its_count_is_given_is_said(
    softshoe: Softshoe, sheet: Path, counted: Path, tmp_path: Path
) -> None:
    answer = softshoe("make", sheet, counted, "-o", tmp_path / "out", "--only", "tracks", "--sound", "song")
    assert answer.code == 2
    assert "there is no recording to play" in answer.err


def test_a_full_disk_is_said_and_nothing_half_written_is_left(
    softshoe: Softshoe, sheet: Path, counted: Path, tmp_path: Path
) -> None:
    small = tmp_path / "small disk"
    small.mkdir()
    mounted = shutil.which("mount") and os.geteuid() == 0 and subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=96k", "tmpfs", small], check=False, capture_output=True
    ).returncode == 0  # fmt: skip
    if not mounted:
        pytest.skip("a small disk can only be made by the machine's owner")
    try:
        answer = softshoe("make", sheet, counted, "-o", small / "out", "--only", "sheet")
        assert answer.code == 1
        assert "the disk is full" in answer.err
        assert left_over(small) == []
        assert json.loads((small / "out" / "dance.json").read_text(encoding="utf-8"))["title"] == "Tin Kettle"
    finally:
        subprocess.run(["umount", small], check=True)


def test_hiss_has_no_beat_to_dance_to(softshoe: Softshoe, tmp_path: Path) -> None:
    write_track(noise(30.0), 44_100, tmp_path / "hiss.wav", title="hiss")
    assert "no steady beat" in (lambda a: a.out + a.err)(softshoe("listen", tmp_path / "hiss.wav"))
