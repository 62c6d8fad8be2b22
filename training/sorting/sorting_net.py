"""The sorting network: a whole sheet is read piece by piece, and at the end of each line it says what the line is.

The parts are those of the retelling network, half as wide.
"""

from __future__ import annotations

import sys
from pathlib import Path

from torch import Tensor, nn
from torch.nn import functional as F  # noqa: N812

sys.path.append(str(Path(__file__).parents[1] / "retelling"))
from net import Attends, Thinks

WIDTH, INNER, READERS = 128, 512, 4


class Sorting(nn.Module):
    def __init__(self, pieces: int, kinds: int, drop: float = 0.1) -> None:
        super().__init__()
        self.drop = drop
        self.pieces = nn.Embedding(pieces, WIDTH)
        self.read_attends = nn.ModuleList(Attends(own=True, width=WIDTH) for _ in range(READERS))
        self.read_thinks = nn.ModuleList(Thinks(WIDTH, INNER) for _ in range(READERS))
        self.read_norm = nn.LayerNorm(WIDTH)
        self.out = nn.Linear(WIDTH, kinds)
        nn.init.normal_(self.pieces.weight, std=0.5)

    def forward(self, x: Tensor, there: Tensor) -> Tensor:
        """Return marks of each kind at every piece, (batch, time, kinds)."""
        y = F.dropout(self.pieces(x), self.drop, self.training)
        mask = there[:, None, None, :]
        for attends, thinks in zip(self.read_attends, self.read_thinks, strict=True):
            y = thinks(attends(y, None, mask, causal=False, drop=self.drop), self.drop)
        return self.out(self.read_norm(y))
