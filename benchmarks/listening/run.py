"""The benchmark of listening: softshoe and general beat trackers side by side on the same songs, in one run.

    python benchmarks/listening/run.py [--songs 40] [--workers 2] [--only NAME …] [--write PAGE] [--rows FILE]

Songs come from seeds that nothing else uses (``songs.py``). ``--recordings FOLDER`` adds recordings whose truth is not
known: there the trackers' agreement with each other is shown. ``--write`` puts the tables between the two marks of a
page. ``--rows`` keeps every number for ``calibrate.py`` and ``reliability.py``; with ``--calibration`` the songs come
from the seeds kept for fitting the confidence, and only softshoe listens.
"""

from __future__ import annotations

import argparse
import json
import os
import resource
import subprocess
import sys
import time
import warnings
from datetime import UTC, datetime
from functools import partial
from multiprocessing import get_context
from pathlib import Path
from typing import Any

for threads in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS", "NUMBA_NUM_THREADS"):
    os.environ.setdefault(threads, "1")
sys.path.insert(0, str(Path(__file__).resolve().parent))

import numpy as np  # noqa: E402
from calibrate import claims  # noqa: E402
from scores import KEYS, Told, scores  # noqa: E402
from songs import CALIBRATION_SEED, SETS, TEST_SEED, beatless, known  # noqa: E402
from trackers import OURS, TRACKERS, version_of  # noqa: E402

from softshoe.errors import WorkbenchError  # noqa: E402

SONG_S = 210.0
BEGIN, END = "<!-- benchmark: begins -->", "<!-- benchmark: ends -->"
made: dict[str, object] = {}


def tracker(name: str):
    if name not in made:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            made[name] = TRACKERS[name][0]()
            clicks = np.tile(np.r_[np.ones(200), np.zeros(10_825)], 30).astype(np.float32)
            made[name](clicks, 22_050)  # what is only slow the first time is no part of the cost
    return made[name]


def one(job: tuple[str, int], names: tuple[str, ...], seed: int) -> dict[str, Any]:
    """Return the scores of every tracker on a song, and what our own listeners said of themselves."""
    kind, number = job
    warnings.simplefilter("ignore")
    if kind == "beatless":
        sounds = {n: timed(n, beatless(number), 22_050)[0].own for n in names if n in OURS}
        return {"set": kind, "number": number, "sure": {n: claims(own, None) for n, own in sounds.items()}}
    song = known(kind, seed + number)
    row = {"set": kind, "number": number, "name": song.name, "bpm": song.bpm, "scores": {}, "s": {}, "sure": {}}
    for name in names:
        told, seconds = timed(name, song.mono, song.rate_hz)
        row["scores"][name] = scores(song, told)
        row["s"][name] = seconds * SONG_S / (len(song.mono) / song.rate_hz)
        if name in OURS:
            row["sure"][name] = claims(told.own, song)
    return row


def timed(name: str, mono: np.ndarray, rate_hz: int) -> tuple[Told, float]:
    track = tracker(name)
    began = time.process_time()
    try:
        told = track(mono, rate_hz)
    except WorkbenchError:
        told = Told(np.zeros(0), np.zeros(0), np.zeros(0), np.zeros(0), -1.0, 1.0, 0)
    return told, time.process_time() - began


def table(rows: list[dict], names: tuple[str, ...]) -> list[str]:
    """Return the table of one set as lines of Markdown."""
    lines = ["| listener | " + " | ".join(KEYS) + " | s |", "|---|" + "---|" * (len(KEYS) + 1)]
    for name in [n for n in names if all(n in r["s"] for r in rows)]:
        cells = []
        for key in KEYS:
            values = [r["scores"][name][key] for r in rows if key in r["scores"][name]]
            cells.append(f"{100 * np.mean(values):.1f}" if values else "–")
        lines.append(f"| {name} | " + " | ".join(cells) + f" | {np.mean([r['s'][name] for r in rows]):.1f} |")
    return lines


