"""How many sections that ask for others with something other are planned by their words, of some never looked at.

    python benchmarks/asks_told.py

``asks_apart.txt``: sixty such sections by a writer whose words nobody looked at while the rules were made. Beside them
the sections of ``tests/wording/asks``, by which they were made.
"""

from __future__ import annotations

import sys
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from wording import test_asks_told_by_many as many

APART = Path(__file__).parent / "asks_apart.txt"


def told(block: many.Block) -> str:
    """Whether a block is told rightly, wrongly or not at all."""
    for yet, name in ((True, "right"), (False, "not told")):
        try:
            many.test_what_many_leaders_ask_is_told_rightly_or_not_at_all(block._replace(yet=yet))
        except AssertionError:
            continue
        return name
    return "wrong"


def main() -> None:
    for name, paths in (("made by", sorted(many.HERE.glob("*.txt"))), ("never looked at", [APART])):
        tally = Counter(told(block) for path in paths for block in many.blocks_in(path))
        print(name, dict(sorted(tally.items())))


if __name__ == "__main__":
    main()
