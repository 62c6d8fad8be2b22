"""``softshoe jobs``: the long work that was asked for: how it stands, stopping it, doing it again, doing it here."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from collections.abc import Iterator
    from contextlib import AbstractContextManager

    from softshoe.jobs.door import Door
    from softshoe.jobs.told import Told

NAME = 8  # letters of a job's name that are shown, and enough to say which


@click.group(name="jobs", invoke_without_command=True)
@click.option("--json", "as_json", is_flag=True, help="Print the jobs as JSON.")
@click.pass_context
def command(ctx: click.Context, *, as_json: bool) -> None:
    """List long work that was asked for in the studio: films, songs, folders of sheets, booklets.

    JOB is the name that the list shows.
    """
    if ctx.invoked_subcommand is not None:
        return
    with quiet_door() as door:
        jobs = door.all()
        for path in door.damaged():
            click.echo(f"The list of jobs was damaged once and begun anew; the old one: {path}", err=True)
    if as_json:
        from dataclasses import asdict

        from softshoe.cli.show import print_json

        print_json([{**asdict(one), "made": [str(path) for path in one.made]} for one in jobs])
        return
    for one in jobs:
        click.echo("\n".join(_lines(one)))
    if not jobs:
        click.echo("No long work was asked for.")


@command.command(name="stop")
@click.argument("job")
def stop(job: str) -> None:
    """Stop JOB. What is done of it stays for the next time."""
    with quiet_door() as door:
        door.stop(job)
        click.echo("\n".join(_lines(door.told(job))))


@command.command(name="again")
@click.argument("job")
@click.option("--because", default="", help="Why; it is shown with the job.")
def again(job: str, because: str) -> None:
    """Do JOB again, which failed or was stopped. “softshoe jobs work”, or the studio, does it."""
    with quiet_door() as door:
        door.again(job, because)
        click.echo("\n".join(_lines(door.told(job))))


@command.command(name="forget")
@click.argument("job")
def forget(job: str) -> None:
    """Take JOB out of the list, with what it made in a folder of its own."""
    with quiet_door() as door:
        door.forget(job)


@command.command(name="work")
@click.option("--lanes", type=click.IntRange(1, 64), default=2, show_default=True, help="Steps done at a time.")
@click.option("--until-done", is_flag=True, help="End when nothing is left to do; else Ctrl-C ends it.")
def work(lanes: int, *, until_done: bool) -> None:
    """Do the long work here, one worker of an association's or the one of this computer."""
    import os
    import sys

    from softshoe.errors import OutputError
    from softshoe.home import data_home, database_url
    from softshoe.jobs.book import Book
    from softshoe.jobs.worker import Worker, ends_when_told, held_alone

    book = Book.at(data_home(), url=database_url())
    if not book.url and held_alone(book.home) is None:
        raise OutputError(str(book.home), "somebody is at work here already", "a home has one worker at a time",
                          "let it do the work, or close the studio")  # fmt: skip
    worker = Worker(book, lanes=lanes, idle_s=2.0 if until_done else None)
    ends_when_told(worker)
    click.echo("At work. Ctrl-C ends it; what it is at is taken up again the next time.", err=True)
    worker.work()
    sys.stdout.flush()
    os._exit(0)  # the engine's threads wait for work for ever


def quiet_door() -> AbstractContextManager[Door]:
    """Return the door to this user's jobs, behind which nobody is set to work."""
    from contextlib import contextmanager

    from softshoe.home import data_home, database_url
    from softshoe.jobs.book import Book
    from softshoe.jobs.door import Door

    @contextmanager
    def door() -> Iterator[Door]:
        yield Door(Book.at(data_home(), url=database_url()), None, None)

    return door()


def _lines(one: Told) -> list[str]:
    from softshoe.cli.show import clock_time

    told = f"{one.job[:NAME]}  {one.kind}, {one.state}"
    if one.state == "doing":
        told += f" {one.share:.0%}: {one.words}"
        told += f" (about {clock_time(one.left_s)} to go)" if one.left_s else ""
    lines = [told]
    if one.why and not one.over:
        lines.append(f"    done again: {one.why}")
    if one.fault:
        lines += [f"    {line}" for line in one.fault.splitlines()]
    lines += [f"    {path}" for path in one.made[:1]]
    return lines
