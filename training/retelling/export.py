"""Writes the retelling network for the package: arrays of eight bits with a scale a row, the joints of words, the codes, licence and recipe.

python training/retelling/export.py NET.pt OUT.npz ["how it was taught"]
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

import numpy as np
import torch

LICENCE = "Weights of Softshoe's retelling network, under the project's licence."


def main() -> None:
    source, out, *how = sys.argv[1:]
    kept = torch.load(source, map_location="cpu")
    arrays: dict[str, np.ndarray] = {}
    for name, value in kept["net"].items():
        whole = value.numpy().astype(np.float32)
        if whole.ndim < 2:
            arrays[name] = whole.astype(np.float16)
            continue
        scale = np.abs(whole).max(axis=1, keepdims=True) / 127 + 1e-12
        arrays[name] = np.round(whole / scale).astype(np.int8)
        arrays[f"{name}:scale"] = scale.astype(np.float32)
    told = {
        "words": kept["words"],
        "joints": kept["joints"],
        "known": kept["known"],
        "codes": kept["codes"],
        "licence": LICENCE,
        "how": " ".join(how),
    }
    np.savez_compressed(out, words=np.frombuffer(json.dumps(told, ensure_ascii=False).encode(), np.uint8), **arrays)
    print(out, Path(out).stat().st_size)


if __name__ == "__main__":
    main()
