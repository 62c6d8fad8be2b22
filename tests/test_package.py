"""What is handed out holds everything the program reads: modules, tables, faces of type, pages, the types' mark."""

from __future__ import annotations

import subprocess
import sys
import tomllib
import zipfile
from email.parser import Parser
from pathlib import Path

import pytest

import softshoe

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "src"


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> zipfile.ZipFile:
    folder = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", folder],
        cwd=ROOT, check=True, capture_output=True,
    )  # fmt: skip
    (made,) = folder.glob("*.whl")
    return zipfile.ZipFile(made)


def test_the_wheel_holds_every_file_of_the_package_and_nothing_made_on_the_way(wheel: zipfile.ZipFile) -> None:
    files = {p.relative_to(SOURCE).as_posix() for p in (SOURCE / "softshoe").rglob("*") if p.is_file()}
    kept = {name for name in files if "__pycache__" not in name}
    packed = {name for name in wheel.namelist() if name.startswith("softshoe/")}
    assert packed == kept
    assert {"softshoe/py.typed", "softshoe/data/demo/sheet.txt"} <= packed


def test_the_wheel_brings_its_licence_and_the_command(wheel: zipfile.ZipFile) -> None:
    assert any(name.endswith("/licenses/LICENSE") for name in wheel.namelist())
    (commands,) = (name for name in wheel.namelist() if name.endswith("entry_points.txt"))
    assert "softshoe = softshoe.cli.main:run" in wheel.read(commands).decode()


def test_one_version_is_told_everywhere(wheel: zipfile.ZipFile) -> None:
    (about,) = (name for name in wheel.namelist() if name.endswith("/METADATA"))
    told = Parser().parsestr(wheel.read(about).decode())["Version"]
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["version"]
    assert told == project == softshoe.__version__
    assert f"## {project}\n" in (ROOT / "CHANGELOG.md").read_text(encoding="utf-8")


def test_the_module_answers_like_the_command() -> None:
    told = subprocess.run([sys.executable, "-m", "softshoe", "--version"], check=True, capture_output=True, text=True)
    assert softshoe.__version__ in told.stdout
