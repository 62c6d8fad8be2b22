"""Bodies: versions chosen by plain questions, side by side; any replacement can be swapped by hand."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from softshoe.adapt.limits import LIMITS
from softshoe.errors import SettingError
from softshoe.studio.bodies import bodies_view, questions, ready
from softshoe.studio.chosen import AS_WRITTEN, MOST_VERSIONS, Wish, choose_wishes, version_of, wish_named, wishes
from softshoe.studio.table import Page, Way

if TYPE_CHECKING:
    from softshoe.studio.asking import Asked

MOST_NAME = 40
MOST_BY_HAND = 64


@dataclass(frozen=True, slots=True)
class Wanted:
    """A version that is wanted: its name, and the questions answered with yes. ``was``: the name that it had."""

    name: str
    limits: tuple[str, ...] = ()
    was: str = ""


@dataclass(frozen=True, slots=True)
class Gone:
    """The version that is wanted no more."""

    name: str


@dataclass(frozen=True, slots=True)
class Swap:
    """A count of a version, danced otherwise by her own word; no words: as it was found."""

    name: str
    count: str
    words: str = ""


def values(asked: Asked) -> dict[str, object]:
    """Return the questions, and the versions that one press makes."""
    asked.desk.draft(asked.dance)
    return {"questions": questions(), "ready": ready()}


def view(asked: Asked) -> dict[str, Any]:
    """Tell the versions side by side."""
    return bodies_view(asked.desk, asked.dance)


def wish(asked: Asked) -> dict[str, Any]:
    """Want a version, or answer the questions of one anew; what was put in by hand stays."""
    said = asked.json(Wanted)
    name = " ".join(said.name.split())[:MOST_NAME]
    strange = [one for one in said.limits if one not in LIMITS]
    if not name or name == AS_WRITTEN or strange:
        raise SettingError("this version", "it can't be made", "it needs a name of its own and known answers",
                           "give it a name, such as “Tuesday group”")  # fmt: skip
    every = list(wishes(asked.desk, asked.dance))
    at = next((k for k, one in enumerate(every) if one.name == (said.was or name)), len(every))
    if any(one.name == name for k, one in enumerate(every) if k != at):
        raise SettingError("this version", "there is one of that name", f"“{name}” is taken", "choose another name")
    if len(every) >= MOST_VERSIONS and at == len(every):
        raise SettingError("the versions", "there are enough", f"{MOST_VERSIONS} are kept side by side",
                           "take one away first")  # fmt: skip
    kept = every[at].instead if at < len(every) else ()
    every[at : at + 1] = [Wish(name, said.limits, kept)]
    choose_wishes(asked.desk, asked.dance, tuple(every))
    return view(asked)


def gone(asked: Asked) -> dict[str, Any]:
    """Want a version no more."""
    name = asked.json(Gone).name
    choose_wishes(asked.desk, asked.dance, tuple(w for w in wishes(asked.desk, asked.dance) if w.name != name))
    return view(asked)


def swap(asked: Asked) -> dict[str, Any]:
    """Dance a count of a version by her own word. Raises SettingError where the words are no step."""
    from softshoe.adapt.by_hand import instead

    said = asked.json(Swap)
    wanted = wish_named(asked.desk, asked.dance, said.name)
    others = tuple(one for one in wanted.instead if one.partition("=")[0].strip() != said.count)
    words = " ".join(said.words.split())
    now = replace(wanted, instead=(*others, f"{said.count}={words}")[:MOST_BY_HAND] if words else others)
    if wanted.name == AS_WRITTEN:
        raise SettingError("the dance as written", "it is not swapped here", "it is what the sheet says",
                           "change the sheet in Write")  # fmt: skip
    if words:
        instead(version_of(asked.desk.words(asked.dance), replace(wanted, instead=others)), f"{said.count}={words}")
    every = tuple(now if one.name == now.name else one for one in wishes(asked.desk, asked.dance))
    choose_wishes(asked.desk, asked.dance, every)
    return view(asked)


PAGE = Page("bodies", "Bodies", values, (
    Way("view", view), Way("wish", wish, "POST"), Way("gone", gone, "POST"), Way("swap", swap, "POST"),
))  # fmt: skip
