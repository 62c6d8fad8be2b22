"""Teaches the sorting network.

python training/sorting/train.py SHEETS.jsonl … --bodies ROWS.jsonl --talk TALK.txt --joints joints.json --out OUT.pt [--minutes 5] [--test SHEETS.jsonl]
"""

from __future__ import annotations

import argparse
import json
import math
import random
import time
from collections import Counter
from pathlib import Path
from typing import Any

import numpy as np
import torch
from collect import BLANK, KINDS, LEFT_OUT
from mix import Line, Parts, bodies_of
from sorting_net import Sorting
from torch.nn import functional as F  # noqa: N812
from torch.utils.data import DataLoader, IterableDataset

from softshoe.wording.retell_pieces import UNKNOWN, Cutter

MOST = 1400  # pieces of a sheet
FREE = "?"  # begins a section or goes on: either is right
NUMBER = {kind: k for k, kind in enumerate(KINDS)}


def encoded(lines: list[Line], cutter: Cutter) -> tuple[list[int], list[int]]:
    """Return the pieces of a sheet, and the kind to be told at each: -1 but at the ends of lines."""
    x: list[int] = []
    y: list[int] = []
    end = cutter.number["\n"]
    for kind, text in lines:
        pieces = cutter.numbers(cutter.cut(text))
        x += [*pieces, end]
        y += [-1] * len(pieces) + [
            -1 if kind in (BLANK, LEFT_OUT) or not text.strip() else len(KINDS) if kind == FREE else NUMBER[kind]
        ]
    return x, y


def dimmed(x: list[int], cutter: Cutter, rng: random.Random) -> list[int]:
    """Some pieces of words made unknown, so that no one word decides."""
    often = rng.choice((0.0, 0.0, 0.03, 0.08))
    end, other = cutter.number["\n"], cutter.number[UNKNOWN]
    return [other if piece != end and rng.random() < often else piece for piece in x] if often else x


class Drawn(IterableDataset[Any]):
    def __init__(self, parts: Parts, cutter: Cutter, size: int, seed: int) -> None:
        self.parts, self.cutter, self.size, self.seed = parts, cutter, size, seed

    def __iter__(self):
        info = torch.utils.data.get_worker_info()
        rng = random.Random(self.seed * 1000 + (info.id if info else 0))
        torch.set_num_threads(1)
        while True:
            rows = []
            while len(rows) < 4 * self.size:
                x, y = encoded(self.parts.drawn(rng), self.cutter)
                x = dimmed(x, self.cutter, rng)
                if len(x) <= MOST:
                    rows.append((x, y))
            rows.sort(key=lambda r: len(r[0]))
            firsts = list(range(0, len(rows), self.size))
            rng.shuffle(firsts)
            for first in firsts:
                yield packed(rows[first : first + self.size])


