"""Train the network on one GPU.

    python training/train.py --data data --out listener.pt --minutes 8 --seed 1

Stretches of 82 s are drawn from songs, two fifths from the beginning, and changed on the way: faster or slower, higher
or lower, another equaliser, noise floor, echo, gaps. With ``--steps`` instead of ``--minutes`` a run can be repeated.
"""

from __future__ import annotations

import argparse
import json
import logging
import sys
import time
from pathlib import Path

import numpy as np
import torch
from torch import Tensor
from torch.nn import functional as F  # noqa: N812

sys.path.insert(0, str(Path(__file__).resolve().parent))

from net import HEADS, Listener

LOG = logging.getLogger("train")
LONG = 4096
FLOOR, TOP = float(np.log(1e-5)), 2.0
WEIGHTS = torch.tensor([6.0, 10.0, 14.0, 24.0])  # a hit counts this much more than a miss
SHARE = torch.tensor([1.0, 1.0, 1.0, 1.0, 0.4, 0.3])


class Songs:
    """All songs on the device: features as small whole numbers, events as frames."""

    def __init__(self, folder: Path, device: str, *, first: int = 0, last: int = 1 << 40) -> None:
        rows, starts, truths = [], [0], []
        for path in sorted(folder.glob("*.npz")):
            if not first <= int(path.stem) < last:
                continue
            with np.load(path) as z:
                rows.append(z["features"])
                starts += (starts[-1] + z["starts"][1:]).tolist()
                truths += json.loads(str(z["truth"]))
        self.rows = torch.from_numpy(np.concatenate(rows)).to(device)
        self.starts = torch.tensor(starts, device=device)
        most = max(len(t["beats"]) for t in truths)
        events = np.full((len(truths), most), -1e6, np.float32)
        kinds = np.zeros((len(truths), most, 4), np.float32)
        for i, t in enumerate(truths):
            beats = np.array(t["beats"])
            events[i, : len(beats)] = beats * 50
            kinds[i, : len(beats), 0] = 1
            for k, name in enumerate(("downbeats", "eights", "phrases"), 1):
                at = np.array(t[name])
                if not len(at):
                    continue
                kinds[i, np.abs(beats[:, None] - at[None]).argmin(0), k] = 1
        self.truths = truths
        self.events, self.kinds = torch.tensor(events, device=device), torch.tensor(kinds, device=device)
        self.first = torch.tensor([t["first_count"] * 50 for t in truths], device=device)
        self.end = torch.tensor([t["end"] * 50 for t in truths], device=device)
        self.triple = torch.tensor([float(t["metre"] == 3) for t in truths], device=device)

    def stretch(self, song: Tensor, start: Tensor, speed: Tensor, long: int = LONG) -> tuple[Tensor, Tensor]:
        """Return features (batch, long, 96) and targets (batch, long, 6) of songs from ``start`` at ``speed``."""
        own = torch.arange(long, device=song.device)[None] * speed[:, None] + start[:, None]
        size = self.starts[song + 1] - self.starts[song]
        whole = own.floor()
        part = (own - whole)[..., None]
        inside = ((whole >= 0) & (whole < (size - 1)[:, None]))[..., None]
        spot = whole.long().clamp(min=0)
        spot = torch.minimum(spot, (size - 2)[:, None]) + self.starts[song][:, None]
        x = self.rows[spot].float() * (1 - part) + self.rows[spot + 1].float() * part
        x = torch.where(inside, x, torch.zeros_like(x)) / 255 * (TOP - FLOOR) + FLOOR
        at = ((self.events[song] - start[:, None]) / speed[:, None]).round().long()
        target = torch.zeros(len(song), long + 4, 4, device=song.device)
        for move, height in ((-1, 0.5), (1, 0.5), (0, 1.0)):
            there = at + move
            good = ((there >= 0) & (there < long)).float()[..., None]
            spots = there.clamp(0, long - 1)[..., None].expand(-1, -1, 4)
            target.scatter_reduce_(1, spots, self.kinds[song] * good * height, "amax")
        danced = (own >= self.first[song][:, None] - 0.5).float()
        triple = self.triple[song][:, None].expand(-1, long)
        return x, torch.cat([target[:, :long], danced[..., None], triple[..., None]], -1)


