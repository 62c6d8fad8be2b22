"""Benchmarks and training run by hand only: what they ask of the package and of each other has to be there still."""

from __future__ import annotations

import ast
import importlib
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Iterator

ROOT = Path(__file__).parents[1]
TOOLS = sorted(path for name in ("benchmarks", "training") for path in (ROOT / name).rglob("*.py"))
OURS = "softshoe"


def _asked(tree: ast.Module) -> Iterator[tuple[str, list[str]]]:
    """Each module that a file asks something of, and the names."""
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and node.module and not node.level:
            yield node.module, [one.name for one in node.names]


def _names(path: Path) -> set[str]:
    """The names that a file holds at its top."""
    out: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            out.add(node.name)
        elif isinstance(node, ast.Import | ast.ImportFrom):
            out |= {(one.asname or one.name).split(".")[0] for one in node.names}
        elif isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store):
            out.add(node.id)
    return out


def _files(module: str) -> list[Path]:
    """The files that a module may be which isn't of the package: tools find each other by their folders."""
    tail = module.replace(".", "/") + ".py"
    return [path for path in TOOLS if path.name == tail] or [path for path in (ROOT / tail,) if path.is_file()]


@pytest.mark.parametrize("path", TOOLS, ids=lambda path: str(path.relative_to(ROOT)))
def test_what_a_benchmark_or_a_training_asks_for_is_there(path: Path) -> None:
    for module, names in _asked(ast.parse(path.read_text(encoding="utf-8"))):
        if module.split(".")[0] == OURS:
            held = importlib.import_module(module)
            package = Path(held.__file__ or "").parent
            lacking = [n for n in names if not hasattr(held, n) and not (package / f"{n}.py").is_file()]
        else:
            files = _files(module)
            there = {name for file in files for name in _names(file)}
            lacking = [n for n in names if files and n not in there]
        assert not lacking, f"{module} has no {', '.join(lacking)}"
