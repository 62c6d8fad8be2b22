"""``softshoe kept``: everything that is known of one kept dance, and what she adds to it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from softshoe.base import Base
    from softshoe.repertoire.values import About, KeptDance


@click.command(name="kept")
@click.argument("title", required=False, default="")
@click.option("--label", multiple=True, help="Give it a label of your own.")
@click.option("--unlabel", multiple=True, help="Take a label away.")
@click.option("--note", multiple=True, help="Write a note about it.")
@click.option("--song", multiple=True, help="Say that it goes to this kept song.")
@click.option("--danced", metavar="DAY", help="Say that it was danced on this day, like 2026-05-03.")
@click.option("--group", default="", help="With --danced: who danced it.")
@click.option("--text", type=click.IntRange(1), help="Print the words of this text.")
@click.option("--songs", "list_songs", is_flag=True, help="List the kept songs instead.")
@click.option("--as", "what", type=click.Choice(["dance", "song", "run", "lesson"]), default="dance",
              help="What TITLE names; a run or a lesson has the name that its dance shows.")  # fmt: skip
@click.option("--anew", is_flag=True, help="Read every kept text anew that an older softshoe has read.")
def command(
    title: str, label: tuple[str, ...], unlabel: tuple[str, ...], note: tuple[str, ...], song: tuple[str, ...],
    danced: str | None, group: str, text: int | None, what: About, *, list_songs: bool, anew: bool,
) -> None:  # fmt: skip
    """Show a kept dance: its texts and what changed between them in counts, songs, labels, notes, days danced.

    With --as also a song, a run or a lesson; labels and notes go to whatever is named.
    """
    from softshoe.cli.kept_about import more_about
    from softshoe.cli.kept_in import repertoire
    from softshoe.errors import SettingError
    from softshoe.repertoire.dances import kept_dance
    from softshoe.repertoire.named import named

    kept = repertoire()
    if list_songs:
        with kept.reading() as base:
            _songs(base)
        return
    if anew:
        from softshoe.cli.kept_about import read_anew

        read_anew(kept)
        return
    if not title:
        raise SettingError("softshoe kept", "which dance?", "no title was given", "softshoe kept TITLE, or --songs")
    if what != "dance":
        from softshoe.cli.kept_about import beside

        beside(kept, what, title, label=label, unlabel=unlabel, note=note)
        return
    changes = bool(label or unlabel or note or song or danced)
    with kept.writing() if changes else kept.reading() as base:
        uid = named(base, title)
        if changes:
            _change(base, uid, label=label, unlabel=unlabel, note=note, song=song, danced=danced, group=group)
        dance = kept_dance(base, uid)
        more = more_about(base, uid)
    if text is not None:
        _words(dance, text)
        return
    _tell(dance)
    for line in more:
        click.echo(f"  {line}")


def _change(base: Base, uid: str, *, label: tuple[str, ...], unlabel: tuple[str, ...], note: tuple[str, ...],
            song: tuple[str, ...], danced: str | None, group: str) -> None:  # fmt: skip
    from softshoe.repertoire.beside import put_danced, put_label, put_note, put_song_link, take_label
    from softshoe.repertoire.dances import now_iso
    from softshoe.repertoire.named import named
    from softshoe.repertoire.values import Danced

    for one in label:
        put_label(base, "dance", uid, one)
    for one in unlabel:
        if not take_label(base, "dance", uid, one):
            click.echo(f"it has no label “{one}”", err=True)
    for words in note:
        put_note(base, "dance", uid, words, now_iso())
    for words in song:
        put_song_link(base, uid, named(base, words, what="song"))
    if danced:
        put_danced(base, uid, Danced(danced, group))


def _words(dance: KeptDance, text: int) -> None:
    from softshoe.errors import SettingError

    if text > len(dance.texts):
        raise SettingError(
            "--text", f"there is no text {text}", f"“{dance.title}” has {len(dance.texts)}", "take one of them"
        )
    click.echo(dance.texts[text - 1].words)


def _songs(base: Base) -> None:
    rows = base.rows("select s.title as title, s.recording as recording, (select count(*) from dance_song where "
                     "song = s.n) "
                     "as dances from song s order by s.title_key")  # fmt: skip
    for row in rows:
        with_file = ", with its recording" if row["recording"] else ""
        click.echo(f"{row['title']}: {row['dances']} dance{'s' if row['dances'] != 1 else ''} to it{with_file}")
    if not rows:
        click.echo("No song is kept. “softshoe keep SONG” keeps what was heard in one.")


def _tell(kept: KeptDance) -> None:
    newest = kept.newest.dance
    click.echo(f"{kept.title}: {newest.counts} counts, {'seated' if newest.seated else 'standing'}")
    _texts(kept)
    rows = (
        ("labels", " ".join(f"#{label}" for label in kept.labels)),
        ("songs", "; ".join(f"{link.title}{f' ({link.words})' if link.words else ''}" for link in kept.songs)),
        ("danced", "; ".join(f"{one.day}{f' with {one.group}' if one.group else ''}" for one in kept.danced)),
    )
    for name, words in rows:
        if words:
            click.echo(f"  {name}: {words}")
    for note in kept.notes:
        click.echo(f"  note, {note.made_at[:10]}: {note.words}")


def _texts(kept: KeptDance) -> None:
    """Every text with its day and where it came from, and what changed since the one it was based on."""
    from softshoe.repertoire.difference import differences

    by_uid = {text.uid: text for text in kept.texts}
    heads = {text.uid for text in kept.heads} if len(kept.heads) > 1 else set()
    for text in kept.texts:
        source = f", from {text.source}" if text.source else ""
        side = ", stands beside another" if text.uid in heads else ""
        click.echo(f"  text {text.number}, {text.kept_at[:10]}{source}{side}")
        for uid in text.based_on:
            told = [one.words for one in differences(by_uid[uid].dance, text.dance)]
            for words in told or ["danced as before; the words alone changed"]:
                click.echo(f"      since text {by_uid[uid].number}: {words}")
    if heads:
        first, *others = kept.heads
        for other in others:
            click.echo(f"  texts {first.number} and {other.number} stand side by side:")
            for one in differences(first.dance, other.dance):
                click.echo(f"      {one.words}")