def chance(n: int, p: float, device: str) -> Tensor:
    """Return (n, 1, 1) ones with likelihood p, else zeros."""
    return (torch.rand(n, 1, 1, device=device) < p).float()


def altered(x: Tensor) -> Tensor:
    """Return features as other rooms, machines and recordings would give them."""
    n, long, bands = x.shape
    dev = str(x.device)
    uniform = lambda low, high: low + (high - low) * torch.rand(n, 1, 1, device=dev)  # noqa: E731
    move = torch.randint(-3, 4, (n,), device=dev) * (torch.rand(n, device=dev) < 0.5)
    spots = (torch.arange(bands, device=dev)[None] + move[:, None]).clamp(0, bands - 1)
    x = torch.gather(x, 2, spots[:, None].expand(-1, long, -1))
    power = x.exp()  # echo: what was there goes on, falling
    fall = torch.exp(-torch.arange(24, device=dev) / uniform(2, 8)[:, 0])
    wet = uniform(0.0, 0.35)[:, 0] * fall
    wet[:, 0] = 1
    flat = power.transpose(1, 2).reshape(1, n * bands, long)
    kernel = wet.flip(1).repeat_interleave(bands, 0)[:, None]
    echoed = F.conv1d(F.pad(flat, (23, 0)), kernel, groups=n * bands).reshape(n, bands, long).transpose(1, 2)
    x = torch.where(chance(n, 0.3, dev) > 0, echoed.clamp(min=1e-6).log(), x)
    place = torch.arange(bands, device=dev) / bands
    curve = sum(
        torch.randn(n, 1, 1, device=dev) * torch.cos(torch.pi * (k * place + torch.rand(n, 1, 1, device=dev)))
        for k in range(4)
    )
    x = x + 0.5 * curve * chance(n, 0.8, dev) + uniform(-0.8, 0.5)
    noise = uniform(-10, -3) + 0.5 * torch.randn(n, long, 1, device=dev) * chance(n, 0.2, dev)
    noisy = torch.logaddexp(x, noise + 0.4 * torch.randn(n, long, bands, device=dev) - 2 * place * uniform(0, 1))
    x = torch.where(chance(n, 0.4, dev) > 0, noisy, x)
    low, high = uniform(0, 0.15), uniform(0.6, 1.0)
    narrow = ((place < low) | (place > high)).float() * chance(n, 0.25, dev)
    x = torch.where(narrow > 0, torch.full_like(x, FLOOR), x)
    x = x.clamp(min=FLOOR) + 0.08 * torch.randn_like(x)
    for _ in range(2):
        first, size = torch.rand(n, 1, 1, device=dev), uniform(0, 0.12)
        x = torch.where(
            (place >= first) & (place < first + size) & (chance(n, 0.4, dev) > 0), torch.full_like(x, FLOOR / 2), x
        )
        clock = torch.arange(long, device=dev)[None, :, None] / long
        first, size = torch.rand(n, 1, 1, device=dev), uniform(0, 0.012)
        x = torch.where(
            (clock >= first) & (clock < first + size) & (chance(n, 0.4, dev) > 0), torch.full_like(x, FLOOR), x
        )
    return x


def scaled(x: Tensor) -> Tensor:
    """Return features as the network takes them, about -1.5 to 1.5."""
    return x / 4 + 1.3


def loss_of(logits: Tensor, target: Tensor) -> Tensor:
    """Return the loss of each head."""
    weights = torch.ones_like(target)
    weights[..., :4] = 1 + (WEIGHTS.to(target.device) - 1) * target[..., :4]
    each = F.binary_cross_entropy_with_logits(logits, target, reduction="none") * weights
    return each.mean((0, 1))


