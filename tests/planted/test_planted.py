"""Slips planted in sound sheets, kind by kind, over many sheets and in many ways: each is found, nothing else accused.

``NOT_YET`` names slips that are not found, or whose consequences are told as well. It may only shrink.
"""

from __future__ import annotations

from collections import defaultdict
from functools import cache

import pytest

from softshoe.wording.read import empty, read

from . import ways_counts, ways_demand, ways_feet, ways_walls, ways_words
from .no_sheets import TEXTS
from .pool import Slip, accused, found, pool

LEAST, MOST = 20, 24  # slips of each kind
WAYS = (*ways_feet.WAYS, *ways_counts.WAYS, *ways_walls.WAYS, *ways_words.WAYS, *ways_demand.WAYS)
KINDS = (
    "weight", "free-foot", "count-missing", "count-twice", "steps-per-count", "section-length", "total",
    "section-number", "facing", "walls", "tag-length", "place", "side", "word", "direction-missing", "foot-missing",
    "arms", "seated", "promise", "ambiguous", "unread", "not-stated",
    "crowded", "level", "one-sided",
)  # fmt: skip
NOT_YET = {  # (sheet, way) -> why
    ("hand_b/06_sixpence_soldiers", "section counts"): "a range of counts in words is no heading's range",
    ("hand_b/07_ferrymans_fold", "section number"): "a letter beside a range of counts is not read as a number",
    ("hand_b/11_harbourmasters_hurry", "other matter"): "its first word is taken for a step misspelled",
    ("odd/note_to_pat", "section number"): "“second 8” in a letter is not read as a number",
    ("odd/crumbs_on_the_carpet", "other side"): "“out to the left” is read as “out”",
}


@cache
def slips() -> dict[str, list[Slip]]:
    """Slips by kind: way after way and sheet after sheet, one of each before the second of any."""
    found_of: dict[str, dict[tuple[str, str], list[Slip]]] = defaultdict(lambda: defaultdict(list))
    for way in WAYS:
        for sheet in pool():
            for slip in way(sheet):
                found_of[slip.kind][slip.way, slip.sheet].append(slip)
    return {kind: _spread(by_place) for kind, by_place in found_of.items()}


def _spread(by_place: dict[tuple[str, str], list[Slip]]) -> list[Slip]:
    """Take turns between the ways, and within a way between the sheets."""
    by_way: dict[str, list[Slip]] = defaultdict(list)
    for turn in range(max(len(listed) for listed in by_place.values())):
        for (way, _), listed in sorted(by_place.items()):
            by_way[way] += listed[turn : turn + 1]
    longest = max(len(listed) for listed in by_way.values())
    return [listed[i] for i in range(longest) for listed in by_way.values() if i < len(listed)]


@pytest.mark.parametrize("kind", KINDS)
def test_twenty_slips_of_each_kind_are_found_and_nothing_else_is_called_an_error(kind: str) -> None:
    planted = slips()[kind][:MOST]
    assert len([slip for slip in planted if (slip.sheet, slip.way) not in NOT_YET]) >= LEAST
    wrong = []
    for slip in planted:
        findings = read(slip.text).findings
        if (not found(slip, findings) or accused(slip, findings)) and (slip.sheet, slip.way) not in NOT_YET:
            wrong.append((slip.sheet, slip.way, slip.line, [(f.kind, f.line) for f in findings]))
    assert wrong == []


@pytest.mark.parametrize("kind", KINDS)
def test_the_slips_of_a_kind_are_spread_over_sheets(kind: str) -> None:
    assert len({slip.sheet for slip in slips()[kind][:MOST]}) >= 6


def test_the_slips_not_found_yet_are_named_and_none_is_found_by_now() -> None:
    listed = [slip for kind in KINDS for slip in slips()[kind] if (slip.sheet, slip.way) in NOT_YET]
    assert {(slip.sheet, slip.way) for slip in listed} == set(NOT_YET)
    right = [s for s in listed if found(s, read(s.text).findings) and not accused(s, read(s.text).findings)]
    assert not [(slip.sheet, slip.way, slip.line) for slip in right]


@pytest.mark.parametrize("text", TEXTS, ids=range(len(TEXTS)))
def test_a_text_that_is_no_sheet_is_told_as_such(text: str) -> None:
    assert [f.kind for f in empty(text).findings] == ["not-a-sheet"]
    with pytest.raises(Exception, match="no steps could be found"):
        read(text)
