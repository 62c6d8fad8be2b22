"""How long reading a sheet takes: the first in a process, new sheets, a shelf of many, the same once more, one edited.

Run: ``python benchmarks/reading.py``. Milliseconds of the process's own time, and as a ratio to a fixed loop of plain
Python, so that runs on busy machines can be compared. Words read are kept for the next time (``wording/kept.py``), so
three figures are told apart: *new* sheets share no more wording with those before than the sheets of the tests do, each
by another hand; *again* is the same text; *edited* is a sheet with one more word in its middle, as in the studio. A
*shelf* is sheets whose sections are drawn from those of the tests' sheets: as leaders' sheets do, they share sections.
"""

from __future__ import annotations

import os
import random
import subprocess
import sys
import time
from importlib.resources import files
from pathlib import Path
from statistics import mean, median
from typing import TYPE_CHECKING

from softshoe.errors import WordingError
from softshoe.wording.read import read

os.environ["SOFTSHOE_BY_RULES"] = "1"  # what the second reading costs: benchmarks/retelling.py
if TYPE_CHECKING:
    from collections.abc import Callable

RUNS = 25
SHELF = 1500  # sheets of the shelf that are read; the others cost what these do, or less
SHEETS = Path(__file__).parents[1] / "tests" / "sheets"
FIRST = """
import sys, time
from softshoe.wording.read import read
text = sys.stdin.read()
start = time.process_time()
read(text)
print((time.process_time() - start) * 1000)
"""
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


def first_ms(text: str) -> float:
    """Return how long the first reading takes in a process of its own, after the import."""
    done = [subprocess.run([sys.executable, "-c", FIRST], input=text, capture_output=True, text=True, check=True)
            for _ in range(5)]  # fmt: skip
    return median(float(one.stdout) for one in done)


def new_sheets() -> tuple[float, float, int]:
    """Return the mean time of a sheet that was not read before, its mean length in lines, and how many were read.

    Every second sheet of the tests is read beforehand, so the tables are loaded and what sheets share is kept.
    """
    texts = [path.read_text("utf-8") for path in sorted(SHEETS.glob("**/*.txt"))]
    for text in texts[::2]:
        grown(text)
    spent = []
    for text in texts[1::2]:
        start = time.process_time()
        grown(text)
        spent.append((time.process_time() - start) * 1000)
    return mean(spent), mean(len(text.strip().splitlines()) for text in texts[1::2]), len(spent)


def shelf(number: int) -> list[str]:
    """Return so many sheets, each with the head of one sheet of the tests and four sections of any."""
    drawn = random.Random(1)
    parts = [path.read_text("utf-8").split("\n\n") for path in sorted(SHEETS.glob("**/*.txt"))]
    written = [[part for part in row if part.strip()] for row in parts]
    whole = [row for row in written if len(row) > 2]
    sections = [part for row in whole for part in row[1:]]
    return ["\n\n".join((drawn.choice(whole)[0], *drawn.choices(sections, k=4))) for _ in range(number)]


def shelf_ms(number: int) -> float:
    """Return the mean time of one of the first ``number`` sheets of a shelf, read from the first on."""
    texts = shelf(number)
    start = time.process_time()
    for text in texts:
        grown(text)
    return (time.process_time() - start) * 1000 / number


def edited_ms(text: str) -> float:
    """Return how long reading takes when one word more stands in the middle, another each time."""
    lines = text.splitlines()
    middle = next(i for i in range(len(lines) // 2, len(lines)) if lines[i][:1].isdigit())
    turns = [[*lines[:middle], f"{lines[middle]} {'gently ' * n}", *lines[middle + 1 :]] for n in range(1, RUNS + 1)]
    texts = iter(["\n".join(turn) for turn in turns])
    return median_ms(lambda: grown(next(texts)))


def told(name: str, spent: float) -> None:
    """Print one figure and its ratio to the fixed loop."""
    print(f"{name:52} {spent:9.2f} {spent / median_ms(fixed_loop, 9):7.2f}")


def main() -> None:
    usual = files("softshoe").joinpath("data/demo/sheet.txt").read_text("utf-8")
    sixty = sheet_of(60)
    print(f"{'':52} {'ms':>9} {'loops':>7}   (one loop: {median_ms(fixed_loop):.2f} ms)")
    told("the demo's sheet, first in its process", first_ms(usual))
    each, length, number = new_sheets()
    told(f"a new sheet (mean of {number}, {length:.0f} lines)", each)
    told("sixty lines of new sheets", each / length * 60)
    for name, text in (("the demo's sheet", usual), (f"a sheet of {len(sixty.splitlines())} lines", sixty)):
        read(text)
        told(f"{name}, again", median_ms(lambda text=text: read(text)))  # type: ignore[misc]
        told(f"{name}, edited", edited_ms(text))
    print(f"{'ten thousand sheets of as many hands, seconds':52} {each * 10:9.1f}")
    print(f"{'ten thousand sheets of a shelf, seconds':52} {shelf_ms(SHELF) * 10_000 / 1000:9.1f}")
    for lines in (100, 1000, 10_000, 100_000):
        text = sheet_of(lines)
        spent = median_ms(lambda text=text: grown(text), runs=3)  # type: ignore[misc]
        print(f"{f'{lines} lines':52} {spent:9.1f} {spent / lines:7.3f} ms a line")


if __name__ == "__main__":
    main()
