"""A song given on the command line: a recording, or the JSON that ``softshoe listen --json`` printed."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

    from softshoe.music.songmap import Said, SongMap


def song_of(path: Path, said: Said) -> SongMap:
    """Return the SongMap of a recording, or of a SongMap JSON file; raises MusicError or UnreadableError."""
    from softshoe.music.audio import heard
    from softshoe.music.document import song_from_json
    from softshoe.music.listen import listen

    if path.suffix.casefold() == ".json" and path.is_file():
        return song_from_json(path.read_bytes())
    return listen(heard(path), said=said, where=str(path))
