"""Sections and the end of a wall."""

from __future__ import annotations

from fractions import Fraction

import pytest

from softshoe.dance.counts import Count, Counts
from softshoe.dance.dance import Dance, Section
from softshoe.dance.feet import Weight

EIGHT = Counts(Fraction(8))
TWO_EIGHTS = Dance(
    "Tin Kettle", 16, 1, None, seated=False, metre="4/4", tempo_bpm=None, intro_counts=None, start_weight=Weight.LEFT,
    sections=(Section(1, Count(Fraction(1)), EIGHT), Section(2, Count(Fraction(9)), EIGHT)), actions=(),
)  # fmt: skip


@pytest.mark.parametrize(
    ("moment", "number"),
    [("0", 1), ("7", 1), ("13/2", 1), ("8", 2), ("15", 2), ("31/2", 2), ("15/2", 2), ("-1/2", 1)],
)
def test_a_count_belongs_to_its_section_and_the_and_before_a_section_to_the_one_it_leads_into(
    moment: str, number: int
) -> None:
    section = TWO_EIGHTS.section_at(Count.at_moment(moment))
    assert section is not None
    assert section.number == number


def test_the_count_after_the_last_belongs_to_no_section() -> None:
    assert TWO_EIGHTS.section_at(TWO_EIGHTS.end) is None


def test_a_waltz_is_sectioned_in_sixes_and_everything_else_in_eights() -> None:
    lengths = {metre: Dance("", 0, None, None, False, metre, None, None, Weight.LEFT, (), ()).counts_per_section
               for metre in ("2/4", "3/4", "4/4", "6/8")}  # fmt: skip
    assert lengths == {"2/4": 8, "3/4": 6, "4/4": 8, "6/8": 8}
