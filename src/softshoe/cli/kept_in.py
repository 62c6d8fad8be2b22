"""The repertoire that the commands use: the folder and the database that this user's settings name."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from softshoe.repertoire.store import Repertoire


def repertoire() -> Repertoire:
    """Open the repertoire of this user."""
    from softshoe.home import data_home, database_url
    from softshoe.repertoire.store import Repertoire

    return Repertoire.at(data_home(), url=database_url())
