"""Who listens: softshoe's own listeners, and every general beat tracker that installs from the package index and brings
its weights along. One that is not installed here is left out and named.

The general ones are loaded by name, for none of them is needed to use or to develop softshoe.
"""

from __future__ import annotations

import collections
import collections.abc
import sys
import types
import wave
from collections.abc import Callable
from importlib import import_module
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
from scores import Told

Array = np.ndarray
Tracker = Callable[[Array, int], Told]


def ours(name: str) -> Tracker:
    """Return one of softshoe's listeners, by the name it has in ``softshoe.music.engine``."""
    from softshoe.music.by_model import ByModel
    from softshoe.music.by_rule import ByRule
    from softshoe.music.engine import engine
    from softshoe.music.listen import counted, hears

    by = {"rules": lambda: ByRule(engine()), "model": ByModel}[name]()

    def told(mono: Array, rate_hz: int) -> Told:
        kept = hears(sound_of(mono, rate_hz), by=by)
        song = counted(kept)
        times = (np.array(x) for x in (song.beats_s, song.downbeats_s, song.eights_s, song.phrases_s))
        return Told(*times, song.first_count_s, song.tempo_bpm, song.metre, kept)

    return told


def sound_of(mono: Array, rate_hz: int):
    from softshoe.music.audio import Sound

    return Sound(np.stack([mono, mono]).astype(np.float32), rate_hz)


def tempo_of(beats: Array) -> float | None:
    from softshoe.music.counted import usual_tempo

    return usual_tempo(beats) if len(beats) > 1 else None


def librosa() -> Tracker:
    module = import_module("librosa")

    def told(mono: Array, rate_hz: int) -> Told:
        tempo, beats = module.beat.beat_track(y=mono.astype(np.float32), sr=rate_hz, units="time")
        return Told(np.asarray(beats), tempo=float(np.atleast_1d(tempo)[0]))

    return told


def aubio() -> Tracker:
    module = import_module("aubio")

    def told(mono: Array, rate_hz: int) -> Told:
        track = module.tempo("default", 1024, 512, rate_hz)
        found = []
        for first in range(0, len(mono) - 512, 512):
            if track(mono[first : first + 512].astype(np.float32)):
                found.append(track.get_last_s())
        return Told(np.array(found), tempo=tempo_of(np.array(found)))

    return told


def essentia() -> Tracker:
    module = import_module("essentia.standard")
    resample = import_module("soxr").resample

    def told(mono: Array, rate_hz: int) -> Told:
        sound = resample(mono.astype(np.float32), rate_hz, 44_100)
        tempo, beats, *_ = module.RhythmExtractor2013(method="multifeature")(sound)
        return Told(np.asarray(beats, dtype=float), tempo=float(tempo))

    return told


def old_names() -> None:
    """Give packages of 2018 the names they expect; they are gone from newer Pythons and numpys."""
    for name in ("MutableSequence", "MutableMapping", "Iterable"):
        setattr(collections, name, getattr(collections.abc, name))
    for name, kind in (("float", float), ("int", int), ("bool", bool), ("object", object), ("complex", complex)):
        if name not in np.__dict__:
            setattr(np, name, kind)


class _RaggedNumpy:
    """numpy as madmom 0.16 knew it: rows of unequal kinds make an array of objects."""

    def __getattr__(self, name: str):
        return getattr(np, name)

    @staticmethod
    def asarray(x, *args, **more):
        try:
            return np.asarray(x, *args, **more)
        except ValueError:
            out = np.empty((len(x), len(x[0])), object)
            for i, row in enumerate(x):
                for j, value in enumerate(row):
                    out[i, j] = value
            return out


def madmom() -> Tracker:
    old_names()
    module = import_module("madmom.features.downbeats")
    module.np = _RaggedNumpy()
    signal = import_module("madmom.audio.signal").Signal
    resample = import_module("soxr").resample
    hear = module.RNNDownBeatProcessor(num_threads=1)
    track = module.DBNDownBeatTrackingProcessor(beats_per_bar=[3, 4], fps=100)

    def told(mono: Array, rate_hz: int) -> Told:
        sound = resample(mono.astype(np.float32), rate_hz, 44_100)
        found = np.asarray(track(hear(signal(sound.astype(np.float32), sample_rate=44_100))), dtype=float)
        if not len(found):
            return Told(np.zeros(0), np.zeros(0))
        beats, place = found[:, 0], found[:, 1]
        return Told(beats, beats[place == 1], tempo=tempo_of(beats), metre=int(place.max()))

    return told


def beatnet() -> Tracker:
    old_names()
    sys.modules.setdefault("pyaudio", types.ModuleType("pyaudio"))  # only asked for by its microphone
    module = import_module("BeatNet.BeatNet")
    import_module("madmom.features.downbeats").np = _RaggedNumpy()
    tracker = module.BeatNet(1, mode="offline", inference_model="DBN", plot=[], thread=False)

    def told(mono: Array, rate_hz: int) -> Told:
        with TemporaryDirectory() as folder:
            path = Path(folder) / "song.wav"
            with wave.open(str(path), "wb") as file:
                file.setnchannels(1)
                file.setsampwidth(2)
                file.setframerate(rate_hz)
                file.writeframes((np.clip(mono, -1, 1) * 32767).astype("<i2").tobytes())
            found = np.asarray(tracker.process(str(path)), dtype=float)
        beats, place = found[:, 0], found[:, 1]
        return Told(beats, beats[place == 1], tempo=tempo_of(beats), metre=int(place.max()))

    return told


OURS = ("softshoe, rules", "softshoe, model")
# name: (how it is made, package whose version is told, licence of its weights or rules)
TRACKERS: dict[str, tuple[Callable[[], Tracker], str, str]] = {
    "softshoe, rules": (lambda: ours("rules"), "softshoe", "MIT"),
    "softshoe, model": (lambda: ours("model"), "softshoe", "MIT"),
    "librosa beat_track": (librosa, "librosa", "ISC"),
    "aubio tempo": (aubio, "aubio", "GPL-3"),
    "essentia RhythmExtractor2013": (essentia, "essentia", "AGPL-3"),
    "madmom DBNDownBeat": (madmom, "madmom", "weights CC BY-NC-SA 4.0"),
    "BeatNet offline": (beatnet, "BeatNet", "CC BY 4.0"),
}


def version_of(package: str) -> str:
    """Return the version of a package, "" when it is only on the path."""
    if package == "softshoe":
        from softshoe import __version__

        return __version__
    try:
        return version(package)
    except PackageNotFoundError:
        return ""
