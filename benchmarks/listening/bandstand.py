"""Bandstand: a small generator of songs for the benchmark alone, whose truth is known to the sample.

Neither the model's training nor the tests use it: its instruments, patterns, tunes and forms are its own. Fourteen ways
to play, from clean guitar and hand drums to pumping bass, with swing, 6/8 felt in two, waltzes, playing without drums,
count-ins, pickups, extra counts, breaks, drift, fades, applause, a room, noise, and the sound of a small speaker.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

RATE = 22_050
Array = np.ndarray
SCALES = {"major": (0, 2, 4, 5, 7, 9, 11), "minor": (0, 2, 3, 5, 7, 8, 10), "dorian": (0, 2, 3, 5, 7, 9, 10)}
LOOPS = ((0, 3, 4, 0), (0, 5, 3, 4), (5, 3, 0, 4), (0, 4, 5, 3), (0, 0, 3, 4), (0, 2, 3, 4), (1, 4, 0, 5), (0, 3, 0, 4))


@dataclass(frozen=True)
class Style:
    """How a band plays a bar. Times are beats; drums and comping are lists of (time, loud), bass of (time, degree)."""

    metre: int
    bpm: tuple[float, float]
    kick: tuple[tuple[float, float], ...] = ()
    snare: tuple[tuple[float, float], ...] = ()
    hat: tuple[tuple[float, float], ...] = ()
    extra: tuple[tuple[float, float], ...] = ()
    bass: tuple[tuple[float, int], ...] = ()
    comp: tuple[tuple[float, float], ...] = ()
    swing: float = 0.5
    chord: str = "pluck"
    drive: float = 0.0
    pump: float = 0.0


def even(step: float, n: int, loud: float = 0.6, off: float = 0.0) -> tuple[tuple[float, float], ...]:
    return tuple((off + k * step, loud * (1.0 if k % 2 == 0 else 0.75)) for k in range(n))


BACK = ((1.0, 1.0), (3.0, 1.0))
STYLES: dict[str, Style] = {
    "hall": Style(4, (96, 132), ((0, 1), (2, 0.9)), BACK, even(0.5, 8), bass=((0, 0), (2, 4)),
                  comp=even(1, 4, 0.7)),
    "shuffle": Style(4, (92, 140), ((0, 1), (2, 0.8)), BACK, even(0.5, 8, 0.7), bass=((0, 0), (1, 2), (2, 4), (3, 2)),
                     comp=((0, 0.6), (1.5, 0.7), (3.5, 0.6)), swing=0.64),
    "train": Style(4, (98, 126), ((0, 0.8), (2, 0.8)), ((1, 0.9), (3, 0.9), *even(1, 4, 0.4, 0.5)),
                   (), bass=((0, 0), (2, 4)), comp=((0.5, 0.6), (1.5, 0.6), (2.5, 0.6), (3.5, 0.6))),
    "club": Style(4, (112, 130), even(1, 4, 1.0), ((1, 0.7), (3, 0.7)), ((0.5, 1), (1.5, 1), (2.5, 1), (3.5, 1)),
                  bass=((0.5, 0), (1.5, 0), (2.5, 0), (3.5, 4)), comp=even(0.75, 5, 0.8),
                  chord="saw", pump=0.7),
    "broken": Style(4, (84, 116), ((0, 1), (0.75, 0.7), (2.5, 0.9)), ((1, 1), (3, 1)), even(0.25, 16, 0.5),
                    bass=((0, 0), (0.75, 0), (2.5, 4)), comp=((0, 0.7), (2, 0.6)), chord="pad"),
    "heavy": Style(4, (104, 150), ((0, 1), (0.5, 0.7), (2, 1), (2.5, 0.7)), BACK, even(0.5, 8, 0.8),
                   bass=tuple((k / 2, 0) for k in range(8)), comp=even(0.5, 8, 0.8), chord="saw", drive=6.0),
    "slow": Style(4, (62, 82), ((0, 1), (2.5, 0.7)), ((2, 1.0),), even(0.5, 8, 0.5), bass=((0, 0), (2.5, 4)),
                  comp=((0, 0.8), (1, 0.5), (2, 0.6), (3, 0.5)), chord="pad"),
    "cha": Style(4, (104, 126), ((0, 0.7),), (), even(1, 4, 0.5), ((0, 0.8), (1, 0.5), (2, 0.8), (3, 0.6), (3.5, 0.7)),
                 bass=((0, 0), (1.5, 4), (3, 0)), comp=((0.5, 0.6), (1.5, 0.6), (2.5, 0.6), (3.5, 0.6))),
    "island": Style(4, (84, 104), ((0, 1), (0.75, 0.6), (1, 1), (1.75, 0.6), (2, 1), (2.75, 0.6), (3, 1), (3.75, 0.6)),
                    ((0.75, 0.9), (1.5, 0.9), (2.75, 0.9), (3.5, 0.9)), even(0.5, 8, 0.4),
                    bass=((0, 0), (1.5, 0), (2, 4), (3.5, 4)),
                    comp=((0, 0.7), (1.5, 0.6), (3, 0.6))),
    "jig": Style(4, (96, 122), ((0, 1), (2, 1)), ((1, 0.7), (3, 0.7)), even(1 / 3, 12, 0.6),
                 bass=((0, 0), (1, 4), (2, 0), (3, 4)),
                 comp=tuple((k / 3, 0.7 if k % 3 == 0 else 0.4) for k in range(12))),
    "waltz": Style(3, (84, 150), ((0, 1),), ((1, 0.6), (2, 0.6)), even(1, 3, 0.5), bass=((0, 0),),
                   comp=((1, 0.7), (2, 0.7))),
    "waltz soft": Style(3, (84, 126), bass=((0, 0), (2, 4)), comp=((0, 0.6), (1, 0.7), (2, 0.7)), chord="pluck"),
    "hands": Style(4, (92, 124), (), (), even(0.5, 8, 0.3),
                   ((0, 1), (0.75, 0.5), (1.5, 0.7), (2, 0.9), (3, 0.7), (3.5, 0.6)),
                   comp=((0, 0.7), (1.5, 0.5), (2.5, 0.6))),
    "parlour": Style(4, (84, 124), bass=((0, 0), (2, 4)), comp=((1, 0.7), (3, 0.7))),
}  # fmt: skip
WEIGHTS = {"waltz": 1.6, "waltz soft": 0.8}


@dataclass(frozen=True)
class Known:
    """A song and its truth, seconds; ``phrases`` begin at the first count."""

    name: str
    mono: Array = field(repr=False)
    metre: int
    bpm: float
    beats: Array
    downbeats: Array
    eights: Array
    phrases: Array
    first_count: float
    rate_hz: int = RATE


def tone(hz: float, seconds: float, kind: str, rng: np.random.Generator, bright: float) -> Array:
    n = int(seconds * RATE)
    t = np.arange(n) / RATE
    top = max(1, min(24, int(RATE / 2.3 / hz)))
    k = np.arange(1, top + 1)
    if kind == "saw":
        wave = sum(np.sin(2 * np.pi * hz * (1 + 0.003 * d) * j * t) / j for j in k for d in (-1, 1)) / 2
        return wave * np.minimum(1, t / 0.004) * np.minimum(1, (seconds - t) / 0.02)
    if kind == "pad":
        wave = sum(np.sin(2 * np.pi * hz * j * t + rng.uniform(0, 6)) / j**2 for j in k[:8])
        return 0.8 * wave * np.minimum(1, t / 0.06) * np.minimum(1, (seconds - t) / 0.08)
    if kind == "voice":
        bend = 1 + 0.006 * np.sin(2 * np.pi * 5.4 * t) * np.minimum(1, t / 0.3)
        phase = 2 * np.pi * np.cumsum(hz * bend) / RATE
        form = rng.choice([450.0, 600.0, 750.0, 900.0])
        gain = [
            1 / j * (1 + 4 * np.exp(-(((hz * j - form) / 150) ** 2)) + 2 * np.exp(-(((hz * j - 2400) / 500) ** 2)))
            for j in k
        ]
        wave = sum(g * np.sin(j * phase) for j, g in zip(k, gain, strict=True)) / 3
        return wave * np.minimum(1, t / 0.05) * np.minimum(1, (seconds - t) / 0.06)
    wave = sum(np.sin(2 * np.pi * hz * j * t) * np.exp(-t * (2.0 + j * (3.5 - 2.5 * bright))) / j**0.8 for j in k)
    return wave * np.minimum(1, t / 0.002) * np.minimum(1, (seconds - t) / 0.01)


def drum(name: str, rng: np.random.Generator) -> Array:
    length = {"kick": 0.3, "snare": 0.22, "hat": 0.07, "extra": 0.16, "crash": 1.4, "stick": 0.05}[name]
    t = np.arange(int(length * RATE)) / RATE
    hiss = rng.standard_normal(len(t))
    if name == "kick":
        low = rng.uniform(42, 62)
        return np.sin(2 * np.pi * (low * t + rng.uniform(4, 12) * (1 - np.exp(-t / 0.025)))) * np.exp(
            -t / rng.uniform(0.07, 0.14)
        )
    if name == "snare":
        body = np.sin(2 * np.pi * rng.uniform(160, 230) * t) * np.exp(-t / 0.05)
        return 0.5 * body + 0.5 * np.diff(hiss, prepend=0) * np.exp(-t / rng.uniform(0.05, 0.11))
    if name == "extra":
        return np.sin(2 * np.pi * rng.uniform(180, 420) * t * (1 - 0.3 * t)) * np.exp(-t / 0.05) + 0.1 * hiss * np.exp(
            -t / 0.01
        )
    if name == "stick":
        return np.sin(2 * np.pi * rng.uniform(1500, 2600) * t) * np.exp(-t / 0.01)
    sharp = np.diff(np.diff(hiss, prepend=0), prepend=0)
    return 0.35 * sharp * np.exp(-t / (rng.uniform(0.015, 0.035) if name == "hat" else 0.4))


class Band:
    """Players with instruments of one song."""

    def __init__(self, seed: int) -> None:
        self.rng = rng = np.random.default_rng([seed, 77])
        names = list(STYLES)
        weight = np.array([WEIGHTS.get(n, 1.0) for n in names])
        self.name = str(rng.choice(names, p=weight / weight.sum()))
        self.style = STYLES[self.name]
        self.bpm = float(rng.uniform(*self.style.bpm))
        self.key = float(rng.integers(-5, 7))
        self.scale = SCALES[str(rng.choice(list(SCALES), p=[0.6, 0.3, 0.1]))]
        self.kit = {name: drum(name, rng) for name in ("kick", "snare", "hat", "extra", "crash", "stick")}
        self.level = {name: float(rng.uniform(0.6, 1.2)) for name in (*self.kit, "bass", "comp", "lead")}
        self.bright = float(rng.uniform(0, 1))
        self.lead_kind = str(rng.choice(["voice", "voice", "pluck", "saw"]))
        self.late = float(rng.choice([0.0, 0.004, 0.010]))
        self.notes: dict[tuple[float, float, str], Array] = {}

    def hz(self, degree: int, octave: int) -> float:
        up, step = divmod(degree, 7)
        return 261.6 * 2 ** ((self.key + self.scale[step]) / 12 + up + octave)

    def note(self, hz: float, seconds: float, kind: str) -> Array:
        key = (round(hz, 1), round(seconds, 2), kind)
        if key not in self.notes:
            self.notes[key] = tone(hz, key[1], kind, self.rng, self.bright)
        return self.notes[key]


@dataclass
class Section:
    """A phrase: how many beats, which loop of chords, who plays (0 to 1: how full), extra counts at its end."""

    kind: str
    beats: int
    loop: tuple[int, ...]
    drums: bool
    bass: bool
    lead: bool
    loud: float
    extra: int = 0


def form(band: Band) -> list[Section]:
    """Return the sections of a song; the first of kind "verse" holds the first count."""
    rng, eight = band.rng, 2 * band.style.metre
    whole = 4 * eight
    loops = [LOOPS[k] for k in rng.choice(len(LOOPS), 3, replace=False)]
    sections = []
    intro = eight * int(rng.choice([1, 2, 2, 4, 4, 0], p=[0.1, 0.25, 0.2, 0.25, 0.1, 0.1]))
    if intro:
        sections.append(
            Section("intro", intro, loops[0], bool(rng.random() < 0.6), bool(rng.random() < 0.6), False, 0.75)
        )
    plan = ["verse", "chorus", "verse", "chorus", "bridge", "chorus"][: int(rng.integers(3, 6))]
    for kind in plan:
        beats = whole if kind != "bridge" or rng.random() < 0.6 else whole // 2
        bare = kind == "bridge" and rng.random() < 0.5
        loop = loops[("verse", "chorus", "bridge").index(kind)]
        loud = {"verse": 0.85, "chorus": 1.0, "bridge": 0.75}[kind]
        sections.append(Section(kind, beats, loop, not bare, not bare, kind != "bridge", loud))
    if rng.random() < 0.4 and len(sections) > 2:
        odd = {3: [3, 6], 4: [2, 4, 4, 8]}[band.style.metre]
        sections[int(rng.integers(1, len(sections) - 1))].extra = int(rng.choice(odd))
    return sections


def times(band: Band, total: int) -> Array:
    """Return the second of each beat, one more than there are: steady, drifting, or two tempos by turns."""
    rng = band.rng
    speed = np.ones(total + 1)
    kind = rng.random()
    if kind < 0.25:
        speed += rng.uniform(0.005, 0.02) * np.cumsum(rng.standard_normal(total + 1)) / np.sqrt(total) * 2
    elif kind < 0.4:
        speed += np.linspace(0, float(rng.uniform(-0.04, 0.04)), total + 1)
    gaps = 60 / (band.bpm * speed)
    return float(rng.uniform(0.0, 2.0)) + np.concatenate([[0.0], np.cumsum(gaps[:-1])])


def song(seed: int) -> Known:
    """Return the song of a seed."""
    band = Band(seed)
    rng, style = band.rng, band.style
    sections = form(band)
    total = sum(s.beats + s.extra for s in sections)
    beats = times(band, total)
    count_in = style.metre if rng.random() < 0.2 else 0
    gap = float(beats[1] - beats[0])
    beats = beats + count_in * gap
    out = np.zeros(int((beats[-1] + 4) * RATE))
    for k in range(count_in):
        put(out, band.kit["stick"], beats[0] - (count_in - k) * gap, 0.7)
    starts = np.concatenate([[0], np.cumsum([s.beats + s.extra for s in sections])]).astype(int)
    for s, at in zip(sections, starts, strict=False):
        play(band, out, beats, s, int(at))
    mono = finish(band, out, beats)
    return truth(band, sections, starts, beats, mono)


def truth(band: Band, sections: list[Section], starts: Array, beats: Array, mono: Array) -> Known:
    metre = band.style.metre
    downs, eights = [], []
    for s, at in zip(sections, starts, strict=False):
        downs += range(at, at + s.beats + s.extra, metre)
        eights += range(at, at + s.beats + s.extra, 2 * metre)
    first = next(k for k, s in enumerate(sections) if s.kind == "verse")
    whole = beats[: starts[-1]]
    phrases = whole[starts[first:-1]]
    return Known(band.name, mono.astype(np.float32), metre, 60 / float(np.median(np.diff(whole))), whole, whole[downs],
                 whole[eights], phrases, float(phrases[0]))  # fmt: skip


def put(out: Array, wave: Array, at_s: float, loud: float) -> None:
    i = max(0, round(at_s * RATE))
    j = min(len(out), i + len(wave))
    if j > i:
        out[i:j] += loud * wave[: j - i]


def swung(band: Band, place: float) -> float:
    """Return a place within a beat, its second half late where the band swings."""
    whole, part = divmod(place, 1.0)
    return whole + band.style.swing if abs(part - 0.5) < 0.01 else place


def play(band: Band, out: Array, beats: Array, s: Section, at: int) -> None:
    rng, style = band.rng, band.style
    melody = np.random.default_rng([int(rng.integers(1 << 30))])
    line = melody.integers(0, 8, 16)
    spots = np.arange(len(beats))

    def when(place: float) -> float:
        return float(np.interp(place, spots, beats)) + float(rng.normal(0, band.late) if band.late else 0)

    if s.drums and style.kick and s.kind != "intro" and rng.random() < 0.8:
        put(out, band.kit["crash"], when(at), 0.5 * s.loud)
    for bar, start in enumerate(range(at, at + s.beats + s.extra, style.metre)):
        left = at + s.beats + s.extra - start
        degree = s.loop[bar % 4] if left > 0 else 0
        last = left <= style.metre
        if s.drums:
            drums(band, out, s, start, left, last, when)
        if s.bass:
            for place, up in style.bass:
                if place < left:
                    put(
                        out,
                        band.note(band.hz(degree + up, -2), 0.42, "pluck"),
                        when(start + swung(band, place)),
                        0.55 * s.loud * band.level["bass"],
                    )
        comp(band, out, s, start, left, degree, when)
        if s.lead:
            lead(band, out, s, start, left, degree, line, bar, when)


def drums(band: Band, out: Array, s: Section, start: int, left: int, last: bool, when) -> None:
    for name, loud in (("kick", 0.9), ("snare", 0.6), ("hat", 0.35), ("extra", 0.6)):
        for place, strength in getattr(band.style, name):
            if place < left:
                put(
                    out,
                    band.kit[name],
                    when(start + swung(band, place)),
                    loud * strength * s.loud * band.level[name] * band.rng.uniform(0.8, 1.1),
                )
    if last and band.rng.random() < 0.7:
        n = min(left, band.style.metre)
        for k in range(int(band.rng.integers(2, 6))):
            put(out, band.kit["snare"], when(start + n - 1 + k / 4), 0.5 * s.loud)


def comp(band: Band, out: Array, s: Section, start: int, left: int, degree: int, when) -> None:
    long = band.style.chord == "pad"
    for place, strength in band.style.comp:
        if place < left:
            for third in (0, 2, 4):
                wave = band.note(band.hz(degree + third, 0), 1.0 if long else 0.3, band.style.chord)
                put(out, wave, when(start + swung(band, place)), 0.14 * strength * s.loud * band.level["comp"])


def lead(band: Band, out: Array, s: Section, start: int, left: int, degree: int, line: Array, bar: int, when) -> None:
    place, k = 0.0, 4 * (bar % 4)
    n = min(left, band.style.metre)
    while place < n:
        length = float([0.5, 1.0, 1.0, 1.5][int(line[k % 16]) % 4])
        if line[(k + 5) % 16] > 1:
            wave = band.note(
                band.hz(degree + int(line[k % 16]) % 5, 1 if band.lead_kind != "voice" else 0),
                0.9 * length * 60 / band.bpm,
                band.lead_kind,
            )
            put(out, wave, when(start + swung(band, place)), 0.2 * s.loud * band.level["lead"])
        place, k = place + length, k + 1


def finish(band: Band, out: Array, beats: Array) -> Array:
    """Return the sound as it is heard: pumped, driven, in a room, faded, noisy, through a small speaker."""
    rng, style = band.rng, band.style
    t = np.arange(len(out)) / RATE
    if style.pump:
        place = np.interp(t, beats, np.arange(len(beats))) % 1
        out = out * (1 - style.pump * np.exp(-place / 0.18))
    out = out / max(1e-9, np.abs(out).max())
    if style.drive:
        out = np.tanh(style.drive * out) / np.tanh(style.drive)
    if rng.random() < 0.5:
        n = int(rng.uniform(0.1, 0.5) * RATE)
        room = rng.standard_normal(n) * np.exp(-np.arange(n) / (n / 5))
        wet = np.fft.irfft(np.fft.rfft(out, len(out) + n) * np.fft.rfft(room, len(out) + n))[: len(out)]
        out = out + rng.uniform(0.1, 0.5) * wet * np.sqrt(np.mean(out**2) / max(1e-12, float(np.mean(wet**2))))
    end = float(beats[-1])
    if rng.random() < 0.25:
        out = out * np.clip((end - t) / 9.0, 0, 1)
    if rng.random() < 0.15:
        claps = rng.standard_normal(len(out)) * np.clip((t - end) / 0.3, 0, 1) * 0.15
        out = out + claps
    if rng.random() < 0.25:
        spectrum = np.fft.rfft(out)
        hz = np.fft.rfftfreq(len(out), 1 / RATE)
        out = np.fft.irfft(spectrum / (1 + (220 / np.maximum(hz, 1)) ** 4) / (1 + (hz / 5000) ** 4), len(out))
    out = out + rng.standard_normal(len(out)) * 10 ** rng.uniform(-4.5, -2.6)
    return 0.8 * out / max(1e-9, np.abs(out).max())
