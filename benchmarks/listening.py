"""How well songs are heard: made songs of which all is known and, if a folder is given, recordings without truth.

    python benchmarks/listening.py [--songs 60] [--seed 2024] [--recordings FOLDER] [--worst]

Made songs come from the small synthesiser of the tests. Scores: F of beats and downbeats within 70 ms, of phrases
within half a beat, share of beats with the right number in their count of eight, first count within half a beat, tempo
within 4 %. Calibration: mean confidence against the share that is right.
Recordings have no truth: run time, tempo and the lengths of phrases in beats are shown for a person to judge.
"""

from __future__ import annotations

import argparse
import resource
import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT / "tests"))

from music.songs_made import CHORUS, VERSE, Part, Recipe, Song, made  # noqa: E402
from softshoe.music.audio import Sound, heard  # noqa: E402
from softshoe.music.listen import listen  # noqa: E402

if TYPE_CHECKING:
    from softshoe.music.songmap import SongMap

FloatArray = np.ndarray
BRIDGE = ("Dm", "G", "Em", "Am")


def any_recipe(seed: int) -> Recipe:
    """Return a song plan drawn at random: style, tempo, intro, extras, holes, drift, fade."""
    rng = np.random.default_rng(seed)
    style = str(
        rng.choice(["pop", "disco", "country", "swing", "sixteens", "waltz"], p=[0.2, 0.18, 0.18, 0.14, 0.14, 0.16])
    )
    metre = 3 if style == "waltz" else 4
    eight = 2 * metre
    intro = eight * int(rng.choice([1, 2, 4, 4, 2]))
    intro_drums = bool(rng.random() < 0.6)
    parts = [Part(intro, VERSE, drums=intro_drums, loud=0.7, fill=True)]
    phrase = 4 * eight
    for kind in ("verse", "chorus", "verse", "chorus", "bridge", "chorus")[: int(rng.integers(4, 7))]:
        chords = {"verse": VERSE, "chorus": CHORUS, "bridge": BRIDGE}[kind]
        beats = phrase // 2 if kind == "bridge" and rng.random() < 0.5 else phrase
        bare = kind == "bridge" and rng.random() < 0.5
        parts.append(Part(beats, chords, drums=not bare, lead=kind != "bridge", loud=1.0 if kind == "chorus" else 0.8))
    if rng.random() < 0.35:
        extra = int(rng.choice([metre, metre, 2 if metre == 4 else 3, eight]))
        place = int(rng.integers(1, len(parts) - 1))
        before = parts[place]
        longer = Part(
            before.beats, before.chords, before.drums, before.bass, before.pad, before.lead, before.loud, True, False
        )
        held = Part(extra, (before.chords[-1],), before.drums, True, True, False, before.loud, False, True)
        parts[place : place + 1] = [longer, held]
    if rng.random() < 0.15:
        parts = [Part(p.beats, p.chords, False, p.bass, p.pad, p.lead, p.loud, p.phrase, p.fill) for p in parts]
    return Recipe(
        tuple(parts),
        bpm=float(rng.uniform(76, 148)),
        metre=metre,
        style=style,
        silence_s=float(rng.uniform(0.1, 2.5)),
        drift=float(rng.choice([0.0, 0.0, 0.01, 0.025])),
        jitter_s=float(rng.choice([0.0, 0.004, 0.012])),
        fade_s=float(rng.choice([0.0, 0.0, 8.0])),
        key=int(rng.integers(0, 12)),
        seed=seed,
    )


def f_score(found: FloatArray, truth: FloatArray, *, within_s: float) -> float:
    """Return the harmonic mean of precision and recall, each truth matched once."""
    if len(found) == 0 or len(truth) == 0:
        return float(len(found) == len(truth))
    hits, i, j = 0, 0, 0
    while i < len(found) and j < len(truth):
        if abs(found[i] - truth[j]) <= within_s:
            hits, i, j = hits + 1, i + 1, j + 1
        elif found[i] < truth[j]:
            i += 1
        else:
            j += 1
    return 2 * hits / (len(found) + len(truth))


def numbered(beats: FloatArray, eights: FloatArray) -> FloatArray:
    """Return the number of each beat since the last start of an eight."""
    if len(eights) == 0:
        return np.full(len(beats), -1)
    last = np.searchsorted(eights, beats + 1e-6, side="right") - 1
    first = np.searchsorted(beats, eights - 1e-6)
    return np.where(last >= 0, np.arange(len(beats)) - first[np.maximum(0, last)], -1)


