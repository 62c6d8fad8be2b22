"""Rules and the retelling network together: what is taken, what is told, and what stays the author's to mend."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from softshoe.dance.document import dance_json
from softshoe.wording import retold
from softshoe.wording.read import read, reading
from softshoe.wording.retell_codes import codes_of, events_of
from softshoe.wording.retell_net import net
from softshoe.wording.retell_pieces import words_of

from .saying import Told, errors, same

HEAD = "Kettle\n8 counts, 1 wall, beginner, 100 bpm, intro 16, seated\n\nSection 1\n"
KICKS = """1 Kick right forward, 2 right home, 3 kick left forward, 4 left home
5 Kick right forward, 6 right home, 7 clap, 8 clap"""
HEELS = "1 R heel forward, 2 R home, 3 L heel forward, 4 L home\n5 R heel forward, 6 R home, 7 L heel forward, 8 L home"


@pytest.fixture(autouse=True)
def _heard(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(retold.BY_RULES, "0")


def both(words: str, head: str = HEAD) -> Told:
    return dance_json(read(head + words + "\n"))


def kinds(got: Told) -> list[str]:
    return [f["kind"] for f in got["findings"] if f["severity"] != "note"]


TAKEN = [
    (
        "Kick out the right leg and bring the foot home, kick out the left and bring it home, and the right once more."
        "\nClap two times.",
        KICKS,
    ),
    ("Heels, R first: out in front, back home, then L. Twice through.", HEELS),
    (
        "Kick the right foot low to the front on 1 and set it down on 2, kick the left foot low to the front on 3 and "
        "set\nit down on 4. The right one once more on 5 and 6, then two claps on 7 and 8.",
        KICKS,
    ),
]


@pytest.mark.parametrize(("words", "plain"), TAKEN)
def test_words_that_the_rules_misread_are_read_as_the_network_tells_them(words: str, plain: str) -> None:
    got = both(words)
    assert same(both(plain), got, loosely=True), [(e["t"], e["foot"], e["action"], e["dir"]) for e in got["events"]]
    assert errors(got) == []


def test_what_the_network_told_is_said_in_a_note_on_the_first_of_its_lines() -> None:
    found = read(HEAD + TAKEN[0][0])
    note = next(f for f in found.findings if f.message.startswith("These words were read as"))
    assert (note.severity, note.kind, note.line) == ("note", "inferred", 5)
    assert "Kick R" in note.message


def test_plain_words_are_left_to_the_rules_without_a_note() -> None:
    with retold.by_rules_alone():
        rules = read(HEAD + HEELS)
    assert read(HEAD + HEELS).findings == rules.findings


def test_every_word_of_a_section_retold_is_accounted_for_and_has_its_place() -> None:
    text = HEAD + TAKEN[0][0] + "\n"
    found = reading(text)
    covered = "".join(found.account.words(piece) for piece in found.account.pieces)
    assert covered.split()
    assert "".join(covered.split()) == "".join(text.split())
    first, last = (found.dance.actions[k] for k in (0, -1))
    assert first.span is not None
    assert "Kick" in text[slice(*first.span)]
    assert last.line == 6


SLIPS = [
    ("1-2 R heel forward, R home\n4 L home\n5-8 clap four times", "count-missing"),
    (
        "1-2 R heel forward, R home\n3-4 L heel forward, L home\n3-4 L heel forward, L home\n5-8 clap four times",
        "count-twice",
    ),
    ("1-2 heel forward, home\n3-4 march R, L\n5-8 shufle, wibble, clap, clap", "word"),
    (
        "1 R hand waves overhead and R hand rests on the R knee\n2 L hand rests on the L knee\n3-8 clap six times",
        "arms",
    ),
    ("1-2 step R forward, pivot 1/2 turn left\n3-4 L foot forward, L home\n5-8 march R, L, R, L", "seated"),
]


@pytest.mark.parametrize(("words", "kind"), SLIPS)
def test_what_the_author_has_to_mend_is_still_told(words: str, kind: str) -> None:
    assert kind in kinds(both(words))


def test_a_triple_step_without_its_sign_is_not_mended_in_silence() -> None:
    standing = HEAD.replace(", seated", "")
    words = "1-2 shuffle forward right, left, right\n3-4 rock left forward, recover right\n"
    words += "5-8 walk back left, right, left, touch right"
    assert "steps-per-count" in kinds(both(words, standing))


def test_the_shared_switch_reads_by_rules_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(retold.BY_RULES, "1")
    assert not retold.retelling()
    monkeypatch.setenv(retold.BY_RULES, "0")
    assert retold.retelling()
    with retold.by_rules_alone():
        assert not retold.retelling()


def test_codes_and_events_are_each_others_image() -> None:
    events = both(KICKS)["events"]
    told = events_of(codes_of(events))
    assert told is not None
    keys = ("t", "foot", "action", "dir", "turn", "arms")
    assert told == [{key: event[key] for key in keys} for event in events]


@pytest.mark.parametrize(
    "codes", [[], ["end"], ["fault", "end"], ["c1", "foot:R"], ["c1", "hand:clap", "end"], ["heel", "end"]]
)
def test_rows_of_codes_that_are_no_dance_are_no_events(codes: list[str]) -> None:
    assert not events_of(codes)


def test_words_keep_their_places() -> None:
    text = "1–2  R heel (12)"
    assert all(text[w.start : w.end] for w in words_of(text))
    assert [w.text for w in words_of(text)] == ["1", "-", "2", "r", "heel", "(", "1", "##2", ")"]


def test_numpy_tells_what_the_training_library_told() -> None:
    rows = json.loads((Path(__file__).parent / "retelling_example.json").read_text(encoding="utf-8"))
    told = net().told([net().numbers(row["text"], seated=row["seated"]) for row in rows])
    assert [list(one.codes) for one in told] == [row["codes"] for row in rows]


def test_sections_told_together_are_told_as_alone() -> None:
    rows = [net().numbers(text, seated=True) for text in (HEELS, KICKS, "clap")]
    together = net().told(rows)
    assert [one.codes for one in together] == [net().told([row])[0].codes for row in rows]
    assert all(np.isfinite(one.likely).all() for one in together)


@pytest.mark.parametrize("amiss", range(0, 40, 3))
def test_what_is_guessed_of_a_section_does_not_change_what_is_told_of_it(amiss: int) -> None:
    row = net().numbers(KICKS, seated=True)
    alone = net().told([row])[0]
    right = list(alone.codes)
    wrong = [*right[:amiss], "hop", *right[amiss + 1 :]]
    for guess in (right, wrong, right[:amiss], ["c1", "no code at all", *right]):
        told = net().told([row], [guess])[0]
        assert (told.codes, told.looked) == (alone.codes, alone.looked)
        assert np.allclose(told.likely, alone.likely, atol=1e-4)


def test_a_foot_that_the_words_send_home_comes_to_the_centre_as_the_rules_have_it() -> None:
    got = both(TAKEN[0][0])
    assert [e["dir"] for e in got["events"] if e["action"] == "step"] == ["centre"] * 3


ABOVE = """Kettle
24 counts, 1 wall, beginner, 100 bpm, intro 16, seated

