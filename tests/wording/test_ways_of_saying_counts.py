"""Counts before, behind and inside the words, tables with any order of columns, broken lines, letters and walkthroughs."""

# ruff: noqa: E501  (a row a line)

from __future__ import annotations

import pytest

from .saying import reads_as

HEAD = "Probe\n8 counts, intro 16, start with the right foot\n\n"
PLAIN = (
    "1 step right to the side\n2 touch left beside right\n3 step left to the side\n4 touch right beside left\n"
    "5 step right forward\n& step left together\n6 step right forward\n7 rock left forward\n8 recover right"
)  # fmt: skip

WHOLE = (
    "1-2 Step right to the side, touch left beside right\n3-4 Step left to the side, touch right beside left\n5&6 Shuffle forward right, left, right\n7-8 Rock left forward, recover right",
    "Step right to the side, touch left beside right 1-2\nStep left to the side, touch right beside left 3-4\nShuffle forward right, left, right 5&6\nRock left forward, recover right 7-8",
    "Step right to the side (1), touch left beside right (2), step left to the side (3), touch right beside left (4).\nShuffle forward right, left, right (5&6), rock left forward (7), recover right (8).",
    "1: step right to the side; 2: touch left beside right; 3: step left to the side; 4: touch right beside left; 5&6: shuffle forward right, left, right; 7: rock left forward; 8: recover right",
    "Counts 1 and 2: step right to the side, touch left beside right.\nCounts 3 and 4: step left to the side, touch right beside left.\nCounts 5 and 6: shuffle forward right, left, right.\nCounts 7 and 8: rock left forward, recover right.",
    "1,2 Side R, touch L\n3,4 Side L, touch R\n5&6 R shuffle fwd\n7,8 Rock L fwd, rec R",
    "On 1 step right to the side, on 2 touch left beside right.\nOn 3 step left to the side, on 4 touch right beside left.\nOn 5&6 shuffle forward right, left, right.\nOn 7 rock left forward, on 8 recover right.",
    "Count | Steps\n1-2 | Step right to the side, touch left beside right\n3-4 | Step left to the side, touch right beside left\n5&6 | Shuffle forward right, left, right\n7-8 | Rock left forward, recover right",
    "| Steps | Count |\n|---|---|\n| Step right to the side, touch left beside right | 1-2 |\n| Step left to the side, touch right beside left | 3-4 |\n| Shuffle forward right, left, right | 5&6 |\n| Rock left forward, recover right | 7-8 |",
    "Count\tFeet\tHands\n1-2\tStep right to the side, touch left beside right\t\n3-4\tStep left to the side, touch right beside left\t\n5&6\tShuffle forward right, left, right\t\n7-8\tRock left forward, recover right\t",
    "| No | Count | Facing | Feet |\n| 1 | 1-2 | 12:00 | Step right to the side, touch left beside right |\n|  | 3-4 | 12:00 | Step left to the side, touch right beside left |\n|  | 5&6 | 12:00 | Shuffle forward right, left, right |\n|  | 7-8 | 12:00 | Rock left forward, recover right |",
    "1-2   Step right to the side,\n      touch left beside right\n3-4   Step left to the side,\n      touch right beside left\n5&6   Shuffle forward\n      right, left, right\n7-8   Rock left forward,\n      recover right",
    "Step the right foot to the side and touch the left beside it (1-2), then step\nthe left foot to the side and touch the right beside it (3-4). Shuffle forward\nright, left, right (5&6), rock forward on the left and recover on the right\n(7-8).",
    "- 1-2: step right to the side, touch left beside right\n- 3-4: step left to the side, touch right beside left\n- 5&6: shuffle forward right, left, right\n- 7-8: rock left forward, recover right",
    "[1-2] Step right to the side, touch left beside right\n[3-4] Step left to the side, touch right beside left\n[5&6] Shuffle forward right, left, right\n[7-8] Rock left forward, recover right",
    "1-4 STEP R TO SIDE, TCH L BES R, STEP L TO SIDE, TCH R BES L;  5&6 SHFL FWD RLR;  7-8 RK FWD L, REC R",
    "1 - 2  Step R to R side, touch L next to R\n3 - 4  Step L to L side, touch R next to L\n5 & 6  Shuffle fwd R, L, R\n7 - 8  Rock fwd on L, recover on R",
    "1 to 2, step right to the side, touch left beside right\n3 to 4, step left to the side, touch right beside left\n5 and 6, shuffle forward right, left, right\n7 to 8, rock left forward, recover right",
    "1) step right to the side\n2) touch left beside right\n3) step left to the side\n4) touch right beside left\n5&6) shuffle forward right, left, right\n7) rock left forward\n8) recover right",
    "First step right to the side and touch left beside right (1, 2). Then step left to the side and touch right beside left (3, 4). Now shuffle forward, right, left, right (5 & 6). Last, rock left forward and recover right (7, 8).",
    "(1) Step right to the side (2) touch left beside right (3) step left to the side (4) touch right beside left (5&6) shuffle forward right, left, right (7) rock left forward (8) recover right",
    "One, two: step right to the side, touch left beside right.\nThree, four: step left to the side, touch right beside left.\nFive and six: shuffle forward right, left, right.\nSeven, eight: rock left forward, recover right.",
    "Cts 1-2 step right to the side, touch left beside right\nCts 3-4 step left to the side, touch right beside left\nCts 5&6 shuffle forward right, left, right\nCts 7-8 rock left forward, recover right",
    "beats 1-2: step right to the side, touch left beside right\nbeats 3-4: step left to the side, touch right beside left\nbeats 5&6: shuffle forward right, left, right\nbeats 7-8: rock left forward, recover right",
)


@pytest.mark.parametrize("words", WHOLE)
def test_counts_may_stand_anywhere(words: str) -> None:
    reads_as(words, PLAIN, HEAD)


SPOKEN = (
    "Feet together, weight on your left. We start with the right.\nSide, touch, side, touch. That's one, two, three, four. Shuffle forward, five and six, rock forward, recover, seven, eight.\nFrom the top: five, six, seven, eight.",
    "“Right foot to the side, and touch the left. Left to the side, and touch the right. Shuffle forward on the right, and rock the left foot forward, recover on the right.”",
    'Here we go then.\n"Side right, touch, side left, touch - one, two, three, four.\nAnd shuffle forward, five and six, rock forward left, seven, recover, eight."',
    "Now, step to the right and touch, step to the left and touch. Shuffle forward right, rock forward left, recover.",
    "Ready? Step right, touch left, step left, touch right; shuffle forward, right, left, right; rock forward on the left, recover on the right. And again!",
    "Side, touch, side, touch, shuf-fle-step, rock forward, recover.",
    "Let's go: right to the side, touch; left to the side, touch; right shuffle forward; left rock forward, recover. And that's your eight.",
)


@pytest.mark.parametrize("words", SPOKEN)
def test_a_walkthrough_is_danced(words: str) -> None:
    reads_as(words, PLAIN, HEAD)
