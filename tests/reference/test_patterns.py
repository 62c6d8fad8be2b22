"""Counts, feet and weights of named patterns: common practice of the trade, no published source; written out by hand
here.

The codes stand in this file and do not come from the reader's tables: "R step side" is right foot, step, to its own
side;
a weight behind "=" is who bears afterwards.
"""

# ruff: noqa: E501  (a row a line)

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from softshoe.dance.counts import Count
from softshoe.dance.feet import Foot
from softshoe.dance.footwork import wall_events
from softshoe.dance.patterns import danced_pattern, mirrored, parse_code, patterns
from softshoe.wording.read import read

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance

# line, the foot free before it, what it means: (count, foot, action, direction, turn, weight after)
LINES = (
    ("1-4 Vine right, touch L", "R", "1 R step right 0 R; 2 L step across-behind 0 L; 3 R step right 0 R; 4 L touch together 0 R"),
    ("5-8 Grapevine L 1/4 L, scuff R (9:00)", "L", "5 L step left 0 L; 6 R step across-behind 0 R; 7 L step forward -90 L; 8 R scuff forward 0 L"),
    ("1&2 Shuffle fwd RLR", "R", "1 R step forward 0 R; 1& L step together 0 L; 2 R step forward 0 R"),
    ("3-4 Rock fwd L, rec R", "L", "3 L rock forward 0 L; 4 R recover in-place 0 R"),
    ("5&6 Shuffle 1/2 turn L stepping LRL", "L", "5 L step left -90 L; 5& R step together 0 R; 6 L step forward -90 L"),
    ("7-8 Step R fwd, pivot 1/2 L", "R", "7 R step forward 0 R; 8 L pivot in-place -180 L"),
    ("1-2 Side R, tog", "R", "1 R step right 0 R; 2 L step together 0 L"),
    ("1-2 Side R, tch L tog", "R", "1 R step right 0 R; 2 L touch together 0 R"),
    ("3-4 Cross rock L over R, recover", "L", "3 L rock across-front 0 L; 4 R recover in-place 0 R"),
    ("5-6 Cross L over R, point R to side", "L", "5 L step across-front 0 L; 6 R point right 0 L"),
    ("1&2& R heel & L heel &", "R", "1 R heel forward 0 L; 1& R step together 0 R; 2 L heel forward 0 R; 2& L step together 0 L"),
    ("5-8 Sway R,L,R,L (weight on L)", "R", "5 R sway right 0 R; 6 L sway left 0 L; 7 R sway right 0 R; 8 L sway left 0 L"),
    ("1-4 Jazz box 1/4 R, step L fwd", "R", "1 R step across-front 0 R; 2 L step back 0 L; 3 R step right 90 R; 4 L step forward 0 L"),
    ("5-8 Jazz box, touch", "R", "5 R step across-front 0 R; 6 L step back 0 L; 7 R step right 0 R; 8 L touch together 0 R"),
    ("1-4 Monterey 1/2 R", "R", "1 R point right 0 L; 2 R step together 180 R; 3 L point left 0 R; 4 L step together 0 L"),
    ("1&2 R coaster", "R", "1 R step back 0 R; 1& L step together 0 L; 2 R step forward 0 R"),
    ("3&4 L sailor 1/4 L", "L", "3 L step across-behind -90 L; 3& R step right 0 R; 4 L step forward 0 L"),
    ("5&6, 7&8 Kick ball change R x2", "R", "5 R kick forward 0 L; 5& R step together 0 R; 6 L step in-place 0 L;"
     " 7 R kick forward 0 L; 7& R step together 0 R; 8 L step in-place 0 L"),
    ("1,2& Big step R, rock L behind & rec R", "R", "1 R step right 0 R; 2 L rock across-behind 0 L; 2& R recover in-place 0 R"),
    ("3a4 Samba whisk L", "L", "3 L step left 0 L; 3a R rock across-behind 0 R; 4 L recover in-place 0 L"),
    ("1-2 Walk R,L", "R", "1 R step forward 0 R; 2 L step forward 0 L"),
    ("3-4 Full turn L stepping R,L (option: walk R,L)", "R", "3 R step back -180 R; 4 L step forward -180 L"),
    ("5-6 Paddle 1/4 L", "R", "5 R step forward 0 R; 6 L pivot in-place -90 L"),
    ("5-6 Big step L, drag R", "L", "5 L step left 0 L; 6 R drag together 0 L"),
    ("1-2 R toe strut fwd", "R", "1 R touch forward 0 L; 2 R drop in-place 0 R"),
    ("7-8 Cross R over L, unwind 3/4 L (wt L)", "R", "7 R step across-front 0 R; 8 both unwind in-place -270 L"),
    ("1-2 1/8 R stepping R fwd (1:30), touch L tog", "R", "1 R step forward 45 R; 2 L touch together 0 R"),
    ("1-2 Hitch R knee, step R back", "R", "1 R hitch up 0 L; 2 R step back 0 R"),
    ("7&8 Heel R, hook, heel", "R", "7 R heel forward 0 L; 7& R hook across-front 0 L; 8 R heel forward 0 L"),
    ("1-4 Step R fwd, hold, step L fwd, hold", "R", "1 R step forward 0 R; 2 - hold - 0 R; 3 L step forward 0 L; 4 - hold - 0 L"),
    ("1-4 R rocking chair", "R", "1 R rock forward 0 R; 2 L recover in-place 0 L; 3 R rock back 0 R; 4 L recover in-place 0 L"),
    ("1&2 R mambo back", "R", "1 R rock back 0 R; 1& L recover in-place 0 L; 2 R step together 0 R"),
    ("1&2 R lock step back", "R", "1 R step back 0 R; 1& L step across-front 0 L; 2 R step back 0 R"),
    ("1-4 Weave left: R over L, L side, R behind, L side", "R", "1 R step across-front 0 R; 2 L step left 0 L;"
     " 3 R step across-behind 0 R; 4 L step left 0 L"),
    ("1-4 Rolling vine R, touch", "R", "1 R step forward 90 R; 2 L step back 180 L; 3 R step right 90 R; 4 L touch together 0 R"),
    ("1-4 V-step R", "R", "1 R step forward-right-diagonal 0 R; 2 L step forward-left-diagonal 0 L; 3 R step centre 0 R; 4 L step together 0 L"),
    ("1-4 Charleston", "R", "1 R touch forward 0 L; 2 R step back 0 R; 3 L touch back 0 R; 4 L step forward 0 L"),
    ("1&2 R scissor step", "R", "1 R step right 0 R; 1& L step together 0 L; 2 R step across-front 0 R"),
)  # fmt: skip


