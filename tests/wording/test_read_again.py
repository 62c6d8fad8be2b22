"""Words are kept for the next time they are read: that changes nothing, wherever they stand then."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from softshoe.wording.items import items_of
from softshoe.wording.kept import read_words
from softshoe.wording.phrases import NOTHING
from softshoe.wording.read import reading
from softshoe.wording.source import sheet_text

if TYPE_CHECKING:
    from softshoe.dance.action import Action
    from softshoe.dance.arms import ArmMove

SHEETS = sorted((Path(__file__).parents[1] / "sheets").glob("*/*.txt"))[::7]
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
