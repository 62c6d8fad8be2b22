"""Train the network on one GPU, or on several of one machine.

    python training/train.py --data data --out listener.pt --minutes 8 --seed 1

On several GPUs one process each is started, with RANK, WORLD_SIZE, MASTER_ADDR and MASTER_PORT set (``all.sh`` does
so); each has its share of the songs.

Stretches of 82 s are drawn from songs, two fifths from the beginning, and changed on the way: faster or slower, higher
or lower, another equaliser, noise floor, echo, gaps. With ``--steps`` instead of ``--minutes`` a run can be repeated.
"""

from __future__ import annotations

import argparse
import json
import logging
import os
import sys
import time
from pathlib import Path
from typing import Any

import numpy as np
import torch
from torch import Tensor, distributed
from torch.nn import functional as F  # noqa: N812

sys.path.insert(0, str(Path(__file__).resolve().parent))

from net import HEADS, Listener

LOG = logging.getLogger("train")
LONG = 4096
SHARD = 24  # seeds from one shard to the next, as ``make.py`` numbers them
EVENTS = 1400  # most beats of a song
FRESH = 0.75  # under 1: songs that came late are drawn more often, since those that came first were drawn for longer
FLOOR, TOP = float(np.log(1e-5)), 2.0
WEIGHTS = torch.tensor([6.0, 10.0, 14.0, 24.0])  # a hit counts this much more than a miss
SHARE = torch.tensor([1.0, 1.0, 1.0, 1.0, 0.4, 0.3])


