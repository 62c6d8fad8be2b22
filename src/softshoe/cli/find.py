"""``softshoe find``: dances of the repertoire by words."""

from __future__ import annotations

import click


@click.command(name="find")
@click.argument("words", nargs=-1)
@click.pass_context
def command(ctx: click.Context, words: tuple[str, ...]) -> None:
    """Find kept dances that hold all WORDS (or words that begin so); without words, list them all."""
    from softshoe.home import data_home
    from softshoe.repertoire.store import Repertoire

    found = Repertoire.at(data_home()).find(" ".join(words))
    for kept in found:
        dance = kept.dance
        level = f", {dance.level}" if dance.level else ""
        click.echo(f"{dance.title}: {dance.counts} counts, {'seated' if dance.seated else 'standing'}{level}")
    if not found:
        click.echo("Nothing found. “softshoe keep SHEET” puts a dance into the repertoire.")
    ctx.exit(0 if found else 1)
