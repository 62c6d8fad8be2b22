"""Common practice of the trade (no source), with numbers of our own where the trade has none: sums worked by hand.

Each row: the song's phrases after the intro in counts, the dance's length, where repairs must fall, how many walls. The
answers were counted on paper, not by the program.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from fit.made_maps import dance_named, made_map
from softshoe.dance.action import Action
from softshoe.dance.counts import Count, Counts
from softshoe.dance.dance import Dance, Section
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.places import Direction
from softshoe.fit.lay import fit
from softshoe.fit.tempo import Band, counting


def plain_dance(counts: int) -> Dance:
    """Steps in place, right and left in turn: the leading foot is free after every even count."""
    feet = (Foot.RIGHT, Foot.LEFT)
    actions = tuple(
        Action(Count(Fraction(n)), feet[(n - 1) % 2], "step", Direction.IN_PLACE) for n in range(1, counts + 1)
    )
    sections = tuple(Section(k + 1, Count(Fraction(8 * k + 1)), Counts(Fraction(8))) for k in range(counts // 8))
    return replace(
        dance_named("copper_kettle"),
        counts=counts,
        walls=1,
        tempo_bpm=None,
        start_weight=Weight.LEFT,
        sections=sections,
        actions=actions,
    )


SONGS = [
    # phrases after the intro, dance, restarts (wall, after count), tags (after wall, counts), walls
    ([32] * 10, 32, [], [], 10),
    ([32, 32, 16, 32, 32, 16, 32, 32], 32, [(3, 16), (6, 16)], [], 8),
    ([32, 32, 36, 32, 32, 36, 32], 32, [], [(3, 4), (6, 4)], 7),
    ([64, 48, 64, 48, 32], 32, [(4, 16), (8, 16)], [], 9),
    ([64, 48, 64, 48, 32], 64, [(2, 48), (4, 48)], [], 5),
]


@pytest.mark.parametrize(("phrases", "counts", "restarts", "tags", "walls"), SONGS)
def test_repairs_fall_where_a_leader_would_count_them(
    phrases: list[int],
    counts: int,
    restarts: list[tuple[int, int]],
    tags: list[tuple[int, int]],
    walls: int,
) -> None:
    best = fit(plain_dance(counts), made_map(phrases)).runs[0]
    assert [(r.wall, r.after_count) for r in best.restarts] == restarts
    assert [(t.after_wall, t.counts) for t in best.tags] == tags
    assert len(best.walls) == walls


def test_a_waltz_of_48_needs_no_repair_on_three_phrases_of_48() -> None:
    waltz = dance_named("millpond")
    twice = replace(waltz, counts=48, actions=(*waltz.actions, *(a.later(Counts(Fraction(24))) for a in waltz.actions)))
    best = fit(twice, made_map([48, 48, 48], metre=3, bpm=96, intro=24)).runs[0]
    assert (len(best.walls), best.tags, best.restarts) == (3, (), ())


def test_sixteen_counts_at_100_begin_the_dance_at_9_6_seconds() -> None:
    start = fit(plain_dance(32), made_map([32] * 4, bpm=100.0)).runs[0].start
    assert start.intro_counts == 16
    assert start.time_s == pytest.approx(9.6)


def test_172_beats_a_minute_are_counted_at_half_time_and_called_slightly_slow() -> None:
    chosen = counting(172, Band(88, 116, (92, 108)))
    assert (chosen.beats_per_count, chosen.counts_per_min, chosen.verdict) == (2.0, 86.0, "slightly slow")


def test_three_minutes_twenty_at_128_hold_twelve_walls_and_ten_or_eleven_counts() -> None:
    counts = int(128 * 200 / 60) - 32  # whole counts after an intro of 32: 394.67 gives 394
    assert divmod(counts, 32) == (12, 10)
    best = fit(plain_dance(32), made_map([counts], intro=32, bpm=128.0)).runs[0]
    assert [w.counts for w in best.walls] == [32] * 12 + [10]
    assert best.ending is not None
    assert (best.ending.wall, best.ending.at_count) == (13, 10)
