"""How fast the command answers: ``softshoe --help`` and ``softshoe read`` against bare Python, in one run.

python benchmarks/command_line.py
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import time
from importlib.resources import files

ROUNDS = 9


def wall_s(*words: str) -> float:
    start = time.perf_counter()
    subprocess.run([sys.executable, *words], check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - start


def main() -> None:
    sheet = str(files("softshoe") / "data" / "demo" / "sheet.txt")
    jobs = {
        "bare Python": ("-c", "pass"),
        "--help": ("-m", "softshoe", "--help"),
        "read": ("-m", "softshoe", "read", sheet),
    }
    times: dict[str, list[float]] = {name: [] for name in jobs}
    for _ in range(ROUNDS):
        for name, words in jobs.items():
            times[name].append(wall_s(*words))
    bare = statistics.median(times["bare Python"])
    for name, seconds in times.items():
        middle = statistics.median(seconds)
        least = min(seconds) * 1000
        print(f"{name:12} {middle * 1000:6.0f} ms median, {least:6.0f} ms least, {middle / bare:5.1f} × bare Python")
    reading_in_process(sheet)


def reading_in_process(sheet: str) -> None:
    from pathlib import Path

    from softshoe.wording.read import read

    words = Path(sheet).read_text(encoding="utf-8")
    lines = words.count("\n")
    read(words)
    start = time.perf_counter()
    for _ in range(20):
        read(words)
    each_s = (time.perf_counter() - start) / 20
    print(f"reading {lines} lines in the process: {each_s * 1000:.1f} ms; 60 lines {each_s * 60 / lines * 1000:.1f} ms")


if __name__ == "__main__":
    main()
