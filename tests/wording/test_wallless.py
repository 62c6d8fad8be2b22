"""A tag or restart that names no wall is told, and never handed on without one."""

from __future__ import annotations

from softshoe.wording.read import read

STEP = "Step R to right, touch L together, step L to left, touch R together"
SHEET = f"""Tin Kettle
16 counts, 1 wall, beginner, 100 bpm, intro 16

1-8 {STEP}, {STEP.lower().replace(" r", " R").replace(" l", " L")}
{{middle}}
9-16 {STEP}, {STEP.lower().replace(" r", " R").replace(" l", " L")}
{{end}}
"""


def test_a_restart_among_the_steps_without_a_wall_is_left_out_and_told() -> None:
    dance = read(SHEET.format(middle="Restart here sometimes", end=""))
    assert dance.restarts == ()
    assert any(f.kind == "ambiguous" and "which wall" in f.message for f in dance.findings)


def test_a_restart_at_the_end_of_the_dance_is_only_its_end_mark() -> None:
    dance = read(SHEET.format(middle="", end="Begin again, facing the new wall."))
    assert dance.restarts == ()
    assert not [f for f in dance.findings if f.kind == "ambiguous"]


def test_a_tag_without_a_wall_keeps_its_steps_and_is_told() -> None:
    dance = read(SHEET.format(middle="", end="\nTAG\n1-4 Sway R, L, R, L"))
    assert [(tag.walls, len(tag.actions)) for tag in dance.tags] == [((1,), 4)]
    assert any(f.kind == "ambiguous" and "wall 1 was taken" in f.message for f in dance.findings)
