"""What a dance asks for: too little time, a level far off, one side alone. Told as notes, and rarely."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.dance.action import Action
from softshoe.dance.arms import ArmMove
from softshoe.dance.checks.demand import OPINIONS, crowded, level, one_sided
from softshoe.dance.document import dance_from_json, dance_json, whole_json
from softshoe.dance.places import Direction
from softshoe.errors import Finding

from .test_level import L, R, at, dance, step

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance
    from softshoe.dance.feet import Foot


def taps(*moves: tuple[float, Foot]) -> tuple[Action, ...]:
    return tuple(Action(at(n), foot, "touch", Direction.FORWARD) for n, foot in moves)


def told(made: Dance) -> list[str | None]:
    return [finding.count for finding in crowded(made, {})]


def test_one_foot_twice_in_half_a_second_is_quick_on_a_chair() -> None:
    twice = taps((1, R), (2, R))
    assert told(dance(*twice, seated=True, tempo_bpm=120)) == []
    assert told(dance(*twice, seated=True, tempo_bpm=121)) == ["1"]
    assert told(dance(*twice, tempo_bpm=121)) == []


def test_two_feet_may_follow_in_a_quarter_of_a_second() -> None:
    triple = taps((1, R), (1.5, L), (2, R))
    assert told(dance(*triple, seated=True, tempo_bpm=120)) == []
    assert told(dance(*triple, seated=True, tempo_bpm=(100, 122))) == ["1/2"]
    assert told(dance(*triple, tempo_bpm=122)) == []
    assert told(dance(*triple, tempo_bpm=201)) == ["1/2"]


def test_only_the_first_quick_place_is_told_with_how_many_there_are() -> None:
    found = list(crowded(dance(*taps((1, R), (1.5, R), (2, R)), seated=True), {}))
    assert len(found) == 1
    assert "the right foot moves again 0.30 of a second" in found[0].message
    assert "2 such places" in found[0].message
    assert "on a chair" in found[0].message


def test_nothing_is_crowded_without_a_tempo_or_at_one_moment() -> None:
    assert told(dance(*taps((1, R), (1.5, R)), seated=True, tempo_bpm=None)) == []
    assert told(dance(*taps((1, R), (1, L)), seated=True, tempo_bpm=200)) == []


def test_a_level_two_away_is_told_where_it_is_stated() -> None:
    easy = dance(step(1, R, Direction.FORWARD), level="improver")
    assert [f.line for f in level(easy, {"level": 2})] == [2]
    assert list(level(easy, {})) == []
    assert list(level(replace(easy, level="beginner"), {"level": 2})) == []
    assert list(level(replace(easy, level=None), {"level": 2})) == []


def feet(right: int, left: int) -> tuple[Action, ...]:
    return taps(*((n + 1, R) for n in range(right)), *((right + n + 1, L) for n in range(left)))


def test_the_notes_say_all_that_is_to_be_said() -> None:
    (found,) = crowded(dance(*taps((1, R), (2, R)), seated=True, tempo_bpm=150), {})
    assert found == Finding(
        "note", "crowded", 0, "1",
        "At 150 counts a minute the right foot moves again 0.40 of a second after the move before, which is quick on a "
        "chair.", "Leave the “&” out for those who need time, or take a slower song.",
    )  # fmt: skip
    (found,) = crowded(dance(*taps((1, R), (1.5, L)), tempo_bpm=240), {})
    assert found.message == (
        "At 240 counts a minute the other foot moves 0.12 of a second after the move before, which is quick."
    )
    (found,) = level(dance(step(1, R, Direction.FORWARD), level="improver"), {"level": 2})
    assert found == Finding(
        "note", "level", 2, None,
        "The sheet says improver; the steps are those of a dance for absolute beginners: nothing in them asks for "
        "more.",
        "Keep your word if your dancers agree, or write the other level.",
    )  # fmt: skip
    turning = dance(*(step(n, R, Direction.FORWARD, 180) for n in range(1, 9)), level="beginner")
    assert (
        "for intermediate dancers: its turns add up to 1440 degrees a wall."
        in next(level(turning, {"level": 2})).message
    )
    found = next(one_sided(dance(*feet(13, 7)), {}))
    assert (found.severity, found.kind, found.line, found.count) == ("note", "one-sided", None, None)
    assert found.mend == "Give the left foot some of them, or dance every second wall mirrored."


def test_a_foot_that_does_more_than_three_fifths_is_told() -> None:
    assert list(one_sided(dance(*feet(12, 8)), {})) == []
    assert list(one_sided(dance(*feet(8, 12)), {})) == []
    found = list(one_sided(dance(*feet(13, 7)), {}))
    assert [f.message for f in found] == ["The right foot does 13 of the 20 moves that one foot does alone."]
    assert "left foot" in next(one_sided(dance(*feet(7, 13)), {})).message


def test_a_few_moves_say_nothing_and_a_dance_for_one_side_means_it() -> None:
    assert list(one_sided(dance(*feet(10, 5)), {})) == []
    assert list(one_sided(dance(*feet(11, 5)), {})) != []
    assert list(one_sided(dance(*feet(20, 0)), {})) == []
    assert list(one_sided(dance(*feet(0, 20)), {})) == []


def test_hands_are_weighed_too() -> None:
    moves = [ArmMove((R, R, R, L)[n % 4], "reach") for n in range(8)]
    made = dance(*(Action(at(n + 1), None, "arms", arms=(move,)) for n, move in enumerate(moves)))
    assert [f.message for f in one_sided(made, {})] == [
        "The right hand does 6 of the 8 moves that one hand does alone."
    ]


def test_opinions_are_kept_with_the_dance_but_are_no_dance_events() -> None:
    made = dance(*feet(13, 7))
    made = replace(made, findings=tuple(one_sided(made, {})))
    assert {f.kind for f in made.findings} <= OPINIONS
    assert dance_json(made)["findings"] == []
    assert dance_from_json(whole_json(made)).findings == made.findings