def drawn(songs: Songs, n: int, device: str) -> tuple[Tensor, Tensor]:
    """Return one batch."""
    song = torch.randint(len(songs.truths), (n,), device=device)
    size = (songs.starts[song + 1] - songs.starts[song]).float()
    speed = torch.exp((torch.rand(n, device=device) - 0.5) * 0.36 * (torch.rand(n, device=device) < 0.6))
    late = torch.rand(n, device=device) * (size - 0.7 * LONG).clamp(min=1)
    begin = -torch.rand(n, device=device) * 100 * (torch.rand(n, device=device) < 0.5)
    start = torch.where(torch.rand(n, device=device) < 0.4, begin, late)
    return songs.stretch(song, start, speed)


def main() -> None:
    """Train."""
    ask = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ask.add_argument("--data", type=Path, required=True)
    ask.add_argument("--out", type=Path, required=True)
    ask.add_argument("--minutes", type=float, default=8.0)
    ask.add_argument("--steps", type=int, default=0)
    ask.add_argument("--batch", type=int, default=32)
    ask.add_argument("--seed", type=int, default=1)
    ask.add_argument("--rate", type=float, default=1.2e-3)
    args = ask.parse_args()
    logging.basicConfig(level=logging.INFO, format="%(message)s")
    torch.manual_seed(args.seed)
    device = "cuda" if torch.cuda.is_available() else "cpu"
    songs = Songs(args.data, device, last=1_000_000)
    held = Songs(args.data, device, first=1_000_000, last=2_000_000)
    net = Listener().to(device)
    LOG.info(
        "%d songs, %.1f h, %d parameters",
        len(songs.truths),
        len(songs.rows) / 180_000,
        sum(p.numel() for p in net.parameters()),
    )
    best = torch.optim.AdamW(net.parameters(), lr=args.rate, weight_decay=0.02, betas=(0.9, 0.98))
    mean = torch.optim.swa_utils.AveragedModel(net, multi_avg_fn=torch.optim.swa_utils.get_ema_multi_avg_fn(0.999))
    began, step, share = time.perf_counter(), 0, 0.0
    while share < 1:
        share = step / args.steps if args.steps else (time.perf_counter() - began) / 60 / args.minutes
        rate = args.rate * min(1, step / 300) * (0.5 + 0.5 * float(np.cos(np.pi * min(1, share)))) + 1e-6
        for group in best.param_groups:
            group["lr"] = rate
        x, target = drawn(songs, args.batch, device)
        with torch.autocast(device, torch.bfloat16):
            logits = net(scaled(altered(x)))
        losses = loss_of(logits.float(), target)
        best.zero_grad(set_to_none=True)
        (losses * SHARE.to(device)).sum().backward()
        torch.nn.utils.clip_grad_norm_(net.parameters(), 1.0)
        best.step()
        mean.update_parameters(net)
        if step % 500 == 0:
            report(mean.module, held, device, step, time.perf_counter() - began, losses)
        step += 1
    report(mean.module, held, device, step, time.perf_counter() - began, losses)
    torch.save(
        {"state": mean.module.state_dict(), "steps": step, "songs": len(songs.truths), "seed": args.seed}, args.out
    )


@torch.no_grad()
def report(net: Listener, held: Songs, device: str, step: int, spent: float, losses: Tensor) -> None:
    """Say how training goes: the loss of each head on the batch and on songs kept apart."""
    net.eval()
    song = torch.arange(min(48, len(held.truths)), device=device)
    x, target = held.stretch(song, torch.zeros(len(song), device=device), torch.ones(len(song), device=device))
    with torch.autocast(device, torch.bfloat16):
        apart = loss_of(net(scaled(x)).float(), target)
    net.train()
    say = " ".join(f"{name} {a:.4f}/{b:.4f}" for name, a, b in zip(HEADS, losses.tolist(), apart.tolist(), strict=True))
    LOG.info("step %d, %.0f s: %s", step, spent, say)


if __name__ == "__main__":
    main()
