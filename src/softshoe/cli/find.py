"""``softshoe find``: dances of the repertoire by words, steps, level, tempo, days danced and the song they fit."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from softshoe.music.songmap import SongMap
    from softshoe.repertoire.find import Found, Hit


@click.command(name="find")
@click.argument("words", nargs=-1)
@click.option("--song", type=click.Path(path_type=Path), help="Only dances that fit this song: a recording or its map.")
@click.option("--most", type=click.IntRange(1, 100_000), default=50, show_default=True, help="So many are shown.")
@click.option("--notes", is_flag=True, help="Search the locked notes about people too; asks for the passphrase.")
@click.option("--json", "as_json", is_flag=True, help="Print what was found as JSON.")
@click.pass_context
def command(
    ctx: click.Context, words: tuple[str, ...], song: Path | None, most: int, *, notes: bool, as_json: bool
) -> None:
    """Find kept dances; without words, list them all.

    WORDS are words of the sheet or its title, and what the dance is: seated, two walls, under 110, 32 counts, beginner,
    waltz, has a vine, no turns, #label, danced last month, never danced, fits TITLE. The last word may be unfinished.
    """
    from softshoe.cli.kept_in import repertoire
    from softshoe.repertoire.find import find

    found = find(repertoire(), " ".join(words), most=most, song=_song(song))
    if as_json:
        from softshoe.cli.show import print_json

        print_json(_json(found))
    else:
        _tell(found, asked=bool(words) or song is not None)
    noted = False
    if notes:
        from softshoe.cli.notes import find_in_notes

        noted = find_in_notes(" ".join(words))
    ctx.exit(0 if found.hits or noted else 1)


def _song(path: Path | None) -> SongMap | None:
    if path is None:
        return None
    from softshoe.music.given import song_given
    from softshoe.music.songmap import Said

    return song_given(path, Said())


def _tell(found: Found, *, asked: bool) -> None:
    for line in found.told:
        click.echo(line, err=True)
    for hit in found.hits:
        click.echo(told(hit))
    if not found.hits:
        click.echo(
            "Nothing found."
            if asked
            else "Nothing is kept yet. “softshoe keep SHEET” or “softshoe import FOLDER” begins."
        )
    elif found.total > len(found.hits):
        click.echo(f"{len(found.hits)} of {found.total}; more words find fewer, --most shows more")


def told(hit: Hit) -> str:
    """Return one found dance as a line, or two."""
    tempo = hit.tempo_bpm
    said = [f"{hit.counts} counts", f"{hit.walls} wall{'s' if hit.walls != 1 else ''}" if hit.walls else "",
            "seated" if hit.seated else "standing", hit.level or "", hit.metre if hit.metre != "4/4" else "",
            f"{tempo[0]:g}–{tempo[1]:g} bpm" if isinstance(tempo, tuple) else f"{tempo:g} bpm" if tempo else "",
            f"{hit.errors} to mend" if hit.errors else "", f"{hit.texts} texts side by side" if hit.texts > 1 else "",
            f"danced {hit.danced}" if hit.danced else ""]  # fmt: skip
    line = f"{hit.title}: {', '.join(filter(None, said))}"
    if hit.suits:
        about = "" if hit.suits.fitted else "about "
        return f"{about}{hit.suits.points:.0f} of 100  {line}\n    {hit.suits.why}"
    return line + (f"\n    {hit.line}" if hit.line else "")


def _json(found: Found) -> dict[str, Any]:
    from dataclasses import asdict

    return {"total": found.total, "understood": list(found.understood), "told": list(found.told),
            "dances": [asdict(hit) for hit in found.hits]}  # fmt: skip
