"""How long reading a sheet takes: one of sixty lines, one of usual length, ten thousand of them; and as a sheet grows.

Run: ``python benchmarks/reading.py``. Every figure is the median of several runs in one process, in milliseconds of its
own processor time, and as a ratio to a fixed loop of plain Python, so that runs on busy machines can be compared.
"""

from __future__ import annotations

import time
from importlib.resources import files
from statistics import median
from typing import TYPE_CHECKING

from softshoe.errors import WordingError
from softshoe.wording.read import read

if TYPE_CHECKING:
    from collections.abc import Callable

RUNS = 25
EIGHTS = (
    ("1-4 Vine right with a touch", "5-6 Step left forward, touch right beside left", "7-8 Step right back, kick left"),
    ("1&2 Shuffle left forward", "3-4 Rock right forward, recover left", "5&6 Coaster step right", "7-8 Stomp, clap"),
    ("1-2 Point right to the side, step right beside left", "3-4 Heel left forward, hold", "5 Hook left over right",
     "6 Heel left forward", "7-8 Step left together, hold and clap"),
    ("1-4 Rocking chair right", "5-6 Step right forward, pivot 1/2 left (6:00)", "7-8 Walk right, left",
     "arms: both hands roll at chest height"),
    ("1-2 Sway right, left", "3-4 Sway right, left", "5-8 Repeat 1-4"),
)  # fmt: skip


def fixed_loop() -> int:
    """The measure: always the same work of plain Python."""
    words: dict[str, int] = {}
    for i in range(20_000):
        key = str(i % 997)
        words[key] = words.get(key, 0) + i
    return len(words)


def sheet_of(lines: int) -> str:
    """Return a sheet of about as many lines."""
    out = ["Lantern Corner", "64 counts, 2 walls, improver, 112 bpm, intro 16", ""]
    number = 0
    while len(out) < lines:
        out += [f"Section {number + 1}", *EIGHTS[number % len(EIGHTS)]]
        number += 1
    out[1] = out[1].replace("64", str(8 * number))
    return "\n".join(out) + "\n"


def median_ms(work: Callable[[], object], runs: int = RUNS) -> float:
    """Return the median time of one run, in milliseconds."""
    spent = []
    for _ in range(runs):
        start = time.process_time()
        work()
        spent.append((time.process_time() - start) * 1000)
    return median(spent)


def grown(text: str) -> None:
    """Read a long text whatever comes of it."""
    try:
        read(text)
    except WordingError:
        return


def main() -> None:
    usual = files("softshoe").joinpath("data/demo/sheet.txt").read_text("utf-8")
    sixty = sheet_of(60)
    read(usual)
    loop = median_ms(fixed_loop)
    print(f"{'':42} {'ms':>9} {'loops':>7}   (one loop: {loop:.2f} ms)")
    for name, text in (("the demo's sheet", usual), (f"a sheet of {len(sixty.splitlines())} lines", sixty)):
        spent = median_ms(lambda text=text: read(text))  # type: ignore[misc]
        print(f"{name + ', read and checked':42} {spent:9.2f} {spent / median_ms(fixed_loop):7.2f}")
    many = [usual.replace("Lantern", f"Lantern {n}") for n in range(200)]
    start = time.process_time()
    for text in many:
        read(text)
    each = (time.process_time() - start) * 1000 / len(many)
    print(f"{'ten thousand of the demo’s length, seconds':42} {each * 10:9.1f}")
    for lines in (100, 1000, 10_000, 100_000):
        text = sheet_of(lines)
        spent = median_ms(lambda text=text: grown(text), runs=3)  # type: ignore[misc]
        print(f"{f'{lines} lines':42} {spent:9.1f} {spent / lines:7.3f} ms a line")


if __name__ == "__main__":
    main()
