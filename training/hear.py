"""What the network hears in songs kept apart, with their truth: for choosing the decoder's constants and fitting trust.

    python training/hear.py --work work --fonts A B --make            # features, on all cores
    python training/hear.py --work work --net listener.pt --out out   # likelihoods as OUT/heard_SET.npz; or an .npz

Sets: ``held``, seeds from 1 100 000, all that training songs may be; ``styles`` and ``new``, seeds for testing, in
styles that training knows and in those it never had; ``genres``, songs written in genres that training never had;
``small``, songs of the small synthesiser of the tests.
"""

from __future__ import annotations

import argparse
import json
import os
import sys
from multiprocessing import get_context
from pathlib import Path
from typing import Any

for threads in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(threads, "1")

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), *(str(HERE.parent / folder) for folder in ("src", "tests", "benchmarks"))]

import numpy as np  # noqa: E402

SIZES = {"held": 400, "styles": 60, "new": 60, "small": 60, "genres": 80}
KNOWN = ("style", "bpm", "metre", "beats", "downbeats", "eights", "phrases", "first_count", "end")


def known(kind: str, number: int, fonts: tuple[str, ...], printed: str) -> tuple[np.ndarray, dict[str, Any]]:
    """Return the sound of a song of a set and what is true of it."""
    if kind == "small":
        from listening import any_recipe

        from music.songs_made import made

        song = made(any_recipe(90_000 + number))
        r = song.recipe
        return song.sound.mono(22_050), vars(song) | {"style": r.style, "bpm": r.bpm, "metre": r.metre}
    from make import TEST, UNSEEN
    from make import song as trained_like

    seed = {"held": 1_100_000 + number, "genres": UNSEEN + number}.get(kind, TEST + 2 * number + (kind == "new"))
    sound, truth = trained_like(seed, fonts, printed)
    return sound, vars(truth)


def featured(job: tuple[str, int, tuple[str, ...], str, str]) -> None:
    """Keep the features of one song."""
    from make import small

    from softshoe.music.model_features import features

    kind, number, fonts, printed, folder = job
    sound, truth = known(kind, number, fonts, printed)
    plain = {k: np.round(truth[k], 4).tolist() if isinstance(truth[k], np.ndarray) else truth[k] for k in KNOWN}
    power = np.array([float(np.mean(part**2)) for part in np.array_split(sound, max(1, len(sound) // 2205))])
    path = Path(folder) / f"{kind}_{number:04d}.npz"
    np.savez(path, rows=small(features(sound)), truth=json.dumps(plain), power=power)


def heard(args: argparse.Namespace) -> None:
    """Write the likelihoods of all songs, set by set."""
    import torch
    from net import Listener
    from train import FLOOR, TOP, scaled, started

    device = "cuda" if torch.cuda.is_available() else "cpu"
    net = Listener().to(device).eval()
    net.load_state_dict({name: value.half().float() for name, value in started(args.net, device).items()})

    def run(rows: np.ndarray) -> np.ndarray:
        from softshoe.music import model_net

        def logits(piece: np.ndarray, _weights: object) -> np.ndarray:
            x = np.pad(piece, ((0, -len(piece) % 4), (0, 0)), mode="edge")
            with torch.no_grad():
                found = net(scaled(torch.from_numpy(x).to(device)[None]))[0].float().cpu().numpy()
            return np.asarray(found[: len(piece)])

        model_net.heads = logits  # windows and their overlap stay the package's own
        return np.asarray(model_net.likelihoods(rows, {}), dtype=np.float16)

    args.out.mkdir(parents=True, exist_ok=True)
    for kind in SIZES:
        arrays: dict[str, Any] = {}
        truths = {}
        for path in sorted(args.work.glob(f"{kind}_*.npz")):
            with np.load(path) as z:
                rows = (z["rows"].astype(np.float32) / 255 * (TOP - FLOOR) + FLOOR).astype(np.float32)
                truths[path.stem], power = json.loads(str(z["truth"])), z["power"].astype(np.float32)
            arrays[path.stem], arrays[f"{path.stem}_power"] = run(rows), power
        np.savez_compressed(args.out / f"heard_{kind}.npz", **arrays, truths=json.dumps(truths))


def main() -> None:
    """Make features, or hear them."""
    ask = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ask.add_argument("--work", type=Path, required=True)
    ask.add_argument("--fonts", nargs="+", default=())
    ask.add_argument("--printed", default="", help="tunes in the public domain, written by printed.py")
    ask.add_argument("--make", action="store_true")
    ask.add_argument("--net", type=Path)
    ask.add_argument("--out", type=Path)
    ask.add_argument("--share", type=float, default=1.0, help="of the usual number of songs")
    args = ask.parse_args()
    args.work.mkdir(parents=True, exist_ok=True)
    if args.make:
        from sound import font

        for path in args.fonts:
            font(path)
        jobs = [
            (kind, k, tuple(args.fonts), args.printed, str(args.work))
            for kind, n in SIZES.items()
            for k in range(max(1, int(n * args.share)))
        ]
        with get_context("fork").Pool() as pool:
            for _ in pool.imap_unordered(featured, jobs):
                pass
    if args.net:
        heard(args)


if __name__ == "__main__":
    main()
