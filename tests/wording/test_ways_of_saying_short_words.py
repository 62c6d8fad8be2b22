"""Short words that a sheet explains itself are read as the words it gives for them, in their own places."""

from __future__ import annotations

import pytest

from softshoe.dance.document import dance_json
from softshoe.wording.read import read, reading

HEAD = "Red Kettle\nseated, 8 counts, 1 wall, beginner, 100 bpm, intro 16\n"
STEPS = "\nSection 1\n1-4 {} forward, {}, {} forward, {}\n5-8 {}, {}, clap, hold\n"
PLAIN = STEPS.format(
    "right heel", "step right in place", "left heel", "step left in place", "slap the thighs", "slap the thighs"
)
SHORT = STEPS.format("R QH", "step R IP", "L QH", "step L IP", "SLT", "SLT")


def events(sheet: str) -> list[tuple[object, ...]]:
    return [(e["t"], e["foot"], e["action"], e["dir"], e["arms"]) for e in dance_json(read(sheet))["events"]]


@pytest.mark.parametrize(
    "key",
    [
        "Key: QH = heel, SLT = slap the thighs, IP = in place",
        "Key: RF = right foot, QH = heel; SLT = slap the thighs.",
        "Abbreviations: QH – heel, SLT – slap the thighs",
        "QH, SLT = heel, slap the thighs",
        "Legend\nQH = heel\nSLT = slap the thighs",
    ],
)
def test_a_key_explains_its_short_words(key: str) -> None:
    assert events(f"{HEAD}{key}\n{SHORT}") == events(f"{HEAD}{PLAIN}")
    assert events(f"{HEAD}{SHORT}\n{key}\n") == events(f"{HEAD}{PLAIN}")


def test_what_is_read_of_a_short_word_stands_where_the_sheet_has_it() -> None:
    sheet = f"{HEAD}Key: QH = heel, SLT = slap the thighs\n{SHORT}"
    found = reading(sheet)
    spans = [sheet[a.span[0] : a.span[1]].strip(" ,") for a in found.dance.actions if a.span is not None]
    assert spans[:6] == ["R QH forward", "step R IP", "L QH forward", "step L IP", "SLT", "SLT"]
    assert found.account.text == sheet


def test_in_place_may_be_written_with_two_letters_without_a_key() -> None:
    steps = "\nSection 1\n1-8 {}\n"
    row = "March R, L, R, L, step R side, R {0}, L side, L {0}"
    assert events(HEAD + steps.format(row.format("IP"))) == events(HEAD + steps.format(row.format("in place")))


def test_an_equals_sign_between_counts_and_steps_explains_nothing() -> None:
    sheet = f"{HEAD}\nSection 1\n1-4 = walk on the spot R, L, R, L\n5-8 = clap, clap, clap, hold\n"
    assert [e[0] for e in events(sheet)] == [str(n) for n in range(8)]


TAKEN_SHORT = [  # as it is written, in full words
    ("1 R acr L, 2 L bk, 3 R sd, 4 L tog", "1 R across L, 2 L back, 3 R side, 4 L together"),
    ("1 R xf L, 2 L side, 3 R beh. L, 4 L side", "1 R across L, 2 L side, 3 R behind L, 4 L side"),
    ("1 R frwd, 2 tch L bes. R, 3 L back, 4 tch R",
     "1 R forward, 2 touch L beside R, 3 L back, 4 touch R"),
    ("1 diag. forward right, 2 touch L, 3 step L, 4 hold", "1 diagonally forward right, 2 touch L, 3 step L, 4 hold"),
    ("1 RH up, 2 LH up, 3 RH dn, 4 LH dn", "1 RH up, 2 LH up, 3 RH down, 4 LH down"),
]  # fmt: skip


@pytest.mark.parametrize(("short", "full"), TAKEN_SHORT)
def test_short_words_of_the_trade_need_no_key_and_their_dot_ends_nothing(short: str, full: str) -> None:
    head = "Red Kettle\n4 counts, 1 wall, beginner, 100 bpm, intro 16\n\nSection 1\n"
    assert events(head + short) == events(head + full)
    assert not [f for f in read(head + short).findings if f.kind in ("word", "unread", "steps-per-count")]
