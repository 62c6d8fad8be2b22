"""The mean of several weights of the package, of the same pieces and codes.

python training/retelling/mean.py OUT.npz "how it was taught" ONE.npz TWO.npz …
"""

from __future__ import annotations

import json
import sys

import numpy as np

SCALE = ":scale"


def whole(arrays: np.lib.npyio.NpzFile, name: str) -> np.ndarray:
    """The values of an array, whatever it is kept in."""
    values = arrays[name].astype(np.float32)
    return values * arrays[name + SCALE] if name + SCALE in arrays.files else values


def main() -> None:
    out, how, *names = sys.argv[1:]
    kept = [np.load(name) for name in names]
    told = [json.loads(one["words"].tobytes().decode()) for one in kept]
    if any(one["known"] != told[0]["known"] or one["codes"] != told[0]["codes"] for one in told):
        sys.exit("these weights are of other pieces or codes")
    arrays: dict[str, np.ndarray] = {}
    for name in kept[0].files:
        if name == "words" or name.endswith(SCALE):
            continue
        value = np.mean([whole(one, name) for one in kept], axis=0)
        if value.ndim < 2:
            arrays[name] = value.astype(np.float16)
            continue
        scale = np.abs(value).max(axis=1, keepdims=True) / 127 + 1e-12
        arrays[name] = np.round(value / scale).astype(np.int8)
        arrays[name + SCALE] = scale.astype(np.float32)
    words = {**max(told, key=lambda one: len(one["words"])), "how": how}
    np.savez_compressed(out, words=np.frombuffer(json.dumps(words, ensure_ascii=False).encode(), np.uint8), **arrays)


if __name__ == "__main__":
    main()
