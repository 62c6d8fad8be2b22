"""Two ways to say one thing read to equal events: what a leader may write, and the plain words it stands for."""

from __future__ import annotations

from typing import Any

from softshoe.dance.document import dance_json
from softshoe.wording.read import read

HEAD = "Probe\n16 intro, start with the right foot\n\n"


def answer(body: str, head: str = HEAD) -> dict[str, Any]:
    return dance_json(read(head + body + "\n"))


def events(got: dict[str, Any]) -> list[dict[str, Any]]:
    """The events without their lines, in order of time; a hand's way counts where both sides tell it."""
    bare = [{k: v for k, v in event.items() if k != "line"} for event in got["events"]]
    return sorted(bare, key=lambda e: (eval_fraction(e["t"]), str(e["foot"])))


def eval_fraction(t: str) -> float:
    over, _, under = t.partition("/")
    return int(over) / int(under or 1)


def errors(got: dict[str, Any]) -> list[tuple[str, int | None]]:
    return [(f["kind"], f["line"]) for f in got["findings"] if f["severity"] == "error"]


def reads_as(words: str, plain: str, head: str = HEAD) -> None:
    """Hold that both bodies give equal events, sections of equal length and the same errors (a part has some)."""
    one, two = answer(words, head), answer(plain, head)
    assert events(one) == events(two), words
    assert [s["counts"] for s in one["sections"]] == [s["counts"] for s in two["sections"]], words
    assert [kind for kind, _ in errors(one)] == [kind for kind, _ in errors(two)], words
