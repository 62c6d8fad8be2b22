"""Level and character: what they count, and how far the estimate agrees with what authors state."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given

from planted.pool import pool
from softshoe.dance.action import Action
from softshoe.dance.arms import ArmMove
from softshoe.dance.character import character_of, right_share
from softshoe.dance.counts import Count
from softshoe.dance.dance import LEVELS, Dance, Restart
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.footwork import mirrored
from softshoe.dance.level import apart, bands, level_of
from softshoe.dance.level_words import level_lines
from softshoe.dance.places import Direction

from .made_dances import dances

R, L = Foot.RIGHT, Foot.LEFT


def at(n: float) -> Count:
    return Count(Fraction(n))


def step(n: float, foot: Foot, way: Direction, turn: int = 0) -> Action:
    return Action(at(n), foot, "step", way, turn)


def dance(*actions: Action, counts: int = 32, seated: bool = False, **more: object) -> Dance:
    made = Dance("Test", counts, 1, None, seated, "4/4", 100, 16, Weight.LEFT, (), actions)
    return replace(made, **more)  # type: ignore[arg-type]


def test_halves_are_told_for_thirty_two_counts() -> None:
    shuffle = (step(1, R, Direction.FORWARD), step(1.5, L, Direction.TOGETHER), step(2, R, Direction.FORWARD))
    assert character_of(dance(*shuffle, counts=16)).halves == 2
    assert character_of(dance(*shuffle, counts=64)).halves == 0.5


def test_turns_add_up_whichever_way_they_go() -> None:
    there_and_back = (step(1, R, Direction.RIGHT, 90), step(2, L, Direction.LEFT, -180))
    character = character_of(dance(*there_and_back))
    assert (character.biggest_turn_deg, character.turning_deg) == (180, 270)


def test_a_figure_and_its_mirror_are_one() -> None:
    side = (step(1, R, Direction.RIGHT), step(2, L, Direction.TOGETHER))
    other = tuple(replace(a, at=Count(a.at.at + 2)) for a in mirrored(side))
    assert character_of(dance(*side)).figures == 1
    assert character_of(dance(*side, *other)).figures == 1
    assert character_of(dance(*side, step(3, R, Direction.BACK), step(4, L, Direction.BACK))).figures == 2


def test_a_waltz_has_its_figures_in_threes() -> None:
    ways = (Direction.FORWARD, Direction.TOGETHER, Direction.IN_PLACE)
    basic = [step(n + 1, (L, R)[n % 2], way) for n, way in enumerate(ways)]
    again = [replace(a, at=Count(a.at.at + 3)).mirrored for a in basic]
    assert character_of(dance(*basic, *again, metre="3/4")).figures == 1
    assert character_of(dance(*basic, *again)).figures > 1


def test_shares_of_sides_travel_and_arms() -> None:
    clap = ArmMove(Foot.BOTH, "clap")
    moves = (
        step(1, R, Direction.FORWARD), step(2, R, Direction.TOGETHER), Action(at(3), R, "touch", Direction.RIGHT),
        Action(at(4), L, "step", Direction.ACROSS_FRONT, arms=(clap,)),
    )  # fmt: skip
    character = character_of(dance(*moves, counts=4))
    assert (character.right_feet, character.right_hands) == (0.75, None)
    assert (character.travel, character.arms, character.crossings) == (0.5, 0.25, 1)
    assert (character.busy, character.busiest, character.feet_and_hands) == (1, 1, 8)
    assert character_of(dance(*moves, counts=4, seated=True)).travel == 0


def test_the_busiest_count_is_the_first_of_those_with_most_moves() -> None:
    moves = (step(1, R, Direction.FORWARD), step(5, L, Direction.BACK), step(5.5, R, Direction.BACK))
    assert character_of(dance(*moves)).busiest == 5


def test_hands_that_both_move_are_no_side() -> None:
    assert right_share([Foot.BOTH, None]) is None
    assert right_share([Foot.LEFT]) == 0


def test_the_highest_band_reached_counts_and_gives_the_reasons() -> None:
    easy = dance(step(1, R, Direction.FORWARD))
    assert level_of(easy).level == "absolute beginner"
    assert level_of(easy).reasons == ()
    turning = dance(*(step(n, R, Direction.FORWARD, 180) for n in range(1, 5)))
    estimate = level_of(turning)
    assert estimate.level == "improver"
    assert [reason.measure for reason in estimate.reasons] == ["turning"]
    assert "720 degrees" in estimate.reasons[0].words


@pytest.mark.parametrize(("restarts", "level"), [(0, 0), (1, 1), (2, 2), (3, 3), (4, 4)])
def test_each_tag_or_restart_more_is_a_level_more(restarts: int, level: int) -> None:
    more = tuple(Restart((n + 2,), 16) for n in range(restarts))
    assert level_of(dance(step(1, R, Direction.FORWARD), restarts=more)).level == LEVELS[level]


def test_crossings_at_a_fast_tempo_are_a_level_more() -> None:
    crossing = step(1, R, Direction.ACROSS_FRONT)
    assert level_of(dance(crossing, tempo_bpm=100)).level == "absolute beginner"
    fast = level_of(dance(crossing, tempo_bpm=(120, 126)))
    assert fast.level == "beginner"
    assert {reason.measure for reason in fast.reasons} == {"tempo", "fast crossings"}


def test_seated_dancers_have_bands_of_their_own() -> None:
    assert ("seated", "gestures") in bands()
    assert ("seated", "turning") not in bands()
    assert all(list(limits) == sorted(limits) for limits in bands().values())


def test_how_far_the_steps_lie_from_the_word_of_the_sheet() -> None:
    easy = dance(step(1, R, Direction.FORWARD), level="improver")
    assert apart(easy, level_of(easy)) == -2
    assert apart(replace(easy, level=None), level_of(easy)) == 0


@given(dances)
def test_a_dance_and_its_mirror_are_of_one_level(made: Dance) -> None:
    other = replace(made, actions=mirrored(made.actions))
    assert level_of(other).level == level_of(made).level
    assert character_of(other).figures == character_of(made).figures


@given(dances)
def test_the_level_is_told_in_whole_sentences(made: Dance) -> None:
    lines = level_lines(made, level_of(made))
    assert len(lines) >= 4
    assert all(line.endswith(".") and line[0].isupper() for line in lines)


def test_the_estimate_is_near_the_level_that_authors_state() -> None:
    stated = [sheet.dance for sheet in pool() if sheet.dance.level is not None]
    found = [apart(made, level_of(made)) for made in stated]
    assert len(found) > 80
    assert found.count(0) / len(found) >= 0.6
    assert sum(abs(n) <= 1 for n in found) / len(found) >= 0.97
