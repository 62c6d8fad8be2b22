"""Every stroke is kept, nothing is ever taken away, and two windows lose nothing to each other."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from softshoe.studio.drafts import Draft, splice
from softshoe.studio.failing import MissingError

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture
def draft(tmp_path: Path) -> Draft:
    return Draft(tmp_path / "draft.jsonl")


def again(draft: Draft) -> Draft:
    """The same draft as another program reads it."""
    return Draft(draft.path)


def test_what_was_written_is_there_for_another_program(draft: Draft) -> None:
    n = draft.write("a", "vine right", made_from=0)
    draft.write("a", "vine left", made_from=n)
    assert again(draft).words() == "vine left"


def test_back_and_on_lead_through_every_stroke_also_after_a_restart(draft: Draft) -> None:
    at = 0
    for words in ("one", "one two", "one two three"):
        at = draft.write("a", words, made_from=at)
    second = again(draft)
    seen = []
    for back in (True, True, True, True, False, False, False, False):
        at = second.go("a", at=at, back=back)
        seen.append(second.words(at))
    assert seen == ["one two", "one", "", "", "one", "one two", "one two three", "one two three"]


def test_writing_after_going_back_takes_nothing_away(draft: Draft) -> None:
    first = draft.write("a", "one", made_from=0)
    second = draft.write("a", "one two", made_from=first)
    draft.go("a", at=second, back=True)
    draft.write("a", "one three", made_from=first)
    assert draft.words() == "one three"
    assert draft.words(second) == "one two"
    assert not draft.beside("a", draft.tip)


def test_two_windows_that_wrote_from_one_stroke_are_both_kept(draft: Draft) -> None:
    first = draft.write("a", "one", made_from=0)
    mine = draft.write("a", "one mine", made_from=first)
    theirs = draft.write("b", "one theirs", made_from=first)
    assert draft.words(draft.beside("a", mine)) == "one theirs"
    assert draft.words(draft.beside("b", theirs)) == "one mine"
    settled = draft.write("a", "one mine theirs", made_from=mine, also=theirs)
    assert not draft.beside("a", settled)
    assert draft.goes_on(theirs, settled)
    assert draft.beside("b", theirs) == settled


def test_a_stroke_that_is_sent_again_is_one_stroke(draft: Draft) -> None:
    first = draft.write("one", "walk", made_from=0, first=True)
    second = draft.write("one", "walk, clap", made_from=first)
    assert draft.write("one", "walk, clap", made_from=first) == second
    assert len(draft.strokes) == 2
    other = draft.write("two", "walk, clap", made_from=first)
    assert other != second, "another window's stroke is another's"


def test_words_that_were_left_and_are_written_again_are_a_stroke_of_their_own(draft: Draft) -> None:
    first = draft.write("one", "walk", made_from=0, first=True)
    second = draft.write("one", "walk, clap", made_from=first)
    third = draft.write("one", "walk", made_from=second)
    assert draft.write("one", "walk, clap", made_from=third) not in (first, second, third)


def test_a_line_that_a_crash_left_half_written_is_passed_over(draft: Draft) -> None:
    n = draft.write("a", "one", made_from=0)
    with draft.path.open("ab") as file:
        file.write(b'{"from":1,"window":"a","at":3,"cu')
    other = again(draft)
    assert other.words() == "one"
    other.write("a", "one two", made_from=n)
    assert again(draft).words() == "one two"


def test_what_another_program_wrote_meanwhile_is_seen(draft: Draft) -> None:
    other = again(draft)
    n = other.write("b", "theirs", made_from=0)
    assert draft.words() == "theirs"
    assert draft.write("a", "theirs and mine", made_from=n) == n + 1


def test_a_stroke_that_never_was_is_told(draft: Draft) -> None:
    with pytest.raises(MissingError):
        draft.write("a", "one", made_from=7)


@given(st.text(alphabet="ab\né", max_size=12), st.text(alphabet="ab\né", max_size=12))
def test_a_splice_makes_one_text_of_the_other(before: str, after: str) -> None:
    at, cut, put = splice(before, after)
    assert before[:at] + put + before[at + cut :] == after


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=25)
@given(steps=st.lists(st.tuples(st.sampled_from("ab"), st.text(alphabet="xy\n", max_size=6)), max_size=12))
def test_every_stroke_can_be_read_again_whoever_wrote_it(tmp_path: Path, steps: list[tuple[str, str]]) -> None:
    path = tmp_path / "many.jsonl"
    path.unlink(missing_ok=True)
    draft, stands, said = Draft(path), {"a": 0, "b": 0}, {0: ""}
    for window, words in steps:
        stands[window] = draft.write(window, words, made_from=stands[window])
        said[stands[window]] = words
    fresh = Draft(path)
    assert {n: fresh.words(n) for n in said} == said
