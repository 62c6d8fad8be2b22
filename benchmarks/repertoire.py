"""The repertoire measured: finding and growth, taking in, start, kills at random moments, a disk that is full for real.

python benchmarks/repertoire.py grow [--most 100000] [--picture docs/pictures/repertoire-growth.svg]
python benchmarks/repertoire.py import [--sheets 600]
python benchmarks/repertoire.py start
python benchmarks/repertoire.py kill [--times 100]
python benchmarks/repertoire.py disk FOLDER     (a folder on a small disk of its own)

Dances are made up: the steps of the project's own sheets under invented titles, every one different. For the growth
each of these sheets is read once, and kept again and again by the storage's own door under other titles and tempos.
"""

from __future__ import annotations

import argparse
import os
import resource
import signal
import statistics
import subprocess
import sys
import tempfile
import time
from dataclasses import replace
from functools import cache
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING

from softshoe.base import DamagedError
from softshoe.dance.dance import LEVELS
from softshoe.errors import WorkbenchError
from softshoe.repertoire.beside import put_danced, put_label
from softshoe.repertoire.dances import Sheet, keep
from softshoe.repertoire.find import find
from softshoe.repertoire.intake import take_in
from softshoe.repertoire.packed import packed
from softshoe.repertoire.store import Repertoire
from softshoe.repertoire.values import Danced
from softshoe.wording.read import read

if TYPE_CHECKING:
    from collections.abc import Iterator

    from softshoe.base import Base
    from softshoe.dance.dance import Dance

SHEETS = Path(__file__).parents[1] / "tests" / "sheets"
FIRST = (
    "Amber", "Barley", "Birch", "Bramble", "Brass", "Button", "Candle", "Cedar", "Chalk", "Cinder", "Clover",
    "Cobble", "Copper", "Cotton", "Damson", "Dusty", "Elder", "Feather", "Fennel", "Fiddle", "Garden", "Ginger",
    "Hazel", "Heather", "Honey", "Indigo", "Ivy", "Juniper", "Kettle", "Lantern", "Lemon", "Linen", "Lupin",
    "Maple", "Marble", "Meadow", "Mill", "Mossy", "Nettle", "Oaken", "Orchard", "Paper", "Pebble", "Pepper",
    "Poppy", "Quiet", "Quince", "Rambling", "Ribbon", "River", "Rosy", "Rusty", "Saffron", "Silver", "Slate",
    "Sorrel", "Spindle", "Sunday", "Tansy", "Teasel", "Thistle", "Timber", "Velvet", "Walnut", "Wicker", "Willow",
    "Winter", "Woolly", "Yarrow",
)  # fmt: skip
LAST = (
    "Alley", "Bakery", "Barn", "Bazaar", "Bend", "Boat", "Bridge", "Canter", "Carousel", "Chair", "Corner",
    "Cottage", "Cove", "Crossing", "Dale", "Ferry", "Field", "Fair", "Forge", "Gate", "Glide", "Green", "Harbour",
    "Hill", "Hop", "Hornpipe", "House", "Jig", "Lane", "Lock", "Loft", "March", "Market", "Mill", "Mooring",
    "Orchard", "Parade", "Pier", "Polka", "Pond", "Promenade", "Quay", "Ramble", "Reel", "Row", "Saunter",
    "Shuffle", "Square", "Stable", "Stairs", "Stomp", "Street", "Stroll", "Sway", "Terrace", "Tide", "Waltz",
    "Walk", "Wharf",
)  # fmt: skip
QUERIES = (
    "lantern", "lan", "l", "copper lane", "copper la", "step right", "vine", "coaster touch", "monterey",
    "heel toe clap", "seated", "two walls under 110", "has a monterey", "no turns", "has a vine no turns beginner",
    "waltz", "32 counts 4 walls", "seated under 100 no claps", "lantrn", "coppr lane", "xylophone", "#christmas",
    "danced this year", "never danced seated",
    "not danced since 2025", "has a jazz box 100 to 112 bpm", '"step right forward"', "called harbour",
    "up to beginner", "",
)  # fmt: skip


