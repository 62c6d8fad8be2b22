"""The documents tell the truth: every word, command, link, package and file they owe is there."""

from __future__ import annotations

import ast
import re
import sys
import tomllib
from importlib import import_module
from pathlib import Path

import pytest

from softshoe.cli.main import COMMANDS
from softshoe.dance.arms import GESTURES
from softshoe.dance.verbs import VERBS

ROOT = Path(__file__).parents[1]
DOCS = sorted([*ROOT.glob("*.md"), *(ROOT / "docs").rglob("*.md")])
GLOSSARY = (ROOT / "docs" / "glossary.md").read_text(encoding="utf-8")
README = (ROOT / "README.md").read_text(encoding="utf-8")
DECISION = (ROOT / "docs" / "decisions" / "0005-dependencies.md").read_text(encoding="utf-8")
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
LINK = re.compile(r"\]\(([^)#\s]+)(?:#[^)]*)?\)")
NAME = re.compile(r"[A-Za-z0-9._-]+")
# What a package is imported as, where that is not its own name.
IMPORTED_AS = {
    "hibari-tts": "hibari", "page-validation": "page", "fonttools": "fontTools", "import-linter": "importlinter",
    "pytest-randomly": "pytest_randomly", "pytest-xdist": "xdist",
}  # fmt: skip
VALUES = (
    "Count",
    "Counts",
    "Action",
    "Event",
    "Dance",
    "Finding",
    "SongMap",
    "Run",
    "Moment",
    "Version",
    "Motion",
    "Lesson",
)


def packages(entries: list[str]) -> set[str]:
    return {found[0] for entry in entries if (found := NAME.match(entry))}


RUN = packages(PROJECT["project"]["dependencies"])
EXTRA = {name for extra in PROJECT["project"]["optional-dependencies"].values() for name in packages(extra)}
DEV = {name for group in PROJECT["dependency-groups"].values() for name in packages(group)}


@pytest.mark.parametrize("word", [*(v.name for v in VERBS), *(g.name for g in GESTURES), *VALUES])
def test_every_verb_gesture_and_value_is_in_the_glossary(word: str) -> None:
    assert f"**{word}**" in GLOSSARY


def test_the_glossary_says_each_foot_verb_once_in_its_table() -> None:
    feet = GLOSSARY.partition("## What a foot can do")[2].partition("## What hands")[0]
    assert re.findall(r"^\| \*\*(.+?)\*\*", feet, re.M) == [verb.name for verb in VERBS]


@pytest.mark.parametrize("page", DOCS, ids=lambda p: p.relative_to(ROOT).as_posix())
def test_links_within_the_project_lead_somewhere(page: Path) -> None:
    links = [link for link in LINK.findall(page.read_text(encoding="utf-8")) if "://" not in link]
    assert not [link for link in links if not (page.parent / link).exists()]


def test_the_readme_s_check_is_the_one_that_the_automatic_check_calls() -> None:
    last = (ROOT / ".ci" / "run").read_text(encoding="utf-8").strip().splitlines()[-1]
    assert last == "scripts/check"
    assert f"Run `{last}`" in README


def test_commands_that_the_readme_and_the_changelog_name_exist_and_all_are_in_the_changelog() -> None:
    changelog = (ROOT / "CHANGELOG.md").read_text(encoding="utf-8")
    named = set(re.findall(r"softshoe\s+([a-z]+)(?=[\s`])", README + changelog))
    assert named <= set(COMMANDS)
    assert set(re.findall(r"`softshoe\s+([a-z]+)`", changelog)) == set(COMMANDS)


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_explains_itself(name: str) -> None:
    assert import_module(f"softshoe.cli.{name}").command.help


def test_modules_named_in_the_architecture_exist() -> None:
    page = (ROOT / "docs" / "architecture.md").read_text(encoding="utf-8")
    named = set(re.findall(r"`((?:data/)?[a-z_]+/[\w/]+\.(?:py|csv))`", page)) - {"tests/test_architecture.py"}
    assert len(named) > 20
    assert not [name for name in sorted(named) if not (ROOT / "src" / "softshoe" / name).exists()]


def test_every_room_is_on_a_floor_and_in_the_architecture() -> None:
    page = (ROOT / "docs" / "architecture.md").read_text(encoding="utf-8")
    rooms = {p.parent.name for p in (ROOT / "src" / "softshoe").glob("*/__init__.py")}
    assert rooms
    assert not [room for room in rooms if f"`{room}`" not in page]


def test_every_page_of_the_docs_can_be_reached_from_the_architecture_or_the_readme() -> None:
    pages = {path.resolve() for path in (ROOT / "docs").glob("*.md")}
    reached = {
        (page.parent / link).resolve()
        for page in (ROOT / "README.md", ROOT / "docs" / "architecture.md")
        for link in LINK.findall(page.read_text(encoding="utf-8"))
    }
    assert not {path.name for path in pages - reached} - {"architecture.md"}


def imported(names: set[str]) -> set[str]:
    return {IMPORTED_AS.get(name, name.replace("-", "_")) for name in names}


def outside(folder: Path) -> set[str]:
    """The top names that the modules of a folder import and that are neither Python's own nor ours."""
    found = set()
    for module in folder.rglob("*.py"):
        for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import):
                found |= {alias.name.partition(".")[0] for alias in node.names}
            elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
                found.add(node.module.partition(".")[0])
    ours = {"softshoe"} | {
        path.stem for room in ("tests", "benchmarks", "training") for path in (ROOT / room).rglob("*")
    }
    return found - set(sys.stdlib_module_names) - ours


def test_the_package_imports_just_what_it_asks_for() -> None:
    assert outside(ROOT / "src") == imported(RUN | EXTRA)


def test_tests_and_benchmarks_import_only_what_is_asked_for() -> None:
    used = outside(ROOT / "tests") | outside(ROOT / "benchmarks")
    assert not used - imported(RUN | DEV) - {"_pytest"}


@pytest.mark.parametrize("name", sorted(RUN | DEV))
def test_every_package_has_its_purpose_licence_and_reason_written_down(name: str) -> None:
    entry = DECISION.partition(f"**{name}**")[2].partition("\n\n")[0]
    assert all(f"- {what}:" in entry for what in ("For", "Licence", "Why"))


@pytest.mark.parametrize("name", sorted(RUN))
def test_every_package_of_the_run_is_pinned(name: str) -> None:
    assert re.search(rf"^{re.escape(name)}==", (ROOT / "requirements.txt").read_text(encoding="utf-8"), re.M)


def test_decisions_have_a_number_each_and_their_three_parts() -> None:
    pages = sorted((ROOT / "docs" / "decisions").glob("*.md"))
    assert len({int(page.name[:4]) for page in pages}) == len(pages) >= 5
    for page in pages:
        words = page.read_text(encoding="utf-8")
        assert all(part in words for part in ("Context", "Choice", "Consequence")), page.name
