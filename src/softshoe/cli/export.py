"""``softshoe export``: everything that is kept, as plain files."""

from __future__ import annotations

from pathlib import Path

import click


@click.command(name="export")
@click.argument("folder", type=click.Path(path_type=Path))
@click.option("--recordings", is_flag=True, help="Songs' own files too, where they are kept.")
@click.option(
    "--people", is_flag=True, help="The locked notes about people too, in clear words; asks for the passphrase."
)
def command(folder: Path, *, recordings: bool, people: bool) -> None:
    """Write every dance, song, run and lesson into FOLDER, as files that can be read without softshoe.

    “softshoe import FOLDER” brings all of it back.
    """
    from softshoe.cli.kept_in import repertoire
    from softshoe.repertoire.export import export

    notes = _notes() if people else ""
    made = export(repertoire(), folder, recordings=recordings)
    if notes:
        from softshoe.files import write_whole

        write_whole(folder / "people.txt", notes)
    click.echo(f"{made.folder}: {made.dances} dances, {made.songs} songs, {made.files} files")


def _notes() -> str:
    from softshoe.cli.notes import opened_notes

    opened = opened_notes()
    return "".join(f"{note.person}, {note.made_at[:10]}: {note.words}\n" for note in opened.notes)
