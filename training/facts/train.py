"""Teaches the facts network.

python training/facts/train.py HEADS.jsonl --bodies ROWS.jsonl --talk TALK.txt --joints joints.json --out OUT.pt [--minutes 4]
"""

from __future__ import annotations

import argparse
import json
import math
import random
import re
import sys
import time
from collections import Counter
from pathlib import Path
from typing import Any

import numpy as np
import torch
from facts_mix import Heads
from torch import Tensor, nn
from torch.nn import functional as F  # noqa: N812
from torch.utils.data import DataLoader, IterableDataset

sys.path.append(str(Path(__file__).parents[1] / "retelling"))
from net import Attends, Thinks

from softshoe.wording.facts_net import CHOICES, POINTERS, TITLE, asked, cases_of
from softshoe.wording.numbers import number_spans
from softshoe.wording.retell_pieces import UNKNOWN, Cutter

OPEN = "?"
WIDTH, INNER, READERS = 128, 512, 4
MOST = 500
SIZES = {name: len(choices) for name, choices in CHOICES.items()}
OUT = sum(SIZES.values()) + len(POINTERS) + 1


class Facts(nn.Module):
    def __init__(self, pieces: int, drop: float = 0.1) -> None:
        super().__init__()
        self.drop = drop
        self.pieces, self.cases = nn.Embedding(pieces, WIDTH), nn.Embedding(3, WIDTH)
        self.read_attends = nn.ModuleList(Attends(own=True, width=WIDTH) for _ in range(READERS))
        self.read_thinks = nn.ModuleList(Thinks(WIDTH, INNER) for _ in range(READERS))
        self.read_norm = nn.LayerNorm(WIDTH)
        self.out = nn.Linear(WIDTH, OUT)
        nn.init.normal_(self.pieces.weight, std=0.5)
        nn.init.normal_(self.cases.weight, std=0.2)

    def forward(self, x: Tensor, case: Tensor, there: Tensor) -> Tensor:
        y = F.dropout(self.pieces(x) + self.cases(case), self.drop, self.training)
        mask = there[:, None, None, :]
        for attends, thinks in zip(self.read_attends, self.read_thinks, strict=True):
            y = thinks(attends(y, None, mask, causal=False, drop=self.drop), self.drop)
        return self.out(self.read_norm(y))


def encoded(row: dict[str, Any], cutter: Cutter, rng: random.Random | None = None) -> dict[str, Any] | None:
    """Return pieces, cases and what is to be told: the right choices, places of each pointer, pieces of the title."""
    text = asked(row["lines"])
    pieces = cutter.cut(text)
    x = cutter.numbers(pieces)
    if rng is not None and rng.random() < 0.4:
        often = rng.choice((0.03, 0.08))
        other = cutter.number[UNKNOWN]
        x = [other if p.text.isalpha() and rng.random() < often else n for p, n in zip(pieces, x, strict=True)]
    choices = [allowed(row, name) for name in CHOICES]
    spans = number_spans(text)
    places: list[list[int]] = []
    for k in range(len(POINTERS)):
        if len(row["tempo"]) <= k:
            places.append([0])
            continue
        at = [a for a, _, n in spans if n == row["tempo"][k]]
        places.append([i for i, p in enumerate(pieces) if p.start in at])
    found = re.search(re.escape(row["title"]).replace(r"\ ", r"\s+"), text, re.IGNORECASE) if row["title"] else None
    title = [float(found is not None and found.start() <= p.start < found.end()) for p in pieces]
    if len(x) > MOST:
        return None
    return {
        "x": x,
        "case": cases_of(text, pieces),
        "choices": choices,
        "places": places,
        "title": title,
        "named": found is not None,
    }


def allowed(row: dict[str, Any], name: str) -> list[int]:
    """Return which of a field's choices are right: one, or all that may be."""
    choices = CHOICES[name]
    if row[name] != OPEN:
        return [choices.index(row[name])]
    if name == "seated":  # as it is danced, or not told
        return [choices.index(None), choices.index(row["danced"])]
    return list(range(len(choices)))


class Drawn(IterableDataset[Any]):
    def __init__(self, heads: Heads, cutter: Cutter, size: int) -> None:
        self.heads, self.cutter, self.size = heads, cutter, size

    def __iter__(self):
        info = torch.utils.data.get_worker_info()
        rng = random.Random(time.time_ns() + (info.id if info else 0))
        torch.set_num_threads(1)
        while True:
            rows = []
            while len(rows) < 4 * self.size:
                row = encoded(self.heads.draw(rng), self.cutter, rng)
                if row is not None:
                    rows.append(row)
            rows.sort(key=lambda r: len(r["x"]))
            firsts = list(range(0, len(rows), self.size))
            rng.shuffle(firsts)
            for first in firsts:
                yield packed(rows[first : first + self.size])


