"""Dance time is exact: moments, spans and the labels a leader writes."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from softshoe.dance.counts import SIGNS, Count, Counts

exact = st.fractions(min_value=0, max_value=500, max_denominator=48)


@pytest.mark.parametrize(
    ("moment", "label"),
    [
        ("0", "1"),
        ("1/2", "1&"),
        ("3/4", "1a"),
        ("1/4", "1e"),
        ("7", "8"),
        ("15/2", "8&"),
        ("-1/2", "0&"),
        ("1/3", "1 1/3"),
    ],
)
def test_a_moment_counted_from_0_is_labelled_as_a_leader_counts(moment: str, label: str) -> None:
    assert Count.at_moment(moment).label == label


def test_thirds_of_a_count_add_up_to_the_next_count_and_do_not_drift() -> None:
    third = Counts(Fraction(1, 3))
    at = Count(Fraction(1))
    for _ in range(3 * 512):
        at = at + third
    assert at == Count(Fraction(513))


@given(exact, exact)
def test_what_lies_between_two_moments_leads_from_one_to_the_other(a: Fraction, b: Fraction) -> None:
    earlier, later = Count(a), Count(b)
    assert earlier + (later - earlier) == later


@given(exact)
def test_the_moment_counted_from_0_comes_back_to_the_same_count(at: Fraction) -> None:
    assert Count.at_moment(str(Count(at).moment)) == Count(at)


@given(st.integers(1, 200), st.sampled_from(sorted(SIGNS)))
def test_the_signs_of_a_count_belong_to_that_count(whole: int, sign: str) -> None:
    count = Count(Fraction(whole) + SIGNS[sign])
    assert (count.whole, count.label) == (whole, f"{whole}{sign}")


def test_a_span_taken_several_times_is_that_much_longer() -> None:
    assert Counts(Fraction(1, 2)) * 3 + Counts(Fraction(1, 2)) == Counts(Fraction(2))


def test_e_and_and_a_come_in_that_order_within_a_count() -> None:
    in_order = [Count(Fraction(1)), *(Count(1 + SIGNS[sign]) for sign in ("e", "&", "a")), Count(Fraction(2))]
    assert sorted(in_order) == in_order
