"""Words are kept for the next time they are read: that changes nothing, wherever they stand then."""

from __future__ import annotations

import random
from dataclasses import fields, replace
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from softshoe.wording.items import items_of
from softshoe.wording.kept import read_words
from softshoe.wording.parts import Item
from softshoe.wording.phrases import NOTHING
from softshoe.wording.read import reading
from softshoe.wording.sections_kept import SECTIONS, Sections
from softshoe.wording.source import sheet_text

if TYPE_CHECKING:
    from softshoe.dance.action import Action
    from softshoe.dance.arms import ArmMove

SHEETS = sorted((Path(__file__).parents[1] / "sheets").glob("*/*.txt"))[::7]
MANY = sorted((Path(__file__).parents[1] / "sheets").glob("*/*.txt"))[1::6]
HEAD = "Two Lamps\n16 counts, 4 walls\n"
CLOSING = "5-8 Step right forward, pivot 1/2 left, step right forward, {}\n"
OPEN = "Section {}\n1-2 Step forward, touch beside\n3-4 Rock back, recover\n"
DOWN = 3  # blank lines above the sheet


@pytest.mark.parametrize("path", SHEETS, ids=lambda p: p.stem)
def test_a_sheet_read_again_is_told_in_the_same_words(path: Path) -> None:
    text = sheet_text(path)
    assert repr(reading(text)) == repr(reading(text))


@pytest.mark.parametrize("path", SHEETS, ids=lambda p: p.stem)
def test_a_sheet_further_down_the_page_is_the_same_and_keeps_its_places(path: Path) -> None:
    text = sheet_text(path)
    above, below = reading(text), reading("\n" * DOWN + text)
    expected = list(map(_down, above.dance.actions))
    assert list(below.dance.actions) == expected
    assert [_places(action) for action in below.dance.actions] == [_places(action) for action in expected]
    assert [f.message for f in below.dance.findings] == [f.message for f in above.dance.findings]


def _places(action: Action) -> tuple[object, ...]:
    return action.line, action.span, [arm.span for arm in action.arms]


def _down(action: Action) -> Action:
    """The action as many lines further down."""
    arms = tuple(replace(arm, span=_moved(arm)) for arm in action.arms)
    span = action.span and (action.span[0] + DOWN, action.span[1] + DOWN)
    return replace(action, line=action.line + DOWN, span=span, arms=arms)


def _moved(arm: ArmMove) -> tuple[int, int] | None:
    return arm.span and (arm.span[0] + DOWN, arm.span[1] + DOWN)


def test_what_is_given_out_is_not_given_out_twice() -> None:
    (item,) = items_of("1-4 Vine right with a touch", line=1, offset=0)
    one, two = (read_words(item, NOTHING)[0] for _ in range(2))
    one.atoms[0].choices.clear()
    one.tokens.clear()
    assert two.atoms[0].choices
    assert two.tokens == read_words(item, NOTHING)[0].tokens


def test_sheets_in_any_order_are_the_same_where_nothing_is_kept_and_where_much_is() -> None:
    texts = [sheet_text(path) for path in MANY]
    first = []
    for text in texts:
        SECTIONS.clear()
        first.append(repr(reading(text)))
    order = list(range(len(texts)))
    random.Random(7).shuffle(order)
    for i in [*order, *reversed(order)]:
        assert repr(reading(texts[i])) == first[i]


@pytest.mark.parametrize("closing", ["step left together", "touch left together", "stomp left, hold"])
def test_the_same_words_behind_another_step_are_danced_with_the_foot_that_is_free(closing: str) -> None:
    first = "Section 1\n1-4 Vine right with a touch\n" + CLOSING.format(closing)
    text = HEAD + first + OPEN.format(2) + OPEN.format(3)
    SECTIONS.clear()
    fresh = repr(reading(text).dance)
    reading(HEAD + OPEN.format(1) + OPEN.format(2))
    assert repr(reading(text).dance) == fresh


def test_what_is_danced_again_is_what_stands_above_in_this_sheet() -> None:
    again = "Section 2\n1-8 Repeat section 1\n"
    one, other = (
        reading(HEAD + f"Section 1\n1-8 {words}\n" + again).dance
        for words in ("Walk right, left, right, left, right, left, right, left", "March in place eight times")
    )
    for dance in (one, other):
        above, below = dance.actions[:8], dance.actions[8:]
        assert [(a.foot, a.verb, a.dir) for a in below] == [(a.foot, a.verb, a.dir) for a in above]
    assert one.actions[8:] != other.actions[8:]


def test_a_facing_is_compared_with_the_turns_of_this_sheet() -> None:
    faces = "Section 2\n1-8 Walk right, left, right, left, right, left, right, left (3:00)\n"
    first = "Section 1\n1-7 Walk right, left, right, left, right, left, right\n8 {}\n"
    right = reading(HEAD + first.format("Step left forward turning 1/4 right") + faces).dance
    wrong = reading(HEAD + first.format("Step left forward") + faces).dance
    told = [[f.message for f in dance.findings if f.kind == "facing"] for dance in (right, wrong)]
    assert told[0] == []
    assert told[1]


def test_no_more_sections_are_kept_than_it_is_made_for(monkeypatch: pytest.MonkeyPatch) -> None:
    few = Sections(most=4)
    monkeypatch.setattr("softshoe.wording.sections_kept.SECTIONS", few)
    for n in range(9):
        reading(HEAD + "Section 1\n1-8 " + ", ".join(["kick right"] * n + ["stomp right"] * (8 - n)) + "\n")
        assert sum(map(len, few.rows.values())) == few.number <= 4


def test_all_that_an_item_is_made_of_tells_its_section_from_others() -> None:
    told = {"label", "tokens", "line", "limb", "stopped", "heads", "remark", "given"}  # by which a section is known
    found = {"atoms", "repeat", "unknown", "asides", "talk", "strange", "leading"}  # when its words are read
    assert {field.name for field in fields(Item)} == told | found
