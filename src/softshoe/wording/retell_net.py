"""The retelling network, run by plain numpy: pieces of a section in, codes of its events out.

What is read attends to itself both ways; what is told attends to what was told and to what was read. Names of weights
are those of training/retelling/net.py. Several sections are told at once; what was told before is remembered.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from softshoe.wording.text_net import VIEWS, TextNet, attended, likely_of, turned, turns, views

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from numpy.typing import NDArray

    Array = NDArray[np.float32]

WEIGHTS = "retelling.npz"
MOST_CODES = 200
SEATED, STANDING = "<seated>", "<standing>"
START, END = "start", "end"


class Told(NamedTuple):
    """Codes of one section, each with how likely it was (0 to 1) and the piece of the words it looked at most."""

    codes: tuple[str, ...]
    likely: tuple[float, ...]
    looked: tuple[int, ...]


class Net(TextNet):
    """The network with its words."""

    def __init__(self, source: Path | str | None = None) -> None:
        super().__init__(WEIGHTS, source)
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
        seen = self.read(x, there)
        return self._tell(seen, there)

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
        turn, looked = turns(np.array([at]), y.shape[-1] // VIEWS), np.zeros((len(y), VIEWS, 1, 1), np.float32)
        for layer in range(self.tellers):
            own, name = f"tell_attends.{layer}", f"tell_looks.{layer}"
            h = self.normed(y, f"{own}.norm")
            q, k, v = (views(self.linear(h, f"{own}.{part}")) for part in ("ask", "key", "value"))
            keys, values = memory.told(layer, turned(k, turn), v)
            out, _ = attended(turned(q, turn), keys, values, None)
            y = y + self.linear(out, f"{own}.mix")
            q = views(self.linear(self.normed(y, f"{name}.norm"), f"{name}.ask"))
            keys, values = memory.read[layer]
            out, looked = attended(q, keys, values, memory.shut)
            y = y + self.linear(out, f"{name}.mix")
            y = y + self.thought(y, f"tell_thinks.{layer}")
        likely = likely_of(self.linear(self.normed(y, "tell_norm"), "out")[:, 0])
        return likely, looked.mean(axis=1)[:, 0].argmax(axis=-1)


class _Memory:
    """What the teller attends to: the words read, and the codes told so far, layer by layer."""

    def __init__(self, read: list[tuple[Array, Array]], shut: Array) -> None:
        self.read, self.shut = read, shut
        self.codes: list[tuple[Array, Array] | None] = [None] * len(read)

    @classmethod
    def of(cls, net: Net, seen: Array, there: NDArray[np.bool_]) -> _Memory:
        """Return the memory before the first code."""
        names = [f"tell_looks.{layer}" for layer in range(net.tellers)]
        read = [(views(net.linear(seen, f"{n}.key")), views(net.linear(seen, f"{n}.value"))) for n in names]
        return cls(read, np.where(there, 0.0, -1e9).astype(np.float32)[:, None, None, :])

    def told(self, layer: int, key: Array, value: Array) -> tuple[Array, Array]:
        """Keep one code more, and return all of them."""
        before = self.codes[layer]
        if before is not None:
            key, value = (np.concatenate(pair, axis=2) for pair in zip(before, (key, value), strict=True))
        self.codes[layer] = (key, value)
        return key, value


@cache
def net() -> Net:
    """Return the network that comes with the package."""
    return Net()
