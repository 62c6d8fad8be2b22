"""``softshoe remove``: a dance is taken out, into a bin from which it can be put back."""

from __future__ import annotations

import click


@click.command(name="remove")
@click.argument("title", required=False, default="")
@click.option("--list", "list_bin", is_flag=True, help="List what was removed and can be put back.")
@click.option("--back", is_flag=True, help="Put TITLE back as it was.")
@click.option("--yes", is_flag=True, help="Don't ask.")
def command(title: str, *, list_bin: bool, back: bool, yes: bool) -> None:
    """Take the dance TITLE out of the repertoire, with all its texts.

    It stays in a bin for three months and is put back from there with --back. Backups keep it longer.
    """
    from softshoe.cli.kept_in import repertoire
    from softshoe.errors import SettingError
    from softshoe.repertoire import bin as away
    from softshoe.repertoire.named import named

    kept = repertoire()
    if list_bin:
        with kept.reading() as base:
            found = away.binned(base)
        for one in found:
            click.echo(f"{one.title}: removed {one.binned_at[:10]}, stays until {one.until} at least ({one.uid[:8]})")
        if not found:
            click.echo("The bin is empty.")
        return
    if not title:
        raise SettingError("softshoe remove", "which dance?", "no title was given", "softshoe remove TITLE, or --list")
    if back:
        with kept.writing() as base:
            click.echo(f"put back: {away.put_back(base, kept.folder, title)}")
        return
    with kept.reading() as base:
        uid = named(base, title)
        whole = str(base.value("select title from dance where uid = :uid", uid=uid))
    if not yes:
        click.confirm(
            f"Remove “{whole}” with all its texts? It can be put back for three months.", abort=True, err=True
        )
    with kept.writing() as base:
        gone = away.remove(base, kept.folder, uid)
    click.echo(f"removed: {gone.title}; “softshoe remove --back” puts it back until {gone.until}")
