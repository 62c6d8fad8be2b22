"""The listening model against the rule-based listener, side by side on the same songs, none of them used in training.

    python benchmarks/listening_model.py --songs 60 --font SOUNDFONT.sf2 [--set styles new small] [--worst]

Three sets: ``styles``, unseen tunes in styles of the training, and ``new``, tunes in styles that no training song has,
both played with a sound font that no training song has; ``small``, songs of the small synthesiser of the tests, another
generator altogether (no font needed). Scores: F of beats and downbeats within 70 ms, of phrases within half a beat,
share of beats with the right number in their count of eight, first count within half a beat, tempo within 4 %, metre.
"""

from __future__ import annotations

import argparse
import os
import sys
import time
from dataclasses import dataclass
from functools import partial
from multiprocessing import get_context
from pathlib import Path

for threads in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(threads, "1")

ROOT = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(ROOT / folder) for folder in ("src", "tests", "training", "benchmarks")]

import numpy as np  # noqa: E402
from listening import any_recipe, f_score, numbered  # noqa: E402

from softshoe.errors import WorkbenchError  # noqa: E402
from softshoe.music.audio import Sound  # noqa: E402
from softshoe.music.listen import listen  # noqa: E402
from softshoe.music.model import ModelEar, listened  # noqa: E402
from softshoe.music.songmap import SongMap  # noqa: E402, TC001

SETS = {
    "styles": "unseen tunes, seen styles, unseen font",
    "new": "unseen styles, unseen font",
    "small": "another generator",
}
LISTENERS = {"rules": listen, "rules on model": lambda sound: listen(sound, engine=ModelEar()), "model": listened}
KEYS = ("beats", "downbeats", "eights", "phrases", "first_count", "tempo", "metre")


@dataclass
class Known:
    sound: Sound
    name: str
    bpm: float
    metre: int
    beats: np.ndarray
    downbeats: np.ndarray
    eights: np.ndarray
    phrases: np.ndarray
    first_count: float


def song_of(kind: str, number: int, font: str) -> Known:
    """Return a song of a set."""
    if kind == "small":
        from music.songs_made import made

        song = made(any_recipe(50_000 + number))
        r = song.recipe
        return Known(
            song.sound, r.style, r.bpm, r.metre, song.beats, song.downbeats, song.eights, song.phrases, song.first_count
        )
    from make import TEST
    from make import song as trained_like

    sound, t = trained_like(TEST + 2 * number + (kind == "new"), (font,))
    return Known(
        Sound(np.stack([sound, sound]), 22_050),
        t.style,
        t.bpm,
        t.metre,
        t.beats,
        t.downbeats,
        t.eights,
        t.phrases,
        t.first_count,
    )


def scores(song: Known, found: SongMap) -> dict[str, float]:
    """Return the scores of one song."""
    half = 30 / song.bpm
    beats = np.array(found.beats_s)
    true_number, number = numbered(song.beats, song.eights), numbered(beats, np.array(found.eights_s))
    counted = true_number >= 0
    near = np.abs(beats[:, None] - song.beats[None]).argmin(axis=0)
    right = (np.abs(beats[near] - song.beats) < 0.07) & (number[near] == true_number)
    return {
        "beats": f_score(beats, song.beats, within_s=0.07),
        "downbeats": f_score(np.array(found.downbeats_s), song.downbeats, within_s=0.07),
        "eights": float(right[counted].mean()),
        "phrases": f_score(
            np.array(found.phrases_s), song.phrases[song.phrases >= song.first_count - half], within_s=half
        ),
        "first_count": float(abs(found.first_count_s - song.first_count) < half),
        "tempo": float(abs(found.tempo_bpm / song.bpm - 1) < 0.04),
        "metre": float(found.metre == song.metre),
    }


def one(job: tuple[str, int], font: str, listeners: tuple[str, ...]) -> tuple[str, str, dict[str, dict[str, float]]]:
    """Return set, name and the scores of every listener on a song."""
    kind, number = job
    song = song_of(kind, number, font)
    rows = {}
    for name in listeners:
        began = time.process_time()
        try:
            found = listen_or_none(name, song)
            row = scores(song, found)
            sure = found.confidence
            row |= {
                f"sure_{k}": getattr(sure, k) for k in ("beats", "downbeats", "eights", "first_count", "tempo", "metre")
            }
            row["bpm"] = found.tempo_bpm
            row["first_off"] = (found.first_count_s - song.first_count) * song.bpm / 60
        except WorkbenchError:
            row = dict.fromkeys(KEYS, 0.0)
        row["work_s"] = (time.process_time() - began) * 210 / song.sound.seconds
        rows[name] = row
    return kind, f"{number} {song.name} {song.bpm:.0f}", rows


def listen_or_none(name: str, song: Known) -> SongMap:
    """Return what a listener hears."""
    return LISTENERS[name](song.sound)


def main() -> None:
    """Print the table."""
    ask = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ask.add_argument("--songs", type=int, default=60, help="of each set")
    ask.add_argument("--first", type=int, default=0)
    ask.add_argument("--font", default="")
    ask.add_argument("--workers", type=int, default=2)
    ask.add_argument("--set", nargs="+", default=list(SETS), choices=list(SETS), dest="sets")
    ask.add_argument("--listeners", nargs="+", default=list(LISTENERS), choices=list(LISTENERS))
    ask.add_argument("--worst", action="store_true")
    args = ask.parse_args()
    jobs = [(kind, k) for kind in args.sets for k in range(args.first, args.first + args.songs)]
    with get_context("fork").Pool(args.workers) as pool:
        found = list(pool.imap_unordered(partial(one, font=args.font, listeners=tuple(args.listeners)), jobs))
    for kind in args.sets:
        rows = {name: [r[name] for k, _, r in found if k == kind] for name in args.listeners}
        print(f"\n{SETS[kind]}: {args.songs} songs")
        print(f"{'':16}" + "".join(f"{key:>13}" for key in KEYS) + f"{'s for 3.5 min':>15}")
        for name, values in rows.items():
            print(f"{name:16}" + "".join(f"{np.mean([v[key] for v in values]):13.3f}" for key in KEYS)
                  + f"{np.mean([v['work_s'] for v in values]):15.1f}")  # fmt: skip
        for name, values in rows.items():
            away = {
                k: np.abs(np.mean([v[f"sure_{k}"] - v[k] for v in values if f"sure_{k}" in v]))
                for k in KEYS
                if k not in ("phrases",)
            }
            print(f"  {name}: mean confidence less mean score:", {k: round(float(x), 2) for k, x in away.items()})
    if args.worst:
        for kind, name, r in sorted(found):
            row = r[args.listeners[-1]]
            if min(row[k] for k in KEYS) < 0.9:
                print(kind, name, {k: round(float(v), 2) for k, v in row.items() if not k.startswith("sure")})


if __name__ == "__main__":
    main()
