"""Texts drawn to teach the retelling network: what is to be told of them stands in them, whatever was exchanged."""

from __future__ import annotations

import importlib
import random
import sys
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from softshoe.errors import WordingError
from softshoe.wording.read import read
from softshoe.wording.retell_codes import AS, ENDS, SECTION, events_of
from softshoe.wording.retell_weigh import events_between
from softshoe.wording.retold import by_rules_alone
from softshoe.wording.whole_copies import danced_as, sources_in

if TYPE_CHECKING:
    from collections.abc import Iterator

    Row = dict[str, Any]

TRAINING = Path(__file__).parents[2] / "training"
PATHS = [TRAINING / "sorting" / "sheets" / f"{name}.txt" for name in ("seated_handouts", "chairs", "standing_handouts")]
DRAWN = 1500
SEEN = ("hand:clap", "hand:snap", "hand:wave", "kick", "stomp", "hand:punch", "hand:roll", "swivel")


@pytest.fixture(scope="module", autouse=True)
def _path() -> Iterator[None]:
    """The tools for retelling are found, as where they are run."""
    sys.path.insert(0, str(TRAINING / "retelling"))
    yield
    sys.path.remove(str(TRAINING / "retelling"))


@cache
def sheets() -> list[Row]:
    whole = importlib.import_module("whole")
    with by_rules_alone():
        return [row for path in PATHS for row in whole.of_marked(path, apart=False)]


@cache
def drawn() -> list[Row]:
    """Sheets drawn as they are for teaching, before words are written otherwise."""
    wholes, collect = importlib.import_module("wholes"), importlib.import_module("collect")
    with by_rules_alone():
        bodies = [row for path in PATHS for row in collect.of_marked(path)]
    talk = (TRAINING / "retelling" / "talk.txt").read_text(encoding="utf-8").split("\n")
    drawer = wholes.Wholes(sheets(), bodies, [line for line in talk if line], [])
    rng = random.Random(7)
    return [drawer.draw(rng) for _ in range(DRAWN)]


@pytest.mark.parametrize("code", SEEN)
def test_what_is_to_be_told_of_a_drawn_sheet_is_named_in_it(code: str) -> None:
    named = importlib.import_module("named").NAMED | {"hand:clap": importlib.import_module("named").CLAPS}
    told = [row["text"] for row in drawn() if code in row["codes"]]
    assert len(told) > 20
    for text in told:
        assert named[code].search(text), text


def test_sections_and_ends_of_a_drawn_sheet_are_signed_once_each_or_not_at_all() -> None:
    whole = importlib.import_module("whole")
    signed = [row for row in drawn() if whole.BEGINS in row["text"]]
    assert len(signed) > DRAWN / 2
    for row in signed:
        assert row["text"].count(whole.BEGINS) == row["codes"].count(SECTION), row["text"]
        assert row["text"].count(whole.ADDS) in (0, sum(map(row["codes"].count, ENDS))), row["text"]


def test_each_section_of_a_drawn_sheet_can_be_danced_or_is_a_fault() -> None:
    faults = importlib.import_module("faults")
    for row in drawn():
        first = [k for k, code in enumerate(row["codes"]) if code == SECTION]
        ends = [k for k, code in enumerate(row["codes"]) if code in ENDS][:1] or [len(row["codes"]) - 1]
        for begin, stop in zip(first, [*first[1:], *ends], strict=True):
            own = row["codes"][begin + 1 : stop]
            again = own[0].startswith(AS) or own == [faults.FAULT]
            assert again or events_of([*own, "end"]) is not None, own


def test_a_section_that_asks_for_others_is_told_by_them_and_danced_just_so() -> None:
    told = 0
    for row in sheets():
        above = [part["codes"][:-1] for part in row["sections"]]
        for k, part in enumerate(row["sections"]):
            if part["as"]:
                told += 1
                assert danced_as(part["as"], above[:k]) == above[k]
                assert all(source < k for source in sources_in(part["as"]))
    assert told > 10


def test_what_is_asked_for_with_something_other_can_be_danced_and_names_who_is_asked() -> None:
    changed = importlib.import_module("changed")
    rng = random.Random(11)
    kinds: set[str] = set()
    pool = [row["sections"] for row in sheets() if len(row["sections"]) > 1]
    for _ in range(1500):
        sections = rng.choice(pool)
        found = changed.asked(sections, rng)
        if found is None:
            continue
        above = [part["codes"][:-1] for part in sections]
        assert danced_as(found.told, above)
        assert "{ref}" in found.words
        assert not set("{}") & set(found.words.replace("{ref}", "").replace("{two}", ""))
        kinds |= set(found.told) & {"but", "plus", "feet", "hands", "half:1", "half:2", "mirror"}
    assert kinds == {"but", "plus", "feet", "hands", "half:1", "half:2", "mirror"}


def test_a_text_in_the_words_of_another_hand_reads_as_before() -> None:
    reworded = importlib.import_module("reworded")
    rng = random.Random(3)
    changed = same = 0
    with by_rules_alone():
        for row in sheets():
            text = row["text"].replace("␞", "").replace("␟", "")
            other = reworded.reworded(text, rng)
            if other == text:
                continue
            changed += 1
            same += _events(other) == _events(text)
    assert changed > 20
    assert same > 0.7 * changed  # some hands the rules don't know yet


def _events(text: str) -> list[str]:
    try:
        return [str(event) for event in events_between(read(text), Fraction(1), Fraction(10**6))]
    except WordingError:
        return []


def test_no_habit_of_another_hand_touches_columns() -> None:
    reworded = importlib.import_module("reworded")
    text = "1    right heel forward    clap\n2    right home            clap\n"
    assert {reworded.reworded(text, random.Random(n)) for n in range(40)} == {text}


def test_a_habit_holds_throughout_a_text() -> None:
    reworded = importlib.import_module("reworded")
    text = "Section 1\n1-2 walk forward R, L\nSection 2\n1-2 walk back R, L\nAs section 1\n"
    written = {reworded.reworded(text, random.Random(n)).lower() for n in range(300)}
    assert len(written) > 20
    for new in written:
        first, _, second, _, again, *_ = new.split("\n")
        assert first.split()[0] == second.split()[0] == again.split()[1], new
