"""The repertoire that the commands use: the folder and the database that this user's settings name."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from softshoe.music.songmap import SongMap
    from softshoe.repertoire.store import Repertoire


def repertoire() -> Repertoire:
    """Open the repertoire of this user."""
    from softshoe.home import data_home, database_url
    from softshoe.repertoire.store import Repertoire

    return Repertoire.at(data_home(), url=database_url())


def kept_songs() -> tuple[tuple[str, SongMap], ...]:
    """Return the songs of this user's repertoire by title; none where nothing was kept yet."""
    from softshoe.home import data_home, database_url
    from softshoe.repertoire.store import NAME

    return repertoire().songs() if database_url() or (data_home() / NAME).is_file() else ()