TOLD = ("%7d dances: find %5.1f ms of CPU median, %5.1f ms p99; opening %4.0f ms; one more kept in %3.0f ms, many in "
        "%3.1f ms each; %6.1f MB (find on the wall, with whatever else runs: %5.1f, %5.1f ms)")  # fmt: skip


@cache
def real_sheets() -> list[tuple[str, Dance]]:
    """Return the project's own sheets that can be read."""
    known = []
    for path in sorted([*SHEETS.glob("own/*.txt"), *SHEETS.glob("hand_*/sound/*.txt")]):
        words = path.read_text(encoding="utf-8")
        try:
            known.append((words, read(words)))
        except WorkbenchError:
            continue
    return known


def made_up(many: int, dice: Random) -> Iterator[tuple[str, Dance]]:
    """Yield dances that differ in title, tempo, level and walls, with the steps of real sheets."""
    known = real_sheets()
    for k in range(many):
        words, dance = known[dice.randrange(len(known))]
        title = f"{dice.choice(FIRST)} {dice.choice(LAST)} {k}"
        lines = words.splitlines()
        tempo = float(dice.randrange(76, 132))
        text = "\n".join([title, f"{tempo:g} bpm, from the {dice.choice(FIRST)} {dice.choice(LAST)} book", *lines[1:]])
        yield (
            text,
            replace(dance, title=title, tempo_bpm=tempo, level=dice.choice(LEVELS), walls=dice.choice((1, 2, 4))),
        )


def filled(repertoire: Repertoire, first: int, last: int, dice: Random) -> float:
    """Keep dances up to a number and return the seconds that keeping took; each sheet's steps are told only once."""
    known: dict[str, Sheet] = {}
    spent = 0.0
    for begin in range(first, last, 500):
        rows = [(one, dice.random(), dice.random()) for one in made_up(min(500, last - begin), dice)]
        sheets = [_sheet(known, words, dance) for (words, dance), _, _ in rows]
        start = time.perf_counter()
        with repertoire.writing() as base:
            for sheet, (_, label, day) in zip(sheets, rows, strict=True):
                put = keep(base, sheet, uid="new")
                if label < 0.1:
                    put_label(base, "dance", put.dance, dice.choice(("Christmas", "Tuesday", "slow")))
                if day < 0.5:
                    put_danced(base, put.dance, Danced(f"202{dice.randrange(2, 7)}-{dice.randrange(1, 13):02}-15"))
        spent += time.perf_counter() - start
    return spent


def _sheet(known: dict[str, Sheet], words: str, dance: Dance) -> Sheet:
    steps = "\n".join(words.splitlines()[2:])
    if steps not in known:
        known[steps] = Sheet.of(words, replace(dance, title="@title@", tempo_bpm=1e9))
    events = known[steps].events.replace("@title@", dance.title).replace("1000000000.0", str(dance.tempo_bpm))
    facts = replace(
        known[steps].facts, title=dance.title, walls=dance.walls, tempo_low=dance.tempo_bpm,
        tempo_high=dance.tempo_bpm, level=LEVELS.index(dance.level),
    )  # fmt: skip
    return Sheet(words, events, facts)


def percentile(times: list[float], share: float) -> float:
    return sorted(times)[min(len(times) - 1, int(share * len(times)))]


def timed_finds(repertoire: Repertoire, rounds: int) -> dict[str, list[tuple[float, float]]]:
    """Return the milliseconds of every query, on the wall and of CPU, one find after another as somebody would type."""
    for query in QUERIES:
        find(repertoire, query, most=20)
    times: dict[str, list[tuple[float, float]]] = {query: [] for query in QUERIES}
    for _ in range(rounds):
        for query in QUERIES:
            start, cpu = time.perf_counter(), time.process_time()
            find(repertoire, query, most=20)
            times[query].append(((time.perf_counter() - start) * 1000, (time.process_time() - cpu) * 1000))
    return times


