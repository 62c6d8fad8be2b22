"""What the columns of a table are for, by the words over them: rows of ``data/wording/columns.csv``."""

from __future__ import annotations

from functools import lru_cache

from softshoe.wording.vocabulary import table

LIMBS = ("feet", "foot", "footwork", "legs", "steps", "arms", "hands", "arms and hands", "what the feet do",
"what the hands do", "your feet", "your hands", "the feet", "the hands")  # fmt: skip
VAGUE = ("what", "when", "where", "do", "no", "top", "dance")  # of more words than one they tell nothing


@lru_cache(maxsize=1)
def _roles() -> dict[str, str]:
    return {row["word"]: row["role"] for row in table("columns.csv")}


def role_of(name: str, *, exactly: bool = False) -> str:
    """Return what a column is for by its head, as it stands in the table or by its first telling word; "" if unknown.

    >>> role_of("where to look"), role_of("what your hands do"), role_of("Kettle")
    ('facing', 'arms', '')
    """
    plain = name.strip().casefold().removeprefix("the ")
    if plain in _roles() or exactly or any(map(str.isdigit, plain)):
        return _roles().get(plain, "")
    return next((_roles()[word] for word in plain.split() if word in _roles() and word not in VAGUE), "")


def with_counts(roles: list[str], names: list[str]) -> list[str]:
    """ "| | Feet | Arms |": a first column without a name is for the counts where no other is.

    >>> with_counts(["", "feet", "arms"], ["", "feet", "arms"])
    ['count', 'feet', 'arms']
    """
    unnamed = len(names) > 2 and not names[0] and "count" not in roles and all(n in LIMBS for n in names[1:] if n)
    return ["count", *roles[1:]] if unnamed and sum(map(bool, names)) > 1 else roles


def with_feet(roles: list[str]) -> list[str]:
    """A table that has nothing but cues or ways beside its counts has its steps there."""
    if "feet" in roles or "arms" in roles:
        return roles
    other = next((role for role in ("note", "way") if role in roles), "")
    return ["feet" if role == other else role for role in roles]
