"""How many of all planted slips are found: every slip that every way makes in every sound sheet, kind by kind.

Run: python benchmarks/planted.py. The tests look at twenty-four of each kind; this looks at all, some thousands.
"""

from __future__ import annotations

import sys
import time
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from planted.pool import accused, found, pool
from planted.test_planted import KINDS, slips
from softshoe.errors import WordingError
from softshoe.wording.read import empty, read


def main() -> None:
    told: Counter[str] = Counter()
    wrong: Counter[str] = Counter()
    start = time.perf_counter()
    print(f"{len(pool())} sound sheets")
    for kind in KINDS:
        for slip in slips()[kind]:
            try:
                findings = read(slip.text).findings
            except WordingError:
                findings = empty(slip.text).findings
            told[kind] += found(slip, findings)
            wrong[kind] += bool(accused(slip, findings))
        print(f"{kind:18} planted {len(slips()[kind]):4}  found {told[kind]:4}  others accused {wrong[kind]:3}")
    many = sum(len(listed) for listed in slips().values())
    share = told.total() / many
    print(f"{many} planted, {told.total()} found ({share:.1%}), {wrong.total()} with another error told")
    print(f"{time.perf_counter() - start:.0f} s")


if __name__ == "__main__":
    main()