def danced(line: str, free: str) -> str:
    """The line's events as the codes above write them; earlier counts are held."""
    start = {"R": "left", "L": "right"}[free]
    first = int("".join(c if c.isdigit() else " " for c in line).split()[0])
    held = "".join(f"{n} hold\n" for n in range(1, first))
    dance: Dance = read(f"A Name\nStart: weight on {start}\n{held}{line}\n")
    events = [e for e in wall_events(dance) if e.action.line == first + 2]
    events = [e for e in events if e.action.at.whole <= max(first + 3, 8)]
    return "; ".join(
        f"{e.action.at.label} {e.action.foot.value if e.action.foot else '-'} {e.action.verb} "
        f"{e.action.dir.value.replace(' ', '-') if e.action.dir else '-'} {e.action.turn_deg} {e.weight.value}"
        for e in events
    )


@pytest.mark.parametrize(("line", "free", "meaning"), LINES, ids=[row[0] for row in LINES])
def test_a_line_means_what_the_trade_means_by_it(line: str, free: str, meaning: str) -> None:
    assert danced(line, free).startswith(" ".join(meaning.split()))


@pytest.mark.parametrize("name", sorted(patterns()))
def test_a_pattern_mirrored_twice_is_itself(name: str) -> None:
    assert mirrored(mirrored(patterns()[name].steps)) == patterns()[name].steps


@pytest.mark.parametrize("name", sorted(patterns()))
def test_a_pattern_led_left_is_the_mirror_of_the_pattern_led_right(name: str) -> None:
    right = danced_pattern(name, lead=Foot.RIGHT, at=Count.at_moment(0))
    left = danced_pattern(name, lead=Foot.LEFT, at=Count.at_moment(0))
    assert left == tuple(action.mirrored for action in right)


def test_the_code_is_read_as_written() -> None:
    steps = parse_code("1 R step side R90 R; 1& L touch tog - R")
    assert [(str(s.at), s.foot, s.verb, s.place, s.turn_deg, s.weight) for s in steps] == [
        ("1", "R", "step", "side", 90, "R"), ("3/2", "L", "touch", "tog", 0, "R"),
    ]  # fmt: skip


def test_what_is_no_code_is_refused() -> None:
    with pytest.raises(ValueError, match="standing code"):
        parse_code("one right step")
