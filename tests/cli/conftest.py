"""The command as a person runs it, in this process: its exit code and what it printed."""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

import pytest

from softshoe.cli.main import run

if TYPE_CHECKING:
    from pathlib import Path


@dataclass(frozen=True)
class Answer:
    code: int
    out: str
    err: str


Softshoe = Callable[..., Answer]

SHEET = """Tin Kettle
8 counts, 1 wall, beginner, seated, 100 bpm, intro 16

1-4 R heel forward, R home, L heel forward, L home
5-8 R toe tap forward, R home, L toe tap forward, L home
"""


@pytest.fixture
def softshoe(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Softshoe:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("SOFTSHOE_HOME", str(tmp_path / "home"))

    def call(*words: object) -> Answer:
        monkeypatch.setattr(sys, "argv", ["softshoe", *map(str, words)])
        with pytest.raises(SystemExit) as ended:
            run()
        told = capsys.readouterr()
        code = ended.value.code
        assert "Traceback" not in told.err
        return Answer(code if isinstance(code, int) else 0, told.out, told.err)

    return call


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    path = tmp_path / "tin kettle é.txt"
    path.write_text(SHEET, encoding="utf-8")
    return path
