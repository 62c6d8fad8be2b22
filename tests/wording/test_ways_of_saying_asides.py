"""Asides beside the steps: margin notes, remarks in brackets, adverbs; they move no foot and accuse no one."""

# ruff: noqa: E501  (a row a line)

from __future__ import annotations

import pytest

from .saying import reads_as

HEAD = "Probe\n8 counts, 1 wall, intro 16, start with the right foot\n\n"
LINE = "5-6 Stomp right, stomp left"
REST = "1-4 Step right to the side, touch left beside right, step left to the side, touch right beside left\n7-8 Clap, clap"


def sheet(line: str) -> str:
    first, last = REST.split("\n")
    return f"{first}\n{line}\n{last}"


ASIDES = (
    "  (gently, there is a flat underneath)", "   <- remind them: the floor is thin", "  ← not too loud", " <-- loud!",
    " (think of the neighbours)", " (say \"out, in\" if it helps)", " - not too hard, mind the floorboards",
    " (no hurry, the music waits for us)", "  << watch Doris", " (like a soldier)", " (the fun bit!)",
    " (you can hold on to the chair here)", " (mind the cable)", " (everybody likes this one)", " (feet only)",
    " (smile, they can see you)", "   // the hall echoes", " (as loud as you like)", " (see the picture)",
    " ... and mind the cat", " (that's the noisy part)", " (keep the knees soft)", " (this is the hard part!)",
)  # fmt: skip


@pytest.mark.parametrize("aside", ASIDES)
def test_an_aside_behind_a_line_moves_no_foot(aside: str) -> None:
    reads_as(sheet(LINE + aside), sheet(LINE), HEAD)


CHATTER = (
    "Somebody always laughs here; let them.", "Have a look whether everyone is still there.", "Breathe!",
    "(We wait for Harold here.)", "This is where it gets interesting.", "Nearly there!", "* now the easy part *",
    "Now comes my favourite.", "Look up, not at your feet.", "People tend to rush here.", "Well done so far.",
    "Easy so far, isn't it?", "-- all in one go --", "Don't look down.", "Slowly at first, please",
)  # fmt: skip


@pytest.mark.parametrize("words", CHATTER)
def test_a_line_of_chatter_between_the_steps_moves_no_foot(words: str) -> None:
    first, last = REST.split("\n")
    reads_as(f"{first}\n{words}\n{LINE}\n{last}", sheet(LINE), HEAD)
    reads_as(f"{first}\n{LINE}\n{words}\n{last}", sheet(LINE), HEAD)


STAYING = (
    "1-4: Right toes fan out, in, out, in (the heel stays put)", "1-4: Right toes fan out, in, out, in, with the heel down",
    "1-4: Right toes fan out, in, out, in - the heel stays where it is", "1-4 R toes fan out, in, out, in (heel still)",
    "1-4 Fan the right toes out, in, out, in with the heel on the floor",
    "1-4 Fan right toes out, in, out, in (keep the heel down)", "1-4 Fan right toes: out, in, out, in",
    "1-4 Fan the toes of the right foot out, in, out, in", "1-4 Right toe fan out, in, out, in (on the heel)",
)  # fmt: skip


@pytest.mark.parametrize("words", STAYING)
def test_a_part_of_the_foot_that_stays_is_no_movement(words: str) -> None:
    reads_as(
        f"{words}\n5-8 Hold 4",
        "1 fan right toe out\n2 fan right toe in\n3 fan right toe out\n4 fan right toe in\n5-8 Hold 4",
        HEAD,
    )


TRAVELLING = (
    "5-6: full turn left, travelling forward (1/2 left stepping back on R, 1/2 left stepping forward on L)",
    "5-6: full turn left travelling forward, stepping R, L", "5-6 full turn left moving forward R, L",
    "5-6 Full turn left (R, L), moving forward", "5-6 travelling full turn left stepping right, left",
    "5-6 full turn L forward, stepping R L", "5-6 1/2 left stepping back on R, 1/2 left stepping forward on L",
    "5-6 1/2 turn L step R back, 1/2 turn L step L fwd", "5-6 Full turn left: 1/2 L R back, 1/2 L L fwd",
)  # fmt: skip


@pytest.mark.parametrize("words", TRAVELLING)
def test_a_full_turn_on_two_steps_however_it_is_told(words: str) -> None:
    plain = "5 turn 1/2 left stepping right back\n6 turn 1/2 left stepping left forward"
    reads_as(sheet(words), sheet(plain), HEAD)


WAYS = (
    ("1&2 Shuffle right, left, right, travelling back", "1&2 Shuffle back right, left, right"),
    ("1-4 Walk right, left, right, left, moving backwards", "1-4 Walk back right, left, right, left"),
    ("1-4 Four walks going back, right foot first", "1-4 Walk back right, left, right, left"),
    ("1-4 Travelling forward: walk R, L, R, L", "1-4 Walk forward right, left, right, left"),
    ("1-4 Walk back for four, starting right", "1-4 Walk back right, left, right, left"),
    ("1-4 4 walks back R L R L", "1-4 Walk back right, left, right, left"),
    ("1-4 Walk backwards: right, left, right, left", "1-4 Walk back right, left, right, left"),
    ("1-4 Walk R L R L backwards", "1-4 Walk back right, left, right, left"),
)


@pytest.mark.parametrize(("words", "plain"), WAYS)
def test_the_way_may_be_told_behind_the_steps(words: str, plain: str) -> None:
    tail = "\n3-8 Hold 6" if plain.startswith("1&2") else "\n5-8 Hold 4"
    reads_as(words + tail, plain + tail, HEAD)
