"""The trade's own example lines, and lines like them, against the steps written out one by one."""

# ruff: noqa: E501  (a row a line)

from __future__ import annotations

import pytest

from .saying import reads_as

HEAD = "Probe\nintro 16, start with the {} foot\n\n"

# free foot before the line, the line as written, what it means step by step
LINES = (
    ("right", "1-4 Vine right, touch L", "1 step right to the side\n2 step left behind right\n3 step right to the side\n4 touch left beside right"),
    ("left", "1-4 Grapevine L 1/4 L, scuff R (9:00)", "1 step left to the side\n2 step right behind left\n3 turn 1/4 left stepping left forward\n4 scuff right forward"),
    ("right", "1&2 Shuffle fwd RLR", "1 step right forward\n& step left together\n2 step right forward"),
    ("left", "1-2 Rock fwd L, rec R", "1 rock left forward\n2 recover right"),
    ("right", "1-2 Step R fwd, pivot 1/2 L", "1 step right forward\n2 pivot 1/2 left"),
    ("right", "1-2 Side R, tog", "1 step right to the side\n2 step left together"),
    ("right", "1-2 Side R, tch L tog", "1 step right to the side\n2 touch left beside right"),
    ("left", "1-2 Cross rock L over R, recover", "1 rock left across right\n2 recover right"),
    ("left", "1-2 Cross L over R, point R to side", "1 step left across right\n2 point right to the side"),
    ("right", "1-2 Stomp R, stomp L", "1 stomp right\n2 stomp left"),
    ("right", "1-2 Stomp R twice (wt on L)", "1 stomp up right\n2 stomp up right"),
    ("left", "1 Step L beside R\n2 R heel fwd", "1 step left together\n2 touch right heel forward"),
    ("right", "1&2& R heel & L heel &", "1 touch right heel forward\n& step right together\n2 touch left heel forward\n& step left together"),
    ("right", "1-2 Hold, clap", "1 hold\n2 clap"),
    ("right", "1-4 Sway R,L,R,L (weight on L)", "1 sway right\n2 sway left\n3 sway right\n4 sway left"),
    ("right", "1-4 Jazz box 1/4 R, step L fwd", "1 step right across left\n2 step left back\n3 turn 1/4 right stepping right to the side\n4 step left forward"),
    ("right", "1-4 Jazz box, touch", "1 step right across left\n2 step left back\n3 step right to the side\n4 touch left beside right"),
    ("right", "1-4 Monterey 1/2 R", "1 point right to the side\n2 turn 1/2 right stepping right beside left\n3 point left to the side\n4 step left beside right"),
    ("right", "1&2 R coaster", "1 step right back\n& step left together\n2 step right forward"),
    ("right", "1&2, 3&4 Kick ball change R x2", "1 kick right forward\n& step right together\n2 step left in place\n3 kick right forward\n& step right together\n4 step left in place"),
    ("right", "1,2& Big step R, rock L behind & rec R", "1 step right to the side\n2 rock left behind right\n& recover right"),
    ("left", "1a2 Samba whisk L", "1a2 step left to the side, rock right behind left, recover left"),
    ("left", "1-3 L twinkle", "1 step left across right\n2 step right to the side\n3 step left in place"),
    ("left", "1,2,3 4,5,6 Basic fwd L, basic back R", "1 step left forward\n2 step right together\n3 step left in place\n4 step right back\n5 step left together\n6 step right in place"),
    ("right", "1-2 Walk R,L", "1 step right forward\n2 step left forward"),
    ("right", "1-2 Full turn L stepping R,L (option: walk R,L)", "1 turn 1/2 left stepping right back\n2 turn 1/2 left stepping left forward"),
    ("right", "1-2 Paddle 1/4 L", "1 step right forward\n2 pivot 1/4 left"),
    ("right", "1-2 Paddle 1/4 L, 3-4 repeat 1-2", "1 step right forward\n2 pivot 1/4 left\n3 step right forward\n4 pivot 1/4 left"),
    ("left", "1-2 Big step L, drag R", "1 step left to the side\n2 drag right together"),
    ("right", "1-2 R toe strut fwd", "1 touch right toe forward\n2 drop right heel"),
    ("right", "1-2 Cross R over L, unwind 3/4 L (wt L)", "1 step right across left\n2 unwind 3/4 left, weight on left"),
    ("right", "1-2 1/8 R stepping R fwd (1:30), touch L tog", "1 turn 1/8 right stepping right forward\n2 touch left beside right"),
    ("right", "1-2 Hitch R knee, step R back", "1 hitch right\n2 step right back"),
    ("right", "&1&2 Out R, out L, in R, in L", "&1 step right to the side, step left to the side\n& step right to centre\n2 step left to centre"),
    ("right", "1&2 Heel R, hook, heel", "1 touch right heel forward\n& hook right across left\n2 touch right heel forward"),
    ("right", "1-4 Step R fwd, hold, step L fwd, hold", "1 step right forward\n2 hold\n3 step left forward\n4 hold"),
)  # fmt: skip