class Songs:
    """All songs on the device: features as small whole numbers, events as frames. More come while they are made."""

    def __init__(
        self,
        folder: Path,
        device: str,
        *,
        first: int = 0,
        last: int = 1 << 40,
        hours: float = 450.0,
        part: tuple[int, int] = (0, 1),
    ) -> None:
        self.folder, self.device, self.first_seed, self.last_seed = folder, device, first, last
        self.part = part  # which of how many parts of the shards are taken
        self.known: set[str] = set()
        self.rows = torch.zeros(int(hours * 180_000), 96, dtype=torch.uint8, device=device)
        most = int(hours * 45)
        self.starts = torch.zeros(most + 1, dtype=torch.long, device=device)
        self.events = torch.full((most, EVENTS), -1e6, device=device)
        self.kinds = torch.zeros(most, EVENTS, 4, device=device)
        self.first, self.end, self.triple = (torch.zeros(most, device=device) for _ in range(3))
        self.count, self.frames = 0, 0
        self.more(1 << 30)

    def more(self, shards: int) -> int:
        """Take in shards that are new, at most ``shards``; return how many."""
        found = [p for p in sorted(self.folder.glob("*.npz")) if p.name not in self.known]
        found = [p for p in found if self.first_seed <= int(p.stem) < self.last_seed]
        found = [p for p in found if int(p.stem) // SHARD % self.part[1] == self.part[0]][:shards]
        for path in found:
            self.known.add(path.name)
            with np.load(path) as z:
                rows, starts, truths = z["features"], z["starts"], json.loads(str(z["truth"]))
            if self.frames + len(rows) > len(self.rows) or self.count + len(truths) >= len(self.starts):
                return 0
            self.rows[self.frames : self.frames + len(rows)] = torch.from_numpy(rows).to(self.device)
            self.starts[self.count + 1 : self.count + 1 + len(truths)] = (
                torch.from_numpy(starts[1:]).to(self.device) + self.frames
            )
            for t in truths:
                self.take(t)
            self.frames += len(rows)
        return len(found)

    def take(self, t: dict[str, Any]) -> None:
        """Take in what is true of one song."""
        beats = np.array(t["beats"])[:EVENTS]
        events, kinds = np.full(EVENTS, -1e6, np.float32), np.zeros((EVENTS, 4), np.float32)
        events[: len(beats)] = beats * 50
        kinds[: len(beats), 0] = 1
        for k, name in enumerate(("downbeats", "eights", "phrases"), 1):
            at = np.array(t[name])
            if len(at) and len(beats):
                kinds[np.abs(beats[:, None] - at[None]).argmin(0), k] = 1
        i = self.count
        self.events[i], self.kinds[i] = (
            torch.from_numpy(events).to(self.device),
            torch.from_numpy(kinds).to(self.device),
        )
        self.first[i], self.end[i] = float(t["first_count"]) * 50, float(t["end"]) * 50
        self.triple[i] = float(t["metre"] == 3)
        self.count += 1

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
    x = echoed(x)
    place = torch.arange(bands, device=dev) / bands
    curve = sum(
        torch.randn(n, 1, 1, device=dev) * torch.cos(torch.pi * (k * place + torch.rand(n, 1, 1, device=dev)))
        for k in range(4)
    )
    x = x + 0.5 * curve * chance(n, 0.8, dev) + uniform(-0.8, 0.5)
    x = moved(x)
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


def echoed(x: Tensor) -> Tensor:
    """Return features with an echo in a third of them: what was there goes on, falling."""
    n, dev = len(x), x.device
    pick = torch.nonzero(torch.rand(n, device=dev) < 0.3)[:, 0]
    if len(pick) == 0:
        return x
    power = x[pick].exp()
    far = power.clone()
    fall, wet = 2 + 8 * torch.rand(len(pick), 1, 1, device=dev), 0.6 * torch.rand(len(pick), 1, 1, device=dev)
    before = 0
    for late in (1, 2, 3, 5, 8, 12, 17, 24, 34, 48):
        much = wet * (late - before) * torch.exp(-late / fall) * 0.5
        far[:, late:] += much * power[:, :-late]
        before = late
    out = x.clone()
    out[pick] = far.clamp(min=1e-6).log()
    return out


def slow(n: int, long: int, points: int, dev: torch.device) -> Tensor:
    """Return (n, long, 1) curves that wander about 0, about as far as 1."""
    return F.interpolate(torch.randn(n, 1, points, device=dev), size=long, mode="linear", align_corners=True).transpose(
        1, 2
    )


def moved(x: Tensor) -> Tensor:
    """Return features that grow louder and softer, duller and clearer, in the course of a song; squeezed or widened."""
    n, long, bands = x.shape
    dev = x.device
    x = x + slow(n, long, 6, dev) * chance(n, 0.35, str(dev))
    tilt = torch.linspace(-1, 1, bands, device=dev)[None, None]
    x = x + (slow(n, long, 8, dev) * tilt + 0.5 * slow(n, long, 8, dev) * torch.cos(3 * tilt)) * 0.8 * chance(
        n, 0.3, str(dev)
    )
    middle = x.mean((1, 2), keepdim=True)
    wide = 1 + (torch.rand(n, 1, 1, device=dev) * 0.7 - 0.45) * chance(n, 0.4, str(dev))
    x = middle + (x - middle) * wide
    pick = torch.nonzero(torch.rand(n, device=dev) < 0.15)[:, 0]  # a codec leaves out what is soft beside what is loud
    if len(pick):
        part = x[pick]
        near = F.max_pool2d(part[:, None], (1, 9), stride=1, padding=(0, 4))[:, 0]
        depth = 1.0 + 2.5 * torch.rand(len(pick), 1, 1, device=dev)
        x = x.index_copy(0, pick, torch.where(part < near - depth, part - 3, part))
    return x.clamp(max=TOP + 1)


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
    song = (songs.count * torch.rand(n, device=device) ** FRESH).long().clamp(max=songs.count - 1)
    size = (songs.starts[song + 1] - songs.starts[song]).float()
    speed = torch.exp((torch.rand(n, device=device) - 0.5) * 0.36 * (torch.rand(n, device=device) < 0.6))
    late = torch.rand(n, device=device) * (size - 0.7 * LONG).clamp(min=1)
    begin = -torch.rand(n, device=device) * 100 * (torch.rand(n, device=device) < 0.5)
    start = torch.where(torch.rand(n, device=device) < 0.4, begin, late)
    return songs.stretch(song, start, speed, LONG)


def together(net: torch.nn.Module, share: float, device: str) -> float:
    """Give every GPU the mean of all gradients; return the share of the training that is done, as the first sees it."""
    own = [p.grad for p in net.parameters() if p.grad is not None]
    first = torch.full((1,), share if distributed.get_rank() == 0 else 0.0, device=device)
    flat = torch.cat([*(g.flatten() for g in own), first])
    distributed.all_reduce(flat)
    at = 0
    for g in own:
        g.copy_(flat[at : at + g.numel()].view_as(g) / distributed.get_world_size())
        at += g.numel()
    return float(flat[-1])


def saved(path: Path, net: torch.nn.Module, **recipe: int) -> None:
    """Write the weights whole or not at all."""
    near = path.with_name(f".{path.name}.part")
    torch.save({"state": net.state_dict(), **recipe}, near)
    near.replace(path)


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
    ask.add_argument("--warm", type=int, default=300, help="steps in which the rate rises")
    ask.add_argument("--keep", type=float, default=0.999, help="of the mean of the weights over the last steps, a step")
    ask.add_argument("--start", type=Path, help="weights to go on from")
    ask.add_argument("--wait", type=int, default=1, help="songs that must be there before it begins")
    ask.add_argument("--hours", type=float, default=450.0, help="of songs that there is room for")
    ask.add_argument("--every", type=int, default=500, help="steps between two reports")
    ask.add_argument("--compile", action="store_true", help="let torch join the steps of the network")
    args = ask.parse_args()
    logging.basicConfig(level=logging.INFO, format="%(message)s")
    rank, world = int(os.environ.get("RANK", "0")), int(os.environ.get("WORLD_SIZE", "1"))
    device = f"cuda:{rank}" if torch.cuda.is_available() else "cpu"
    if world > 1:
        if device != "cpu":
            torch.cuda.set_device(rank)
        distributed.init_process_group("gloo" if device == "cpu" else "nccl")
    torch.set_float32_matmul_precision("high")
    torch.manual_seed(args.seed)
    net = Listener().to(device)
    if args.start:
        net.load_state_dict(started(args.start, device))
    torch.manual_seed(args.seed + 1000 * rank)
    began = time.perf_counter()
    songs = Songs(args.data, device, last=1_000_000, hours=args.hours / world, part=(rank, world))
    while songs.count < args.wait // world:
        time.sleep(2)
        songs.more(1 << 30)
    LOG.info(
        "%d songs, %.1f h, %d parameters, %d at work, after %.0f s",
        songs.count,
        songs.frames / 180_000,
        sum(p.numel() for p in net.parameters()),
        world,
        time.perf_counter() - began,
    )
    learn(args, net, songs, device, rank, world, began)
    if world > 1:
        distributed.destroy_process_group()


def started(path: Path, device: str) -> dict[str, Tensor]:
    """Return weights to go on from: a file of torch, or the one that the package has."""
    if path.suffix == ".npz":
        with np.load(path) as z:
            return {
                n: torch.from_numpy(z[n].astype(np.float32)).to(device) for n in z.files if z[n].dtype == np.float16
            }
    state = torch.load(path, map_location=device, weights_only=True)["state"]
    return {k: v.float() for k, v in state.items()}


def learn(
    args: argparse.Namespace, net: torch.nn.Module, songs: Songs, device: str, rank: int, world: int, began: float
) -> None:
    """Take step after step until the time, or the number of steps, is over."""
    held = Songs(args.data, device, first=1_000_000, last=2_000_000, hours=8) if rank == 0 else None
    best = torch.optim.AdamW(net.parameters(), lr=args.rate, weight_decay=0.02, betas=(0.9, 0.98))
    mean = torch.optim.swa_utils.AveragedModel(net, multi_avg_fn=torch.optim.swa_utils.get_ema_multi_avg_fn(args.keep))
    quick = torch.compile(net) if args.compile else net
    kind = device.split(":", maxsplit=1)[0]
    step, share = 0, 0.0

    def kept(losses: Tensor) -> None:
        if held is not None:
            held.more(1 << 30)
            report(mean.module, held, device, step, time.perf_counter() - began, losses)
            recipe = {"seed": args.seed, "songs": songs.count * world, "hours": round(songs.frames / 180_000 * world)}
            saved(args.out, mean.module, steps=step, **recipe)

    while share < 1:
        share = step / args.steps if args.steps else (time.perf_counter() - began) / 60 / args.minutes
        x, target = drawn(songs, args.batch, device)
        with torch.autocast(kind, torch.bfloat16):
            logits = quick(scaled(altered(x)))
        losses = loss_of(logits.float(), target)
        best.zero_grad(set_to_none=True)
        (losses * SHARE.to(device)).sum().backward()
        if world > 1:
            share = together(net, share, device)
        rate = args.rate * min(1, step / args.warm) * (0.5 + 0.5 * float(np.cos(np.pi * min(1, share)))) + 1e-6
        for group in best.param_groups:
            group["lr"] = rate
        torch.nn.utils.clip_grad_norm_(net.parameters(), 1.0)
        best.step()
        mean.update_parameters(net)
        if step % 20 == 0:
            songs.more(2)
        if step % args.every == 0:
            kept(losses)
        step += 1
    kept(losses)
    LOG.info("done: %d steps, %d songs, %.1f h", step, songs.count * world, songs.frames / 180_000 * world)


@torch.no_grad()
def report(net: torch.nn.Module, held: Songs, device: str, step: int, spent: float, losses: Tensor) -> None:
    """Say how training goes: the loss of each head on the batch and on songs kept apart."""
    if held.count == 0:
        return
    net.eval()
    song = torch.arange(min(48, held.count), device=device)
    x, target = held.stretch(song, torch.zeros(len(song), device=device), torch.ones(len(song), device=device), LONG)
    with torch.autocast(device.split(":", maxsplit=1)[0], torch.bfloat16):
        apart = loss_of(net(scaled(x)).float(), target)
    net.train()
    say = " ".join(f"{name} {a:.4f}/{b:.4f}" for name, a, b in zip(HEADS, losses.tolist(), apart.tolist(), strict=True))
    LOG.info("step %d, %.0f s: %s", step, spent, say)


if __name__ == "__main__":
    main()
