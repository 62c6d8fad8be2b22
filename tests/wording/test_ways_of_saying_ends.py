"""The end of a wall and what stands behind it: however it is put, it adds no step and accuses no one."""

from __future__ import annotations

import pytest

from .saying import reads_as

EIGHT = (
    "1-4 Step right to the side, touch left beside right, step left to the side, touch right beside left\n5-8 Hold 4"
)
HEAD = "Probe\n8 counts, 1 wall, intro 16, start with the right foot\n\n"

AGAIN = (
    "RPT", "Rpt.", "REPEAT!", "And again.", "Then again to the new wall. Tea at half past.",
    "And round we go again, love, from the top.", "And then it all begins again, facing the other way.",
    "Start over on the next wall", "Off we go again!", "Now do it all over again", "Go again",
    "Repeat until the song runs out.", "Repeat to the end of the music", "Begin the dance again at the new wall.",
    "Keep going till the music stops!", "Same again, new wall", "Repeat the dance in a new direction",
    "Back to the beginning, and smile", "... and from the top", "That's it! Start again", "Repeat and have fun",
    "And so on, over and over, until the band has had enough.", "(and again, facing 9 o'clock)",
    "** Begin again **", "Then we go back to the start.", "It all starts again on the back wall",
)  # fmt: skip


@pytest.mark.parametrize("words", AGAIN)
def test_words_that_the_dance_begins_again_ask_for_no_step(words: str) -> None:
    reads_as(f"{EIGHT}\n{words}", EIGHT, HEAD)


BEHIND = (
    "See you all on Friday!", "Tea at half past.", "Ring me if you get stuck!", "Your old dance partner",
    "Thanks to the ladies of the Thursday class, who tried it first.", "Any questions, just ask.",
    "Don't forget the raffle.", "It sounds harder than it is, I promise you.",
)  # fmt: skip


@pytest.mark.parametrize("words", BEHIND)
def test_chatter_behind_the_end_asks_for_no_step(words: str) -> None:
    reads_as(f"{EIGHT}\nStart again\n{words}", EIGHT, HEAD)
    reads_as(f"{EIGHT}\n\n{words}", EIGHT, HEAD)


COPIES = (
    ("Same again", "Step right to the side, touch left beside right, step left to the side, touch right beside left"),
    ("Again", "Step right to the side, touch left beside right, step left to the side, touch right beside left"),
    ("Repeat 1-4", "Step right to the side, touch left beside right, step left to the side, touch right beside left"),
)


@pytest.mark.parametrize(("words", "plain"), COPIES)
def test_a_copy_with_counts_of_its_own_stays_a_copy(words: str, plain: str) -> None:
    first = f"1-4 {COPIES[0][1]}"
    reads_as(f"{first}\n5-8 {words}", f"{first}\n5-8 {plain}", HEAD)
