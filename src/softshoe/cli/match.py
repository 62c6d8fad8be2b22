"""``softshoe match``: which dances sit well on a song, which songs carry a dance."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from softshoe.cli.said import said_by, with_said
from softshoe.cli.show import print_json

if TYPE_CHECKING:
    from collections.abc import Callable

    from softshoe.dance.dance import Dance
    from softshoe.fit.match import Matched
    from softshoe.music.songmap import SongMap

SHEETS = (".txt", ".docx", ".odt", ".html", ".rtf", ".pdf", ".md")
LEFT_OUT = {
    "metre": "another metre (a waltz on a song in four, or the other way round)",
    "tempo": "too slow or too fast for the people of the dance",
    "phrases": "phrases that the dance's length meets too seldom",
    "beat": "no steady beat",
}


@click.command(name="match")
@click.argument("what", type=click.Path(path_type=Path))
@click.option("--dances", type=click.Path(path_type=Path), help="A folder of sheets, in place of the repertoire.")
@click.option("--songs", type=click.Path(path_type=Path), help="A folder of song maps; WHAT is then a sheet.")
@click.option("--most", type=click.IntRange(1, 1000), default=24, show_default=True, help="So many are really fitted.")
@click.option("--json", "as_json", is_flag=True, help="Print the matches as JSON.")
@with_said
@click.pass_context
def command(ctx: click.Context, /, what: Path, dances: Path | None, songs: Path | None, **how: Any) -> None:
    """Say which dances of the repertoire sit well on the song WHAT, the best first.

    Where WHAT is a sheet, or a folder of sheets, it is told which songs carry it: those of the folder --songs, else
    those of the repertoire. A song map is the JSON of “softshoe listen”. Ends with 0 when something fits, 1 when
    nothing does, 2 when a file can't be read.
    """
    from softshoe.cli.kept_in import kept_songs
    from softshoe.fit.match import matched

    most, as_json = how.pop("most"), how.pop("as_json")
    if songs is not None or what.is_dir() or what.suffix.casefold() in SHEETS:
        given, heard = _sheets(what), song_maps(songs) if songs is not None else list(kept_songs())
    else:
        given, heard = (_sheets(dances) if dances is not None else _kept()), [_song(what, how)]
    if not given:
        click.echo("There are no dances to look at. “softshoe keep SHEET” puts one into the repertoire.", err=True)
        ctx.exit(1)
    if not heard:
        click.echo("There are no songs to look at. “softshoe keep SONG” puts one into the repertoire.", err=True)
        ctx.exit(1)
    found = matched(given, heard, most=most)
    if as_json:
        print_json(_json(found))
    else:
        _tell(found, many_songs=len(heard) > 1, many_dances=len(given) > 1)
    ctx.exit(0 if found.matches else 1)


def _song(path: Path, said: dict[str, Any]) -> tuple[str, SongMap]:
    from softshoe.music.given import song_given

    return path.stem, song_given(path, said_by(**said))


def _kept() -> list[tuple[str, Dance]]:
    from softshoe.cli.kept_in import repertoire

    return list(repertoire().all())


def _sheets(path: Path) -> list[tuple[str, Dance]]:
    from softshoe.wording.read import read
    from softshoe.wording.source import sheet_text

    def one(sheet: Path) -> tuple[str, Dance]:
        dance = read(sheet_text(sheet))
        return dance.title or sheet.stem, dance

    return [one(path)] if path.is_file() else _each(path, SHEETS, one)


def song_maps(path: Path) -> list[tuple[str, SongMap]]:
    """Return the song maps of a file or folder, by name."""
    from softshoe.music.document import song_from_json

    def one(file: Path) -> tuple[str, SongMap]:
        return file.stem, song_from_json(file.read_bytes(), where=file.name)

    return [one(path)] if path.is_file() else _each(path, (".json",), one)


def _each(folder: Path, kinds: tuple[str, ...], one: Callable[[Path], Any]) -> list[Any]:
    """Read every file of a folder; what can't be read is told and left out."""
    from softshoe.errors import SettingError, WorkbenchError

    if not folder.is_dir():
        raise SettingError(str(folder), "there is no such folder", "nothing of that name is here",
                           "check the name, or give a file")  # fmt: skip
    found = []
    for file in sorted(folder.iterdir()):
        if file.suffix.casefold() in kinds and not file.name.startswith("."):
            try:
                found.append(one(file))
            except (WorkbenchError, OSError) as wrong:
                click.echo(f"Left out: {wrong}", err=True)
    return found


def _tell(found: Matched, *, many_songs: bool, many_dances: bool) -> None:
    from softshoe.fit.told import gives

    for match in found.matches:
        name = f"{match.dance} on {match.song}" if many_songs and many_dances else (
            match.song if many_songs else match.dance)  # fmt: skip
        click.echo(f"{match.run.score.total:3.0f} of 100  {name}: {gives(match.run)}")
        click.echo(f"            {match.run.why[0]}")
    if not found.matches:
        click.echo("Nothing here fits.")
    for why, many in sorted(found.left_out.items(), key=lambda row: -row[1]):
        click.echo(f"left out: {many} for {LEFT_OUT[why]}")
    if found.not_tried:
        click.echo(f"not tried: {found.not_tried} that looked less promising (--most tries more)")


def _json(found: Matched) -> dict[str, Any]:
    from softshoe.fit.document import run_json

    rows = [{"dance": match.dance, "song": match.song, "run": run_json(match.run)} for match in found.matches]
    return {"matches": rows, "left_out": dict(found.left_out), "not_tried": found.not_tried}
