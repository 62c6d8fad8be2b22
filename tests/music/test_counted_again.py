"""A song is heard once; every word of the listener's is answered from what was heard."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

import numpy as np
import pytest

from music.songs_made import Recipe, Song, common, made
from softshoe.music.by_model import ByModel
from softshoe.music.by_rule import ByRule
from softshoe.music.engine import Listener, engine
from softshoe.music.kept import SongsKept
from softshoe.music.listen import Hearsay, counted, hears
from softshoe.music.moved import moved, moved_said
from softshoe.music.songmap import Said

if TYPE_CHECKING:
    from pathlib import Path

pytestmark = pytest.mark.media
RECIPE = Recipe(common(rounds=1), bpm=112, style="disco")
LISTENERS: dict[str, Listener] = {"rules": ByRule(engine()), "model": ByModel()}


@cache
def song() -> Song:
    return made(RECIPE)


@cache
def heard(name: str) -> Hearsay:
    return hears(song().sound, by=LISTENERS[name])


@pytest.mark.parametrize("name", LISTENERS)
def test_what_was_heard_comes_back_from_its_arrays_and_is_counted_alike(name: str) -> None:
    kept = heard(name)
    again = Hearsay(LISTENERS[name].recalled(kept.heard.arrays()), kept.by, kept.seconds, onsets=kept.onsets)
    assert counted(again) == counted(kept)


@pytest.mark.parametrize("name", LISTENERS)
def test_a_marked_one_begins_an_eight(name: str) -> None:
    plain = counted(heard(name))
    one = plain.beats_s[plain.beats_s.index(plain.eights_s[6]) + 4]  # in the middle of an eight
    told = counted(heard(name), Said(ones_s=(one,)))
    assert one in told.eights_s
    assert told.said.ones_s == (one,)
    assert any("one at" in sentence for sentence in told.why)


@pytest.mark.parametrize("name", LISTENERS)
def test_a_first_count_said_later_is_exactly_the_first_count(name: str) -> None:
    at_s = round(float(song().beats[20]), 3)
    told = counted(heard(name), Said(first_count_s=at_s))
    assert told.first_count_s == at_s
    assert at_s in told.eights_s
    assert told.confidence.first_count == 1


@pytest.mark.parametrize("name", LISTENERS)
def test_taps_of_a_hand_that_is_late_all_the_way_leave_the_beats_where_they_are_heard(name: str) -> None:
    plain = counted(heard(name))
    told = counted(heard(name), Said(taps_s=tuple(beat + 0.1 for beat in plain.beats_s[8:40])))
    near = np.abs(np.subtract.outer(told.beats_s[8:40], plain.beats_s)).min(axis=1)
    assert near.max() < 0.04
    assert told.said.taps_s[0] == plain.beats_s[8] + 0.1


@pytest.mark.parametrize("name", LISTENERS)
def test_taps_between_the_beats_move_them_there(name: str) -> None:
    plain = counted(heard(name))
    between = [(a + b) / 2 for a, b in zip(plain.beats_s[8:48], plain.beats_s[9:49], strict=True)]
    told = counted(heard(name), Said(taps_s=tuple(between)))
    near = np.abs(np.subtract.outer(told.beats_s[12:40], between)).min(axis=1)
    assert np.median(near) < 0.05


def test_ones_that_can_t_all_be_are_told() -> None:
    beats = counted(heard("rules")).beats_s
    told = counted(heard("rules"), Said(ones_s=(beats[20], beats[27])))
    assert any(finding.kind == "one-not-kept" for finding in told.findings)


def test_the_word_of_the_listener_needs_no_second_hearing(monkeypatch: pytest.MonkeyPatch) -> None:
    kept = heard("rules")
    counted(kept)

    def deaf(*_: object, **__: object) -> None:
        raise AssertionError("the song was heard again")

    monkeypatch.setattr("softshoe.music.ear.spectra", deaf)
    monkeypatch.setattr("softshoe.music.counted.tracked", deaf)
    counted(kept, Said(first_count_s=9.6, metre=4))


def test_a_song_kept_in_a_folder_is_found_again_and_a_damaged_file_is_heard_anew(tmp_path: Path) -> None:
    shelf, kept, by = SongsKept(tmp_path / "heard"), heard("rules"), LISTENERS["rules"]
    recording = tmp_path / "song.wav"
    recording.write_bytes(b"any content")
    place = shelf.place(recording, (0.0, None), by.name)
    assert shelf.found(place, by, "song") is None
    shelf.keep(place, kept)
    found = shelf.found(place, by, "song")
    assert found is not None
    assert counted(found) == counted(kept)
    assert shelf.place(recording, (3.0, None), by.name) != place
    place.write_bytes(place.read_bytes()[:100])
    assert shelf.found(place, by, "song") is None


def test_the_other_ones_and_tempos_come_likeliest_first() -> None:
    others = counted(heard("rules")).alternatives
    assert [o.confidence for o in others] == sorted((o.confidence for o in others), reverse=True)
    assert any(o.first_count_s != counted(heard("rules")).first_count_s for o in others)


def test_times_move_together() -> None:
    plain = counted(heard("rules"), Said(first_count_s=9.6))
    later = moved(plain, 100.0)
    assert later.first_count_s == pytest.approx(109.6)
    assert np.subtract(later.beats_s, plain.beats_s) == pytest.approx(100.0)
    assert later.said == moved_said(plain.said, 100.0)
    assert moved(plain, 0.0) is plain
