"""Outside tests: music that people wrote, with beats and bars as they wrote them; never for training.

    python training/outside.py FOLDER [FOLDER …] [--font FONT.sf2] [--weights listener.npz] [--rows FILE]

Tracker modules (``modules.py``) and MIDI files; needs mir_eval, like the benchmark of listening. MIDI files are played
by a sound font. Beats are quarters, or the beats of the written metre (three eighths in 6/8, 9/8, 12/8); eights,
phrases and the first count are not known. Where the written tempo is one that nobody dances to, every other beat, or
beats between, are taken. Means are told of all files, and of those in which what is written is what sounds
(``sounding.py``). What is lost on the way is told too: the scores when the true tempo is said, the downbeats when the
true beats and metre are given, and whether the network finds the true beats less likely than the ones it told.
"""

from __future__ import annotations

import argparse
import json
import struct
import sys
from pathlib import Path
from typing import TYPE_CHECKING

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), str(HERE.parent / "src"), str(HERE.parent / "benchmarks/listening")]

import numpy as np  # noqa: E402
from others import truth_of  # noqa: E402
from sound import RATE_HZ, font  # noqa: E402

if TYPE_CHECKING:
    from band import Truth
    from numpy.typing import NDArray

    Samples = NDArray[np.float32]
    Event = tuple[int, int, bytes]

SLOWEST_BPM, FASTEST_BPM = 56.0, 172.0
LONGEST_S = 240.0
NEAR_S = 0.07
KEYS = ("beats", "CMLt", "AMLt", "downbeats")


def length_of(data: bytes, at: int) -> tuple[int, int]:
    """Return a number of variable length and the place after it."""
    value = 0
    while True:
        byte = data[at]
        value, at = value << 7 | byte & 127, at + 1
        if byte < 128:
            return value, at


def track_events(data: bytes, order: int) -> list[Event]:
    """Return (tick, order, message) of one track; running status is filled in."""
    at, tick, status, found = 0, 0, 0, []
    while at < len(data):
        wait, at = length_of(data, at)
        tick += wait
        if data[at] >= 128:
            status, at = data[at], at + 1
        if status == 0xFF:
            size, after = length_of(data, at + 1)
            found.append((tick, order, bytes([0xFF, data[at]]) + data[after : after + size]))
            at = after + size
        elif status in (0xF0, 0xF7):
            size, after = length_of(data, at)
            at = after + size
        else:
            size = 1 if status & 0xF0 in (0xC0, 0xD0) else 2
            found.append((tick, order, bytes([status]) + data[at : at + size]))
            at += size
    return found


def events(data: bytes) -> tuple[list[Event], int]:
    """Return all events of a file in order, and ticks a quarter."""
    size, _, tracks, division = struct.unpack(">IHHH", data[4:14])
    at, found = 8 + size, []
    for order in range(tracks):
        length = struct.unpack(">I", data[at + 4 : at + 8])[0]
        found += track_events(data[at + 8 : at + 8 + length], order)
        at += 8 + length
    return sorted(found, key=lambda e: (e[0], e[1])), division


