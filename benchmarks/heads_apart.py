"""How well the facts of heads are read that the facts network was not taught: by rules alone, and with the network.

    python benchmarks/heads_apart.py [HEADS.txt …]

Every sixth head of training/facts/heads is kept apart. What a head does not say is compared for level, tempo and
intro only.
"""

from __future__ import annotations

import sys
from collections import Counter
from pathlib import Path
from typing import TYPE_CHECKING, Any

sys.path.extend(str(Path(__file__).parents[1] / "training" / name) for name in ("facts", "retelling"))

from heads import of_heads

from softshoe.dance.document import dance_json
from softshoe.wording.read import read
from softshoe.wording.retold import by_rules_alone

if TYPE_CHECKING:
    from collections.abc import Iterator

HEADS = Path(__file__).parents[1] / "training" / "facts" / "heads"
STANDING = """

Section 1
1-4 Step right forward, touch left beside right, step left back, touch right beside left
5-8 Step right to the side, touch left beside right, step left to the side, touch right beside left
"""
SEATED = """

Section 1
1-4 Right heel forward, right home, left heel forward, left home
5-8 Clap, clap, clap, hold
"""
NAMES = {"counts": "counts", "walls": "walls", "level": "level", "seated": "seated", "intro": "intro_counts"}
OPEN = ("counts", "walls", "seated")  # where the head does not say, the steps do


def amiss(row: dict[str, Any], got: dict[str, Any]) -> Iterator[str]:
    """Tell the facts that were read otherwise."""
    for name, key in NAMES.items():
        if not (row[name] is None and name in OPEN) and got[key] != row[name]:
            yield name
    tempo = got["tempo_bpm"]
    if (tempo if isinstance(tempo, list) else [tempo] if tempo is not None else []) != row["tempo"]:
        yield "tempo"
    if row["start"] and not got["seated"] and got["start_weight"] != row["start"]:
        yield "start"
    if row["metre"] and got["metre"] != row["metre"]:
        yield "metre"
    if "".join(row["title"].casefold().split()) != "".join(got["title"].casefold().replace("’", "'").split()):
        yield "title"


def told(row: dict[str, Any]) -> dict[str, Any]:
    return dance_json(read("\n".join(row["lines"]).strip("\n") + (SEATED if row["seated"] else STANDING)))


def main() -> None:
    paths = [Path(name) for name in sys.argv[1:]] or sorted(HEADS.glob("*.txt"))
    rows = [row for path in paths for row in of_heads(path) if row["apart"]]
    for name in ("rules", "both"):
        wrong: Counter[str] = Counter()
        whole = 0
        for row in rows:
            if name == "rules":
                with by_rules_alone():
                    got = told(row)
            else:
                got = told(row)
            bad = list(amiss(row, got))
            wrong.update(bad)
            whole += not bad
        print(f"{name}: {whole} of {len(rows)} heads read whole; wrong {dict(wrong.most_common())}", flush=True)


if __name__ == "__main__":
    main()