def packed(rows: list[tuple[list[int], list[int]]]) -> tuple[np.ndarray, np.ndarray]:
    n = -(-max(len(x) for x, _ in rows) // 64) * 64
    x, y = np.full((len(rows), n), -1, np.int16), np.full((len(rows), n), -1, np.int16)
    for k, (a, b) in enumerate(rows):
        x[k, : len(a)], y[k, : len(b)] = a, b
    return x, y


def as_it_is(arrays: Any) -> Any:
    return arrays


def loss_of(out: torch.Tensor, want: torch.Tensor) -> torch.Tensor:
    """Of a line that either begins a section or goes on, the sum of both likelihoods counts."""
    likely = out.float().log_softmax(-1)
    either = torch.logsumexp(torch.stack([likely[..., NUMBER["B"]], likely[..., NUMBER["C"]]]), 0)
    likely = torch.cat([likely, either[..., None]], -1)
    return F.nll_loss(likely.flatten(0, 1), want.flatten(), ignore_index=-1)


@torch.no_grad()
def scored(net: Sorting, sheets: list[list[Line]], cutter: Cutter, device: str) -> str:
    net.eval()
    wrong: Counter[str] = Counter()
    whole = lines = good = 0
    for sheet in sheets:
        x, y = encoded(sheet, cutter)
        if len(x) > MOST:
            continue
        a = torch.tensor([x], device=device)
        best = net(a, torch.ones_like(a, dtype=torch.bool))[0].float().argmax(-1).tolist()
        told = [(KINDS[b], KINDS[k] if k < len(KINDS) else FREE) for b, k in zip(best, y, strict=True) if k >= 0]
        bad = [t + k for t, k in told if t != k and not (k == FREE and t in "BC")]
        wrong.update(bad)
        whole += not bad
        lines += len(told)
        good += len(told) - len(bad)
    net.train()
    return f"sheets {whole}/{len(sheets)}, lines {good}/{lines}, told for meant: {wrong.most_common(12)}"


def main() -> None:
    ask = argparse.ArgumentParser()
    ask.add_argument("rows", nargs="+")
    ask.add_argument("--bodies", required=True, nargs="+")
    ask.add_argument("--talk", required=True)
    ask.add_argument("--joints", required=True)
    ask.add_argument("--out", required=True)
    ask.add_argument("--minutes", type=float, default=5)
    ask.add_argument("--test", nargs="*", default=[])
    ask.add_argument("--batch", type=int, default=48)
    ask.add_argument("--rate", type=float, default=1.5e-3)
    ask.add_argument("--workers", type=int, default=6)
    ask.add_argument("--start", default="", help="weights to go on from")
    own = ask.parse_args()

    def sheets(path: str) -> list[list[Line]]:
        return [
            [(k, t) for k, t in json.loads(line)["lines"]]
            for line in Path(path).read_text(encoding="utf-8").splitlines()
            if line
        ]

    rows = [sheet for path in own.rows for sheet in sheets(path)]
    talk = [t for t in Path(own.talk).read_text(encoding="utf-8").splitlines() if t.strip()]
    words = json.loads(Path(own.joints).read_text(encoding="utf-8"))
    cutter = Cutter([tuple(pair) for pair in words["joints"]], words["known"])
    parts = Parts(rows, [body for path in own.bodies for body in bodies_of(Path(path))], talk)
    device = "cuda" if torch.cuda.is_available() else "cpu"
    net = Sorting(len(cutter.number), len(KINDS)).to(device)
    print(
        len(rows),
        "sheets;",
        len(parts.titles),
        "titles;",
        sum(p.numel() for p in net.parameters()) / 1e6,
        "M weights",
        flush=True,
    )
    if own.start:
        net.load_state_dict({k: v.float() for k, v in torch.load(own.start, map_location="cpu")["net"].items()})
    mean = {k: v.detach().clone().float() for k, v in net.state_dict().items()}
    opt = torch.optim.AdamW(net.parameters(), lr=own.rate, betas=(0.9, 0.98), weight_decay=0.05)
    loader = DataLoader(Drawn(parts, cutter, own.batch, int(time.time())), batch_size=None, num_workers=own.workers, prefetch_factor=4 if own.workers else None,
                        collate_fn=as_it_is)  # fmt: skip
    began = shown = time.time()
    for step, arrays in enumerate(loader, 1):
        share = (time.time() - began) / (60 * own.minutes)
        if share >= 1:
            break
        for group in opt.param_groups:
            group["lr"] = own.rate * min(1, step / 300) * 0.5 * (1 + math.cos(math.pi * share))
        x, want = (torch.from_numpy(a).to(device).long() for a in arrays)
        with torch.autocast(device, torch.bfloat16, enabled=device == "cuda"):
            out = net(x.clamp(min=0), x >= 0)
        loss = loss_of(out, want)
        opt.zero_grad(set_to_none=True)
        loss.backward()
        torch.nn.utils.clip_grad_norm_(net.parameters(), 1.0)
        opt.step()
        with torch.no_grad():
            torch._foreach_lerp_(
                list(mean.values()), list(net.state_dict().values()), 1 - min(0.998, 1 - 1 / (step + 1))
            )
        if time.time() - shown > 20:
            shown = time.time()
            print(f"{shown - began:.0f} s, step {step}, loss {loss.item():.4f}", flush=True)
    net.load_state_dict(mean)
    torch.save(
        {
            "net": mean,
            "words": words["words"],
            "joints": words["joints"],
            "known": words["known"],
            "codes": list(KINDS),
        },
        own.out,
    )
    for path in own.test:
        print("END", Path(path).name, scored(net, sheets(path), cutter, device), flush=True)


if __name__ == "__main__":
    main()
