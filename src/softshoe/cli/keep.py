"""``softshoe keep``: dances and songs go into the repertoire."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from softshoe.repertoire.dances import Put
    from softshoe.repertoire.store import Repertoire

SOUND = (".mp3", ".wav", ".flac", ".ogg", ".opus", ".m4a", ".aac", ".aiff", ".aif", ".wma", ".json")
HOW = {
    "new dance": "kept", "new text": "kept as text {n}", "known": "already kept (text {n})",
    "side by side": "kept as text {n}, beside another",
}  # fmt: skip


@click.command(name="keep")
@click.argument("files", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--title", default="", help="What the dance or song is called; else its own title, else the file's name.")
@click.option("--recording", is_flag=True, help="Keep the song's file too, not only what was heard in it.")
@click.option("--based-on", type=click.IntRange(1), multiple=True, metavar="N",
              help="The text that this one was made from; twice to settle two that stand side by side.")  # fmt: skip
def command(files: tuple[Path, ...], title: str, based_on: tuple[int, ...], *, recording: bool) -> None:
    """Keep the dances and songs of FILES in the repertoire.

    A sheet whose title is kept already becomes a new text of that dance; what changed is told in counts. Of a song (a
    recording, or the map that “softshoe listen --json” prints) what was heard and said is kept, not its sound.
    """
    from softshoe.cli.kept_in import repertoire

    kept = repertoire()
    for file in files:
        if file.suffix.casefold() in SOUND:
            _keep_song(kept, file, title or file.stem, recording=recording)
        else:
            _keep_sheet(kept, file, title, based_on)


def _keep_sheet(kept: Repertoire, sheet: Path, title: str, based_on: tuple[int, ...]) -> None:
    from softshoe.wording.read import read
    from softshoe.wording.source import sheet_text

    words = sheet_text(sheet)
    dance = read(words)
    name = title or sheet.stem
    if based_on:
        put = _based(kept, dance.title or name, words, based_on)
    else:
        put = kept.keep(words, dance, title=name, source=sheet.name)
    errors = sum(f.severity == "error" for f in dance.findings)
    click.echo(
        f"{HOW[put.how].format(n=put.number)}: {dance.title or name} ({dance.counts} counts)"
        + (f", {errors} to mend" if errors else "")
    )
    _changes(kept, put)


def _based(kept: Repertoire, title: str, words: str, numbers: tuple[int, ...]) -> Put:
    """Keep a text made from these texts of the dance of that title."""
    from softshoe.errors import SettingError
    from softshoe.repertoire.named import named
    from softshoe.wording.read import read

    with kept.reading() as base:
        uid = named(base, title)
    texts = {text.number: text.uid for text in kept.dance(uid).texts}
    if missing := [n for n in numbers if n not in texts]:
        raise SettingError(
            "--based-on", f"there is no text {missing[0]}", f"“{title}” has {len(texts)}", "take one of them"
        )
    return kept.edit(uid, words, read(words), based_on=tuple(texts[n] for n in numbers))


def _keep_song(kept: Repertoire, file: Path, title: str, *, recording: bool) -> None:
    from softshoe.files import content_hash
    from softshoe.music.given import song_given
    from softshoe.music.songmap import Said
    from softshoe.repertoire.originals import put
    from softshoe.repertoire.songs import keep_song

    song = song_given(file, Said())
    sound = file.suffix.casefold() != ".json"
    content = content_hash(file) if sound else ""
    if sound and recording:
        put(kept.folder, file.read_bytes())
    with kept.writing() as base:
        keep_song(base, title, song, content=content, recording=content if recording else "")
    click.echo(
        f"kept: {title}, {song.tempo_bpm:.0f} beats a minute" + (", with its recording" if sound and recording else "")
    )


def _changes(kept: Repertoire, put: Put) -> None:
    """Tell what changed from the texts it was based on."""
    from softshoe.repertoire.difference import differences

    if put.how not in ("new text", "side by side"):
        return
    dance = kept.dance(put.dance)
    by_uid = {text.uid: text for text in dance.texts}
    new = by_uid[put.text]
    for base in new.based_on:
        found = [one.words for one in differences(by_uid[base].dance, new.dance)]
        for words in found or ["danced as before; the words alone changed"]:
            click.echo(f"    {words}")
    if put.how == "side by side":
        click.echo(f"    “softshoe kept {dance.title}” shows both; keep one with --based-on twice to settle them")
