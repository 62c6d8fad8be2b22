"""Every character of a sheet is accounted for, and every event knows the words it came from."""

from __future__ import annotations

from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from softshoe.errors import WordingError
from softshoe.wording.read import empty, reading
from softshoe.wording.source import sheet_text
from softshoe.wording.vocabulary import phrases

if TYPE_CHECKING:
    from softshoe.dance.action import Action
    from softshoe.dance.dance import Dance
    from softshoe.wording.reading import Reading

SHEETS = sorted((Path(__file__).parents[1] / "sheets").rglob("*.txt"))
assert len(SHEETS) > 150


def amiss_in(sheet: Reading) -> list[str]:
    """Return what the account leaves out, tells twice, or keeps without saying so."""
    text, pieces = sheet.text, sheet.account.pieces
    times = [0] * len(text)
    for piece in pieces:
        for i in range(piece.start, piece.end):
            times[i] += 1
    out = [f"{times[i]} pieces for {text[i]!r} at {i}" for i in range(len(text)) if times[i] != 1 and text[i].strip()]
    told = {finding.line for finding in sheet.dance.findings} | {line for line, _ in sheet.dance.kept}
    groups = [(left, list(of)) for left, of in groupby(pieces, lambda p: p.role in ("kept", "passed"))]
    silent = [of for left, of in groups if left and not told & {piece.line for piece in of}]
    if sum(len(of) for left, of in groups if left) <= 50:
        out += [f"{sheet.account.words(of[0])!r} is left without a word" for of in silent]
    return out


def actions_of(dance: Dance) -> list[Action]:
    parts = (dance.actions, *(tag.actions for tag in dance.tags), *(ending.actions for ending in dance.endings))
    return [action for part in parts for action in part]


@pytest.mark.parametrize("path", SHEETS, ids=lambda p: f"{p.parent.name} {p.stem}")
def test_every_character_of_a_sheet_stands_in_one_piece_and_every_event_in_some(path: Path) -> None:
    sheet = reading(sheet_text(path))
    assert amiss_in(sheet) == []
    for action in actions_of(sheet.dance):
        assert action.span is not None
        start, end = action.span
        assert 0 <= start < end <= len(sheet.text)
        at = [p for p in sheet.account.pieces if p.start < end and start < p.end]
        assert any(action.at in p.moments for p in at if p.role in ("event", "count")) or action.verb == "hold"


@settings(max_examples=120, deadline=None)
@given(st.text(max_size=300), st.integers(0, 3))
def test_no_character_of_any_text_is_lost(text: str, steps: int) -> None:
    text = "A Name\n" + "1-2 Step right forward, touch left beside right\n" * steps + text
    try:
        sheet = reading(text)
    except WordingError:
        assert [words for _, words in empty(text).kept] == [line for line in text.split("\n") if line.strip()]
    else:
        assert amiss_in(sheet) == []


words = st.sampled_from(sorted({" ".join(p) for listed in phrases().values() for p, _ in listed} | {"wibble", "zq"}))
line = st.builds(
    lambda c, ws, m: f"{c} {m.join(ws)}",
    st.sampled_from(
        ["1", "1-4", "5-8", "1&2", "&7", "(1)", "9-16", "S1", "arms:", "Tag (4 counts)", "* 2.", "", "|1|"]
    ),
    st.lists(words, max_size=7),
    st.sampled_from([" ", ", ", " & ", " | ", ". ", " (", "  "]),
)


@settings(max_examples=100, deadline=None)
@given(st.lists(line, min_size=1, max_size=14))
def test_no_word_of_the_trade_is_dropped_in_silence(rows: list[str]) -> None:
    try:
        sheet = reading("A Name\n" + "\n".join(rows))
    except WordingError:
        return
    assert amiss_in(sheet) == []


def came_from(text: str) -> list[tuple[str, str]]:
    """Return the counts of a sheet and the words each came from."""
    sheet = reading(text)
    return [(a.at.label, sheet.text[slice(*a.span)]) for a in sheet.dance.actions if a.span]


def test_the_steps_of_a_pattern_share_its_words() -> None:
    found = came_from("T\n1-4 Vine right with a touch\n5&6 shuffle left\n7-8 hold")
    assert found[:3] == [(n, "Vine right with a") for n in ("1", "2", "3")]
    assert found[3] == ("4", "touch")
    assert {words for _, words in found[4:7]} == {"shuffle left"}


def test_a_copy_came_from_the_words_that_ask_for_it() -> None:
    found = came_from("T\n1-4 walk R, L, R, touch L\n5-8 repeat 1-4 to the left")
    assert {words for _, words in found[4:]} == {"repeat 1-4 to the left"}


def test_what_is_held_over_a_range_came_from_the_range() -> None:
    assert came_from("T\n1-3 R heel forward\n4 R home") == [
        ("1", "R heel forward"), ("2", "1-3"), ("3", "1-3"), ("4", "R home"),
    ]  # fmt: skip


def test_arms_on_a_line_of_their_own_came_from_that_line() -> None:
    text = "T\n1-2 step R to side, touch L beside R\narms: push both hands forward on 1, rest them in the lap on 2"
    sheet = reading(text)
    arms = [(a.at.label, text[slice(*arm.span)]) for a in sheet.dance.actions for arm in a.arms if arm.span]
    assert arms == [("1", "push both hands forward on 1"), ("2", "rest them in the lap on 2")]


def test_the_cells_of_a_table_are_told_apart() -> None:
    text = "T\n| Section | Count | Feet | Arms |\n| A | 1-2 | R heel forward, R home | clap on 2 |"
    account = reading(text).account
    assert [(p.role, account.words(p)) for p in account.pieces if p.line == 3] == [
        ("heading", "| A |"), ("count", "1-2 |"), ("event", "R heel forward,"), ("event", "R home | clap on 2 |"),
    ]  # fmt: skip


def test_a_word_that_only_says_how_is_passed_over_and_a_strange_one_is_told() -> None:
    sheet = reading("T\n1-2 step right forward gracefully, touch left beside right flumptious")
    assert sheet.account.of("filler") == ("gracefully",)
    assert sheet.account.of("passed") == ("flumptious",)
    assert [(f.kind, f.line) for f in sheet.dance.findings if f.severity == "warning"] == [("unread", 2)]


def test_a_repeated_line_that_also_asks_for_a_change_tells_that_the_change_is_not_danced() -> None:
    sheet = reading("T\n1-4 walk R, L, R, L\n5-8 repeat 1-4 but kick on 4")
    assert sheet.account.of("kept") or any(a.verb == "kick" for a in sheet.dance.actions)
