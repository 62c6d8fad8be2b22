"""The band: in tune, in time, at the same level every time, and never harsh."""

from __future__ import annotations

import numpy as np
import pytest

from softshoe.render.band import INSTRUMENTS, RATE_HZ, STAGE, added, hertz, played
from softshoe.render.groove import STROKES, Pulse, Style, groove, groove_notes
from softshoe.render.score import Note, midi

PITCHED = ("reed", "strum", "organ", "bass")
A4, A2 = 69, 45


def sound_of(name: str, *, pitch: int = A4) -> np.ndarray:
    return INSTRUMENTS[name](Note(name, 0.0, 0.9, (pitch,)))


def band_share(x: np.ndarray, *, above_hz: float) -> float:
    power = np.abs(np.fft.rfft(x)) ** 2
    return float(power[np.fft.rfftfreq(len(x), 1 / RATE_HZ) > above_hz].sum() / power.sum())


def test_every_instrument_has_its_place_on_the_stage() -> None:
    assert set(INSTRUMENTS) == set(STAGE)


@pytest.mark.parametrize("name", INSTRUMENTS)
def test_an_instrument_begins_and_ends_in_silence_without_a_click_and_stays_in_range(name: str) -> None:
    x = sound_of(name)
    assert x.dtype == np.float32
    assert 0.3 < np.abs(x).max() < 1.5
    assert abs(x[0]) < 0.02
    assert abs(x[-1]) < 0.02
    assert abs(x.mean()) < 0.02


@pytest.mark.parametrize("name", PITCHED)
@pytest.mark.parametrize("pitch", [A4, A2, 62])
def test_a_pitched_instrument_is_in_tune_within_three_cents(name: str, pitch: int) -> None:
    x = sound_of(name, pitch=pitch)[: RATE_HZ // 2]
    size = 1 << 20
    spectrum = np.abs(np.fft.rfft(x * np.hanning(len(x)), size))
    hz = np.fft.rfftfreq(size, 1 / RATE_HZ)
    near = (hz > hertz(pitch) * 0.95) & (hz < hertz(pitch) * 1.05)
    assert abs(1200 * np.log2(hz[near][np.argmax(spectrum[near])] / hertz(pitch))) < 3


@pytest.mark.parametrize(("name", "hz"), [("A4", 440.0), ("C4", 261.626), ("G2", 97.999), ("F#4", 369.994)])
def test_notes_have_the_frequencies_of_equal_temperament(name: str, hz: float) -> None:
    """Twelve equal steps from A4 = 440 Hz (ISO 16); values by hand."""
    assert hertz(midi(name)) == pytest.approx(hz, abs=0.01)


@pytest.mark.parametrize("name", ["kick", "bass", "organ", "reed", "strum", "low_block"])
def test_what_should_be_warm_has_little_above_three_kilohertz(name: str) -> None:
    assert band_share(sound_of(name), above_hz=3000) < 0.02


def test_a_note_sounds_on_its_second_and_the_same_notes_sound_the_same() -> None:
    notes = [Note("block", 0.5, 0.0), Note("kick", 1.25, 0.0)]
    x = played(notes, length_s=2.0)
    assert x.shape == (2, 2 * RATE_HZ)
    assert x.dtype == np.float32
    assert np.array_equal(x, played(notes, length_s=2.0))
    first = np.argmax(np.abs(x[0]) > 0.01) / RATE_HZ
    assert first == pytest.approx(0.5, abs=0.003)


def test_what_falls_off_either_end_is_cut() -> None:
    out, x = np.zeros(10, np.float32), np.ones(6, np.float32)
    added(out, x, -3, 1.0)
    added(out, x, 8, 2.0)
    added(out, x, 40, 1.0)
    assert out.tolist() == [1, 1, 1, 0, 0, 0, 0, 0, 2, 2]


@pytest.mark.parametrize("style", STROKES)
def test_the_plain_rhythm_falls_on_the_counts_and_one_has_a_sound_of_its_own(style: Style) -> None:
    size = len(STROKES[style])
    pulses = [Pulse(0.5 + 0.5 * k + 0.01 * k * k, 0.5, k % size + 1) for k in range(2 * size)]
    on_the_count = {pulse.at_s: set() for pulse in pulses}  # type: dict[float, set[str]]
    for note in groove_notes(pulses, style=style):
        if note.at_s in on_the_count:
            on_the_count[note.at_s].add(note.instrument)
    assert all(on_the_count.values())
    assert [p.number for p in pulses if "low_block" in on_the_count[p.at_s]] == [1, 1]


@pytest.mark.parametrize("counts", [0, 1, 2])
def test_a_rhythm_of_hardly_any_counts_is_still_a_sound(counts: int) -> None:
    x = groove([Pulse(0.2 + k, 1.0, k + 1) for k in range(counts)], style="straight", length_s=3.0)
    assert x.shape == (2, 3 * RATE_HZ)
    assert bool(np.any(x)) is (counts > 0)


def test_quick_counts_are_not_halved() -> None:
    quick = list(groove_notes([Pulse(0.0, 0.3, 2)], style="straight"))
    assert "shaker" not in {note.instrument for note in quick}
