"""``--for``: versions of somebody's own, in plain words with a name before a colon, or a file of wishes."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from softshoe.adapt.own import Own
    from softshoe.adapt.version import Abilities

WISH_FILES = (".toml", ".json")


def own_asked(said: tuple[str, ...]) -> tuple[Own, ...]:
    """Return the versions asked for; raises SettingError, UnreadableError.

    "Tuesday group: seated, nothing overhead" has a name; without one, the words are the name. A file's name is its own.
    """
    from softshoe.adapt.own import own_of

    return tuple(dict.fromkeys(own_of(_abilities(one)) for one in said))


def _abilities(said: str) -> Abilities:
    from softshoe.adapt.plain import in_plain_words
    from softshoe.adapt.wishes_file import read_wishes

    path = Path(said)
    if path.suffix.casefold() in WISH_FILES:
        return replace(read_wishes(path), name=path.stem)
    name, colon, words = said.partition(":")
    return in_plain_words(words if colon else said, name=" ".join((name if colon else said).split()))
