"""Confidence made honest: how often what a listener said with so much confidence was right, and the table of it.

    python benchmarks/listening/run.py --calibration --songs 120 --rows calibration.json
    python benchmarks/listening/calibrate.py calibration.json

The second command fits, for each listener and part, a rising line of a few points (isotonic regression, then its steps'
middles) and writes ``src/softshoe/data/listening/calibration.csv``.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

import numpy as np

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE))
TABLE = HERE.parents[1] / "src" / "softshoe" / "data" / "listening" / "calibration.csv"
REMARK = (
    "# How often what a listener said with so much confidence was right. "
    "Ours (MIT), written by benchmarks/listening/calibrate.py."
)
SHORT = {"softshoe, rules": "rules", "softshoe, model": "model"}
PARTS = ("beats", "downbeats", "eights", "first_count", "tempo", "metre", "phrases")
STEPS = 6
DOUBT = 1.0  # a song's worth of doubt in every step, half of it right: nothing is ever said to be certain
Claim = tuple[str, float, float]


def claims(heard, song) -> list[Claim]:
    """Return (part, the listener's own confidence, share that is right); with no song nothing is right.

    heard : what a listener of ours heard (``softshoe.music.listen.Hearsay``), or None where it refused the sound
    """
    from softshoe.music.songmap import Said

    found = heard.heard.counted(Said()) if heard is not None else None
    return [] if found is None else judged(found, song)


def judged(found, song) -> list[Claim]:
    """Return what a song map claims, each with the share of it that is right."""
    from scores import NEAR_S, eights_right, numbered

    sure = found.confidence
    if song is None:
        return [(part, getattr(sure, part), 0.0) for part in ("beats", "tempo", "downbeats", "eights", "first_count")]
    half = 30 / song.bpm
    beats, downs = np.array(found.beats_s), np.array(found.downbeats_s)
    inside = numbered(song.beats, song.eights) >= 0

    def hit(told: np.ndarray, truth: np.ndarray, within: float) -> float:
        return float((np.abs(told[:, None] - truth[None]).min(axis=1) < within).mean()) if len(told) else 0.0

    right = {
        "beats": min(hit(beats, song.beats, NEAR_S), hit(song.beats[inside], beats, NEAR_S)),
        "downbeats": min(hit(downs, song.downbeats, NEAR_S), hit(song.downbeats, downs, NEAR_S)),
        "eights": eights_right(beats, np.array(found.eights_s), song),
        "first_count": float(abs(found.first_count_s - song.first_count) < half),
        "tempo": float(abs(found.tempo_bpm / song.bpm - 1) < 0.04),
        "metre": float(found.metre == song.metre),
    }
    rows = [(part, getattr(sure, part), share) for part, share in right.items()]
    rows += [("phrases", p, float(np.abs(song.phrases - start).min() < half))
             for start, p in zip(found.phrases_s, sure.phrases, strict=True)]  # fmt: skip
    return rows


def rising(said: np.ndarray, right: np.ndarray) -> list[tuple[float, float]]:
    """Return a few points of a rising line through (said, right): pooled neighbours, each a step of several songs."""
    order = np.argsort(said, kind="stable")
    blocks: list[list[float]] = []  # sum of said, sum of right, how many
    groups = np.array_split(order, min(STEPS * 2, max(1, len(order) // 8)))
    for group in groups:
        blocks.append([float(said[group].sum()), float(right[group].sum()), float(len(group))])
        while len(blocks) > 1 and blocks[-2][1] / blocks[-2][2] >= blocks[-1][1] / blocks[-1][2]:
            last = blocks.pop()
            blocks[-1] = [a + b for a, b in zip(blocks[-1], last, strict=True)]
    return [(s / n, (r + DOUBT / 2) / (n + DOUBT)) for s, r, n in blocks]


def main() -> None:
    """Write the table."""
    rows = json.loads(Path(sys.argv[1]).read_text())
    lines = [REMARK, "listener,part,said,right"]
    kept = TABLE.read_text("utf-8").splitlines() if TABLE.exists() else []
    names = sorted({name for row in rows for name in row["sure"]})
    lines += [line for line in kept if not line.startswith(("#", "listener,")) and line.split(",")[0] not in
              {SHORT[n] for n in names}]  # fmt: skip
    for name in names:
        for part in PARTS:
            pairs = [(c[1], c[2]) for row in rows for c in row["sure"].get(name, []) if c[0] == part]
            if len(pairs) >= 16:
                said, right = (np.array(x) for x in zip(*pairs, strict=True))
                lines += [f"{SHORT[name]},{part},{x:.3f},{y:.3f}" for x, y in rising(said, right)]
    TABLE.write_text("\n".join(lines) + "\n", "utf-8")
    print(f"written: {TABLE.name}, {len(lines) - 2} points")


if __name__ == "__main__":
    main()
