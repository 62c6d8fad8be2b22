from __future__ import annotations

import io

import pikepdf
import pytest

from fit.made_maps import dance_named
from reference.test_pdf_ua import elements, faults
from render.sheet_dances import DANCES, SEATED, STANDING, WALTZ, hostile, run_of
from softshoe.adapt.adapt import adapt
from softshoe.adapt.version import Version
from softshoe.render.pdf import fewest_pages, pages_of
from softshoe.render.sheet_everyone import EVERYBODY, SAME, everyone_pdf, everyone_values, under_each_other
from softshoe.render.sheet_leader import leader_pdf, leader_values
from softshoe.render.sheet_pictures import pictures_pdf, pictures_values

KINDS = ("supported", "seated", "arms")


@pytest.mark.parametrize("dance", DANCES, ids=lambda d: d.title)
def test_the_leaders_page_is_one_page_and_has_a_cue_for_every_count(dance: object) -> None:
    run = run_of(dance)  # type: ignore[arg-type]
    assert pages_of(leader_pdf(dance, run)) == 1  # type: ignore[arg-type]
    cells = [c for s in leader_values(dance, run, paper="a4")["sections"] for c in s["cells"]]  # type: ignore[arg-type]
    assert len(cells) == dance.counts  # type: ignore[attr-defined]
    assert all(cell["cue"] for cell in cells)


def test_the_leaders_cues_name_the_foot_and_the_move() -> None:
    first = leader_values(STANDING, None, paper="a4")["sections"][0]["cells"]
    assert [cell["cue"] for cell in first[:4]] == ["R side", "L behind", "R side", "L touch + clap"]


def test_the_leaders_cues_tell_a_rock_forward_from_a_rock_back_and_a_recover_from_both() -> None:
    cues = [cell["cue"] for cell in leader_values(STANDING, None, paper="a4")["sections"][0]["cells"][4:]]
    assert cues == ["L rock", "R recover", "L rock back", "R recover"]


def test_the_leaders_cue_of_a_turn_says_the_turn() -> None:
    kettle = dance_named("kettle")
    cues = [c["cue"] for s in leader_values(kettle, None, paper="a4")["sections"] for c in s["cells"]]
    assert cues[18] == "L quarter left"


def test_the_leaders_page_tells_the_steps_of_a_tag() -> None:
    told = " ".join(e["words"] for e in leader_values(STANDING, run_of(STANDING), paper="a4")["extras"])
    assert "Sway right, left, right, left." in told


def test_versions_stand_side_by_side_on_the_same_counts_and_say_where_they_are_the_same() -> None:
    versions = [adapt(STANDING, kind) for kind in KINDS]  # type: ignore[arg-type]
    values = everyone_values(STANDING, versions, None, paper="a4")
    assert values["names"] == ["Standing", "Standing behind a chair", "Seated", "Seated, arms only"]
    rows = [row for section in values["sections"] for row in section["rows"]]
    assert all(len(row) == 5 and all(row) for row in rows)
    assert [row[0] for row in rows[:4]] == ["1–2", "3–4", "5–6", "7–8"]
    assert any(SAME in row for row in rows)


def test_in_large_print_those_who_do_the_same_are_named_together_and_no_count_is_lost() -> None:
    versions = [adapt(STANDING, kind) for kind in KINDS]  # type: ignore[arg-type]
    values = everyone_values(STANDING, versions, None, paper="a4")
    for beside, under in zip(values["sections"], under_each_other(values), strict=True):
        for row, told in zip(beside["rows"], under["rows"], strict=True):
            assert told["counts"] == row[0]
            words = {name: one["words"] for one in told["told"] for name in values["names"]
                     if one["who"] == EVERYBODY or name in one["who"].split("; ")}  # fmt: skip
            assert words == {name: row[1] if cell == SAME else cell
                             for name, cell in zip(values["names"], row[1:], strict=True)}  # fmt: skip
            assert len({one["words"] for one in told["told"]}) == len(told["told"])


def test_a_version_that_changes_nothing_is_the_same_all_through() -> None:
    unchanged = Version("seated", SEATED, (), ())
    values = everyone_values(SEATED, [unchanged], None, paper="a4")
    assert {row[2] for section in values["sections"] for row in section["rows"]} == {SAME}


@pytest.mark.parametrize("dance", DANCES, ids=lambda d: d.title)
def test_every_moment_has_its_picture_with_words_for_who_can_not_see_it(dance: object) -> None:
    values = pictures_values(dance, support=None, paper="a4", view="mirror", bound=False, under="")  # type: ignore[arg-type]
    cells = [cell for section in values["sections"] for cell in section["cells"]]
    assert len(cells) == len(dance.actions)  # type: ignore[attr-defined]
    assert all(cell["figure"]["alt"].startswith("Count ") and cell["words"] for cell in cells)
    assert "faces you" in values["head"]


def test_what_lasts_is_written_once_and_what_is_done_again_each_time() -> None:
    values = pictures_values(SEATED, support=None, paper="a4", view="mirror", bound=False, under="")
    told = [cell["words"] for cell in values["sections"][1]["cells"]]
    assert told[-2:] == ["Clap.", "Clap."]
    assert [cell["words"] for cell in values["sections"][2]["cells"]].count("Goes on.") == 6


def test_the_pages_break_no_rule_a_machine_can_test(tmp_path: object) -> None:
    bad = hostile(STANDING)
    versions = [adapt(bad, kind) for kind in KINDS]  # type: ignore[arg-type]
    made = {
        "leader.pdf": leader_pdf(bad, run_of(bad)),
        "waltz.pdf": leader_pdf(WALTZ, paper="us-letter"),
        "everyone.pdf": everyone_pdf(bad, versions, run_of(bad)),
        "everyone-giant.pdf": everyone_pdf(bad, versions, run_of(bad), edition="largest", bound=True),
        "pictures.pdf": pictures_pdf(WALTZ),
    }
    for name, data in made.items():
        path = tmp_path / name  # type: ignore[operator]
        path.write_bytes(data)
        assert faults(path) == []
    with pikepdf.open(io.BytesIO(made["everyone.pdf"])) as pdf:
        tables = [el for el in elements(pdf.Root.StructTreeRoot.K) if el.S == "/Table"]
        assert len(tables) == len(STANDING.sections)


def marks_of(page: bytes) -> list[bytes]:
    """What is painted on each page; the file around it tells the second it was made in."""
    with pikepdf.open(io.BytesIO(page)) as pdf:
        return [one.Contents.read_bytes() for one in pdf.pages]


def test_of_several_ways_to_set_a_page_the_first_with_the_fewest_pages_is_taken() -> None:
    values = everyone_values(STANDING, (), None, paper="a4") | {"margin": {"top": 11.0}}
    wide, close = values | {"air": 40.0}, values | {"air": 0.5}
    assert pages_of(fewest_pages("everyone.typ", [wide, close])) < pages_of(fewest_pages("everyone.typ", [wide]))
    assert marks_of(fewest_pages("everyone.typ", [close, wide])) == marks_of(fewest_pages("everyone.typ", [close]))
