"""``softshoe accounts``: who may come into an association's repertoire."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

import click

if TYPE_CHECKING:
    from softshoe.repertoire.accounts import Role

ROLES = click.Choice(["leader", "reader"])


@click.group(name="accounts", invoke_without_command=True)
@click.pass_context
def command(ctx: click.Context) -> None:
    """List the accounts of an association's repertoire. NAME is as somebody typed it when joining.

    For whoever runs the server: everybody else comes in through the pages that “softshoe serve” shows.
    """
    if ctx.invoked_subcommand is not None:
        return
    from softshoe.cli.kept_in import repertoire
    from softshoe.repertoire.accounts import accounts

    with repertoire().reading() as base:
        found = accounts(base)
    for one in found:
        click.echo(f"{one.name}: {one.role}, since {one.made_at[:10]}" + (", closed" if one.closed else ""))
    if not found:
        click.echo("There is no account yet. “softshoe accounts invite” begins.")


@command.command(name="invite")
@click.argument("role", type=ROLES, default="leader")
def invite(role: str) -> None:
    """Print the code of an invitation for a leader or a reader; it works once, and for two weeks."""
    from softshoe.cli.kept_in import repertoire
    from softshoe.repertoire import accounts

    with repertoire().writing() as base:
        code = accounts.invite(base, role=cast("Role", role))
    click.echo(code)


@command.command(name="role")
@click.argument("name")
@click.argument("role", type=ROLES)
def set_role(name: str, role: str) -> None:
    """Make NAME a leader or a reader."""
    from softshoe.cli.kept_in import repertoire
    from softshoe.repertoire import accounts

    with repertoire().writing() as base:
        accounts.set_role(base, accounts.account_named(base, name).uid, cast("Role", role))


@command.command(name="close")
@click.argument("name")
def close(name: str) -> None:
    """Close the account of NAME: nobody comes in by it any more. The dances stay."""
    from softshoe.cli.kept_in import repertoire
    from softshoe.repertoire import accounts

    with repertoire().writing() as base:
        accounts.close(base, accounts.account_named(base, name).uid)


@command.command(name="password")
@click.argument("name")
@click.password_option(prompt="New password")
def password(name: str, password: str) -> None:
    """Give NAME a new password and end all visits."""
    from softshoe.cli.kept_in import repertoire
    from softshoe.repertoire import accounts

    with repertoire().writing() as base:
        accounts.set_password(base, accounts.account_named(base, name).uid, password)


@command.command(name="give")
@click.argument("name")
def give(name: str) -> None:
    """Make every dance that is nobody's NAME's own, as after a laptop's folder was brought in."""
    from softshoe.cli.kept_in import repertoire
    from softshoe.repertoire import accounts

    with repertoire().writing() as base:
        many = accounts.give_all(base, accounts.account_named(base, name).uid)
    click.echo(f"{many} dances are {name}'s now; nobody else sees them until they are shared")
