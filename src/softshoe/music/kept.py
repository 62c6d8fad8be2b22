"""What was heard in a song, kept between runs, so that a correction is answered without hearing the song again.

One file a song in the user's cache folder, named by the content of the recording, the piece of it and the listener;
harmless to delete. Only the newest are kept. No words of the song's tags and no sound that could be played are in it.
"""

from __future__ import annotations

import hashlib
import json
import os
from dataclasses import asdict, dataclass
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING, Any
from zipfile import BadZipFile

from softshoe.errors import Finding, OutputError
from softshoe.files import content_hash, whole
from softshoe.music.listen import Hearsay
from softshoe.music.songmap import Said

if TYPE_CHECKING:
    from softshoe.music.engine import Listener

FORM = 2  # raised when the same sound would be heard differently
HOME = "SOFTSHOE_HOME"
MOST = 60
CODE = ("audio.py", "ear.py", "model_features.py", "model_net.py", "swing.py")
ABOUT, ONSETS = "about", "onsets"


def heard_folder() -> Path:
    """Return the folder of what was heard, in the user's cache folder of this platform."""
    from platformdirs import user_cache_dir

    return Path(os.environ.get(HOME) or user_cache_dir("softshoe", appauthor=False)) / "heard"


@dataclass(frozen=True, slots=True)
class SongsKept:
    """What was heard, in a folder; whatever goes wrong with it, the song is simply heard again."""

    folder: Path

    def place(self, song: Path, piece: tuple[float, float | None], by: str) -> Path:
        """Return the file for a piece of a song, as one listener hears it."""
        key = "\n".join((str(FORM), _program(), content_hash(song), repr(piece), by))
        return self.folder / f"{hashlib.sha256(key.encode()).hexdigest()[:32]}.npz"

    def found(self, place: Path, by: Listener, where: str) -> Hearsay | None:
        """Return what was heard before, or None."""
        import numpy as np

        try:
            with place.open("rb") as file, np.load(file, allow_pickle=False) as kept:
                arrays = {name: kept[name] for name in kept.files if name != ABOUT}
                onsets = arrays.pop(ONSETS)
                about = json.loads(str(kept[ABOUT]))
            findings = tuple(Finding(**row) for row in about["findings"])
            heard = by.recalled(arrays)
            place.touch()
            return Hearsay(heard, by.name, float(about["seconds"]), float(about["start_s"]), findings, where, onsets)
        except (OSError, ValueError, KeyError, TypeError, EOFError, BadZipFile):
            return None

    def keep(self, place: Path, heard: Hearsay) -> None:
        """Keep what was heard; a folder that can't be written keeps nothing."""
        import numpy as np

        about = {"seconds": heard.seconds, "start_s": heard.start_s, "findings": [asdict(f) for f in heard.findings]}
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            with whole(place) as part, part.open("wb") as file:
                onsets = {} if heard.onsets is None else {ONSETS: heard.onsets}
                arrays: dict[str, Any] = {**heard.heard.arrays(), **onsets, ABOUT: np.array(json.dumps(about))}
                np.savez(file, **arrays)
            self._forget()
        except (OSError, OutputError):
            return

    def _forget(self) -> None:
        """Remove all but the newest files."""
        newest = sorted(self.folder.glob("*.npz"), key=lambda path: path.stat().st_mtime, reverse=True)
        for path in newest[MOST:]:
            path.unlink(missing_ok=True)


def _program() -> str:
    """Return a fingerprint of the code and the weights that hear."""
    digest = hashlib.sha256()
    for name in CODE:
        digest.update((files("softshoe") / "music" / name).read_bytes())
    digest.update((files("softshoe") / "data" / "listening" / "listener.npz").read_bytes())
    return digest.hexdigest()


def heard_once(path: Path, *, piece: tuple[float, float | None] = (0.0, None), where: str) -> Hearsay:
    """Return what is heard in a recording, from an earlier run where there was one.

    piece : from and to which second of the file; to the end when None
    """
    from softshoe.music.audio import heard
    from softshoe.music.engine import listener
    from softshoe.music.listen import hears

    by, shelf = listener(), SongsKept(heard_folder())
    place = shelf.place(path, piece, by.name) if path.is_file() else None
    known = shelf.found(place, by, where) if place else None
    if known:
        return known
    new = hears(heard(path, from_s=piece[0], to_s=piece[1]), where=where, by=by)
    new.heard.counted(Said())  # what takes long is found now, and kept
    if place:
        shelf.keep(place, new)
    return new