def packed(rows: list[dict[str, Any]]) -> dict[str, np.ndarray]:
    n = -(-max(len(row["x"]) for row in rows) // 32) * 32
    many = len(rows)
    out = {"x": np.full((many, n), -1, np.int64), "case": np.zeros((many, n), np.int64), "title": np.zeros((many, n), np.float32),
           "named": np.array([row["named"] for row in rows], np.float32), "choices": np.zeros((many, sum(SIZES.values())), bool),
           "places": np.zeros((many, len(POINTERS), n), bool)}  # fmt: skip
    for k, row in enumerate(rows):
        m = len(row["x"])
        out["x"][k, :m], out["case"][k, :m], out["title"][k, :m] = row["x"], row["case"], row["title"]
        at = 0
        for size, right in zip(SIZES.values(), row["choices"], strict=True):
            out["choices"][k, [at + j for j in right]] = True
            at += size
        for j, places in enumerate(row["places"]):
            out["places"][k, j, places] = True
    return out


def loss_of(out: Tensor, batch: dict[str, Tensor], there: Tensor) -> Tensor:
    out = out.float()
    total = out.new_zeros(())
    at = 0
    for size in SIZES.values():
        likely = out[:, 0, at : at + size].log_softmax(-1)
        right = torch.where(batch["choices"][:, at : at + size], 0.0, -1e9)
        total = total - torch.logsumexp(likely + right, -1).mean()
        at += size
    shut = torch.where(there, 0.0, -1e9)
    for k in range(len(POINTERS)):
        likely = (out[:, :, at + k] + shut).log_softmax(-1)
        right = batch["places"][:, k]
        some = right.any(-1)
        got = torch.logsumexp(torch.where(right, likely, -1e9), -1)
        total = total - torch.where(some, got, 0.0).sum() / some.sum().clamp(min=1)
    each = F.binary_cross_entropy_with_logits(out[:, :, at + len(POINTERS)], batch["title"], reduction="none")
    weight = there.float() * batch["named"][:, None]
    return total + 4 * (each * weight).sum() / weight.sum().clamp(min=1)


def main() -> None:
    ask = argparse.ArgumentParser()
    ask.add_argument("rows")
    ask.add_argument("--bodies", required=True)
    ask.add_argument("--talk", required=True)
    ask.add_argument("--joints", required=True)
    ask.add_argument("--out", required=True)
    ask.add_argument("--minutes", type=float, default=4)
    ask.add_argument("--batch", type=int, default=96)
    ask.add_argument("--rate", type=float, default=1.5e-3)
    ask.add_argument("--workers", type=int, default=4)
    ask.add_argument("--all", action="store_true", help="keep nothing apart")
    own = ask.parse_args()

    def lines(path: str) -> list[dict[str, Any]]:
        return [json.loads(line) for line in Path(path).read_text(encoding="utf-8").splitlines() if line]

    rows = lines(own.rows)
    apart = [row for row in rows if row["apart"]]
    talk = [t for t in Path(own.talk).read_text(encoding="utf-8").splitlines() if t.strip()]
    words = json.loads(Path(own.joints).read_text(encoding="utf-8"))
    cutter = Cutter([tuple(pair) for pair in words["joints"]], words["known"])
    heads = Heads(
        [row for row in rows if own.all or not row["apart"]],
        talk,
        [row["text"].split("\n") for row in lines(own.bodies)],
    )
    device = "cuda" if torch.cuda.is_available() else "cpu"
    net = Facts(len(cutter.number)).to(device)
    print(len(heads.rows), "heads,", len(apart), "apart,", len(heads.titles), "titles", flush=True)
    mean = {k: v.detach().clone().float() for k, v in net.state_dict().items()}
    opt = torch.optim.AdamW(net.parameters(), lr=own.rate, betas=(0.9, 0.98), weight_decay=0.05)
    loader = DataLoader(Drawn(heads, cutter, own.batch), batch_size=None, num_workers=own.workers,
                        prefetch_factor=4 if own.workers else None, collate_fn=lambda rows: rows)  # fmt: skip
    began = shown = time.time()
    for step, arrays in enumerate(loader, 1):
        share = (time.time() - began) / (60 * own.minutes)
        if share >= 1:
            break
        for group in opt.param_groups:
            group["lr"] = own.rate * min(1, step / 300) * 0.5 * (1 + math.cos(math.pi * share))
        batch = {name: torch.from_numpy(value).to(device) for name, value in arrays.items()}
        there = batch["x"] >= 0
        with torch.autocast(device, torch.bfloat16, enabled=device == "cuda"):
            out = net(batch["x"].clamp(min=0), batch["case"], there)
        loss = loss_of(out, batch, there)
        opt.zero_grad(set_to_none=True)
        loss.backward()
        torch.nn.utils.clip_grad_norm_(net.parameters(), 1.0)
        opt.step()
        with torch.no_grad():
            keep = min(0.998, 1 - 1 / (step + 1))
            torch._foreach_lerp_(list(mean.values()), list(net.state_dict().values()), 1 - keep)
        if time.time() - shown > 20:
            shown = time.time()
            print(f"{shown - began:.0f} s, step {step}, loss {loss.item():.3f}", flush=True)
    net.load_state_dict(mean)
    torch.save(
        {"net": mean, "words": [], "joints": words["joints"], "known": words["known"], "codes": [TITLE]}, own.out
    )
    print("END", scored(net, apart, cutter, device), flush=True)


@torch.no_grad()
def scored(net: Facts, rows: list[dict[str, Any]], cutter: Cutter, device: str) -> Counter[str]:
    net.eval()
    wrong: Counter[str] = Counter()
    for row in rows:
        one = encoded(row, cutter)
        if one is None:
            continue
        x, case = (torch.tensor([one[name]], device=device) for name in ("x", "case"))
        out = net(x, case, torch.ones_like(x, dtype=torch.bool))[0].float()
        at, bad = 0, []
        for k, (name, size) in enumerate(SIZES.items()):
            bad += [name] if int(out[0, at : at + size].argmax()) not in one["choices"][k] else []
            at += size
        for k, name in enumerate(POINTERS):
            bad += [name] if one["places"][k] and int(out[:, at + k].argmax()) not in one["places"][k] else []
        told = (out[:, at + len(POINTERS)] > 0).tolist()
        bad += ["title"] if one["named"] and told != [t > 0 for t in one["title"]] else []
        wrong.update(bad or ["right"])
    net.train()
    return wrong


if __name__ == "__main__":
    main()
