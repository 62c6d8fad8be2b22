"""What changed between two texts is said in counts."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from softshoe.dance.action import Action
from softshoe.dance.counts import Count, Counts
from softshoe.dance.dance import Dance, Ending, Restart, Section, Tag
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.places import Direction
from softshoe.repertoire.difference import differences
from softshoe.wording.read import read

SHEETS = sorted((Path(__file__).parents[1] / "sheets" / "own").glob("*.txt"))
FERRY = read(next(s for s in SHEETS if "ferry" in s.read_text("utf-8").casefold()[:200]).read_text("utf-8"))


def said(before: Dance, after: Dance) -> list[str]:
    return [one.words for one in differences(before, after)]


def mirrored(dance: Dance, first: int, last: int) -> Dance:
    return replace(dance, actions=tuple(a.mirrored if first <= a.at.whole <= last else a for a in dance.actions))


def test_a_restart_and_a_mirrored_stretch_are_told_in_counts() -> None:
    after = replace(mirrored(FERRY, 13, 16), restarts=(Restart((3,), 16),))
    assert said(FERRY, after) == ["counts 13–16 mirrored", "wall 3 now restarts after 16"]


def test_a_restart_that_moves_or_goes_is_told_wall_by_wall() -> None:
    before = replace(FERRY, restarts=(Restart((2, 5), 16),))
    after = replace(FERRY, restarts=(Restart((2,), 24),))
    assert said(before, after) == [
        "wall 2 now restarts after 24, after 16 before",
        "wall 5 no longer restarts (after 16 before)",
    ]


def test_tags_bridges_and_endings_are_told() -> None:
    tag = Tag((2,), 32, 4, "start", ())
    after = replace(FERRY, tags=(tag, Tag((5,), 16, 2, "continue", ())), endings=(Ending("last", 16, 4, 0, ()),))
    assert said(FERRY, after) == [
        "in wall 2 after 32 there is now a tag of 4",
        "in wall 5 after 16 there is now a bridge of 2",
        "the last wall now has an ending after 16",
    ]
    assert said(after, replace(after, tags=(replace(tag, counts=8), after.tags[1]))) == [
        "in wall 2 after 32 the tag is another (4 counts before, 8 now)"
    ]


def test_a_turn_alone_is_told_as_a_turn() -> None:
    after = replace(
        FERRY, actions=tuple(replace(a, turn_deg=-90) if a.at == Count(Fraction(14)) else a for a in FERRY.actions)
    )
    assert said(FERRY, after) == ["count 14: a half turn left, now a quarter turn left"]


def test_sections_that_changed_places_are_told_as_that() -> None:
    from softshoe.fit.changed import made_of

    assert said(replace(FERRY, walls=None), made_of(FERRY, [0, 2, 1, 3])) == ["counts 9–16 and 17–24 exchanged"]


def test_counts_put_in_and_left_out_are_told_with_what_was_danced() -> None:
    from softshoe.fit.changed import made_of

    shorter = made_of(FERRY, [0, 1, 2])
    gone, new = said(replace(FERRY, walls=None), shorter), said(shorter, replace(FERRY, walls=None))
    assert gone[0].startswith("counts 25–32 of before left out (vine left")
    assert new[0].startswith("counts 25–32 added (vine left")
    assert "counts: 24 now, 32 before" in gone


def test_the_words_of_the_header_are_told() -> None:
    after = replace(FERRY, title="Ferry Two", level="beginner", tempo_bpm=(100.0, 112.0), intro_counts=None)
    assert said(FERRY, after) == [
        "title: Ferry Two now, The Ferry Queue before", "level: beginner now, improver before",
        "tempo: 100 to 112 now, 115 before", "intro: not said now, 32 before",
    ]  # fmt: skip


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda p: p.stem)
def test_a_dance_differs_from_itself_in_nothing_and_from_its_mirror_in_one_word(sheet: Path) -> None:
    dance = read(sheet.read_text(encoding="utf-8"))
    assert differences(dance, dance) == ()
    other = replace(dance, actions=tuple(action.mirrored for action in dance.actions))
    told = [one for one in differences(dance, other) if one.kind != "around"]
    assert {one.kind for one in told} <= {"mirrored", "exchanged"}  # two halves that mirror each other change places
    assert told


WAYS = (Direction.LEFT, Direction.RIGHT, Direction.FORWARD, Direction.TOGETHER)
steps = st.tuples(
    st.sampled_from([Foot.LEFT, Foot.RIGHT]), st.sampled_from(["step", "touch", "kick"]), st.sampled_from(WAYS)
)


def made(row: list[tuple[Foot, str, Direction]]) -> Dance:
    actions = tuple(Action(Count(Fraction(n)), foot, verb, way) for n, (foot, verb, way) in enumerate(row, 1))
    section = Section(1, Count(Fraction(1)), Counts(Fraction(len(row))))
    return Dance("T", len(row), 1, None, False, "4/4", None, None, Weight.BOTH, (section,), actions)


@given(st.lists(steps, min_size=1, max_size=12), st.lists(steps, min_size=1, max_size=12))
def test_something_is_told_exactly_where_two_dances_differ(one: list, other: list) -> None:
    before, after = made(one), made(other)
    told = differences(before, after)
    assert bool(told) is (before != after)
    for each in told:
        assert each.words
        if each.counts:
            assert 1 <= each.counts[0] <= each.counts[1] <= after.counts
        if each.was:
            assert 1 <= each.was[0] <= each.was[1] <= before.counts
