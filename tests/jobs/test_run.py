"""The job engine: steps are done once, kept while nothing they read changes, whole or not at all."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from typing import TYPE_CHECKING

import pytest

from jobs import steps_made as made
from softshoe.errors import OutputError
from softshoe.jobs.making import Wish, steps
from softshoe.jobs.run import run
from softshoe.jobs.step import Step

if TYPE_CHECKING:
    from pathlib import Path


def chain(folder: Path, *, sign: str = "", apart: bool = False) -> tuple[Step, Step]:
    a = Step(
        "a", "Making a", made.join, {"sign": sign}, made.files(folder, "in"), made.files(folder, "a"), mendable=True
    )
    b = Step("b", "Making b", made.join, {}, made.files(folder, "a"), made.files(folder, "b"), ("a",), apart=apart)
    return a, b


def done(folder: Path, steps: tuple[Step, ...]) -> made.Silent:
    watch = made.Silent()
    assert run(steps, folder=folder, workers=2, watch=watch) == []
    return watch


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "in").write_text("words")
    return tmp_path


@pytest.mark.parametrize("apart", [False, True])
def test_each_step_is_done_once_what_it_needs_is_there(folder: Path, apart: bool) -> None:
    watch = done(folder, chain(folder, sign="!", apart=apart)[::-1])
    assert (folder / "b").read_text() == "words!"
    assert watch.states == {"a": "to do", "b": "to do"}
    assert watch.shares == [0.5, 0.5]


def test_a_second_run_keeps_everything(folder: Path) -> None:
    done(folder, chain(folder))
    assert done(folder, chain(folder)).states == {"a": "made before", "b": "made before"}


def test_changed_settings_redo_the_step_and_what_reads_it(folder: Path) -> None:
    done(folder, chain(folder))
    assert done(folder, chain(folder, sign="?")).states == {"a": "to do", "b": "to do"}
    assert (folder / "b").read_text() == "words?"


def test_a_step_whose_inputs_come_out_the_same_is_kept(folder: Path) -> None:
    done(folder, chain(folder))
    (folder / "in").write_text("other")
    (folder / "in").write_text("words")
    assert done(folder, chain(folder)).states["a"] == "made before"


def test_a_value_mended_by_hand_stays_and_is_used(folder: Path) -> None:
    done(folder, chain(folder))
    (folder / "a").write_text("her own word")
    assert done(folder, chain(folder)).states == {"a": "mended by hand", "b": "to do"}
    (folder / "in").write_text("a new sheet")
    watch = done(folder, chain(folder))
    assert watch.states["a"] == "mended by hand"
    assert (folder / "b").read_text() == "her own word"


def test_a_deleted_value_is_made_anew(folder: Path) -> None:
    done(folder, chain(folder))
    (folder / "a").unlink()
    assert done(folder, chain(folder)).states["a"] == "to do"


def test_a_damaged_result_is_made_anew(folder: Path) -> None:
    done(folder, chain(folder))
    (folder / "b").write_text("half")
    assert done(folder, chain(folder)).states["b"] == "to do"
    assert (folder / "b").read_text() == "words"


def test_a_record_that_can_t_be_read_counts_as_empty(folder: Path) -> None:
    done(folder, chain(folder))
    (folder / ".softshoe-made.json").write_text("[not json")
    assert done(folder, chain(folder)).states["b"] == "to do"


@pytest.mark.parametrize("apart", [False, True])
def test_one_failure_stops_only_what_needs_it_and_is_told_once(folder: Path, apart: bool) -> None:
    bad = Step("bad", "Hearing", made.refuse, {}, (), made.files(folder, "x"), apart=apart)
    after = Step("after", "After", made.join, {}, made.files(folder, "x"), made.files(folder, "y"), ("bad",))
    watch = made.Silent()
    failures = run((bad, after, *chain(folder)), folder=folder, workers=2, watch=watch)
    assert [wrong.what for wrong in failures] == ["it can't be heard"]
    assert (folder / "b").exists()
    assert not (folder / "y").exists()


def test_a_step_that_only_likes_another_waits_for_it_and_is_done_without_it(folder: Path) -> None:
    bad = Step("bad", "Hearing", made.refuse, {}, (), made.files(folder, "x"), apart=True)
    page = Step("page", "Page", made.join, {}, made.files(folder, "in"), made.files(folder, "p"), likes=("a", "bad"))
    watch = made.Silent()
    failures = run((page, bad, *chain(folder)), folder=folder, workers=2, watch=watch)
    assert [wrong.what for wrong in failures] == ["it can't be heard"]
    assert (folder / "p").exists()
    assert list(watch.states) == ["bad", "a", "b", "page"]


def test_a_value_that_no_longer_holds_is_taken_away_when_making_it_anew_fails(folder: Path) -> None:
    done(folder, chain(folder))
    a, b = chain(folder)
    bad = Step("a", "Making a", made.refuse, {}, a.reads, a.leaves, mendable=True)
    run((bad, b), folder=folder, workers=1, watch=made.Silent())
    assert not (folder / "a").exists()
    assert (folder / "b").exists()


def test_a_fault_of_the_program_is_told_without_a_traceback(folder: Path, capfd: pytest.CaptureFixture[str]) -> None:
    step = Step("x", "Making x", made.crash, {}, (), made.files(folder, "x"), apart=True)
    (wrong,) = run((step,), folder=folder, workers=1, watch=made.Silent())
    assert "a fault of the program" in wrong.why
    assert "Traceback" not in capfd.readouterr().err


def test_a_step_that_the_computer_kills_says_how_to_go_on(folder: Path) -> None:
    step = Step("x", "Making x", made.killed, {}, (), made.files(folder, "x"), apart=True)
    (wrong,) = run((step,), folder=folder, workers=1, watch=made.Silent())
    assert "run the same command again" in wrong.mend


def test_a_folder_that_is_a_file_is_refused_in_plain_words(tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("")
    with pytest.raises(OutputError, match="there is a file where a folder is needed"):
        run((), folder=tmp_path / "taken", workers=1, watch=made.Silent())


PROGRAM = """
import sys
from pathlib import Path
from jobs import steps_made as made
from softshoe.jobs.run import run
from softshoe.jobs.step import Step
if __name__ == "__main__":
    folder = Path(sys.argv[1])
    step = Step("x", "Slow", made.slow, {}, (), made.files(folder, "x"), apart=True)
    run((step,), folder=folder, workers=1, watch=made.Silent())
