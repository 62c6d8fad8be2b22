"""Make the data: songs drawn from seeds, played, and kept as features with their truth.

    python training/make.py --out data --fonts A.sf3 B.sf3 --first 0 --songs 3000

Each shard is an .npz: ``features`` (frames, bands) as whole numbers from 0 to 255, ``starts`` of the songs in it, and
``truth`` as JSON. Seeds under 1 000 000 are for training, from 1 000 000 for choosing (validation), from 2 000 000 for
testing; songs for testing may also have the held-out styles, and from 3 000 000 all are in genres no training song has.
"""

from __future__ import annotations

import argparse
import json
import logging
import os
import sys
import time
from multiprocessing import get_context
from pathlib import Path
from typing import Any

for threads in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(threads, "1")

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), str(HERE.parent / "src")]

import numpy as np  # noqa: E402
from band import Truth, score  # noqa: E402
from others import beatless, clicks  # noqa: E402
from printed import tunes  # noqa: E402
from sound import font, played  # noqa: E402
from styles import HELD_OUT, STYLES  # noqa: E402
from tunes import plan  # noqa: E402

from softshoe.music.model_features import FLOOR, features  # noqa: E402

LOG = logging.getLogger("make")
TOP = 2.0  # features above e squared times the loudest are cut
VALIDATION, TEST, UNSEEN = 1_000_000, 2_000_000, 3_000_000
SHARD = 24
DRAWN = 0.4  # share of songs whose way to play is drawn
COMPOSED = 0.17  # share of all songs that are accompanied as composed music is


def styles_for(seed: int) -> tuple[str, ...]:
    """Return the styles a song of a seed may have."""
    if TEST <= seed < UNSEEN and seed % 2:
        return HELD_OUT
    own = [name for name in STYLES if name not in HELD_OUT]
    if seed % 10 == 3:  # more songs in three than there are styles in three
        return tuple(name for name in own if STYLES[name].metre == 3)
    return tuple(own)


def song(seed: int, fonts: tuple[str, ...], printed: str = "") -> tuple[np.ndarray, Truth]:
    """Return the sound of a song, (n,) float32 at 22 050 Hz, and its truth.

    printed : a file of tunes in the public domain, written by ``printed.py``
    """
    if seed < TEST and seed % 60 < 3:
        return clicks(seed) if seed % 60 == 0 else beatless(seed)
    own = tunes(printed) if printed else ()
    shares = {"drawn_share": DRAWN, "composed_share": COMPOSED} if seed < TEST else {}
    written = score(plan(seed, styles=styles_for(seed), printed=own, unseen=seed >= UNSEEN, **shares))
    made_up = 1.0 if seed < TEST or seed >= UNSEEN else 0.0
    return played(written, np.random.default_rng([seed, 9]), fonts, made_up=made_up), written.truth


def small(rows: np.ndarray) -> np.ndarray:
    """Return features as whole numbers from 0 to 255."""
    return np.clip(np.rint((rows - FLOOR) / (TOP - FLOOR) * 255), 0, 255).astype(np.uint8)


def as_json(truth: Truth) -> dict[str, Any]:
    """Return the truth as plain values."""
    return {k: np.round(v, 4).tolist() if isinstance(v, np.ndarray) else v for k, v in vars(truth).items()}


def shard(job: tuple[int, int, tuple[str, ...], str, str, float]) -> float:
    """Make the songs of one shard; return how many seconds of sound."""
    first, last, fonts, printed, out, until = job
    rows, truths = [], []
    for seed in range(first, last):
        if until and time.time() > until:
            break
        try:
            sound, truth = song(seed, fonts, printed)
        except Exception:
            LOG.exception("song %d could not be made", seed)
            continue
        rows.append(small(features(sound)))
        truths.append(as_json(truth))
    if not rows:
        return 0.0
    starts = np.cumsum([0, *(len(r) for r in rows)])
    near = Path(out) / f".{first:07d}.part"
    with near.open("wb") as file:
        np.savez(file, features=np.concatenate(rows), starts=starts, truth=np.array(json.dumps(truths)))
    near.replace(Path(out) / f"{first:07d}.npz")
    return float(starts[-1]) / 50


def main() -> None:
    """Make what was asked for."""
    ask = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ask.add_argument("--out", type=Path, required=True)
    ask.add_argument("--fonts", nargs="+", required=True)
    ask.add_argument("--printed", default="", help="tunes in the public domain, written by printed.py")
    ask.add_argument("--first", type=int, default=0)
    ask.add_argument("--songs", type=int, default=3000)
    ask.add_argument("--minutes", type=float, default=0.0, help="stop after so long; 0: when all are made")
    ask.add_argument("--workers", type=int, default=os.cpu_count())
    args = ask.parse_args()
    logging.basicConfig(level=logging.INFO, format="%(message)s")
    args.out.mkdir(parents=True, exist_ok=True)
    for path in args.fonts:
        font(path)  # loaded once, shared by the workers
    last = args.first + args.songs
    until = time.time() + 60 * args.minutes if args.minutes else 0.0
    if args.printed:
        tunes(args.printed)
    jobs = [
        (k, min(k + SHARD, last), tuple(args.fonts), args.printed, str(args.out), until)
        for k in range(args.first, last, SHARD)
    ]
    began, total = time.perf_counter(), 0.0
    with get_context("fork").Pool(args.workers) as pool:
        for seconds in pool.imap_unordered(shard, jobs):
            total += seconds
    LOG.info("%d songs, %.1f hours, made in %.0f s", args.songs, total / 3600, time.perf_counter() - began)


if __name__ == "__main__":
    main()