def cost(rows: list[dict], names: tuple[str, ...], most_mb: dict[str, float]) -> list[str]:
    """Return speed as a ratio to the fastest and to the best general tracker, and memory."""
    seconds = {n: float(np.mean([r["s"][n] for r in rows])) for n in names}
    general = [n for n in names if n not in OURS]
    if not general:
        return []
    fastest = min(general, key=lambda n: seconds[n])
    best = max(general, key=lambda n: np.mean([r["scores"][n]["beats"] for r in rows]))
    lines = [f"| listener | s for 3½ minutes | of the fastest ({fastest}) | of the best ({best}) | most memory, MB |",
             "|---|---|---|---|---|"]  # fmt: skip
    for n in names:
        ratios = [f"{seconds[n] / seconds[other]:.2f} ×" for other in (fastest, best)]
        mb = most_mb.get(n, float("nan"))
        lines.append(f"| {n} | {seconds[n]:.1f} | {' | '.join(ratios)} | {'–' if np.isnan(mb) else f'{mb:.0f}'} |")
    return lines


def memory(name: str) -> float:
    """Return the most memory a fresh process takes for a song of three and a half minutes. [MB]"""
    asked = subprocess.run([sys.executable, __file__, "--memory", name], capture_output=True, text=True, check=False)
    try:
        return float(asked.stdout.split()[-1])
    except (IndexError, ValueError):
        return float("nan")


def say_memory(name: str) -> None:
    mono = known("bandstand", TEST_SEED).mono
    mono = np.tile(mono, int(SONG_S * 22_050 / len(mono)) + 1)[: int(SONG_S * 22_050)]
    tracker(name)(mono, 22_050)
    status = Path("/proc/self/status")
    if status.exists():  # what the system counts for a child begins with its parent's share; this does not
        peak = next(line for line in status.read_text().splitlines() if line.startswith("VmHWM"))
        print(float(peak.split()[1]) / 1024)
    else:
        print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 2**20)


def agreement(folder: Path, names: tuple[str, ...]) -> list[str]:
    """Return how each tracker's beats agree with those of the general trackers, on recordings without a truth."""
    from scores import f_score

    general = [n for n in names if n not in OURS]
    paths = sorted(p for p in folder.iterdir() if p.suffix in {".ogg", ".mp3", ".wav", ".flac", ".m4a", ".opus"})
    lines = ["| listener | " + " | ".join(p.stem for p in paths) + " |", "|---|" + "---|" * len(paths)]
    found = {p.stem: {n: timed(n, *sound_in(p))[0].beats for n in names} for p in paths}
    for n in names:
        cells = []
        for p in paths:
            others = [found[p.stem][g] for g in general if g != n]
            cells.append(
                f"{100 * np.mean([f_score(found[p.stem][n], beats, 0.07) for beats in others]):.0f}" if others else "–"
            )
        lines.append(f"| {n} | " + " | ".join(cells) + " |")
    return lines


def sound_in(path: Path) -> tuple[np.ndarray, int]:
    try:
        from softshoe.music.audio import heard

        return heard(path).mono(22_050), 22_050
    except ModuleNotFoundError:
        from importlib import import_module

        samples, rate_hz = import_module("soundfile").read(path, dtype="float32", always_2d=True)
        return import_module("soxr").resample(samples.mean(axis=1), rate_hz, 22_050), 22_050


def usable(wanted: list[str]) -> tuple[tuple[str, ...], list[str]]:
    """Return the trackers that can be made here, and the reasons for the others."""
    here, missing = [], []
    for name in wanted:
        try:
            tracker(name)
            here.append(name)
        except Exception as wrong:
            why = str(wrong).splitlines()[0] if str(wrong) else ""
            missing.append(f"{name}: not run here ({type(wrong).__name__}: {why})")
    return tuple(here), missing