HEELS
Right heel forward and home, left heel forward and home (1-4)
The same again (5-8)
SWAYS
1-4 sway right, left, right, left
5-8 clap, clap, clap, hold
"""
LEANING = [
    (
        "HEELS AGAIN\nand a clap each time the foot comes home",
        "1 R heel forward, 2 R home and clap, 3 L heel forward, 4 L home and clap\n"
        "5 R heel forward, 6 R home and clap, 7 L heel forward, 8 L home and clap",
    ),
    (
        "LAST PART\nFour sways as before, then the first half of HEELS",
        "1-4 sway right, left, right, left\n5 R heel forward, 6 R home, 7 L heel forward, 8 L home",
    ),
]


@pytest.mark.parametrize(("words", "plain"), LEANING)
def test_a_section_that_leans_on_earlier_ones_is_read_with_them(words: str, plain: str) -> None:
    got, want = dance_json(read(ABOVE + words + "\n")), dance_json(read(f"{ABOVE}PLAIN\n{plain}\n"))
    assert errors(got) == []
    assert same(want, got, loosely=True), [(e["t"], e["foot"], e["action"], e["arms"]) for e in got["events"][16:]]


def test_what_is_left_out_is_not_filled_in_from_the_sections_above() -> None:
    got = dance_json(
        read(
            ABOVE.replace("seated", "standing")
            + "QUARTER\n1-4 step right forward, touch left, a quarter turn stepping left back, hold\n5-8 hold\n"
        )
    )
    assert "direction-missing" in [kind for kind, *_ in errors(got)]


def test_what_one_section_is_retold_as_may_show_what_is_amiss_in_the_next() -> None:
    head = "Hornpipe\n16 counts, 1 wall, beginner, 120 bpm, intro 16\n\n"
    got = dance_json(
        read(f"""{head}One
Stroll forward left and rest, right and rest. Back on the left for five, right beside it for six, left forward for
seven, touch the right for eight.
Two
Right to the side and touch the left, left to the side and touch the right. Stamp right, clap, clap, clap.
""")
    )
    assert errors(got) == []
    assert [s["counts"] for s in got["sections"]] == [8, 8]
