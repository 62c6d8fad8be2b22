"""Where words can be read in two ways, footwork decides; what stays open is told, both readings with it."""

from __future__ import annotations

import pytest

from softshoe.wording.read import read


def told(steps: str, kind: str = "ambiguous") -> list[tuple[str, int | None]]:
    return [(f.severity, f.line) for f in read(f"T\n{steps}").findings if f.kind == kind]


def danced(steps: str) -> list[str]:
    dance = read(f"T\n{steps}")
    return [f"{a.foot.value if a.foot else '-'} {a.verb} {a.dir.value if a.dir else ''}" for a in dance.actions]


@pytest.mark.parametrize(
    ("steps", "said"),
    [
        ("1-2 step R to side, turn left\n3-4 walk R, L", "a quarter or a half"),
        ("1-4 heel right, together, heel left, together x2", "the last step or for the whole line"),
        (
            "1-4 walk R, L, R, L\n5-6 R kick, R heel\nrepeat to the left",
            "the 6 counts so far or the 2 of the last line",
        ),
    ],
)
def test_what_stays_open_is_told_with_both_readings(steps: str, said: str) -> None:
    found = [f for f in read(f"T\n{steps}").findings if f.kind == "ambiguous"]
    assert [f.severity for f in found] == ["warning"]
    assert said in found[0].message
    assert found[0].mend


@pytest.mark.parametrize(
    "steps",
    [
        "1-2 step right, touch left\n3-4 step left, touch right",
        "1-4 step R to side, turn a quarter left, walk R, L",
        "1-2 step R forward, turn left (9:00)\n3-4 walk R, L",
        "1-8 heel right, together, heel left, together x2",
        "1-2 clap twice\n3-4 walk R, L",
        "1-4 walk R, L, R, touch L\n5-8 repeat to the left",
        "1-2 slide right, touch\n3-4 slide left, touch",
    ],
)
def test_what_counts_feet_or_facings_settle_is_not_told(steps: str) -> None:
    assert told(steps) == []


def test_a_slide_to_a_side_travels_and_a_slide_to_the_other_foot_draws_in() -> None:
    assert danced("1-2 slide right, touch\n3-4 slide left, touch") == [
        "R step right", "L touch together", "L step left", "R touch together",
    ]  # fmt: skip
    assert danced("1-2 step R to side, slide L to R\n3-4 hold")[1].startswith("L drag together")


def test_times_behind_a_line_are_for_the_line_and_lead_with_the_other_foot_where_they_must() -> None:
    assert danced("1-4 R side, touch L twice") == [
        "R step right",
        "L touch together",
        "L step left",
        "R touch together",
    ]


def test_a_turn_that_does_not_say_how_far_goes_to_the_facing_beside_it() -> None:
    assert [a.turn_deg for a in read("T\n1-2 step R to side, turn left (9:00)\n3-4 walk R, L").actions][1] == -90