def read(path: Path) -> tuple[list[tuple[float, bytes]], NDArray[np.float64], NDArray[np.float64], int]:
    """Return messages at seconds, beats, downbeats and the metre of a file."""
    found, quarter = events(path.read_bytes())
    tempo, last_tick, now = 0.5, 0, 0.0
    ticks, seconds, metres, messages = [0], [0.0], [(0, 4, 4)], []
    for tick, _, message in found:
        now += (tick - last_tick) / quarter * tempo
        last_tick = tick
        ticks.append(tick)
        seconds.append(now)
        if message[:2] == b"\xff\x51":
            tempo = int.from_bytes(message[2:5], "big") / 1e6
        elif message[:2] == b"\xff\x58":
            metres.append((tick, message[2], 2 ** message[3]))
        elif message[0] < 0xF0:
            messages.append((now, message))
    notes = [at for at, m in messages if m[0] & 0xF0 == 0x90 and m[2]]
    first, end = notes[0], min(LONGEST_S, notes[-1])
    beats, downs = [], []
    spans = [m for i, m in enumerate(metres) if i + 1 == len(metres) or metres[i + 1][0] > m[0]]
    for k, (start, upper, lower) in enumerate(spans):
        stop = spans[k + 1][0] if k + 1 < len(spans) else last_tick
        step = quarter * 4 / lower * (3 if lower == 8 and upper % 3 == 0 and upper > 3 else 1)
        each = max(1, round(upper * quarter * 4 / lower / step))
        places = np.arange(start, stop, step)
        beats += places.tolist()
        downs += places[::each].tolist()
    own = lambda x: np.interp(x, ticks, seconds)  # noqa: E731
    inside = lambda x: x[(x >= first - 0.05) & (x <= end + 0.05)]  # noqa: E731
    metre = 3 if spans[0][1] in (3, 9) and len(spans) == 1 else 4
    return messages, inside(own(np.array(beats))), inside(own(np.array(downs))), metre


