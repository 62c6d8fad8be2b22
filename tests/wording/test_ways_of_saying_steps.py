"""Steps in other words: told under a pattern's name, weight brought back, facings spelled out, feet told in prose."""

# ruff: noqa: E501  (a row a line)

from __future__ import annotations

import pytest

from .saying import reads_as

HEAD = "Probe\n8 counts, intro 16, start with the right foot\n\n"
ROCKING = "1-4 Rock right forward, recover left, rock right back, recover left"

UNDER_A_NAME = (
    ("1-4 rocking chair on the R: forward, recover, back, recover", ROCKING),
    ("1-4 Rocking chair (forward, recover, back, recover)", ROCKING),
    ("1-4 R rocking chair: fwd, rec, back, rec", ROCKING),
    ("1-4 Rocking chair R", ROCKING),
    ("1-4 Rocking chair: rock forward R, recover, rock back R, recover", ROCKING),
    ("1-4 rocking chair, R leads", ROCKING),
    ("1-4 Rocking chair with the right: forward, replace, back, replace", ROCKING),
    ("1-4 Rocking chair - R forward, recover L, R back, recover L", ROCKING),
    ("1-2 Rock step: R forward, recover\n3-4 Rock step: R back, recover", ROCKING),
    (
        "1-2 R toe strut: toe, heel\n3-4 L toe strut: toe, heel",
        "1 touch right toe forward\n2 drop right heel\n3 touch left toe forward\n4 drop left heel",
    ),
    (
        "1-4 Toe struts forward R, L",
        "1 touch right toe forward\n2 drop right heel\n3 touch left toe forward\n4 drop left heel",
    ),
    (
        "1-4 jazz box: cross R over L, L back, R to the side, L beside R",
        "1-4 Cross right over left, step left back, step right to the side, step left beside right",
    ),
    (
        "1-4 Jazz box R (cross, back, side, together)",
        "1-4 Cross right over left, step left back, step right to the side, step left beside right",
    ),
    (
        "1-4 Monterey 1/4 R: point, turn, point, together",
        "1-4 Point right to the side, turn 1/4 right stepping right beside left, point left to the side, step left beside right",
    ),
    (
        "1-4 charleston: touch R forward, step R back, touch L back, step L forward",
        "1-4 Touch right forward, step right back, touch left back, step left forward",
    ),
)


@pytest.mark.parametrize(("words", "plain"), UNDER_A_NAME)
def test_a_pattern_may_be_named_and_told(words: str, plain: str) -> None:
    reads_as(f"{words}\n5-8 Hold 4", f"{plain}\n5-8 Hold 4", HEAD)


BACK = (
    "recover onto the right", "bring the weight forward again onto the right", "shift the weight back to the right",
    "take the weight back onto the right", "replace the weight on the right", "and come back onto the right",
    "transfer weight to right", "weight back onto the right foot", "recover weight R", "recover", "and back onto the right",
    "let the weight come back to the right", "returning weight to right",
)  # fmt: skip


@pytest.mark.parametrize("words", BACK)
def test_the_weight_comes_back_in_many_words(words: str) -> None:
    plain = "1&2 Triple step right, left, right\n3-4 Rock left back, recover right\n5-8 Hold 4"
    reads_as(plain.replace("recover right", words), plain, HEAD)


FACINGS = (
    "", " (6:00)", ", so that you look at six o'clock", ", facing 6 o'clock", " to face the back wall", " [6 o'clock]",
    " - you now see six o'clock", ", back to six o’clock", " (look at 6:00)", " (now at the back)", " (back wall)",
    ", ending at 6:00", " (6h)", " (facing the back)", ", so now you are looking at the back wall", " → 6:00",
)  # fmt: skip


@pytest.mark.parametrize("words", FACINGS)
def test_a_facing_in_any_words_moves_no_foot(words: str) -> None:
    plain = "1-2 Step right forward, pivot 1/2 left\n3-4 Walk right, left\n5-8 Hold 4"
    reads_as(plain.replace("1/2 left", f"1/2 left{words}"), plain, HEAD)


SAID_TWICE = (
    "right foot to the side again", "right to the side once more", "again right foot to the side", "step right to the side again",
    "and the right foot to the side again",
)  # fmt: skip


@pytest.mark.parametrize("words", SAID_TWICE)
def test_again_behind_a_step_of_its_own_copies_nothing(words: str) -> None:
    plain = "1-4 Right foot to the side, left foot beside it, {}, touch the left beside it\n5-8 Hold 4"
    reads_as(plain.format(words), plain.format("right foot to the side"), HEAD)


DRAWN_IN = (
    "1-4 Step right to the side, drag left together for 2 counts, touch left", "1-4 Big step right, drag left, drag left, touch left",
    "1-4 Long step right to the side, drag left to right over two counts, touch left beside right",
    "1 Large step R to R, 2-3 slide L towards R, 4 touch L beside R", "1 Step right to the side, 2 3 draw the left in, 4 tap it beside the right",
    "1-4 Step right a big step to the right, drag the left, drag it, touch it", "1-4 Big step R, slow drag L (2 counts), tch L",
)  # fmt: skip


@pytest.mark.parametrize("words", DRAWN_IN)
def test_a_foot_drawn_in_is_touched_beside_the_other(words: str) -> None:
    plain = "1 step right to the side\n2 drag left together\n3 drag left together\n4 touch left beside right"
    reads_as(f"{words}\n5-8 Hold 4", f"{plain}\n5-8 Hold 4", HEAD)


SAME = (
    "5a6 same to the right\n7a8 and to the left once more", "5a6 step R to right side, rock ball of L behind R, recover R\n7a8 the same to the left",
    "5a6 repeat to the right\n7a8 repeat to the left", "5a6 to the right again\n7a8 to the left again",
    "5a6 mirror 3a4\n7a8 repeat 3a4",
    "5a6 other side\n7a8 other side", "5a6 same on the other foot\n7a8 and again on the left",
)  # fmt: skip


@pytest.mark.parametrize("words", SAME)
def test_a_copy_takes_only_its_own_counts(words: str) -> None:
    first = "1,2& long step R to right side, rock L behind R, recover R\n3a4 step L to left side, rock ball of R behind L, recover L"
    plain = "5a6 step R to right side, rock ball of L behind R, recover R\n7a8 step L to left side, rock ball of R behind L, recover L"
    reads_as(f"{first}\n{words}", f"{first}\n{plain}", HEAD)
