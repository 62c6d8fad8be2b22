"""EBU Tech 3341 (loudness metering: "EBU mode"), minimum requirements, cases 1 to 5; ITU-R BS.1770 for single channels.

Signals are 1 kHz sines in both channels; a level is the peak of each channel in dBFS. Part lengths of cases 3 to 5 and
the single-channel values are from memory, and were recomputed with an independent meter (-22.993, -32.993, -23.014,
-23.014, -22.979; -3.004). Tolerance of the source: 0.1 LU.
"""

from __future__ import annotations

import numpy as np
import pytest

from softshoe.render.loudness import levelled
from softshoe.render.loudness_meter import Loudness, loudness_curve, measure

RATE_HZ = 48_000
CASES = {
    1: ([(-23.0, 20.0)], -23.0),
    2: ([(-33.0, 20.0)], -33.0),
    3: ([(-36.0, 10.0), (-23.0, 60.0), (-36.0, 10.0)], -23.0),
    4: ([(-72.0, 10.0), (-36.0, 10.0), (-23.0, 60.0), (-36.0, 10.0), (-72.0, 10.0)], -23.0),
    5: ([(-26.0, 20.0), (-20.0, 20.1), (-26.0, 20.0)], -23.0),
}


def sine(parts: list[tuple[float, float]], *, channels: int = 2) -> np.ndarray:
    gains = np.concatenate([np.full(round(s * RATE_HZ), 10 ** (db / 20), np.float32) for db, s in parts])
    tone = gains * np.sin(2 * np.pi * 1000 * np.arange(len(gains)) / RATE_HZ).astype(np.float32)
    return np.stack([tone] * channels)


@pytest.mark.parametrize("case", CASES)
def test_a_case_of_tech_3341_reads_as_it_must(case: int) -> None:
    parts, lufs = CASES[case]
    assert measure(sine(parts), RATE_HZ).lufs == pytest.approx(lufs, abs=0.1)


@pytest.mark.parametrize(("level_db", "lufs"), [(-23.0, -26.0), (0.0, -3.01)])
def test_one_channel_alone_reads_three_less(level_db: float, lufs: float) -> None:
    assert measure(sine([(level_db, 10.0)], channels=1), RATE_HZ).lufs == pytest.approx(lufs, abs=0.1)


def test_a_true_peak_between_the_samples_is_found() -> None:
    """A sine of a quarter of the rate, 45 degrees off: samples reach 0.707 of its peak (as in cases 15 to 18, which
    allow +0.2 and -0.4 dB). Faded in and out: between the samples an abrupt edge really does overshoot."""
    t = np.arange(RATE_HZ * 2)
    fade = np.clip(np.minimum(t, t[::-1]) / 4800, 0, 1)
    x = (0.5 * fade * np.sin(2 * np.pi * t / 4 + np.pi / 4)).astype(np.float32)
    peak = measure(np.stack([x, x]), RATE_HZ).peak_dbtp
    assert -6.02 - 0.4 <= peak <= -6.02 + 0.2
    assert 20 * np.log10(np.abs(x).max()) == pytest.approx(-9.03, abs=0.01)


def test_silence_and_a_blink_of_sound_have_no_loudness() -> None:
    silence = np.zeros((2, RATE_HZ), np.float32)
    assert measure(silence, RATE_HZ).lufs == -np.inf
    assert measure(sine([(-20.0, 0.3)]), RATE_HZ).lufs == -np.inf
    assert not levelled(silence, RATE_HZ).any()


@pytest.mark.parametrize("extra", [0, 1, 123, 4799])
def test_a_sound_that_ends_between_two_readings_has_the_loudness_of_the_rest(extra: int) -> None:
    x = sine([(-23.0, 5.0 + extra / RATE_HZ)])
    assert measure(x, RATE_HZ).lufs == pytest.approx(-23.0, abs=0.1)
    curve, lufs = loudness_curve(x, RATE_HZ, step_s=0.05)
    assert curve[20:80] == pytest.approx(-23.0, abs=0.1)
    assert lufs == measure(x, RATE_HZ).lufs


@pytest.mark.parametrize("samples", [0, 1, 100])
def test_hardly_any_sound_is_measured_as_none(samples: int) -> None:
    x = np.zeros((2, samples), np.float32)
    assert measure(x, RATE_HZ) == Loudness(-np.inf, -200.0)
    assert len(loudness_curve(x, RATE_HZ, step_s=0.05)[0]) == (samples > 0)