def grow(most: int, picture: str) -> None:
    """Growth from 100 dances on: finding, opening, keeping one more, size, a copy."""
    dice, rows, at = Random(11), [], 0
    with tempfile.TemporaryDirectory() as room:
        repertoire = Repertoire.at(Path(room))
        for size in [n for n in (100, 300, 1000, 3000, 10_000, 30_000, 100_000) if n <= most]:
            spent = filled(repertoire, at, size, dice)
            per_ms, at = spent / (size - at) * 1000, size
            times = timed_finds(repertoire, 9 if size <= 10_000 else 2)
            wall = [one for each in times.values() for one, _ in each]
            cpu = [one for each in times.values() for _, one in each]
            start = time.perf_counter()
            Repertoire.at(Path(room))
            open_ms = (time.perf_counter() - start) * 1000
            words, dance = next(made_up(1, Random(size)))
            start = time.perf_counter()
            repertoire.keep(words, replace(dance, title=f"One more {size}"))
            keep_ms = (time.perf_counter() - start) * 1000
            mb = sum(path.stat().st_size for path in Path(room).glob("repertoire.sqlite3*")) / 1e6
            row = (size, statistics.median(cpu), percentile(cpu, 0.99), open_ms, keep_ms, per_ms, mb,
                   statistics.median(wall), percentile(wall, 0.99))  # fmt: skip
            rows.append(row)
            print(TOLD % row, flush=True)
            middle = {query: statistics.median(cpu for _, cpu in each) for query, each in times.items()}
            said = "; ".join(f"“{query}” {middle[query]:.0f} ms" for query in sorted(middle, key=middle.get)[-4:])
            print(f"        slowest: {said}", flush=True)
            if picture:
                Path(picture).write_text(drawn(rows), encoding="utf-8")


LINES = ((1, "find, median", "", "#1b5e7a"), (2, "find, p99", "7 4", "#1b5e7a"), (3, "opening", "2 3", "#8a4b08"),
         (4, "keep one", "10 3 2 3", "#444"))  # fmt: skip
FACE = 'font-family="sans-serif" font-size="15"'


def drawn(rows: list[tuple[float, ...]]) -> str:
    """Return the growth as a picture: both axes by powers of ten, a line each for median, p99 and opening."""
    from math import log10

    wide, high, left, top = 720, 420, 84, 40
    low_x, high_x, low_y, high_y = 2.0, max(3.0, log10(max(row[0] for row in rows))), -1.0, 4.0

    def x(value: float) -> float:
        return left + (log10(value) - low_x) / (high_x - low_x) * (wide - left - 130)

    def y(value: float) -> float:
        return top + (high_y - log10(max(value, 0.1))) / (high_y - low_y) * (high - top - 60)

    out = [f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide} {high}" role="img" {FACE}>',
           "<title>How finding, opening and keeping grow from 100 dances to 100,000</title>",
           f'<rect width="{wide}" height="{high}" fill="#fff"/>']  # fmt: skip
    for power in range(-1, 5):
        at, name = y(10**power), f"{10**power:g} ms" if power < 3 else f"{10 ** (power - 3)} s"
        out.append(f'<path d="M{left} {at:.1f}H{wide - 130}" stroke="#ccc"/>')
        out.append(f'<text x="{left - 8}" y="{at + 5:.1f}" text-anchor="end">{name}</text>')
    for power in range(2, round(high_x) + 1):
        out.append(f'<text x="{x(10**power):.1f}" y="{high - 34}" text-anchor="middle">{10**power:,}</text>')
    out.append(f'<text x="{(left + wide - 130) / 2:.0f}" y="{high - 10}" text-anchor="middle">dances kept</text>')
    named: list[float] = []
    for column, name, dash, colour in sorted(LINES, key=lambda line: y(rows[-1][line[0]])):
        points = " ".join(f"{x(row[0]):.1f},{y(row[column]):.1f}" for row in rows)
        last = max(y(rows[-1][column]), named[-1] + 17 if named else 0.0)
        named.append(last)
        out.append(
            f'<polyline points="{points}" fill="none" stroke="{colour}" stroke-width="3" stroke-dasharray="{dash}"/>'
        )
        out.append(f'<text x="{wide - 124}" y="{last + 5:.1f}" fill="{colour}">{name}</text>')
    return "\n".join([*out, "</svg>"]) + "\n"


