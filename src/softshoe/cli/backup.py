"""``softshoe backup``: everything that is kept, packed into one file."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click


@click.command(name="backup")
@click.argument("file", required=False, type=click.Path(path_type=Path))
def command(file: Path | None) -> None:
    """Pack everything that is kept into FILE (softshoe-backup-DAY.zip where none is named), and prove that it is whole.

    Put it on another disk. The database is also copied by itself before the first change of a day; “softshoe restore”
    lists these copies.
    """
    from softshoe.cli.kept_in import repertoire
    from softshoe.errors import SettingError
    from softshoe.repertoire.packed import packed

    kept = repertoire()
    if kept.url:
        raise SettingError("softshoe backup", "this repertoire is in PostgreSQL", "its backups are made by the server",
                           "use pg_dump, or “softshoe export FOLDER”")  # fmt: skip
    made = packed(kept.folder, file or Path(f"softshoe-backup-{date.today().isoformat()}.zip"))
    click.echo(
        f"{made.path}: {made.dances} dances in {made.texts} texts, {made.files} files, {made.size / 1e6:.1f} "
        f"MB, checked"
    )
