"""A song as it is given: a recording, or the SongMap JSON of one."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

    from softshoe.music.songmap import Said, SongMap


def song_given(path: Path, said: Said, *, piece: tuple[float, float | None] = (0.0, None)) -> SongMap:
    """Return the SongMap of a recording, or the one in a ``.json`` file; raises MusicError when it is neither.

    piece : from and to which second of a recording it is heard; to its end when None
    """
    from softshoe.music.document import song_from_json
    from softshoe.music.kept import heard_once
    from softshoe.music.listen import counted

    if path.suffix.casefold() == ".json" and path.is_file():
        return song_from_json(path.read_bytes())
    return counted(heard_once(path, piece=piece, where=str(path)), said)
