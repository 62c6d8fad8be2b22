"""The desk: what all pages work on. Dances are in the repertoire; what is being written lies beside it as drafts."""

from __future__ import annotations

import json
import threading
import time
import uuid
from dataclasses import dataclass, field, replace
from functools import lru_cache
from pathlib import Path, PurePath
from typing import TYPE_CHECKING

from softshoe.home import data_home, database_url
from softshoe.music.songmap import Said
from softshoe.repertoire.originals import here
from softshoe.studio.drafts import Drafts, lines_in
from softshoe.studio.failing import MissingError
from softshoe.studio.hearing import Hearings, counted_so
from softshoe.studio.work import Work, Works

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.dance.dance import Dance
    from softshoe.fit.run import Run
    from softshoe.music.songmap import SongMap
    from softshoe.repertoire.dances import Put
    from softshoe.repertoire.store import Repertoire
    from softshoe.repertoire.values import KeptSong
    from softshoe.studio.drafts import Draft
    from softshoe.wording.reading import Reading

UNNAMED = "A dance without a title"
TITLE = 60
RECENT = 8
LOOK_S = 1.0  # how often it is looked whether another program kept a newer text
DEMO = "Buttons on the Sill"
OPENED = "repertoire"  # the window that brings words in from the repertoire


@dataclass(frozen=True, slots=True)
class Shown:
    """A dance as the frame names it."""

    uid: str
    title: str


