"""What a chair class asks to be danced again: "same with the left", "repeat", "twice"; counts decide what is meant."""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from typing import TYPE_CHECKING

from softshoe.wording.chair_counts import grouped, lengths_of
from softshoe.wording.chair_parts import MIRROR, OWN, Ask, Beat, DeclinedError

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

MOST_ASKED = 4
REACHES = ("all", "line", "sentence", "clause")


def expanded(told: Sequence[Beat | Ask]) -> Iterator[list[Beat]]:
    """Yield the beats with what is asked again danced again, in every way in which that can be meant."""
    asks = sum(isinstance(one, Ask) for one in told)
    if asks > MOST_ASKED:
        raise DeclinedError("asks too often")
    for choice in product(REACHES, repeat=asks):
        out = _done(told, list(choice))
        if out is not None:
            yield out


def _done(told: Sequence[Beat | Ask], reaches: list[str]) -> list[Beat] | None:
    out: list[Beat] = []
    for one in told:
        if isinstance(one, Beat):
            out.append(one)
            continue
        copy = _copied(out, one, reaches.pop(0))
        if copy is None:
            return None
        out += copy
    return out


def _taken(out: Sequence[Beat], reach: str) -> list[Beat]:
    """Return the beats that are meant."""
    last = out[-1]
    if reach == "line":
        return [b for b in out if b.line == last.line]
    if reach == "sentence":
        return [b for b in out if b.sentence == last.sentence and b.line == last.line]
    return [*out] if reach == "all" else [last]


def _copied(out: Sequence[Beat], ask: Ask, reach: str) -> list[Beat] | None:
    """Return what is danced again; None where it can't be meant."""
    if not out:
        return None
    taken = _taken(out, reach)
    mirror = _mirrored(taken, ask.side)
    plain = _unlabelled(taken)
    if mirror is None or plain is None:
        return None
    done: list[Beat] = []
    for k in range(ask.times):
        for n, beat in enumerate(plain):
            copy = beat.mirrored() if mirror else beat
            if ask.side == "both":
                copy = replace(copy, hands=tuple(replace(h, side="both") for h in copy.hands))
            label = ask.label if n == 0 and k == 0 else ()
            done.append(replace(copy, label=label, line=ask.line, sentence=ask.sentence, words=ask.words, kind="copy"))
    return done


def _mirrored(taken: Sequence[Beat], side: str) -> bool | None:
    """Return whether the other side does it; None where no side is told that could be the other."""
    if side not in (*OWN, "other"):
        return False
    lead = next((h.side for b in taken for h in b.hands if h.side in OWN), "")
    lead = lead or next((f.foot for b in taken for f in b.feet), "")
    if lead:
        return side in ("other", *(s for s in OWN if s != lead))
    ways = [h.way for b in taken for h in b.hands if h.way in MIRROR]
    return (side == "other" or OWN[side] != ways[0]) if ways else None


def _unlabelled(taken: list[Beat]) -> list[Beat] | None:
    """Return the beats with lengths in the place of labels."""
    if not any(b.label for b in taken):
        return taken
    out: list[Beat] = []
    for group in grouped(taken):
        own = [b for b in group if b.kind != "label"]
        lengths = lengths_of(own, len(group[0].label), 0, lone="length")
        if lengths is None:
            return None
        out += [replace(b, label=(), length=n, nums=()) for b, n in zip(own, lengths, strict=True)]
    return out or None
