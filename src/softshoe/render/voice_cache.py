"""Spoken words kept on disk between runs: one small file a word, named by what it holds, harmless to delete."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from pathlib import Path
from zipfile import BadZipFile

import numpy as np

from softshoe.errors import OutputError
from softshoe.files import whole
from softshoe.render.voice import Spoken

FORM = 1  # raised when the same words would be made differently


def words_folder() -> Path:
    """Return the folder of spoken words in the user's cache folder of this platform."""
    from platformdirs import user_cache_dir

    return Path(user_cache_dir("softshoe", appauthor=False)) / "words"


@dataclass(frozen=True, slots=True)
class WordsKept:
    """Words in a folder; whatever goes wrong with it, the words are simply said again."""

    folder: Path

    def place(self, voice: str, words: str, pace: float) -> Path:
        """Return the file of some words."""
        key = "\n".join((str(FORM), voice, f"{pace:.3f}", words))
        return self.folder / f"{hashlib.sha256(key.encode()).hexdigest()[:32]}.npz"

    def found(self, voice: str, words: str, pace: float) -> Spoken | None:
        """Return words said before, or None."""
        try:
            with np.load(self.place(voice, words, pace), allow_pickle=False) as kept:
                return Spoken(kept["samples"].astype(np.float32) / np.float32(32767), float(kept["vowel_s"]))
        except (OSError, ValueError, KeyError, EOFError, BadZipFile):
            return None

    def keep(self, voice: str, words: str, pace: float, spoken: Spoken) -> None:
        """Keep words; a folder that can't be written keeps nothing."""
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            with whole(self.place(voice, words, pace)) as part, part.open("wb") as file:
                np.savez(file, samples=np.rint(spoken.samples * 32767).astype(np.int16), vowel_s=spoken.vowel_s)
        except (OSError, OutputError):
            return