def importing(many: int) -> None:
    """How many sheets a second are taken in, from the project's own sheets under made-up titles."""
    with tempfile.TemporaryDirectory() as room:
        folder = Path(room) / "sheets"
        folder.mkdir()
        for k, (words, _) in enumerate(made_up(many, Random(7))):
            (folder / f"{k:05}.txt").write_text(words, encoding="utf-8")
        for workers in (1, os.cpu_count() or 1):
            home = Path(room) / f"home-{workers}"
            here, other = time.process_time(), resource.getrusage(resource.RUSAGE_CHILDREN)
            done = take_in(Repertoire.at(home), folder, workers=workers)
            after = resource.getrusage(resource.RUSAGE_CHILDREN)
            here_s = time.process_time() - here
            other_s = after.ru_utime + after.ru_stime - other.ru_utime - other.ru_stime
            print(f"{workers} processes: {many} sheets in {done.seconds:.1f} s, {many / done.seconds:.0f} a second; "
                  f"{(here_s + other_s) / many * 1000:.0f} ms of CPU a sheet, {here_s / many * 1000:.0f} of them here",
                  flush=True)  # fmt: skip
        start = time.perf_counter()
        take_in(Repertoire.at(home), folder)
        print(f"the same folder again: {time.perf_counter() - start:.1f} s")


def starting() -> None:
    """The whole command, against bare Python; the least of several, for the machine may be busy."""
    with tempfile.TemporaryDirectory() as room:
        os.environ["SOFTSHOE_HOME"] = room
        repertoire = Repertoire.at(Path(room))
        filled(repertoire, 0, 10_000, Random(3))
        for words in (("-c", "pass"), ("-m", "softshoe", "--help"), ("-m", "softshoe", "find", "lantern"),
                      ("-m", "softshoe", "find", "has a monterey")):  # fmt: skip
            times, cpu = [], []
            for _ in range(9):
                start, before = time.perf_counter(), resource.getrusage(resource.RUSAGE_CHILDREN)
                subprocess.run([sys.executable, *words], stdout=subprocess.DEVNULL, check=False)
                after = resource.getrusage(resource.RUSAGE_CHILDREN)
                times.append((time.perf_counter() - start) * 1000)
                cpu.append((after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime) * 1000)
            print(f"{' '.join(words):36} {min(times):5.0f} ms least, {statistics.median(times):5.0f} ms median; "
                  f"{statistics.median(cpu):4.0f} ms of CPU; load {os.getloadavg()[0]:.1f}", flush=True)  # fmt: skip


SAVE = """
import sys
from pathlib import Path
from softshoe.repertoire.store import Repertoire
from softshoe.wording.read import read
kept = Repertoire.at(Path(sys.argv[1]))
for k, sheet in enumerate(sorted(Path(sys.argv[2]).iterdir())):
    words = sheet.read_text(encoding="utf-8") + f"\\n{sys.argv[3]}"
    print(kept.keep(words, read(words)).text, flush=True)
"""
TAKE = """
import sys
from pathlib import Path
from softshoe.repertoire.intake import take_in
from softshoe.repertoire.store import Repertoire
take_in(Repertoire.at(Path(sys.argv[1])), Path(sys.argv[2]), told=lambda done, of: print(done, flush=True), workers=2)
"""


