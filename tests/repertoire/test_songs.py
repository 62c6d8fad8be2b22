"""Songs, runs and lessons are kept with what was said of them, and a dance knows its songs."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from softshoe.errors import SettingError
from softshoe.fit.lay import fit
from softshoe.music.songmap import Confidence, Said, SongMap
from softshoe.repertoire.beside import put_song_link
from softshoe.repertoire.find import find
from softshoe.repertoire.named import named
from softshoe.repertoire.songs import keep_lesson, keep_run, keep_song, kept_song, lessons, runs_of
from softshoe.repertoire.store import Repertoire
from softshoe.teach.lesson import Lesson
from softshoe.wording.read import read

if TYPE_CHECKING:
    from pathlib import Path

BEATS = tuple(round(1 + k * 0.6, 4) for k in range(200))
SONG = SongMap(BEATS, BEATS[::4], BEATS[::8], BEATS[::32], BEATS[32], BEATS[-1] + 1, 100.0, 4,
               Confidence(1, 1, 1, 1, 1, 1, (1.0,) * len(BEATS[::32])))  # fmt: skip
SHEET = "Tin Kettle\n4 walls, 100 bpm\n1-4 Vine right, touch left beside right\n5-8 Vine left, touch right beside left"


@pytest.fixture
def kept(tmp_path: Path) -> Repertoire:
    return Repertoire.at(tmp_path)


def test_a_song_keeps_every_map_and_what_the_listener_said(kept: Repertoire) -> None:
    with kept.writing() as base:
        uid = keep_song(base, "Copper Lane", SONG, content="a" * 64)
        keep_song(base, "Copper Lane", replace(SONG, said=Said(first_count_s=3.4)), content="a" * 64)
        keep_song(base, "Another name", replace(SONG, said=Said(first_count_s=3.4)), content="a" * 64)
        song = kept_song(base, uid)
    assert (song.title, len(song.maps), song.map.said.first_count_s) == ("Copper Lane", 2, 3.4)
    assert song.recording == ""


def test_runs_and_lessons_come_back_and_are_kept_once(kept: Repertoire) -> None:
    dance = read(SHEET)
    put = kept.keep(SHEET, dance)
    run = fit(dance, SONG, most=1).runs[0]
    lesson = Lesson("Tin Kettle", 10.0, (), (), ())
    with kept.writing() as base:
        song = keep_song(base, "Copper Lane", SONG)
        uid = keep_run(base, put.text, song, run)
        assert keep_run(base, put.text, song, run) == uid
        keep_lesson(base, lesson, run=uid)
        keep_lesson(base, lesson, run=uid)
        (one,) = runs_of(base, put.dance)
        (taught,) = lessons(base)
    assert [wall.counts for wall in one.run.walls] == [wall.counts for wall in run.walls]
    assert (taught.lesson, taught.run) == (lesson, uid)


def test_a_dance_knows_its_songs_and_what_fits_a_song_is_found(kept: Repertoire) -> None:
    put = kept.keep(SHEET, read(SHEET))
    waltz = "Barge\n3/4, 1 wall\n1-3 Waltz basic forward left\n4-6 Waltz basic back right"
    kept.keep(waltz, read(waltz))
    with kept.writing() as base:
        song = keep_song(base, "Copper Lane", SONG)
        put_song_link(base, put.dance, song, "slowed a little")
        assert named(base, "copper", what="song") == song
    assert kept.dance(put.dance).songs[0].words == "slowed a little"
    found = find(kept, "fits Copper Lane")
    assert [hit.title for hit in found.hits] == ["Tin Kettle"]
    suits, quick = found.hits[0].suits, find(kept, "fits copper", fitted=False).hits[0].suits
    assert suits is not None
    assert suits.fitted
    assert quick is not None
    assert not quick.fitted


def test_a_name_that_none_or_several_have_is_told(kept: Repertoire) -> None:
    for words in (SHEET, SHEET.replace("Tin Kettle", "Tin Kettle Two"), SHEET.replace("Tin Kettle", "Tin Lane")):
        kept.keep(words, read(words))
    with kept.reading() as base:
        assert named(base, "TIN KETTLE") == named(base, named(base, "tin kettle"))
        with pytest.raises(SettingError, match="several dances have that name"):
            named(base, "tin")
        with pytest.raises(SettingError, match="did you mean “Tin Lane”"):
            named(base, "Tin Lene")
