"""Teaches the retelling network.

    python training/retelling/train.py ROWS.jsonl … --talk TALK.txt --out OUT.pt [--minutes 10] [--test NAME=ROWS.jsonl …]

Groups in twenty are kept apart for choosing; tests are only scored.
"""

from __future__ import annotations

import argparse
import json
import math
import random
import time
from pathlib import Path
from typing import Any

import numpy as np
import torch
from ends import CODES, groups_of
from faults import FAULT
from mix import Mixer
from net import READERS, TELLERS, WIDTH, Retelling
from torch.nn import functional as F  # noqa: N812
from torch.utils.data import DataLoader, IterableDataset
from whole import ADDS, BEGINS

from softshoe.wording.retell_codes import ENDS, SECTION
from softshoe.wording.retell_codes import mirrored as mirrored_code
from softshoe.wording.retell_pieces import INSIDE, SHEET, Cutter, split, words_of

MOST_PIECES, MOST_CODES = 768, 400
LOOKING = 0.05  # how much it weighs to look where a section begins
MOST_OF_BATCH = 90_000  # pieces and codes
SAVED = 200  # seconds from one saving to the next
STEP = 16  # lengths are filled up to so many: few shapes, quick ones
START = "start"
Numbers = tuple[list[int], list[int], list[int]]  # pieces, codes, the piece looked at for each code


def rows_of(paths: list[str]) -> list[dict[str, Any]]:
    return [json.loads(line) for path in paths for line in Path(path).read_text(encoding="utf-8").splitlines() if line]


def apart(row: dict[str, Any]) -> bool:
    return sum(map(ord, row["of"])) % 20 == 7


class Drawn(IterableDataset[Any]):
    def __init__(self, mixer: Mixer, cutter: Cutter, codes: dict[str, int], seed: int, size: int) -> None:
        self.mixer, self.cutter, self.codes, self.seed, self.size = mixer, cutter, codes, seed, size

    def __iter__(self):
        info = torch.utils.data.get_worker_info()
        rng = random.Random(self.seed * 1000 + (info.id if info else 0))
        torch.set_num_threads(1)
        loose: dict[str, list[tuple[str, ...]]] = {}
        pool: list[Numbers] = []
        while True:
            fresh: list[Numbers] = []
            while len(fresh) < self.size:
                row = self.mixer.draw(rng)
                if any(c not in self.codes for c in row["codes"]):
                    continue
                x, begins, adds = self.cut(row, rng, loose)
                y = [self.codes[c] for c in row["codes"]]
                if len(x) <= MOST_PIECES and len(y) <= MOST_CODES:
                    fresh.append((x, y, looks(row["codes"], begins, adds)))
            pool = pool[-12 * self.size :] + fresh
            rows = rng.sample(pool, min(len(pool), 4 * self.size))
            rows.sort(key=lambda r: len(r[0]) + len(r[1]))
            batches = batched(rows, self.size)
            rng.shuffle(batches)
            for some in batches:
                yield packed(some, self.codes[START])

    def cut(
        self, row: Any, rng: random.Random, loose: dict[str, list[tuple[str, ...]]]
    ) -> tuple[list[int], list[int], list[int]]:
        """The numbers of a row's pieces, some words in smaller ones than need be; and where sections and tags begin among them."""
        often = rng.choice((0.0, 0.0, 0.1, 0.3))
        out = first_of(row, self.cutter)
        signs: dict[str, list[int]] = {BEGINS: [], ADDS: []}
        for word in words_of(row["text"]):
            if word.text in signs:
                signs[word.text].append(len(out))
                continue
            if len(word.text) < 3 or word.text.startswith(INSIDE) or rng.random() >= often:
                parts = self.cutter.parts(word.text)
            else:
                ways = loose.setdefault(word.text, [])
                if len(ways) < 5:
                    ways.append(split(word.text, self.cutter.ranks, lambda: rng.random() > 0.25))
                parts = rng.choice(ways)
            out += map(self.cutter.number_of, parts)
        return out, signs[BEGINS], signs[ADDS]


def looks(codes: list[str], begins: list[int], adds: list[int]) -> list[int]:
    """For each code the piece to be looked at, -1 where that is left open."""
    ends = sum(map(codes.count, ENDS))
    at = {SECTION: iter(begins if codes.count(SECTION) == len(begins) else [])}
    at |= dict.fromkeys(ENDS, iter(adds if ends == len(adds) else []))
    return [next(at[code], -1) if code in at else -1 for code in codes]


