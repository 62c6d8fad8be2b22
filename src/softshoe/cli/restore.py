"""``softshoe restore``: everything put back from a backup, or the database from the copy of an earlier day."""

from __future__ import annotations

import click


@click.command(name="restore")
@click.argument("what", required=False, default="")
@click.option("--yes", is_flag=True, help="Don't ask.")
def command(what: str, *, yes: bool) -> None:
    """Put back WHAT: the file of a backup, or the name of a copy. Without WHAT the copies are listed.

    All of it is checked before anything is touched, and what was there is copied first.
    """
    from softshoe.home import data_home
    from softshoe.repertoire.packed import listed, put_back

    home = data_home()
    if not what:
        for copy in listed(home):
            click.echo(f"{copy.name}  {copy.path.stat().st_size / 1e6:8.1f} MB")
        if not listed(home):
            click.echo("There are no copies yet: one is made before the first change of a day.")
        click.echo("\nsoftshoe restore NAME puts a copy back; softshoe restore FILE.zip a backup.")
        return
    if not yes:
        click.confirm(f"Put {what} back in place of what is kept now?", abort=True, err=True)
    click.echo(put_back(home, what))
