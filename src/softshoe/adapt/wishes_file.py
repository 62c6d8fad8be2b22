"""A dancer's or a group's wishes as a small file, TOML or JSON: a name, wishes in plain words, cautions by id.

    name = "Tuesday group"
    wishes = ["seated", "nothing overhead"]

What a file may hold is short and closed; anything else is told with what would mend it.
"""

from __future__ import annotations

import json
import tomllib
from typing import TYPE_CHECKING, Any

from softshoe.adapt.cautions import cautions
from softshoe.adapt.limits import abilities
from softshoe.adapt.plain import in_plain_words
from softshoe.errors import SettingError, UnreadableError

if TYPE_CHECKING:
    from pathlib import Path

    from softshoe.adapt.version import Abilities

MOST_BYTES = 20_000
MOST_WISHES = 40
MOST_NAME = 60
KEYS = ("name", "wishes", "cautions")
EXAMPLE = 'write it like: name = "Tuesday group" and wishes = ["seated", "nothing overhead"]'


def read_wishes(path: Path) -> Abilities:
    """Return the abilities of a file; raises UnreadableError or SettingError with what would mend it."""
    try:
        size = path.stat().st_size
        text = path.read_bytes()[: MOST_BYTES + 1].decode("utf-8-sig")
    except OSError as wrong:
        raise UnreadableError(str(path), "the file can't be read", str(wrong.strerror or wrong), EXAMPLE) from wrong
    except UnicodeDecodeError as wrong:
        raise UnreadableError(str(path), "this is no text", "it holds bytes that are no letters", EXAMPLE) from wrong
    if size > MOST_BYTES:
        raise UnreadableError(str(path), "the file is too long", f"{size} bytes, and {MOST_BYTES} are read", EXAMPLE)
    return wishes_given(_parsed(text, str(path)), where=str(path))


def _parsed(text: str, where: str) -> Any:
    try:
        return json.loads(text) if text.lstrip()[:1] in ("{", "[") else tomllib.loads(text)
    except (ValueError, RecursionError) as wrong:
        raise UnreadableError(where, "this is neither TOML nor JSON", str(wrong)[:120], EXAMPLE) from wrong


def wishes_given(given: Any, *, where: str) -> Abilities:
    """Return the abilities of a parsed file."""
    if not isinstance(given, dict):
        raise SettingError(where, "this is no list of wishes", "a name and wishes are looked for", EXAMPLE)
    strange = [str(key) for key in given if key not in KEYS]
    if strange:
        raise SettingError(where, f"“{strange[0][:40]}” is nothing such a file holds", f"it holds {', '.join(KEYS)}",
                           "take that line out; a reason is never asked for")  # fmt: skip
    name = given.get("name", "these wishes")
    if not isinstance(name, str) or not name.strip() or len(name) > MOST_NAME or not name.isprintable():
        raise SettingError(
            f"{where}, name", "this is no name", f"a name is a line of up to {MOST_NAME} letters", EXAMPLE
        )
    wishes, ids = _texts(given, "wishes", where), _texts(given, "cautions", where)
    unknown = next((one for one in ids if one not in cautions()), None)
    if unknown is not None:
        raise SettingError(
            f"{where}, cautions",
            f"“{unknown[:40]}” is no caution that is known",
            "the table of cautions has no such row",
            f"use some of: {', '.join(cautions())}",
        )
    said = [in_plain_words(wish, name=f"{where}, wishes") for wish in wishes]
    limits = {limit for one in said for limit in one.limits}
    return abilities(name.strip(), limits, tuple(ids), standing=any(one.standing for one in said))


def _texts(given: dict[str, Any], key: str, where: str) -> list[str]:
    value = given.get(key, [])
    if isinstance(value, str):
        value = [value]
    if not isinstance(value, list) or len(value) > MOST_WISHES or not all(isinstance(one, str) for one in value):
        raise SettingError(f"{where}, {key}", "this is no list of words",
                           f"up to {MOST_WISHES} texts in square brackets are looked for", EXAMPLE)  # fmt: skip
    return value


def wishes_text(given: Abilities, words: str) -> str:
    """Return the file for wishes: TOML that :func:`read_wishes` takes."""
    name = json.dumps(given.name, ensure_ascii=False)
    wishes = ", ".join(json.dumps(part.strip(), ensure_ascii=False) for part in words.split(",") if part.strip())
    return f"name = {name}\nwishes = [{wishes}]\n"
