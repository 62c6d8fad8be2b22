"""A song as it is given: a recording, or the SongMap JSON of one."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

    from softshoe.music.songmap import Said, SongMap


def song_given(path: Path, said: Said) -> SongMap:
    """Return the SongMap of a recording, or the one in a ``.json`` file; raises MusicError when it is neither."""
    from softshoe.music.audio import heard
    from softshoe.music.document import song_from_json
    from softshoe.music.listen import listen

    if path.suffix.casefold() == ".json" and path.is_file():
        return song_from_json(path.read_bytes())
    return listen(heard(path), said=said, where=str(path))
