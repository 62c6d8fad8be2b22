"""The network: a small picture front over bands, dilated convolutions in time, attention over longer time, six heads.

Everything is built of parts that plain numpy can run: 3 x 3 convolutions, matrix products, layer norms, rectifiers.
"""

from __future__ import annotations

import torch
from torch import Tensor, nn
from torch.nn import functional as F  # noqa: N812

HEADS = ("beat", "downbeat", "eight", "phrase", "danced", "triple")
WIDTH, TURNS, DILATIONS, LAYERS, DOWN = 160, 5, (1, 2, 4, 8, 16, 32, 64, 128), 4, 4
FRONT = (16, 32, 64)
POOLS = (3, 2, 2)


class Dilated(nn.Module):
    """One residual layer: a norm, five taps far apart, a rectifier, a mix."""

    def __init__(self, dilation: int) -> None:
        super().__init__()
        self.dilation = dilation
        self.norm = nn.LayerNorm(WIDTH)
        self.taps = nn.Conv1d(WIDTH, WIDTH, 5, padding=2 * dilation, dilation=dilation)
        self.mix = nn.Linear(WIDTH, WIDTH)
        self.drop = nn.Dropout(0.1)

    def forward(self, x: Tensor) -> Tensor:
        """Return x, (batch, time, width), with what this layer adds."""
        reach, time = 2 * self.dilation, x.shape[1]
        wide = F.pad(self.norm(x), (0, 0, reach, reach))  # five products are quicker than one convolution with holes
        y = self.taps.bias
        for k in range(5):
            y = y + F.linear(wide[:, k * self.dilation : k * self.dilation + time], self.taps.weight[:, :, k])
        return x + self.drop(self.mix(F.relu(y)))


def turned(x: Tensor) -> Tensor:
    """Return x, (batch, heads, time, size), turned by its place in time (rotary places)."""
    half = x.shape[-1] // 2
    rate = 10_000.0 ** (-torch.arange(half, device=x.device) / half)
    angle = torch.arange(x.shape[-2], device=x.device)[:, None] * rate
    cos, sin = angle.cos().to(x.dtype), angle.sin().to(x.dtype)
    a, b = x[..., :half], x[..., half:]
    return torch.cat([a * cos - b * sin, a * sin + b * cos], dim=-1)


class Attention(nn.Module):
    """One layer of attention and of a small network at each place."""

    def __init__(self) -> None:
        super().__init__()
        self.norm = nn.LayerNorm(WIDTH)
        self.into = nn.Linear(WIDTH, 3 * WIDTH)
        self.out = nn.Linear(WIDTH, WIDTH)
        self.norm2 = nn.LayerNorm(WIDTH)
        self.wide = nn.Linear(WIDTH, 2 * WIDTH)
        self.back = nn.Linear(2 * WIDTH, WIDTH)
        self.drop = nn.Dropout(0.1)

    def forward(self, x: Tensor) -> Tensor:
        """Return x, (batch, time, width), with what this layer adds."""
        batch, time, _ = x.shape
        q, k, v = self.into(self.norm(x)).reshape(batch, time, 3, TURNS, WIDTH // TURNS).permute(2, 0, 3, 1, 4)
        y = F.scaled_dot_product_attention(turned(q), turned(k), v)
        x = x + self.drop(self.out(y.transpose(1, 2).reshape(batch, time, WIDTH)))
        return x + self.drop(self.back(F.relu(self.wide(self.norm2(x)))))


class Listener(nn.Module):
    """Features (batch, time, 96), time a multiple of 4, to logits (batch, time, 6)."""

    def __init__(self) -> None:
        super().__init__()
        sizes = (1, *FRONT)
        self.front = nn.ModuleList(nn.Conv2d(a, b, 3, padding=1) for a, b in zip(sizes, FRONT, strict=False))
        bands = 96
        for pool in POOLS:
            bands //= pool
        self.project = nn.Linear(FRONT[-1] * bands, WIDTH)
        self.dilated = nn.ModuleList(Dilated(d) for d in DILATIONS)
        self.attention = nn.ModuleList(Attention() for _ in range(LAYERS))
        self.norm = nn.LayerNorm(WIDTH)
        self.last = Dilated(1)
        self.heads = nn.Linear(WIDTH, len(HEADS))

    def forward(self, x: Tensor) -> Tensor:
        """Return the logits."""
        y = x[:, None]
        for conv, pool in zip(self.front, POOLS, strict=True):
            y = F.max_pool2d(F.relu(conv(y)), (1, pool))
        y = self.project(y.permute(0, 2, 1, 3).flatten(2))
        for layer in self.dilated:
            y = layer(y)
        slow = y.unflatten(1, (-1, DOWN)).mean(2)
        for layer in self.attention:
            slow = layer(slow)
        y = y + slow.repeat_interleave(DOWN, dim=1)
        return self.heads(self.norm(self.last(y)))
