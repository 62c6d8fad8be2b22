"""More of the trade's page: turns, pivots, weight, holds, repeats, struts, sways, switches, waltz, in leaders' words."""

# ruff: noqa: E501  (a row a line)

from __future__ import annotations

import pytest

from .saying import reads_as

HEAD = "Probe\n8 counts, intro 16, start with the right foot\n\n"

# plain words (steps one by one; the rest is held), and ways to say them
GROUPS = (
    (
        "1 turn 1/4 right stepping right forward\n2 touch left beside right",
        (
            "1-2 1/4 R step R fwd, touch L",
            "1-2 Quarter turn right and step forward on the right, touch left",
            "1-2 Turning 1/4 right step right forward, touch left beside right",
            "1-2 Make a quarter turn to the right as you step the right foot forward, touch left",
            "1-2 ¼ right stepping R forward, touch L",
            "1-2 Step R ¼ R, touch L",
            "1-2 Step forward on the right with a quarter turn right, touch left together",
            "1-2 R fwd turning 1/4 R, tch L",
        ),
    ),
    (
        "1 step right forward\n2 pivot 1/4 left\n3 step right forward\n4 pivot 1/4 left",
        (
            "1-4 Step R fwd, pivot 1/4 L, step R fwd, pivot 1/4 L",
            "1-4 Paddle 1/4 left twice",
            "1-4 (Step R fwd, pivot 1/4 L) x2",
            "1-2 step R forward, pivot 1/4 left (9:00)\n3-4 and once more (6:00)",
            "1-2 Step right forward, quarter pivot left\n3-4 Repeat 1-2",
        ),
    ),
    (
        "1 step right forward\n2 pivot 1/2 left\n3 step right forward\n4 step left forward",
        (
            "1-4 Step R fwd, pivot 1/2 L, walk R, L",
            "1-4 Right forward, half turn left, walk right left",
            "1-4 R fwd, 1/2 pivot L, walk R L",
            "1-4 Step right forward and pivot half a turn to the left, two walks",
            "1-2 Half pivot left\n3-4 Walk walk",
            "1-4 Step pivot half left, walk forward right, left",
        ),
    ),
    (
        "1 sway right\n2 sway left\n3 sway right\n4 sway left",
        (
            "1-4 Sway R, L, R, L",
            "1-4 Sway hips right, left, right, left",
            "1-4 Sways: right, left, right, left",
            "1-4 Four sways, starting right",
            "1-4 Sway right and left twice",
            "1-2 Sway right, sway left\n3-4 Again",
            "1-4 Sway to the right, to the left, to the right, to the left",
        ),
    ),
    (
        "1 step right to the side\n2 step left to the side\n3 hold\n4 hold",
        (
            "1-4 Step R to R, step L to L, hold, hold",
            "1-2 Out, out\n3-4 Hold",
            "1-2 R out, L out\n3-4 Hold for two",
            "1-4 Step right out, step left out, hold 2 counts",
            "1-2 Feet apart: right, left\n3-4 Wait",
        ),
    ),
    (
        "1 touch right heel forward\n& step right together\n2 touch left heel forward\n& step left together\n3 touch right heel forward\n4 step right together",
        (
            "1&2& R heel & L heel &\n3-4 R heel, together",
            "1&2& Heel switches R, L\n3-4 Right heel forward, right together",
            "1& Right heel forward, step right together\n2& Left heel forward, step left together\n3-4 Right heel forward, step right together",
            "1&2&3-4 R heel fwd & tog, L heel fwd & tog, R heel fwd, tog",
        ),
    ),
    (
        "1 touch right toe forward\n2 drop right heel\n3 touch left toe forward\n4 drop left heel",
        (
            "1-2 R toe strut forward\n3-4 L toe strut forward",
            "1-4 R TOE STRUT FWD, L TOE STRUT FWD",
            "1-4 Two toe struts forward: right, left",
            "1-4 Touch R toe fwd, drop R heel, touch L toe fwd, drop L heel",
            "1-4 Right toe forward, heel down, left toe forward, heel down",
            "1-4 Strut forward right, strut forward left",
            "1-4 Step right toe forward, lower heel, step left toe forward, lower heel",
        ),
    ),
    (
        "1 step right to the side\n2 step left behind right\n3 step right to the side\n4 step left across right",
        (
            "1-4 Weave right: side, behind, side, cross",
            "1-4 Side, behind, side, across",
            "1-4 Weave to the right (side, behind, side, in front)",
            "1-4 Weave R",
            "1-4 R side, L behind, R side, L over",
            "1-4 Step R to side, cross L behind, step R to side, cross L over",
            "1-4 right foot side, left foot behind, right foot side, left foot in front",
        ),
    ),
    (
        "1 step right back\n2 step left back\n3 step right back\n4 touch left beside right",
        (
            "1-4 Walk back R L R, touch L",
            "1-4 Back, back, back, touch",
            "1-4 Three steps back (R L R) and touch",
            "1-4 Walk backwards right, left, right, touch left beside right",
            "1-4 Go back right, left, right, tap left",
            "1-3 Back R L R\n4 Touch L",
            "1-4 R back, L back, R back, L touch",
            "1-4 Step back right, left, right, touch left next to right",
        ),
    ),
    (
        "1 stomp right\n2 stomp left\n3 clap\n4 clap",
        (
            "1-4 Stomp R, stomp L, clap, clap",
            "1-4 Stomp, stomp, clap twice",
            "1-2 Stomp right, left\n3-4 Clap x2",
            "1-2 Two stomps, right and left\n3-4 Two claps",
            "1-4 Stamp right, stamp left, clap clap",
            "1-2 Stomp R & L\n3-4 Clap hands twice",
            "1-4 Stomp right, stomp left, clap your hands, clap your hands",
        ),
    ),
    (
        "1 step right forward\n2 step left behind right\n3 step right forward\n4 scuff left forward",
        (
            "1-4 Step R fwd, lock L behind, step R fwd, scuff L",
            "1-4 Step lock step scuff (R)",
            "1-4 Step right forward, lock left behind right, step right forward, scuff left heel",
            "1-4 Right lock step forward with a scuff",
            "1-4 Slow lock step forward on the right, scuff left",
        ),
    ),
    (
        "1 point right to the side\n2 step right across left\n3 point left to the side\n4 step left across right",
        (
            "1-4 Point R to side, cross R over L, point L to side, cross L over R",
            "1-4 Point, cross, point, cross",
            "1-4 R point side, R cross, L point side, L cross",
            "1-4 Point right toe right, cross right over left, point left toe left, cross left over right",
        ),
    ),
    (
        "1 rock right to the side\n2 recover left\n3 step right together\n4 hold",
        (
            "1-4 Rock R to side, recover L, step R together, hold",
            "1-4 Side rock right, recover, together, hold",
            "1-4 Slow side mambo R, hold",
            "1-4 R side rock, rec, tog, hold",
            "1-3 Side mambo: rock right, recover, close\n4 Hold",
            "1-4 Rock right out to the side, back onto left, right beside left, hold",
        ),
    ),
    (
        "1 kick right forward\n2 kick right forward\n3 step right back\n4 touch left beside right",
        (
            "1-4 Kick R fwd twice, step R back, touch L",
            "1-4 Kick, kick, back, touch",
            "1-2 Kick R x2\n3-4 R back, L touch",
            "1-2 Low kick right twice\n3-4 Step right back, touch left beside right",
            "1-4 Kick right, kick right, right back, tap left",
        ),
    ),
)


@pytest.mark.parametrize(("plain", "words"), [(plain, way) for plain, ways in GROUPS for way in ways])
def test_steps_in_leaders_words(plain: str, words: str) -> None:
    last = int(plain.rsplit("\n", 1)[1][0])
    tail = f"\n{last + 1}-8 Hold {8 - last}"
    reads_as(words + tail, plain + tail, HEAD)
