"""A dance on a song says that song's intro, tags and restarts, like tags once."""

from __future__ import annotations

from fit.made_maps import dance_named, made_map
from softshoe.fit.lay import fit
from softshoe.fit.on_song import on_song


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
