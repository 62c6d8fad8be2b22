"""The page on reading tells every kind of finding."""

from __future__ import annotations

import re
from pathlib import Path

PAGE = Path(__file__).parents[2] / "docs" / "reading.md"
SOURCE = Path(__file__).parents[2] / "src" / "softshoe"
MADE = re.compile(r'(?:Finding|tell|_promise)\(\s*"(?:error|warning|note)",\s*"([a-z-]+)"')


def test_every_kind_that_the_reader_or_a_check_makes_has_its_row() -> None:
    files = [*(SOURCE / "wording").glob("*.py"), *(SOURCE / "dance" / "checks").glob("*.py")]
    kinds = {kind for file in files for kind in MADE.findall(file.read_text(encoding="utf-8"))}
    assert len(kinds) > 9
    page = PAGE.read_text(encoding="utf-8")
    assert [kind for kind in sorted(kinds) if f"| `{kind}` |" not in page] == []
