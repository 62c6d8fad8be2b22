"""Learn how much each trait weighs when a sheet told whole is chosen over a reading, or not.

    python training/weighing/fit.py ROWS.jsonl … [--out whole_points.csv]

Trees of three questions, added up (scikit-learn), are told as rules: limits that hold and their points. First it is tried
on files left out in turn: sheets read right, errors told, and how many slips are still told.
"""

from __future__ import annotations

import argparse
import csv
import json
import random
from collections import Counter, defaultdict
from pathlib import Path
from typing import Any

import numpy as np
from sklearn.ensemble import HistGradientBoostingClassifier

from softshoe.wording.whole_case import TRAITS
from softshoe.wording.whole_score import is_never_taken

Row = dict[str, Any]
NAMES = tuple(TRAITS)
OF_SLIP = 0.3  # how much a slip weighs beside a sheet: there are more of them here than leaders make
OFTEN = 80  # slips of one kind: more of them weigh no more
OF_MORE = 0.1  # another error told beside a slip
BOTH_WRONG = 0.15
FOLDS = 6
TAKEN = 0.2  # from here on a way is taken: 0 in the table of points. A dozen slips more are told for one sheet in a thousand
LIMITS = (-0.5, -0.25, 0.0, 0.25)


def marked(rows: list[Row]) -> list[Row]:
    """Say of each slip whether its sheet could not be read rightly without it; leave out ways that are never taken."""
    rows = [{**row, "ways": [way for way in row["ways"] if not is_never_taken(way["traits"])]} for row in rows]
    lost = {row["of"]: not exact(row["found"]) for row in rows if not row["slip"]}
    return [{**row, "lost": bool(row["slip"]) and lost.get(row["of"], False)} for row in rows]


def exact(one: Row) -> bool:
    return bool(one["right"] and not one["errors"])


def slip_told(row: Row, taken: Row) -> bool:
    """Whether a slip is told; words that were told as unknown stay told, whatever is taken."""
    return bool(taken["told"] or row["found"]["words"])


def lesson(row: Row, way: Row) -> tuple[int, float] | None:
    """Whether a way is to be taken over what was read (1, 0), and how much that weighs; None where nothing is to learn."""
    found = row["found"]
    if row["slip"]:
        told = slip_told(row, found), slip_told(row, way)
        if row["lost"]:  # what is told of a sheet that can't be read is told by chance
            return (1, OF_SLIP) if way["told"] and not way["more"] else None
        if told[0] != told[1]:
            return int(told[1]), OF_SLIP
        return (int(way["more"] < found["more"]), OF_MORE) if all(told) and way["more"] != found["more"] else None
    if exact(way) and not exact(found):
        return 1, 1.0
    if found["right"] and way["right"]:
        return None
    if found["right"]:
        return 0, 1.0 if exact(found) else 0.7
    return (1, 0.5) if way["right"] else (0, BOTH_WRONG)


def taught(rows: list[Row]) -> tuple[list[list[float]], list[int], list[float]]:
    out = []
    many = Counter(row["slip"] for row in rows)
    for row in rows:
        rare = min(1.0, OFTEN / many[row["slip"]]) if row["slip"] else 1.0
        for way in row["ways"]:
            told = lesson(row, way)
            if told:
                out.append((_numbers(way), told[0], rare * told[1]))
    x, y, weight = zip(*out, strict=True)
    return list(x), list(y), list(weight)


def _numbers(way: Row) -> list[float]:
    return [way["traits"][name] for name in NAMES]


def learnt(rows: list[Row]) -> HistGradientBoostingClassifier:
    x, y, weight = taught(rows)
    net = HistGradientBoostingClassifier(
        max_iter=120, learning_rate=0.1, max_leaf_nodes=4, min_samples_leaf=20, l2_regularization=5
    )
    return net.fit(np.array(x), y, sample_weight=weight)


def tried(rows: list[Row]) -> None:
    """Print how sheets are read, each by what was learnt from other writers."""
    writers = sorted({row["of"].split(":")[0] for row in rows})
    random.Random(1).shuffle(writers)
    tally: dict[float, list[int]] = {limit: [0] * 5 for limit in LIMITS}
    for fold in range(FOLDS):
        out = set(writers[fold::FOLDS])
        net = learnt([row for row in rows if row["of"].split(":")[0] not in out])
        for row in (row for row in rows if row["of"].split(":")[0] in out):
            ways = row["ways"]
            score = net.decision_function(np.array([_numbers(way) for way in ways])) if ways else np.array([-9.0])
            for limit, sums in tally.items():
                taken = ways[int(score.argmax())] if score.max() > limit else row["found"]
                if row["slip"] and not row["lost"]:
                    sums[3] += slip_told(row, taken)
                    sums[4] += 1
                elif not row["slip"]:
                    for k, many in enumerate((taken["right"], exact(taken), len(taken["errors"]))):
                        sums[k] += many
    sheets = sum(not row["slip"] for row in rows)
    for limit, (right, without, errors, kept, slips) in tally.items():
        print(
            f"above {limit}: of {sheets} right {right}, and no error {without}, errors {errors}; slips told {kept} of {slips}"
        )


def as_rules(net: HistGradientBoostingClassifier) -> dict[tuple[tuple[str, str, float], ...], float]:
    """The points of all leaves, by the limits that lead to them."""
    rules: dict[tuple[tuple[str, str, float], ...], float] = defaultdict(float)
    rules[()] = float(net._baseline_prediction.ravel()[0]) - TAKEN
    for (tree,) in net._predictors:
        left = [(0, ())]
        while left:
            at, limits = left.pop()
            node = tree.nodes[at]
            if node["is_leaf"]:
                rules[tuple(sorted(limits))] += float(node["value"])
                continue
            name, limit = NAMES[node["feature_idx"]], float(node["num_threshold"])
            left += [(node["left"], (*limits, (name, "<=", limit))), (node["right"], (*limits, (name, ">", limit)))]
    return rules


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("rows", type=Path, nargs="+")
    parser.add_argument("--out", type=Path)
    args = parser.parse_args()
    rows = marked([json.loads(line) for path in args.rows for line in path.read_text(encoding="utf-8").splitlines()])
    tried(rows)
    if args.out:
        with args.out.open("w", encoding="utf-8") as file:
            told = csv.writer(file, lineterminator="\n")
            told.writerow(["limits", "points"])
            for limits, points in sorted(as_rules(learnt(rows)).items()):
                told.writerow(
                    ["; ".join(f"{name} {sign} {limit:.10g}" for name, sign, limit in limits), f"{points:.4f}"]
                )


if __name__ == "__main__":
    main()
