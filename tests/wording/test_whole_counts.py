""" "On 5 and 6" names two whole counts; "1 and 2" as a count column is a triple."""

from __future__ import annotations

from importlib.resources import files

import pytest

from softshoe.wording.counting import label_at
from softshoe.wording.lex import tokens_of
from softshoe.wording.read import read


@pytest.mark.parametrize(
    ("words", "places"),
    [
        ("on 7 and 8", ["7", "8"]),
        ("on counts 2 and 3", ["2", "3"]),
        ("counts 5 and 6", ["5", "6"]),
        ("1 and 2 shuffle", ["1", "3/2", "2"]),
        ("1&2 shuffle", ["1", "3/2", "2"]),
    ],
)
def test_and_joins_whole_counts_only_behind_on_or_counts(words: str, places: list[str]) -> None:
    found = label_at(tokens_of(words, line=1), 0)
    assert found is not None
    assert [str(p) for p in found[0].places] == places


def test_the_demo_sheet_claps_and_rolls_on_whole_counts_only() -> None:
    dance = read((files("softshoe") / "data" / "demo" / "sheet.txt").read_text(encoding="utf-8"))
    at = {(str(a.at.at), move.gesture) for a in dance.actions for move in a.arms}
    assert {count for count, gesture in at if gesture == "clap"} == {"15", "16", "32"}
    assert {count for count, gesture in at if gesture == "roll"} == {"29", "30"}
    assert [f for f in dance.findings if f.severity == "error"] == []


def test_a_triple_in_words_keeps_its_half_count() -> None:
    dance = read("Tiny Triple\n16 counts\n1 and 2 Shuffle right, left, right\n3-4 Rock left forward, recover right\n")
    assert [str(a.at.at) for a in dance.actions][:3] == ["1", "3/2", "2"]
