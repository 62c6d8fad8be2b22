"""Songs that are no songs, as files: what people really drop on a program."""

from __future__ import annotations

from typing import TYPE_CHECKING

import av
import numpy as np

from softshoe.render.track_file import write_track
from softshoe.render.voice import RATE_HZ, standard_voice

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path


def noise(seconds: float, *, level: float = 0.1) -> np.ndarray:
    return (np.random.default_rng(5).normal(size=(2, int(seconds * RATE_HZ))) * level).astype(np.float32)


def clicks(seconds: float) -> np.ndarray:
    sound = np.zeros((2, int(seconds * RATE_HZ)), np.float32)
    for at_s in np.arange(0.2, seconds - 0.1, 0.6):
        i = int(at_s * RATE_HZ)
        sound[:, i : i + 400] += noise(400.5 / RATE_HZ, level=0.3)[:, :400]
    return sound


def empty(path: Path) -> None:
    path.write_bytes(b"")


def picture(path: Path) -> None:
    jpeg = path.with_name("picture.jpg")
    with av.open(str(jpeg), "w") as out:
        drawn = out.add_stream("mjpeg", rate=1)
        drawn.width, drawn.height, drawn.pix_fmt = 64, 48, "yuvj420p"
        frame = av.VideoFrame(64, 48, "yuvj420p")
        out.mux([*drawn.encode(frame), *drawn.encode()])
    jpeg.rename(path)


def silence(path: Path) -> None:
    write_track(np.zeros((2, 30 * RATE_HZ), np.float32), RATE_HZ, path, title="silence")


def eight_seconds(path: Path) -> None:
    write_track(clicks(8.0), RATE_HZ, path, title="short")


def two_hours(path: Path) -> None:
    """A small file that says it holds two hours: an empty minute, repeated as frames of mp3 are."""
    minute = path.with_name(f"minute{path.suffix}")
    write_track(np.zeros((2, 60 * RATE_HZ), np.float32), RATE_HZ, minute, title="long")
    path.write_bytes(minute.read_bytes() * 121)
    minute.unlink()


def speech(path: Path) -> None:
    voice = standard_voice()
    words = ["We meet on Tuesday in the hall by the harbour.", "Bring a cup, and mind the step at the door.",
             "Nobody looks at feet.", "The kettle is on at half past ten, or a little later."]  # fmt: skip
    parts = [voice.say(line, pace=1.0).samples for line in words * 3]
    gap = np.zeros(int(0.4 * RATE_HZ), np.float32)
    mono = np.concatenate([piece for part in parts for piece in (np.ravel(part), gap)])
    write_track(np.stack([mono, mono]).astype(np.float32), RATE_HZ, path, title="speech")


NO_SONGS: dict[str, tuple[Callable[[Path], None], str]] = {
    "0 bytes": (empty, "0 bytes"),
    "a jpeg renamed": (picture, "picture"),
    "silence": (silence, "silen"),
    "8 seconds of song": (eight_seconds, "short"),
    "2 hours": (two_hours, "long"),
}
