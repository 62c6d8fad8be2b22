"""The main job against the length of its song: time, memory, and where the time goes, in one run.

    python benchmarks/make.py SHEET SONG [--every | --editions]

``--every`` asks for every version and every edition of the films, US letter with a binder's margins; ``--editions`` for
every edition of the seated dance and the walkthrough. Prints what the encoder alone needs for the very frames of all
films, in processor time, against the processor time of the whole job.

Memory is the sum of what all processes of the job hold (proportional set size where the system tells it), sampled four
times a second. Prints the ratio of the time taken to the song's length.
"""

from __future__ import annotations

import json
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from film import same_frames

MIB = 2**20
TICK_S = 0.25
EDITIONS = [word for name in ("portrait", "reduced motion", "high contrast") for word in ("--film-edition", name)]
EVERY = [
    *(word for kind in ("seated", "standing", "supported", "arms", "left", "right") for word in ("--versions", kind)),
    *EDITIONS,
    *("--binder", "--paper", "letter"),
]


def family(root: int) -> list[int]:
    """Return the process and all below it, as /proc tells them."""
    found = [root]
    for pid in found:
        for children in Path(f"/proc/{pid}/task").glob("*/children"):
            try:
                found += map(int, children.read_text().split())
            except OSError:
                continue
    return found


def held_mib(root: int) -> float:
    total = 0
    for pid in family(root):
        try:
            lines = Path(f"/proc/{pid}/smaps_rollup").read_text().splitlines()
        except OSError:
            continue
        total += sum(int(line.split()[1]) for line in lines if line.startswith("Pss:"))
    return total * 1024 / MIB


def encoder_s(films: list[Path]) -> tuple[float, int]:
    """Processor seconds of the encoder alone for the frames of these films, and how many frames they are."""
    spent, frames = 0.0, 0
    for film in films:
        seconds, shown = same_frames(film)
        spent, frames = spent + seconds, frames + shown
    return spent, frames


def main(sheet: str, song: str, *more: str) -> None:
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "made"
        words = [sys.executable, "-m", "softshoe", "make", sheet, song, "-o", str(out), "--timings"]
        words += EVERY if "--every" in more else EDITIONS if "--editions" in more else []
        start, peak = time.perf_counter(), 0.0
        job = subprocess.Popen(words)
        while job.poll() is None:
            peak = max(peak, held_mib(job.pid))
            time.sleep(TICK_S)
        taken = time.perf_counter() - start
        used = resource.getrusage(resource.RUSAGE_CHILDREN)
        again = time.perf_counter()
        subprocess.run(words, check=True, stderr=subprocess.DEVNULL, stdout=subprocess.DEVNULL)
        again = time.perf_counter() - again
        alone, frames = encoder_s(sorted(out.glob("*.mp4")))
        length = json.loads((out / "song.json").read_text())["end"]
    print(f"song {length:.0f} s; made in {taken:.0f} s: {taken / length:.2f} × the song; peak memory {peak:.0f} MiB")
    spent = used.ru_utime + used.ru_stime
    print(f"processor time {spent:.0f} s; the encoder alone for the {frames} frames of all films {alone:.0f} s: "
          f"{spent / alone:.2f} ×")  # fmt: skip
    print(f"made again with nothing changed: {again:.2f} s, {again / taken:.3f} × the first time")


if __name__ == "__main__":
    main(*sys.argv[1:])
