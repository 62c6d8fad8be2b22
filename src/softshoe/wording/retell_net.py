"""The retelling network, run by plain numpy: pieces of a section in, codes of its events out.

What is read attends to itself both ways; what is told attends to what was told and to what was read. Names of weights
are those of training/retelling/net.py. Several sections are told at once; what was told before is remembered.
"""

from __future__ import annotations

import json
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from softshoe.wording.retell_pieces import Cutter

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from pathlib import Path

    from numpy.typing import NDArray

    Array = NDArray[np.float32]

VIEWS = 8
MOST_CODES = 200
SEATED, STANDING = "<seated>", "<standing>"
SCALE = ":scale"
START, END = "start", "end"


class Told(NamedTuple):
    """Codes of one section, each with how likely it was (0 to 1) and the piece of the words it looked at most."""

    codes: tuple[str, ...]
    likely: tuple[float, ...]
    looked: tuple[int, ...]


class Net:
    """The network with its words."""

    def __init__(self, source: Path | str | None = None) -> None:
        if source is None:
            with (files("softshoe") / "data" / "wording" / "retelling.npz").open("rb") as file, np.load(file) as z:
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
        self.tellers = 1 + max(int(n.split(".")[1]) for n in self.w if n.startswith("tell_attends"))

    def numbers(self, text: str, *, seated: bool) -> list[int]:
        """Return the numbers of a text's pieces, behind the one that says how it is danced."""
        first = self.cutter.number[SEATED if seated else STANDING]
        return [first, *self.cutter.numbers(self.cutter.cut(text))]

    def told(self, rows: Sequence[Sequence[int]]) -> list[Told]:
        """Return what the network tells of each row of pieces."""
        width = max(map(len, rows))
        x = np.zeros((len(rows), width), np.int64)
        there = np.zeros((len(rows), width), bool)
        for k, row in enumerate(rows):
            x[k, : len(row)], there[k, : len(row)] = row, True
        seen = self._read(x, there)
        return self._tell(seen, there)

    def _read(self, x: NDArray[np.int64], there: NDArray[np.bool_]) -> Array:
        y = self.w["pieces.weight"][x]
        turn = _turns(np.arange(x.shape[1]), y.shape[-1] // VIEWS)
        shut = np.where(there, 0.0, -1e9).astype(np.float32)[:, None, None, :]
        for layer in range(self.readers):
            name = f"read_attends.{layer}"
            h = self._normed(y, f"{name}.norm")
            q, k, v = (_views(self.linear(h, f"{name}.{part}")) for part in ("ask", "key", "value"))
            out, _ = _attended(_turned(q, turn), _turned(k, turn), v, shut)
            y = y + self.linear(out, f"{name}.mix")
            y = y + self._thought(y, f"read_thinks.{layer}")
        return self._normed(y, "read_norm")

    def _tell(self, seen: Array, there: NDArray[np.bool_]) -> list[Told]:
        memory = _Memory.of(self, seen, there)
        end, now = self.codes.index(END), np.full(len(seen), self.codes.index(START))
        rows: list[list[tuple[int, float, int]]] = [[] for _ in seen]
        for at in range(MOST_CODES):
            likely, looked = self._next(now, at, memory)
            now = likely.argmax(axis=-1)
            for row, code, all_likely, piece in zip(rows, now, likely, looked, strict=True):
                if not row or row[-1][0] != end:
                    row.append((int(code), float(all_likely[code]), int(piece)))
            if all(row[-1][0] == end for row in rows):
                break
        return [
            Told(tuple(self.codes[c] for c, _, _ in row), tuple(p for _, p, _ in row), tuple(a for _, _, a in row))
            for row in rows
        ]

    def _next(self, now: NDArray[np.int64], at: int, memory: _Memory) -> tuple[Array, NDArray[np.int64]]:
        """Return how likely each next code is, and the piece that is looked at most."""
        y = self.w["codes.weight"][now][:, None, :]
        turn, looked = _turns(np.array([at]), y.shape[-1] // VIEWS), np.zeros((len(y), VIEWS, 1, 1), np.float32)
        for layer in range(self.tellers):
            own, name = f"tell_attends.{layer}", f"tell_looks.{layer}"
            h = self._normed(y, f"{own}.norm")
            q, k, v = (_views(self.linear(h, f"{own}.{part}")) for part in ("ask", "key", "value"))
            keys, values = memory.told(layer, _turned(k, turn), v)
            out, _ = _attended(_turned(q, turn), keys, values, None)
            y = y + self.linear(out, f"{own}.mix")
            q = _views(self.linear(self._normed(y, f"{name}.norm"), f"{name}.ask"))
            keys, values = memory.read[layer]
            out, looked = _attended(q, keys, values, memory.shut)
            y = y + self.linear(out, f"{name}.mix")
            y = y + self._thought(y, f"tell_thinks.{layer}")
        likely = _likely(self.linear(self._normed(y, "tell_norm"), "out")[:, 0])
        return likely, looked.mean(axis=1)[:, 0].argmax(axis=-1)

    def linear(self, x: Array, name: str) -> Array:
        """Return x times the weights of a layer, and its bias."""
        flat = x.reshape(-1, x.shape[-1]) @ self.across[name] + self.w[f"{name}.bias"]
        return np.asarray(flat.reshape(*x.shape[:-1], -1))

    def _normed(self, x: Array, name: str) -> Array:
        off = x - x.mean(axis=-1, keepdims=True)
        return np.asarray(
            off / np.sqrt((off * off).mean(axis=-1, keepdims=True) + 1e-5) * self.w[f"{name}.weight"]
            + self.w[f"{name}.bias"]
        )

    def _thought(self, x: Array, name: str) -> Array:
        return self.linear(np.maximum(self.linear(self._normed(x, f"{name}.norm"), f"{name}.wide"), 0), f"{name}.back")


class _Memory:
    """What the teller attends to: the words read, and the codes told so far, layer by layer."""

    def __init__(self, read: list[tuple[Array, Array]], shut: Array) -> None:
        self.read, self.shut = read, shut
        self.codes: list[tuple[Array, Array] | None] = [None] * len(read)

    @classmethod
    def of(cls, net: Net, seen: Array, there: NDArray[np.bool_]) -> _Memory:
        """Return the memory before the first code."""
        names = [f"tell_looks.{layer}" for layer in range(net.tellers)]
        read = [(_views(net.linear(seen, f"{n}.key")), _views(net.linear(seen, f"{n}.value"))) for n in names]
        return cls(read, np.where(there, 0.0, -1e9).astype(np.float32)[:, None, None, :])

    def told(self, layer: int, key: Array, value: Array) -> tuple[Array, Array]:
        """Keep one code more, and return all of them."""
        before = self.codes[layer]
        if before is not None:
            key, value = (np.concatenate(pair, axis=2) for pair in zip(before, (key, value), strict=True))
        self.codes[layer] = (key, value)
        return key, value


def _whole(name: str, value: NDArray[Any], arrays: Mapping[str, NDArray[Any]]) -> Array:
    """Return the weights as they are reckoned with: eight bits times the scale of their row, or as they are."""
    scale = arrays.get(name + SCALE)
    whole = value.astype(np.float32)
    return whole if scale is None else whole * scale


@cache
def net() -> Net:
    """Return the network that comes with the package."""
    return Net()


def _views(x: Array) -> Array:
    return x.reshape(x.shape[0], x.shape[1], VIEWS, -1).transpose(0, 2, 1, 3)


def _turns(at: NDArray[np.int64], size: int) -> tuple[Array, Array]:
    half = size // 2
    angle = at[:, None].astype(np.float32) * (10000.0 ** (-np.arange(half, dtype=np.float32) / half))
    return np.cos(angle), np.sin(angle)


def _turned(x: Array, turn: tuple[Array, Array]) -> Array:
    cos, sin = turn
    half = x.shape[-1] // 2
    a, b = x[..., :half], x[..., half:]
    return np.concatenate([a * cos - b * sin, a * sin + b * cos], axis=-1)


def _attended(q: Array, k: Array, v: Array, shut: Array | None) -> tuple[Array, Array]:
    """Return what is looked at, (batch, time, width), and how much of each, (batch, views, time, of)."""
    marks = q @ k.transpose(0, 1, 3, 2) / np.float32(np.sqrt(q.shape[-1]))
    share = _likely(marks if shut is None else marks + shut)
    out = (share @ v).transpose(0, 2, 1, 3)
    return np.ascontiguousarray(out).reshape(out.shape[0], out.shape[1], -1), share


def _likely(marks: Array) -> Array:
    high = np.exp(marks - marks.max(axis=-1, keepdims=True))
    return np.asarray(high / high.sum(axis=-1, keepdims=True))
