"""How values are told on the terminal: plain lines that read well aloud and in a log."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from collections.abc import Iterable

    from softshoe.errors import Finding

ORDER = ("error", "warning", "note")


def print_json(value: Any) -> None:
    """Print a value as JSON, readable for people."""
    click.echo(json.dumps(value, ensure_ascii=False, indent=1))


def print_findings(findings: Iterable[Finding], *, where: str, lines: list[str] | None = None) -> None:
    """Print findings, the worst first, each with its line and what would mend it."""
    for finding in sorted(findings, key=lambda f: (ORDER.index(f.severity), f.line or 0)):
        place = f"{where}, line {finding.line}" if finding.line else where
        click.echo(f"\n{finding.severity.upper()}  {place}: {finding.message}")
        if lines and finding.line and finding.line <= len(lines):
            click.echo(f"  written: {lines[finding.line - 1].strip()}")
        if finding.mend:
            click.echo(f"  mend: {finding.mend}")


def clock_time(seconds: float) -> str:
    """Return seconds as minutes and seconds.

    >>> clock_time(75.4)
    '1:15'
    """
    whole = round(seconds)
    return f"{whole // 60}:{whole % 60:02d}"


def worst_code(findings: Iterable[Finding]) -> int:
    """Return the exit code: 1 when an error was found, else 0."""
    return int(any(finding.severity == "error" for finding in findings))
