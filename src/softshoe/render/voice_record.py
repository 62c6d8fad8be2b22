"""The computer's microphone, recorded into a wav file: through the FFmpeg of PyAV, with nothing more to install.

Linux is asked through ALSA (behind which PulseAudio and PipeWire answer too), a Mac through AVFoundation.
"""

from __future__ import annotations

import os
import sys
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from softshoe.errors import MusicError
from softshoe.render.track_file import write_track

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from softshoe.render.band import Samples

SOURCES = {"linux": ("alsa", "default"), "darwin": ("avfoundation", "none:default")}
BY_HAND = "record with this computer's own recorder or a phone, then “softshoe voice import FILE”"
LONGEST_S = 600.0
FULL = 32768.0


def record(path: Path, *, goes_on: Callable[[float, float], bool], source: tuple[str, str] | None = None) -> float:
    """Record into a wav file until ``goes_on(seconds, level)`` says no; return how long it is. [s]

    goes_on : asked for every block heard, with the seconds so far and the block's peak, 0 to 1.
    source : the kind of device and its name; else the computer's usual microphone.

    Raises MusicError where there is no microphone, or nothing came from it.
    """
    blocks: list[Samples] = []
    rate_hz, seconds = 0, 0.0
    for samples, rate_hz in _heard(source or usual()):
        blocks.append(samples)
        seconds += samples.shape[1] / rate_hz
        if seconds >= LONGEST_S or not goes_on(seconds, float(np.abs(samples).max(initial=0.0))):
            break
    sound = np.concatenate(blocks, axis=1) if blocks else np.zeros((1, 0), np.float32)
    if not np.any(sound):
        raise MusicError("the microphone", "nothing was heard", "it gave no sound, or only silence",
                         f"look whether it is switched on and allowed; or {BY_HAND}")  # fmt: skip
    stereo = np.repeat(sound.mean(0, keepdims=True, dtype=np.float32), 2, axis=0)
    write_track(stereo, rate_hz, path, title="Words recorded")
    return seconds


def usual() -> tuple[str, str]:
    """Return the kind and name of this computer's usual microphone; raises MusicError where none is known."""
    source = SOURCES.get(sys.platform)
    if source is None:
        raise MusicError("the microphone", "can't be asked on this computer", "only Linux and Macs are known", BY_HAND)
    return source


def system_alsa() -> None:
    """Let the ALSA library in PyAV's wheel find the settings and plug-ins of this computer, unless others were said."""
    settings = Path("/usr/share/alsa")
    plugins = next(iter(sorted(Path("/usr/lib").glob("*/alsa-lib"))), None)
    if settings.is_dir():
        os.environ.setdefault("ALSA_CONFIG_DIR", str(settings))
    if plugins is not None:
        os.environ.setdefault("ALSA_PLUGIN_DIR", str(plugins))


@contextmanager
def quiet_stderr() -> Iterator[None]:
    """Keep what a C library writes to the terminal to itself: what went wrong is told in our words."""
    sys.stderr.flush()
    kept = os.dup(2)
    try:
        with open(os.devnull, "w") as nowhere:
            os.dup2(nowhere.fileno(), 2)
        yield
    finally:
        os.dup2(kept, 2)
        os.close(kept)


def _heard(source: tuple[str, str]) -> Iterator[tuple[Samples, int]]:
    """Give what the microphone hears, block by block: (channels, n) float32 and the rate."""
    import av

    kind, name = source
    if kind == "alsa":
        system_alsa()
    try:
        with quiet_stderr():
            opened = av.open(name, format=kind)
        with opened as box:
            yield from _blocks(box)
    except (av.FFmpegError, OSError, ValueError) as wrong:
        raise MusicError("the microphone", "can't be opened", str(wrong), BY_HAND) from wrong


def _blocks(box: Any) -> Iterator[tuple[Samples, int]]:
    import av

    to_float: Any = av.AudioResampler(format="fltp")
    for frame in box.decode(audio=0):
        for plain in to_float.resample(frame):
            yield np.asarray(plain.to_ndarray(), np.float32), plain.sample_rate
