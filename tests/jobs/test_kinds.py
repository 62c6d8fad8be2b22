"""The kinds of long work: each tells its steps, which leave what they say."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest
from pypdf import PdfReader

from jobs.steps_made import Silent
from softshoe.errors import SettingError, WordingError
from softshoe.jobs.kinds import Place, kind_named, queues
from softshoe.jobs.run import run
from softshoe.repertoire.find import find
from softshoe.repertoire.store import Repertoire

if TYPE_CHECKING:
    from pathlib import Path

    from softshoe.jobs.kinds import Plan

TIN = "Tin Kettle, 8 counts\n1-4 Vine right, touch left beside right\n5-8 Vine left, touch right beside left"


@pytest.fixture
def sheets(tmp_path: Path) -> list[str]:
    folder = tmp_path / "sheets"
    folder.mkdir()
    paths = []
    for k, name in enumerate(("Tin Kettle", "Copper Lane")):
        paths.append(folder / f"{k}.txt")
        paths[-1].write_text(TIN.replace("Tin Kettle", name), encoding="utf-8")
    return [str(path) for path in paths]


def planned(kind: str, asked: dict[str, Any], home: Path) -> Plan:
    folder = home / "jobs" / "one"
    folder.mkdir(parents=True, exist_ok=True)
    return kind_named(kind).plan(asked, Place(home, folder))


def test_every_kind_is_found_with_its_steps_and_its_queue() -> None:
    assert set(queues()) == {"quick", "long"}
    for name in ("make", "listen", "import", "booklet"):
        assert kind_named(name).queue in queues()


def test_a_booklet_is_bound_of_its_sheets_in_their_order_and_leaves_each_by_itself(
    sheets: list[str], tmp_path: Path
) -> None:
    plan = planned("booklet", {"sheets": sheets[::-1], "title": "Spring"}, tmp_path)
    assert run(plan.steps, folder=plan.folder, workers=1, watch=Silent()) == []
    assert all(path.is_file() for path in plan.made)
    bound = PdfReader(plan.made[0])
    words = "\n".join(page.extract_text() for page in bound.pages)
    assert words.index("Copper Lane") < words.index("Tin Kettle")
    assert bound.metadata is not None
    assert bound.metadata.title == "Spring"
    assert "Copper Lane" in PdfReader(plan.made[1]).pages[0].extract_text()


def test_a_booklet_of_nothing_or_of_a_letter_is_told(tmp_path: Path) -> None:
    with pytest.raises(SettingError, match="has no sheets"):
        planned("booklet", {"sheets": []}, tmp_path)
    letter = tmp_path / "letter.txt"
    letter.write_text("Dear all, see you soon.", encoding="utf-8")
    plan = planned("booklet", {"sheets": [str(letter)]}, tmp_path)
    (wrong,) = run(plan.steps, folder=plan.folder, workers=1, watch=Silent())
    assert isinstance(wrong, WordingError)


def test_an_import_takes_the_sheets_in_and_leaves_its_report(sheets: list[str], tmp_path: Path) -> None:
    plan = planned("import", {"folder": str(tmp_path / "sheets")}, tmp_path / "home")
    (step,) = plan.steps
    shares: list[float] = []
    step.work(step, shares.append)
    assert [hit.title for hit in find(Repertoire.at(tmp_path / "home"), "").hits] == ["Copper Lane", "Tin Kettle"]
    assert "2 files: 2 dances kept" in plan.made[0].read_text("utf-8")
    assert json.loads(plan.made[1].read_text("utf-8"))["summary"].startswith("2 files")
    assert shares[-1] == 1.0
    assert len(list(plan.folder.iterdir())) == 2


def test_a_main_job_works_in_the_folder_that_is_said_or_in_its_own(sheets: list[str], tmp_path: Path) -> None:
    asked = {"sheet": sheets[0], "song": sheets[1], "only": ["sheet"]}
    assert planned("make", asked, tmp_path).folder == tmp_path / "jobs" / "one"
    said = planned("make", asked | {"folder": str(tmp_path / "out"), "versions": ["standing"]}, tmp_path)
    assert said.made[0] == tmp_path / "out" / "index.html"
    assert not [step for step in said.steps if step.name.startswith("dance-")]