"""


def _heeding() -> None:
    """Heed ctrl-C in the child, also where these tests run in the background and so ignore it."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def test_ctrl_c_leaves_no_half_written_file(tmp_path: Path) -> None:
    program, folder = tmp_path / "program.py", tmp_path / "out"
    program.write_text(PROGRAM)
    paths = os.pathsep.join(p for p in sys.path if p)
    child = subprocess.Popen([sys.executable, program, folder], env={**os.environ, "PYTHONPATH": paths},
                             stderr=subprocess.DEVNULL, start_new_session=True,
                             preexec_fn=_heeding)  # fmt: skip
    deadline = time.monotonic() + 60
    while not (folder / "begun").exists():
        assert time.monotonic() < deadline
        time.sleep(0.05)
    os.killpg(child.pid, signal.SIGINT)
    child.wait(30)
    assert sorted(path.name for path in folder.iterdir()) == ["begun"]


def test_every_edition_of_a_film_waits_for_the_plain_one_and_takes_its_sound(tmp_path: Path) -> None:
    (tmp_path / "sheet.txt").write_text("Lantern Street, 8 counts, 4 walls\n1-4 Vine right, touch left beside right\n")
    wish = Wish(tmp_path / "sheet.txt", tmp_path / "song.json", tmp_path, versions=("seated", "standing"),
                film_editions=("portrait", "reduced-motion"))  # fmt: skip
    films = {step.name: step for step in steps(wish) if step.leaves[0].suffix == ".mp4"}
    assert len(films) == 9
    for plain in ("walkthrough", "dance-seated", "dance-standing"):
        assert wish.song in films[plain].reads
        for edition in wish.film_editions:
            step = films[f"{plain}-{edition}"]
            assert plain in step.needs
            assert step.reads[-1] == films[plain].leaves[0]


def test_a_film_in_high_contrast_is_made_along_with_the_one_like_it(tmp_path: Path) -> None:
    """Or alone, where nobody wished the other."""
    wish = Wish(tmp_path / "sheet.txt", tmp_path / "song.json", tmp_path, only=("films",),
                film_editions=("high-contrast", "portrait-high-contrast"))  # fmt: skip
    leaves = {step.name: [path.name for path in step.leaves] for step in steps(wish) if step.name.startswith("walk")}
    assert list(leaves) == ["walkthrough", "walkthrough-portrait-high-contrast"]
    assert leaves["walkthrough"][::3] == ["walkthrough.mp4", "walkthrough-high-contrast.mp4"]
    assert leaves["walkthrough"][5] == "walkthrough-high-contrast-chapters.vtt"
