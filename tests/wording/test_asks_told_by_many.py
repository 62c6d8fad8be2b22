"""Sections that ask for others with something other, in the words of many leaders: told rightly, or not at all.

Each block of ``asks``: whether it is danced seated (D), the plain words of its sections (P), how each is headed and
told (H, C), and the words of the last one (L; ``L?`` where they are not understood yet).
"""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import pytest

from softshoe.wording.asks_names import Above
from softshoe.wording.asks_plan import plans
from softshoe.wording.asks_step import stepper
from softshoe.wording.read import read
from softshoe.wording.retell_codes import codes_of, events_of
from softshoe.wording.retell_weigh import alike, events_in
from softshoe.wording.whole_copies import danced_as

if TYPE_CHECKING:
    from collections.abc import Iterator

HERE = Path(__file__).parent / "asks"


class Block(NamedTuple):
    name: str
    seated: bool
    plain: tuple[str, ...]
    told: tuple[str, ...]  # the sections above, with their headings
    asks: str
    yet: bool


def blocks() -> Iterator[Block]:
    for path in sorted(HERE.glob("*.txt")):
        yield from blocks_in(path)


def blocks_in(path: Path) -> Iterator[Block]:
    for number, text in enumerate(re.split(r"(?m)^===\s*$", path.read_text(encoding="utf-8"))):
        rows = [line.split("|", 1) for line in text.strip().splitlines()]
        plain = tuple(words.strip() for mark, words in rows if mark == "P")
        asked = "\n".join(words.strip() for mark, words in rows if mark.startswith("L"))
        told: list[str] = []
        for mark, words in rows:
            if mark == "H":
                told.append(words.strip())
            elif mark == "C":
                told[-1] += f"\n{words.strip()}"
        heading = f"{told[-1]}\n" if len(told) == len(plain) else ""
        yet = any(mark == "L" for mark, _ in rows)
        yield Block(
            f"{path.stem}:{number}",
            ["D", " seated"] in rows,
            plain,
            tuple(told[: len(plain) - 1]),
            heading + asked,
            yet,
        )


@cache
def events(plain: str, seated: bool) -> list[dict[str, object]]:
    counts = max(int(n) for n in re.findall(r"(?:^|[,/] )(\d+)(?= )", plain))
    head = f"Kettle\n{counts} counts, 1 wall, beginner{', seated' if seated else ''}{', waltz' if counts == 6 else ''}"
    dance = read(f"{head}\n\nSection 1\n" + plain.replace(" // ", "\n") + "\n")
    return events_in(dance, dance.sections[0])


@pytest.mark.parametrize("block", list(blocks()), ids=lambda block: block.name)
def test_what_many_leaders_ask_is_told_rightly_or_not_at_all(block: Block) -> None:
    *before, last = (events(plain, block.seated) for plain in block.plain)
    codes = [tuple(code for code in codes_of(one) if code != "end") for one in before]
    lengths = [6 if max(int(c[1:]) for c in one if re.fullmatch(r"c\d+", c)) <= 6 else 8 for one in codes]
    above = [
        Above(words, one, sum(lengths[:k]), lengths[k])
        for k, (words, one) in enumerate(zip(block.told, codes, strict=True))
    ]
    plan = next(plans(block.asks, above, stepper(block.seated)), None)
    assert (plan is not None) is block.yet, f"{block.name}: {block.asks!r} is told as {plan}"
    if plan is not None:
        danced = danced_as(plan, codes)
        assert danced is not None
        assert alike(events_of([*danced, "end"]) or [], last), f"{block.name}: {block.asks!r} is told as {plan}"


def test_more_than_a_third_are_told() -> None:
    every = list(blocks())
    assert len(every) > 150
    assert sum(block.yet for block in every) > 0.34 * len(every)
