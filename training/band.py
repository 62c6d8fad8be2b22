"""From a plan to the notes of a band at seconds, and the truth about them.

Seconds count from the start of the sound. Humanised: players are late and early by some milliseconds, strokes differ.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np
from grooves import stabs
from loops import play
from pieces import play as play_piece
from styles import BELLS, DRUM_KEYS, PADS, PIPES, STRINGS, STYLES, SYNTH_LEAD, Style

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from tunes import Plan, Section

    FloatArray = NDArray[np.float64]

STRENGTH = {"x": 1.0, "X": 1.0, "o": 0.62, "g": 0.32}
PLAYERS = ("bass", "comp", "lead", "pad", "broken", "second", "lead2", "comp2")
RANKS = (0, 2, 4, 7, 9, 11, 14)  # chord notes from low to high
STEPS = {"r": 0, "2": 1, "3": 2, "4": 3, "5": 4, "6": 5, "7": 6, "8": 7}
HOW_OFTEN = [0.5, 0.38, 0.12]  # chords, broken chords, both
BESIDE = ("third", "sixth", "octave", "echo", "long", "turn")


@dataclass(slots=True)
class Played:
    """One sound: drums have the name of the drum as player and pitch 0."""

    at_s: float
    length_s: float
    player: str
    pitch: int
    strength: float


@dataclass
class Truth:
    """What is true of a song. ``beats`` with, for each, whether a bar, an eight or a phrase begins there. [s]"""

    style: str
    metre: int
    bpm: float
    beats: FloatArray
    downbeats: FloatArray
    eights: FloatArray
    phrases: FloatArray
    first_count: float
    end: float
    seed: int = 0
    extras: int = 0


@dataclass
class Score:
    """All notes, the programs of the players, and the truth."""

    notes: list[Played]
    programs: dict[str, int]
    truth: Truth
    length_s: float
    electronic: bool
    sung: bool
    kicks: list[float] = field(default_factory=list)
    fade: tuple[float, float] | None = None
    crunch: bool = False  # guitars are distorted
    beat_s: float = 0.5
    opening: tuple[float, float, str] | None = None  # seconds and kind of what comes before the beat
    rises: list[tuple[float, float]] = field(default_factory=list)  # seconds of build-ups
    crowd_from: float | None = None  # from when people clap


class _Band:
    def __init__(self, plan: Plan) -> None:
        self.plan, self.style = plan, plan.ways
        self.rng = np.random.default_rng([plan.seed, 77])
        self.notes: list[Played] = []
        self.kicks: list[float] = []
        self.rises: list[tuple[float, float]] = []
        self.total = sum(s.beats for s in plan.sections)
        self.before = max(plan.count_in, plan.pickup)
        self.place_beats()
        rng = self.rng
        self.drum_sets = [self.changed(self.style.drums[int(rng.integers(len(self.style.drums)))]) for _ in range(2)]
        self.other_bars = [self.changed(d) if rng.random() < 0.45 else d for d in self.drum_sets]
        self.other_every = int(rng.choice([2, 2, 4]))
        other = self.borrowed()
        self.spans = (self.style.span, other.span)
        self.bass = [str(rng.choice(other.bass)) for _ in range(2)]
        self.chords = [str(rng.choice(other.chords)) for _ in range(2)]
        self.bass2 = [str(rng.choice(other.bass)) if rng.random() < 0.3 else line for line in self.bass]
        self.chords2 = [str(rng.choice(other.chords)) if rng.random() < 0.3 else line for line in self.chords]
        self.broken = str(rng.choice(self.style.broken)) if self.style.broken and rng.random() < 0.6 else ""
        self.electronic = rng.random() < self.style.electronic
        self.sung = rng.random() < 0.45
        self.push = float(rng.choice([0.0, 0.15, 0.6], p=[0.7, 0.15, 0.15]))
        self.small_fills = float(rng.choice([0.0, 0.15, 0.5]))
        self.hits = stabs(rng, 8 if plan.metre == 4 else 6, 2, held=False)
        self.hit_every, self.hit_drum = (
            int(rng.choice([1, 2, 2, 4])),
            str(rng.choice(["kick", "crash", "tom", "bell", "rim", "clap", "none"])),
        )
        self.wander = self.wandering()
        self.crunch = rng.random() < self.style.crunch or (
            not self.electronic and not self.style.bare > 0.4 and rng.random() < 0.06
        )
        self.late = {name: rng.normal(0, plan.late_ms / 2000) for name in (*PLAYERS, "drums")}
        self.fill_beats = int(rng.choice([1, 1, 2, plan.metre]))
        self.second, self.pad, self.shaker = rng.random(3) < (0.4, 0.6, 0.3)
        self.composed()

    def composed(self) -> None:
        """Draw what only composed songs have: registers, chords led on, touch, a part beside the tune."""
        plan, rng = self.plan, np.random.default_rng([self.plan.seed, 78])
        made, self.many = plan.made, plan.style.startswith(("composed", "loops", "piece"))
        self.lead_low = int(rng.choice([48, 55, 60, 67, 72])) if made else 60
        self.bass_low = int(rng.choice([24, 28, 31, 36])) if made else 28
        self.comp_low = int(rng.choice([48, 53, 57, 60])) if made else 53
        self.voiced = made and bool(rng.random() < 0.7)
        self.touch = float(rng.choice([0.35, 0.6, 0.93, 1.05])) if made else 0.93
        self.flat = made and bool(rng.random() < 0.25)
        self.accent = float(rng.choice([0.0, 0.15, 0.35, -0.15], p=[0.55, 0.2, 0.15, 0.1])) if made else 0.0
        self.beside = str(rng.choice(BESIDE)) if made else "third"
        self.echo = (0.5, 0.75, 1.0, plan.metre, plan.metre)[plan.seed % 5]  # beats by which an echo is late
        self.turn = [int(x) for x in rng.integers(-2, 8, 16)]
        self.turn_grid = float(rng.choice([0.25, 0.5, 0.5, 1.0]))
        self.turn_plays = rng.random(16) < rng.uniform(0.4, 1.0)
        self.last_voices = [self.comp_low, self.comp_low + 4, self.comp_low + 7]
        self.how = [str(h) for h in rng.choice(["chords", "broken", "both"], size=2, p=[0.5, 0.38, 0.12])]
        self.broken2 = [str(b) for b in rng.choice(self.style.broken, size=2)] if self.many else []
        self.hymn = self.many and bool(rng.random() < 0.12)  # all parts move with the tune
        self.textures = self.drawn_textures(rng)
        self.second = self.second or (self.many and bool(rng.random() < 0.4))

    def drawn_textures(self, rng: np.random.Generator) -> dict[str, tuple[str, str, str, str]]:
        """Return bass, chords, broken chords and which of the two, for each kind of section, where they differ so."""
        if not self.many or rng.random() < 0.4:
            return {}
        return {
            kind: (str(rng.choice(self.style.bass)), str(rng.choice(self.style.chords)),
                   str(rng.choice(self.style.broken)), str(rng.choice(["chords", "broken", "both"], p=HOW_OFTEN)))
            for kind in "vcabpio"
        }  # fmt: skip

    def voices(self, degree: int, lift: int, low: int) -> list[int]:
        """Return the notes of a chord: from its root, or as near as can be to those before."""
        if not self.voiced:
            return [self.tone(degree + step, lift, low) for step in (0, 2, 4)]
        tones = [self.tone(degree + step, lift, low) for step in (0, 2, 4)]
        found = sorted(near + 12 * round((old - near) / 12) for near, old in zip(tones, self.last_voices, strict=True))
        middle = sum(found) / 3
        shift = -12 if middle > low + 14 else 12 if middle < low - 2 else 0
        self.last_voices = [v + shift for v in found]
        return self.last_voices

    def wandering(self) -> dict[str, FloatArray]:
        """Return how far ahead or behind each player is, beat by beat: slowly changing. [s]"""
        n, found = len(self.times) + 8, {}
        for name in (*PLAYERS, "drums"):
            steps = self.rng.normal(0, 1, n)
            for k in range(1, n):
                steps[k] = 0.9 * steps[k - 1] + 0.44 * steps[k]
            found[name] = steps * self.plan.late_ms / 2000 * (0.4 if name == "drums" else 1.0)
        return found

    def part(self, line: str, bar: int, *, span: int = 1) -> str:
        """Return what a line has for a bar: long lines last two bars."""
        most = 4 * self.plan.metre
        span = span if span > 1 else 1 + (len(line) > most)
        n = len(line) // span
        return line[(bar % span) * n : (bar % span + 1) * n]

    def borrowed(self) -> Style:
        """Return the style whose bass and chords are used: most often its own."""
        if self.rng.random() > 0.15:
            return self.style
        near = [
            s for s in STYLES.values() if s.metre == self.style.metre and abs(s.swing[0] - self.style.swing[0]) < 0.05
        ]
        return near[int(self.rng.integers(len(near)))]

    def changed(self, pattern: dict[str, str]) -> dict[str, str]:
        """Return drums with a stroke more or less here and there, or another player on the cymbals."""
        rng, out = self.rng, dict(pattern)
        if rng.random() < 0.3:
            old = next((d for d in ("hat", "ride", "shaker", "tamb", "open") if d in out), None)
            if old:
                out[str(rng.choice(["hat", "ride", "shaker", "tamb", "cabasa", "pedal"]))] = out.pop(old)
        if rng.random() < 0.25 and "snare" in out:
            out[str(rng.choice(["rim", "clap", "tamb"]))] = out.pop("snare")
        for name, line in list(out.items()):
            if rng.random() < 0.3 and len(line):
                k = int(rng.integers(len(line)))
                out[name] = line[:k] + str(rng.choice([".", "o", "g"] if k else ["x"])) + line[k + 1 :]
        return out

    def place_beats(self) -> None:
        """Set the seconds of every beat from ``-before`` to one bar after the end."""
        plan, rng = self.plan, self.rng
        n = self.before + self.total + 2 * plan.metre
        speed = np.ones(n)
        if plan.drift:
            walk = np.cumsum(rng.normal(0, 1, n))
            walk -= np.linspace(0, walk[-1], n)
            speed += plan.drift * (
                0.6 * walk / max(1e-9, np.abs(walk).max()) + 0.4 * np.sin(np.linspace(0, rng.uniform(1, 6), n))
            )
            speed *= 1 + rng.normal(0, plan.drift / 8, n)
        at = self.before
        for section in plan.sections:
            last = at + section.beats
            speed[at:last] *= section.tempo
            if section.slowing:
                speed[last - plan.metre : last] *= np.linspace(0.97, 0.8, plan.metre)
            speed[last - 1] /= section.hold
            at = last
        speed[: self.before] *= plan.sections[0].tempo
        speed[at:] *= plan.sections[-1].tempo
        if plan.ending == "slowing":
            last = self.before + self.total
            speed[last - plan.metre : last] *= np.linspace(0.95, 0.7, plan.metre)
        gaps = 60 / plan.bpm / speed
        self.times = plan.silence_s + plan.opening_s + np.concatenate([[0], np.cumsum(gaps)])

    def at(self, beat: float) -> float:
        """Return the second of a place in beats, swung."""
        whole, part = np.floor(beat + 1e-9), (beat + 1e-9) % 1
        s = self.plan.swing
        part = 2 * s * part if part < 0.5 else s + (part - 0.5) * 2 * (1 - s)
        return float(np.interp(whole + part + self.before, np.arange(len(self.times)), self.times))

    def add(self, player: str, beat: float, beats: float, pitch: int, strength: float) -> None:
        """Let a player play."""
        kind = player if player in PLAYERS else "drums"
        wobble = self.rng.normal(0, self.plan.late_ms / 1000)
        wobble += float(self.wander[kind][max(0, min(int(beat) + self.before, len(self.times)))])
        at = max(0.0, self.at(beat) + self.late[kind] + wobble)
        length = max(0.05, self.at(beat + beats) - self.at(beat))
        if self.accent and abs(beat % 1) < 0.02:
            strength *= 1 + self.accent * (round(beat) % self.plan.metre == 0)
        even = (0.97, 1.0) if self.flat else (0.82, 1.12)
        strength = float(np.clip(strength * self.rng.uniform(*even), 0.05, 1.2))
        self.notes.append(Played(at, length, player, pitch, strength))
        if player in ("kick", "bassdrum"):
            self.kicks.append(at)

    def tone(self, step: int, lift: int, low: int) -> int:
        """Return the MIDI number of a scale step above the key, the tonic being at or above ``low``."""
        scale = self.plan.scale
        tonic = low + (self.plan.key - low) % 12
        return tonic + lift + 12 * (step // 7) + scale[step % 7]

    def section(self, section: Section, start: int, number: int) -> None:
        metre = self.plan.metre
        if section.crash and section.drums and start > 0:
            self.add("crash", start, 2, 0, section.loud)
        held_back = self.fill_beats if section.fill else 0
        if section.build:
            self.build_up(section, start)
        if section.sparse:
            self.ambience(section, start)
            return
        quiet_from = section.beats - held_back
        thin = section.extra and self.rng.random() < 0.3  # in the extra counts only some go on
        looped = self.plan.loops is not None or self.plan.piece is not None
        if self.plan.loops is not None:
            play(self, section, start, number, quiet_from)
        if self.plan.piece is not None:
            play_piece(self, section, start, quiet_from)
        for bar, first in enumerate(() if looped else range(0, section.beats, metre)):
            beats = min(metre, section.beats - first)
            in_extra = thin and first >= section.beats - section.extra
            self.bar(section, start + first, beats, bar, start + quiet_from, number, thin=bool(in_extra))
        heard = section.led and (self.plan.loops is None or self.plan.loops.sung)
        for at, beats, step in section.melody if heard else ():
            self.sing(section, start + at, beats, step)
            if self.hymn and section.comp:
                self.in_chords(section, start, at, beats)
        self.fill(section, start + section.beats, held_back)

    def sing(self, section: Section, beat: float, beats: float, step: int) -> None:
        """Play a note of the tune."""
        if beat < -self.before:
            return
        pitch = self.tone(step, section.lift, self.lead_low)
        self.add("lead2" if section.other else "lead", beat, beats * self.touch, pitch, section.loud)
        if self.second and (section.layers > 1 or self.many):
            moves = {"third": (-2, 0.0), "sixth": (-5, 0.0), "octave": (-7, 0.0), "echo": (0, self.echo)}
            if self.beside in moves:
                by, late = moves[self.beside]
                self.add(
                    "second",
                    beat + late,
                    beats * self.touch,
                    self.tone(step + by, section.lift, self.lead_low),
                    0.7 * section.loud,
                )

    def in_chords(self, section: Section, start: int, at: float, beats: float) -> None:
        """Play the chord under a note of the tune, as long as it: bass and middle parts move with it."""
        metre = self.plan.metre
        degree = self.chord(section, max(0, int(at // metre)), (at % metre) / metre if at >= 0 else 0.0)
        if start + at < -self.before:
            return
        for k, pitch in enumerate(self.voices(degree, section.lift, self.comp_low)):
            self.add("comp", start + at, beats * self.touch, pitch, (0.7 - 0.05 * k) * section.loud)
        if section.bass:
            step = degree + (0, 0, 2, 4)[int(self.rng.integers(4))] * (at % metre != 0)
            self.add("bass", start + at, beats * self.touch, self.tone(step, section.lift, self.bass_low), section.loud)

    def chord(self, section: Section, bar: int, place: float) -> int:
        """Return the degree of the chord at a place in a bar, 0 to 1."""
        if self.plan.loops is not None:
            return self.plan.loops.degree(section, bar)
        chords = section.chords[min(bar, len(section.chords) - 1)]
        return chords[int(place * len(chords))]

    def bar(
        self, section: Section, start: int, beats: int, bar: int, quiet_from: float, number: int, *, thin: bool
    ) -> None:
        metre = self.plan.metre
        which = int(section.kind in "cb")
        if section.struck and bar < 4:
            self.strike(section, start, bar)
            return
        plays = self.drum_sets[which] if bar % self.other_every != self.other_every - 1 else self.other_bars[which]
        for name, whole in plays.items() if section.drums and not (thin and number % 2) else ():
            if (section.drums < 0.8 and name in ("snare", "crash", "clap")) or (
                section.build and name in ("kick", "bassdrum") and self.electronic
            ):
                continue
            line = self.part(whole, bar, span=self.spans[0])
            for place, letter in enumerate(line):
                at = place * metre / len(line)
                if letter in STRENGTH and at < beats and start + at < quiet_from:
                    self.add(name, start + at, 0.3, 0, STRENGTH[letter] * section.loud)
        if self.shaker and section.layers > 1 and section.drums:
            for k in range(2 * beats):
                self.add("tamb", start + k / 2, 0.3, 0, (0.7, 0.4)[k % 2] * section.loud)
        stop_at = quiet_from if section.fill == "stop" else np.inf
        low, chords = (self.bass2 if bar % 2 else self.bass)[which], (self.chords2 if bar % 2 else self.chords)[which]
        how, broken = (self.how[which], self.broken2[which]) if self.many else ("chords", "")
        low, chords, broken, how = self.textures.get(section.kind, (low, chords, broken, how))
        moved = self.hymn and section.led and bool(section.melody)  # then they move with the tune
        if section.bass and not moved and not (thin and number % 2 == 0):
            self.low(section, start, beats, bar, stop_at, self.part(low, bar, span=self.spans[1]))
        if section.comp and not moved and how != "chords":
            self.break_up(section, start, beats, bar, stop_at, self.part(broken, bar))
        if section.comp and not moved and how != "broken":
            self.comp(section, start, beats, bar, stop_at, self.part(chords, bar, span=self.spans[1]))
        if section.drums and bar % 4 == 3 and start + beats < quiet_from and self.rng.random() < self.small_fills:
            for k in range(int(self.rng.integers(2, 5))):
                self.add(
                    str(self.rng.choice(["snare", "snare", "tom", "kick"])),
                    start + beats - 0.25 * (k + 1),
                    0.2,
                    0,
                    0.7 * section.loud,
                )
        if self.broken and (section.layers or section.kind == "o"):
            self.break_up(section, start, beats, bar, stop_at, self.broken)
        if self.beside in ("long", "turn") and (self.second or not section.led) and section.layers:
            self.beside_tune(section, start, beats, bar, stop_at)
        if self.pad and section.layers:
            degree = self.chord(section, bar, 0.0)
            for step in (0, 2, 4):
                if start < stop_at:
                    self.add(
                        "pad", start, beats * 0.98, self.tone(degree + step, section.lift, 60), 0.55 * section.loud
                    )

    def low(self, section: Section, start: int, beats: int, bar: int, stop_at: float, line: str) -> None:
        """Play the bass of a bar."""
        metre = self.plan.metre
        for place, letter in enumerate(line):
            at = place * metre / len(line)
            if letter in ".-" or at >= beats or start + at >= stop_at:
                continue
            degree = self.chord(section, bar, place / len(line))
            rest = len(line[place + 1 :]) - len(line[place + 1 :].lstrip(".-"))
            coming = self.chord(section, bar + 1, 0.0)
            step = coming - 1 if letter == "a" else 0 if letter == "t" else degree + STEPS[letter]
            pitch = self.tone(step, section.lift, self.bass_low)
            pitch -= 12 if pitch > self.bass_low + 18 and letter in "5a6" else 0
            early = 0.5 * (at == 0 and start > 0 and self.rng.random() < self.push)
            self.add(
                "bass",
                start + at - early,
                early + (1 + min(rest, len(line) // metre)) * metre / len(line) * 0.92,
                pitch,
                section.loud,
            )

    def comp(self, section: Section, start: int, beats: int, bar: int, stop_at: float, line: str) -> None:
        """Play the chords of a bar."""
        metre = self.plan.metre
        for place, letter in enumerate(line):
            at = place * metre / len(line)
            if letter not in STRENGTH or at >= beats or start + at >= stop_at:
                continue
            degree = self.chord(section, bar, place / len(line))
            rest = len(line[place + 1 :]) - len(line[place + 1 :].lstrip("."))
            length = (1 + rest) * metre / len(line) * 0.97 if letter == "X" else 0.8 * metre / len(line)
            early = 0.5 * (at == 0 and start > 0 and self.rng.random() < self.push)
            crunched = [self.tone(degree + step, section.lift, 41) for step in (0, 4, 7)] if self.crunch else None
            for k, pitch in enumerate(crunched or self.voices(degree, section.lift, self.comp_low)):
                self.add(
                    "comp2" if section.other and not self.crunch else "comp",
                    start + at - early,
                    length + early,
                    pitch,
                    (0.8 - 0.05 * k) * STRENGTH[letter] * section.loud,
                )

    def break_up(self, section: Section, start: int, beats: int, bar: int, stop_at: float, line: str) -> None:
        """Play the chords of a bar note by note."""
        metre = self.plan.metre
        for place, letter in enumerate(line):
            at = place * metre / len(line)
            if letter != "." and at < beats and start + at < stop_at:
                degree = self.chord(section, bar, place / len(line))
                step = degree + RANKS[int(letter)]
                self.add(
                    "broken",
                    start + at,
                    1.5 * metre / len(line),
                    self.tone(step, section.lift, self.comp_low + 2),
                    0.7 * section.loud,
                )

    def beside_tune(self, section: Section, start: int, beats: int, bar: int, stop_at: float) -> None:
        """Play what goes beside the tune: a long note a bar, or a turn of its own that comes again and again."""
        degree = self.chord(section, bar, 0.0)
        if self.beside == "long":
            if start < stop_at:
                pitch = self.tone(degree + (4, 2, 7, 0)[bar % 4], section.lift, self.lead_low - 5)
                self.add("second", start, beats * self.touch, pitch, 0.7 * section.loud)
            return
        span = 1 if self.plan.seed % 2 else 2
        for k in range(int(beats / self.turn_grid)):
            n = (k + (bar % span) * int(self.plan.metre / self.turn_grid)) % 16
            at = start + k * self.turn_grid
            if self.turn_plays[n] and at < stop_at:
                step = self.turn[n] + (degree if self.plan.seed % 3 else 0)
                self.add(
                    "second",
                    at,
                    self.turn_grid * 0.9,
                    self.tone(step, section.lift, self.lead_low),
                    0.65 * section.loud,
                )

    def strike(self, section: Section, start: int, bar: int) -> None:
        """Let the band strike the first beat of a bar and leave the rest to the tune."""
        degree = self.chord(section, bar, 0.0)
        for k, step in enumerate((0, 2, 4)):
            self.add("comp", start, 0.5, self.tone(degree + step, section.lift, 53), 0.9 - 0.05 * k)
        self.add("bass", start, 0.5, self.tone(degree, section.lift, 28), 0.9)
        if section.drums:
            self.add("kick", start, 0.3, 0, 0.9)
            self.add("snare", start, 0.3, 0, 0.7)

    def ambience(self, section: Section, start: int) -> None:
        """Play long chords and a stroke now and then."""
        metre = self.plan.metre
        for bar, first in enumerate(range(0, section.beats, metre)):
            beats = min(metre, section.beats - first)
            degree = self.chord(section, bar - bar % 2, 0.0)
            if bar % 2 == 0:
                for step in (0, 2, 4):
                    self.add(
                        "pad",
                        start + first,
                        1.98 * metre,
                        self.tone(degree + step, section.lift, 57),
                        0.7 * section.loud,
                    )
                if section.bass:
                    self.add(
                        "bass", start + first, 1.9 * metre, self.tone(degree, section.lift, 28), 0.7 * section.loud
                    )
            for place, letter in enumerate(self.hits):
                at = place * metre / len(self.hits)
                if letter != "." and at < beats and (bar % self.hit_every == 0 or self.rng.random() < 0.2):
                    self.add(
                        "broken",
                        start + first + at,
                        0.7,
                        self.tone(degree + (0, 2, 4, 7)[place % 4], section.lift, 62),
                        section.loud,
                    )
            if self.hit_drum != "none" and bar % self.hit_every == 0:
                self.add(self.hit_drum, start + first, 1.0, 0, section.loud)

    def build_up(self, section: Section, start: int) -> None:
        """Roll faster and louder towards the next section."""
        end, metre = start + section.beats, self.plan.metre
        self.rises.append((self.at(start), self.at(end)))
        drum = "snare" if self.rng.random() < 0.6 else "clap"
        at = float(end - min(section.beats, 4 * metre))
        while at < end:
            left = end - at
            self.add(drum, at, 0.2, 0, section.loud * (0.4 + 0.6 * (1 - left / (4 * metre))))
            at += 1.0 if left > 2 * metre else 0.5 if left > metre else 0.25

    def fill(self, section: Section, end: int, beats: int) -> None:
        """Roll into the next phrase."""
        if section.fill == "hit":
            for at in (end - 1.5, end - 0.5) if self.plan.seed % 3 else (end - beats, end - beats + 0.5):
                for name in ("kick", "snare"):
                    self.add(name, at, 0.3, 0, 0.9 * bool(section.drums) + 0.1)
                self.add("bass", at, 0.4, self.tone(4, section.lift, 28), 0.9)
        if section.fill == "roll" and section.drums:
            grid = int(self.rng.choice([2, 4, 4, 3]))
            drums = ("snare", "tom") if self.rng.random() < 0.6 else ("snare",)
            for k in range(beats * grid):
                if self.rng.random() < 0.85:
                    name = drums[int(k / (beats * grid) * len(drums))]
                    self.add(name, end - beats + k / grid, 0.2, 0, section.loud * (0.6 + 0.4 * k / (beats * grid)))
        if section.fill == "bass" and section.bass:
            for k in range(beats):
                self.add("bass", end - beats + k, 0.9, self.tone(k - beats, section.lift, 28), section.loud)

    def opening(self) -> None:
        """Play freely, without any beat, before the song."""
        plan = self.plan
        if plan.opening_kind != "free":
            return
        at = plan.silence_s + 0.05
        while at < plan.silence_s + plan.opening_s - 0.6:
            length = float(self.rng.uniform(0.3, 2.5))
            for step in self.rng.choice(8, size=int(self.rng.integers(1, 4)), replace=False):
                player = "pad" if self.rng.random() < 0.5 else "comp"
                self.notes.append(
                    Played(at, length * 1.3, player, self.tone(int(step), 0, 57), float(self.rng.uniform(0.3, 0.8)))
                )
            at += length

    def lead_in(self) -> None:
        """Click the sticks, or play the pickup."""
        for k in range(self.plan.count_in):
            name = {"voice": "voice", "hat": "hat"}.get(self.plan.count_kind, "block" if self.plan.seed % 2 else "rim")
            self.add(name, k - self.plan.count_in, 0.2, 0, 0.8)
        if self.plan.pickup and not self.plan.upbeats:
            for k in range(self.plan.pickup):
                self.add("lead", k - self.plan.pickup, 0.9, self.tone(k, 0, 60), 0.8)

    def close(self) -> bool:
        """Play the last chord; return whether there is one."""
        if self.plan.ending == "fade" or (self.plan.ending == "cold" and self.plan.seed % 2):
            return False
        beats = 0.6 if self.plan.ending == "cold" else 3.0
        for step in (0, 2, 4):
            self.add("comp", self.total, beats, self.tone(step, self.plan.sections[-1].lift, 53), 0.9)
        self.add("bass", self.total, beats, self.tone(0, self.plan.sections[-1].lift, 28), 0.9)
        if self.plan.sections[-1].drums:
            self.add("kick", self.total, 0.3, 0, 0.9)
            self.add("crash", self.total, 0.3, 0, 0.8)
        return True

    def truth(self, *, last: bool, fade: tuple[float, float] | None) -> Truth:
        """Return what is true of the song."""
        plan = self.plan
        starts = np.concatenate([[0], np.cumsum([s.beats for s in plan.sections])]).astype(int)
        bars = [
            b
            for s, first in zip(plan.sections, starts, strict=False)
            for b in range(first, first + s.beats, plan.metre)
        ]
        eights = [
            b
            for s, first in zip(plan.sections, starts, strict=False)
            for b in range(first, first + s.beats, 2 * plan.metre)
        ]
        if plan.count_in:
            bars = list(range(-plan.count_in, 0, plan.metre)) + bars
        if last:
            bars.append(self.total)
        end = float(self.times[self.before + self.total]) if fade is None else fade[1]
        inside = (lambda x: x[x < end - 1.5]) if fade else (lambda x: x)
        times = {b - self.before: t for b, t in enumerate(self.times)}
        beats = self.times[: self.before + self.total + last]
        return Truth(
            plan.style, plan.metre, 60 / float(np.median(np.diff(beats))), inside(beats),
            *(inside(np.array([times[b] for b in x])) for x in (bars, eights, list(starts[:-1]))),
            first_count=float(times[int(starts[plan.first_section])]), end=end, seed=plan.seed,
            extras=sum(s.extra > 0 for s in plan.sections),
        )  # fmt: skip

    def score(self) -> Score:
        plan, rng, style = self.plan, self.rng, self.style
        at = 0
        for number, section in enumerate(plan.sections):
            self.section(section, at, number)
            at += section.beats
        self.opening()
        self.lead_in()
        last = self.close()
        fade = None
        end_s = float(self.times[self.before + self.total])
        if plan.ending == "fade":
            fade = (end_s - float(rng.uniform(6, 14)), end_s)
        programs = {
            "bass": int(rng.choice(style.low)), "comp": int(rng.choice(style.comp)),
            "lead": int(rng.choice(style.lead)), "pad": int(rng.choice(STRINGS + PADS)),
            "broken": int(rng.choice(style.comp + BELLS)), "second": int(rng.choice(style.lead + PIPES)),
            "lead2": int(rng.choice(style.lead)), "comp2": int(rng.choice(style.comp)),
        }  # fmt: skip
        if plan.loops is not None:
            programs |= plan.loops.programs
        elif plan.players:
            programs |= plan.players
        elif self.electronic and rng.random() < 0.5:
            programs["broken"] = int(rng.choice(SYNTH_LEAD))
        length = end_s + (0.3 if fade else float(rng.uniform(1.0, 3.0))) + 4.0 * plan.crowd
        return Score(
            self.notes,
            programs,
            self.truth(last=last, fade=fade),
            length,
            self.electronic,
            self.sung,
            sorted(self.kicks),
            fade,
            crunch=self.crunch,
            beat_s=60 / plan.bpm,
            opening=(plan.silence_s, plan.silence_s + plan.opening_s, plan.opening_kind) if plan.opening_s else None,
            rises=self.rises,
            crowd_from=end_s - float(rng.uniform(0, 2)) if plan.crowd else None,
        )


def score(plan: Plan) -> Score:
    """Return the notes of a plan and its truth."""
    return _Band(plan).score()


def drum_key(name: str) -> int:
    """Return the General MIDI key of a drum."""
    return DRUM_KEYS[name]
