"""Old sheets are taken in with their originals, each told by what it needs; what goes out comes back without a loss."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
import zipfile
from dataclasses import replace
from pathlib import Path
from random import Random

import pytest

from softshoe.errors import SettingError, UnreadableError
from softshoe.fit.lay import fit
from softshoe.music.songmap import Confidence, Said, SongMap
from softshoe.repertoire import intake_read, originals
from softshoe.repertoire.beside import put_danced, put_label, put_note, put_song_link
from softshoe.repertoire.export import export
from softshoe.repertoire.export_read import read_back
from softshoe.repertoire.find import find
from softshoe.repertoire.intake import Intake, take_in
from softshoe.repertoire.intake_report import needs, report_html, report_json, strange_words
from softshoe.repertoire.songs import keep_lesson, keep_run, keep_song
from softshoe.repertoire.store import Repertoire
from softshoe.repertoire.values import Danced
from softshoe.teach.lesson import Lesson
from softshoe.wording.read import read

SHEETS = Path(__file__).parents[1] / "sheets"
TIN = "Tin Kettle\n8 counts, 1 wall\n1-4 Vine right, touch left beside right\n5-8 Vine left, touch right beside left\n"
WORD = '<w:document xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main"><w:body>{}</w:body></w:document>'
BEATS = tuple(round(1 + k * 0.6, 4) for k in range(200))
SONG = SongMap(BEATS, BEATS[::4], BEATS[::8], BEATS[::32], BEATS[32], BEATS[-1] + 1, 100.0, 4,
               Confidence(1, 1, 1, 1, 1, 1, (1.0,) * len(BEATS[::32])))  # fmt: skip


def docx(path: Path, words: str) -> None:
    lines = "".join(f"<w:p><w:r><w:t>{line}</w:t></w:r></w:p>" for line in words.splitlines())
    with zipfile.ZipFile(path, "w") as pack:
        pack.writestr("word/document.xml", WORD.format(lines))


@pytest.fixture
def old(tmp_path: Path) -> Path:
    """A folder as it lies about after twenty years."""
    folder = tmp_path / "old sheets"
    (folder / "2009" / ".cache").mkdir(parents=True)
    (folder / "tin.txt").write_text(TIN, encoding="utf-8")
    (folder / "2009" / "tin kettle copy.txt").write_text(TIN, encoding="utf-8")
    (folder / "tin newer.md").write_text(
        TIN.replace("1 wall", "1 wall, beginner").replace("5-8 Vine left", "5-8 Same left")
    )
    (folder / "other tin.txt").write_text("Tin Kettle\n1-2 Heel right forward, together\n3-4 Clap, clap\n")
    docx(
        folder / "barge.docx",
        "Barge Lane\n1-4 Walk forward right, left, right, kick left\n5-8 Walk back left, right, left, touch right",
    )
    (folder / "mended.txt").write_text(
        "Wrong Foot\n1-4 Walk forward right, left, right, hitch right\n5-8 Walk back left, right, left, touch\n"
    )
    (folder / "letter.txt").write_text("Dear Ada,\nsee you on Tuesday.\n")
    (folder / "scan.jpg").write_bytes(b"\xff\xd8\xff" + b"0" * 50)
    (folder / "song.mp3").write_bytes(b"ID3")
    (folder / "broken.docx").write_bytes(b"PK\x03\x04 cut short")
    (folder / "2009" / ".cache" / "hidden.txt").write_text(TIN)
    for age, name in enumerate(("tin.txt", "other tin.txt", "tin newer.md")):
        os.utime(folder / name, (1e9 + age, 1e9 + age))
    return folder


@pytest.fixture
def kept(tmp_path: Path) -> Repertoire:
    return Repertoire.at(tmp_path / "home")


def outcomes(done: Intake) -> dict[str, str]:
    return {one.path: one.outcome for one in done.files}


def test_each_file_of_a_folder_is_told_for_what_it_is(kept: Repertoire, old: Path) -> None:
    assert outcomes(take_in(kept, old)) == {
        "2009/tin kettle copy.txt": "same words", "barge.docx": "kept", "broken.docx": "unreadable",
        "letter.txt": "no dance", "mended.txt": "kept", "other tin.txt": "same title", "scan.jpg": "scan",
        "song.mp3": "left", "tin newer.md": "another text", "tin.txt": "kept",
    }  # fmt: skip
    assert sorted(title for title, _ in kept.all()) == ["Barge Lane", "Tin Kettle", "Tin Kettle", "Wrong Foot"]


def test_the_original_is_kept_byte_for_byte_and_the_folder_is_left_alone(kept: Repertoire, old: Path) -> None:
    before = {path: path.read_bytes() for path in old.rglob("*") if path.is_file()}
    done = take_in(kept, old)
    barge = next(one for one in done.files if one.path == "barge.docx")
    (text,) = kept.dance(barge.dance).texts
    assert originals.got(kept.folder, text.original) == (old / "barge.docx").read_bytes()
    assert text.source == "barge.docx"
    assert {path: path.read_bytes() for path in old.rglob("*") if path.is_file()} == before


def test_a_folder_may_be_named_from_where_one_is(kept: Repertoire, old: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(old.parent)
    assert len({one.dance for one in take_in(kept, Path(old.name)).files if one.dance}) == 4


def test_the_same_folder_twice_is_one(kept: Repertoire, old: Path) -> None:
    take_in(kept, old)
    again = outcomes(take_in(kept, old))
    assert {again[name] for name in ("tin.txt", "barge.docx", "tin newer.md", "2009/tin kettle copy.txt")} == {"known"}
    assert len(kept.all()) == 4


def test_the_report_groups_by_what_is_needed_and_names_every_file_once(kept: Repertoire, old: Path) -> None:
    done = take_in(kept, old)
    grouped = {need.name: [one.path for one in need.files] for need in needs(done)}
    assert grouped["weight"] == ["mended.txt"]
    assert grouped["no dance"] == ["letter.txt"]
    assert sorted(path for paths in grouped.values() for path in paths) == sorted(outcomes(done))
    page = report_html(done)
    assert "/dance/" not in page
    in_studio = report_html(done, studio=True)
    for one in done.files:
        for finding in one.findings if one.dance else ():
            assert finding.line is None or f'href="/dance/{one.dance}/write#line-{finding.line}"' in in_studio
    assert "#line-" in in_studio
    assert all(one.path in page for one in done.files)
    json.dumps(report_json(done))


def test_a_word_met_in_several_sheets_is_told_once_for_all(kept: Repertoire, tmp_path: Path) -> None:
    folder = tmp_path / "slips"
    folder.mkdir()
    for name in ("one", "two"):
        (folder / f"{name}.txt").write_text(f"{name}\n1-2 Step right forward, step left together\n3-4 Vnie right\n")
    assert strange_words(take_in(kept, folder)) == [("vnie", 2)]


def test_many_sheets_are_read_in_several_processes_to_the_same_end(kept: Repertoire, tmp_path: Path) -> None:
    folder = SHEETS / "own"
    assert len(list(folder.glob("*.txt"))) > intake_read.FEW
    many = take_in(kept, folder, workers=2)
    one = take_in(Repertoire.at(tmp_path / "one"), folder, workers=1)
    assert [replace(a, dance="") for a in many.files] == [replace(b, dance="") for b in one.files]


def test_a_sheet_that_breaks_its_reader_is_told_and_the_others_are_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(intake_read, "_read", breaking)
    paths = [tmp_path / f"{k}.txt" for k in range(4)]
    with intake_read.reader(2, 100) as reading:
        told = {path.name: sheet.why for path, sheet in reading(paths)}
    assert told == {
        "0.txt": "read",
        "1.txt": "the reader broke off in the middle of it",
        "2.txt": "read",
        "3.txt": "read",
    }


def breaking(path: Path) -> intake_read.ReadSheet:
    if path.name == "1.txt":
        os._exit(1)
    return intake_read.ReadSheet(why="read")


def test_a_sheet_that_takes_far_too_long_is_stopped(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(intake_read, "LONGEST_S", 1)
    monkeypatch.setattr(intake_read, "_read", lambda _: time.sleep(30))
    assert intake_read.read_sheet(tmp_path / "slow.txt").what == "reading it took too long"


def test_a_folder_that_is_not_there_is_told(kept: Repertoire, tmp_path: Path) -> None:
    with pytest.raises(SettingError, match="no such folder"):
        take_in(kept, tmp_path / "nowhere")


TAKING = """
import sys
from pathlib import Path
from softshoe.repertoire.intake import take_in
from softshoe.repertoire.store import Repertoire
take_in(Repertoire.at(Path(sys.argv[1])), Path(sys.argv[2]), told=lambda done, of: print(done, flush=True), workers=1)
"""


def test_an_import_that_was_killed_goes_on_where_it_ended(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder, home = tmp_path / "many", tmp_path / "home"
    folder.mkdir()
    for k in range(30):
        (folder / f"{k:03}.txt").write_text(TIN.replace("Tin Kettle", f"Tin Kettle {k}"))
    program = subprocess.Popen(
        [sys.executable, "-c", TAKING, str(home), str(folder)], stdout=subprocess.PIPE, text=True
    )
    assert program.stdout
    said = int(program.stdout.readline())
    time.sleep(Random(3).random() * 0.2)
    program.send_signal(signal.SIGKILL)
    rest = program.stdout.read().split()
    program.wait()
    program.stdout.close()
    kept = Repertoire.at(home)
    assert len(kept.all()) >= int(rest[-1] if rest else said)
    done = take_in(kept, folder, workers=1)
    assert {one.outcome for one in done.files} <= {"kept", "known"}
    assert len(kept.all()) == 30
    assert find(kept, "kettle").total == 30


def full(home: Path) -> Repertoire:
    """A repertoire with one of everything, a dance with two heads among it."""
    kept = Repertoire.at(home)
    first = kept.keep(TIN, read(TIN))
    for change in ("5-8 Same left", "5-8 Same to the left\n"):
        words = TIN.replace("5-8 Vine left, touch right beside left", change)
        kept.edit(first.dance, words, read(words), based_on=(first.text,))
    kept.keep("Ohne Titel\r\n1 Schritt rechts vor\n\n\n½ ♥", read("Other\n1 Step right forward"), source="alt.txt")
    run = fit(read(TIN), SONG, most=1).runs[0]
    with kept.writing() as base:
        song = keep_song(base, "Copper Lane", SONG)
        keep_song(base, "Copper Lane", replace(SONG, said=Said(metre=4)), uid=song)
        put_label(base, "dance", first.dance, "Christmas")
        put_label(base, "song", song, "slow")
        put_note(base, "dance", first.dance, "mind the touch", "2026-01-01T00:00:00+00:00")
        put_song_link(base, first.dance, song, "the old recording")
        put_danced(base, first.dance, Danced("2026-05-03", "Tuesday", "Copper Lane"))
        uid = keep_run(base, first.text, song, run)
        keep_lesson(base, Lesson("Tin Kettle", 10.0, (), (), ()), run=uid)
    return kept


def tree(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_what_is_exported_comes_back_without_a_loss(old: Path, tmp_path: Path) -> None:
    kept = full(tmp_path / "home")
    take_in(kept, old)
    export(kept, tmp_path / "out")
    there = Repertoire.at(tmp_path / "there")
    read_back(there, tmp_path / "out")
    export(there, tmp_path / "again")
    assert tree(tmp_path / "again") == tree(tmp_path / "out")
    assert [hit.texts for hit in find(there, "#christmas").hits] == [2]


def test_an_export_brought_back_twice_or_beside_changes_overwrites_nothing(tmp_path: Path) -> None:
    kept = full(tmp_path / "home")
    export(kept, tmp_path / "out")
    read_back(kept, tmp_path / "out")
    export(kept, tmp_path / "again")
    assert tree(tmp_path / "again") == tree(tmp_path / "out")
    other = Repertoire.at(tmp_path / "other")
    read_back(other, tmp_path / "out")
    (uid,) = [hit.uid for hit in find(kept, "#christmas").hits]
    for where, words in ((kept, TIN + "here\n"), (other, TIN + "there\n")):
        where.edit(uid, words, read(TIN), based_on=(where.dance(uid).newest.uid,))
    export(other, tmp_path / "changed")
    read_back(kept, tmp_path / "changed")
    assert {text.words for text in kept.dance(uid).heads} >= {TIN + "here\n", TIN + "there\n"}


def test_an_export_can_be_read_without_this_program(tmp_path: Path) -> None:
    export(full(tmp_path / "home"), tmp_path / "out")
    assert (tmp_path / "out/dances/tin-kettle/text-1.txt").read_text("utf-8") == TIN
    assert json.loads((tmp_path / "out/dances/tin-kettle/text-1.json").read_bytes())["counts"] == 8
    assert json.loads((tmp_path / "out/songs/copper-lane.json").read_bytes())["tempo"] == 100.0
    checked = subprocess.run(["sha256sum", "--quiet", "-c", "checksums.txt"], cwd=tmp_path / "out", check=False)
    assert checked.returncode == 0


@pytest.mark.parametrize(
    "name", ["dances/tin-kettle/text-1.txt", "songs/copper-lane.json", "checksums.txt", "softshoe-export.json"]
)
def test_an_export_that_was_changed_brings_nothing_back(tmp_path: Path, name: str) -> None:
    export(full(tmp_path / "home"), tmp_path / "out")
    with (tmp_path / "out" / name).open("ab") as file:
        file.write(b"more")
    there = Repertoire.at(tmp_path / "there")
    with pytest.raises(UnreadableError, match="not as it was written"):
        read_back(there, tmp_path / "out")
    assert there.all() == ()


def test_an_export_never_mixes_with_other_files_and_leaves_nothing_half(tmp_path: Path) -> None:
    kept = full(tmp_path / "home")
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "mine.txt").write_text("mine")
    with pytest.raises(SettingError, match="something in this folder"):
        export(kept, tmp_path / "out")
    originals.put(kept.folder, b"x")
    assert [path.name for path in (tmp_path / "out").iterdir()] == ["mine.txt"]
    assert not list(tmp_path.glob(".part-*"))


def test_a_report_is_whole_after_a_kill_where_a_journal_was_kept(old: Path, tmp_path: Path) -> None:
    whole = take_in(Repertoire.at(tmp_path / "one"), old, journal=tmp_path / "one.jsonl")
    kept = Repertoire.at(tmp_path / "two")
    take_in(kept, old, journal=tmp_path / "two.jsonl")
    with (tmp_path / "two.jsonl").open("a") as torn:
        torn.write('{"path": "cut sh')
    again = take_in(kept, old, journal=tmp_path / "two.jsonl")
    plain = [replace(one, dance="") for one in again.files]
    assert plain == [replace(one, dance="") for one in whole.files]
