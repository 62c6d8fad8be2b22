"""What lies on the desk beside a dance: its song with what the listener said of it, and the run that was chosen."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import msgspec

from softshoe.files import folder_for, write_whole
from softshoe.fit.pins import Pins
from softshoe.music.songmap import Said
from softshoe.studio.drafts import identity

if TYPE_CHECKING:
    from pathlib import Path


@dataclass(frozen=True, slots=True)
class Work:
    """``song`` and ``run`` are identities in the repertoire, "" for none yet.

    ``saids`` is everything the listener said of the song, one word after the other, of which the first ``heeded``
    hold: what is taken back is not lost. ``pinned`` and ``holding`` are the same of what she decided about the run.
    ``name`` is the file's own name.
    """

    song: str = ""
    name: str = ""
    run: str = ""
    saids: tuple[Said, ...] = ()
    heeded: int = 0
    pinned: tuple[Pins, ...] = ()
    holding: int = 0

    @property
    def said(self) -> Said:
        """What the listener says of the song now."""
        return self.saids[self.heeded - 1] if self.heeded else Said()

    @property
    def pins(self) -> Pins:
        """What she decided about the run."""
        return self.pinned[self.holding - 1] if self.holding else Pins()

    def pinning(self, pins: Pins) -> Work:
        """Return the work with another decision about the run."""
        return replace(self, pinned=(*self.pinned[: self.holding], pins), holding=self.holding + 1, run="")

    def unpinned(self, steps: int) -> Work:
        """Return the work with the last decisions taken back; with ``steps`` under 0 made again."""
        return replace(self, holding=max(0, min(len(self.pinned), self.holding - steps)), run="")

    def saying(self, said: Said) -> Work:
        """Return the work with one more word of the listener; the run was chosen for what was heard before."""
        return replace(self, saids=(*self.saids[: self.heeded], said), heeded=self.heeded + 1, run="")

    def back(self, steps: int) -> Work:
        """Return the work with the last words taken back; with ``steps`` under 0 said again."""
        return replace(self, heeded=max(0, min(len(self.saids), self.heeded - steps)), run="")


@dataclass(frozen=True, slots=True)
class Works:
    """The work of every dance, a file each, in a folder."""

    folder: Path

    def of(self, uid: str) -> Work:
        """Return the work of a dance; empty where nothing lies there, or where a hand has broken its file.

        Raises MissingError for what is no identity.
        """
        try:
            return msgspec.json.decode(self._path(uid).read_bytes(), type=Work)
        except (OSError, msgspec.MsgspecError):
            return Work()

    def put(self, uid: str, work: Work) -> Work:
        """Keep the work of a dance and return it; raises OutputError."""
        folder_for(self.folder)
        write_whole(self._path(uid), msgspec.json.encode(work))
        return work

    def _path(self, uid: str) -> Path:
        return self.folder / f"{identity(uid)}.json"
