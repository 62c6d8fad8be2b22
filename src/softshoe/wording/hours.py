"""Facings told as a bare hour, "pivot 1/4 L, hold (9)", or behind a count, "turn 1/4 R (3) to face 3:00, step L"."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from softshoe.wording.counting import is_mark, label_at

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.lex import Token
    from softshoe.wording.parts import Item

HOURS = ("3", "6", "9", "12")
TURNING = frozenset(("amount", "turnword", "spin"))


def with_hours(tokens: Sequence[Token]) -> list[Token]:
    """Return the words of a line with such hours as clocks: behind a turn, and no count of the line's own range.

    >>> from softshoe.wording.lex import tokens_of
    >>> [t.text for t in with_hours(tokens_of("25-28 pivot 1/4 L, hold (9)", line=0)) if t.kind == "clock"]
    ['9']
    """
    out = list(tokens)
    found = [
        i
        for i in range(2, len(out) - 1)
        if out[i].kind == "num" and out[i].text in HOURS and is_mark(out[i - 1], "([") and is_mark(out[i + 1], ")]")
    ]
    head = label_at(out, 0) if found else None
    if head is None or not head[0].ranged:
        return out
    for i in found:
        turns = any(t.kind in TURNING or t.value == "pivot" for t in out[:i])
        if turns and not head[0].first <= out[i].number <= head[0].last:
            out[i] = out[i]._replace(kind="clock")
    return out


def facings_back(items: list[Item]) -> list[Item]:
    """Let a facing behind a count go with the words before that count: "turn 1/4 R (3) to face 3:00, step L (4)"."""
    for before, item in pairwise(items):
        label = before.label
        if label is None or not before.tokens or label.start < before.tokens[-1].end:
            continue  # its count stands before its words
        n = _leading(item.tokens)
        before.tokens = [*before.tokens, *item.tokens[:n]]
        item.tokens = item.tokens[n:]
    return items


def _leading(words: Sequence[Token]) -> int:
    """Return how many words a facing at the beginning takes, with its brackets and the comma behind it."""
    k = 0
    while k < len(words) and (words[k].kind == "look" or is_mark(words[k], "([")):
        k += 1
    if k == len(words) or words[k].kind != "clock":
        return 0
    k += 1
    while k < len(words) and is_mark(words[k], ")],;"):
        k += 1
    return k if k < len(words) else 0
