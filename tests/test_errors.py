"""Every failure says where, what, why and how to mend it, and crosses to another process whole."""

from __future__ import annotations

import pickle

import pytest

from softshoe import errors
from softshoe.errors import WorkbenchError, nearest

FAMILY = [kind for kind in vars(errors).values() if isinstance(kind, type) and issubclass(kind, WorkbenchError)]
FOUR = ("sheet.txt, line 4", "“shufle” is no step", "no step has that name", "did you mean “shuffle”?")


@pytest.mark.parametrize("kind", FAMILY)
def test_a_failure_prints_its_four_parts_in_order(kind: type[WorkbenchError]) -> None:
    printed = str(kind(*FOUR))
    places = [printed.index(part) for part in FOUR]
    assert places == sorted(places)


@pytest.mark.parametrize("kind", FAMILY)
def test_a_failure_crosses_process_borders_whole(kind: type[WorkbenchError]) -> None:
    back = pickle.loads(pickle.dumps(kind(*FOUR)))
    assert type(back) is kind
    assert (back.where, back.what, back.why, back.mend) == FOUR
    assert back.exit_code == kind.exit_code


def test_a_failure_s_exit_code_is_one_of_the_two_that_commands_know() -> None:
    assert {kind.exit_code for kind in FAMILY} == {1, 2}


@pytest.mark.parametrize(("word", "meant"), [("shufle", "shuffle"), ("Saylor", "sailor"), ("zzz", None), ("", None)])
def test_the_nearest_word_is_offered_and_none_when_nothing_is_like_it(word: str, meant: str | None) -> None:
    assert nearest(word, ["shuffle", "sailor", "vine"]) == meant
