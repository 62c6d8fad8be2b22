"""A command or option without its line in the documentation fails."""

from __future__ import annotations

from importlib import import_module
from pathlib import Path

import pytest

from softshoe.cli.main import COMMANDS

PAGE = (Path(__file__).parents[2] / "docs" / "commands.md").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_has_its_line(name: str) -> None:
    assert f"`softshoe {name}" in PAGE


@pytest.mark.parametrize("name", COMMANDS)
def test_the_listener_s_options_are_documented_where_a_song_is_heard(name: str) -> None:
    command = import_module(f"softshoe.cli.{name}").command
    options = {flag for parameter in command.params for flag in parameter.opts}
    if "--tap" in options:
        assert all(f"`{flag}" in PAGE for flag in ("--tempo", "--first-count", "--metre", "--tap"))
        assert f"`{name}`" in PAGE