@dataclass(slots=True)
class Desk:
    """What a studio works on: the folder of what is kept, its repertoire and its drafts.

    member : the name of the account whose studio it is, in an association; "" on a machine of one's own
    """

    home: Path
    drafts: Drafts
    works: Works
    hearings: Hearings
    _repertoire: Repertoire | None = None
    member: str = ""
    _looked: dict[str, float] = field(default_factory=dict)
    _lock: threading.Lock = field(default_factory=threading.Lock)

    @classmethod
    def at(cls, home: Path | None = None) -> Desk:
        """Return the desk of a folder; of the user's own when None."""
        home = home or data_home()
        own = home / "studio"
        return cls(home, Drafts(own / "drafts"), Works(own / "work"), Hearings(own / "waves"))

    @property
    def repertoire(self) -> Repertoire:
        """The repertoire, opened when it is first asked for; raises OutputError."""
        from softshoe.repertoire.store import Repertoire

        with self._lock:
            if self._repertoire is None:
                self._repertoire = Repertoire.at(self.home, url=database_url())
            return self._repertoire

    def new(self, words: str = "") -> str:
        """Begin a dance with these words and return its identity."""
        uid = uuid.uuid4().hex
        self.drafts.of(uid).write(OPENED, words, made_from=0, first=True)
        return uid

    def found(self, words: str) -> str:
        """Return the dance of which these words are a text or the draft as it stands; a new one where there is none."""
        from softshoe.repertoire.dances import content_of

        with self.repertoire.reading() as base:
            row = base.one("select d.uid as uid from dance_text t join dance d on d.n = t.dance "
                           "where t.content = :content and t.head = 1", content=content_of(words))  # fmt: skip
        if row is not None:
            return str(row["uid"])
        near = (uid for uid in self.drafts.newest(RECENT) if self.drafts.of(uid).words() == words)
        return next(near, "") or self.new(words)

    def draft(self, uid: str) -> Draft:
        """Return the draft of a dance, begun from its newest text where there is none.

        Where another program kept a newer text meanwhile and nothing was written here since the last, it goes on from
        that. Raises MissingError for a dance that is neither kept nor being written.
        """
        draft = self.drafts.of(uid)
        at, text = draft.kept
        if draft.strokes and (not text or draft.tip != at):
            return draft
        if draft.strokes and time.monotonic() - self._looked.get(uid, -LOOK_S) < LOOK_S:
            return draft
        newest = self._newest(uid)
        self._looked[uid] = time.monotonic()
        if newest is None and not draft.strokes:
            raise MissingError("this address", "there is no such dance", "nothing is kept or being written there",
                               "go back to the beginning and choose the dance there")  # fmt: skip
        if newest is not None and newest[0] != text:
            n = draft.write(OPENED, newest[1], made_from=draft.tip, first=not draft.strokes)
            draft.mark_kept(n, newest[0])
        return draft

    def words(self, uid: str) -> str:
        """Return the words of a dance as they stand; raises MissingError."""
        return self.draft(uid).words()

    def shown(self, uid: str) -> Shown:
        """Return a dance as the frame names it; raises MissingError."""
        return Shown(uid, title_of(self.words(uid)))

    def reading(self, uid: str) -> Reading:
        """Return the reading of a dance's words; raises WordingError where they hold no step."""
        return read_words(self.words(uid))

    def keep(self, uid: str) -> Put:
        """Keep the words as they stand as a text of the dance; the same words are kept once.

        Raises WordingError where they hold no step.
        """
        from softshoe.repertoire.dances import Sheet, content_of, keep

        draft = self.draft(uid)
        n, words = draft.tip, draft.words()
        sheet = Sheet.of(words, read_words(words).dance, title=title_of(words))
        based = (draft.kept[1],) if draft.kept[1] else ()
        with self.repertoire.writing() as base:
            row = base.one("select t.uid as uid, t.number as number from dance_text t join dance d on d.n = t.dance "
                           "where d.uid = :dance and t.content = :content and t.head = 1", dance=uid,
                           content=content_of(words))  # fmt: skip
            if row is not None:
                from softshoe.repertoire.dances import Put

                put = Put(uid, row["uid"], row["number"], "known")
            else:
                put = keep(base, sheet, uid=uid, based_on=based)
        if draft.kept != (n, put.text):
            draft.mark_kept(n, put.text)
        return put

    def hear(self, uid: str, content: str, name: str) -> None:
        """Hear a recording of the repertoire's folder and make it the song of a dance."""
        path = here(self.home, content)
        self.hearings.begin(path, content, name, lambda: self._heard(uid, content, name))

    def _heard(self, uid: str, content: str, name: str) -> None:
        from softshoe.repertoire.songs import keep_song

        song = counted_so(here(self.home, content), name, Said())
        title = PurePath(name).stem.replace("_", " ").strip() or name
        with self.repertoire.writing() as base:
            known = base.value("select uid from song where content = :content", content=content)
            kept = known or keep_song(base, title, song, content=content, recording=content)
            base.run("update song set recording = :content where uid = :kept", content=content, kept=kept)
        self.works.put(uid, Work(str(kept), name))

    def demo_song(self, uid: str) -> str:
        """Make the demo song the song of a dance, and hear it; returns the sha256 of its recording."""
        from tempfile import TemporaryDirectory

        from softshoe.render.demo_song import write_demo_song
        from softshoe.repertoire.originals import put

        self.draft(uid)
        with TemporaryDirectory() as folder:
            path = PurePath(folder) / f"{DEMO}.flac"
            write_demo_song(Path(path))
            content = put(self.home, Path(path).read_bytes())
        self.hear(uid, content, f"{DEMO}.flac")
        return content

    def take_song(self, uid: str, song: str) -> str:
        """Make a kept song the song of a dance; returns the sha256 of its recording. Raises SettingError."""
        from softshoe.repertoire.songs import kept_song

        with self.repertoire.reading() as base:
            kept = kept_song(base, song)
        if not kept.recording:
            raise MissingError(
                kept.title, "its recording is not here", "only its counts are kept", "drop the file here"
            )
        self.hear(uid, kept.recording, kept.title)
        return kept.recording

    def songs(self) -> list[tuple[str, str]]:
        """Return the kept songs that have their recordings: identity and title."""
        with self.repertoire.reading() as base:
            rows = base.rows("select uid, title from song where recording <> '' order by title_key limit 200")
        return [(row["uid"], row["title"]) for row in rows]

    def kept_song(self, uid: str) -> KeptSong:
        """Return the song of a dance; raises MissingError where it has none."""
        from softshoe.repertoire.songs import kept_song

        song = self.works.of(uid).song
        if not song:
            raise MissingError(
                "the dance", "it has no song yet", "none was chosen", "go to “listen” and drop a song there"
            )
        with self.repertoire.reading() as base:
            return kept_song(base, song)

    def song_map(self, uid: str) -> SongMap:
        """Return the song of a dance, counted with what the listener said; raises MissingError where it has none."""
        kept, work = self.kept_song(uid), self.works.of(uid)
        path = here(self.home, kept.recording)
        if not kept.recording or not path.is_file():
            return kept.map
        return counted_so(path, work.name or kept.title, work.said)

    def count(self, uid: str, work: Work) -> None:
        """Count the song of a dance with other words of the listener, and keep what comes out.

        Raises SettingError for a word that can't be; nothing is changed then.
        """
        from softshoe.repertoire.songs import keep_song

        kept = self.kept_song(uid)
        song = counted_so(here(self.home, kept.recording), work.name or kept.title, work.said)
        with self.repertoire.writing() as base:
            keep_song(base, kept.title, song, content=kept.content, uid=kept.uid)
        self.works.put(uid, work)

    def dance(self, uid: str) -> Dance:
        """Return the dance of the words as they stand; raises WordingError where they hold no step."""
        return self.reading(uid).dance

    def choose(self, uid: str, run: Run) -> None:
        """Choose a run of a dance on its song; the text and the run are kept in the repertoire."""
        from softshoe.repertoire.beside import put_song_link
        from softshoe.repertoire.songs import keep_run

        put, song = self.keep(uid), self.kept_song(uid).uid
        with self.repertoire.writing() as base:
            kept = keep_run(base, put.text, song, run)
            put_song_link(base, uid, song)
        self.works.put(uid, replace(self.works.of(uid), run=kept))

    def run(self, uid: str) -> Run:
        """Return the run that was chosen for a dance; raises MissingError where none was."""
        kept = self._kept_run(uid)
        if kept is None:
            raise MissingError("the dance", "it is not laid on its song yet", "no run was chosen",
                               "go to “fit” and choose one there")  # fmt: skip
        return kept

    def chosen_run(self, uid: str, offered: Sequence[Run]) -> int:
        """Return which of the runs offered was chosen, -1 for none of them."""
        from softshoe.fit.document import run_json

        kept = self._kept_run(uid)
        told = None if kept is None else run_json(kept)
        return next((k for k, run in enumerate(offered) if run_json(run) == told), -1)

    def _kept_run(self, uid: str) -> Run | None:
        from softshoe.fit.document import run_from_json

        chosen = self.works.of(uid).run
        if not chosen:
            return None
        with self.repertoire.reading() as base:
            told = base.value("select run from run where uid = :chosen", chosen=chosen)
        return None if told is None else run_from_json(json.loads(told))

    def _newest(self, uid: str) -> tuple[str, str] | None:
        with self.repertoire.reading() as base:
            row = base.one("select t.uid as uid, t.words as words from dance_text t join dance d on d.n = t.dance "
                           "where d.uid = :dance and t.head = 1 order by t.number desc limit 1", dance=uid)  # fmt: skip
        return None if row is None else (row["uid"], row["words"])


def title_of(words: str) -> str:
    """Return what a dance is called while it is written: its first line.

    >>> title_of("\\nTin Kettle\\n8 counts")
    'Tin Kettle'
    """
    return next(lines_in(words), UNNAMED)[:TITLE]


@lru_cache(maxsize=24)
def read_words(words: str) -> Reading:
    """Return the reading of these words, the last few kept; raises WordingError where they hold no step."""
    from softshoe.wording.read import reading

    return reading(words)
