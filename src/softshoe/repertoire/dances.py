"""Dances in the database: kept text by text, each based on another, nothing ever overwritten.

Every function works inside the transaction of the base it is given.
"""

from __future__ import annotations

import hashlib
import json
import uuid
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Literal

from softshoe.dance.document import dance_from_json, whole_json
from softshoe.errors import SettingError
from softshoe.repertoire.anew import reader
from softshoe.repertoire.beside import beside
from softshoe.repertoire.indexed import index
from softshoe.repertoire.plain import plain
from softshoe.repertoire.values import KeptDance, Text

if TYPE_CHECKING:
    from softshoe.base import Base, Row
    from softshoe.dance.dance import Dance
    from softshoe.repertoire.facts import Facts

How = Literal["new dance", "new text", "side by side", "known"]
COLUMNS = (
    "title", "counts", "walls", "level", "seated", "metre", "tempo_low", "tempo_high", "turning_deg",
    "biggest_turn_deg", "tags", "restarts", "endings", "arms", "errors",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Put:
    """What became of a text that was to be kept: which dance, which text, and how.

    "known": these very words were there; "side by side": somebody else changed the dance meanwhile, both are kept.
    """

    dance: str
    text: str
    number: int
    how: How


def now_iso() -> str:
    """Return this moment, ISO 8601 in UTC."""
    return datetime.now(UTC).isoformat(timespec="seconds")


def content_of(words: str) -> str:
    """Return the sha256 of a text's words."""
    return hashlib.sha256(words.encode()).hexdigest()


@dataclass(frozen=True, slots=True)
class Sheet:
    """What is kept of a sheet: its words, the dance in the shape of the dance events, and what is told of it."""

    words: str
    events: str
    facts: Facts

    @classmethod
    def of(cls, words: str, dance: Dance, *, title: str = "") -> Sheet:
        """Return the sheet of a dance; ``title`` is what it is called where its words name none."""
        from softshoe.repertoire.facts import facts_of

        return cls(words, events_of(dance), facts_of(dance, words, title=title))


def events_of(dance: Dance) -> str:
    """Return a dance as it is kept."""
    return json.dumps(whole_json(dance), separators=(",", ":"))


def keep(
    base: Base,
    sheet: Sheet,
    *,
    uid: str = "",
    based_on: tuple[str, ...] | None = None,
    source: str = "",
    original: str = "",
    now: str = "",
) -> Put:
    """Keep a text.

    uid : the dance it belongs to; "" for the one of that title, "new" for none that is there
    based_on : the texts it was made from; None for the newest
    source, original : the name and the sha256 of the file it was read from
    Raises SettingError for a ``based_on`` that is not there.
    """
    content, now = content_of(sheet.words), now or now_iso()
    here = _dance_row(base, uid, sheet.facts.title)
    if based_on is None and (known := _known(base, content, here)):
        return known
    heads = [] if here is None else _heads(base, here["n"])
    n = new_dance(base, sheet.facts.title, "" if uid == "new" else uid, now) if here is None else int(here["n"])
    facts = sheet.facts if sheet.facts.title else replace(sheet.facts, title=str(_title(base, n)))
    number = 1 + int(base.value("select coalesce(max(number), 0) as last from dance_text where dance = :n", n=n))
    bases = tuple(heads[-1:]) if based_on is None else based_on
    _told_there(base, n, bases)
    text = uuid.uuid4().hex
    put_text(base, n, uid=text, number=number, words=sheet.words, events=sheet.events, kept_at=now, based_on=bases,
             source=source, original=original, read_by=reader())  # fmt: skip
    told(base, n, facts, now)
    side = [head for head in heads if head not in bases]
    how: How = "new dance" if here is None else "side by side" if side else "new text"
    return Put(_uid(base, n), text, number, how)


def put_text(base: Base, n: int, *, uid: str, number: int, words: str, events: str, kept_at: str,
             based_on: tuple[str, ...], source: str, original: str, read_by: str = "") -> None:  # fmt: skip
    """Write a text of a dance as it is; those it is based on are heads no more, nor is it where others are
    based on it.
    """
    first, second = (*based_on, "", "")[:2]
    base.run(
        "insert into dance_text (uid, dance, number, words, events, content, kept_at, base, other_base, head, source, "
        "original, read_by) values (:uid, :n, :number, :words, :events, :content, :now, :base, :other, 1, :source, "
        ":original, :read_by)",
        uid=uid, n=n, number=number, words=words, content=content_of(words), now=kept_at, events=events, base=first,
        other=second, source=source, original=original, read_by=read_by,
    )  # fmt: skip
    for passed in based_on:
        base.run("update dance_text set head = 0 where uid = :uid", uid=passed)
    base.run("update dance_text set head = 0 where uid = :uid and exists (select 1 from dance_text later where "
             "later.dance = :n and (later.base = :uid or later.other_base = :uid))", uid=uid, n=n)  # fmt: skip


def told(base: Base, n: int, facts: Facts, now: str) -> None:
    """Write what is told of a dance, and the words it is found by."""
    row = {key.removesuffix("_deg"): getattr(facts, key) for key in COLUMNS}
    row |= {"seated": int(facts.seated), "arms": int(facts.arms), "title_key": plain(facts.title), "changed_at": now}
    base.run(f"update dance set {', '.join(f'{key} = :{key}' for key in row)}, heads = (select count(*) from "
             f"dance_text "
             "where dance = :n and head = 1) where n = :n", n=n, **row)  # fmt: skip
    base.run("delete from dance_step where dance = :n", n=n)
    base.many("insert into dance_step (step, dance) values (:step, :n)", [{"step": s, "n": n} for s in facts.steps])
    heads = base.rows("select words from dance_text where dance = :n and head = 1 order by number desc", n=n)
    index(base, n, facts.title, "\n".join(row["words"] for row in heads))


def new_dance(base: Base, title: str, uid: str, now: str) -> int:
    """Make room for a dance, without a text yet, and return its number."""
    return int(base.value(
        "insert into dance (uid, title, title_key, counts, seated, metre, turning, biggest_turn, tags, "
        "restarts, endings, "
        "arms, errors, heads, kept_at, changed_at) values (:uid, :title, :key, 0, 0, '', 0, 0, 0, 0, 0, 0, 0, 0, :now, "
        ":now) returning n", uid=uid or uuid.uuid4().hex, title=title, key=plain(title), now=now,
    ))  # fmt: skip


def _title(base: Base, n: int) -> object:
    return base.value("select title from dance where n = :n", n=n)


def _uid(base: Base, n: int) -> str:
    return str(base.value("select uid from dance where n = :n", n=n))


def _dance_row(base: Base, uid: str, title: str) -> Row | None:
    if uid:
        return base.one("select n from dance where uid = :uid", uid=uid) if uid != "new" else None
    key = plain(title)
    return base.one("select n from dance where title_key = :key order by n desc", key=key) if key else None


def _known(base: Base, content: str, here: Row | None) -> Put | None:
    row = base.one("select d.uid as dance, t.uid as uid, t.number as number from dance_text t join dance d on "
                   "d.n = t.dance "
                   "where t.content = :content order by t.dance = :n desc", content=content,
                   n=0 if here is None else here["n"])  # fmt: skip
    return None if row is None else Put(row["dance"], row["uid"], row["number"], "known")


def _heads(base: Base, n: int) -> list[str]:
    rows = base.rows("select uid from dance_text where dance = :n and head = 1 order by number", n=n)
    return [row["uid"] for row in rows]


def _told_there(base: Base, n: int, bases: tuple[str, ...]) -> None:
    for uid in bases:
        if base.one("select 1 as there from dance_text where uid = :uid and dance = :n", uid=uid, n=n) is None:
            raise SettingError(uid, "there is no such text", "the text that this one was made from is not of "
                                                             "this dance",
                               "open the dance again and change it there")  # fmt: skip


def text_of(row: Row) -> Text:
    """Return the text of a row."""
    bases = tuple(filter(None, (row["base"], row["other_base"])))
    dance = dance_from_json(json.loads(row["events"]))
    return Text(row["uid"], row["number"], row["words"], dance, row["kept_at"], bases, row["source"], row["original"])


def kept_dance(base: Base, uid: str) -> KeptDance:
    """Return a dance with all its texts; raises SettingError where there is none of that identity."""
    row = base.one("select n, uid, title from dance where uid = :uid", uid=uid)
    if row is None:
        raise SettingError(
            uid, "no such dance is kept", "nothing has that identity", "“softshoe find” lists the dances"
        )
    texts = base.rows("select * from dance_text where dance = :n order by number", n=row["n"])
    return KeptDance(uid, row["title"], tuple(map(text_of, texts)), **beside(base, row["n"], uid))
