"""Each check on its own: what it finds, on which line and count, and what it lets pass."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from softshoe.dance.arms import ArmMove
from softshoe.dance.checks import CHECKS
from softshoe.dance.checks.chair import seated
from softshoe.dance.checks.hands import arms
from softshoe.dance.checks.lengths import place, tag_length, total
from softshoe.dance.checks.sides import side
from softshoe.dance.checks.stated import not_stated
from softshoe.dance.checks.walls import walls
from softshoe.dance.checks.weights import free_foot, weight
from softshoe.dance.dance import Dance, Ending, Restart, Tag
from softshoe.dance.feet import Foot, Weight
from softshoe.dance.places import Direction

from .steps_made import made, steps

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping

    from softshoe.errors import Finding

    Check = Callable[[Dance, Mapping[str, int]], Iterator[Finding]]

WALK = "1 R step forward; 2 L step forward; 3 R step forward; 4 L step forward"


def told(check: Check, dance: Dance, **lines: int) -> list[tuple[int | None, str | None]]:
    """Line and count of what a check finds; every finding must say why and offer a mend."""
    found = list(check(dance, lines))
    kind = check.__name__.replace("_", "-")
    assert all((f.severity, f.kind) == ("note" if kind == "not-stated" else "error", kind) for f in found)
    for words in (words for f in found for words in (f.message, f.mend)):
        assert words
        assert words[0].isupper() or words[0].isdigit()
        assert words.endswith(".")
        assert not re.search(r"[A-Z]{2}|  ", words)
    return [(f.line, f.count) for f in found]


def tag(code: str, *, after: int, counts: int = 0, then: str = "start", line: int = 9) -> Tag:
    actions = steps(code)
    return Tag((2,), after, counts or actions[-1].at.whole, then, actions, line)  # type: ignore[arg-type]


# weight


def test_a_foot_that_bears_can_not_step_again() -> None:
    assert told(weight, made(WALK)) == []
    assert told(weight, made("1 R step forward; 2 L step forward; 3 L step back; 4 R step back")) == [(3, "2")]


def test_a_foot_that_bears_can_not_lift_or_touch_either() -> None:
    for verb in ("hitch", "kick", "touch", "heel", "point", "flick", "hook", "scuff", "brush", "drag", "sweep"):
        assert told(weight, made(f"1 R step forward; 2 R {verb} forward")) == [(2, "1")], verb


@pytest.mark.parametrize("verb", ["swivel", "fan", "raise", "lower", "hop", "turn", "bump", "sway", "grind", "pivot"])
def test_what_a_bearing_foot_can_do_is_let_pass(verb: str) -> None:
    assert told(weight, made(f"1 R step forward; 2 R {verb}")) == []


def test_a_touch_leaves_the_foot_free() -> None:
    assert told(weight, made("1 R touch together; 2 R step right; 3 L touch together; 4 L step left")) == []


def test_the_mend_names_the_other_foot_and_the_verb() -> None:
    (found,) = weight(made("1 R step forward; 2 R kick forward"), {})
    assert (found.severity, found.kind) == ("error", "weight")
    assert "right foot bears" in found.message
    assert "can't kick before the left foot" in found.message
    assert found.mend is not None
    assert "left for right" in found.mend


def test_after_a_clash_the_next_move_may_be_of_either_foot() -> None:
    assert told(weight, made("1 R step forward; 2 R step forward; 3 R step forward")) == [(2, "1")]
    assert told(weight, made("1 R step forward; 2 R step forward; 3 L step forward; 4 R step back")) == [(2, "1")]


def test_a_second_clash_is_told_when_it_stands_eight_counts_off() -> None:
    one = "1 R step forward; 2 R step forward; 3 L step forward"
    assert told(weight, made(f"{one}; 9 L step forward")) == [(2, "1")]
    assert told(weight, made(f"{one}; 10 L step forward")) == [(2, "1"), (4, "9")]


def test_what_stays_without_a_foot_does_not_settle_a_clash() -> None:
    assert told(weight, made("1 R step forward; 2 R step forward; 3 - hold; 12 R step forward")) == [(2, "1")]


def test_hips_may_take_the_weight_to_the_side_where_they_go() -> None:
    begun = "1 R step right; 2 L step left"
    assert told(weight, made(f"{begun}; 3 - bump right; 4 L step forward")) == []
    assert told(weight, made(f"{begun}; 3 - bump right; 4 R step forward")) == []
    assert told(weight, made(f"{begun}; 3 - bump left; 4 L step forward")) == [(4, "3")]
    assert told(weight, made(f"{begun}; 3 - bump right; 4 R step right; 5 R step back")) == [(5, "4")]


def test_words_that_say_where_the_weight_stays_win() -> None:
    one, two = steps("1 R step forward; 2 R touch forward")
    dance = made("1 R step forward; 2 R touch forward")
    kept = replace(dance, actions=(one, replace(two, weight_said=Weight.RIGHT)))
    assert told(weight, kept) == []


def test_both_feet_bearing_lets_either_move() -> None:
    assert told(weight, made("1 B jump in place; 2 R step right")) == []
    assert told(weight, made("1 B jump in place; 2 L step left")) == []


def test_seated_the_feet_are_free() -> None:
    dance = made("1 R step forward; 2 R step together; 3 R step forward", seated=True, start_weight=Weight.SEAT)
    assert told(weight, dance) == []


def test_a_tag_and_an_ending_go_on_with_the_weight_of_the_dance() -> None:
    good, bad = tag("1 R step right", after=4), tag("1 L step left", after=4)
    assert told(weight, made(WALK, tags=(good,))) == []
    assert told(weight, made(WALK, tags=(bad,))) == [(1, "0")]
    assert told(weight, made(WALK, endings=(Ending("last", 2, 1, 0, bad.actions),))) == [(1, "0")]
    assert told(weight, made(WALK, endings=(Ending("last", 3, 1, 0, bad.actions),))) == []


# free foot


def test_the_dance_must_end_with_the_first_foot_free() -> None:
    assert told(free_foot, made(WALK)) == []
    assert told(free_foot, made("1 R step forward; 2 L step forward; 3 R step forward")) == [(3, "2")]
    assert told(free_foot, made("1 R step forward; 2 L step forward; 3 R touch together")) == []
    assert told(free_foot, made("1 R step forward; 2 B jump in place")) == []


def test_hips_may_leave_either_foot_free_at_the_end() -> None:
    ends = "1 R step right; 2 L touch together; 3 - bump {}; 4 - hold"
    assert told(free_foot, made(ends.format("left"))) == []
    assert told(free_foot, made(ends.format("right"))) == [(4, "3")]
    assert told(free_foot, made("1 R step right; 2 L step left; 3 - bump right")) == []


def test_the_foot_that_a_dance_begins_with_is_its_first_that_must_be_free() -> None:
    assert told(free_foot, made("1 B bump; 2 R step forward")) == []
    assert told(free_foot, made("1 - hold; 2 R step forward")) == [(2, "1")]
    assert told(free_foot, made("1 R swivel; 2 R step forward")) == []


def test_on_a_chair_any_foot_may_begin() -> None:
    assert told(free_foot, made("1 R step forward", seated=True)) == []


def test_a_restart_must_leave_the_first_foot_free() -> None:
    assert told(free_foot, made(WALK, restarts=(Restart((3,), 2, 7),))) == []
    assert told(free_foot, made(WALK, restarts=(Restart((3,), 3, 7),))) == [(7, "2")]


def test_a_restart_at_the_end_is_the_end() -> None:
    odd = made("1 R step forward; 2 L step forward; 3 R step forward", restarts=(Restart((3,), 3, 7),))
    assert told(free_foot, odd) == [(3, "2")]


def test_a_tag_that_starts_the_dance_again_must_leave_the_first_foot_free() -> None:
    assert told(free_foot, made(WALK, tags=(tag("1 R step right; 2 L touch together", after=4),))) == [(2, "1")]
    assert told(free_foot, made(WALK, tags=(tag("1 R step right; 2 L step together", after=4),))) == []


def test_a_bridge_must_leave_the_foot_free_that_goes_on() -> None:
    right = tag("1 R step right; 2 L step together", after=2, then="continue")
    wrong = tag("1 R step right; 2 L touch together", after=2, then="continue")
    assert told(free_foot, made(WALK, tags=(right,))) == []
    assert told(free_foot, made(WALK, tags=(wrong,))) == [(2, "1")]
    assert told(free_foot, made(WALK, tags=(tag("1 R step right", after=3, then="continue"),))) == []


def test_a_tag_after_the_weight_of_its_own_place() -> None:
    holds = tag("1 - hold; 2 - hold", after=3, then="start")
    assert told(free_foot, made(WALK, tags=(holds,))) == [(2, "1")]
    assert told(free_foot, made(WALK, tags=(replace(holds, after_count=4),))) == []


def test_the_message_says_what_ends_and_which_foot_moves_next() -> None:
    (found,) = free_foot(made("1 R step forward"), {})
    assert found.message == "The dance ends with the weight on the right foot, and the right foot moves next."
    (found,) = free_foot(made(WALK, restarts=(Restart((3,), 1, 7),)), {})
    assert found.message.startswith("The restart comes")
    (found,) = free_foot(made(WALK, tags=(tag("1 R step right", after=4),)), {})
    assert found.message.startswith("The tag ends")


# walls, total, tag length, place


@pytest.mark.parametrize(("turn", "right"), [(0, 1), (180, 2), (90, 4), (-90, 4), (450, 4), (-180, 2)])
def test_the_number_of_walls_follows_from_the_turns(turn: int, right: int) -> None:
    for stated in (1, 2, 4):
        dance = made(f"1 R step forward {turn:+d}; 2 L step together", walls=stated)
        assert told(walls, dance, walls=3) == ([] if stated == right else [(3, None)])


def test_walls_that_no_one_states_and_turns_that_never_come_home_are_let_pass() -> None:
    assert told(walls, made("1 R step forward +90", walls=1)) == []
    assert told(walls, made("1 R step forward +45", walls=1), walls=3) == []


def test_the_mend_of_the_walls_offers_their_number() -> None:
    (found,) = walls(made("1 R step forward +180", walls=4), {"walls": 1})
    assert found.mend == "Write 2 walls, or change a turn."
    assert found.message == "The dance ends half round, so it has 2 walls, not 4."
    (found,) = walls(made("1 R step forward", walls=4), {"walls": 1})
    assert "so it has 1 wall, not 4" in found.message
    assert "a quarter to the left" in next(walls(made("1 R step forward -90", walls=1), {"walls": 1})).message
    assert "a quarter to the right" in next(walls(made("1 R step forward +90", walls=1), {"walls": 1})).message


def test_the_sections_add_up_to_the_counts_stated() -> None:
    dance = made(WALK, sections=2)
    assert told(total, dance, counts=2) == []
    assert told(total, replace(dance, counts=8), counts=2) == [(2, None)]
    assert told(total, replace(dance, counts=8)) == []
    assert told(total, replace(dance, counts=8, sections=()), counts=2) == []
    assert next(total(replace(dance, counts=8), {"counts": 2})).message == (
        "The sections add up to 4 counts; 8 are stated."
    )


def test_a_tag_fills_its_counts_neither_more_nor_less() -> None:
    assert told(tag_length, made(WALK, tags=(tag(WALK, after=4),))) == []
    assert told(tag_length, made(WALK, tags=(tag(WALK, after=4, counts=8),))) == [(9, None)]
    assert told(tag_length, made(WALK, tags=(tag(WALK, after=4, counts=2),))) == [(9, None)]
    assert told(tag_length, made(WALK, tags=(Tag((2,), 4, 8, "start", (), 9),))) == []
    assert told(tag_length, made(WALK, endings=(Ending("last", 4, 8, 0, steps(WALK), 7),))) == [(7, None)]


@pytest.mark.parametrize(("after", "right"), [(0, False), (1, True), (4, True), (5, False)])
def test_tags_restarts_and_endings_stand_at_a_count_of_the_dance(after: int, right: bool) -> None:
    want = [] if right else [(9, None)]
    assert told(place, made(WALK, tags=(tag("1 R step right", after=after),))) == want
    assert told(place, made(WALK, restarts=(Restart((2,), after, 9),))) == want
    assert told(place, made(WALK, endings=(Ending("last", after, 1, 0, (), 9),))) == want


def test_the_misplaced_one_is_named() -> None:
    assert (
        "restart is placed after count 5; the dance has 4"
        in next(place(made(WALK, restarts=(Restart((2,), 5, 9),)), {})).message
    )


# side


@pytest.mark.parametrize(("foot", "way"), [("R", "left"), ("L", "right")])
def test_a_foot_goes_to_its_own_side_unless_it_crosses(foot: str, way: str) -> None:
    other = {"left": "right", "right": "left"}[way]
    for verb in ("step", "rock", "touch", "point", "heel", "kick", "lunge", "stomp"):
        assert told(side, made(f"1 {foot} {verb} {way}")) == [(1, "0")], verb
        assert told(side, made(f"1 {foot} {verb} {other}")) == []
    assert told(side, made(f"1 {foot} step across front")) == []
    assert told(side, made(f"1 {foot} sweep {way}")) == []
    assert told(side, made(f"1 {foot} fan {way}")) == []


def test_a_tag_and_an_ending_are_looked_at_too() -> None:
    wrong = tag("1 L point right", after=4)
    assert told(side, made(WALK, tags=(wrong,))) == [(1, "0")]
    assert told(side, made(WALK, endings=(Ending("last", 4, 1, 0, wrong.actions),))) == [(1, "0")]


def test_the_mend_of_a_side_offers_the_foot_and_the_crossing() -> None:
    (found,) = side(made("1 R point left"), {})
    assert found.message == "The right foot can't go to the left without crossing the other."
    assert found.mend == "Write right for left, or say that it crosses."


REACHES = "1 - arms; 2 - arms; 3 - arms; 4 - arms; 5 - arms; 6 - arms; 7 - arms; 8 - arms"


def mirrored_hands(*wrong: int) -> Dance:
    """Four counts of hands and their mirror; on the counts named they go where they went before."""
    dance = made(REACHES, seated=True, start_weight=Weight.SEAT)
    ways = (Direction.RIGHT, Direction.FORWARD, Direction.RIGHT, Direction.UP)
    out = []
    for n, action in enumerate(dance.actions):
        first = ArmMove(Foot.BOTH, "reach", "shoulder", ways[n % 4])
        move = first if n < 4 or n + 1 in wrong else first.mirrored
        out.append(replace(action, arms=(move,)))
    return replace(dance, actions=tuple(out))


def feet_mirrored(*wrong: int) -> Dance:
    code = "1 R heel forward right diagonal; 2 R step centre; 3 R touch right; 4 R step centre"
    first = steps(code)
    second = [replace(a.mirrored, at=type(a.at)(a.at.at + 4), line=a.line + 4) for a in first]
    second = [replace(a, dir=first[n].dir) if n + 5 in wrong else a for n, a in enumerate(second)]
    dance = made(code, counts=8, seated=True, start_weight=Weight.SEAT)
    return replace(dance, actions=(*first, *second))


def test_a_half_that_mirrors_all_but_one_side_is_told_there() -> None:
    assert told(side, feet_mirrored()) == []
    assert told(side, feet_mirrored(5)) == [(5, "4")]


def test_a_half_that_goes_its_own_way_in_two_places_is_no_mirror() -> None:
    assert told(side, mirrored_hands()) == []
    assert told(side, mirrored_hands(5, 7)) == []


FEET_AND_HANDS = "1 R heel forward; 2 R step centre; 3 R touch right; 4 R step centre"


def both_mirrored(*, toward: tuple[int, ...] = (), verb: str = "", longer: bool = False, place: str = "") -> Dance:
    """Feet with hands and their mirror; on the counts named the hands go where they went before."""
    reach = ArmMove(Foot.RIGHT, "reach", "shoulder", Direction.RIGHT)
    first = tuple(replace(a, arms=(reach,)) for a in steps(FEET_AND_HANDS))
    second = []
    for n, action in enumerate(first, 5):
        moved = replace(action.mirrored, at=type(action.at)(action.at.at + 4), line=n)
        if n in toward:
            moved = replace(moved, arms=(replace(moved.arms[0], toward=Direction.RIGHT),))
        second.append(moved)
    second[0] = replace(second[0], verb=verb or second[0].verb)
    if place:
        second[0] = replace(second[0], arms=(replace(second[0].arms[0], place=place),))
    more = (replace(second[0], at=type(second[0].at)(second[0].at.at + 8)),) if longer else ()
    dance = made(FEET_AND_HANDS, counts=8, seated=True, start_weight=Weight.SEAT)
    return replace(dance, actions=(*first, *second, *more))


def test_hands_that_do_not_mirror_where_the_feet_do_are_told() -> None:
    assert told(side, both_mirrored()) == []
    assert told(side, both_mirrored(toward=(6,))) == [(6, "5")]
    assert told(side, both_mirrored(toward=(5, 6))) == []
    assert told(side, both_mirrored(toward=(6,), longer=True)) == [(6, "5")]


def test_other_steps_or_places_make_no_mirror() -> None:
    assert told(side, both_mirrored(toward=(6,), verb="touch")) == []
    assert told(side, both_mirrored(toward=(6,), place="waist")) == []


def test_a_section_that_mirrors_the_one_before_is_compared_with_it() -> None:
    code = "1 R heel forward; 2 R step right; 3 L touch together; 4 L step left; 5 R touch together; 6 R kick forward; "
    code += "7 R step back right diagonal; 8 L touch together"
    first = steps(code)
    second = [replace(a.mirrored, at=type(a.at)(a.at.at + 8), line=a.line + 8) for a in first]
    second[6] = replace(second[6], dir=first[6].dir)
    dance = made(code, counts=16, sections=2, seated=True, start_weight=Weight.SEAT)
    assert told(side, replace(dance, actions=(*first, *second))) == [(15, "14")]
    short = replace(dance, actions=(*first, *second), sections=(dance.sections[0],))
    assert told(side, short) == []


def test_a_quarter_of_a_section_may_mirror_the_quarter_before() -> None:
    code = "1 R touch forward right diagonal; 2 R step centre; 3 L touch forward right diagonal; 4 L step centre; "
    code += "5 R kick forward; 6 R step centre; 7 R hitch up; 8 R step centre"
    assert told(side, made(code, seated=True, start_weight=Weight.SEAT)) == [(3, "2")]


# arms


def hands(*moves: ArmMove) -> Dance:
    dance = made("1 - arms; 2 - arms")
    return replace(dance, actions=(replace(dance.actions[0], arms=moves), dance.actions[1]))


R, L, B = Foot.RIGHT, Foot.LEFT, Foot.BOTH


def test_a_hand_does_one_thing_at_a_moment() -> None:
    assert told(arms, hands(ArmMove(R, "clap"), ArmMove(R, "pat"))) == [(1, "0")]
    assert told(arms, hands(ArmMove(B, "clap"), ArmMove(L, "pat"))) == [(1, "0")]
    assert told(arms, hands(ArmMove(R, "pat"), ArmMove(B, "rest", "lap"))) == [(1, "0")]
    assert told(arms, hands(ArmMove(R, "pat"), ArmMove(L, "snap"))) == []
    assert told(arms, hands(ArmMove(R, "clap"), ArmMove(R, "clap"))) == []


def test_a_hand_is_in_one_place_at_a_moment() -> None:
    assert told(arms, hands(ArmMove(R, "rest", "lap"), ArmMove(R, "rest", "hip"))) == [(1, "0")]
    assert told(arms, hands(ArmMove(R, "rest", "lap"), ArmMove(L, "rest", "hip"))) == []
    assert told(arms, hands(ArmMove(R, "rest", "lap"), ArmMove(R, "rest"))) == []


def test_gestures_that_go_together_are_let_pass() -> None:
    assert told(arms, hands(ArmMove(B, "raise"), ArmMove(B, "shake"))) == []
    assert told(arms, hands(ArmMove(B, "raise"), ArmMove(B, "clap"))) == [(1, "0")]


def test_the_same_two_things_are_told_once() -> None:
    both = (ArmMove(B, "clap"), ArmMove(B, "pat"))
    dance = made("1 - arms; 2 - arms; 3 - arms")
    dance = replace(dance, actions=tuple(replace(a, arms=both) for a in dance.actions))
    assert told(arms, dance) == [(1, "0")]
    assert "The hands can't clap and pat at one moment." in next(arms(dance, {})).message
    assert "left hand" in next(arms(hands(ArmMove(L, "clap"), ArmMove(L, "pat")), {})).message


# seated


@pytest.mark.parametrize(
    ("code", "what"),
    [("1 R pivot", "a pivot"), ("1 B unwind", "an unwind"), ("1 R hop", "a hop"), ("1 B jump", "a jump"),
     ("1 R turn", "a turn on one foot"), ("1 R step forward +90", "a turn"), ("1 R step forward -90", "a turn"),
     ("1 B kick forward", "a kick of both feet"), ("1 B hitch", "a hitch of both feet")],
)  # fmt: skip
def test_a_chair_allows_no_turn_no_spring_and_no_two_feet_in_the_air(code: str, what: str) -> None:
    assert told(seated, made(f"{code}; 2 R step together", seated=True)) == [(1, "0")]
    assert what in next(seated(made(code, seated=True), {})).message
    assert told(seated, made(code)) == []


def test_what_a_chair_allows_is_let_pass() -> None:
    assert told(seated, made("1 R kick forward; 2 B raise up; 3 B lower down; 4 R hitch up", seated=True)) == []


def test_only_the_first_thing_that_a_chair_does_not_allow_is_told() -> None:
    assert told(seated, made("1 R step forward; 2 B jump; 3 B jump", seated=True)) == [(2, "1")]
    ending = Ending("last", 1, 1, 0, steps("1 B jump"))
    assert told(seated, made("1 R step forward", seated=True, endings=(ending,))) == [(1, "0")]


# not stated


def test_what_is_left_out_of_the_header_is_one_note() -> None:
    bare = made(WALK, level=None, tempo_bpm=None, intro_counts=None)
    (found,) = not_stated(bare, {})
    assert (found.severity, found.kind, found.line, found.count) == ("note", "not-stated", None, None)
    assert found.message == (
        "The sheet does not say how many counts go by before the first, the tempo, the level, the number of walls and "
        "the number of counts."
    )


def test_what_is_stated_is_not_asked_for() -> None:
    assert list(not_stated(made(WALK), {"walls": 1, "counts": 1})) == []
    (found,) = not_stated(made(WALK, tempo_bpm=None), {"walls": 1, "counts": 1})
    assert found.message == "The sheet does not say the tempo."
    assert found.mend == "Add the tempo to the header."
    any_level = not_stated(made(WALK, level=None), {"walls": 1, "counts": 1, "level": 1})
    assert list(any_level) == []
    assert "the number of walls" in next(not_stated(made(WALK), {"counts": 1})).message


# all of them


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.__name__)
def test_every_check_says_what_must_hold_and_gives_an_example(check: Check) -> None:
    says = (check.__doc__ or "").strip()
    assert len(says.splitlines()) > 1
    assert says.splitlines()[0].endswith(".")


def test_no_check_finds_an_error_in_a_plain_dance() -> None:
    lines = {"walls": 1, "counts": 1, "level": 1}
    assert [f.kind for check in CHECKS for f in check(made(WALK), lines) if f.severity == "error"] == []
