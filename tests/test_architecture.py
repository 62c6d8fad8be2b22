"""The shape of the code, measured: sizes, names, borders, and what importing a door loads."""

from __future__ import annotations

import ast
import csv
import re
import subprocess
import sys
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Iterator

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "src" / "softshoe"
MODULES = sorted(SOURCE.rglob("*.py"))
MODULE_LINES, FUNCTION_LINES, LEVELS = 400, 40, 4
NAMES_THAT_SAY_NOTHING = {"utils", "util", "common", "helpers", "helper", "misc", "shared", "lib"}
HEAVY = {"numpy", "scipy", "librosa", "av", "onnxruntime", "typst", "aggdraw", "numba", "starlette", "uvicorn"}
EXCEPTIONS = Path(__file__).parent / "architecture_exceptions.csv"

FunctionNode = ast.FunctionDef | ast.AsyncFunctionDef


@cache
def tree(module: Path) -> ast.Module:
    return ast.parse(module.read_text(encoding="utf-8"))


def functions(module: Path) -> Iterator[tuple[str, FunctionNode]]:
    for node in ast.walk(tree(module)):
        if isinstance(node, FunctionNode):
            yield f"{module.relative_to(SOURCE).as_posix()}:{node.name}", node


def lines_of(node: FunctionNode) -> int:
    """The lines of a function from ``def`` to its end, without its docstring."""
    assert node.end_lineno is not None
    first = node.body[0]
    docstring = 0
    if ast.get_docstring(node) is not None and first.end_lineno is not None:
        docstring = first.end_lineno - first.lineno + 1
    return node.end_lineno - node.lineno + 1 - docstring


def exceptions() -> dict[str, int]:
    with EXCEPTIONS.open(encoding="utf-8", newline="") as file:
        return {row["what"]: int(row["lines"]) for row in csv.DictReader(file)}


def measured() -> dict[str, int]:
    """Every module and function over its limit, with its lines."""
    modules = {m.relative_to(SOURCE).as_posix(): len(m.read_text(encoding="utf-8").splitlines()) for m in MODULES}
    long = {name: lines for name, lines in modules.items() if lines >= MODULE_LINES}
    for module in MODULES:
        long |= {name: lines_of(node) for name, node in functions(module) if lines_of(node) > FUNCTION_LINES}
    return long


def loaded_by(code: str) -> set[str]:
    """The top names of every module that is loaded after the code ran in a fresh Python."""
    told = subprocess.run(
        [sys.executable, "-c", f"import sys; {code}; print(*sys.modules, sep='\\n')"],
        check=True, capture_output=True, text=True,
    )  # fmt: skip
    return {name.partition(".")[0] for name in told.stdout.split()}


def test_there_are_modules_to_measure() -> None:
    assert len(MODULES) > 50


def test_modules_and_functions_fit_their_limits_or_are_listed_with_their_very_size() -> None:
    assert measured() == exceptions()


def deepest(node: FunctionNode) -> int:
    """The levels of indent under a function's ``def``: 1 for its plain body."""
    return max((n.col_offset - node.col_offset) // 4 for n in ast.walk(node) if isinstance(n, ast.stmt))


@pytest.mark.parametrize("module", MODULES, ids=lambda m: m.relative_to(SOURCE).as_posix())
def test_no_function_is_indented_deeper_than_four_levels(module: Path) -> None:
    assert not [name for name, node in functions(module) if deepest(node) > LEVELS]


def test_no_module_has_a_name_that_says_nothing() -> None:
    assert not [m for m in MODULES if m.stem in NAMES_THAT_SAY_NOTHING or m.parent.name in NAMES_THAT_SAY_NOTHING]


def test_every_module_says_what_it_is_for() -> None:
    assert not [m.name for m in MODULES if not ast.get_docstring(tree(m))]


def test_the_ground_is_standard_library_only() -> None:
    ground = [*(SOURCE / "dance").rglob("*.py"), *(SOURCE / f"{name}.py" for name in ("errors", "files", "tables"))]
    names = {m.relative_to(SOURCE.parent).with_suffix("").as_posix().replace("/", ".") for m in ground}
    loaded = loaded_by("import " + ", ".join(sorted(name.removesuffix(".__init__") for name in names)))
    plain = loaded_by("pass")
    assert not loaded - plain - sys.stdlib_module_names - {"softshoe"}


def test_the_front_door_opens_without_the_heavy_rooms() -> None:
    assert not HEAVY & loaded_by("import softshoe.cli.main")


def tracked() -> list[Path]:
    """Every text file that is kept, as git lists it."""
    told = subprocess.run(
        ["git", "-c", f"safe.directory={ROOT}", "ls-files", "-z"], cwd=ROOT, check=True, capture_output=True, text=True
    )
    paths = [ROOT / name for name in told.stdout.split("\0") if name]
    return [p for p in paths if p.is_file() and b"\0" not in p.read_bytes()[:8000]]


ADDRESS = re.compile(r"[a-z][a-z0-9+.-]*://([^/\s\"'<>)\]`}:]+)", re.I)
HOSTS = {
    "www.w3.org", "127.0.0.1", "localhost", "creativecommons.org", "json-schema.org", "{LOOPBACK",
    "schemas.openxmlformats.org",  # the names that ISO/IEC 29500 gives its elements
}  # fmt: skip
PLACE_ON_A_MACHINE = re.compile(r"(?<![\w.~$}/])/(?:home|Users|root|work|tmp|private|opt|mnt)/\w")


def test_no_kept_file_names_a_place_on_somebody_s_machine() -> None:
    found = [
        (p.name, line)
        for p in tracked()
        for line in p.read_text("utf-8").splitlines()
        if PLACE_ON_A_MACHINE.search(line)
    ]
    assert not found


def test_kept_files_name_no_address_but_those_of_open_standards() -> None:
    theirs = ("-OFL.txt", "stretch.mjs")  # licences of fonts, and a player's file: they stay word for word
    ours = [p for p in tracked() if not p.name.endswith(theirs)]
    hosts = {(p.name, host) for p in ours for host in ADDRESS.findall(p.read_text("utf-8"))}
    assert not {(name, host) for name, host in hosts if host not in HOSTS and not host.endswith(".example")}


@pytest.mark.parametrize("name", ["requirements.txt", "requirements-dev.txt"])
def test_every_required_version_has_its_hashes_and_no_address(name: str) -> None:
    words = (ROOT / name).read_text(encoding="utf-8")
    entries = re.findall(r"^[a-z][\w.-]*==.*?(?=^[a-z]|\Z)", words, re.M | re.S)
    assert len(entries) > 20
    assert all("--hash=sha256:" in entry for entry in entries)
    assert "://" not in words
