"""Sheets whose lines the rules sort amiss: a network says what each line is, the rules read what it says."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from softshoe.dance.document import dance_json
from softshoe.wording import read_ways, retold
from softshoe.wording.lines import lines_of
from softshoe.wording.outlined import outlined
from softshoe.wording.read import read, reading
from softshoe.wording.read_once import read_whole
from softshoe.wording.sort_net import MOST_PIECES, kinds_of
from softshoe.wording.sorted_anew import kept_lines, sorted_as
from softshoe.wording.told_beside import beside_steps
from softshoe.wording.whole_weigh import told_whole

from .saying import errors

BOOTS = """Boots by the Door
hello all, here is what we did on friday, write to me if a step has gone missing

beginner, thirty-two counts, four walls
first step right after a sixteen count introduction

stomps and fans
stomp right forward, fan the toes out, fan them in, hold
stomp left forward, fan the toes out, fan them in, hold
back with claps
right back, clap, left back, clap, right back, clap, left together, clap
grapevines
right side, left behind, right side, scuff left
left side, right behind, left quarter turn left forward, scuff right
rocking chair and touches
rock right forward, recover, rock right back, recover
right forward, touch left beside, left back, touch right beside

now you are facing nine o'clock. again!
"""
REMARK = """Harbour Wall
16 counts, one wall, standing behind a chair, both hands on the back of it, beginner, 92 bpm, intro 16

1. Side touches
1-4 Step right to the right, touch left beside it, step left to the left, touch right beside it
5-8 Repeat 1-4
2. Heel digs
1-4 Right heel forward, right together, left heel forward, left together
5-8 Repeat 1-4

Keep your weight over your feet and only rest the hands on the chair, do not pull on it.
"""


@pytest.fixture(autouse=True)
def _heard(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(retold.BY_RULES, "0")


def test_headings_that_are_only_words_begin_sections() -> None:
    with retold.by_rules_alone():
        assert errors(dance_json(read(BOOTS))) != []
    got = dance_json(read(BOOTS))
    assert errors(got) == []
    assert [s["counts"] for s in got["sections"]] == [8, 8, 8, 8]
    assert [s["line"] for s in got["sections"]] == [7, 10, 12, 15]


def test_a_remark_that_holds_words_of_steps_is_no_step() -> None:
    got = dance_json(read(REMARK))
    assert errors(got) == []
    assert max(e["line"] for e in got["events"]) == 9


@pytest.mark.parametrize("text", [BOOTS, REMARK])
def test_every_character_of_a_sheet_sorted_anew_is_accounted_for(text: str) -> None:
    found = reading(text)
    covered = "".join(found.account.words(piece) for piece in found.account.pieces)
    assert "".join(covered.split()) == "".join(text.split())


def test_a_sheet_that_the_rules_read_without_fault_is_not_sorted_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[str] = []
    monkeypatch.setattr(read_ways, "kinds_of", lambda text: asked.append(text) or {})
    read("Kettle\n8 counts, 1 wall, 100 bpm, intro 16, seated\n\nSection 1\n1-8 March right, left x4\n")
    assert asked == []


def test_a_line_with_its_count_before_it_tells_steps_whatever_the_network_says() -> None:
    text = "Kettle\n8 counts\n\nHeels\n1-4 right heel, home, left heel, home\n5-8 clap x4\n"
    out = sorted_as(text, {1: "T", 2: "H", 4: "S", 5: "C", 6: "N"}, unit=8)
    assert [item.line for block in out.blocks for item in block.items] == [5, 6]


def test_steps_behind_a_heading_on_its_own_line_begin_a_section() -> None:
    text = "Kettle\n16 counts\nOpening: heels up, down, up, down, clap x4\nThe cheer: clap x8\n"
    out = sorted_as(text, {1: "T", 2: "H", 3: "B", 4: "B"}, unit=8)
    assert [(block.line, block.title) for block in out.blocks] == [(3, "Opening"), (4, "The cheer")]
    assert all(block.items for block in out.blocks)


def test_the_counts_that_a_heading_tells_are_heard() -> None:
    text = "Kettle\n16 counts\n\nForward, clap (1-8)\n1-8 march\nSwings (9-16)\n9-16 swing both arms\n"
    out = sorted_as(text, {1: "T", 2: "H", 4: "S", 5: "C", 6: "S", 7: "C"}, unit=8)
    assert [block.heading.counts for block in out.blocks if block.heading] == [(1, 8), (9, 16)]


def test_facts_below_the_steps_are_the_headers() -> None:
    text = "Kettle\n\nHeels\nright heel, home, left heel, home, clap x4\n\nA chair dance for any tune of 96 bpm\n"
    out, seated, _ = outlined(text, {1: "T", 3: "S", 4: "C", 6: "H"})
    assert seated
    assert (6, "A chair dance for any tune of 96 bpm") in out.header


def test_every_written_line_is_told_and_blank_ones_are_not() -> None:
    told = kinds_of(BOOTS)
    assert list(told) == [n for n, line in enumerate(BOOTS.split("\n"), 1) if line.strip()]
    assert told[1] == "T"
    assert [told[n] for n in (7, 8, 9, 10)] == ["S", "C", "C", "S"]


@pytest.mark.parametrize("text", ["", "\n\n", "step " * (MOST_PIECES + 1)])
def test_of_nothing_and_of_too_much_nothing_is_told(text: str) -> None:
    assert kinds_of(text) == {}


def test_numpy_sorts_as_the_training_library_did() -> None:
    rows = json.loads((Path(__file__).parent / "sorting_example.json").read_text(encoding="utf-8"))
    for row in rows:
        assert kinds_of(row["text"]) == {n: kind for n, kind in enumerate(row["kinds"], 1) if kind}


def test_a_line_of_words_that_mean_nothing_is_kept_and_told() -> None:
    text = "A Name\n1-4 Walk right, left, right, left\nzzq bbb\nzzq bbb\nzzq bbb"
    dance = read(text)
    told = {n for n, _ in dance.kept} | {f.line for f in dance.findings}
    assert {3, 4, 5} <= told


def test_a_line_with_its_count_is_kept_for_every_reader_of_the_section() -> None:
    lines = lines_of("Kettle\n1-4 clap x4\nsmall claps\n")
    assert [line.number for line in kept_lines(lines, {1: "T", 2: "N", 3: "N"})] == [1, 2, 4]


GAP = """Garden Hose
32 counts, 1 wall, beginner, seated, 106 bpm, intro 16

