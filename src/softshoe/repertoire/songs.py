"""Songs, runs and lessons in the database. A song's maps are kept one after the other; its sound only when asked."""

from __future__ import annotations

import json
import uuid
from typing import TYPE_CHECKING

from softshoe.errors import SettingError
from softshoe.fit.document import run_from_json, run_json
from softshoe.music.document import song_from_json, song_json
from softshoe.repertoire.beside import labels, notes
from softshoe.repertoire.dances import now_iso
from softshoe.repertoire.plain import plain
from softshoe.repertoire.values import KeptLesson, KeptRun, KeptSong
from softshoe.teach.document import lesson_from_json, lesson_json

if TYPE_CHECKING:
    from softshoe.base import Base
    from softshoe.fit.run import Run
    from softshoe.music.songmap import SongMap
    from softshoe.teach.lesson import Lesson


def keep_song(base: Base, title: str, song: SongMap, *, content: str = "", recording: str = "", uid: str = "",
              now: str = "") -> str:  # fmt: skip
    """Keep a song's map and return the song's identity.

    content : the sha256 of the recording it was heard in; the same recording is the same song, whatever its title
    recording : the same where the file itself is kept
    uid : the song it belongs to, made where there is none; "" for the one of that content, else of that title
    """
    if not plain(title):
        raise SettingError(
            "the song", "it has no title", "a song is found again by its title", "give it one with --title"
        )
    now = now or now_iso()
    where = "uid = :uid" if uid else "content = :content" if content else "title_key = :key and content = ''"
    row = base.one(f"select n, uid from song where {where}", uid=uid, content=content, key=plain(title))
    if row is None:
        uid = uid or uuid.uuid4().hex
        n = base.value("insert into song (uid, title, title_key, content, recording, kept_at) values (:uid, "
                       ":title, :key, :content, :recording, :now) returning n", uid=uid, title=title, key=plain(title),
                       content=content, recording=recording, now=now)  # fmt: skip
    else:
        n, uid = row["n"], row["uid"]
        if recording:
            base.run("update song set recording = :recording where n = :n", recording=recording, n=n)
    plain_map = song_json(song)
    last = base.one("select number, map from song_map where song = :n order by number desc limit 1", n=n)
    if last is None or song_from_json(last["map"]) != song_from_json(plain_map):
        base.run("insert into song_map (song, number, map, kept_at) values (:n, :number, :map, :now)", n=n,
                 number=1 if last is None else last["number"] + 1,
                 map=json.dumps(plain_map, separators=(",", ":")), now=now)  # fmt: skip
    return uid


def kept_song(base: Base, uid: str) -> KeptSong:
    """Return a song with all its maps; raises SettingError where there is none of that identity."""
    row = base.one("select * from song where uid = :uid", uid=uid)
    if row is None:
        raise SettingError(
            uid, "no such song is kept", "nothing has that identity", "“softshoe kept --songs” lists them"
        )
    maps = base.rows("select map from song_map where song = :n order by number", n=row["n"])
    return KeptSong(
        uid, row["title"], row["content"], tuple(song_from_json(one["map"], where=row["title"]) for one in maps),
        row["kept_at"], row["recording"], labels(base, "song", uid), notes(base, uid),
    )  # fmt: skip


def newest_maps(base: Base) -> tuple[tuple[str, SongMap], ...]:
    """Return the newest map of every song with its title, in the order of titles."""
    rows = base.rows("select s.title as title, m.map as map from song s join song_map m on m.song = s.n "
                     "and m.number = (select max(number) from song_map where song = s.n) "
                     "order by s.title_key, s.n")  # fmt: skip
    return tuple((row["title"], song_from_json(row["map"], where=row["title"])) for row in rows)


def keep_run(base: Base, text: str, song: str, run: Run, *, uid: str = "", now: str = "") -> str:
    """Keep a run of a text on a song; the same run is kept once. Returns its identity."""
    told = json.dumps(run_json(run), separators=(",", ":"))
    same = base.value("select uid from run where dance_text = :text and song = :song and run = :run", text=text,
                      song=song, run=told)  # fmt: skip
    if same:
        return str(same)
    uid = uid or uuid.uuid4().hex
    base.run("insert into run (uid, dance_text, song, run, kept_at) values (:uid, :text, :song, :run, :now)", uid=uid,
             text=text, song=song, run=told, now=now or now_iso())  # fmt: skip
    return uid


def runs_of(base: Base, dance: str) -> tuple[KeptRun, ...]:
    """Return the runs of all texts of a dance, oldest first; of every dance for ""."""
    rows = base.rows("select r.uid as uid, r.dance_text as text, r.song as song, r.run as run, r.kept_at as "
                     "kept_at from run r "
                     "join dance_text t on t.uid = r.dance_text join dance d on d.n = t.dance "
                     "where d.uid = :dance or :dance = '' order by r.n", dance=dance)  # fmt: skip
    return tuple(
        KeptRun(row["uid"], row["text"], row["song"], run_from_json(json.loads(row["run"])), row["kept_at"])
        for row in rows
    )


def keep_lesson(base: Base, lesson: Lesson, *, run: str = "", uid: str = "", now: str = "") -> str:
    """Keep a lesson, made of a run or of none; the same lesson is kept once. Returns its identity."""
    told = json.dumps(lesson_json(lesson), separators=(",", ":"))
    same = base.value("select uid from lesson where run = :run and lesson = :lesson", run=run, lesson=told)
    if same:
        return str(same)
    uid = uid or uuid.uuid4().hex
    base.run("insert into lesson (uid, run, lesson, kept_at) values (:uid, :run, :lesson, :now)", uid=uid, run=run,
             lesson=told, now=now or now_iso())  # fmt: skip
    return uid


def lessons(base: Base) -> tuple[KeptLesson, ...]:
    """Return every lesson, oldest first."""
    rows = base.rows("select uid, run, lesson, kept_at from lesson order by n")
    return tuple(
        KeptLesson(row["uid"], row["run"], lesson_from_json(json.loads(row["lesson"])), row["kept_at"]) for row in rows
    )
