"""Advice is tried, never canned: what is promised comes back when the changed dance is fitted."""

from __future__ import annotations

import pytest

from fit.made_maps import all_dances, dance_named, made_map
from fit.planted import stepping
from softshoe.dance.footwork import net_turn_deg
from softshoe.fit.advice import advice
from softshoe.fit.changed import holds, made_of, repeated, shortened, swapped
from softshoe.fit.lay import fit
from softshoe.fit.match import estimated, matched
from softshoe.fit.material import fillings, keeps

DANCES = [dance for dance in all_dances() if dance.sections]


def test_a_dance_of_32_on_phrases_of_24_is_told_to_be_cut() -> None:
    dance, song = stepping(32), made_map([24] * 10)
    now = fit(dance, song).runs[0].score.total
    found = advice(dance, song, now)
    assert "Cut the dance to 24 counts" in found[0].words
    assert found[0].total == 100
    for one in found:
        assert one.run is not None
        assert one.total == one.run.score.total >= now + 5


def test_another_start_and_another_song_are_tried() -> None:
    dance = stepping(32)
    late = made_map([32] * 6, intro=32)
    song = made_map([32] * 6)
    found = advice(dance, song, 60.0, songs=[("plain", late)])
    assert {"song", "start"} <= {one.kind for one in found}


def test_a_song_a_little_too_fast_is_to_be_played_slower() -> None:
    (found,) = advice(stepping(32), made_map([32] * 6, bpm=138), 100.0)
    assert found.kind == "tempo"
    assert "Play it at 94% of its tempo, slower" in found.words


@pytest.mark.parametrize("dance", DANCES, ids=lambda dance: dance.title)
def test_a_changed_dance_keeps_its_footwork_and_its_counts(dance) -> None:  # type: ignore[no-untyped-def]
    assert made_of(dance, range(len(dance.sections))).actions == dance.actions
    for change in (swapped, repeated, shortened):
        for words, changed in change(dance):
            assert words
            assert holds(changed)
            assert changed.counts == sum(int(section.length.n) for section in changed.sections)
            if change is swapped:
                assert net_turn_deg(changed) == net_turn_deg(dance)


@pytest.mark.parametrize("dance", DANCES, ids=lambda dance: dance.title)
def test_every_filling_of_a_tag_gives_the_weight_back(dance) -> None:  # type: ignore[no-untyped-def]
    for counts in (3, 6) if dance.metre == "3/4" else (2, 4, 8):
        offered = fillings(dance, counts)
        assert offered
        assert all(keeps(dance, one.actions) and one.words for one in offered)


def test_the_last_four_counts_are_offered_once_more_where_the_foot_allows_it() -> None:
    words = [one.words for one in fillings(dance_named("tea_trolley"), 4)]
    assert "dance the last four counts of the wall once more" in words


def test_the_quick_look_leaves_out_what_cannot_be_and_finds_what_fits() -> None:
    dances = [("a waltz", dance_named("millpond")), ("32", stepping(32)), ("24", stepping(24))]
    songs = [("threes", made_map([24] * 8)), ("fours", made_map([32] * 8)), ("fast", made_map([32] * 8, bpm=140))]
    found = matched(iter(dances), iter(songs))
    best = {(match.dance, match.song) for match in found.matches if match.run.score.total == 100}
    assert best >= {("24", "threes"), ("32", "fours")}
    assert found.left_out["metre"] == 3
    assert found.left_out["tempo"] == 2


def test_the_estimate_of_a_plain_song_is_nothing() -> None:
    assert estimated(((32.0, 1.0),) * 8, 32, 1.0, three=False) == 0
    assert estimated(((32.0, 1.0),) * 8, 64, 1.0, three=False) == 0
    assert estimated(((24.0, 1.0),) * 8, 32, 1.0, three=False) > 0
