"""Setting up, tried in a folder with a space in its name, with a machine that has only what each test gives it."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PLAIN = ("bash", "cat", "cksum", "dirname", "env", "rm", "sh", "mkdir")
FINE = "#!/bin/sh\nexit 0\n"


class Machine:
    """A copy of the project's lists and scripts, and a folder of programs that is all of the PATH."""

    def __init__(self, folder: Path) -> None:
        self.project, self.programs = folder / "soft shoe", folder / "programs"
        (self.project / "scripts").mkdir(parents=True)
        self.programs.mkdir()
        for name in (
            "requirements.txt",
            "requirements-dev.txt",
            "requirements-store.txt",
            "pyproject.toml",
            "scripts/setup",
        ):
            shutil.copy(ROOT / name, self.project / name)
        for name in PLAIN:
            found = shutil.which(name)
            assert found is not None
            (self.programs / name).symlink_to(found)

    def has(self, name: str, script: str = FINE) -> None:
        program = self.programs / name
        program.write_text(script, encoding="utf-8")
        program.chmod(0o755)

    def setup(self, *words: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [self.project / "scripts" / "setup", *words],
            env={"PATH": str(self.programs)}, cwd="/", capture_output=True, text=True, check=False,
        )  # fmt: skip

    @property
    def calls(self) -> list[str]:
        log = self.project / "calls"
        return log.read_text(encoding="utf-8").splitlines() if log.exists() else []


# A uv that makes a folder with a Python that says yes to everything, and writes down what it was asked.
UV = """#!/bin/sh
echo "$*" >> calls
[ "$1" = pip ] && exit 0
[ "$1" = venv ] || exit 0
mkdir -p .venv/bin
printf '#!/bin/sh\\nexit 0\\n' > .venv/bin/python
/bin/chmod +x .venv/bin/python
"""
CUT_OFF = UV.replace("pip ] && exit 0", 'pip ] && { echo "no wire" >&2; exit 1; }')
NO_VENV = '#!/bin/sh\ncase "$2" in *ensurepip*) exit 1;; esac\nexit 0\n'
OLD = '#!/bin/sh\ncase "$2" in *version_info*) exit 1;; esac\nexit 0\n'


@pytest.fixture
def machine(tmp_path: Path) -> Machine:
    return Machine(tmp_path)


def test_a_word_that_is_neither_run_nor_dev_is_refused(machine: Machine) -> None:
    told = machine.setup("everything")
    assert told.returncode == 2
    assert "run or dev, not “everything”" in told.stderr


@pytest.mark.parametrize("python", [None, OLD])
def test_a_machine_without_a_new_enough_python_is_told_which_one_and_how_to_get_it(
    machine: Machine, python: str | None
) -> None:
    if python is not None:
        machine.has("python3", python)
    told = machine.setup()
    assert told.returncode == 1
    assert "Python 3.11 or newer" in told.stderr
    assert "sudo apt install python3 python3-venv" in told.stderr


def test_debian_s_python_without_its_venv_part_is_told_the_one_line_that_mends_it(machine: Machine) -> None:
    machine.has("python3", NO_VENV)
    told = machine.setup()
    assert told.returncode == 1
    assert "sudo apt install python3-venv" in told.stderr
    assert not (machine.project / ".venv").exists()


def test_a_program_that_only_pretends_to_be_a_python_is_passed_over(machine: Machine) -> None:
    machine.has("python3.11", "#!/bin/sh\nexit 127\n")
    machine.has("python3")
    machine.has("uv", UV)
    assert machine.setup().returncode == 0
    assert "--python python3 .venv" in machine.calls[1]


def test_uv_takes_the_hashed_list_and_the_project_and_a_second_time_nothing_is_done(machine: Machine) -> None:
    machine.has("python3")
    machine.has("uv", UV)
    assert machine.setup("run").returncode == 0
    first = machine.calls
    assert any("--require-hashes -r requirements.txt" in call for call in first)
    assert any("--no-deps --no-build-isolation -e ." in call for call in first)
    told = machine.setup("run")
    assert (told.returncode, told.stdout, told.stderr, machine.calls) == (0, "", "", first)


def test_what_is_set_up_for_changing_also_serves_for_using_but_not_the_other_way_round(machine: Machine) -> None:
    machine.has("python3")
    machine.has("uv", UV)
    machine.setup("run")
    using = len(machine.calls)
    machine.setup("dev")
    changing = len(machine.calls)
    assert changing > using
    machine.setup("run")
    assert len(machine.calls) == changing


def test_a_changed_list_and_a_moved_folder_are_set_up_anew(machine: Machine) -> None:
    machine.has("python3")
    machine.has("uv", UV)
    machine.setup()
    before = len(machine.calls)
    (machine.project / "requirements.txt").write_text("# changed\n", encoding="utf-8")
    machine.setup()
    changed = len(machine.calls)
    assert changed > before
    machine.project = machine.project.rename(machine.project.with_name("moved away"))
    machine.setup()
    assert sum(call.startswith("venv") for call in machine.calls) == 2


def test_a_fetch_that_fails_says_so_leaves_no_mark_and_is_tried_again(machine: Machine) -> None:
    machine.has("python3")
    machine.has("uv", CUT_OFF)
    told = machine.setup()
    assert told.returncode == 1
    assert "no wire" in told.stderr
    assert "run this again" in told.stderr
    machine.has("uv", UV)
    assert machine.setup().returncode == 0
