"""What stands beside a dance or a song: labels and notes of her own, songs it goes to, days it was danced."""

from __future__ import annotations

import re
from datetime import date
from typing import TYPE_CHECKING, TypedDict

from softshoe.errors import SettingError
from softshoe.repertoire.plain import plain
from softshoe.repertoire.values import Danced, Note, SongLink

if TYPE_CHECKING:
    from softshoe.base import Base
    from softshoe.repertoire.values import About

LABEL = re.compile(r"[^\s#,;]+(?: [^\s#,;]+)*")
LONGEST_LABEL = 40


class Beside(TypedDict):
    """What stands beside a dance."""

    labels: tuple[str, ...]
    notes: tuple[Note, ...]
    songs: tuple[SongLink, ...]
    danced: tuple[Danced, ...]


def beside(base: Base, n: int, uid: str) -> Beside:
    """Return what stands beside a dance."""
    songs = base.rows("select s.uid as song, s.title as title, l.words as words from dance_song l "
                      "join song s on s.n = l.song where l.dance = :n order by s.title_key, s.uid", n=n)  # fmt: skip
    days = base.rows("select on_day, with_group, song, words from danced where dance = :n "
                     "order by on_day, with_group, song", n=n)  # fmt: skip
    return {
        "labels": labels(base, "dance", uid),
        "notes": notes(base, uid),
        "songs": tuple(SongLink(row["song"], row["title"], row["words"]) for row in songs),
        "danced": tuple(Danced(row["on_day"], row["with_group"], row["song"], row["words"]) for row in days),
    }


def labels(base: Base, about: About, uid: str) -> tuple[str, ...]:
    """Return the labels of a thing, in the order of the alphabet."""
    rows = base.rows(
        "select label from label where about = :about and uid = :uid order by label_key", about=about, uid=uid
    )
    return tuple(row["label"] for row in rows)


def notes(base: Base, uid: str) -> tuple[Note, ...]:
    """Return the notes about a thing, oldest first."""
    rows = base.rows("select words, made_at from note where uid = :uid order by n", uid=uid)
    return tuple(Note(row["words"], row["made_at"]) for row in rows)


def put_label(base: Base, about: About, uid: str, label: str) -> None:
    """Give a thing a label; raises SettingError for one that can't be said in a search."""
    label = label.strip().removeprefix("#").strip()
    if not LABEL.fullmatch(label) or len(label) > LONGEST_LABEL or not plain(label):
        raise SettingError(f"“{label[:60]}”", "this can't be a label", "a label is one to four short words "
                                                                       "without #, and ;",
                           "choose another, like “christmas” or “tuesday group”")  # fmt: skip
    base.run("insert into label (about, uid, label, label_key) values (:about, :uid, :label, :key) on conflict "
             "do nothing",
             about=about, uid=uid, label=label, key=plain(label))  # fmt: skip


def take_label(base: Base, about: About, uid: str, label: str) -> bool:
    """Take a label away; False where it was not there."""
    return bool(base.run("delete from label where about = :about and uid = :uid and label_key = :key",
                         about=about, uid=uid, key=plain(label.strip().removeprefix("#"))))  # fmt: skip


def put_note(base: Base, about: About, uid: str, words: str, made_at: str) -> None:
    """Write a note; the same note at the same moment is one."""
    if not words.strip():
        raise SettingError("the note", "it is empty", "a note is words", "write what you want to remember")
    if base.one("select 1 as there from note where uid = :uid and words = :words and made_at = :at", uid=uid,
                words=words, at=made_at) is None:  # fmt: skip
        base.run("insert into note (about, uid, words, made_at) values (:about, :uid, :words, :at)", about=about,
                 uid=uid, words=words, at=made_at)  # fmt: skip


def put_song_link(base: Base, dance: str, song: str, words: str = "") -> None:
    """Say that a dance goes to a song; said again, the words become the new ones."""
    base.run("insert into dance_song (dance, song, words) select d.n, s.n, :words from dance d, song s "
             "where d.uid = :dance and s.uid = :song on conflict (dance, song) do update set words = :words",
             dance=dance, song=song, words=words)  # fmt: skip


def put_danced(base: Base, dance: str, danced: Danced) -> None:
    """Say that a dance was danced on a day; raises SettingError for a day that is none."""
    try:
        day = date.fromisoformat(danced.day).isoformat()
    except ValueError as err:
        raise SettingError(f"“{danced.day}”", "this is no day", "a day is written like 2026-05-03",
                           "write year, month and day with dashes") from err  # fmt: skip
    base.run("insert into danced (dance, on_day, with_group, song, words) select n, :day, :group, :song, :words "
             "from dance "
             "where uid = :dance on conflict (dance, on_day, with_group, song) do update set words = :words",
             dance=dance, day=day, group=danced.group, song=danced.song, words=danced.words)  # fmt: skip
