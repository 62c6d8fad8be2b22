"""The same steps in the many ways leaders write them: each way of a group is read like the group's plain words.

The groups stand in ``ways/*.txt``. A way behind a "?" is not read alike yet; when it is, its mark must go.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from softshoe.dance.document import dance_json
from softshoe.errors import WordingError
from softshoe.wording.read import read

WAYS = Path(__file__).parent / "ways"
HOME = frozenset(("together", "centre", "in place"))
OF_A_WHOLE_DANCE = frozenset(("free-foot", "walls", "total"))  # a few counts alone need not be a round dance
HEAD = "Test Dance\n1 wall, beginner, 100 bpm, intro 16"


def groups() -> list[tuple[str, bool, str, str]]:
    """Return (file, seated, plain words, way) for every way."""
    out = []
    for path in sorted(WAYS.glob("*.txt")):
        for group in path.read_text(encoding="utf-8").split("\n\n"):
            lines = [line for line in group.splitlines() if line.strip() and not line.startswith("#")]
            for way in lines[1:]:
                out.append((path.stem, lines[0].startswith("S:"), lines[0].removeprefix("S:").strip(), way))
    return out


def answer(words: str, *, seated: bool) -> dict[str, Any]:
    lines = words.replace(" // ", "\n")
    return dance_json(read(f"{HEAD}{', seated' if seated else ''}\n\n{lines}\n"))


def events(told: dict[str, Any]) -> list[tuple[Any, ...]]:
    """What is danced; a foot that comes home is at home in whatever word."""
    out = []
    for e in told["events"]:
        place = "home" if e["action"] == "step" and e["dir"] in HOME else e["dir"]
        out.append((e["t"], e["foot"], e["action"], place, e["turn"], e["weight"]))
    return out


def arms_agree(plain: list[dict[str, Any]], way: list[dict[str, Any]]) -> bool:
    """Places and directions are compared where the plain words name one."""
    return len(plain) == len(way) and all(
        (p["side"], p["gesture"]) == (w["side"], w["gesture"])
        and p["place"] in (None, w["place"])
        and p["toward"] in (None, w["toward"])
        for p, w in zip(plain, way, strict=True)
    )


def alike(plain: str, way: str, *, seated: bool) -> bool:
    want = answer(plain, seated=seated)
    try:
        got = answer(way, seated=seated)
    except WordingError:
        return False
    accused = [f for f in got["findings"] if f["severity"] == "error" and f["kind"] not in OF_A_WHOLE_DANCE]
    return (
        not accused
        and events(want) == events(got)
        and all(arms_agree(p["arms"], w["arms"]) for p, w in zip(want["events"], got["events"], strict=True))
    )


@pytest.mark.parametrize(("where", "seated", "plain", "way"), groups())
def test_a_way_of_saying_is_read_like_the_plain_words(where: str, seated: bool, plain: str, way: str) -> None:
    not_yet = way.startswith("?")
    assert alike(plain, way.removeprefix("?").strip(), seated=seated) != not_yet, (
        f"{where}: read alike now, take the mark off: {way}" if not_yet else f"{where}: {way!r} is not {plain!r}"
    )


@pytest.mark.parametrize("plain", sorted({(seated, plain) for _, seated, plain, _ in groups()}))
def test_the_plain_words_are_read_without_a_finding_of_their_own(plain: tuple[bool, str]) -> None:
    told = answer(plain[1], seated=plain[0])
    assert [f for f in told["findings"] if f["severity"] != "note" and f["kind"] not in OF_A_WHOLE_DANCE] == []
