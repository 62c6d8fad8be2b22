"""What the words of sections told whole say beside their steps: hours that nobody faces there, words misspelt."""

# ruff: noqa: E501  (a line a paragraph)

from __future__ import annotations

import pytest

from softshoe.wording import retold
from softshoe.wording.read import read
from softshoe.wording.read_once import by_rules
from softshoe.wording.told_beside import beside_steps
from softshoe.wording.whole_weigh import told_whole


@pytest.fixture(autouse=True)
def _heard(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(retold.BY_RULES, "0")


LETTER = """Larkspur Corner
Dear Ida, here it is in plain sentences.
Sixteen counts and four walls; look to 12 o'clock to begin with. The tune goes at 120 and plays sixteen beats alone.
Step the right to the side and touch the left, step the left to the side and touch the right, and do these four counts twice.
Vine right (side, behind, side) and touch the left beside the right. Then vine left, and on the third step of it turn a quarter to the left; touch the right beside the left. That brings you to 9 o'clock.
"""


def kinds(text: str) -> list[tuple[str, int | None]]:
    return [(f.kind, f.line) for f in read(text).findings if f.severity != "note" and f.kind in ("facing", "word")]


def test_an_hour_that_the_turns_lead_to_is_passed_over() -> None:
    assert kinds(LETTER) == []


@pytest.mark.parametrize("hour", ["3", "6"])
def test_an_hour_that_the_turns_of_a_section_never_lead_to_is_told(hour: str) -> None:
    assert kinds(LETTER.replace("to 9 o'clock", f"to {hour} o'clock")) == [("facing", 5)]


def test_an_hour_on_a_line_without_steps_of_the_section_is_not_held_against_it() -> None:
    tag = "Tag, 4 counts at the end of wall 2 (facing 6:00)\n1 stomp R, 2 stomp L, 3 clap, 4 clap\n"
    assert kinds(LETTER + "\n" + tag) == []


def test_a_step_misspelt_beyond_doubt_is_told_though_it_is_read_as_meant() -> None:
    text = LETTER.replace("touch the left, step", "tocuh the left, step")
    assert kinds(text) == [("word", 4)]
    assert [a.verb for a in read(text).actions] == [a.verb for a in read(LETTER).actions]


def test_sections_that_are_not_danced_one_by_one_as_told_say_nothing() -> None:
    rules = by_rules(LETTER)
    parts = told_whole(LETTER, rules).parts
    assert len(parts) == 2
    assert beside_steps(read(LETTER), parts[:1]) == ()