def danced(beats: NDArray[np.float64], downs: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the beats people would dance to: every other one when too quick, twice as many when too slow."""
    bpm = 60 / float(np.median(np.diff(beats)))
    if bpm > FASTEST_BPM:
        start = int(np.abs(beats - downs[0]).argmin()) % 2 if len(downs) else 0
        return beats[start::2]
    if bpm < SLOWEST_BPM:
        return np.sort(np.concatenate([beats, (beats[:-1] + beats[1:]) / 2]))
    return beats


def song(path: Path, fonts: str) -> tuple[Samples, Truth]:
    """Return the sound of a MIDI file, at most LONGEST_S long, and what is known of it."""
    messages, beats, downs, metre = read(path)
    beats = danced(beats, downs)
    synth = font(fonts)
    synth.sounds_off()
    for channel in range(16):
        synth.program_select(channel, 0, 128 if channel == 9 else 0, 0, channel == 9)
    out, done = np.zeros(int(min(LONGEST_S, messages[-1][0] + 2) * RATE_HZ), np.float32), 0
    for at, message in messages:
        here = min(len(out), max(done, round(at * RATE_HZ)))
        if here > done:
            stereo = np.frombuffer(bytes(synth.generate(here - done)), np.float32)
            out[done:here] = 0.5 * (stereo[::2] + stereo[1::2])
            done = here
        kind, channel = message[0] & 0xF0, message[0] & 15
        if kind == 0x90 and message[2]:
            synth.noteon(channel, message[1], message[2])
        elif kind in (0x80, 0x90):
            synth.noteoff(channel, message[1])
        elif kind == 0xC0:
            try:
                synth.program_change(channel, message[1], channel == 9)
            except RuntimeError:
                continue
        elif kind == 0xB0 and message[1] in (7, 10, 11, 64):
            synth.control_change(channel, message[1], message[2])
    synth.sounds_off()
    x = out / (2 * float(np.abs(out).max()) + 1e-9)
    return x.astype(np.float32), truth_of(path.stem, 0, list(beats), metre, float(beats[-1]), list(downs))


def scores_of(likely: NDArray[np.float32], truth: Truth) -> tuple[float, dict[str, float]]:
    """Return the tempo that is heard, and the scores: within 70 ms, after the first five seconds."""
    from mir_eval.beat import continuity, trim_beats
    from scores import f_score

    from softshoe.music.model import counted
    from softshoe.music.songmap import Said

    found = counted(likely, Said())
    if found is None:
        return 0.0, dict.fromkeys(KEYS, 0.0)
    own, true = trim_beats(found.beats_s), trim_beats(truth.beats)
    bars, true_bars = trim_beats(found.beats_s[list(found.form.downbeats)]), trim_beats(truth.downbeats)
    _, unbroken, _, at_any_level = continuity(true, own)
    return found.tempo_bpm, {
        "beats": f_score(own, true, NEAR_S), "CMLt": unbroken, "AMLt": at_any_level,
        "downbeats": f_score(bars, true_bars, NEAR_S),
    }  # fmt: skip


def given(likely: NDArray[np.float32], truth: Truth) -> dict[str, float]:
    """Return what is heard when part of the truth is given, and 1 where the network prefers other beats or bars."""
    from mir_eval.beat import continuity, trim_beats
    from scores import f_score

    from softshoe.music.model import beat_gain, counted
    from softshoe.music.model_decode import at_beats, phrased
    from softshoe.music.songmap import Said

    own, told = counted(likely, Said()), counted(likely, Said(tempo_bpm=round(truth.bpm, 2)))
    frames = np.clip(np.rint(truth.beats * 50).astype(int), 0, len(likely) - 1)
    at = at_beats(likely, frames)
    downs = list(phrased(at, 3 if truth.metre == 3 else 4).form.downbeats)
    true_downs = [int(np.abs(truth.beats - d).argmin()) for d in truth.downbeats]
    gain = beat_gain(likely, Said())
    near = lambda x: float(gain[np.clip(x[:, None] + np.arange(-1, 2), 0, len(gain) - 1)].max(axis=1).sum())  # noqa: E731
    _, unbroken, _, _ = continuity(trim_beats(truth.beats), trim_beats(told.beats_s)) if told else (0.0,) * 4
    return {
        "CMLt, tempo said": unbroken,
        "downbeats, beats given": f_score(trim_beats(truth.beats[downs]), trim_beats(truth.downbeats), NEAR_S),
        "other beats likelier": float(own is not None and near(own.frames) > near(frames)),
        "other bars likelier": float(at.bar[downs].sum() > at.bar[true_downs].sum()),
    }


def told_of(rows: list[tuple[str, dict[str, float]]]) -> str:
    """Return the means of all files, and of those whose truth is not doubtful."""
    lines = []
    for name, own in (("all", rows), ("written as it sounds", [r for r in rows if not r[0]])):
        means = "  ".join(f"{k} {100 * np.mean([r[k] for _, r in own]):.1f}" for k in own[0][1]) if own else ""
        lines.append(f"{len(own)} files, {name}: {means}\n")
    return "".join(lines)


def main() -> None:
    """Print how the model hears folders of MIDI files and modules."""
    import modules
    import sounding

    from softshoe.music.model_features import features
    from softshoe.music.model_net import likelihoods

    ask = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ask.add_argument("folders", type=Path, nargs="+")
    ask.add_argument("--font", help="plays the MIDI files")
    ask.add_argument("--weights", type=Path, help="other weights than those of the package")
    ask.add_argument("--rows", type=Path, help="where to keep the scores of every file")
    args = ask.parse_args()
    weights = None
    if args.weights:
        with np.load(args.weights) as z:
            weights = {n: z[n].astype(np.float32) for n in z.files if z[n].dtype == np.float16}
    rows: list[tuple[str, dict[str, float]]] = []
    for path in sorted(p for folder in args.folders for p in folder.rglob("*") if not p.is_symlink()):
        kind = path.suffix.lower()
        if kind not in (".mid", ".midi", *modules.SUFFIXES):
            continue
        sound, truth = modules.song(path) if kind in modules.SUFFIXES else song(path, args.font)
        if len(sound) < modules.SHORTEST_S * RATE_HZ:
            continue
        likely = likelihoods(features(sound), weights)
        tempo, found = scores_of(likely, truth)
        why = sounding.doubt_of(path)
        rows.append((why, found | given(likely, truth)))
        told = "  ".join(f"{k} {100 * v:5.1f}" for k, v in found.items())
        sys.stdout.write(f"{path.stem[:32]:32} {truth.bpm:6.1f} heard {tempo:6.1f}  {told}  {why}\n")
        sys.stdout.flush()
    sys.stdout.write(told_of(rows))
    if args.rows:
        args.rows.write_text(json.dumps(rows, default=float), encoding="utf-8")


if __name__ == "__main__":
    main()
