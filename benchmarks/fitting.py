"""How long fitting takes: one dance on one song, solved again after a pin, songs of growing length, ten thousand pairs.

    python benchmarks/fitting.py

Songs and dances are made here; times are processor time of this process, the middle of some runs, so that a busy
machine changes them little.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path
from random import Random
from statistics import median
from typing import TYPE_CHECKING

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from fit.made_maps import made_map
from fit.planted import KINDS, planted, stepping
from softshoe.fit.advice import advice
from softshoe.fit.lay import fit
from softshoe.fit.match import matched
from softshoe.fit.pins import Pins, WallPin

if TYPE_CHECKING:
    from collections.abc import Callable

ODD = [16, 20, 32, 34, 36, 40, 48]


def spent_ms(work: Callable[[], object], *, runs: int = 5) -> float:
    """Return the middle processor time of some runs [ms]; the first one, which fills caches, is not counted."""
    work()
    found = []
    for _ in range(runs):
        start = time.process_time()
        work()
        found.append(1000 * (time.process_time() - start))
    return median(found)


def one_song() -> None:
    print("\none dance on one song: five runs, and solved again after a pin [ms]")
    for kind in KINDS:
        cases = [planted(Random(f"{kind} {number}"), kind) for number in range(6)]
        all_five = median(spent_ms(lambda c=case: fit(c.dance, c.song), runs=1) for case in cases)
        pins = [Pins(walls={2: WallPin(None, ((case.dance.counts, 4),))}) for case in cases]
        again = median(
            spent_ms(lambda c=case, p=pin: fit(c.dance, c.song, pins=p, most=1), runs=1)
            for case, pin in zip(cases, pins, strict=True)
        )
        print(f"  {kind:18} {all_five:7.1f} {again:7.1f}")
    random = Random("odd")
    odd = made_map([random.choice(ODD) for _ in range(14)])
    print(f"  {'odd throughout':18} {spent_ms(lambda: fit(stepping(32, turn_deg=90), odd), runs=1):7.1f}")
    threes = made_map([12] * 40)
    print(f"  {'phrases of 12':18} {spent_ms(lambda: fit(stepping(32, turn_deg=90), threes), runs=1):7.1f}")


def growth() -> None:
    print("\nsongs of growing length: a tag after every second wall [counts, ms, ms a hundred counts]")
    for phrases in (6, 12, 18, 24):
        song = made_map([32, 36] * (phrases // 2))
        spent = spent_ms(lambda s=song: fit(stepping(32), s, most=1))
        counts = 34 * phrases
        print(f"  {counts:5} {spent:8.1f} {100 * spent / counts:8.2f}")


def pairs() -> None:
    random = Random("pairs")
    dances = [(f"dance {n}", stepping(random.choice([16, 24, 32, 40, 48, 64]))) for n in range(100)]
    songs = [
        (
            f"song {n}",
            made_map([random.choice([32, 32, 32, 36, 16, 40]) for _ in range(10)], bpm=random.uniform(70, 180)),
        )
        for n in range(100)
    ]
    print("\n10,000 pairs [ms]")
    print(f"  looked at            {spent_ms(lambda: matched(dances, songs, most=0), runs=3):8.0f}")
    print(f"  and the best 24 laid {spent_ms(lambda: matched(dances, songs), runs=3):8.0f}")


def advising() -> None:
    dance, song = stepping(32, turn_deg=90), made_map([24] * 12)
    now = fit(dance, song).runs[0].score.total
    print(f"\nadvice on a song that does not fit [ms]\n  {spent_ms(lambda: advice(dance, song, now), runs=3):8.0f}")


def pace() -> None:
    spent = spent_ms(lambda: sum(range(10**6)))
    print(f"adding up a million numbers: {spent:.0f} ms of this machine: compare by it")


if __name__ == "__main__":
    pace()
    one_song()
    growth()
    pairs()
    advising()
