"""Two ways to say one thing read to equal events: what a leader may write, and the plain words it stands for.

Everything is compared but the line. ``loosely``: a foot that comes home is at home in whatever word, the facing is left
out, and a hand's place and way count where the plain words name them.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from softshoe.dance.document import dance_json
from softshoe.wording.read import read

HEAD = "Probe\n16 intro, start with the right foot\n\n"
HOME = frozenset(("together", "centre", "in place"))
Told = dict[str, Any]  # a dance or one of its events, as the dance events tell them


def answer(body: str, head: str = HEAD) -> Told:
    return dance_json(read(head + body + "\n"))


def events(got: Told) -> list[Told]:
    """The events in order of time."""
    return sorted(got["events"], key=lambda event: (Fraction(event["t"]), str(event["foot"])))


def errors(got: Told) -> list[tuple[str, int | None]]:
    return [(f["kind"], f["line"]) for f in got["findings"] if f["severity"] == "error"]


def same(plain: Told, way: Told, *, loosely: bool = False) -> bool:
    """Return whether both dances hold the same events."""
    one, two = events(plain), events(way)
    agree = _loosely if loosely else _wholly
    return len(one) == len(two) and all(map(agree, one, two))


def _wholly(plain: Told, way: Told) -> bool:
    return plain | {"line": 0} == way | {"line": 0}


def _loosely(plain: Told, way: Told) -> bool:
    feet = [[_place(e), *(e[part] for part in ("t", "foot", "action", "turn", "weight"))] for e in (plain, way)]
    return feet[0] == feet[1] and len(plain["arms"]) == len(way["arms"]) and all(map(_hand, plain["arms"], way["arms"]))


def _place(event: Told) -> str | None:
    return "home" if event["action"] == "step" and event["dir"] in HOME else event["dir"]


def _hand(plain: Told, way: Told) -> bool:
    named = all(plain[part] in (None, way[part]) for part in ("place", "toward"))
    return named and (plain["side"], plain["gesture"]) == (way["side"], way["gesture"])


def reads_as(words: str, plain: str, head: str = HEAD) -> None:
    """Hold that both bodies give equal events, sections of equal length and the same errors (a part has some)."""
    one, two = answer(words, head), answer(plain, head)
    assert same(two, one), words
    assert [s["counts"] for s in one["sections"]] == [s["counts"] for s in two["sections"]], words
    assert [kind for kind, _ in errors(one)] == [kind for kind, _ in errors(two)], words
