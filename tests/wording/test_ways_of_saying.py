"""The same steps in the many ways leaders write them: each way of a group is read like the group's plain words.

The groups stand in ``ways/*.txt``. A way behind a "?" is not read alike yet; when it is, its mark must go.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from softshoe.errors import WordingError

from .saying import Told, answer, errors, same

WAYS = Path(__file__).parent / "ways"
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


def told(words: str, *, seated: bool) -> Told:
    return answer(words.replace(" // ", "\n"), f"{HEAD}{', seated' if seated else ''}\n\n")


def alike(plain: str, way: str, *, seated: bool) -> bool:
    try:
        got = told(way, seated=seated)
    except WordingError:
        return False
    accused = [kind for kind, _ in errors(got) if kind not in OF_A_WHOLE_DANCE]
    return not accused and same(told(plain, seated=seated), got, loosely=True)


@pytest.mark.parametrize(("where", "seated", "plain", "way"), groups())
def test_a_way_of_saying_is_read_like_the_plain_words(where: str, seated: bool, plain: str, way: str) -> None:
    not_yet = way.startswith("?")
    assert alike(plain, way.removeprefix("?").strip(), seated=seated) != not_yet, (
        f"{where}: read alike now, take the mark off: {way}" if not_yet else f"{where}: {way!r} is not {plain!r}"
    )


@pytest.mark.parametrize("plain", sorted({(seated, plain) for _, seated, plain, _ in groups()}))
def test_the_plain_words_are_read_without_a_finding_of_their_own(plain: tuple[bool, str]) -> None:
    got = told(plain[1], seated=plain[0])
    assert [f for f in got["findings"] if f["severity"] != "note" and f["kind"] not in OF_A_WHOLE_DANCE] == []
