"""What holds for every test run: examples in Markdown run, and in continuous integration nothing may be skipped."""

from __future__ import annotations

import os
from doctest import ELLIPSIS
from typing import TYPE_CHECKING

import pytest
from sybil import Sybil
from sybil.parsers.markdown import PythonCodeBlockParser, SkipParser

if TYPE_CHECKING:
    from _pytest.terminal import TerminalReporter

pytest_collect_file = Sybil(
    parsers=[PythonCodeBlockParser(doctest_optionflags=ELLIPSIS), SkipParser()],
    patterns=["*.md"],
).pytest()

IN_CI = os.environ.get("CI") == "true"


@pytest.hookimpl(trylast=True)
def pytest_sessionfinish(session: pytest.Session) -> None:
    """Count a skipped test as a failure where everything must run."""
    reporter = session.config.pluginmanager.get_plugin("terminalreporter")
    if IN_CI and reporter is not None and reporter.stats.get("skipped") and session.exitstatus == 0:
        session.exitstatus = pytest.ExitCode.TESTS_FAILED


def pytest_terminal_summary(terminalreporter: TerminalReporter) -> None:
    """Say why a run with skipped tests does not pass."""
    skipped = len(terminalreporter.stats.get("skipped", ()))
    if skipped and IN_CI:
        terminalreporter.write_line(f"{skipped} skipped: with CI=true nothing may be skipped", red=True)
