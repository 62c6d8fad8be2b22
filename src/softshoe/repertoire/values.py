"""What keeping adds to the values of the rooms below: texts, kept songs, runs and lessons, notes, days danced.

Identities (``uid``) are 32 hexadecimal digits, made once and never reused, the same on every machine. Moments are
ISO 8601 in UTC; days are ISO days.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance
    from softshoe.fit.run import Run
    from softshoe.music.songmap import SongMap
    from softshoe.teach.lesson import Lesson

About = Literal["dance", "song", "run", "lesson"]


@dataclass(frozen=True, slots=True)
class Text:
    """One version of a dance's words, with the dance that was read from it.

    ``number`` counts from 1 within the dance. ``based_on`` are the texts it was made from: none for the first, two
    where two were settled. ``source`` is the name of the file it came from, ``original`` that file's sha256 ("" for
    none).
    """

    uid: str
    number: int
    words: str
    dance: Dance
    kept_at: str
    based_on: tuple[str, ...] = ()
    source: str = ""
    original: str = ""


@dataclass(frozen=True, slots=True)
class Note:
    """Words about one kept thing."""

    words: str
    made_at: str


@dataclass(frozen=True, slots=True)
class Danced:
    """A day on which a dance was danced, with whom (a group's name, "" for nobody named) and to which song (a
    title).
    """

    day: str
    group: str = ""
    song: str = ""
    words: str = ""


@dataclass(frozen=True, slots=True)
class SongLink:
    """A song that a dance goes to: the song's identity and title, and words of her own about it."""

    song: str
    title: str
    words: str = ""


@dataclass(frozen=True, slots=True)
class KeptDance:
    """A dance with every text it ever had, oldest first, and all that is known beside it.

    ``heads`` are the texts that no other is based on: one, or more where it was edited in two places.
    """

    uid: str
    title: str
    texts: tuple[Text, ...]
    labels: tuple[str, ...] = ()
    notes: tuple[Note, ...] = ()
    songs: tuple[SongLink, ...] = ()
    danced: tuple[Danced, ...] = ()

    @property
    def heads(self) -> tuple[Text, ...]:
        """The texts that nothing is based on, the newest last."""
        used = {uid for text in self.texts for uid in text.based_on}
        return tuple(text for text in self.texts if text.uid not in used)

    @property
    def newest(self) -> Text:
        """The head that was kept last."""
        return self.heads[-1]


@dataclass(frozen=True, slots=True)
class KeptSong:
    """A song: its maps, oldest first (the last one counts), never its sound unless that was asked for.

    ``content`` is the sha256 of the recording ("" where only a map was given); ``recording`` the same where the file
    itself is kept, else "".
    """

    uid: str
    title: str
    content: str
    maps: tuple[SongMap, ...]
    kept_at: str
    recording: str = ""
    labels: tuple[str, ...] = ()
    notes: tuple[Note, ...] = ()

    @property
    def map(self) -> SongMap:
        """The newest map."""
        return self.maps[-1]


@dataclass(frozen=True, slots=True)
class KeptRun:
    """A text of a dance laid on a song."""

    uid: str
    text: str
    song: str
    run: Run
    kept_at: str


@dataclass(frozen=True, slots=True)
class KeptLesson:
    """A lesson, and the run it was made of ("" for none)."""

    uid: str
    run: str
    lesson: Lesson
    kept_at: str
