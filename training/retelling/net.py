"""The retelling network: what is read attends to itself both ways, what is told attends to what was told and read.

Parts that plain numpy can run: matrix products, layer norms, rectifiers, places turned in (rotary).
"""

from __future__ import annotations

import torch
from torch import Tensor, nn
from torch.nn import functional as F  # noqa: N812

WIDTH, VIEWS, INNER, READERS, TELLERS = 256, 8, 1024, 4, 3


def turned(x: Tensor, at: Tensor) -> Tensor:
    """Return x, (batch, views, time, size), turned by its place ``at``, (time,)."""
    half = x.shape[-1] // 2
    angle = at[:, None].float() * (10000.0 ** (-torch.arange(half, device=x.device) / half))
    cos, sin = angle.cos().to(x.dtype), angle.sin().to(x.dtype)
    a, b = x[..., :half], x[..., half:]
    return torch.cat([a * cos - b * sin, a * sin + b * cos], -1)


class Attends(nn.Module):
    def __init__(self, *, own: bool, width: int = WIDTH) -> None:
        super().__init__()
        self.own = own
        self.norm = nn.LayerNorm(width)
        self.ask, self.key, self.value, self.mix = (nn.Linear(width, width) for _ in range(4))

    def forward(self, x: Tensor, of: Tensor | None, mask: Tensor | None, *, causal: bool, drop: float) -> Tensor:
        h = self.norm(x)
        source = h if of is None else of

        def views(y: Tensor) -> Tensor:
            return y.view(y.shape[0], y.shape[1], VIEWS, -1).transpose(1, 2)

        q, k, v = views(self.ask(h)), views(self.key(source)), views(self.value(source))
        if self.own:
            at = torch.arange(x.shape[1], device=x.device)
            q, k = turned(q, at), turned(k, at)
        y = F.scaled_dot_product_attention(
            q, k, v, attn_mask=mask, is_causal=causal, dropout_p=drop if self.training and x.is_cuda else 0.0
        )
        return x + F.dropout(self.mix(y.transpose(1, 2).flatten(2)), drop, self.training)

    def share(self, x: Tensor, of: Tensor, mask: Tensor) -> Tensor:
        """Return how much each of ``x`` attends to each of ``of``, the mean of all views."""
        q, k = (y.view(*y.shape[:2], VIEWS, -1).transpose(1, 2) for y in (self.ask(self.norm(x)), self.key(of)))
        likely = (q @ k.transpose(-1, -2) / q.shape[-1] ** 0.5).masked_fill(~mask, -1e9)
        return likely.float().softmax(-1).mean(1)


class Thinks(nn.Module):
    def __init__(self, width: int = WIDTH, inner: int = INNER) -> None:
        super().__init__()
        self.norm, self.wide, self.back = nn.LayerNorm(width), nn.Linear(width, inner), nn.Linear(inner, width)

    def forward(self, x: Tensor, drop: float) -> Tensor:
        y = F.dropout(F.relu(self.wide(self.norm(x))), drop, self.training)
        return x + F.dropout(self.back(y), drop, self.training)


class Retelling(nn.Module):
    def __init__(
        self,
        pieces: int,
        codes: int,
        drop: float = 0.15,
        readers: int = READERS,
        tellers: int = TELLERS,
        width: int = WIDTH,
    ) -> None:
        super().__init__()
        self.drop = drop
        inner = width * INNER // WIDTH
        self.pieces, self.codes = nn.Embedding(pieces, width), nn.Embedding(codes, width)
        self.read_attends = nn.ModuleList(Attends(own=True, width=width) for _ in range(readers))
        self.read_thinks = nn.ModuleList(Thinks(width, inner) for _ in range(readers))
        self.read_norm = nn.LayerNorm(width)
        self.tell_attends = nn.ModuleList(Attends(own=True, width=width) for _ in range(tellers))
        self.tell_looks = nn.ModuleList(Attends(own=False, width=width) for _ in range(tellers))
        self.tell_thinks = nn.ModuleList(Thinks(width, inner) for _ in range(tellers))
        self.tell_norm = nn.LayerNorm(width)
        self.out = nn.Linear(width, codes)
        for table in (self.pieces, self.codes):
            nn.init.normal_(table.weight, std=0.5)

    def read(self, x: Tensor, there: Tensor) -> Tensor:
        y = F.dropout(self.pieces(x), self.drop, self.training)
        mask = there[:, None, None, :]
        for attends, thinks in zip(self.read_attends, self.read_thinks, strict=True):
            y = thinks(attends(y, None, mask, causal=False, drop=self.drop), self.drop)
        return self.read_norm(y)

    def tell(self, codes: Tensor, seen: Tensor, there: Tensor) -> tuple[Tensor, Tensor]:
        """Return how likely each code is, and how much each piece was looked at for it."""
        y = F.dropout(self.codes(codes), self.drop, self.training)
        mask = there[:, None, None, :]
        looked = y
        for attends, looks, thinks in zip(self.tell_attends, self.tell_looks, self.tell_thinks, strict=True):
            y = attends(y, None, None, causal=True, drop=self.drop)
            looked = y
            y = thinks(looks(y, seen, mask, causal=False, drop=self.drop), self.drop)
        return self.out(self.tell_norm(y)), self.tell_looks[-1].share(looked, seen, mask)

    def forward(self, x: Tensor, there: Tensor, codes: Tensor) -> tuple[Tensor, Tensor]:
        return self.tell(codes, self.read(x, there), there)
