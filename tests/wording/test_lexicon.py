"""Words looked up, and the vocabulary page, which is what the tables say today."""

from __future__ import annotations

from pathlib import Path

from softshoe.dance.arms import GESTURES
from softshoe.dance.verbs import VERBS
from softshoe.wording.lexicon import entries, look_up, page
from softshoe.wording.reading_patterns import read_patterns

PAGE = Path(__file__).parents[2] / "docs" / "vocabulary.md"


def test_the_vocabulary_page_is_what_the_tables_say() -> None:
    assert PAGE.read_text(encoding="utf-8") == page(), "make it anew: softshoe words --page > docs/vocabulary.md"


def test_every_verb_pattern_and_gesture_has_its_entry() -> None:
    names = {entry.name for entry in entries()}
    assert {verb.name for verb in VERBS} - {"arms"} <= names
    assert set(read_patterns()) <= names
    assert {gesture.name for gesture in GESTURES} <= names


def test_a_pattern_tells_its_steps_counts_and_weight() -> None:
    (coaster,), meant = look_up("Coasters")
    assert meant is None
    assert coaster.steps == ("1  Step right foot back", "1&  Step left foot together", "2  Step right foot forward")
    assert dict(coaster.facts)["counts"] == "2"
    assert dict(coaster.facts)["afterwards"] == "weight on the leading foot"


def test_a_pattern_that_begins_before_the_count_says_so() -> None:
    (jack,), _ = look_up("heel jack")
    assert jack.steps[0].startswith("&1  ")
    assert dict(jack.facts)["counts"] == "2"


def test_a_verb_tells_its_weight_and_how_each_language_writes_it() -> None:
    (kick,), _ = look_up("kicks")
    assert dict(kick.facts)["afterwards"] == "no weight"
    assert dict(kick.facts)["German"] == "Kick mit rechts nach vorn"


def test_a_word_that_means_two_things_has_both() -> None:
    assert {entry.kind for entry in look_up("sweep")[0]} == {"foot", "hand"}


def test_an_unknown_word_is_answered_with_the_nearest() -> None:
    assert look_up("shufle") == ((), "shuffle")
