"""The command line answers in plain words, with the right exit code, whatever is asked."""

from __future__ import annotations

import json
import subprocess
import sys
from typing import TYPE_CHECKING

import pytest

from softshoe.cli.main import COMMANDS

if TYPE_CHECKING:
    from pathlib import Path

    from .conftest import Softshoe


def test_help_lists_every_command(softshoe: Softshoe) -> None:
    answer = softshoe("--help")
    assert answer.code == 0
    assert all(name in answer.out for name in COMMANDS)


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_has_help(softshoe: Softshoe, name: str) -> None:
    assert softshoe(name, "--help").code == 0


def test_a_mistyped_command_is_answered_with_the_nearest(softshoe: Softshoe) -> None:
    answer = softshoe("maek")
    assert answer.code == 2
    assert "did you mean “softshoe make”" in answer.err


def test_the_help_loads_none_of_the_heavy_rooms() -> None:
    heavy = "'numpy', 'av', 'rich', 'typst', 'librosa'"
    code = f"import sys, softshoe.cli.main; sys.exit(any(m in sys.modules for m in ({heavy})))"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_read_says_every_count_and_ends_with_0_for_a_sound_sheet(softshoe: Softshoe, sheet: Path) -> None:
    answer = softshoe("read", sheet)
    assert answer.code == 0, answer.out
    assert "Tin Kettle" in answer.out


def test_read_json_has_an_event_a_count(softshoe: Softshoe, sheet: Path) -> None:
    doc = json.loads(softshoe("read", sheet, "--json").out)
    assert [event["t"] for event in doc["events"]] == [str(n) for n in range(8)]


def test_read_ends_with_1_when_something_is_wrong(softshoe: Softshoe, sheet: Path) -> None:
    sheet.write_text(sheet.read_text(encoding="utf-8").replace("5-8", "6-8"), encoding="utf-8")
    assert softshoe("read", sheet).code == 1


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16", "cp1252"])
def test_a_sheet_in_another_encoding_reads_the_same(softshoe: Softshoe, sheet: Path, encoding: str) -> None:
    plain = json.loads(softshoe("read", sheet, "--json").out)
    sheet.write_text(sheet.read_text(encoding="utf-8").replace("Tin Kettle", "Café Kettle"), encoding=encoding)
    other = json.loads(softshoe("read", sheet, "--json").out)
    assert other["title"] == "Café Kettle"
    assert other["events"] == plain["events"]


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "empty"),
        (b"   \n\n", "empty"),
        (b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n1 0 obj", "PDF"),
        (b"\xff\xd8\xff\xe0\x00\x10JFIF" + bytes(200), "picture"),
        (b"PK\x03\x04" + bytes(200), ""),
        (bytes(range(256)) * 20, ""),
    ],
)
def test_what_is_no_sheet_is_said_with_where_why_and_mend(
    softshoe: Softshoe, sheet: Path, content: bytes, words: str
) -> None:
    sheet.write_bytes(content)
    answer = softshoe("read", sheet)
    assert answer.code == 2
    assert sheet.name in answer.err
    assert "why:" in answer.err
    assert "mend:" in answer.err
    assert words.casefold() in answer.err.casefold()


@pytest.mark.parametrize("command", ["read", "listen"])
def test_a_file_that_is_not_there_is_said(softshoe: Softshoe, command: str) -> None:
    answer = softshoe(command, "no such file.txt")
    assert answer.code == 2
    assert "no such file.txt" in answer.err


@pytest.mark.parametrize("command", ["read", "listen"])
def test_a_folder_in_place_of_a_file_is_said(softshoe: Softshoe, command: str, tmp_path: Path) -> None:
    answer = softshoe(command, tmp_path)
    assert answer.code == 2
    assert "folder" in answer.err


@pytest.mark.parametrize(("option", "value"), [("--tempo", "0"), ("--tempo", "9000"), ("--first-count", "-3")])
def test_a_listener_s_word_that_can_t_be_is_refused(
    softshoe: Softshoe, option: str, value: str, tmp_path: Path
) -> None:
    song = tmp_path / "song.wav"
    song.write_bytes(b"RIFF")
    answer = softshoe("listen", song, option, value)
    assert answer.code == 2
    assert option in answer.err


def test_a_kept_dance_is_found_again(softshoe: Softshoe, sheet: Path) -> None:
    assert softshoe("find").code == 1
    assert softshoe("keep", sheet).code == 0
    assert "Tin Kettle" in softshoe("find", "kett").out


def test_a_class_is_planned_from_sheets(softshoe: Softshoe, sheet: Path) -> None:
    answer = softshoe("plan", sheet, "--minutes", 45)
    assert answer.code == 0
    assert "Warm-up" in answer.out
    assert "clinician" in answer.out
