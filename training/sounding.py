"""Is what is written what sounds? Decided from the notes alone, so that no listener has a say in its own examination.

    python training/sounding.py FOLDER [FOLDER …]

For each MIDI file and tracker module: why its written beats or bars are doubtful as a truth for listening, or nothing.
One rule for all. It was written after it was known which files are heard amiss, but looks at notes alone, and takes
files that are heard well too:

- five: bars of five or seven, which no dance of eights can count;
- quick: a written beat goes by faster than anybody steps, so that a bar has two danced beats;
- other bar: what is played comes again after three quarters of a bar (or thrice, or six times that) much more truly
  than after one, two or four bars;
- turned: the high drum, where it strikes a beat, strikes the first and third, as it does the second and fourth in
  nearly all music with drums (common practice, no source): the bar lines are a beat off;
- cut: a pattern is left in the middle of a beat.
"""

from __future__ import annotations

import sys
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), str(HERE.parent / "src")]

import modules  # noqa: E402
import numpy as np  # noqa: E402
from outside import FASTEST_BPM, events  # noqa: E402

if TYPE_CHECKING:
    from numpy.typing import NDArray

COUNTED = (2, 3, 4, 6, 8, 9, 12)  # upper numbers of metres that are counted in eights or sixes
FOUR = 4  # places in a beat
CLEARLY = 0.2  # so much truer must another bar come again
STROKES, WRONG, EACH = 24, 0.8, 0.25  # of the high drum on beats; share on first and third; at least on either
LOW_KEYS, HIGH_KEYS = (35, 36), (37, 38, 39, 40)  # General MIDI: bass drums; rim, snares, clap
FEWEST = 16  # strokes of a voice that is asked how it comes again


@dataclass(frozen=True)
class Written:
    """A song as it is written."""

    voices: list[NDArray[np.int64]]  # of each drum or player: places of its strokes, in quarters of a beat
    high: NDArray[np.int64]  # of snare, clap and rim; empty where it is not known
    upper: int  # beats in a bar
    bpm: float
    cut: bool = False


def midi(path: Path) -> Written:
    """Return the notes of a MIDI file. A beat is the lower number of the metre; drums are voices each, players too."""
    found, quarter = events(path.read_bytes())
    tempo, upper, lower, told = 0.5, 4, 4, False
    voices: dict[tuple[int, int], list[float]] = {}
    for tick, _, message in found:
        if message[:2] == b"\xff\x51" and not any(voices.values()):
            tempo = int.from_bytes(message[2:5], "big") / 1e6
        elif message[:2] == b"\xff\x58" and not told:
            upper, lower, told = message[2], 2 ** message[3], True
        elif message[0] & 0xF0 == 0x90 and message[2]:
            channel = message[0] & 15
            voices.setdefault((channel, message[1] if channel == 9 else 0), []).append(tick / quarter)
    thirds = lower == 8 and upper % 3 == 0
    beat = 1.5 if thirds else 4 / lower
    places = {k: np.unique(np.rint(np.array(x) / beat * FOUR).astype(int)) for k, x in voices.items()}
    high = [x for (channel, key), x in places.items() if channel == 9 and key in HIGH_KEYS]
    none = np.zeros(0, int)
    return Written(list(places.values()), np.concatenate(high) if high else none, upper // 3 if thirds else upper,
                   60 / tempo / beat)  # fmt: skip


def module(path: Path) -> Written:
    """Return the notes of a module. A beat is as many rows as ``modules.counted`` takes; each sample is a voice."""
    rows, struck = modules.notes(path)
    at, number = np.array([r[0] for r in rows]), np.array([r[1] for r in rows])
    size = modules.rows_a_beat(at)
    place = np.cumsum(np.concatenate([[0.0], (FOUR / size)[:-1]]))
    voices: dict[int, list[int]] = {}
    for row, sample in struck:
        voices.setdefault(sample, []).append(round(float(place[row])))
    ends = np.flatnonzero(np.diff(number) < 0)
    cut = bool(((number[ends] + 1) % np.minimum(size[ends], modules.ROWS) != 0).any())
    return Written([np.unique(x) for x in voices.values()], np.zeros(0, int), modules.BAR,
                   60 / float(np.median(np.diff(at) * size[:-1])), cut)  # fmt: skip


def again(voices: list[NDArray[np.int64]], lag: int) -> float:
    """Return how truly all voices come again after ``lag`` places, -1 to 1: the mean of their correlations."""
    size = max(int(v[-1]) for v in voices) + 1
    if size < 2 * lag:
        return -1.0
    told, weights = [], []
    for v in voices:
        if len(v) < FEWEST:
            continue
        x = np.zeros(size)
        x[v] = 1
        x -= x.mean()
        told.append(float(x[:-lag] @ x[lag:]) / max(float(x @ x), 1e-9))
        weights.append(len(v))
    return float(np.average(told, weights=weights)) if told else -1.0


def doubt(song: Written) -> str:
    """Return why the written beats or bars are doubtful, or nothing."""
    bar = FOUR * song.upper
    if song.upper not in COUNTED:
        return "five"
    if song.bpm > FASTEST_BPM:
        return "quick"
    own = max(again(song.voices, n * bar) for n in (1, 2, 4))
    if song.upper == 4 and max(again(song.voices, n * 3 * bar // 4) for n in (1, 2)) > own + CLEARLY:
        return "other bar"
    beats = song.high[song.high % FOUR == 0] // FOUR
    share = np.bincount(beats % song.upper, minlength=song.upper) / max(1, len(beats))
    if song.upper == 4 and len(beats) >= STROKES and share[0] + share[2] >= WRONG and min(share[0], share[2]) >= EACH:
        return "turned"
    return "cut" if song.cut else ""


def doubt_of(path: Path) -> str:
    """Return why the truth of a file is doubtful, or nothing."""
    return doubt(module(path) if path.suffix.lower() in modules.SUFFIXES else midi(path))


def main() -> None:
    """Print what is doubtful in folders of MIDI files and modules."""
    for path in sorted(p for folder in sys.argv[1:] for p in Path(folder).rglob("*") if not p.is_symlink()):
        if path.suffix.lower() in (".mid", ".midi", *modules.SUFFIXES):
            sys.stdout.write(f"{path.stem[:40]:40} {doubt_of(path)}\n")


if __name__ == "__main__":
    main()
