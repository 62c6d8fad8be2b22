"""Write: the words of a dance, read while they are typed; every stroke kept, back and on without end."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from softshoe.studio.reading import dance_of, read_view
from softshoe.studio.table import Page, Way

if TYPE_CHECKING:
    from softshoe.studio.asking import Asked

MOST_MENDS = 20  # findings that a mend is looked for; each costs a reading


@dataclass(frozen=True, slots=True)
class Written:
    """What a window has written: from which stroke, the words now, and the stroke of another window it settles."""

    window: str
    made_from: int
    words: str
    also: int = 0


@dataclass(frozen=True, slots=True)
class Gone:
    """Which way a window goes from where it stands."""

    window: str
    at: int
    back: bool


@dataclass(frozen=True, slots=True)
class Words:
    """Words to read; they are kept nowhere."""

    words: str


def values(asked: Asked) -> dict[str, object]:
    """Return the words as they stand and the stroke they are."""
    draft = asked.desk.draft(asked.dance)
    at = draft.tip
    return {"words": draft.words(at), "at": at}


def wrote(asked: Asked) -> dict[str, object]:
    """Keep what was written; tell the stroke and what another window wrote beside it."""
    said = asked.json(Written)
    draft = asked.desk.draft(asked.dance)
    at = draft.write(said.window, said.words, made_from=said.made_from, also=said.also)
    return {"at": at, **_beside(asked, said.window, at)}


def went(asked: Asked) -> dict[str, object]:
    """Go one stroke back or on; tell the words there."""
    said = asked.json(Gone)
    draft = asked.desk.draft(asked.dance)
    to = draft.go(said.window, at=said.at, back=said.back)
    return {"at": to, "moved": to != said.at, "words": draft.words(to)}


def beside(asked: Asked) -> dict[str, object]:
    """Tell what another window wrote that this one has not."""
    at = int(asked.query.get("at", "0")) if asked.query.get("at", "0").isdecimal() else 0
    return _beside(asked, asked.query.get("window", ""), at)


def _beside(asked: Asked, window: str, at: int) -> dict[str, object]:
    draft = asked.desk.draft(asked.dance)
    other = draft.beside(window, at)
    if not other or draft.words(other) == draft.words(at):
        return {"beside": None}
    from softshoe.wording.mend import differences

    mine, theirs = draft.words(at), draft.words(other)
    return {"beside": {"at": other, "words": theirs, "goes_on": draft.goes_on(at, other),
                       "differences": differences(mine, theirs)}}  # fmt: skip


def read(asked: Asked) -> dict[str, object]:
    """Read words and tell the dance line by line."""
    return read_view(asked.json(Words).words)


def mends(asked: Asked) -> list[dict[str, object]]:
    """Tell what one press can mend: the finding's number, the words then, and what changes."""
    from softshoe.wording.mend import differences, one_mended

    words = asked.json(Words).words
    findings = dance_of(words).findings
    offered = []
    for number, one in enumerate(findings[:MOST_MENDS]):
        after = one_mended(words, one, findings)
        if after is not None:
            offered.append({"number": number, "words": after, "differences": differences(words, after)})
    return offered


def kept(asked: Asked) -> dict[str, object]:
    """Keep the words as they stand in the repertoire."""
    put = asked.desk.keep(asked.dance)
    return {"number": put.number, "how": put.how}


PAGE = Page("write", "Write", values, (
    Way("stroke", wrote, "POST"), Way("go", went, "POST"), Way("beside", beside), Way("read", read, "POST"),
    Way("mends", mends, "POST"), Way("keep", kept, "POST"),
))  # fmt: skip
