"""The demo song: its form, its truth, and that what is heard is what is written."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from softshoe.render.demo_song import demo_song, demo_truth, write_demo_song
from softshoe.render.score import Note, chord_at, demo_score, melody_notes, midi, notes

if TYPE_CHECKING:
    from pathlib import Path

BEAT_S = 0.6


@pytest.fixture(scope="module")
def song() -> np.ndarray:
    samples, rate_hz = demo_song()
    assert rate_hz == 44_100
    return samples


def rises_at(song: np.ndarray, at_s: float) -> float:
    """How much louder the 30 ms after a second are than the 30 ms before, in decibels."""
    k, w = round(at_s * 44_100), 1323
    before, after = song[:, max(0, k - w) : k], song[:, k : k + w]
    return float(10 * np.log10((np.mean(after**2) + 1e-9) / (np.mean(before**2) + 1e-9)))


def test_the_form_is_as_long_as_it_says() -> None:
    parts = [(part.name, part.counts) for part in demo_score().parts]
    verse, chorus = ("verse", 32), ("chorus", 32)
    held, last = ("turnaround", 4), ("ending", 4)
    assert parts == [("intro", 16), verse, chorus, verse, chorus, held, verse, chorus, last]


def test_every_bar_of_melody_fills_its_four_beats_and_every_bar_has_chords() -> None:
    for part in demo_score().parts:
        bars = part.written.get("melody", "").split("|")
        assert len(part.chords) == part.counts // 4
        for bar in filter(str.strip, bars):
            assert sum(float(word.split(":")[1]) for word in bar.split()) == 4


def test_a_long_melody_note_belongs_to_its_chord_or_leans_on_it() -> None:
    """A long note is a chord note or a second above one (a suspension). Common practice, no source."""
    score = demo_score()
    for part in score.parts:
        for note in melody_notes(score, part):
            beat = (note.at_s - score.second(part.at)) / score.beat_s
            if note.length_s >= 1.5 * BEAT_S:
                chord = score.chords[chord_at(part, int(beat + 1e-6) // 4, (beat + 1e-6) % 4 / 4)]
                assert any((note.pitches[0] - pitch) % 12 in (0, 1, 2) for pitch in chord)


def test_the_truth_is_a_hundred_beats_a_minute_with_four_beats_more_before_the_fifth_phrase() -> None:
    truth = demo_truth()
    assert np.allclose(np.diff(truth["beats"]), BEAT_S, atol=1e-5)
    assert np.allclose(np.diff(truth["phrases"]) / BEAT_S, [32, 32, 32, 36, 32])
    assert truth["first_count"] == truth["phrases"][0] == pytest.approx(0.4 + 16 * BEAT_S)
    assert truth["end"] == pytest.approx(0.4 + 216 * BEAT_S)
    for key in ("downbeats", "eights", "phrases"):
        assert set(truth[key]) <= set(truth["beats"])


def test_the_song_is_the_same_every_time_and_in_range(song: np.ndarray) -> None:
    again, _ = demo_song()
    assert song.dtype == np.float32
    assert song.shape[0] == 2
    assert np.array_equal(song, again)
    assert np.abs(song).max() == pytest.approx(0.8)


def test_something_begins_on_every_downbeat_and_nothing_before_the_first(song: np.ndarray) -> None:
    truth = demo_truth()
    assert np.abs(song[:, : round(0.399 * 44_100)]).max() < 1e-6
    assert min(rises_at(song, at_s) for at_s in truth["downbeats"]) > 3.0


def test_the_music_stops_where_the_truth_says(song: np.ndarray) -> None:
    end = round(demo_truth()["end"] * 44_100)
    held = np.sqrt(np.mean(song[:, end - 4410 : end - 441] ** 2))
    after = np.sqrt(np.mean(song[:, end + 6615 : end + 11025] ** 2))
    assert 20 * np.log10(after / held) < -6.0


def test_the_chorus_is_sung_higher_and_played_louder_than_the_verse(song: np.ndarray) -> None:
    score, truth = demo_score(), demo_truth()
    verse, chorus = score.parts[1], score.parts[2]
    height = [np.mean([n.pitches[0] for n in melody_notes(score, part)]) for part in (verse, chorus)]
    assert height[1] - height[0] > 5
    level = [np.sqrt(np.mean(song[:, round(a * 44_100) : round((a + 19.2) * 44_100)] ** 2)) for a in truth["phrases"]]
    assert 20 * np.log10(level[1] / level[0]) > 1.0


def test_each_phrase_opens_with_a_cymbal_and_the_bar_before_it_has_a_fill() -> None:
    played, truth = notes(demo_score()), demo_truth()
    crashes = [note.at_s for note in played if note.instrument == "crash"]
    assert set(truth["phrases"]) <= set(crashes)
    for at_s in truth["phrases"]:
        fill = [n for n in played if n.instrument == "snare" and at_s - 4 * BEAT_S <= n.at_s < at_s]
        assert len(fill) > 2


def test_the_intro_has_no_melody() -> None:
    first_count = demo_truth()["first_count"]
    assert not [n for n in notes(demo_score()) if n.instrument == "reed" and n.at_s < first_count - 0.01]


def test_the_spectrum_is_warm(song: np.ndarray) -> None:
    """Most of the power lies under 1 kHz, and the ear's sharpest region (2 to 5 kHz) has less than a twentieth."""
    power = np.abs(np.fft.rfft(song.mean(0))) ** 2
    hz = np.fft.rfftfreq(song.shape[1], 1 / 44_100)
    assert power[hz < 1000].sum() / power.sum() > 0.8
    assert power[(hz > 2000) & (hz < 5000)].sum() / power.sum() < 0.05


def test_the_second_voice_stays_under_the_first() -> None:
    played = notes(demo_score())
    first = {n.at_s: n.pitches[0] for n in played if n.instrument == "reed"}
    second = [n for n in played if n.instrument == "second_reed"]
    assert second
    assert all(3 <= first[n.at_s] - n.pitches[0] <= 9 for n in second)


def test_the_song_is_written_whole(tmp_path: Path) -> None:
    path = tmp_path / "song.flac"
    write_demo_song(path)
    assert path.stat().st_size > 1_000_000
    assert list(tmp_path.iterdir()) == [path]


def test_a_note_name_is_a_number_and_a_note_without_pitch_is_a_drum() -> None:
    assert midi("C4") == 60
    assert Note("kick", 0.0, 0.1).pitches == ()
