"""The retelling network, run by plain numpy: pieces of a section in, codes of its events out.

What is read attends to itself both ways; what is told attends to what was told and to what was read. Names of weights
are those of training/retelling/net.py. What was told before is remembered; codes that another reading guesses are
looked at in one go.
"""

from __future__ import annotations

from functools import cache, lru_cache
from itertools import islice, takewhile, zip_longest
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from softshoe.wording.retell_codes import COUNT, SECTION
from softshoe.wording.retell_pieces import SHEET
from softshoe.wording.text_net import VIEWS, TextNet, attended, likely_of, turned, turns, views

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from numpy.typing import NDArray

    Array = NDArray[np.float32]

WEIGHTS = "retelling.npz"
MOST_CODES = 400
MOST_SHEETS = 2  # whole sheets of which the memory is kept
GUESSED = 12  # codes taken from a guess at a time, once it was wrong
SEATED, STANDING = "<seated>", "<standing>"
START, END = "start", "end"


class Told(NamedTuple):
    """Codes of one section, each with how likely it was (0 to 1) and the piece of the words it looked at most."""

    codes: tuple[str, ...] = ()
    likely: tuple[float, ...] = ()
    looked: tuple[int, ...] = ()


class Net(TextNet):
    """The network with its words."""

    def __init__(self, source: Path | str | None = None) -> None:
        super().__init__(WEIGHTS, source)
        self.number = {code: k for k, code in enumerate(self.codes)}
        self.tellers = 1 + max(int(n.split(".")[1]) for n in self.w if n.startswith("tell_attends"))
        self.sheets = lru_cache(maxsize=MOST_SHEETS)(self._memory_of)

    def numbers(self, text: str, *, seated: bool) -> list[int]:
        """Return the numbers of a text's pieces, behind those that say how it is danced, and that a sheet is whole."""
        signs = [SEATED if seated else STANDING, *([SHEET] if text.startswith(SHEET) else [])]
        pieces = self.cutter.cut(text.removeprefix(SHEET))
        return [*(self.cutter.number[sign] for sign in signs), *self.cutter.numbers(pieces)]

    def told(self, rows: Sequence[Sequence[int]], guesses: Sequence[Sequence[str]] = ()) -> list[Told]:
        """Return what the network tells of each row of pieces.

        ``guesses`` are codes that it may tell (those of another reading). They change how soon it is done, not what it
        tells: codes that were guessed right are told all at once.
        """
        return [self._tell(self._memory(row), guess) for row, guess in zip_longest(rows, guesses, fillvalue=())]

    def likely(self, row: Sequence[int], codes: Sequence[str]) -> list[float]:
        """Return how likely the network thinks each code of a telling of a row, as far as it knows the codes."""
        known = list(takewhile(self.number.__contains__, codes))
        numbers = [self.number[code] for code in (START, *known)]
        likely, _ = self._next(numbers[:-1], 0, self._memory(row)) if known else (np.zeros((0, 0)), None)
        return [float(p[k]) for p, k in zip(likely, numbers[1:], strict=True)] + [0.0] * (len(codes) - len(known))

    def _memory(self, row: Sequence[int]) -> _Memory:
        """Return the memory of a row's pieces; that of a whole sheet is kept: it is asked again of what was read."""
        whole = self.cutter.number.get(SHEET) in row[:2]
        return self.sheets(tuple(row)).anew() if whole else self._memory_of(tuple(row))

    def _memory_of(self, row: tuple[int, ...]) -> _Memory:
        x = np.array([row], np.int64)
        return _Memory.of(self, self.read(x, np.ones_like(x, dtype=bool)))

    def _tell(self, memory: _Memory, guess: Sequence[str]) -> Told:
        """Return what is told; ``memory`` holds none of it yet."""
        out = Told()
        while len(out.codes) < MOST_CODES and out.codes[-1:] != (END,):
            known = takewhile(self.number.__contains__, _ahead(out.codes, guess))
            ahead = list(islice(known, MOST_CODES - 1 - len(out.codes)))
            now = [self.number[code] for code in ((out.codes or (START,))[-1], *ahead)]
            likely, looked = self._next(now, len(out.codes), memory)
            best = [self.codes[k] for k in likely.argmax(axis=-1)]
            right = next((k for k, code in enumerate(ahead) if code != best[k] or code == END), len(ahead))
            many = slice(0, right + 1)
            out = Told(
                out.codes + tuple(best[many]),
                out.likely + tuple(likely.max(axis=-1)[many].tolist()),
                out.looked + tuple(looked[many].tolist()),
            )
            memory.forget(len(out.codes))
        return out

    def _next(self, now: Sequence[int], at: int, memory: _Memory) -> tuple[Array, NDArray[np.int64]]:
        """Return how likely each code is behind each of a run that begins at a place, and the piece looked at most."""
        y = self.w["codes.weight"][np.array([now])]
        turn = turns(np.arange(at, at + len(now)), y.shape[-1] // VIEWS)
        later = np.arange(at + len(now))[None, :] > np.arange(at, at + len(now))[:, None]
        shut, looked = np.where(later, -1e9, 0.0).astype(np.float32), np.zeros((1, VIEWS, len(now), 1), np.float32)
        for layer in range(self.tellers):
            own, name = f"tell_attends.{layer}", f"tell_looks.{layer}"
            h = self.normed(y, f"{own}.norm")
            q, k, v = (views(self.linear(h, f"{own}.{part}")) for part in ("ask", "key", "value"))
            keys, values = memory.told(layer, turned(k, turn), v)
            out, _ = attended(turned(q, turn), keys, values, shut)
            y = y + self.linear(out, f"{own}.mix")
            q = views(self.linear(self.normed(y, f"{name}.norm"), f"{name}.ask"))
            keys, values = memory.read[layer]
            out, looked = attended(q, keys, values, None)
            y = y + self.linear(out, f"{name}.mix")
            y = y + self.thought(y, f"tell_thinks.{layer}")
        likely = likely_of(self.linear(self.normed(y, "tell_norm"), "out")[0])
        return likely, looked[0].mean(axis=0).argmax(axis=-1)


def _ahead(told: Sequence[str], guess: Sequence[str]) -> Sequence[str]:
    """Return what is guessed behind the codes told: all of it while they agree, else on from the count told last."""
    if tuple(guess[: len(told)]) == tuple(told):
        return guess[len(told) :]
    if told[-1] != SECTION and not COUNT.fullmatch(told[-1]):
        return ()
    begins = [k for k, code in enumerate(guess) if code == SECTION]
    many = told.count(SECTION)
    first = begins[many - 1] if 0 < many <= len(begins) else 0
    same = next((k for k, code in enumerate(guess[first:], first) if code == told[-1]), None)
    return guess[same + 1 : same + 1 + GUESSED] if same is not None else ()


class _Memory:
    """What the teller attends to: the words read, and the codes told so far, layer by layer."""

    def __init__(self, read: list[tuple[Array, Array]]) -> None:
        self.read = read
        self.codes: list[tuple[Array, Array] | None] = [None] * len(read)

    @classmethod
    def of(cls, net: Net, seen: Array) -> _Memory:
        """Return the memory before the first code."""
        names = [f"tell_looks.{layer}" for layer in range(net.tellers)]
        return cls([(views(net.linear(seen, f"{n}.key")), views(net.linear(seen, f"{n}.value"))) for n in names])

    def anew(self) -> _Memory:
        """Return the memory before the first code."""
        return _Memory(self.read)

    def told(self, layer: int, key: Array, value: Array) -> tuple[Array, Array]:
        """Keep more codes, and return all of them."""
        before = self.codes[layer]
        if before is not None:
            key, value = (np.concatenate(pair, axis=2) for pair in zip(before, (key, value), strict=True))
        self.codes[layer] = (key, value)
        return key, value

    def forget(self, many: int) -> None:
        """Keep as many codes as were told; those guessed amiss go."""
        self.codes = [pair and (pair[0][:, :, :many], pair[1][:, :, :many]) for pair in self.codes]


@cache
def net() -> Net:
    """Return the network that comes with the package."""
    return Net()
