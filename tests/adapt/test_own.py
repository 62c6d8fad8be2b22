"""Versions of somebody's own: named, kept as plain values, with what was put in by hand."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING

import pytest

from fit.made_maps import all_dances, dance_named
from softshoe.adapt.adapt import adapt
from softshoe.adapt.kinds import LIMITS_OF
from softshoe.adapt.own import Own, own_of, own_version
from softshoe.adapt.plain import in_plain_words
from softshoe.cli.for_whom import own_asked
from softshoe.errors import SettingError
from softshoe.jobs.making import Wish, steps
from softshoe.jobs.values import own_from

if TYPE_CHECKING:
    from pathlib import Path


def test_words_with_a_name_before_a_colon_are_somebody_s_own_version() -> None:
    (own,) = own_asked(("Tuesday group: seated, nothing overhead",))
    assert (own.name, own.stem, own.kind) == ("Tuesday group", "for-tuesday-group", "seated")
    assert {"seat", "overhead"} <= set(own.limits)
    assert own_asked(("seated, nothing overhead",))[0].name == "seated, nothing overhead"
    with pytest.raises(SettingError):
        own_asked(("Tuesday group: flying",))


@pytest.mark.parametrize("kind", LIMITS_OF)
def test_an_own_version_without_anything_of_its_own_is_the_version_of_that_kind(kind: str) -> None:
    own = Own("us", LIMITS_OF[kind], standing=kind in ("standing", "supported"))  # type: ignore[index]
    assert own.plain
    for dance in all_dances()[:4]:
        assert own_version(dance, own).dance == adapt(dance, own.kind).dance


def test_what_was_put_in_by_hand_is_danced_and_what_no_longer_fits_is_left_out() -> None:
    dance = dance_named("kettle")
    own = Own("us", ("seat",), ("5=clap", "999=clap", "no sense"))
    made = own_version(dance, own)
    assert not own.plain
    assert next(c.now for c in made.changes if c.at.label == "5") == "both hands: clap"


def test_it_survives_json_and_a_broken_one_is_told() -> None:
    own = own_of(in_plain_words("seated, left arm only", name="Ann"), instead=("5=clap",))
    assert own_from({**asdict(own), "limits": list(own.limits)}) == own
    for broken in ({}, {"name": 3}, {"name": "x", "limits": "seat"}):
        with pytest.raises(SettingError):
            own_from(broken)


def test_names_make_names_of_files_and_nothing_else() -> None:
    assert Own("../../etc <b>").stem == "for-etc-b"
    assert Own("!!!").stem == "for-own"
    assert Own("Gruppe Süd").stem == "for-gruppe-süd"


def test_two_groups_whose_names_make_one_name_of_a_file_are_both_filmed(tmp_path: Path) -> None:
    (tmp_path / "sheet.txt").write_text("Kettle Lid\n8 counts, 1 wall\n1-8 march", "utf-8")
    groups = own_asked(("Group A!: seated", "Group A?: nothing overhead", "Group A!: seated"))
    wish = Wish(tmp_path / "sheet.txt", tmp_path / "song.json", tmp_path, only=("films",), versions=(), own=groups)
    films = [path.name for step in steps(wish) for path in step.leaves if path.suffix == ".mp4"]
    assert films == ["walkthrough.mp4", "dance-for-group-a.mp4", "dance-for-group-a-2.mp4"]
