"""What the networks that read words share: the table of pieces, the layers that read, plain numpy to run them.

What is read attends to itself both ways; places are turned in. Weights are kept in eight bits with a scale a row.
"""

from __future__ import annotations

import json
from importlib.resources import files
from typing import TYPE_CHECKING, Any

import numpy as np

from softshoe.wording.retell_pieces import Cutter

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from numpy.typing import NDArray

    Array = NDArray[np.float32]

VIEWS = 8
SCALE = ":scale"


class TextNet:
    """A network with its words: reads rows of pieces."""

    def __init__(self, name: str, source: Path | str | None = None) -> None:
        if source is None:
            with (files("softshoe") / "data" / "wording" / name).open("rb") as file, np.load(file) as z:
                arrays = {name: z[name] for name in z.files}
        else:
            with np.load(source) as z:
                arrays = {name: z[name] for name in z.files}
        words = json.loads(arrays.pop("words").tobytes().decode())
        self.cutter = Cutter([tuple(pair) for pair in words["joints"]], words["known"])
        self.words = frozenset(words.get("words", ()))
        self.codes: list[str] = words["codes"]
        self.w = {name: _whole(name, value, arrays) for name, value in arrays.items() if not name.endswith(SCALE)}
        linear = [
            name.removesuffix(".weight")
            for name, value in self.w.items()
            if value.ndim == 2 and f"{name[:-6]}bias" in self.w
        ]
        self.across = {name: np.ascontiguousarray(self.w[f"{name}.weight"].T) for name in linear}
        self.readers = 1 + max(int(n.split(".")[1]) for n in self.w if n.startswith("read_attends"))

    def read(self, x: NDArray[np.int64], there: NDArray[np.bool_]) -> Array:
        """Return what was read at each piece, (batch, time, width); ``there`` says which pieces are no filling."""
        return self.read_from(self.w["pieces.weight"][x], there)

    def read_from(self, y: Array, there: NDArray[np.bool_]) -> Array:
        """Return what was read at each piece, of what stands for it, (batch, time, width)."""
        turn = turns(np.arange(y.shape[1]), y.shape[-1] // VIEWS)
        shut = np.where(there, 0.0, -1e9).astype(np.float32)[:, None, None, :]
        for layer in range(self.readers):
            name = f"read_attends.{layer}"
            h = self.normed(y, f"{name}.norm")
            q, k, v = (views(self.linear(h, f"{name}.{part}")) for part in ("ask", "key", "value"))
            out, _ = attended(turned(q, turn), turned(k, turn), v, shut)
            y = y + self.linear(out, f"{name}.mix")
            y = y + self.thought(y, f"read_thinks.{layer}")
        return self.normed(y, "read_norm")

    def linear(self, x: Array, name: str) -> Array:
        """Return x times the weights of a layer, and its bias."""
        flat = x.reshape(-1, x.shape[-1]) @ self.across[name] + self.w[f"{name}.bias"]
        return np.asarray(flat.reshape(*x.shape[:-1], -1))

    def normed(self, x: Array, name: str) -> Array:
        """Return x with mean nought and spread one, times the weights of a layer."""
        off = x - x.mean(axis=-1, keepdims=True)
        return np.asarray(
            off / np.sqrt((off * off).mean(axis=-1, keepdims=True) + 1e-5) * self.w[f"{name}.weight"]
            + self.w[f"{name}.bias"]
        )

    def thought(self, x: Array, name: str) -> Array:
        """Return what a layer of two makes of each place by itself."""
        return self.linear(np.maximum(self.linear(self.normed(x, f"{name}.norm"), f"{name}.wide"), 0), f"{name}.back")


def _whole(name: str, value: NDArray[Any], arrays: Mapping[str, NDArray[Any]]) -> Array:
    """Return the weights as they are reckoned with: eight bits times the scale of their row, or as they are."""
    scale = arrays.get(name + SCALE)
    whole = value.astype(np.float32)
    return whole if scale is None else whole * scale


def views(x: Array) -> Array:
    """Return (batch, time, width) parted into views, (batch, views, time, size)."""
    return x.reshape(x.shape[0], x.shape[1], VIEWS, -1).transpose(0, 2, 1, 3)


def turns(at: NDArray[np.int64], size: int) -> tuple[Array, Array]:
    """Return cosines and sines of the angles that places are turned in by."""
    half = size // 2
    angle = at[:, None].astype(np.float32) * (10000.0 ** (-np.arange(half, dtype=np.float32) / half))
    return np.cos(angle), np.sin(angle)


def turned(x: Array, turn: tuple[Array, Array]) -> Array:
    """Return x turned by its places."""
    cos, sin = turn
    half = x.shape[-1] // 2
    a, b = x[..., :half], x[..., half:]
    return np.concatenate([a * cos - b * sin, a * sin + b * cos], axis=-1)


def attended(q: Array, k: Array, v: Array, shut: Array | None) -> tuple[Array, Array]:
    """Return what is looked at, (batch, time, width), and how much of each, (batch, views, time, of)."""
    marks = q @ k.transpose(0, 1, 3, 2) / np.float32(np.sqrt(q.shape[-1]))
    share = likely_of(marks if shut is None else marks + shut)
    out = (share @ v).transpose(0, 2, 1, 3)
    return np.ascontiguousarray(out).reshape(out.shape[0], out.shape[1], -1), share


def likely_of(marks: Array) -> Array:
    """Return how likely each is, of marks along the last axis."""
    high = np.exp(marks - marks.max(axis=-1, keepdims=True))
    return np.asarray(high / high.sum(axis=-1, keepdims=True))
