"""Sections told by earlier ones: which, what of them, and what is other."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from softshoe.wording.retell_codes import codes_of, events_of, other_side
from softshoe.wording.retell_net import net
from softshoe.wording.whole_copies import codes_of_moments, danced_as, moments_of

HEELS = "c1 foot:R heel dir:forward c2 foot:R step dir:in place c3 foot:L heel dir:forward c4 foot:L step dir:in place"
CLAPS = "c1 arms arm:both hand:clap c2 hold c3 arms arm:both hand:pat at:thigh c4 hold"
BOTH = (
    "c1 foot:R step dir:right c1 & foot:L step dir:together c2 foot:R stomp arm:both hand:clap c3 hold c4 foot:L touch"
)


def codes(told: str) -> list[str]:
    """The codes of a line: "in place" is one."""
    return told.replace("in place", "in_place").replace(" ", "\n").replace("in_place", "in place").split("\n")


SECTIONS = [codes(HEELS), codes(CLAPS), codes(BOTH)]
WAYS = [  # (how a section is told, what is danced in it)
    ("as:1", HEELS),
    ("as:1 mirror", HEELS.replace("R", "X").replace("L", "R").replace("X", "L")),
    ("as:3 feet", "c1 foot:R step dir:right c1 & foot:L step dir:together c2 foot:R stomp c3 hold c4 foot:L touch"),
    ("as:3 hands", "c1 hold c2 arms arm:both hand:clap c3 hold c4 hold"),
    ("as:1 feet as:2 hands", "c1 foot:R heel dir:forward arm:both hand:clap c2 foot:R step dir:in place "
     "c3 foot:L heel dir:forward arm:both hand:pat at:thigh c4 foot:L step dir:in place"),
    ("as:1 half:2 as:2 half:1",
     "c1 foot:L heel dir:forward c2 foot:L step dir:in place c3 arms arm:both hand:clap c4 hold"),
    ("as:1 but c4 hold", HEELS.replace("foot:L step dir:in place", "hold")),
    ("as:1 plus c2 arms arm:both hand:clap", HEELS.replace("c3", "arm:both hand:clap c3")),
    ("as:2 plus c1 hold", CLAPS.replace("arms arm:both hand:clap", "hold")),
    ("as:1 half:1 but c3 foot:R stomp c4 hold",
     "c1 foot:R heel dir:forward c2 foot:R step dir:in place c3 foot:R stomp c4 hold"),
    ("as:1 but c4 hold plus c1 arms arm:both hand:snap",
     HEELS.replace("foot:L step dir:in place", "hold").replace("c2", "arm:both hand:snap c2")),
]  # fmt: skip


@pytest.mark.parametrize(("told", "danced"), WAYS)
def test_a_section_is_danced_as_it_is_told_by_others(told: str, danced: str) -> None:
    found = danced_as(codes(told), SECTIONS)
    assert found == codes(danced)
    assert codes_of(events_of([*found, "end"]) or []) == [*found, "end"]


NO_WAYS = (
    "as:4", "as:0", "mirror", "feet as:1", "as:1 heel", "but c1 hold", "as:1 but", "as:2 plus hold", "as:1 end",
    "as:1 as:2", "as:1 feet hands", "as:1 mirror mirror", "as:1 feet as:2 feet", "as:1 half:1 as:2",
)  # fmt: skip


@pytest.mark.parametrize("told", NO_WAYS)
def test_what_makes_no_sense_is_no_section(told: str) -> None:
    assert danced_as(codes(told), SECTIONS) is None


@given(
    st.lists(st.sampled_from([*net().codes, "as:1", "as:2", "but", "plus", "half:1", "feet", "c1", "c3"]), max_size=12)
)
def test_any_codes_are_a_section_or_none(told: list[str]) -> None:
    found = danced_as(["as:1", *told], SECTIONS)
    if found is not None:
        counts = {moment.at[0] for moment in moments_of(found)}
        assert counts == set(range(1, max(counts) + 1))


def test_sections_of_unlike_lengths_and_halves_of_odd_ones_do_not_go_together() -> None:
    short = SECTIONS[0][:8]
    assert (
        danced_as(["as:1", "feet", "as:2", "hands"], [SECTIONS[0], codes("c1 arms arm:both hand:clap c2 hold")]) is None
    )
    assert danced_as(["as:1", "half:1", "as:1", "half:2"], [[*short, "c3", "hold"]]) is None


def test_what_is_other_on_a_half_count_is_left_out_where_nothing_is_left_of_it() -> None:
    claps = codes("c1 arms arm:both hand:clap c1 & arms arm:both hand:clap c2 hold")
    assert danced_as(codes("as:1 plus c1 arms arm:both hand:snap"), [claps]) == codes(
        "c1 arms arm:both hand:snap c2 hold"
    )


@pytest.mark.parametrize("section", SECTIONS)
def test_moments_are_the_codes_again(section: list[str]) -> None:
    assert codes_of_moments(moments_of(section)) == section
    assert danced_as(["as:1", "mirror"], [other_side(section)]) == section
