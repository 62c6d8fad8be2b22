"""``softshoe accounts``: who may come into an association's repertoire, and whose the dances are."""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING, cast

import click

if TYPE_CHECKING:
    from collections.abc import Iterator

    from softshoe.base import Base
    from softshoe.repertoire.accounts import Account, Role
    from softshoe.repertoire.belonging import Left

ROLES = click.Choice(["owner", "leader", "reader"])
BECOMES = click.Choice(["stay", "group", "give"])
ASKED = """“stay”: they stay the closed account's; those not shared are seen by nobody until it is opened again.
“group”: all of them become everybody's. “give”: another leader gets them, as they are."""


@contextmanager
def _writing() -> Iterator[Base]:
    from softshoe.cli.kept_in import repertoire

    with repertoire().writing() as base:
        yield base


def _named(base: Base, name: str) -> Account:
    from softshoe.repertoire.accounts import account_named

    return account_named(base, name)


def _dances(left: Left) -> str:
    return f"{left.alone} dance{'s' * (left.alone != 1)} seen by nobody else, {left.shared} shared"


@click.group(name="accounts", invoke_without_command=True)
@click.pass_context
def command(ctx: click.Context) -> None:
    """List the accounts of an association's repertoire. NAME is as somebody typed it when joining.

    For whoever runs the server: everybody else comes in through the pages that “softshoe serve” shows.
    """
    if ctx.invoked_subcommand is not None:
        return
    from softshoe.cli.kept_in import repertoire
    from softshoe.repertoire.accounts import accounts, invitations
    from softshoe.repertoire.belonging import left_by

    with repertoire().reading() as base:
        found, open_ones = accounts(base), invitations(base)
        for one in found:
            closed = ", closed" if one.closed else ""
            click.echo(f"{one.name}: {one.role}, since {one.made_at[:10]}{closed}; {_dances(left_by(base, one.uid))}")
    for each in open_ones:
        by = f" by {each.by}" if each.by else ""
        click.echo(f"invited{by} as {each.role}, until {each.until[:10]}: not used yet ({each.key})")
    if not found and not open_ones:
        click.echo("There is no account yet. “softshoe accounts invite owner” begins.")


@command.command(name="invite")
@click.argument("role", type=ROLES, default="leader")
def invite(role: str) -> None:
    """Print the code of an invitation for an owner, a leader or a reader; it works once, and for two weeks.

    Owners also invite and close accounts; leaders keep dances; readers look at what is shared.
    """
    from softshoe.repertoire import accounts

    with _writing() as base:
        code = accounts.invite(base, role=cast("Role", role))
    click.echo(code)


@command.command(name="withdraw")
@click.argument("key")
def withdraw(key: str) -> None:
    """Take an invitation back. KEY is what the list shows in brackets."""
    from softshoe.errors import SettingError
    from softshoe.repertoire import accounts

    with _writing() as base:
        if not accounts.withdraw(base, key):
            raise SettingError(f"“{key}”", "there is no such invitation", "it was used, taken back, or is too old",
                               "“softshoe accounts” lists those that are open")  # fmt: skip


@command.command(name="role")
@click.argument("name")
@click.argument("role", type=ROLES)
def set_role(name: str, role: str) -> None:
    """Make NAME an owner, a leader or a reader."""
    from softshoe.repertoire import accounts

    with _writing() as base:
        accounts.set_role(base, _named(base, name).uid, cast("Role", role))


@command.command(name="close")
@click.argument("name")
@click.option("--dances", "becomes", type=BECOMES, help="What becomes of the dances; it is asked where you don't say.")
@click.option("--to", "heir", metavar="NAME", help="Who gets them, with “--dances give”.")
def close(name: str, becomes: str | None, heir: str | None) -> None:
    """Close the account of NAME: nobody comes in by it any more. What becomes of the dances is asked."""
    from softshoe.repertoire import accounts
    from softshoe.repertoire.belonging import give_all, left_by, to_the_group

    with _writing() as base:
        gone = _named(base, name)
        left = left_by(base, gone.uid)
        if becomes is None and heir is None and (left.alone or left.shared):
            click.echo(f"{gone.name} has {_dances(left)}.\n{ASKED}", err=True)
            becomes = click.prompt("What becomes of them", type=BECOMES, default="stay", err=True)
        if becomes == "give" or heir:
            to = _named(base, heir or click.prompt("Who gets them", err=True))
            give_all(base, to.uid, of=gone.uid)
            told = f"they are {to.name}'s now, shared or not as they were"
        elif becomes == "group":
            to_the_group(base, gone.uid)
            told = "they are everybody's now"
        else:
            told = f"they stay {gone.name}'s"
        accounts.close(base, gone.uid)
    click.echo(f"The account of {gone.name} is closed. {_dances(left).capitalize()}: {told}.")


@command.command(name="open")
@click.argument("name")
def reopen(name: str) -> None:
    """Open the account of NAME again, with the dances that are still its own."""
    from softshoe.repertoire import accounts

    with _writing() as base:
        accounts.reopen(base, _named(base, name).uid)


@command.command(name="password")
@click.argument("name")
@click.password_option(prompt="New password")
def password(name: str, password: str) -> None:
    """Give NAME a new password and end all visits."""
    from softshoe.repertoire import accounts

    with _writing() as base:
        accounts.set_password(base, _named(base, name).uid, password)


@command.command(name="give")
@click.argument("name")
def give(name: str) -> None:
    """Make every dance that is nobody's NAME's own, as after a laptop's folder was brought in."""
    from softshoe.repertoire.belonging import give_all

    with _writing() as base:
        heir = _named(base, name)
        many = give_all(base, heir.uid).alone
    is_hers = "1 dance is" if many == 1 else f"{many} dances are"
    click.echo(f"{is_hers} {heir.name}'s now, seen by nobody else until shared")


@command.command(name="dances")
@click.argument("name")
def dances(name: str) -> None:
    """List the dances of NAME, and which of them are shared."""
    from softshoe.cli.kept_in import repertoire
    from softshoe.repertoire.belonging import listed

    with repertoire().reading() as base:
        found, _ = listed(base, viewer=_named(base, name).uid, which="mine", most=100_000)
    for one in found:
        click.echo(one.title + (" (shared)" if one.shared else ""))


@command.command(name="share")
@click.argument("title")
@click.option("--back", is_flag=True, help="Take it back: it is its leader's own again.")
def share(title: str, *, back: bool) -> None:
    """Share the dance TITLE with the group, or take it back."""
    from softshoe.repertoire import belonging
    from softshoe.repertoire.named import named

    with _writing() as base:
        belonging.share(base, named(base, title), by="", shared=not back)
