"""Is 80 % said right in 80 % of cases? Expected calibration error, and the picture of it.

    python benchmarks/listening/run.py --rows rows.json
    python benchmarks/listening/reliability.py rows.json more.json [--picture PNG] [--listener NAME] [--shipped]

Songs are dealt into five heaps; the confidences of each are put through a table fitted on the other four (with
``--shipped``: through the one that ships), sorted into tenths, and held against the share that was right.
The error is the mean distance of the two, weighed by how many claims each tenth holds (Naeini, Cooper & Hauskrecht
2015). Marks in the picture are as large as their tenth is full.
"""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path

import numpy as np

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), str(HERE.parents[1] / "src")]

from calibrate import PARTS, SHORT, rising  # noqa: E402

from softshoe.music.calibrated import on_line, points_of  # noqa: E402
from softshoe.render.look import palette, typeface  # noqa: E402
from softshoe.render.stage import Circle, Line, Mark, Polygon, Text, scaled  # noqa: E402

TENTHS = 10
HEAPS = 5
WORDS = {
    "beats": "beats", "downbeats": "first beats of bars", "eights": "counts of eight", "first_count": "first count",
    "tempo": "tempo", "metre": "metre", "phrases": "phrases",
}  # fmt: skip
SIDE, GAP, TOP = 250.0, 64.0, 90.0


def pairs(rows: list[dict], name: str, part: str, *, shipped: bool = False) -> tuple[np.ndarray, np.ndarray]:
    """Return what was said after calibration and what was right, over all songs."""
    heaps = [[(c[1], c[2]) for row in rows[k::HEAPS] for c in row["sure"].get(name, []) if c[0] == part]
             for k in range(HEAPS)]  # fmt: skip
    found = []
    for k, heap in enumerate(heaps):
        others = np.array([pair for j, other in enumerate(heaps) if j != k for pair in other])
        points = points_of(SHORT[name]).get(part, ()) if shipped else tuple(rising(others[:, 0], others[:, 1]))
        found += [(on_line(said, points), right) for said, right in heap]
    return (np.array([s for s, _ in found]), np.array([r for _, r in found]))


def tenths(said: np.ndarray, right: np.ndarray) -> list[tuple[float, float, int]]:
    """Return for each tenth that holds claims: mean said, mean right, how many."""
    place = np.minimum(TENTHS - 1, (said * TENTHS).astype(int))
    return [(float(said[place == k].mean()), float(right[place == k].mean()), int((place == k).sum()))
            for k in range(TENTHS) if np.any(place == k)]  # fmt: skip


def error(said: np.ndarray, right: np.ndarray) -> float:
    """Return the expected calibration error, 0 to 1."""
    return sum(n * abs(s - r) for s, r, n in tenths(said, right)) / max(1, len(said))


def panel(x: float, y: float, title: str, said: np.ndarray, right: np.ndarray) -> list[Mark]:
    """Return one square: said to the right, right upwards; on the slanted line both are the same."""
    c = palette()
    corner = ((x, y), (x + SIDE, y), (x + SIDE, y + SIDE), (x, y + SIDE))
    marks: list[Mark] = [Polygon(corner, c["mist"]), Line(((x, y + SIDE), (x + SIDE, y)), c["soft"], 1.6)]
    marks.append(Text(x, y - 12, title, 19, c["ink"], bold=True))
    marks.append(Text(x + SIDE - 8, y + SIDE - 12, f"error {error(said, right):.3f}", 17, c["ink"], anchor="end"))
    for share in (0, 50, 100):
        marks.append(Text(x + SIDE * share / 100, y + SIDE + 20, f"{share}", 15, c["soft"], anchor="middle"))
        marks.append(Text(x - 8, y + SIDE - SIDE * share / 100 + 5, f"{share}", 15, c["soft"], anchor="end"))
    spots = tenths(said, right)
    at = [(x + SIDE * s, y + SIDE - SIDE * r) for s, r, _ in spots]
    if len(at) > 1:
        marks.append(Line(tuple(at), c["right"], 2.5))
    for (px, py), (_, _, n) in zip(at, spots, strict=True):
        marks.append(Circle(px, py, 4 + 11 * float(np.sqrt(n / len(said))), c["right"], c["paper"], 2.0))
    return marks


def drawn(rows: list[dict], name: str, *, shipped: bool) -> bytes:
    """Return the picture of all parts as a PNG."""
    from softshoe.render.song_file import png
    from softshoe.render.stage_pixels import Canvas

    c, across = palette(), 4
    width = GAP + across * (SIDE + GAP)
    height = TOP + 2 * (SIDE + 96.0)
    told = "How sure softshoe says it is (to the right, of 100) and how often it is right (upwards)"
    marks: list[Mark] = [Text(GAP, 40, told, 24, c["ink"], bold=True)]
    for k, part in enumerate(PARTS):
        x, y = GAP + (k % across) * (SIDE + GAP), TOP + 20 + (k // across) * (SIDE + 90.0)
        marks += panel(x, y, WORDS[part], *pairs(rows, name, part, shipped=shipped))
    canvas = Canvas(round(width * 1.5), round(height * 1.5), typeface())
    canvas.draw(scaled(mark, 1.5) for mark in marks)
    words = "; ".join(f"{WORDS[p]}: error {error(*pairs(rows, name, p, shipped=shipped)):.3f}" for p in PARTS)
    return png(canvas.pixels()[:, :, :3], f"{told}. {words}.")


def main() -> None:
    """Print the errors and draw the picture."""
    ask = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ask.add_argument("rows", type=Path, nargs="+")
    ask.add_argument("--picture", type=Path)
    ask.add_argument("--shipped", action="store_true")
    ask.add_argument("--listener", default="softshoe, rules", choices=list(SHORT))
    args = ask.parse_args()
    rows = [row for path in args.rows for row in json.loads(path.read_text())]
    for name in SHORT:
        if any(name in row["sure"] for row in rows):
            errors = {p: error(*pairs(rows, name, p, shipped=args.shipped)) for p in PARTS}
            print(f"{name}, {len(rows)} songs:", ", ".join(f"{WORDS[p]} {e:.3f}" for p, e in errors.items()))
    if args.picture:
        args.picture.write_bytes(drawn(rows, args.listener, shipped=args.shipped))


if __name__ == "__main__":
    main()
