"""From notes to sound: each player has a sound font or an instrument of arithmetic, then come studio and room.

Sound is mono float32 at ``RATE_HZ``.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any

import numpy as np
from band import PLAYERS
from styles import DRUM_KEYS
from synths import ENGINES, RATE_HZ, by_instrument, by_machine, machine_drum, sampled
from voice import crowd, sung, talked, word

from studio import convolved, driven, echoes, finished, gated, loudness, opened, passed, pumped, room, swept

if TYPE_CHECKING:
    from band import Played, Score
    from numpy.random import Generator
    from numpy.typing import NDArray

    Samples = NDArray[np.float32]

__all__ = ["RATE_HZ", "convolved", "font", "machine_drum", "played"]
LEVELS = {
    "bass": 1.0,
    "comp": 0.75,
    "lead": 0.95,
    "pad": 0.5,
    "broken": 0.6,
    "second": 0.6,
    "lead2": 0.9,
    "comp2": 0.75,
}
SUNG = ("lead", "lead2", "second")
KITS = (0, 8, 16, 24, 25, 32, 40)
STAND_INS = (0, 4, 24)  # who plays when a font has not the one that is wanted
BY_KIND = {  # how likely each way to sound is: the font, or an engine
    "acoustic": {"font": 0.86, "plucked": 0.06, "wavy": 0.05, "bells": 0.03},
    "electronic": {"font": 0.3, "filtered": 0.42, "bells": 0.12, "wavy": 0.08, "plucked": 0.03, "chip": 0.05},
    "made": {"wavy": 0.4, "filtered": 0.3, "bells": 0.15, "plucked": 0.15},
    "chip": {"chip": 0.85, "filtered": 0.1, "bells": 0.05},
}


@cache
def font(path: str) -> Any:
    """Return a synthesiser with a sound font loaded."""
    import tinysoundfont

    synth = tinysoundfont.Synth(gain=-8, samplerate=RATE_HZ)
    synth.sfload(path)
    return synth


def choose(synth: Any, channel: int, bank: int, programs: list[int]) -> None:
    """Give a channel the first of the programs that the font has."""
    for program in programs:
        try:
            synth.program_select(channel, 0, bank, program, bank == 128)
        except RuntimeError:
            continue
        return


def by_font(synth: Any, notes: list[tuple[float, float, int, int, float]], length_s: float) -> Samples:
    """Return notes (second, seconds, channel, key, strength) as the font plays them."""
    events = sorted(
        [(at, 1, channel, key, strength) for at, _, channel, key, strength in notes]
        + [(at + length, 0, channel, key, 0.0) for at, length, channel, key, _ in notes]
    )
    synth.sounds_off()
    out = np.zeros(round(length_s * RATE_HZ), np.float32)
    done = 0
    for at, on, channel, key, strength in events:
        here = min(len(out), max(done, round(at * RATE_HZ)))
        if here > done:
            stereo = np.frombuffer(bytes(synth.generate(here - done)), np.float32)
            out[done:here] = 0.5 * (stereo[::2] + stereo[1::2])
            done = here
        if on:
            synth.noteon(channel, int(np.clip(key, 0, 127)), int(np.clip(strength * 105, 1, 127)))
        else:
            synth.noteoff(channel, int(np.clip(key, 0, 127)))
    if done < len(out):
        stereo = np.frombuffer(bytes(synth.generate(len(out) - done)), np.float32)
        out[done:] = 0.5 * (stereo[::2] + stereo[1::2])
    synth.sounds_off()
    return out


class _Mix:
    """One song on its way from notes to sound."""

    def __init__(self, score: Score, rng: Generator, fonts: tuple[str, ...], *, made_up: float) -> None:
        self.score, self.rng = score, rng
        self.length_s = score.length_s
        self.synths = [font(fonts[int(k)]) for k in rng.integers(len(fonts), size=2)]
        kind = rng.random()
        made = kind < 0.12 * (made_up > 0)
        self.kind = "made" if made else "electronic" if score.electronic else "acoustic"
        genre = score.truth.style.partition(" ")[2]
        if (
            score.truth.style == "chip"
            or (genre == "chip" and rng.random() < 0.6)
            or (score.electronic and rng.random() < 0.05)
        ):
            self.kind = "chip"
        self.tracker = bool(made_up > 0 and rng.random() < (0.6 if genre == "module" else 0.13))
        self.level = {p: LEVELS[p] * float(rng.uniform(0.5, 1.3)) for p in PLAYERS}
        self.octave = int(rng.choice([-12, 0, 0, 0, 12])) if not score.sung else 0
        odds = BY_KIND[self.kind]
        self.engine = {p: str(rng.choice(list(odds), p=list(odds.values()))) for p in PLAYERS}
        if not made_up:
            self.engine = dict.fromkeys(PLAYERS, "font")
        self.apart = {"comp", "lead"} if score.crunch else set()
        self.beats = score.truth.beats

    def notes_of(self, player: str) -> list[Played]:
        if self.score.sung and player in SUNG:
            return []
        return [n for n in self.score.notes if n.player == player]

    def in_font(self, players: list[str], synth: Any) -> Samples:
        """Return some players together as a font plays them."""
        for channel, player in enumerate(players):
            choose(synth, channel, 0, [self.score.programs[player], *STAND_INS])
        notes = [
            (n.at_s, n.length_s, channel, n.pitch + self.octave * (p == "lead"), n.strength * self.level[p])
            for channel, p in enumerate(players) for n in self.notes_of(p)
        ]  # fmt: skip
        return by_font(synth, notes, self.length_s)

    def in_arithmetic(self, player: str) -> Samples:
        """Return a player on a made-up instrument."""
        rng = self.rng
        name = self.engine[player] if self.engine[player] != "font" else str(rng.choice(list(ENGINES)))
        made = ENGINES[name](rng, player)
        if self.tracker:
            made = sampled(rng, made)
        return by_instrument(made, self.notes_of(player), self.length_s) * np.float32(self.level[player])

    def coloured(self, player: str, x: Samples) -> Samples:
        """Return a player's sound with the effects that are his alone."""
        rng, beat = self.rng, self.score.beat_s
        electronic = self.kind in ("electronic", "chip")
        if player in self.apart and (player == "comp" or self.score.programs["lead"] in (29, 30)):
            x = driven(rng, x) * np.float32(0.12)
        if player != "bass" and rng.random() < (0.4 if electronic else 0.1):
            gap = beat * float(rng.choice([0.25, 0.5, 0.75, 0.75, 1.0, 1 / 3, 1.5]))
            x = echoes(x, gap, float(rng.uniform(0.3, 0.7)), float(rng.uniform(0.2, 0.7)))
        if player == "pad" and electronic and rng.random() < 0.25 and len(self.beats) > 8:
            x = gated(rng, x, self.beats)
        if electronic and rng.random() < 0.2:
            x = swept(x, rng)
        return x

    def music(self) -> Samples:
        """Return all players but drums and singers."""
        rng = self.rng
        total = np.zeros(round(self.length_s * RATE_HZ), np.float32)
        busy = [p for p in PLAYERS if self.notes_of(p)]
        alone = [p for p in busy if self.engine[p] != "font" or self.tracker]
        own = [
            p
            for p in busy
            if p not in alone and (p in self.apart or (self.kind == "electronic" and rng.random() < 0.4))
        ]
        together = [p for p in busy if p not in alone and p not in own]
        for k, synth in enumerate(self.synths):
            group = [
                p for i, p in enumerate(together) if (i % 2 == k if self.synths[0] is not self.synths[1] else k == 0)
            ]
            if group:
                total += self.in_font(group, synth)
        for p in own:
            total += self.coloured(p, self.in_font([p], self.synths[0]))
        for p in alone:
            total += self.coloured(p, self.in_arithmetic(p))
        return total

    def drums(self) -> Samples:
        """Return the drums: of a font, of a machine, or of both."""
        rng, score = self.rng, self.score
        strokes = [n for n in score.notes if n.player not in PLAYERS and n.player in DRUM_KEYS]
        machine = self.kind != "acoustic" or self.tracker
        both = rng.random() < 0.15
        x = np.zeros(round(self.length_s * RATE_HZ), np.float32)
        if machine or both:
            x += 0.22 * by_machine(rng, strokes, self.length_s, coarse=self.tracker)
        if not machine or both:
            synth = self.synths[0]
            choose(synth, 9, 128, [int(rng.choice(KITS)), 0])
            x += by_font(
                synth, [(n.at_s, n.length_s, 9, DRUM_KEYS[n.player], n.strength) for n in strokes], self.length_s
            )
        if rng.random() < 0.15:
            x = room(rng, x, 0.7)
        if rng.random() < 0.15 and loudness(x) > 1e-6:
            drive = float(rng.uniform(1, 5)) / (4 * loudness(x))
            x = (np.tanh(x * np.float32(drive)) * np.float32(3 * loudness(x))).astype(np.float32)
        return x

    def around(self, x: Samples) -> Samples:
        """Return the song with what is no music: talk, noise, people, rushing build-ups, counting in."""
        rng, score, loud = self.rng, self.score, loudness(x)
        if score.opening and score.opening[2] != "free":
            a, b = (int(s * RATE_HZ) for s in score.opening[:2])
            makers = {
                "talk": talked,
                "crowd": crowd,
                "noise": lambda r, m: passed(
                    r.standard_normal(m).astype(np.float32), high_hz=float(r.uniform(500, 5000))
                ),
            }
            y = makers[score.opening[2]](rng, max(2000, b - a))
            y *= np.float32(rng.uniform(0.2, 1.2) * loud / loudness(y))
            x[a : a + len(y)] += y[: len(x) - a]
        for start, end in score.rises:
            if self.kind == "electronic" and rng.random() < 0.7:
                a, b = int(start * RATE_HZ), min(len(x), int(end * RATE_HZ))
                y = np.diff(rng.standard_normal(max(1, b - a)), prepend=0.0) * np.linspace(0, 1, max(1, b - a)) ** 2
                x[a : a + len(y)] += (y * loud * rng.uniform(0.1, 0.6)).astype(np.float32)
        for n in score.notes:
            if n.player == "voice":
                y = word(rng, n.length_s * 1.5)
                a = int(n.at_s * RATE_HZ)
                x[a : a + len(y)] += (y * 0.8 * loud / loudness(y))[: max(0, len(x) - a)].astype(np.float32)
        if score.crowd_from is not None:
            a = int(max(0.0, score.crowd_from) * RATE_HZ)
            y = crowd(rng, max(2000, len(x) - a))
            x[a:] += (y * rng.uniform(0.5, 1.5) * loud / loudness(y))[: len(x) - a].astype(np.float32)
        if rng.random() < 0.03:
            y = talked(rng, len(x)) if rng.random() < 0.5 else crowd(rng, len(x))
            x += y * np.float32(rng.uniform(0.05, 0.3) * loud / loudness(y))
        return x

    def whole(self) -> Samples:
        rng, score = self.rng, self.score
        music, beat = self.music(), self.drums()
        if self.kind == "electronic" and score.kicks and rng.random() < 0.75:
            music = pumped(music, score.kicks, float(rng.uniform(0.3, 0.95)), float(rng.uniform(0.05, 0.25)))
        if self.kind == "electronic" and rng.random() < 0.25:
            music = swept(music, rng)
        if score.rises and self.kind == "electronic" and rng.random() < 0.6:
            music = opened(music, score.rises, rng)
        if score.sung:
            voice = sung(rng, [n for n in score.notes if n.player in SUNG], self.length_s)
            if rng.random() < 0.4:
                voice = room(rng, voice, 1.8)
            if rng.random() < 0.3:
                voice = echoes(
                    voice, score.beat_s * float(rng.choice([0.5, 0.75, 1.0])), 0.4, float(rng.uniform(0.15, 0.4))
                )
            if loudness(voice) > 1e-6:
                music = music + voice * np.float32(
                    rng.uniform(0.5, 1.8) * max(loudness(music), 0.3 * loudness(beat)) / loudness(voice)
                )
        balance = (
            float(np.exp(rng.uniform(np.log(0.3), np.log(1.9))))
            * max(loudness(music), 1e-4)
            / max(1e-6, loudness(beat))
        )
        mix = music + np.float32(balance if loudness(music) > 1e-5 else 1.0) * beat
        return finished(rng, self.around(mix), score.fade)


def played(score: Score, rng: Generator, fonts: tuple[str, ...], *, made_up: float = 1.0) -> Samples:
    """Return the score as sound, its players, room and studio drawn at random.

    made_up : 0 for the sound font alone, as in testing with a font unseen
    """
    return _Mix(score, rng, fonts, made_up=made_up).whole()
