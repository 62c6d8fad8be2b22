"""``softshoe words``: what a word of the sheets means, how many counts it takes, and how it is written."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from softshoe.wording.lexicon import Entry


@click.command(name="words")
@click.argument("words", nargs=-1)
@click.option("--page", is_flag=True, help="Print the whole vocabulary as a page in Markdown.")
@click.pass_context
def command(ctx: click.Context, words: tuple[str, ...], page: bool) -> None:
    """Say what WORDS mean on a sheet: a step, a pattern, what hands do. Without WORDS, list all that can be read.

    Ends with 1 when no such word is known; the nearest known one is told.
    """
    from softshoe.wording import lexicon

    if page:
        click.echo(lexicon.page(), nl=False)
        return
    if not words:
        for kind, title in lexicon.KINDS.items():
            click.echo(f"{title}: {', '.join(e.name for e in lexicon.entries() if e.kind == kind)}")
        return
    asked = " ".join(words)
    found, meant = lexicon.look_up(asked)
    for entry in found:
        _tell(entry)
    if not found:
        click.echo(f"“{asked}” is no word that the reader knows." + (f" Did you mean “{meant}”?" if meant else ""))
        ctx.exit(1)


def _tell(entry: Entry) -> None:
    """Print one entry."""
    noted = entry.kind == "pattern"  # its steps are its meaning; what else is said of it is a note
    click.echo(f"{entry.name}: {entry.meaning}" if entry.meaning and not noted else entry.name)
    for name, words in entry.facts:
        click.echo(f"  {name}: {words}")
    for step in entry.steps:
        click.echo(f"    {step}")
    if entry.meaning and noted:
        click.echo(f"  note: {entry.meaning}")
    if entry.also:
        click.echo(f"  also: {', '.join(entry.also)}")
    click.echo()
