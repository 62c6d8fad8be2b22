"""A song written down as data, and the notes it asks for.

A score is a file of parts (intro, verse …) in the order of its form: chords a bar, a melody, and one rhythm line for
each instrument. ``notes`` turns it into notes at seconds; ``landmarks`` says where its beats, bars, eights and phrases
are. Pitches are MIDI numbers (A4 = 69 = 440 Hz). Seconds count from the start of the sound.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator

STEP_OF = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}
STEPS_A_BAR = 8
STRENGTH = {"x": 1.0, "o": 0.55}
DRUMS = ("kick", "snare", "hat", "shaker", "crash")


@dataclass(frozen=True, slots=True)
class Note:
    """One sound of one instrument: ``pitches`` empty for a drum, ``strength`` from 0 to 1."""

    instrument: str
    at_s: float
    length_s: float
    pitches: tuple[int, ...] = ()
    strength: float = 1.0


@dataclass(frozen=True, slots=True)
class Part:
    """One part where it stands in the song; ``at`` and ``counts`` in beats from the first beat."""

    name: str
    at: int
    counts: int
    written: dict[str, Any]

    @property
    def chords(self) -> list[list[str]]:
        """The chord names of each bar."""
        return [bar.split() for bar in self.written["chords"].split("|")]


@dataclass(frozen=True, slots=True)
class Score:
    """The whole song as written."""

    title: str
    beat_s: float
    beats_per_bar: int
    lead_in_s: float
    tail_s: float
    chords: dict[str, tuple[int, ...]]
    bass: dict[str, tuple[int, ...]]
    parts: tuple[Part, ...]

    @property
    def beats(self) -> int:
        """Counts of the whole form."""
        return sum(part.counts for part in self.parts)

    @property
    def length_s(self) -> float:
        """Seconds of the whole sound, silence before and ring after included."""
        return self.lead_in_s + self.beats * self.beat_s + self.tail_s

    def second(self, beat: float) -> float:
        """Return the second at which a beat falls, counted from 0. [s]"""
        return round(self.lead_in_s + beat * self.beat_s, 6)


def midi(name: str) -> int:
    """Return the MIDI number of a note name.

    >>> midi("A4"), midi("F#4")
    (69, 66)
    """
    letter, octave = name[:-1], int(name[-1])
    return STEP_OF[letter[0]] + letter.count("#") - letter.count("b") + 12 * (octave + 1)


@cache
def demo_score() -> Score:
    """Return the score of the demo song that ships with the package."""
    text = files("softshoe").joinpath("data/demo/song.toml").read_text(encoding="utf-8")
    written = tomllib.loads(text)
    parts, at = [], 0
    for name in written["form"]:
        part = Part(name, at, written["part"][name]["counts"], written["part"][name])
        parts.append(part)
        at += part.counts
    pitched = {key: {k: tuple(map(midi, v)) for k, v in written[key].items()} for key in ("chords", "bass")}
    return Score(
        title=written["title"],
        beat_s=60.0 / written["tempo_bpm"],
        beats_per_bar=written["beats_per_bar"],
        lead_in_s=written["lead_in_s"],
        tail_s=written["tail_s"],
        chords=pitched["chords"],
        bass=pitched["bass"],
        parts=tuple(parts),
    )


def notes(score: Score) -> tuple[Note, ...]:
    """Return every note of the song in order of time."""
    found = [
        note
        for part in score.parts
        for voice in (melody_notes, harmony_notes, drum_notes, strum_notes, bass_notes, organ_notes)
        for note in voice(score, part)
    ]
    return tuple(sorted(found, key=lambda note: (note.at_s, note.instrument)))


def melody_notes(score: Score, part: Part) -> Iterator[Note]:
    """Sing the melody of a part; every bar must fill its beats."""
    at = float(part.at)
    for bar in part.written.get("melody", "").split("|"):
        for word in bar.split():
            name, beats = word.split(":")
            if name != "r":
                yield Note("reed", score.second(at), float(beats) * score.beat_s, (midi(name),))
            at += float(beats)


def harmony_notes(score: Score, part: Part) -> Iterator[Note]:
    """Sing a second voice where the part wants one: the chord's next note three half steps or more below."""
    if not part.written.get("second_voice"):
        return
    bar_s = score.beats_per_bar * score.beat_s
    for note in melody_notes(score, part):
        bars = (note.at_s - score.second(part.at)) / bar_s + 1e-6
        chord = score.chords[chord_at(part, int(bars), bars % 1)]
        below = (pitch + 12 * k for pitch in chord for k in range(-1, 3) if pitch + 12 * k <= note.pitches[0] - 3)
        yield Note("second_reed", note.at_s, note.length_s, (max(below),))


