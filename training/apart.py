"""How well songs kept apart are counted: what the network heard in them (``hear.py``), decoded, by kind of music.

    python training/apart.py likely [other …] [--rows FILE]

Needs mir_eval, like the benchmark of listening. Weights and the decoder's constants are chosen by these tables.
"""

from __future__ import annotations

import argparse
import json
import os
import sys
from multiprocessing import get_context
from pathlib import Path
from types import SimpleNamespace
from typing import Any

for threads in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(threads, "1")

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), str(HERE.parent / "src"), str(HERE.parent / "benchmarks/listening")]

import numpy as np  # noqa: E402
from scores import Told, scores  # noqa: E402

from softshoe.music.model import counted  # noqa: E402
from softshoe.music.model_decode import first_counts  # noqa: E402
from softshoe.music.songmap import Said  # noqa: E402

KEYS = ("beats", "CMLt", "downbeats", "eights", "eights 95", "phrases", "first count")
SETS = ("held", "styles", "new", "genres", "small")
KINDS = ("composed", "loops", "piece", "sequenced")
sets: dict[tuple[str, str], tuple[dict[str, np.ndarray], dict[str, Any]]] = {}


def told(likely: np.ndarray) -> Told:
    """Return what the decoder tells of a song."""
    found = counted(likely, Said())
    if found is None:
        return Told(np.zeros(0), np.zeros(0), np.zeros(0), np.zeros(0), -1.0, 1.0, 0)
    beats, form, first = found.beats_s, found.form, first_counts(found.phrased)[0][0]
    phrases = [p for p in form.phrases if p >= first]
    return Told(
        beats, *(beats[list(at)] for at in (form.downbeats, form.eights, phrases)),
        float(beats[first]), found.tempo_bpm, form.metre,
    )  # fmt: skip


def one(job: tuple[str, str, str]) -> tuple[str, str, str, dict[str, float]] | None:
    """Return folder, kind, name and the scores of a song."""
    folder, kind, name = job
    arrays, truths = sets[folder, kind]
    truth = {k: np.array(v) if isinstance(v, list) else v for k, v in truths[name].items()}
    if len(truth["beats"]) < 8 or len(truth["eights"]) == 0:
        return None
    truth["phrases"] = truth["phrases"][truth["phrases"] >= truth["first_count"] - 0.01]
    style = truth["style"].split()[0]
    group = style if kind == "held" and style in KINDS else "others" if kind == "held" else kind
    return folder, group, name, scores(SimpleNamespace(**truth), told(arrays[name].astype(np.float32)))


def main() -> None:
    """Print the tables."""
    ask = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ask.add_argument("folders", nargs="+", help="of heard_SET.npz")
    ask.add_argument("--rows", type=Path, help="where to keep the scores of every song")
    args = ask.parse_args()
    for folder in args.folders:
        for kind in SETS:
            path = Path(folder) / f"heard_{kind}.npz"
            if path.exists():
                with np.load(path) as z:
                    own = {k: z[k] for k in z.files if k != "truths" and not k.endswith("_power")}
                    sets[folder, kind] = own, json.loads(str(z["truths"]))
    jobs = [(folder, kind, name) for (folder, kind), (own, _) in sets.items() for name in own]
    with get_context("fork").Pool() as pool:
        rows = [row for row in pool.imap_unordered(one, jobs) if row]
    sys.stdout.write("| songs apart | heard by | number | " + " | ".join(KEYS) + " |\n")
    for group in dict.fromkeys([*KINDS, "others", *SETS[1:]]):
        for folder in args.folders:
            own = [r for f, g, _, r in rows if f == folder and g == group]
            if own:
                means = " | ".join(f"{100 * np.mean([r[k] for r in own]):.1f}" for k in KEYS)
                sys.stdout.write(f"| {group} | {folder} | {len(own)} | {means} |\n")
    if args.rows:
        args.rows.write_text(json.dumps(rows, default=float), encoding="utf-8")


if __name__ == "__main__":
    main()
