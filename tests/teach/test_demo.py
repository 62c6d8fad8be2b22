"""The dance and song that come with the package, from sheet and score to what is said."""

from __future__ import annotations

from dataclasses import replace
from importlib.resources import files
from typing import TYPE_CHECKING

import pytest

from fit.made_maps import made_map
from softshoe.adapt.adapt import adapt
from softshoe.fit.lay import fit
from softshoe.fit.timeline import timeline
from softshoe.music.songmap import SongMap
from softshoe.render.demo_song import demo_truth
from softshoe.teach.at_tempo import at_tempo
from softshoe.teach.walkthrough import every_piece, walkthrough
from softshoe.wording.read import read

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance


@pytest.fixture(scope="module")
def dance() -> Dance:
    return read((files("softshoe") / "data" / "demo" / "sheet.txt").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def song() -> SongMap:
    truth, plain = demo_truth(), made_map([32])
    return SongMap(
        beats_s=tuple(truth["beats"]),
        downbeats_s=tuple(truth["downbeats"]),
        eights_s=tuple(truth["eights"]),
        phrases_s=tuple(truth["phrases"]),
        first_count_s=truth["first_count"],
        end_s=truth["end"],
        tempo_bpm=truth["tempo"],
        metre=4,
        confidence=plain.confidence,
    )


def test_the_demo_song_asks_for_a_tag_of_four_after_wall_four_and_a_pose_on_its_last_chord(
    dance: Dance, song: SongMap
) -> None:
    result = fit(dance, song)
    best = result.runs[0]
    assert [w.counts for w in best.walls] == [32] * 6
    assert [(t.after_wall, t.counts) for t in best.tags] == [(4, 4)]
    assert best.restarts == ()
    assert best.ending is not None
    assert best.ending.time_s == pytest.approx(10.0 + (6 * 32 + 4) * 0.6)
    assert not [f for f in result.findings if f.severity == "error"]


def test_the_demo_walkthrough_lasts_five_minutes_at_most(dance: Dance, song: SongMap) -> None:
    versions = {kind: adapt(dance, kind) for kind in ("standing", "seated")}
    lesson = walkthrough(dance, versions, fit(dance, song).runs[0], song)
    assert 180 < lesson.length_s <= 300
    assert lesson.passages[0].title == dance.title


def test_the_demo_is_called_as_a_leader_calls_it(dance: Dance, song: SongMap) -> None:
    run = fit(dance, song).runs[0]
    lesson = at_tempo(dance, adapt(dance, "seated"), run, song, timeline(dance, run, song))
    calls = [cue.words for cue in lesson.cues if cue.voice == "cue"]
    assert calls[:8] == [
        "first, heels",
        "points, hands push and pull",
        "march, hands swing",
        "heels up, claps",
        "circle right, right hand too",
        "circle left, left hand too",
        "toes, open and cross arms",
        "roll, pat, clap",
    ]
    assert calls[-6:] == [
        "sways",
        "from the top, heels",
        "circle right",
        "last time, heels",
        "circle right",
        "and finish, arms open",
    ]


def test_a_tag_is_told_by_ear_where_the_song_map_is_sure_of_its_parts(dance: Dance, song: SongMap) -> None:
    versions = {kind: adapt(dance, kind) for kind in ("standing", "seated")}
    run = fit(dance, song).runs[0]

    def told(sure: float) -> list[str]:
        heard = replace(song, confidence=replace(song.confidence, phrases=(sure,) * len(song.phrases_s)))
        pieces = every_piece(dance, versions, run, heard)
        return [words for piece in pieces if piece.kind == "tag" for words in piece.remarks]

    assert told(0.99)[-1] == "You hear it end: then a new part of the song begins."
    assert not [words for words in told(0.5) if "hear" in words]
