"""Keeping, finding, taking in and giving out, as a person does it."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from repertoire.test_intake import SONG
from softshoe.music.document import song_json
from softshoe.repertoire import people

if TYPE_CHECKING:
    from pathlib import Path

    from cli.conftest import Softshoe

SECRET = "four words nobody guesses"


@pytest.fixture
def typed(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """What is typed unseen, answer by answer; scrypt with small numbers."""
    monkeypatch.setattr(people, "N", 2**4)
    monkeypatch.setattr(people, "LEAST_N", 2**4)
    answers: list[str] = []
    monkeypatch.setattr("click.termui.hidden_prompt_func", lambda _: answers.pop(0))
    return answers


def test_a_changed_sheet_becomes_a_new_text_and_the_change_is_told_in_counts(softshoe: Softshoe, sheet: Path) -> None:
    assert softshoe("keep", sheet).out.startswith("kept: Tin Kettle")
    assert "already kept (text 1)" in softshoe("keep", sheet).out
    sheet.write_text(sheet.read_text("utf-8").replace("R heel forward", "R toe tap forward"), encoding="utf-8")
    told = softshoe("keep", sheet).out
    assert "kept as text 2" in told
    assert "    count 1: “" in told
    assert softshoe("kept", "tin", "--text", 1).out.startswith("Tin Kettle\n8 counts")
    assert "since text 1: count 1" in softshoe("kept", "tin").out
    assert softshoe("kept", "tin", "--text", 9).code == 2


def test_two_texts_side_by_side_are_told_and_settled(softshoe: Softshoe, sheet: Path) -> None:
    words = sheet.read_text("utf-8")
    softshoe("keep", sheet)
    for change in ("R toe tap forward", "R kick forward"):
        sheet.write_text(words.replace("R heel forward", change), encoding="utf-8")
        told = softshoe("keep", sheet, "--based-on", 1).out
    assert "beside another" in told
    assert "2 texts side by side" in softshoe("find", "kettle").out
    assert "texts 2 and 3 stand side by side" in softshoe("kept", "tin").out
    sheet.write_text(words + "\nSettled.", encoding="utf-8")
    assert "kept as text 4" in softshoe("keep", sheet, "--based-on", 2, "--based-on", 3).out
    assert "side by side" not in softshoe("find", "kettle").out
    assert softshoe("keep", sheet, "--based-on", 9).code == 2


def test_what_she_adds_is_shown_and_found(softshoe: Softshoe, sheet: Path) -> None:
    softshoe("keep", sheet)
    softshoe(
        "kept", "tin", "--label", "#Christmas", "--note", "mind the heel", "--danced", "2026-05-03", "--group", "Ada's"
    )
    shown = softshoe("kept", "tin").out
    assert all(words in shown for words in ("#Christmas", "mind the heel", "2026-05-03 with Ada's"))
    assert json.loads(softshoe("find", "#christmas", "danced in 2026", "--json").out)["total"] == 1
    assert softshoe("kept", "tin", "--danced", "tomorrow").code == 2
    softshoe("kept", "tin", "--unlabel", "christmas")
    assert softshoe("find", "#christmas").code == 1
    assert softshoe("kept").code == softshoe("kept", "nobody").code == 2


def test_a_folder_is_taken_in_and_everything_goes_out_and_back(
    softshoe: Softshoe, sheet: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = sheet.parent / "old"
    folder.mkdir()
    (folder / "a.txt").write_bytes(sheet.read_bytes())
    (folder / "b.txt").write_text("Dear Ada,\nsee you on Tuesday.\n")
    (folder / "c.jpg").write_bytes(b"\xff\xd8\xff")
    told = softshoe("import", "old")
    assert told.code == 0
    assert told.out.startswith("3 files: 1 dances kept, 1 of them sound; 2 want a look")
    assert "No steps were found" in (sheet.parent / "softshoe-import.html").read_text("utf-8")
    assert json.loads(softshoe("import", "old", "--json").out)["needs"]
    assert softshoe("import", "nowhere").code == 2
    assert softshoe("export", "out").out == "out: 1 dances, 0 songs, 6 files\n"
    assert softshoe("export", "out").code == 2
    monkeypatch.setenv("SOFTSHOE_HOME", str(sheet.parent / "other"))
    assert "1 dances and 1 texts brought back" in softshoe("import", "out").out
    assert "Tin Kettle" in softshoe("find", "kettle").out


def test_a_backup_is_made_and_put_back(softshoe: Softshoe, sheet: Path) -> None:
    assert softshoe("backup").code == 2
    softshoe("keep", sheet)
    assert "1 dances in 1 texts" in softshoe("backup", "all.zip").out
    assert softshoe("backup", "all.zip").code == 2
    sheet.write_text(sheet.read_text("utf-8").replace("Tin", "Copper"), encoding="utf-8")
    softshoe("keep", sheet)
    assert "all.zip is back: 1 dances" in softshoe("restore", "all.zip", "--yes").out
    assert softshoe("find", "copper").code == 1
    name = next(line.split()[0] for line in softshoe("restore").out.splitlines() if line.startswith("before-restore"))
    assert "2 dances" in softshoe("restore", name, "--yes").out
    assert softshoe("restore", "nothing.zip", "--yes").code == 2


def test_notes_about_people_open_only_with_the_passphrase(softshoe: Softshoe, sheet: Path, typed: list[str]) -> None:
    softshoe("keep", sheet)
    assert softshoe("notes", "show").code == 2
    typed += [SECRET, SECRET]
    assert "noted about Ada" in softshoe("notes", "add", "Ada", "left knee").out
    assert softshoe("find", "knee").code == 1
    typed.append(SECRET)
    assert "Ada" in softshoe("find", "knee", "--notes").out
    typed.append("wrong wrong")
    wrong = softshoe("notes", "show")
    assert (wrong.code, wrong.out) == (2, "")
    softshoe("export", "out")
    assert not any(b"knee" in path.read_bytes() for path in (sheet.parent / "out").rglob("*") if path.is_file())
    typed.append(SECRET)
    softshoe("export", "with", "--people")
    assert "Ada" in (sheet.parent / "with" / "people.txt").read_text("utf-8")
    typed += [SECRET, "another sentence", "another sentence"]
    assert softshoe("notes", "passphrase").code == 0
    typed.append("another sentence")
    assert "1 note about Ada removed" in softshoe("notes", "forget", "Ada").out


def test_a_song_s_map_is_kept_and_listed(softshoe: Softshoe, sheet: Path) -> None:
    from fit.made_maps import made_map
    from softshoe.music.document import song_json

    song = sheet.parent / "Copper Lane.json"
    song.write_text(json.dumps(song_json(made_map([32, 32, 32]))), encoding="utf-8")
    assert softshoe("kept", "--songs").out.startswith("No song is kept")
    assert softshoe("keep", song).out.startswith("kept: Copper Lane")
    softshoe("keep", sheet)
    softshoe("kept", "tin", "--song", "copper")
    assert softshoe("kept", "--songs").out == "Copper Lane: 1 dance to it\n"
    assert "songs: Copper Lane" in softshoe("kept", "tin").out


def test_a_song_gets_labels_and_notes_and_a_dance_is_removed_and_put_back(
    softshoe: Softshoe, sheet: Path, tmp_path: Path
) -> None:
    softshoe("keep", sheet)
    song = tmp_path / "Copper Lane.json"
    song.write_text(json.dumps(song_json(SONG)), encoding="utf-8")
    softshoe("keep", song)
    told = softshoe("kept", "copper", "--as", "song", "--label", "slow", "--note", "the band's own").out
    assert "labels: #slow" in told
    assert "the band's own" in softshoe("kept", "copper", "--as", "song").out
    assert "no kept run has that name" in softshoe("kept", "abcdef", "--as", "run", "--note", "x").err
    assert softshoe("kept", "--anew").out.startswith("0 texts read anew")
    assert softshoe("remove", "tin", "--yes").out.startswith("removed: Tin Kettle")
    assert "no kept dance" in softshoe("kept", "tin").err
    assert "Tin Kettle: removed" in softshoe("remove", "--list").out
    assert softshoe("remove", "tin kettle", "--back").out == "put back: Tin Kettle\n"
    assert softshoe("kept", "tin").code == 0
