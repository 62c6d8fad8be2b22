"""Write trained weights as plain half-precision arrays that the package reads without torch.

    python training/export.py --net listener.pt --out src/softshoe/data/listening/listener.npz [--mean before.npz]

With ``--mean`` the mean of the weights and of those they went on from is written: on songs of neither kind it does
better than both.
The file also holds the licence, the recipe (how many songs and steps, which seed) and a hash over the training code.
With ``--example`` a short input and torch's answer to it are kept for the test that numpy agrees.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import os
import sys
from pathlib import Path
from typing import Any

import numpy as np
import torch

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE))

from net import Listener  # noqa: E402
from train import scaled  # noqa: E402

LICENCE = (
    "MIT. Trained only on songs drawn and played by the code in training/, some with tunes in the public domain; "
    "see docs/listening-model.md."
)


def recipe_hash() -> str:
    """Return a hash over everything that decides the weights: the training code and the features."""
    paths = [*sorted(HERE.glob("*.py")), HERE.parent / "src/softshoe/music/model_features.py"]
    return hashlib.sha256(b"".join(path.read_bytes() for path in paths)).hexdigest()


def whole(path: Path, **arrays: np.ndarray) -> None:
    """Write an .npz whole or not at all."""
    path.parent.mkdir(parents=True, exist_ok=True)
    near = path.with_name(f".{path.name}.part")
    with near.open("wb") as file:
        np.savez_compressed(file, **arrays)
    os.replace(near, path)


def weights_of(path: Path) -> tuple[dict[str, np.ndarray], dict[str, Any]]:
    """Return weights in half precision and their recipe, from a file of torch or one that was exported."""
    if path.suffix == ".npz":
        with np.load(path) as z:
            return {n: z[n] for n in z.files if z[n].dtype == np.float16}, json.loads(str(z["recipe"]))
    saved = torch.load(path, map_location="cpu", weights_only=True)
    halves = {name: value.numpy().astype(np.float16) for name, value in saved["state"].items()}
    return halves, {k: saved[k] for k in ("songs", "steps", "seed")} | {"sha256": saved.get("recipe") or recipe_hash()}


def main() -> None:
    """Export."""
    ask = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ask.add_argument("--net", type=Path, required=True)
    ask.add_argument("--out", type=Path, required=True)
    ask.add_argument("--example", type=Path)
    ask.add_argument("--mean", type=Path, help="weights to take the mean with")
    args = ask.parse_args()
    halves, recipe = weights_of(args.net)
    if args.mean:
        others, before = weights_of(args.mean)
        halves = {n: ((x.astype(np.float32) + others[n]) / 2).astype(np.float16) for n, x in halves.items()}
        recipe |= {"mean_with": before}
    whole(args.out, **halves, licence=np.array(LICENCE), recipe=np.array(json.dumps(recipe)))
    if args.example:
        net = Listener().eval()
        net.load_state_dict({name: torch.from_numpy(value.astype(np.float32)) for name, value in halves.items()})
        rng = np.random.default_rng(4)
        rows = (rng.normal(-5, 1.5, (600, 96)) + 3 * (np.arange(600) % 25 < 3)[:, None]).astype(np.float16)
        with torch.no_grad():
            answer = net(scaled(torch.from_numpy(rows.astype(np.float32))[None]))[0].numpy()
        whole(args.example, rows=rows, logits=answer)


if __name__ == "__main__":
    main()
