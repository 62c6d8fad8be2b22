"""``softshoe notes``: notes about people, locked with a passphrase."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from collections.abc import Iterable

    from softshoe.repertoire.people import PersonNote, Unlocked


@click.group(name="notes")
def command() -> None:
    """Keep notes about your dancers, locked with a passphrase.

    They lie in a file of their own, encrypted; they are in no export and no search unless you unlock them and ask. The
    passphrase is kept nowhere: whoever forgets it has lost the notes.
    """


@command.command(name="add")
@click.argument("name")
@click.argument("words", nargs=-1, required=True)
def add(name: str, words: tuple[str, ...]) -> None:
    """Write a note about NAME. The first one asks for a new passphrase."""
    from softshoe.repertoire.people import added

    opened = added(opened_notes(begin=True), name, " ".join(words))
    click.echo(f"noted about {name}; {len(opened.about(name))} in all")


@command.command(name="show")
@click.argument("name", required=False, default="")
@click.pass_context
def show(ctx: click.Context, name: str) -> None:
    """Show the notes about NAME; without one, about everybody."""
    found = opened_notes().about(name)
    _tell(found)
    if not found:
        click.echo(f"no notes about {name}" if name else "no notes yet")
        ctx.exit(1)


@command.command(name="find")
@click.argument("words", nargs=-1, required=True)
@click.pass_context
def find(ctx: click.Context, words: tuple[str, ...]) -> None:
    """Show the notes that hold all WORDS."""
    ctx.exit(0 if find_in_notes(" ".join(words)) else 1)


@command.command(name="forget")
@click.argument("name")
@click.pass_context
def forget(ctx: click.Context, name: str) -> None:
    """Remove every note about NAME for good."""
    from softshoe.repertoire.people import forgotten

    _, many = forgotten(opened_notes(), name)
    click.echo(f"{many} note{'s' if many != 1 else ''} about {name} removed; earlier backups still hold them, locked")
    ctx.exit(0 if many else 1)


@command.command(name="passphrase")
def passphrase() -> None:
    """Lock the notes with another passphrase."""
    from softshoe.repertoire.people import relocked

    relocked(opened_notes(), _new_passphrase())
    click.echo("the notes have the new passphrase; earlier backups still have the old one")


def opened_notes(*, begin: bool = False) -> Unlocked:
    """Ask for the passphrase and unlock the notes; ``begin`` starts them where there are none."""
    from softshoe.home import data_home
    from softshoe.repertoire.originals import home_for
    from softshoe.repertoire.people import started, there, unlocked

    home = data_home()
    if begin and not there(home):
        home_for(home)
        click.echo(
            "These are the first notes about people. Choose a passphrase, a sentence only you would say.", err=True
        )
        click.echo("It is kept nowhere: without it nobody can read the notes again.", err=True)
        return started(home, _new_passphrase())
    return unlocked(home, _asked() if there(home) else "")


def _asked() -> str:
    return str(click.prompt("Passphrase", hide_input=True, err=True))


def _new_passphrase() -> str:
    return str(click.prompt("New passphrase", hide_input=True, confirmation_prompt="Once more", err=True))


def find_in_notes(words: str) -> bool:
    """Show the locked notes that hold these words; False where there are none."""
    found = opened_notes().holding(words)
    _tell(found)
    return bool(found)


def _tell(notes: Iterable[PersonNote]) -> None:
    for note in notes:
        click.echo(f"{note.person}, {note.made_at[:10]}: {note.words}")
