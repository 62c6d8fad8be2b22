"""The words for a guise on the command line: ``--outfit``, ``--skin``, ``--hair``."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, TypeVar

import click

if TYPE_CHECKING:
    from collections.abc import Callable

Command = TypeVar("Command", bound="Callable[..., Any]")
OPTIONS = (
    ("--outfit", "What the dancer wears: shirt, dungarees."),
    ("--skin", "Her skin, in plain words: rose, sand, honey, amber, brown, umber."),
    ("--hair", 'Form and colour of her hair: "short black", "long fair", "green scarf", bald …'),
)


def with_guise(command: Command) -> Command:
    """Give a command the options of a guise: ``outfit``, ``skin``, ``hair``, "" where nothing was said."""
    for name, told in reversed(OPTIONS):
        command = click.option(name, default="", metavar="WORDS", help=told)(command)
    return command
