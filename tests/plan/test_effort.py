from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from fit.made_maps import all_dances, dance_named
from softshoe.adapt.adapt import adapt
from softshoe.dance.action import Action
from softshoe.dance.arms import ArmMove
from softshoe.dance.counts import Count
from softshoe.dance.feet import Foot
from softshoe.plan.effort import DISAGREE, asks_much, balance_of, balance_words, band_words, effort_band
from softshoe.tables import table


def test_effort_bands_lie_in_order_and_each_has_its_basis() -> None:
    for body in ("arms", "seated", "standing"):
        rows = [row for row in table("adapt/effort") if row["body"] == body]
        assert float(rows[0]["moves_per_min"]) == 0
        assert [float(row["low"]) for row in rows] == sorted(float(row["low"]) for row in rows)
        assert all(float(row["low"]) < float(row["high"]) for row in rows)
        assert all("20" in row["basis"] for row in rows)  # a year: no band without a source


def test_sitting_asks_no_more_than_standing_and_faster_no_less() -> None:
    for dance in all_dances():
        if dance.seated:
            continue
        seated = adapt(dance, "seated").dance
        assert effort_band(seated).high <= effort_band(dance).high + 1e-9
        slow, fast = (effort_band(dance, counts_per_min=bpm) for bpm in (60, 160))
        assert slow.low <= fast.low
        assert slow.high <= fast.high


def test_nothing_about_effort_promises_anything() -> None:
    said = [band_words(effort_band(dance)) for dance in all_dances()] + [row["basis"] for row in table("adapt/effort")]
    assert "disagree" in DISAGREE
    assert not [words for words in (*said, DISAGREE) if "safe" in words or "suitable" in words]


def test_balance_counts_sides_limbs_heights_and_stamps() -> None:
    high = ArmMove(Foot.BOTH, "reach", "overhead")
    actions = (
        Action(Count(Fraction(1)), Foot.RIGHT, "stomp", arms=(high,)),
        Action(Count(Fraction(2)), Foot.LEFT, "touch", arms=(ArmMove(Foot.LEFT, "wave", "head"),)),
        Action(Count(Fraction(4)), Foot.RIGHT, "touch", arms=(high,)),
    )
    found = balance_of(replace(dance_named("copper_kettle"), actions=actions, counts=4))
    assert (found.feet_left, found.feet_right, found.hands_left, found.hands_right) == (1, 2, 3, 2)
    assert (found.high_counts, found.high_run, found.struck) == (3, 2, 1)
    assert balance_words(found)[2] == "Hands above the shoulders: 3 counts, 2 in a row at most."


def test_what_passes_a_threshold_of_the_cautions_is_told() -> None:
    dance = dance_named("copper_kettle")
    high = ArmMove(Foot.BOTH, "wave", "overhead")
    held = tuple(Action(Count(Fraction(n)), None, "arms", arms=(high,)) for n in range(1, 9))
    assert any("8 counts in a row" in words for words in asks_much(replace(dance, actions=held)))
    assert asks_much(replace(dance, actions=held[:7])) == []
    assert any("times as fast" in words for words in asks_much(dance, counts_per_min=140))
    assert asks_much(dance, counts_per_min=120) == []