# counts, abbreviations and turns as the trade writes them
MORE = (
    ("right", "123 Walk R L R", "1 step right forward\n2 step left forward\n3 step right forward"),
    ("right", "1-2-3-hold Walk R L R", "1 step right forward\n2 step left forward\n3 step right forward\n4 hold"),
    ("right", "1-3 Walk fwd RLR (4) hold", "1 step right forward\n2 step left forward\n3 step right forward\n4 hold"),
    ("right", "1 2 3 4 Walk RLRL", "1 step right forward\n2 step left forward\n3 step right forward\n4 step left forward"),
    ("right", "1-2& Side R, rock L behind, rec R", "1 step right to the side\n2 rock left behind right\n& recover right"),
    ("right", "1e&a2 Run fwd R L R L R", "1e&a2 step right forward, step left forward, step right forward, step left forward, step right forward"),
    ("right", "1-2 Step R fw, tch L bes R", "1 step right forward\n2 touch left beside right"),
    ("right", "1-2 RF fwd, LF tog", "1 step right forward\n2 step left together"),
    ("right", "1-2 Rt x over L, L bk", "1 step right across left\n2 step left back"),
    ("right", "1-2 X R ifo L, L sd", "1 step right across left\n2 step left to the side"),
    ("right", "1-2 R ibo L, L to L sd", "1 step right behind left\n2 step left to the side"),
    ("right", "1-2 pt R to sd, R beh L", "1 point right to the side\n2 step right behind left"),
    ("right", "1-2 hl R fwd, R nxt to L", "1 touch right heel forward\n2 step right together"),
    ("right", "1&2 Shfl fwd R L R", "1 step right forward\n& step left together\n2 step right forward"),
    ("right", "1&2 chs R", "1 step right to the side\n& step left together\n2 step right to the side"),
    ("right", "1&2 KBC R", "1 kick right forward\n& step right together\n2 step left in place"),
    ("right", "1-2 1/4 CW stp R fwd, L tog", "1 turn 1/4 right stepping right forward\n2 step left together"),
    ("left", "1-2 1/4 ACW stepping L fwd, R tog", "1 turn 1/4 left stepping left forward\n2 step right together"),
    ("right", "1-2 FT L (R,L)", "1 turn 1/2 left stepping right back\n2 turn 1/2 left stepping left forward"),
    ("right", "1-2 Make a 1/4 R stepping R fwd, touch L w/ clap", "1 turn 1/4 right stepping right forward\n2 touch left beside right and clap"),
    ("right", "1 Step R fwd turning 1/4 R, 2 touch L", "1 turn 1/4 right stepping right forward\n2 touch left beside right"),
    ("right", "1-2 Turn 1/2 over left shoulder stepping R back, L tog", "1 turn 1/2 left stepping right back\n2 step left together"),
    ("right", "1-2 Step R fwd, 1/4 turn L", "1 step right forward\n2 pivot 1/4 left"),
    ("right", "1-2 Pivot 1/2 L", "1 step right forward\n2 pivot 1/2 left"),
    ("right", "1-4 Side, behind, side, touch", "1 step right to the side\n2 step left behind right\n3 step right to the side\n4 touch left beside right"),
    ("right", "1-2 Dig R, tog", "1 touch right heel forward\n2 step right together"),
    ("right", "1-4 Slow coaster R, hold", "1 step right back\n2 step left together\n3 step right forward\n4 hold"),
    ("right", "1-2 Slide R to right, touch L", "1 step right to the side\n2 touch left beside right"),
    ("right", "1-2 Rock step R", "1 rock right forward\n2 recover left"),
    ("right", "1-4 Rock R to side, rec, rock R back, rec", "1 rock right to the side\n2 recover left\n3 rock right back\n4 recover left"),
    ("right", "1&2 R fwd, lock, fwd", "1 step right forward\n& step left behind right\n2 step right forward"),
    ("right", "1&2 Back lock step R", "1 step right back\n& step left across right\n2 step right back"),
    ("right", "1-2 Hold for 2 counts\n3-4 Walk R,L", "1 hold\n2 hold\n3 step right forward\n4 step left forward"),
    ("right", "1-4 Step touch R, step touch L", "1 step right to the side\n2 touch left beside right\n3 step left to the side\n4 touch right beside left"),
    ("right", "1-4 Walk R L R & kick L (clap)", "1 step right forward\n2 step left forward\n3 step right forward\n4 kick left forward and clap"),
    ("right", "1-4 R V step", "1 step right forward to the right diagonal\n2 step left forward to the left diagonal\n3 step right to centre\n4 step left together"),
)  # fmt: skip


@pytest.mark.parametrize(("free", "line", "plain"), [*LINES, *MORE])
def test_a_line_of_the_trade_means_these_steps(free: str, line: str, plain: str) -> None:
    reads_as(line, plain, HEAD.format(free))
