"""The page of findings tells the truth: every kind has its entry, and every example is read as the page says."""

from __future__ import annotations

import re
from difflib import ndiff
from pathlib import Path

import pytest

from softshoe.errors import Finding, WordingError
from softshoe.wording.mend import mended
from softshoe.wording.read import empty, read

ROOT = Path(__file__).parents[1]
PAGE = (ROOT / "docs" / "findings.md").read_text(encoding="utf-8")
ENTRY = re.compile(r"^### `([a-z-]+)` \((error|warning|note)\)\n(.*?)(?=^##|\Z)", re.M | re.S)
ENTRIES = {kind: (severity, words) for kind, severity, words in ENTRY.findall(PAGE)}
TOLD = re.compile(r"""(?:Finding|tell|_told)\(\s*"?(?:error|warning|note|severity)"?,\s*"([a-z-]+)",""")
assert len(ENTRIES) > 20


def kinds_in_the_code() -> set[str]:
    """Every kind that reading or checking a sheet tells."""
    rooms = [path for room in ("dance", "wording") for path in (ROOT / "src" / "softshoe" / room).rglob("*.py")]
    kinds = {kind for path in rooms for kind in TOLD.findall(path.read_text(encoding="utf-8"))}
    assert len(kinds) > 15
    return kinds


def block(words: str, name: str) -> str | None:
    found = re.search(rf"^```{name}\n(.*?)^```", words, re.M | re.S)
    return found[1] if found else None


def told(finding: Finding) -> str:
    place = f", line {finding.line}" if finding.line else ""
    return f"{finding.severity.upper()}{place}: {finding.message}" + (f"\nmend: {finding.mend}" if finding.mend else "")


def findings_of(sheet: str) -> tuple[Finding, ...]:
    try:
        return read(sheet).findings
    except WordingError:
        return empty(sheet).findings


def test_every_kind_in_the_code_has_its_entry() -> None:
    assert not kinds_in_the_code() - set(ENTRIES)


@pytest.mark.parametrize("kind", ENTRIES)
def test_the_example_of_a_kind_is_told_as_the_page_says(kind: str) -> None:
    _, words = ENTRIES[kind]
    sheet, says = block(words, "sheet"), block(words, "told")
    assert sheet is not None
    assert says is not None
    found = findings_of(sheet)
    assert [f.kind for f in found] == [kind]
    assert "\n".join(map(told, found)) == says.strip()


@pytest.mark.parametrize("kind", ENTRIES)
def test_what_mend_changes_in_the_example_is_shown(kind: str) -> None:
    sheet, says = block(ENTRIES[kind][1], "sheet"), block(ENTRIES[kind][1], "mended")
    assert sheet is not None
    if kind == "not-a-sheet":
        return
    again = mended(sheet, read(sheet))
    changes = [line for line in ndiff(sheet.splitlines(), (again or sheet).splitlines()) if line[0] in "+-"]
    assert "\n".join(changes) == (says or "").strip()


@pytest.mark.parametrize("kind", ENTRIES)
def test_a_kind_is_as_grave_as_the_page_says(kind: str) -> None:
    sheet = block(ENTRIES[kind][1], "sheet")
    assert sheet is not None
    severity = ENTRIES[kind][0]
    assert {f.severity for f in findings_of(sheet)} <= {severity, "warning" if kind == "word" else severity}
