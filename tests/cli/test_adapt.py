from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest
from click.testing import CliRunner

from softshoe.adapt.cautions import cautions
from softshoe.cli.adapt import command
from softshoe.errors import WorkbenchError

if TYPE_CHECKING:
    from pathlib import Path

SHEET = """Lamp Post Lane
8 counts, 2 walls, beginner, 104 bpm

1-4 Vine right with a touch
5-6 Step left forward, pivot 1/2 right
7-8 Stomp left, stomp up right
"""


@pytest.fixture
def sheet(tmp_path: Path) -> str:
    path = tmp_path / "lamp_post.txt"
    path.write_text(SHEET, encoding="utf-8")
    return str(path)


def test_a_version_is_shown_with_changes_losses_effort_and_whom_to_ask(sheet: str) -> None:
    shown = CliRunner().invoke(command, [sheet, "--for", "no turning, no stamping", "--costs"])
    assert shown.exit_code == 0
    for words in (
        "For: no turning, no stamping.",
        "count 5:",
        "Rock and recover for the pivot. (common practice)",
        "What could not be kept:",
        "turn: 1 x",
        "Effort: moderate",
        "The sources disagree",
        "Stop and get help",
        "Hands stay at the shoulders or lower.",
    ):
        assert words in shown.output
    assert shown.output.rstrip().endswith(cautions()["stop_signs"].always_say + ".")
    assert "safe" not in shown.output


def test_the_events_of_a_version_come_as_json(sheet: str) -> None:
    shown = CliRunner().invoke(command, [sheet, "--to", "arms", "--json"])
    events = json.loads(shown.output)["events"]
    assert all(event["foot"] is None for event in events)


def test_questions_are_asked_and_the_answers_kept_in_a_file_that_leads_to_the_same(sheet: str, tmp_path: Path) -> None:
    kept = tmp_path / "tuesday.toml"
    answers = "y\nn\nn\nn\ny\n" + "n\n" * 20  # sit; feet dance; both legs; the left arm rests
    asked = CliRunner().invoke(command, [sheet, "--ask", "--keep", str(kept)], input=answers)
    assert asked.exit_code == 0
    assert "For: seated, left arm rests." in asked.output
    again = CliRunner().invoke(command, [sheet, "--to", str(kept)])
    assert asked.output.endswith(again.output)


def test_a_step_put_in_by_hand_that_breaks_the_wishes_is_told_and_ends_with_one(sheet: str) -> None:
    shown = CliRunner().invoke(command, [sheet, "--for", "no stamping", "--instead", "4=stomp L beside R"])
    assert shown.exit_code == 1
    assert "please check: count 4 asks for more than “no stamping”" in shown.output


@pytest.mark.parametrize("options", [[], ["--to", "seated", "--ask"], ["--to", "seatd"], ["--for", "blue cheese"]])
def test_what_cannot_be_used_is_told_with_what_would_mend_it(sheet: str, options: list[str]) -> None:
    shown = CliRunner().invoke(command, [sheet, *options])
    assert isinstance(shown.exception, WorkbenchError)
    assert shown.exception.mend
