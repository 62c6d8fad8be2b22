"""The main job against the length of its song: time, memory, and where the time goes, in one run.

    python benchmarks/make.py SHEET SONG

Memory is the sum of what all processes of the job hold (proportional set size where the system tells it), sampled ten
times a second. Prints the ratio of the time taken to the song's length.
"""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
import time
from pathlib import Path

MIB = 2**20
TICK_S = 0.1


def family(root: int) -> list[int]:
    """Return the process and all below it, as /proc tells them."""
    parents = {}
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = stat.read_text().rsplit(")", 1)[1].split()
        except OSError:
            continue
        parents[int(stat.parent.name)] = int(fields[1])
    found = [root]
    for pid in found:
        found += [child for child, parent in parents.items() if parent == pid]
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


def main(sheet: str, song: str) -> None:
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "made"
        words = [sys.executable, "-m", "softshoe", "make", sheet, song, "-o", str(out), "--timings"]
        start, peak = time.perf_counter(), 0.0
        job = subprocess.Popen(words)
        while job.poll() is None:
            peak = max(peak, held_mib(job.pid))
            time.sleep(TICK_S)
        taken = time.perf_counter() - start
        again = time.perf_counter()
        subprocess.run(words, check=True, stderr=subprocess.DEVNULL, stdout=subprocess.DEVNULL)
        again = time.perf_counter() - again
        length = json.loads((out / "song.json").read_text())["end"]
    print(f"song {length:.0f} s; made in {taken:.0f} s: {taken / length:.2f} × the song; peak memory {peak:.0f} MiB")
    print(f"made again with nothing changed: {again:.2f} s, {again / taken:.3f} × the first time")


if __name__ == "__main__":
    main(*sys.argv[1:3])
