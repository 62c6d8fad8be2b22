"""The tables that ship with the package: rows of ``softshoe/data`` by column name. Ground: standard library only."""

from __future__ import annotations

import csv
from functools import cache
from importlib.resources import files


@cache
def table(name: str) -> tuple[dict[str, str], ...]:
    """Return the rows of ``data/NAME.csv``; lines that begin with "#" are remarks (source, licence).

    >>> table("plan/groups")[1]["name"]
    'seated beginners'
    """
    path = files("softshoe") / "data" / f"{name}.csv"
    lines = (line for line in path.read_text(encoding="utf-8").splitlines() if not line.startswith("#"))
    return tuple(csv.DictReader(lines))
