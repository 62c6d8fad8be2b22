"""A dance on a song says that song's intro, tags and restarts, like tags once."""

from __future__ import annotations

from fit.made_maps import dance_named, made_map
from fit.planted import stepping
from softshoe.fit.lay import fit
from softshoe.fit.on_song import on_song
from softshoe.fit.pins import Pins, WallPin
from softshoe.fit.told import sheet_lines, wall_rows


def test_the_tag_found_in_the_song_takes_the_place_of_those_written_for_another() -> None:
    dance = dance_named("signal")
    run = fit(dance, made_map([32, 32, 36, 32, 32])).runs[0]
    told = on_song(dance, run)
    assert [(tag.walls, tag.after_count, tag.counts) for tag in told.tags] == [
        ((tag.after_wall,), tag.at_count, tag.counts) for tag in run.tags
    ]
    assert told.intro_counts == run.start.intro_counts
    assert told.actions == dance.actions


def test_a_tag_danced_alike_after_two_walls_is_told_once() -> None:
    dance = dance_named("cushion")
    run = fit(dance, made_map([32, 32, 36, 32, 32, 36, 32])).runs[0]
    told = on_song(dance, run)
    assert sum(len(tag.walls) for tag in told.tags) == len(run.tags)
    assert len(told.tags) == len({(tag.at_count, tag.counts, tag.actions) for tag in run.tags})


def test_a_restart_with_a_tag_is_told_in_one_line_and_danced_again_as_written() -> None:
    dance = stepping(32, turn_deg=90)
    song = made_map([32, 32, 20, 32, 32, 32, 32])
    run = fit(dance, song, pins=Pins(walls={3: WallPin(16, ((16, 4),))})).runs[0]
    lines = sheet_lines(dance, run)
    assert any(line.startswith("Tag: after count 16 of wall 3, facing 6:00, add 4 counts: ") for line in lines)
    assert not any(line.startswith("Restart") for line in lines)
    assert "after count 16 a tag of 4, then restart" in [row.happens for row in wall_rows(dance, run, song)]
    again = fit(on_song(dance, run), song).runs[0]
    assert [(wall.wall, wall.start_s, wall.counts) for wall in again.walls] == [
        (wall.wall, wall.start_s, wall.counts) for wall in run.walls
    ]


def test_where_no_cut_alone_reaches_the_next_phrase_a_tag_behind_the_cut_does() -> None:
    dance = stepping(32, turn_deg=90, section=16)
    best = fit(dance, made_map([32, 32, 18, 32, 32, 32, 32])).runs[0]
    assert [(cut.wall, cut.after_count) for cut in best.restarts] == [(3, 16)]
    assert [(tag.after_wall, tag.at_count, tag.counts) for tag in best.tags] == [(3, 16, 2)]
