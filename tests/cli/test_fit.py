"""Fitting and matching as a person runs them."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from fit.made_maps import made_map
from softshoe.music.document import song_json

if TYPE_CHECKING:
    from pathlib import Path

    from .conftest import Softshoe


def song(folder: Path, name: str, phrases: list[int], *, bpm: float = 100, metre: int = 4) -> Path:
    folder.mkdir(exist_ok=True)
    path = folder / f"{name}.json"
    path.write_text(json.dumps(song_json(made_map(phrases, bpm=bpm, metre=3 if metre == 3 else 4))), encoding="utf-8")
    return path


def test_walls_costs_and_lines_for_the_sheet_are_told(softshoe: Softshoe, sheet: Path, tmp_path: Path) -> None:
    told = softshoe("fit", sheet, song(tmp_path, "kettle", [16, 18, 16, 18, 16]))
    assert told.code == 0
    assert "Charged: tags 6, again at a like place 1." in told.out
    assert "Tag: at the end of walls 4 and 8, add 2 counts: sway right, left" in told.out
    assert "then a tag of 2" in told.out


def test_what_is_pinned_holds_and_what_is_weighed_counts(softshoe: Softshoe, sheet: Path, tmp_path: Path) -> None:
    made = song(tmp_path, "kettle", [16, 18, 16, 18, 16])
    none = json.loads(softshoe("fit", sheet, made, "--json", "--no-tags", "--no-restarts").out)
    assert all(not run["tags"] and not run["restarts"] for run in none["runs"])
    held = json.loads(softshoe("fit", sheet, made, "--json", "--tag", "3:4", "--whole", "4").out)["runs"][0]
    assert {(tag["after_wall"], tag["counts"]) for tag in held["tags"]} >= {(3, 4)}
    dear = json.loads(softshoe("fit", sheet, made, "--json", "--weight", "tag=50", "--weight", "restart_early=50").out)
    assert not dear["runs"][0]["tags"]
    assert "tag " in softshoe("fit", "--weights").out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--tag", "three"), "write it like 3:16"),
        (("--weight", "tags=1"), "did you mean “tag”?"),
        (("--weight", "tag"), "write it like tag=8"),
        (("--restart", "2:5"), "restart after one of these: 4"),
        (("--picture", "run.bmp"), "no kind of picture"),
    ],
)
def test_a_wrong_wish_is_answered_in_plain_words(
    softshoe: Softshoe, sheet: Path, tmp_path: Path, words: tuple[str, ...], said: str
) -> None:
    told = softshoe("fit", sheet, song(tmp_path, "kettle", [16] * 4), *words)
    assert told.code in (1, 2)
    assert said in told.err


def test_where_it_fits_badly_other_ways_are_tried_and_other_songs_named(
    softshoe: Softshoe, sheet: Path, tmp_path: Path
) -> None:
    waltz = song(tmp_path / "songs", "three", [24] * 4, metre=3)
    song(tmp_path / "songs", "four", [16] * 5)
    told = softshoe("fit", sheet, waltz, "--songs", tmp_path / "songs")
    assert told.code == 1
    assert "the song is in three" in told.out
    assert "Choose “four”: there it scores 100, with no tag and no restart." in told.out


def test_a_version_is_laid_and_drawn(softshoe: Softshoe, sheet: Path, tmp_path: Path) -> None:
    told = softshoe("fit", sheet, song(tmp_path, "k", [16, 18, 16]), "--for", "arms", "--picture", tmp_path / "k.svg")
    assert told.code == 0
    assert (tmp_path / "k.svg").read_text(encoding="utf-8").startswith("<svg")


def test_songs_that_carry_a_dance_are_ranked_with_reasons(softshoe: Softshoe, sheet: Path, tmp_path: Path) -> None:
    songs = tmp_path / "songs"
    song(songs, "even", [16] * 6)
    song(songs, "odd", [16, 18, 16, 22, 16])
    song(songs, "waltz", [24] * 4, metre=3)
    song(songs, "gallop", [16] * 6, bpm=150)
    (songs / "broken.json").write_text("{", encoding="utf-8")
    told = softshoe("match", sheet, "--songs", songs)
    assert told.code == 0
    assert told.out.index("even: it scores 100") < told.out.index("odd: it scores")
    assert "left out: 1 for another metre" in told.out
    assert "broken.json" in told.err
    rows = json.loads(softshoe("match", sheet, "--songs", songs, "--json").out)
    assert rows["left_out"]["metre"] == 1
    assert rows["matches"][0]["song"] == "even"


def test_dances_of_a_folder_or_of_the_repertoire_are_ranked(softshoe: Softshoe, sheet: Path, tmp_path: Path) -> None:
    made = song(tmp_path / "songs", "even", [16] * 6)
    assert softshoe("match", made).code == 1
    assert softshoe("keep", sheet).code == 0
    assert "100 of 100  Tin Kettle" in softshoe("match", made).out
    assert "100 of 100  Tin Kettle" in softshoe("match", made, "--dances", tmp_path).out
    assert softshoe("match", made, "--dances", tmp_path / "nowhere").code == 2


def test_songs_of_the_repertoire_are_named_where_a_dance_fits_badly(
    softshoe: Softshoe, sheet: Path, tmp_path: Path
) -> None:
    waltz = song(tmp_path / "songs", "three", [24] * 4, metre=3)
    assert softshoe("match", sheet).code == 1
    assert softshoe("keep", song(tmp_path / "songs", "four", [16] * 5), waltz).code == 0
    assert "Choose “four”: there it scores 100" in softshoe("fit", sheet, waltz).out
    assert "four: it scores 100" in softshoe("match", sheet).out
