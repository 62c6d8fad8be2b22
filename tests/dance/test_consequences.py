"""What only follows from another finding is left out; two slips that have nothing to do with each other are told."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from softshoe.dance.checks import findings_of
from softshoe.dance.checks.consequences import NEAR_LINES, told_once
from softshoe.dance.counts import Count, Counts
from softshoe.dance.dance import Section
from softshoe.errors import Finding

from .steps_made import made

TWO = made("1 R step forward; 2 L step forward", counts=2)
SECTIONS = tuple(Section(k + 1, Count(Fraction(8 * k + 1)), Counts(Fraction(8)), line=5 + 10 * k) for k in range(2))


def error(kind: str, line: int | None, count: str | None = None) -> Finding:
    return Finding("error", kind, line, count, f"{kind} on {line}.")


def kept(*findings: Finding, sections: tuple[Section, ...] = SECTIONS) -> list[tuple[str, int | None]]:
    return [(f.kind, f.line) for f in told_once(findings, replace(TWO, sections=sections))]


@pytest.mark.parametrize("cause", ["count-missing", "count-twice", "steps-per-count", "section-length", "word"])
@pytest.mark.parametrize("sum_kind", ["walls", "free-foot", "side"])
def test_sums_over_the_dance_wait_until_a_lost_line_is_mended(cause: str, sum_kind: str) -> None:
    assert kept(error(sum_kind, 2), error(cause, 9)) == [(cause, 9)]
    assert kept(error(sum_kind, 2)) == [(sum_kind, 2)]


def test_a_facing_behind_a_lost_line_is_left_out_and_one_above_it_is_told() -> None:
    assert kept(error("count-missing", 9), error("facing", 12)) == [("count-missing", 9)]
    assert kept(error("facing", 7), error("count-missing", 9)) == [("facing", 7), ("count-missing", 9)]
    assert kept(error("steps-per-count", 9), error("facing", 9)) == [("steps-per-count", 9)]


def test_the_first_clash_behind_a_lost_line_is_left_out_the_second_is_told() -> None:
    far = error("weight", 40, "30"), error("weight", 60, "50")
    assert kept(error("section-length", 9), *far) == [("section-length", 9), ("weight", 60)]
    assert kept(error("weight", 5), error("section-length", 9)) == [("weight", 5), ("section-length", 9)]


def test_clashes_near_a_lost_line_are_its_own() -> None:
    near = error("weight", 9), error("weight", 9 + NEAR_LINES)
    assert kept(error("word", 9), *near) == [("word", 9)]
    beyond = error("weight", 10), error("weight", 10 + NEAR_LINES)
    assert kept(error("word", 9), *beyond) == [("word", 9)]
    twice = error("weight", 9 + NEAR_LINES + 1), error("weight", 9 + NEAR_LINES + 9)
    assert kept(error("word", 9), *twice) == [("word", 9), ("weight", 9 + NEAR_LINES + 9)]


def test_a_warning_for_a_misspelled_word_costs_nothing_but_its_own_line() -> None:
    warning = Finding("warning", "word", 9, None, "word.")
    assert kept(warning, error("direction-missing", 9), error("direction-missing", 10)) == [
        ("word", 9), ("direction-missing", 10),
    ]  # fmt: skip
    assert kept(warning, error("weight", 40)) == [("word", 9), ("weight", 40)]
    assert kept(warning, error("facing", 12), error("walls", 2)) == [("word", 9), ("facing", 12)]


def test_one_kind_is_told_once_a_line() -> None:
    assert kept(error("direction-missing", 9), error("direction-missing", 9)) == [("direction-missing", 9)]
    assert kept(error("not-a-sheet", None), error("not-a-sheet", None)) == [("not-a-sheet", None)] * 2


def test_notes_and_warnings_are_all_kept() -> None:
    note = Finding("note", "not-stated", None, None, "note.")
    assert kept(note, note, error("count-missing", 9)) == [("not-stated", None)] * 2 + [("count-missing", 9)]


def test_what_follows_within_a_section_is_told_in_another() -> None:
    twice = error("count-twice", 7)
    assert kept(twice, error("count-twice", 8), error("count-missing", 9), error("section-length", 5)) == [
        ("count-twice", 7)
    ]
    assert kept(twice, error("count-twice", 17)) == [("count-twice", 7), ("count-twice", 17)]
    assert kept(twice, error("arms", 9), error("arms", 19)) == [("count-twice", 7), ("arms", 19)]


def test_a_cause_that_is_itself_left_out_hides_nothing() -> None:
    heading = error("section-number", 15)
    assert kept(heading, error("count-missing", 16), error("section-length", 15)) == [("section-number", 15)]


def test_the_order_of_the_findings_stays() -> None:
    a, b = error("promise", 2), error("weight", 9)
    assert kept(b, a) == [("weight", 9), ("promise", 2)]


def test_the_total_comes_before_what_is_counted_with_it() -> None:
    assert kept(error("walls", 2), error("free-foot", 30), error("total", 2), error("place", 3)) == [("total", 2)]


def test_all_checks_run_and_what_was_told_before_comes_first() -> None:
    before = error("count-missing", 1)
    found = findings_of(made("1 R step forward; 2 R step left"), {"walls": 1, "counts": 1}, [before])
    assert found[0] is before
    assert [f.kind for f in findings_of(made("1 R step forward; 2 R step forward"), {"walls": 1, "counts": 1})] == [
        "weight"
    ]
    assert [f.kind for f in findings_of(made("1 R step forward"))] == ["free-foot", "not-stated"]
