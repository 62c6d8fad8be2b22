"""Kept things by the names that people use: a title, or the beginning of one, or an identity."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.errors import SettingError, nearest
from softshoe.repertoire.plain import plain

if TYPE_CHECKING:
    from softshoe.base import Base
    from softshoe.repertoire.values import About

MOST_NAMED = 6


def named(base: Base, words: str, *, what: About = "dance") -> str:
    """Return the identity of the one dance or song of that name; a run or a lesson is named by its identity.

    The whole title goes before the beginning of one, that before words in it. Raises SettingError, with what there is,
    for a name that none or several have.
    """
    key = plain(words)
    if what in ("run", "lesson"):
        return _by_identity(base, key, what)
    rows = base.rows(f"select uid, title, title_key from {what} where uid = :words or title_key like :some "
                     f"order by title_key, n",
                     words=words.strip(), some=f"%{key}%" if key else "")  # fmt: skip
    for fits in (
        [row for row in rows if words.strip() == row["uid"] or row["title_key"] == key],
        [row for row in rows if row["title_key"].startswith(key)],
        rows,
    ):
        if len(fits) == 1:
            return str(fits[0]["uid"])
        if fits:
            listed = "; ".join(f"“{row['title']}” ({row['uid'][:8]})" for row in fits[:MOST_NAMED])
            raise SettingError(f"“{words}”", f"several {what}s have that name", listed,
                               "say more of the title, or the identity in brackets")  # fmt: skip
    begun = base.rows(f"select uid from {what} where uid like :start limit 2", start=f"{key}%") if len(key) > 5 else []
    if len(begun) == 1:
        return str(begun[0]["uid"])
    titles = {row["title_key"]: row["title"] for row in base.rows(f"select title, title_key from {what}")}
    near = nearest(key, titles)
    raise SettingError(f"“{words}”", f"no kept {what} has that name", "nothing of that title was kept",
                       f"did you mean “{titles[near]}”?" if near else "“softshoe find” lists what is kept")  # fmt: skip


def _by_identity(base: Base, begun: str, what: About) -> str:
    """Return the whole of an identity of which at least six letters were said."""
    rows = (
        base.rows(f"select uid from {what} where uid like :start limit 2", start=f"{begun}%") if len(begun) > 5 else []
    )
    if len(rows) != 1:
        raise SettingError(f"“{begun}”", f"no kept {what} has that name", "no identity, or more than one, begins so",
                           "“softshoe kept TITLE” shows the runs and lessons of a dance")  # fmt: skip
    return str(rows[0]["uid"])
