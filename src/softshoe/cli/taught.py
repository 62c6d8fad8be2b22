"""How a dance is taught, on the command line: options shared by the commands that write a lesson."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, TypedDict

import click

from softshoe.cli.for_whom import own_asked

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from softshoe.adapt.own import Own

SEEN = "What is seen in front, to the right, behind and to the left: “mirrors, windows, clock, door”."


def with_lesson(command: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command the length of the lesson and the names of the walls."""
    room = click.option("--room", metavar="WORDS", default="", help=SEEN)
    minutes = click.option(
        "--minutes", type=float, metavar="NUMBER", help="How long the walkthrough shall be, as in 15."
    )
    return minutes(room(command))


class LessonAsked(TypedDict):
    """What was asked for of the walkthrough: its length, what is seen on the walls, the text it is made from; and for
    whom else the dance is filmed."""

    minutes: float | None
    room: str
    lesson: Path | None
    own: tuple[Own, ...]


def lesson_asked(options: dict[str, Any]) -> LessonAsked:
    """Take what was asked for of the walkthrough, and for whom, out of a command's options; raises WorkbenchError."""
    return {
        "minutes": options.pop("minutes"), "room": options.pop("room"), "lesson": options.pop("lesson"),
        "own": own_asked(options.pop("own")),
    }  # fmt: skip
