"""What the head of a sheet tells, by rules and by the facts network beside them."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from softshoe.dance.document import dance_json
from softshoe.wording import retold
from softshoe.wording.facts_net import CHOICES, MOST_PIECES, net
from softshoe.wording.read import read

from .saying import errors

STEPS = """

Section 1
1-4 Step right forward, touch left beside right, step left back, touch right beside left
5-8 Repeat 1-4
"""


@pytest.fixture(autouse=True)
def _heard(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(retold.BY_RULES, "0")


HEADS = [
    (
        "Hello all, this is Paper Boats, for those who never danced before.\n"
        "One eight and one wall, that is all of it. From 92 up to 100 beats a minute; two eights to wait.",
        {"title": "Paper Boats", "level": "absolute beginner", "tempo_bpm": [92, 100], "intro_counts": 16},
    ),
    ("BUTTON TIN / 8ct / 1w / beg / 104\nin 16", {"title": "BUTTON TIN", "tempo_bpm": 104, "intro_counts": 16}),
    (
        "Wool Shop\n8 counts, 1 wall\nfor people who have never danced\nspeed 96, let 8 beats go by",
        {"level": "absolute beginner", "tempo_bpm": 96},
    ),
]


@pytest.mark.parametrize(("head", "facts"), HEADS)
def test_facts_in_words_of_the_leaders_own_are_read(head: str, facts: dict[str, object]) -> None:
    got = dance_json(read(head + STEPS))
    assert {name: got[name] for name in facts} == facts
    assert errors(got) == []


def test_a_length_that_the_steps_do_not_have_is_still_told() -> None:
    got = dance_json(read("Button Tin\n24 counts, 1 wall, beginner, 104 bpm, intro 16" + STEPS))
    assert [kind for kind, *_ in errors(got)] == ["total"]


@pytest.mark.parametrize(
    ("head", "name"),
    [
        ("Plum Street\n8 counts, 1 wall, beginner. Restart on wall 5 after 4 counts", "intro_counts"),
        ("Plum Street\n8c / 1w / intro 8c", "level"),
        ("Plum Street\n8 counts, 1 wall, written in 2016 for page 88", "tempo_bpm"),
    ],
)
def test_what_a_head_does_not_say_is_not_made_up(head: str, name: str) -> None:
    assert dance_json(read(head + STEPS))[name] is None


def test_nobody_sits_who_was_not_told_to() -> None:
    for head in ("Ferry Ticket\n8 counts, one wall, 90 bpm", "Rail\n8 counts, 1 wall, standing behind the chair"):
        assert dance_json(read(head + STEPS))["seated"] is False


def test_a_title_is_not_cut_within_its_words() -> None:
    assert read("A Posy for Aunt Georgina\n8 counts, 1 wall, beginner" + STEPS).title == "A Posy for Aunt Georgina"
    assert read("Willow Bridge Roll\narms only, for wheelchair dancers\n8 counts" + STEPS).title == "Willow Bridge Roll"


def test_numpy_tells_what_the_training_library_told() -> None:
    rows = json.loads((Path(__file__).parent / "facts_example.json").read_text(encoding="utf-8"))
    for row in rows:
        told = net().facts(row["lines"])
        assert {name: told[name].value for name in CHOICES} == {name: row["facts"][name] for name in CHOICES}
        assert min(fact.likely for fact in told.values()) >= 0
        assert max(fact.likely for fact in told.values()) <= 1


def test_a_head_of_any_length_is_bounded() -> None:
    assert net().facts(["word " * MOST_PIECES]) == {}
    assert net().facts([]) == {}
