"""Dances written in every style and read again: equal, for any dance that the vocabulary can make."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, given, settings

from dance.sound_dances import sound_dances
from softshoe.dance.feet import Weight
from softshoe.dance.footwork import danced, mirrored, net_turn_deg
from softshoe.dance.places import Direction
from softshoe.errors import SettingError
from softshoe.wording.read import read
from softshoe.wording.source import sheet_text
from softshoe.wording.write import write
from softshoe.wording.write_book import STYLES

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance

SOUND = Path(__file__).parents[1] / "sheets" / "sound"
ODD = sorted((Path(__file__).parents[1] / "sheets" / "odd").glob("*.txt"))
assert len(ODD) > 40
SLOW = (HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much)


def written(name: str, style: str) -> str:
    return write(read(sheet_text(next(SOUND.glob(f"{name}*.txt")))), style=style)


@pytest.mark.parametrize("style", sorted(STYLES))
@settings(max_examples=15, deadline=None, suppress_health_check=SLOW)
@given(dance=sound_dances())
def test_what_is_written_reads_back_to_an_equal_dance(style: str, dance: Dance) -> None:
    again = read(write(dance, style=style))
    assert again == dance
    assert [f for f in again.findings if f.kind in ("facing", "word", "count-twice", "count-missing")] == []


@pytest.mark.parametrize("style", sorted(STYLES))
@pytest.mark.parametrize("path", ODD[::3], ids=lambda p: p.stem)
def test_odd_sheets_read_back_in_every_style(path: Path, style: str) -> None:
    dance = read(sheet_text(path))
    assert read(write(dance, style=style)) == dance


@settings(max_examples=25, deadline=None, suppress_health_check=SLOW)
@given(dance=sound_dances())
def test_the_mirror_of_a_mirror_is_the_dance(dance: Dance) -> None:
    assert mirrored(mirrored(dance.actions)) == dance.actions


@settings(max_examples=25, deadline=None, suppress_health_check=SLOW)
@given(dance=sound_dances())
def test_four_walls_of_quarter_turns_lead_back_to_the_front(dance: Dance) -> None:
    last = danced(dance.actions * 4, weight=dance.start_weight)[-1]
    assert last.facing_deg == 4 * net_turn_deg(dance) % 360
    assert last.facing_deg == 0 or net_turn_deg(dance) % 90


@pytest.mark.parametrize("style", sorted(STYLES))
def test_a_heel_lowered_where_its_own_foot_has_touched_bears_nothing_when_it_is_read_again(style: str) -> None:
    dance = read("Probe\n1 wall, intro 16, seated\n1-4 Lift R heel, lower R heel, touch R fwd, hold\n")
    heel = next(a for a in dance.actions if a.verb == "lower")
    lowered = replace(dance, actions=(*dance.actions[:3], replace(heel, at=dance.actions[3].at)))
    assert read(write(lowered, style=style)) == lowered


def test_parts_of_a_turn_are_no_counts_behind_a_title() -> None:
    steps = ("1  PIVOT 1/4 TURN R (3:00)", "2  SWAY L", "3  ROCK R FWD 1/4 TURN R (6:00)", "4-8  HOLD")
    still = "SECTION 1\n1  ROCK R FWD\n2  STEP L FWD\n3-8  HOLD\n\nSECTION 2"
    dance = read("\n".join(("LANTERN\n2 WALLS\n", still, *steps)))
    assert [section.title for section in dance.sections] == ["", ""]
    assert [action.turn_deg for action in dance.actions[-8:]][:3] == [90, 0, 90]
    assert read(write(dance, style="large")) == dance


def test_a_sweep_through_a_full_turn_is_no_pair_of_steps() -> None:
    dance = read("Lantern\n1  Step L fwd\n2a  Sweep R fwd turning a full turn to the right, flick R back\n3-8  Hold\n")
    assert [(a.verb, a.turn_deg) for a in dance.actions[1:3]] == [("sweep", 360), ("flick", 0)]
    assert read(write(dance, style="table")) == dance


def test_a_foot_drawn_in_where_both_feet_bear_takes_no_weight_for_the_next_step() -> None:
    dance = read("Lantern\n1  Jump both feet in place\n2  Drag R beside L\n3  Step L fwd\n4-8  Hold\n")
    assert dance.actions[1].weight_said is None
    alone = read("Lantern\n1  Step L in place\n2  Drag R beside L\n3  Step L fwd\n4-8  Hold\n")
    assert alone.actions[1].weight_said is Weight.RIGHT
    assert [read(write(dance, style=style)) for style in STYLES] == [dance] * len(STYLES)


def test_quick_counts_before_a_clock_are_no_names_of_sections() -> None:
    steps = "1a Pivot 1/4 turn R, clap (3:00)\n2a Pivot 1/4 turn L, clap (12:00)\n3-8 Hold\n"
    dance = read(f"Lantern\n1 wall\n{steps}")
    assert [section.title for section in dance.sections] == [""]
    assert [action.at.label for action in dance.actions[:4]] == ["1", "1a", "2", "2a"]
    assert [read(write(dance, style=style)) for style in STYLES] == [dance] * len(STYLES)


def test_patterns_are_written_by_their_names() -> None:
    short = written("01", "short")
    assert "1-4  Vine R, scuff L fwd" in short
    assert "5-8  L rocking chair" in short
    assert "1&2  R kick-ball-change" in written("02", "short")


def test_halves_danced_again_are_folded() -> None:
    assert "5-8  Same to the left" in written("02", "short")
    assert "5 to 8: Now the same to the left." in written("02", "spoken")
    assert "1-8  Repeat section 1 on the other foot" in written("09", "short")


def test_arms_that_go_on_stand_below_the_steps() -> None:
    assert "1-4  March R, L, R, L\n    arms: swing both hands" in written("06", "short")


def test_turns_tell_where_they_lead() -> None:
    assert "pivot 1/4 turn L (9:00)" in written("04", "short")


def test_the_table_has_a_line_a_count_and_a_column_for_the_arms() -> None:
    table = written("01", "table")
    assert "| Counts | Feet | Arms |" in table
    assert "| 2 | Touch left foot beside right | clap |" in table


def test_large_print_is_one_line_a_count_in_capitals() -> None:
    assert "2   TOUCH L BESIDE R AND CLAP\n\n3   STEP L TO FWD L DIAG\n" in written("01", "large")


def test_a_height_said_of_one_hand_is_not_given_to_the_next() -> None:
    arms = "reach right hand to the right at head height\n   arms: punch left hand forward"
    sheet = f"Kettle\n1 Step R fwd and {arms}\n2 Step L tog"
    dance = read(sheet)
    assert [arm.place for arm in dance.actions[0].arms] == ["head", None]
    assert read(write(dance, style="sentences")) == dance


def test_notes_stay_below_the_steps() -> None:
    sheet = "Kettle\n1 Step R fwd\n2 Step L tog\nNote: smile at your neighbour"
    assert write(read(sheet)).endswith("\nNote: smile at your neighbour\n")


def test_an_unknown_style_names_those_there_are() -> None:
    with pytest.raises(SettingError, match="there is no style") as caught:
        write(read("Kettle\n1 Step R fwd\n2 Step L tog"), style="rhyme")
    assert "spoken" in caught.value.mend


def test_a_dance_in_which_nothing_moves_is_written_all_the_same() -> None:
    dance = read("Kettle\n1 Step R fwd\n2-4 Hold")
    still = replace(dance, actions=tuple(replace(a, foot=None, verb="hold", dir=None) for a in dance.actions))
    assert "1  Hold\n2  Hold\n" in write(still)


@pytest.mark.parametrize("style", sorted(STYLES))
def test_a_height_said_of_one_hand_is_not_given_to_the_one_before(style: str) -> None:
    arms = "snap the fingers of the right hand\n   arms: snap the fingers of the left hand at shoulder height"
    dance = read(f"Kettle\n1 wall\n1 Step R fwd and {arms}\n2 Touch L beside R\n")
    assert [arm.place for arm in dance.actions[0].arms] == [None, "shoulder"]
    assert read(write(dance, style=style)) == dance


@pytest.mark.parametrize("style", sorted(STYLES))
def test_a_heel_that_was_lifted_and_drops_bears_when_it_is_read_again(style: str) -> None:
    dance = read("Probe\n1 wall, intro 16, seated\n1-4 Lift R heel, lower R heel, touch L fwd, hold\n")
    heel = next(a for a in dance.actions if a.verb == "lower")
    dropped = replace(heel, verb="drop", dir=Direction.IN_PLACE)
    bearing = replace(dance, actions=tuple(dropped if a is heel else a for a in dance.actions))
    assert read(write(bearing, style=style)) == bearing


def test_an_ending_in_a_table_is_no_section_though_the_dance_ends_on_the_wrong_foot() -> None:
    text = """Lantern
Counts: 8
Walls: 1

| Counts | Feet | Arms |

Section 1 [1-8]
| 1 | Rock right foot forward |  |
| 2 | Sweep left foot forward |  |
| 3 | Fan left toes to the left |  |
| 4 | Fan left toes back to the centre |  |
| 5-8 | Hold |  |

Tag (2 counts) on wall 1 after count 8, then start again
| 1 | Fan left toes to the left |  |
| 2 | Fan left toes back to the centre |  |

Ending (1 counts) on the last wall, which starts at 12:00: dance to count 1
| 1 | Step both feet apart |  |
"""
    dance = read(text)
    assert [action.verb for action in dance.actions[:4]] == ["rock", "sweep", "fan", "fan"]
    assert [len(extra) for extra in (dance.sections, dance.tags, dance.endings)] == [1, 1, 1]
    assert {f.kind for f in dance.findings if f.severity == "error"} == {"free-foot"}