def scores(song: Song, found: SongMap) -> dict[str, float]:
    """Return the scores of one song."""
    half = 30 / song.recipe.bpm
    beats = np.array(found.beats_s)
    true_number = numbered(song.beats, song.eights)
    number = numbered(beats, np.array(found.eights_s))
    near = np.abs(beats[:, None] - song.beats[None]).argmin(axis=0)
    right = (np.abs(beats[near] - song.beats) < 0.07) & (number[near] == true_number)
    return {
        "beats": f_score(beats, song.beats, within_s=0.07),
        "downbeats": f_score(np.array(found.downbeats_s), song.downbeats, within_s=0.07),
        "eights": float(right.mean()),
        "phrases": f_score(
            np.array(found.phrases_s), song.phrases[song.phrases >= song.first_count - half], within_s=half
        ),
        "first_count": float(abs(found.first_count_s - song.first_count) < half),
        "tempo": float(abs(found.tempo_bpm / song.recipe.bpm - 1) < 0.04),
        "metre": float(found.metre == song.recipe.metre),
        "end": float(abs(found.end_s - song.end) < 1.0),
    }


def made_songs(args: argparse.Namespace) -> None:
    """Print the scores of made songs."""
    rows, sure, spent = [], [], 0.0
    for seed in range(args.seed, args.seed + args.songs):
        recipe = any_recipe(seed)
        song = made(recipe)
        began = time.process_time()
        found = listen(song.sound)
        spent += (time.process_time() - began) / song.sound.seconds
        row = scores(song, found)
        rows.append(row)
        c = found.confidence
        sure.append({key: getattr(c, key) for key in ("beats", "downbeats", "eights", "first_count", "tempo", "metre")})
        sure[-1]["phrases"] = float(np.mean(c.phrases)) if c.phrases else 0.0
        if args.worst and min(row.values()) < 0.9:
            lengths = np.diff(
                [*[int(np.abs(np.array(found.beats_s) - p).argmin()) for p in found.phrases_s], len(found.beats_s)]
            )
            print(
                seed, recipe.style, f"{recipe.bpm:.1f}->{found.tempo_bpm:.1f}", {k: round(v, 2) for k, v in row.items()}
            )
            print("    true", [(p.beats, "" if p.drums else "bare") for p in recipe.parts], "found", lengths.tolist())
            print(
                "    first",
                round(found.first_count_s, 2),
                round(song.first_count, 2),
                "end",
                round(found.end_s, 1),
                round(song.end, 1),
            )
    print(f"{args.songs} made songs; listening takes {60 * spent / args.songs:.2f} s of work for a minute of sound")
    print(f"{'':12}{'score':>8}{'confidence':>12}{'lowest':>8}")
    for key in rows[0]:
        values = [row[key] for row in rows]
        said = f"{np.mean([s[key] for s in sure]):12.3f}" if key in sure[0] else " " * 12
        print(f"{key:12}{np.mean(values):8.3f}{said}{min(values):8.3f}")
    errors = [abs(np.array(rows_key) - np.array(conf)).mean() for rows_key, conf in
              (([r[k] for r in rows], [s[k] for s in sure]) for k in sure[0])]  # fmt: skip
    print(
        "mean distance of confidence from score, part by part:",
        dict(zip(sure[0], np.round(errors, 2).tolist(), strict=True)),
    )


def recordings(folder: Path) -> None:
    """Print what is heard in recordings."""
    for path in sorted(p for p in folder.iterdir() if p.suffix in {".ogg", ".mp3", ".wav", ".flac", ".m4a", ".opus"}):
        began = time.perf_counter()
        sound: Sound = heard(path)
        found = listen(sound, where=path.name)
        spent = time.perf_counter() - began
        beats = np.array(found.beats_s)
        places = [int(np.abs(beats - p).argmin()) for p in found.phrases_s]
        print(f"{path.name}: {sound.seconds:.1f} s heard in {spent:.1f} s; {found.tempo_bpm:.2f} in {found.metre}")
        print(f"   first beat {beats[0]:.2f}, first count {found.first_count_s:.2f}, end {found.end_s:.1f}")
        print("   phrases in beats:", np.diff([*places, len(beats)]).tolist())
        c = found.confidence
        print(f"   sure: beats {c.beats}, downbeats {c.downbeats}, eights {c.eights}, first count {c.first_count}")
        print(f"         tempo {c.tempo}, metre {c.metre}")
        print(
            "   also:",
            [(round(a.tempo_bpm, 1), round(a.first_count_s, 1), a.metre, a.confidence) for a in found.alternatives],
        )
        print("   findings:", [f.message for f in found.findings])


def main() -> None:
    """Run what was asked for."""
    ask = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ask.add_argument("--songs", type=int, default=60)
    ask.add_argument("--seed", type=int, default=2024)
    ask.add_argument("--recordings", type=Path)
    ask.add_argument("--worst", action="store_true")
    args = ask.parse_args()
    if args.songs:
        made_songs(args)
    if args.recordings:
        recordings(args.recordings)
    print(f"most memory: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024} MiB")


if __name__ == "__main__":
    main()
