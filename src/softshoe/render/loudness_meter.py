"""The loudness meter: EBU R 128 / ITU-R BS.1770 as FFmpeg has it, read through PyAV.

It gives a reading every tenth of a second, as text: loudness in LUFS and true peaks as a share of full scale, both to
three places.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from softshoe.render.band import Samples

STEP_S = 0.1
WINDOW_S = 0.4  # of momentary loudness
QUIETEST_LUFS = -70.0
LAYOUTS = {1: "mono", 2: "stereo"}
Curve = np.ndarray[tuple[int], np.dtype[np.float64]]


@dataclass(frozen=True, slots=True)
class Loudness:
    """Integrated loudness (-inf for silence or less than 0.4 s) and true peak."""

    lufs: float
    peak_dbtp: float


def measure(samples: Samples, rate_hz: int) -> Loudness:
    """Return the loudness and true peak of a sound, (1 or 2 channels, n); the peak to 0.01 dB near full scale."""
    read = list(readings(samples, rate_hz, peaks=True))
    peak = max((float(reading.get("lavfi.r128.true_peak", 0.0)) for reading in read), default=0.0)
    return Loudness(integrated(read), float(20 * np.log10(max(peak, 1e-10))))


def integrated_lufs(samples: Samples, rate_hz: int) -> float:
    """Return the integrated loudness alone, in a third of the time; -inf for silence or less than 0.4 s."""
    return integrated(readings(samples, rate_hz))


def integrated(read: Iterable[dict[str, str]]) -> float:
    """Return the last integrated loudness of some readings, -inf where nothing was loud enough to count."""
    told = [reading["lavfi.r128.I"] for reading in read if "lavfi.r128.I" in reading]
    lufs = float(told[-1]) if told else QUIETEST_LUFS
    return lufs if lufs > QUIETEST_LUFS else -np.inf


def loudness_curve(samples: Samples, rate_hz: int, *, step_s: float) -> tuple[Curve, float]:
    """Return momentary loudness every step, each about the middle of its 400 ms, at least -70; and the integrated
    loudness. [LUFS]"""
    read = list(readings(samples, rate_hz))
    moments = [float(reading.get("lavfi.r128.M", "nan")) for reading in read]
    level = np.nan_to_num(np.array(moments), nan=QUIETEST_LUFS).clip(min=QUIETEST_LUFS)
    wanted_s = (np.arange(-(-samples.shape[1] // round(step_s * rate_hz))) + 0.5) * step_s
    middle_s = (np.arange(len(level)) + 1) * STEP_S - WINDOW_S / 2
    curve = np.interp(wanted_s, middle_s, level) if len(level) else np.full(len(wanted_s), QUIETEST_LUFS)
    return curve, integrated(read)


def readings(samples: Samples, rate_hz: int, *, peaks: bool = False) -> Iterator[dict[str, str]]:
    """Give the meter's readings, one each tenth of a second."""
    import av

    layout, graph = LAYOUTS[samples.shape[0]], av.filter.Graph()
    source = graph.add_abuffer(sample_rate=rate_hz, format="fltp", layout=layout)
    meter = graph.add("ebur128", "metadata=1:peak=true" if peaks else "metadata=1")
    sink = graph.add("abuffersink")
    source.link_to(meter)
    meter.link_to(sink)
    graph.configure()
    for at in range(0, samples.shape[1], rate_hz):
        frame = av.AudioFrame.from_ndarray(np.ascontiguousarray(samples[:, at : at + rate_hz]), "fltp", layout)
        frame.sample_rate, frame.pts = rate_hz, at
        graph.push(frame)
        yield from pulled(graph)
    graph.push(None)
    yield from pulled(graph)


def pulled(graph: Any) -> Iterator[dict[str, str]]:
    """Give what the meter has ready."""
    import av

    while True:
        try:
            yield graph.pull().metadata
        except (av.error.BlockingIOError, av.error.EOFError):
            return
