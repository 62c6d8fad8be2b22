"""How fast the figure moves, and the worst of every truth over the test dances in all versions and over made dances.

python benchmarks/figure.py [--every N] [--generated N] [--first N] [--jobs N] [--only WORD]

--every 4 looks at each fourth test dance only, --generated 1000 adds made dances (from
the number --first on, 0 by default: numbers that nobody looked at prove more), --jobs says how many processes share
the work (1 by default), --only takes the motions whose name has a word. Every breach is printed with its
dance, moment and limb; the exit code is 1 when there is one. It wants nothing but what the package itself wants.
"""

from __future__ import annotations

import argparse
import json
import multiprocessing
import os
import sys
import time
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

for threads in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(threads, "1")  # processes share the work, not threads
ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "tests" / "figure"))

from choreographies import choreography  # noqa: E402

from softshoe.adapt.adapt import adapt  # noqa: E402
from softshoe.adapt.version import KINDS, Kind  # noqa: E402
from softshoe.dance.document import dance_from_json  # noqa: E402
from softshoe.dance.footwork import wall_events  # noqa: E402
from softshoe.figure.move import danced  # noqa: E402
from softshoe.figure.truths import measures  # noqa: E402

if TYPE_CHECKING:
    from collections.abc import Iterable

    from softshoe.dance.dance import Dance
    from softshoe.figure.danced import Danced, Measure
    from softshoe.figure.motion import Stance, Support

SHEETS = ROOT / "tests" / "sheets"
LONG = 64  # counts
HELD: dict[Kind, Support] = {"supported": "chair back", "arms": "wheelchair"}


class Job(NamedTuple):
    """One motion to judge: a test dance in a version, or the made dance of a number."""

    path: Path | None
    kind: Kind = "standing"
    number: int = 0

    @property
    def name(self) -> str:
        return f"{self.path.parts[-3]}/{self.path.stem}, {self.kind}" if self.path else f"made {self.number}"


@cache
def dance_of(path: Path) -> Dance:
    return dance_from_json(json.loads(path.read_text(encoding="utf-8")))


def dance_and_support(job: Job) -> tuple[Dance, Support]:
    """Return the dance of a job in its version, and what holds the dancer."""
    assert job.path is not None
    made = adapt(dance_of(job.path), job.kind).dance
    return made, HELD.get(job.kind) or ("chair" if made.seated else "free")


def moved(job: Job) -> Danced:
    """Return the motion of a job."""
    if job.path is None:
        stance: Stance = "seated" if job.number % 3 == 2 else "standing"
        events, counts = choreography(job.number, stance)
        return danced(events, counts=counts, stance=stance)
    made, on = dance_and_support(job)
    return danced(wall_events(made), counts=made.counts, stance="standing", support=on, loop=True)


def judged(job: Job) -> tuple[Job, list[Measure]]:
    """Return the worst of each truth in one motion, all broken ones first."""
    return job, measures(moved(job))


def report(heading: str, found: Iterable[tuple[Job, list[Measure]]]) -> int:
    """Print every breach, the worst of every truth and how many motions break it; return how many break something."""
    worst: dict[str, tuple[Measure, Job]] = {}
    broken: dict[str, int] = {}
    count = clean = 0
    print(f"\n{heading}")
    for job, measured in found:
        count += 1
        clean += not any(one.broken for one in measured)
        for one in measured:
            if one.truth not in worst or one.value - one.limit > worst[one.truth][0].value - worst[one.truth][0].limit:
                worst[one.truth] = one, job
        for one in (one for one in measured if one.broken):
            print(f"  BREACH {told(one)}, {job.name}", flush=True)
        for truth in {one.truth for one in measured if one.broken}:
            broken[truth] = broken.get(truth, 0) + 1
    print(f"{heading}: {count} motions, {clean} break nothing")
    for truth, (one, job) in sorted(worst.items(), key=lambda item: (-broken.get(item[0], 0), item[0])):
        print(f"  {truth}: broken in {broken.get(truth, 0)}; worst {told(one)}, {job.name}")
    return count - clean


def told(one: Measure) -> str:
    return f"{one.truth}: {one.value:.4f} of at most {one.limit:.4f}, {one.limb}, moment {one.moment:.2f}"


def speed() -> None:
    """Print how long 64 counts take against how long they are danced at 120 counts a minute, and poses a second: some
    dances as written, and the versions that hold a chair; shorter ones, and some of 64 counts."""
    sound = sorted(path for path in SHEETS.rglob("*.json") if "sound" in path.parts)
    paths = [*sorted((SHEETS / "sound").glob("*.json"))[:4], *[p for p in sound if dance_of(p).counts == LONG][:3]]
    for job in [Job(path, kind) for kind in KINDS[:2] for path in paths]:
        least, poses, counts = float("inf"), 0, 1.0
        made, on = dance_and_support(job)
        for _ in range(5):
            start = time.process_time()
            motion = danced(wall_events(made), counts=made.counts, stance="standing", support=on, loop=True).motion
            least, poses, counts = min(least, time.process_time() - start), len(motion.facing_deg), motion.counts
        took = least * 64 / counts
        name = f"{made.title}, {made.counts} counts, {job.kind}"
        print(f"{name}: 64 counts in {took * 1000:.0f} ms, {32 / took:.0f} times as fast as danced, "
              f"{poses / least:,.0f} poses a second")  # fmt: skip


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--every", type=int, default=1)
    parser.add_argument("--generated", type=int, default=0)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--jobs", type=int, default=1)
    parser.add_argument("--only", default="")
    given = parser.parse_args()
    paths = sorted(path for path in SHEETS.rglob("*.json") if "sound" in path.parts)[:: given.every]
    both = {
        "test dances in all versions": [Job(path, kind) for path in paths for kind in KINDS],
        "made dances": [Job(None, number=number) for number in range(given.first, given.first + given.generated)],
    }
    if not given.only:
        speed()
    failed = 0
    with multiprocessing.Pool(given.jobs) as pool:
        for heading, jobs in both.items():
            wanted = [job for job in jobs if given.only in job.name]
            if wanted:
                failed += report(heading, pool.imap(judged, wanted, chunksize=2))
    return int(failed > 0)


if __name__ == "__main__":
    sys.exit(main())
