"""The folder in which what a leader keeps lives on her computer: her repertoire, her voice."""

from __future__ import annotations

import os
from pathlib import Path

HOME = "SOFTSHOE_HOME"
DATABASE = "SOFTSHOE_DATABASE"
FILES = "SOFTSHOE_FILES"


def data_home() -> Path:
    """Return the folder of what is kept for this user: ``SOFTSHOE_HOME``, else the platform's folder for user data."""
    from platformdirs import user_data_path

    said = os.environ.get(HOME)
    return Path(said) if said else user_data_path("softshoe", appauthor=False)


def database_url() -> str:
    """Return the address of the PostgreSQL database that an association keeps its repertoire in; "" for the
    folder's own.
    """
    return os.environ.get(DATABASE, "")


def files_url() -> str:
    """Return the store of files of an association that keeps them elsewhere, as ``s3:bucket/folder``; "" for the
    folder's own, as on a machine of one's own always.
    """
    return os.environ.get(FILES, "") if database_url() else ""
