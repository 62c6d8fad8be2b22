"""The dance written as JSON and read back is the dance."""

from __future__ import annotations

import json
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dance.made_dances import dances
from softshoe.dance.action import Action
from softshoe.dance.counts import Count
from softshoe.dance.dance import Dance
from softshoe.dance.document import dance_from_json, dance_json
from softshoe.dance.feet import Foot, Weight
from softshoe.errors import Finding

KEYS = {
    "title", "counts", "walls", "level", "seated", "metre", "tempo_bpm", "intro_counts", "start_weight", "sections",
    "events", "tags", "restarts", "endings", "findings",
}  # fmt: skip
EVENT_KEYS = {"t", "foot", "action", "dir", "weight", "turn", "facing", "arms", "line"}


def through_text(dance: Dance) -> Dance:
    return dance_from_json(json.loads(json.dumps(dance_json(dance))))


@given(dances)
def test_a_dance_comes_back_from_its_json_unchanged(dance: Dance) -> None:
    assert through_text(dance) == dance


@given(dances)
def test_the_json_of_what_came_back_is_the_same_json(dance: Dance) -> None:
    assert dance_json(through_text(dance)) == dance_json(dance)


@given(dances)
def test_every_key_is_always_there(dance: Dance) -> None:
    document = dance_json(dance)
    assert set(document) == KEYS
    assert all(set(event) == EVENT_KEYS for event in document["events"])


@given(dances, st.sampled_from((Weight.LEFT, Weight.RIGHT, Weight.BOTH)))
def test_a_weight_that_only_the_words_give_survives(dance: Dance, said: Weight) -> None:
    unwound = Action(Count(Fraction(1)), Foot.LEFT, "hold", weight_said=said)
    spoken = replace(dance, start_weight=Weight.LEFT, actions=(unwound,), tags=(), endings=())
    events = dance_json(through_text(spoken))["events"]
    assert [event["weight"] for event in events] == [said.value]


@given(dances)
def test_findings_travel_with_the_dance(dance: Dance) -> None:
    finding = Finding("warning", "word", 4, "1/2", "“shufle” is no step", "did you mean “shuffle”?")
    assert through_text(replace(dance, findings=(finding,))).findings == (finding,)


@pytest.mark.parametrize("missing", sorted(KEYS))
def test_a_document_without_one_of_its_keys_is_refused(missing: str) -> None:
    bare = Dance("Tin Kettle", 8, 1, None, True, "4/4", None, None, Weight.SEAT, (), ())
    document = dance_json(bare)
    del document[missing]
    with pytest.raises(KeyError):
        dance_from_json(document)
