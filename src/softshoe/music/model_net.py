"""The listening model's network, run by plain numpy.

Arrays are (time, channels) float32. The song is heard in windows of 82 s that overlap, as in training; where two
windows speak of the same frame, the one that has it nearer its middle counts more. Names of weights are those of
training/net.py.
"""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

    Array = NDArray[np.float32]

HEADS = ("beat", "downbeat", "eight", "phrase", "danced", "triple")
POOLS = (3, 2, 2)
DILATIONS = (1, 2, 4, 8, 16, 32, 64, 128)
LAYERS, DOWN = 4, 4
TURN = 32  # channels of one view of attention
LONG, STEP = 4096, 3584
STRIPE = 128
PIECE = 256  # of what attends


@cache
def weights() -> dict[str, Array]:
    """Return the trained weights that come with the package."""
    with (files("softshoe") / "data" / "listening" / "listener.npz").open("rb") as file, np.load(file) as z:
        return {name: z[name].astype(np.float32) for name in z.files if z[name].dtype == np.float16}


def likelihoods(rows: Array, given: Mapping[str, Array] | None = None) -> Array:
    """Return for each frame the likelihoods of HEADS, shape (n, 6).

    rows : features, shape (n, 96), as ``model_features.features`` gives them
    given : other weights than those of the package
    """
    w = weights() if given is None else given
    n = len(rows)
    total, share = np.zeros((n, len(HEADS)), np.float32), np.zeros((n, 1), np.float32)
    for first in range(0, max(1, n - (LONG - STEP)), STEP):
        piece = rows[first : first + LONG]
        size = len(piece)
        trust = np.minimum(np.arange(1, size + 1), np.arange(size, 0, -1)).astype(np.float32)[:, None]
        if first == 0:
            trust = np.maximum(trust, np.arange(size, 0, -1)[:, None])
        total[first : first + size] += trust * heads(piece, w)
        share[first : first + size] += trust
    return np.asarray(1 / (1 + np.exp(-total / np.maximum(share, 1e-9))), dtype=np.float32)


def heads(rows: Array, w: Mapping[str, Array]) -> Array:
    """Return the logits of one window, shape (n, 6); n may be anything from 1."""
    n = len(rows)
    x = np.pad(rows, ((0, -n % DOWN), (0, 0)), mode="edge") / 4 + 1.3
    y = front(x.astype(np.float32), w)
    for layer, dilation in enumerate(DILATIONS):
        y = dilated(y, w, f"dilated.{layer}", dilation)
    slow = y.reshape(-1, DOWN, y.shape[1]).mean(axis=1)
    for layer in range(LAYERS):
        slow = attended(slow, w, f"attention.{layer}")
    y = dilated(y + np.repeat(slow, DOWN, axis=0), w, "last", 1)
    return linear(normed(y, w, "norm"), w, "heads")[:n]


def linear(x: Array, w: Mapping[str, Array], name: str) -> Array:
    """Return x times the weights of a layer, and its bias."""
    return np.asarray(x @ w[f"{name}.weight"].T + w[f"{name}.bias"])


def normed(x: Array, w: Mapping[str, Array], name: str) -> Array:
    """Return x with mean 0 and spread 1 in each row, then scaled."""
    away = x - x.mean(axis=1, keepdims=True)
    spread = np.sqrt((away * away).mean(axis=1, keepdims=True) + np.float32(1e-5))
    return np.asarray(away / spread * w[f"{name}.weight"] + w[f"{name}.bias"])


def front(x: Array, w: Mapping[str, Array]) -> Array:
    """Return what the pictures of bands show, shape (n, width). Done in stripes of time, to keep memory small."""
    n = len(x)
    reach = len(POOLS)
    wide = np.pad(x, ((reach, reach), (0, 0)))
    found = []
    for first in range(0, n, STRIPE):
        last = min(n, first + STRIPE)
        known = slice(max(0, reach - first), min(last - first + 2 * reach, n - first + reach))
        picture = wide[first : last + 2 * reach, :, None]
        for layer, pool in enumerate(POOLS):
            picture = seen(picture, w[f"front.{layer}.weight"], w[f"front.{layer}.bias"], pool)
            picture[: known.start] = 0  # beyond the ends there is nothing, in every layer
            picture[known.stop :] = 0
        rows = picture[reach : reach + last - first].transpose(0, 2, 1).reshape(last - first, -1)
        found.append(linear(rows, w, "project"))
    return np.concatenate(found)


def seen(picture: Array, weight: Array, bias: Array, pool: int) -> Array:
    """Return a picture (time, bands, channels) after 3 x 3 weights, a rectifier and the best of ``pool`` bands."""
    time, bands, channels = picture.shape
    wide = np.pad(picture, ((1, 1), (1, 1), (0, 0)))
    near = np.empty((time, bands, 9, channels), np.float32)
    for i in range(3):
        for j in range(3):
            near[:, :, 3 * i + j] = wide[i : i + time, j : j + bands]
    taps = np.ascontiguousarray(weight.transpose(2, 3, 1, 0)).reshape(9 * channels, -1)
    out = near.reshape(time * bands, 9 * channels) @ taps
    best = out.reshape(time, bands // pool, pool, -1).max(axis=2)
    return np.asarray(np.maximum(best + bias, 0), dtype=np.float32)


def dilated(x: Array, w: Mapping[str, Array], name: str, dilation: int) -> Array:
    """Return x with what five taps ``dilation`` frames apart add to it."""
    taps = w[f"{name}.taps.weight"]
    n, count = len(x), taps.shape[2]
    pad = dilation * (count - 1) // 2
    wide = np.pad(normed(x, w, f"{name}.norm"), ((pad, pad), (0, 0)))
    y = np.zeros_like(x)
    for k in range(count):
        y += wide[k * dilation : k * dilation + n] @ taps[:, :, k].T
    return x + linear(np.maximum(y + w[f"{name}.taps.bias"], 0), w, f"{name}.mix")


def turned(x: Array) -> Array:
    """Return x, (heads, time, size), turned by its place in time (rotary places)."""
    half = x.shape[2] // 2
    angle = np.arange(x.shape[1])[:, None] * 10_000.0 ** (-np.arange(half) / half)
    cos, sin = np.cos(angle).astype(np.float32), np.sin(angle).astype(np.float32)
    a, b = x[..., :half], x[..., half:]
    return np.concatenate([a * cos - b * sin, a * sin + b * cos], axis=2)


def attended(x: Array, w: Mapping[str, Array], name: str) -> Array:
    """Return x with what attention and the small network at each place add to it."""
    n, width = x.shape
    q, k, v = linear(normed(x, w, f"{name}.norm"), w, f"{name}.into").reshape(n, 3, -1, TURN).transpose(1, 2, 0, 3)
    q, k = turned(q) / np.float32(np.sqrt(TURN)), turned(k)
    y = np.empty((n, width), np.float32)
    for view in range(len(q)):  # in small pieces, that what is between stays in the cache
        own = slice(view * TURN, (view + 1) * TURN)
        for first in range(0, n, PIECE):
            score = q[view, first : first + PIECE] @ k[view].T
            score -= score.max(axis=1, keepdims=True)
            np.exp(score, out=score)
            y[first : first + PIECE, own] = score @ v[view] / score.sum(axis=1, keepdims=True)
    x = x + linear(y, w, f"{name}.out")
    return x + linear(np.maximum(linear(normed(x, w, f"{name}.norm2"), w, f"{name}.wide"), 0), w, f"{name}.back")
