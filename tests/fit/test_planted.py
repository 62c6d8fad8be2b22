"""Songs with planted answers: what was planted is found, or something that the score calls as good."""

from __future__ import annotations

from random import Random

import pytest

from fit.planted import KINDS, planted
from softshoe.fit.lay import fit

CASES = 57  # of each of the nine kinds: 513


@pytest.mark.parametrize("kind", KINDS)
def test_what_was_planted_is_found_or_something_as_good(kind: str) -> None:
    random = Random(kind)
    exactly = 0
    for _ in range(CASES):
        case = planted(random, kind)
        best = fit(case.dance, case.song, most=1).runs[0]
        if case.found_in(best):
            exactly += 1
            continue
        held = fit(case.dance, case.song, pins=case.pins, most=1).runs[0]
        assert best.score.charged <= held.score.charged + 1e-6
    assert exactly > CASES / 4


@pytest.mark.parametrize("kind", ["plain", "half time", "ending"])
def test_where_nothing_has_to_be_repaired_nothing_is(kind: str) -> None:
    random = Random(f"{kind} again")
    for _ in range(12):
        case = planted(random, kind)
        best = fit(case.dance, case.song, most=1).runs[0]
        assert case.found_in(best)
        assert not best.score.parts.keys() - {"ending"}
