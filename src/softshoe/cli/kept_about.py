"""What “softshoe kept” tells of songs, runs and lessons, what she adds to them, and old texts read anew."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from softshoe.base import Base
    from softshoe.repertoire.store import Repertoire
    from softshoe.repertoire.values import About

NAME = 8  # letters of an identity that are shown, and enough to say which
SHOWN = 20


def beside(
    kept: Repertoire, what: About, name: str, *, label: tuple[str, ...], unlabel: tuple[str, ...], note: tuple[str, ...]
) -> None:
    """Put labels and notes beside a song, a run or a lesson, and show it."""
    from softshoe.repertoire.beside import labels, notes, put_label, put_note, take_label
    from softshoe.repertoire.dances import now_iso
    from softshoe.repertoire.named import named

    with kept.writing() if label or unlabel or note else kept.reading() as base:
        uid = named(base, name, what=what)
        for one in label:
            put_label(base, what, uid, one)
        for one in unlabel:
            if not take_label(base, what, uid, one):
                click.echo(f"it has no label “{one}”", err=True)
        for words in note:
            put_note(base, what, uid, words, now_iso())
        click.echo(_told(base, what, uid))
        if there := labels(base, what, uid):
            click.echo(f"  labels: {' '.join(f'#{one}' for one in there)}")
        for written in notes(base, uid):
            click.echo(f"  note, {written.made_at[:10]}: {written.words}")


def more_about(base: Base, dance: str) -> list[str]:
    """Return lines about a dance's runs and lessons, and whether an older softshoe has read it."""
    from softshoe.repertoire.anew import reader

    runs = base.rows("select r.uid as uid from run r join dance_text t on t.uid = r.dance_text join dance d on d.n = "
                     "t.dance where d.uid = :dance order by r.n", dance=dance)  # fmt: skip
    lines = [_told(base, "run", row["uid"]) for row in runs]
    for row in runs:
        lessons = base.rows("select uid from lesson where run = :run order by n", run=row["uid"])
        lines += [_told(base, "lesson", one["uid"]) for one in lessons]
    old = base.value("select count(*) as many from dance_text t join dance d on d.n = t.dance where d.uid = :dance and "
                     "t.head = 1 and t.read_by <> :now", dance=dance, now=reader())  # fmt: skip
    return [*lines, "read by another softshoe; “softshoe kept --anew” reads all of these again"] if old else lines


def _told(base: Base, what: About, uid: str) -> str:
    if what == "song":
        from softshoe.repertoire.songs import kept_song

        song = kept_song(base, uid)
        file = ", with its recording" if song.recording else ""
        return f"{song.title}: {song.map.tempo_bpm:.0f} beats a minute{file}"
    if what == "run":
        (row,) = base.rows("select d.title as title, t.number as number, s.title as song, r.kept_at as at from run r "
                           "join dance_text t on t.uid = r.dance_text join dance d on d.n = t.dance join song s on "
                           "s.uid = r.song where r.uid = :uid", uid=uid)  # fmt: skip
        return f"run {uid[:NAME]}, {row['at'][:10]}: {row['title']}, text {row['number']}, on {row['song']}"
    (row,) = base.rows("select run, kept_at as at from lesson where uid = :uid", uid=uid)
    return f"lesson {uid[:NAME]}, {row['at'][:10]}" + (f", of run {row['run'][:NAME]}" if row["run"] else "")


def read_anew(kept: Repertoire) -> None:
    """Read old texts anew and tell what is danced otherwise now."""
    from softshoe.repertoire.anew import read_anew as read

    def told(done: int, of: int) -> None:
        if sys.stderr.isatty():
            click.echo(f"\r{done} of {of} texts …", nl=False, err=True)

    done = read(kept, told=told)
    click.echo(f"{done.texts} texts read anew; {len(done.changed)} are danced otherwise now")
    for title, number, words in done.changed[:SHOWN]:
        click.echo(f"  {title}, text {number}: {'; '.join(words[:3])}" + (" …" if len(words) > 3 else ""))
    if len(done.changed) > SHOWN:
        click.echo(f"  … and {len(done.changed) - SHOWN} more")
    for title, number in done.lost:
        click.echo(f"  {title}, text {number}: no dance is found in it now; what was read before stays")
