"""Facings told as a bare hour: "25-32: R forward, hold, pivot 1/4 L, hold (9); stomp R, stomp L"."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.counting import is_mark, label_at

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.lex import Token

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