(1) Heels
1-2 right heel forward, right foot home
3-4 left heel forward, left foot home
5-8 repeat 1-4
(2) Toe fans
1-4 fan right toes out, in, out, in
5-8 fan left toes out, in, out, in
(3) Repeat (1)
(4) Knees
1-2 right knee up, right foot down
3-4 left knee up, left foot down
5-8 swivel both heels right, left, right, centre
"""


def test_a_line_that_only_asks_for_a_section_is_one_though_the_next_number_seems_out_of_turn() -> None:
    got = dance_json(read(GAP))
    assert errors(got) == []
    assert [s["line"] for s in got["sections"]] == [4, 8, 11, 12]
    again = [(e["foot"], e["action"]) for e in got["events"]]
    assert again[16:24] == again[:8]


HEELS_AGAIN = GAP[GAP.index("(1)") : GAP.index("(2)")]


@pytest.mark.parametrize("last", ["(1) once more\n", HEELS_AGAIN])
def test_a_section_that_comes_back_under_its_number_is_no_slip(last: str) -> None:
    text = GAP.replace("32 counts", "40 counts") + last
    way = told_whole(text, None)
    other = read_whole(text, way.parts)
    assert other is not None
    assert len(other.dance.sections) == 5
    assert [f.kind for f in beside_steps(other.dance, way.parts)] == []


@pytest.mark.parametrize(
    ("words", "slip", "kind"),
    [
        ("(2) Toe fans", "(1) Toe fans", "section-number"),
        ("seated, 106 bpm, intro 16", "seated, 106 bpm, intro 16\nOne restart, on wall 5.", "promise"),
        ("(2) Toe fans", "(5) Toe fans", "section-number"),
    ],
)
def test_sorting_lines_anew_does_not_hide_what_the_author_has_to_mend(words: str, slip: str, kind: str) -> None:
    assert kind in [told for told, *_ in errors(dance_json(read(GAP.replace(words, slip))))]