def line(part: Part, instrument: str, bar: int, bars: int) -> str:
    """Return the rhythm of one instrument in one bar, its fill in the last bar of the part."""
    fill = part.written.get("fill", {}).get(instrument)
    if fill and bar == bars - 1:
        return str(fill)
    if instrument == "crash" and bar and part.written.get("crash_on_first_bar_only"):
        return ""
    lines: list[str] = part.written.get(instrument, [""])
    return lines[bar % len(lines)]


def struck(score: Score, part: Part, instrument: str) -> Iterator[tuple[int, float, float, float]]:
    """Give bar number, place in the bar (0 to 1), beat and strength of each stroke of an instrument in a part."""
    bars = part.counts // score.beats_per_bar
    for bar in range(bars):
        for step, letter in enumerate(line(part, instrument, bar, bars)):
            if letter in STRENGTH:
                place = step / STEPS_A_BAR
                yield bar, place, part.at + (bar + place) * score.beats_per_bar, STRENGTH[letter]


def chord_at(part: Part, bar: int, place: float) -> str:
    """Return the chord of a bar at a place in it (0 to 1)."""
    names = part.chords[bar]
    return names[int(place * len(names))]


def drum_notes(score: Score, part: Part) -> Iterator[Note]:
    """Strike the drums of a part."""
    for drum in DRUMS:
        for _, _, beat, strength in struck(score, part, drum):
            yield Note(drum, score.second(beat), score.beat_s, (), strength)


def strum_notes(score: Score, part: Part) -> Iterator[Note]:
    """Strum the chords of a part: soft strokes go upward and ring shorter."""
    held = 4.0 if part.written.get("held") or part.counts == score.beats_per_bar else 0.9
    for bar, place, beat, strength in struck(score, part, "strum"):
        pitches = score.chords[chord_at(part, bar, place)]
        up = strength < 1.0
        length_s = score.beat_s * (0.5 if up else held)
        yield Note("strum", score.second(beat), length_s, pitches[::-1] if up else pitches, strength)


def bass_notes(score: Score, part: Part) -> Iterator[Note]:
    """Walk the bass of a part in a two-step: root first, the other note in the second half of a bar with one chord."""
    held = part.counts == score.beats_per_bar
    for bar, place, beat, strength in struck(score, part, "bass"):
        root, other = score.bass[chord_at(part, bar, place)]
        second_half = place >= 0.5 and len(part.chords[bar]) == 1
        length_s = score.beat_s * (score.beats_per_bar if held else 1.7 if strength == 1.0 else 0.9)
        yield Note("bass", score.second(beat), length_s, (other if second_half else root,), strength)


def organ_notes(score: Score, part: Part) -> Iterator[Note]:
    """Hold the organ on each chord of a part."""
    if "organ" not in part.written:
        return
    for bar, names in enumerate(part.chords):
        beats = score.beats_per_bar / len(names)
        for k, name in enumerate(names):
            beat = part.at + bar * score.beats_per_bar + k * beats
            yield Note("organ", score.second(beat), beats * score.beat_s, score.chords[name])


def landmarks(score: Score) -> dict[str, Any]:
    """Return where the song's beats, downbeats, eights and phrases begin, its first count and its end. [s]

    A part of fewer than eight counts holds no eight, the intro no phrase. Beats end on the last chord.
    """
    last = score.parts[-1].at
    counted = [part for part in score.parts[:-1] if part.counts >= 8]
    eights = [part.at + k for part in counted for k in range(0, part.counts, 8)]
    phrases = [part.at for part in counted if "melody" in part.written]
    return {
        "title": score.title,
        "beats": [score.second(b) for b in range(last + 1)],
        "downbeats": [score.second(b) for b in range(0, last + 1, score.beats_per_bar)],
        "eights": [score.second(b) for b in eights],
        "phrases": [score.second(b) for b in phrases],
        "first_count": score.second(phrases[0]),
        "end": score.second(score.beats),
        "tempo": 60.0 / score.beat_s,
        "metre": score.beats_per_bar,
    }