def batched(rows: list[Numbers], size: int) -> list[list[Numbers]]:
    """Rows, in order of length, in batches of about as many pieces and codes; at most ``size`` rows each."""
    out: list[list[Numbers]] = [[]]
    for row in rows:
        if len(out[-1]) >= size or (len(out[-1]) + 1) * (len(row[0]) + len(row[1])) > MOST_OF_BATCH:
            out.append([])
        out[-1].append(row)
    return out


def first_of(row: dict[str, Any], cutter: Cutter) -> list[int]:
    """How the dance is danced, and whether a whole sheet is to be told."""
    names = ["<seated>" if row["seated"] else "<standing>", *([SHEET] if row.get("whole") else [])]
    return [cutter.number[name] for name in names]


def encoded(row: dict[str, Any], cutter: Cutter) -> list[int]:
    return [*first_of(row, cutter), *cutter.numbers(cutter.cut(row["text"].replace(BEGINS, "").replace(ADDS, "")))]


def packed(rows: list[Numbers], start: int) -> tuple[np.ndarray, ...]:
    """Rows as arrays of one size: what is read, what is told, what is looked at, all followed by -1."""
    n, m = (-(-max(len(row[k]) for row in rows) // STEP) * STEP for k in (0, 1))
    x, y, z = (np.full((len(rows), size), -1, np.int16) for size in (n, m + 1, m))
    for k, (a, b, c) in enumerate(rows):
        x[k, : len(a)] = a
        y[k, 0] = start
        y[k, 1 : len(b) + 1] = b
        z[k, : len(c)] = c
    return x, y, z


def as_it_is(arrays: Any) -> Any:
    return arrays


def unpacked(arrays: tuple[np.ndarray, ...], device: str) -> tuple[torch.Tensor, ...]:
    x, y, z = (torch.from_numpy(a).to(device).long() for a in arrays)
    return x.clamp(min=0), x >= 0, y[:, :-1].clamp(min=0), torch.where(y[:, 1:] < 0, -100, y[:, 1:]), z


def missed(looked: torch.Tensor, wanted: torch.Tensor) -> torch.Tensor:
    """How far the network is from looking where sections begin; ``looked`` (rows, codes, pieces)."""
    there = wanted >= 0
    return -looked[there, wanted[there]].clamp(min=1e-5).log().mean() if there.any() else looked.new_zeros(())


@torch.no_grad()
def told(net: Retelling, rows: list[list[int]], start: int, end: int) -> list[tuple[list[int], float]]:
    """Greedy retellings and the likelihood of each."""
    device = next(net.parameters()).device
    order = sorted(range(len(rows)), key=lambda k: len(rows[k]))
    found: dict[int, tuple[list[int], float]] = {}
    for first in range(0, len(order), 256):
        some = order[first : first + 256]
        x, there, *_ = unpacked(packed([(rows[k], [end], [-1]) for k in some], start), str(device))
        seen = net.read(x, there)
        y = torch.full((len(some), 1), start, device=device)
        sure = torch.zeros(len(some), device=device)
        done = torch.zeros(len(some), dtype=torch.bool, device=device)
        for _ in range(MOST_CODES):
            likely = net.tell(y, seen, there)[0][:, -1].float().log_softmax(-1)
            best, one = likely.max(-1)
            sure += torch.where(done, 0.0, best)
            y = torch.cat([y, one[:, None]], 1)
            done |= one == end
            if done.all():
                break
        for k, row, p in zip(some, y.tolist(), sure.tolist(), strict=True):
            row = row[1:]
            found[k] = (row[: row.index(end) + 1] if end in row else row, p)
    return [found[k] for k in range(len(rows))]


def taken(net: Retelling, kept: dict[str, Any], cutter: Cutter, codes: dict[str, int]) -> None:
    """Take weights that were taught before: rows of pieces and codes go to the same pieces and codes."""
    own = net.state_dict()
    for name, value in kept["net"].items():
        value = value.float()
        if name == "pieces.weight":
            for k, piece in enumerate(kept["known"]):
                if piece in cutter.number:
                    own[name][cutter.number[piece]] = value[k]
        elif name in ("codes.weight", "out.weight", "out.bias"):
            for k, code in enumerate(kept["codes"]):
                if code in codes:
                    own[name][codes[code]] = value[k]
        else:
            own[name] = value
    for name, value in own.items():  # layers that were not there pass on what they get
        if name not in kept["net"] and name.endswith((".mix.weight", ".mix.bias", ".back.weight", ".back.bias")):
            value.zero_()
    net.load_state_dict(own)


def scored(
    net: Retelling, rows: list[dict[str, Any]], cutter: Cutter, names: list[str], start: int, end: int
) -> list[dict[str, Any]]:
    net.eval()
    answers = told(net, [encoded(row, cutter)[:MOST_PIECES] for row in rows], start, end)
    net.train()
    return [{**row, "told": [names[c] for c in got], "sure": p} for row, (got, p) in zip(rows, answers, strict=True)]


def right(rows: list[dict[str, Any]]) -> str:
    """How many rows are told right; of whole sheets the sections, and the ends of those that have some."""
    good = sum(sections_in(r["told"]) == sections_in(r["codes"]) for r in rows)
    ended = [r for r in rows if r.get("ends")]
    ends = sum(r["told"][len(sections_in(r["told"])) :] == r["codes"][len(sections_in(r["codes"])) :] for r in ended)
    return f"{good}/{len(rows)} {100 * good / max(1, len(rows)):.1f}%" + (f" ends {ends}/{len(ended)}" if ended else "")


def sections_in(codes: list[str]) -> list[str]:
    return codes[: next((k for k, code in enumerate(codes) if code in (*ENDS, "end")), len(codes))]


def save(out: str, mean: dict[str, torch.Tensor], words: dict[str, Any], names: list[str]) -> None:
    torch.save(
        {"net": mean, "words": words["words"], "joints": words["joints"], "known": words["known"], "codes": names}, out
    )


def main() -> None:
    ask = argparse.ArgumentParser()
    ask.add_argument("rows", nargs="+")
    ask.add_argument("--talk", required=True)
    ask.add_argument("--joints", required=True, help="what joints.py wrote")
    ask.add_argument("--go-on", default="", help="a checkpoint to write, and to go on from where it is there")
    ask.add_argument("--all-minutes", type=float, default=0, help="of all runs together, for the rate's schedule")
    ask.add_argument("--out", required=True)
    ask.add_argument("--minutes", type=float, default=10)
    ask.add_argument("--test", nargs="*", default=[])
    ask.add_argument("--batch", type=int, default=512)
    ask.add_argument("--rate", type=float, default=1.2e-3)
    ask.add_argument("--drop", type=float, default=0.15)
    ask.add_argument("--workers", type=int, default=14)
    ask.add_argument("--start", default="", help="weights to go on from")
    ask.add_argument("--more", nargs="*", default=[], help="SHARE=ROWS.jsonl: rows drawn beside the others")
    ask.add_argument("--whole", default="", help="SHARE=ROWS.jsonl: whole sheets")
    ask.add_argument("--ends", nargs="*", default=[], help="files of ends (ends.py)")
    ask.add_argument("--width", type=int, default=WIDTH)
    ask.add_argument(
        "--layers", default="", help="how many layers read and tell, as 4,3; those that are new pass on what they get"
    )
    ask.add_argument("--all", action="store_true", help="keep nothing apart")
    own = ask.parse_args()
    rows = rows_of(own.rows)
    valid = [r for r in rows if apart(r)]
    more = [
        (float(m.split("=")[0]), [r for r in rows_of([m.split("=")[1]]) if own.all or not apart(r)]) for m in own.more
    ]
    train = rows if own.all else [r for r in rows if not apart(r)]
    whole = None
    if own.whole:
        share, name = own.whole.split("=")
        whole = float(share), rows_of([name])
    talk = [t for t in Path(own.talk).read_text(encoding="utf-8").splitlines() if t.strip()]
    words = json.loads(Path(own.joints).read_text(encoding="utf-8"))
    cutter = Cutter([tuple(pair) for pair in words["joints"]], words["known"])
    names = [
        START,
        FAULT,
        *sorted(
            {c for r in [*train, *(r for _, rs in more for r in rs), *(whole[1] if whole else ())] for c in r["codes"]}
            | {f"c{k}" for k in range(1, 17)}
            | {*(CODES if own.whole else ()), "end"}
        ),
    ]
    names = [START, FAULT, *sorted({*names[2:], *(mirrored_code(c) for c in names[2:])})]
    codes = {name: k for k, name in enumerate(names)}
    start, end = codes[START], codes["end"]
    print(
        len(train),
        "rows to learn,",
        len(valid),
        "apart;",
        len(cutter.number),
        "pieces,",
        len(names),
        "codes",
        flush=True,
    )
    device = "cuda" if torch.cuda.is_available() else "cpu"
    layers = [int(n) for n in own.layers.split(",")] if own.layers else (READERS, TELLERS)
    net = Retelling(len(cutter.number), len(names), own.drop, *layers, own.width).to(device)
    print(sum(p.numel() for p in net.parameters()) / 1e6, "M weights", flush=True)
    if own.start:
        taken(net, torch.load(own.start, map_location="cpu"), cutter, codes)
    mean = {k: v.detach().clone().float() for k, v in net.state_dict().items()}
    opt = torch.optim.AdamW(net.parameters(), lr=own.rate, betas=(0.9, 0.98), weight_decay=0.05, fused=device == "cuda")
    torch.backends.cuda.enable_cudnn_sdp(enabled=False)  # it makes a plan for each shape, and shapes are many
    ends = [group for name in own.ends for group in groups_of(Path(name))]
    loader = DataLoader(Drawn(Mixer(train, talk, more, whole, ends), cutter, codes, int(time.time()), own.batch), batch_size=None,
                        num_workers=own.workers, prefetch_factor=4, collate_fn=as_it_is)  # fmt: skip
    step, loss_mean, before, waited = 0, 0.0, 0.0, 0.0
    if own.go_on and Path(own.go_on).is_file():
        kept = torch.load(own.go_on, map_location=device)
        net.load_state_dict(kept["net"])
        opt.load_state_dict(kept["opt"])
        mean, step, before = kept["mean"], kept["step"], kept["seconds"]
    began = shown = last = saved = time.time()
    whole = 60 * (own.all_minutes or own.minutes)
    tests = {t.split("=")[0]: rows_of([t.split("=")[1]]) for t in own.test}
    looked = 0.0
    for arrays in loader:
        now = time.time()
        waited += now - last
        share = (before + now - began) / whole
        if now - began >= 60 * own.minutes:
            break
        for group in opt.param_groups:
            group["lr"] = own.rate * min(1, (step + 1) / 400) * 0.5 * (1 + math.cos(math.pi * share))
        x, there, y, want, look = unpacked(arrays, device)
        with torch.autocast(device, torch.bfloat16):
            out, attended = net(x, there, y)
        loss = F.cross_entropy(out.float().flatten(0, 1), want.flatten(), ignore_index=-100, label_smoothing=0.02)
        loss = loss + LOOKING * missed(attended.float(), look)
        opt.zero_grad(set_to_none=True)
        loss.backward()
        torch.nn.utils.clip_grad_norm_(net.parameters(), 1.0)
        opt.step()
        step += 1
        keep = min(0.995, 1 - 1 / (step // 4 + 1))
        with torch.no_grad():
            if step % 4 == 0:
                torch._foreach_lerp_(list(mean.values()), list(net.state_dict().values()), 1 - keep)
        if step % 100 == 0:
            loss_mean = loss.item() if not loss_mean else 0.7 * loss_mean + 0.3 * loss.item()
        if time.time() - shown > 20:
            shown = time.time()
            print(
                f"{shown - began:.0f} s, step {step}, loss {loss_mean:.3f}, waited {waited:.0f} s for rows", flush=True
            )
        if time.time() - saved > SAVED:
            saved = time.time()
            save(own.out, mean, words, names)
        last = time.time()
        if share > looked + 0.5:
            looked = share
            now = {k: v.clone() for k, v in net.state_dict().items()}
            net.load_state_dict(mean)
            print(
                *(
                    f"{n}: {right(scored(net, rs[:800], cutter, names, start, end))}"
                    for n, rs in {"apart": valid, **tests}.items()
                ),
                flush=True,
            )
            net.load_state_dict(now)
    if own.go_on:
        torch.save({"net": net.state_dict(), "opt": opt.state_dict(), "mean": mean, "step": step,
                    "seconds": before + time.time() - began}, own.go_on)  # fmt: skip
    net.load_state_dict(mean)
    torch.save(
        {"net": {k: v.half() for k, v in mean.items()}, "known": words["known"], "codes": names},
        Path(own.out).with_suffix(".half.pt"),
    )
    save(own.out, mean, words, names)
    for name, rs in {"apart": valid, **tests}.items():
        answers = scored(net, rs, cutter, names, start, end)
        print("END", name, right(answers), flush=True)
        Path(own.out).with_suffix(f".{name}.jsonl").write_text("\n".join(json.dumps(a) for a in answers))


if __name__ == "__main__":
    main()