def kill(times: int) -> None:
    """Kill saves and imports at random moments; count what was lost, and what does not hold together."""
    dice, said, lost, torn, ended = Random(5), 0, 0, 0, 0
    with tempfile.TemporaryDirectory() as room:
        home, folder = Path(room) / "home", Path(room) / "sheets"
        folder.mkdir()
        for k, (words, _) in enumerate(made_up(150, Random(7))):
            (folder / f"{k:05}.txt").write_text(words, encoding="utf-8")
        for k in range(times):
            saving, taken = k % 2 == 0, Path(room) / f"taken-{ended}"
            where = home if saving else taken
            lines = _killed([SAVE, str(home), str(folder), str(k)] if saving else [TAKE, str(taken), str(folder)], dice)
            with Repertoire.at(where).reading() as base:
                there = {row["uid"] for row in base.rows("select uid from dance_text")}
                torn += _torn(base)
            whole = [line for line in lines if len(line) == 32]
            said += len(whole) if saving else int(lines[-1]) if lines else 0
            lost += sum(uid not in there for uid in whole)
            lost += max(0, int(lines[-1]) - len(there)) if lines and not saving else 0
            ended += not saving and len(there) == 150
        outcomes = {one.outcome for one in take_in(Repertoire.at(taken), folder).files}
        print(f"{times} kills: {said} acknowledged, {lost} lost, {torn} databases that did not hold together; "
              f"{ended} imports went on to their end, the last one with {outcomes}")  # fmt: skip


def _killed(code: list[str], dice: Random) -> list[str]:
    """Run a program until it has said its first word and a random while longer; return the lines it said."""
    program = subprocess.Popen([sys.executable, "-c", *code], stdout=subprocess.PIPE, text=True, start_new_session=True)
    assert program.stdout
    first = program.stdout.readline() if dice.random() < 0.8 else ""
    time.sleep(dice.random() * 1.5)
    os.killpg(program.pid, signal.SIGKILL)
    lines = (first + program.stdout.read()).splitlines(keepends=True)
    program.wait()
    program.stdout.close()
    return [line.strip() for line in lines if line.endswith("\n")]


def _torn(base: Base) -> bool:
    """Whether a database does not hold together, or shows half of a dance."""
    half = "select 1 as one from dance d where not exists (select 1 from dance_text where dance = d.n)"
    return (
        [row[0] for row in base.rows("pragma integrity_check")] != ["ok"]
        or bool(base.rows(half))
        or base.value("select count(*) from dance") != base.value("select count(*) from dance_words")
    )


def disk(folder: Path) -> None:
    """Keep and pack on a small disk until it is full, for real; then look whether all is there."""
    repertoire, said = Repertoire.at(folder / "home"), []
    try:
        for words, dance in made_up(100_000, Random(1)):
            said.append(repertoire.keep(words + "\n" + "remark " * 400, dance).text)
    except WorkbenchError as wrong:
        print(f"after {len(said)} dances:\n{wrong}")
    try:
        packed(repertoire.folder, folder / "all.zip")
    except (WorkbenchError, DamagedError) as wrong:
        print(wrong)
    with Repertoire.at(folder / "home").reading() as base:
        there = {row["uid"] for row in base.rows("select uid from dance_text")}
        half = len(list(folder.rglob(".part-*"))) + (folder / "all.zip").exists()
        print(f"lost: {sum(uid not in there for uid in said)} of {len(said)}; half files: {half}; "
              f"integrity: {base.value('pragma integrity_check')}")  # fmt: skip


def main() -> None:
    words = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    words.add_argument("what", choices=("grow", "import", "start", "kill", "disk"))
    words.add_argument("folder", nargs="?", type=Path)
    words.add_argument("--most", type=int, default=100_000)
    words.add_argument("--picture", default="")
    words.add_argument("--sheets", type=int, default=600)
    words.add_argument("--times", type=int, default=100)
    said = words.parse_args()
    if said.what == "grow":
        grow(said.most, said.picture)
    elif said.what == "import":
        importing(said.sheets)
    elif said.what == "start":
        starting()
    elif said.what == "kill":
        kill(said.times)
    else:
        disk(said.folder)


if __name__ == "__main__":
    main()