def report(args: argparse.Namespace, rows: list[dict], names: tuple[str, ...], missing: list[str]) -> str:
    versions = ", ".join(f"{p} {version_of(p)}".strip() for p in dict.fromkeys(TRACKERS[n][1] for n in names))
    most = max(sum(r["set"] == kind for r in rows) for kind in SETS)
    asked = f"python benchmarks/listening/run.py --songs {most} --write docs/listening.md"
    asked += " --recordings FOLDER" if args.recordings else ""
    more = f"numpy {np.__version__}, mir_eval {version_of('mir_eval')}; one core each."
    lines = [f"{datetime.now(UTC):%d %B %Y}; {versions}; {more}", "", f"    {asked}", ""]
    for kind, words in SETS.items():
        mine = [r for r in rows if r["set"] == kind]
        if mine:
            lines += [f"**{words}**, {len(mine)} songs", "", *table(mine, names), ""]
    songs = [r for r in rows if r.get("scores") and all(n in r["s"] for n in names)]
    lines += [*cost(songs, names, {n: memory(n) for n in names}), ""]
    if args.recordings:
        lines += ["Real recordings, truth unknown: mean F of the beats against each of the general trackers", "",
                  *agreement(args.recordings, names), ""]  # fmt: skip
    return "\n".join([*lines, *missing])


def main() -> None:
    """Run, print, and write what was asked for."""
    ask = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ask.add_argument("--songs", type=int, default=40, help="of each set")
    ask.add_argument("--workers", type=int, default=2)
    ask.add_argument("--only", nargs="+", default=list(TRACKERS), choices=list(TRACKERS))
    ask.add_argument("--sets", nargs="+", default=list(SETS), choices=list(SETS))
    ask.add_argument("--recordings", type=Path)
    ask.add_argument("--write", type=Path)
    ask.add_argument("--rows", type=Path)
    ask.add_argument("--from-rows", type=Path, nargs="+", help="make the tables again from these rows, joined")
    ask.add_argument("--calibration", action="store_true")
    ask.add_argument("--memory", help=argparse.SUPPRESS)
    args = ask.parse_args()
    if args.memory:
        say_memory(args.memory)
        return
    if args.from_rows:
        rows = joined([json.loads(path.read_text()) for path in args.from_rows])
        names = tuple(n for n in args.only if any(n in r.get("scores", {}) for r in rows))
        put(args, report(args, rows, names, []))
        return
    names, missing = usable([n for n in args.only if not args.calibration or n in OURS])
    jobs = [(kind, k) for kind in args.sets for k in range(args.songs)] + [
        ("beatless", k) for k in range(args.songs // 4)
    ]
    seed = CALIBRATION_SEED if args.calibration else TEST_SEED
    if args.calibration:
        jobs = [(kind, k + 10_000 * (kind == "beatless")) for kind, k in jobs]
    with get_context("spawn").Pool(args.workers) as pool:
        rows = list(pool.imap_unordered(partial(one, names=names, seed=seed), jobs, chunksize=1))
    rows.sort(key=lambda r: (r["set"], r["number"]))
    if args.rows:
        args.rows.write_text(json.dumps(rows))
    if args.calibration:
        return
    put(args, report(args, rows, names, missing))


def joined(runs: list[list[dict]]) -> list[dict]:
    """Return the rows of several runs on the same songs as one, each with all its listeners."""
    found: dict[tuple[str, int], dict] = {}
    for row in (row for run in runs for row in run):
        own = found.setdefault((row["set"], row["number"]), row)
        for part in ("scores", "s", "sure"):
            own.setdefault(part, {}).update(row.get(part, {}))
    return list(found.values())


def put(args: argparse.Namespace, told: str) -> None:
    """Print the report, and write it into a page."""
    print(told)
    if args.write:
        page = args.write.read_text("utf-8")
        before, rest = page.split(BEGIN)
        args.write.write_text(before + BEGIN + "\n" + told.strip() + "\n" + END + rest.split(END)[1], "utf-8")


if __name__ == "__main__":
    main()
