"""What is danced is no head: facts, seats and promises are told above the steps, whatever the steps' words are."""

from __future__ import annotations

import pytest

from softshoe.wording import retold
from softshoe.wording.header import Head, head_of
from softshoe.wording.read import read

RESTARTED = """plum jam
24 counts, 4 walls, beginner, 110 bpm, 8 in

stones: vine R, stomp up L + clap, vine L with a quarter left (9 o'clock), stomp up R + clap
sugar: R fwd, lock L behind, R fwd, scuff L, L over, R back, L side, touch R
restart here, walls 3 and 6
jars: R heel, R home, L heel, L home, R back, L together, clap, clap
"""
ENDING_IN = """Orchard Gate
16 counts, one wall, beginner, 104, eight in front
How does it begin?
A grapevine to the right ending in a touch of the left foot, and a grapevine to the left ending in a touch of the right.
How does it go on?
A slow coaster: right back, left together, right forward, hold.
How does it finish?
Left forward, right together, left back, touch right.
"""


def heard(*lines: str) -> Head:
    """Return what lines below a title say."""
    return head_of(list(enumerate(lines, 2)), "Plum Jam")


def test_a_restart_among_steps_is_one_and_no_promise(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(retold.BY_RULES, "0")
    dance = read(RESTARTED)
    assert [(r.after_count, r.walls) for r in dance.restarts] == [(16, (3, 6))]
    assert [f for f in dance.findings if f.severity == "error"] == []


def test_a_vine_that_ends_in_a_touch_promises_no_ending() -> None:
    assert [f.kind for f in read(ENDING_IN).findings if f.severity == "error"] == []
    promised = "16 counts, ending at the front"
    assert heard(promised).promises == [(2, "ending at the front")]


@pytest.mark.parametrize(
    ("said", "counts", "intro"),
    [
        ("Step count 32 -- four walls -- 94 bpm -- sixteen-count wait", 32, 16),
        ("Heat: 110. 32 cupfuls (counts). Preheat: 16 counts.", 32, 16),
        ("Leave it to settle for 8 counts. 24 counts in all.", 24, 8),
        ("92 beats, 16 before, 32 counts", 32, 16),
        ("Before: 16 counts. Length: 32 counts", 32, 16),
    ],
)
def test_the_wait_is_not_the_length(said: str, counts: int, intro: int) -> None:
    head = heard(said)
    assert (head.counts, head.intro) == (counts, intro)


@pytest.mark.parametrize(
    ("lines", "seated"),
    [
        (("32 counts, seated", "Grandad could not stand up in his slippers."), True),
        (("A chair dance in 32 counts", "Stand back and see"), True),
        (("32 counts, in our seats", "swing both arms beside the chair"), True),
        (("32 counts", "Chair: yes, behind it."), False),
        (("32 counts, chairs", "Stand behind the chair."), False),
        (("32 counts", "We dance beside the chair."), False),
    ],
)
def test_who_sits_is_told_by_whoever_speaks_of_sitting(lines: tuple[str, ...], seated: bool) -> None:
    assert heard(*lines).seated is seated


def test_bars_of_three_are_a_waltz_s() -> None:
    assert heard("Three in a bar, 24 counts").metre == "3/4"
    assert heard("Three sections in a row, 24 counts").metre is None


def test_the_foot_to_stand_on_may_stand_behind_a_colon() -> None:
    assert heard("Stand on: right foot", "32 counts").start_weight == "R"


@pytest.mark.parametrize("mark", [" // ", " | ", " / "])
def test_facts_between_strokes_are_no_margin_note(mark: str) -> None:
    facts = mark.join(("32ct", "4w", "beginner", "124", "wait 32"))
    dance = read(f"Plum Jam\n{facts}\n\n1-4 Vine right, touch left\n5-8 Vine left, touch right\n")
    assert (dance.counts, dance.walls, dance.level, dance.tempo_bpm, dance.intro_counts) == (32, 4, "beginner", 124, 32)
