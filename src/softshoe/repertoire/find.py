"""Dances found: by words, titles, steps, level, tempo, metre, length, days danced, labels, and the song they fit.

The last word of a query may be the beginning of one, so that a search can follow the typing. A word that no kept sheet
holds is led to its nearest; either way it is told.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING, Any

from softshoe.dance.dance import LEVELS, Level
from softshoe.repertoire.asked import asked
from softshoe.repertoire.find_sql import conditions_sql
from softshoe.repertoire.indexed import NEWEST, matching
from softshoe.repertoire.plain import parts_of, plain

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.base import Base
    from softshoe.dance.dance import Dance
    from softshoe.music.songmap import SongMap
    from softshoe.repertoire.asked import Asked
    from softshoe.repertoire.fitting import Suited
    from softshoe.repertoire.store import Repertoire

MOST = 50
NEAR = 40  # words with most letters in common that are looked at closely
ALIKE = 0.72
RANKED = 1000  # sheets that are ranked by their words
NOT_WORTH = 3  # shorter words are not led anywhere
COLUMNS = (
    "d.n as n, d.uid as uid, d.title as title, d.counts as counts, d.walls as walls, d.level as level, d.seated "
    "as seated, "
    "d.metre as metre, d.tempo_low as tempo_low, d.tempo_high as tempo_high, d.errors as errors, d.heads as heads, "
    "(select max(on_day) from danced where dance = d.n) as danced"
)


@dataclass(frozen=True, slots=True)
class Hit:
    """One dance that was found. ``line`` is the first line of its sheet that holds a word asked for ("" where none was
    asked); ``danced`` the last day it was danced; ``suits`` how it sits on the song asked for.
    """

    uid: str
    title: str
    counts: int
    walls: int | None
    level: Level | None
    seated: bool
    metre: str
    tempo_bpm: float | tuple[float, float] | None
    errors: int
    texts: int
    danced: str | None
    line: str = ""
    suits: Suited | None = None


@dataclass(frozen=True, slots=True)
class Found:
    """What was found, the likeliest first, of ``total`` that there are; ``understood`` are the conditions as they were
    read, ``told`` what could not be used or was taken for another word.
    """

    hits: tuple[Hit, ...]
    total: int
    understood: tuple[str, ...]
    told: tuple[str, ...]


def find(
    repertoire: Repertoire,
    query: str,
    *,
    most: int = MOST,
    song: SongMap | None = None,
    fitted: bool = True,
    today: date | None = None,
) -> Found:
    """Return the dances that a query asks for; all, by title, where it asks for nothing.

    song : the song that the dances must fit, in place of one that the query names
    fitted : False looks at the song only quickly, as long as somebody types
    today : what "last month" counts from
    """
    with repertoire.reading() as base:
        read = _corrected(base, asked(query, today=today or date.today()))
        if read.song and song is None:
            song = _song(base, read.song)
            if song is None:
                return Found((), 0, _understood(read), (*read.told, f"no kept song is called “{read.song}”"))
        if song is not None:
            hits, total = _fitting(base, read, song, most, fitted=fitted)
        else:
            hits, total = _matching(base, read, most)
    return Found(hits, total, _understood(read), read.told)


def _understood(read: Asked) -> tuple[str, ...]:
    said = [" ".join(one.said.split()) for one in read.conditions]
    said += ["not “" + " ".join(words) + "”" for words in read.without]
    return tuple(said)


def _corrected(base: Base, read: Asked) -> Asked:
    """Lead every word that no sheet holds to its nearest, or leave it out; both are told."""
    told: list[str] = list(read.told)
    words = _led(base, read.words, told)
    title = _led(base, read.title, told)
    return replace(read, words=words, title=title, told=tuple(told))


def _led(base: Base, said: tuple[tuple[str, ...], ...], told: list[str]) -> tuple[tuple[str, ...], ...]:
    found = []
    for phrase in said:
        led = [_home(base, word) for word in phrase]
        for word, near in zip(phrase, led, strict=True):
            if near is None:
                told.append(f"no kept sheet has the word “{word}”: it was left out")
            elif not word.startswith(near):
                told.append(f"no kept sheet has the word “{word}”: looked for “{near}”")
        if kept := tuple(word for word in led if word is not None):
            found.append(kept)
    return tuple(found)


def _home(base: Base, word: str) -> str | None:
    """The word where a sheet has it, else its singular, else the nearest word; None where nothing is near."""
    forms = [word, *(word.removesuffix(end) for end in ("s", "es") if word.endswith(end) and len(word) > 3)]
    return next((form for form in forms if _there(base, form)), None) or _nearest(base, word)


def _there(base: Base, word: str) -> bool:
    """Whether any sheet has a word that begins so."""
    row = base.one(
        "select 1 as there from word where word >= :word and word < :end limit 1", word=word, end=f"{word}\U0010ffff"
    )
    return row is not None


def _nearest(base: Base, word: str) -> str | None:
    from difflib import get_close_matches

    if len(word) < NOT_WORTH or word.isdigit():
        return None
    parts = sorted(parts_of(word))
    names = ", ".join(f":{chr(97 + k)}" for k in range(len(parts)))
    values: dict[str, object] = {chr(97 + k): part for k, part in enumerate(parts[:26])}
    names = ", ".join(f":{name}" for name in values)
    rows = base.rows(f"select word, count(*) as shared from word_part where part in ({names}) and letters "
                     f"between :least "
                     "and :most group by word order by shared desc, word limit :near", least=len(word) - 2,
                     most=len(word) + 2, near=NEAR, **values)  # fmt: skip
    near = get_close_matches(word, [row["word"] for row in rows], n=1, cutoff=ALIKE)
    return near[0] if near else None


def _where(base: Base, read: Asked) -> tuple[str, str, dict[str, object]]:
    """The join and conditions of a query, and how likely a dance is meant by its words ("" where it has none)."""
    join, likely, values = "", "", {}
    if read.words or read.title:
        titles = not any(len(word) > 1 for phrase in read.words for word in phrase)
        join, likely, words = matching(base, [*read.words, *read.title] if titles else read.words, titles=titles)
        values["asked"] = words
    where, more = conditions_sql(base, read)
    return join + where, likely, values | more


def _matching(base: Base, read: Asked, most: int) -> tuple[tuple[Hit, ...], int]:
    """The dances of a query. So many that ranking them by words says nothing come newest first."""
    if not (read.words or read.title or read.conditions or read.without) and read.told:
        return (), 0
    where, likely, values = _where(base, read)
    total = int(base.value(f"select count(*) as total from dance d{where}", **values))
    order = NEWEST[base.engine] if likely and total > RANKED else ", ".join(filter(None, (likely, "d.title_key, d.n")))
    rows = base.rows(f"select {COLUMNS} from dance d{where} order by {order} limit :most", most=most, **values)
    return tuple(_hit(row, line) for row, line in zip(rows, _lines(base, rows, read), strict=True)), total


def _lines(base: Base, rows: Sequence[Any], read: Asked) -> list[str]:
    """The first line of each sheet that holds a word asked for."""
    wanted = [word for phrase in read.words for word in phrase]
    if not wanted or not rows:
        return [""] * len(rows)
    numbers = ", ".join(str(int(row["n"])) for row in rows)
    texts = base.rows(f"select dance, words from dance_text where head = 1 and dance in ({numbers}) order by number")
    words = {row["dance"]: row["words"] for row in texts}
    return [_line(words.get(row["n"], ""), row["title"], wanted) for row in rows]


def _line(words: str, title: str, wanted: list[str]) -> str:
    for line in words.splitlines():
        small = plain(line)
        if any(word in small for word in wanted) and small != plain(title):
            return " ".join(line.split())[:90]
    return ""


def _hit(row: Any, line: str = "", suits: Suited | None = None) -> Hit:
    low, high = row["tempo_low"], row["tempo_high"]
    level = None if row["level"] is None else LEVELS[row["level"]]
    return Hit(
        uid=row["uid"], title=row["title"], counts=row["counts"], walls=row["walls"], level=level,
        seated=bool(row["seated"]), metre=row["metre"], tempo_bpm=low if low == high else (low, high),
        errors=row["errors"], texts=row["heads"],
        danced=row["danced"], line=line, suits=suits,
    )  # fmt: skip


def _song(base: Base, name: str) -> SongMap | None:
    """The newest map of the kept song whose title is, or else begins with or holds, these words."""
    from softshoe.music.document import song_from_json

    key = plain(name)
    rows = base.rows("select n, title_key from song where title_key like :some order by title_key, n", some=f"%{key}%")
    ranked = sorted(rows, key=lambda row: (row["title_key"] != key, not row["title_key"].startswith(key)))
    if not ranked:
        return None
    found = base.value("select map from song_map where song = :n order by number desc limit 1", n=ranked[0]["n"])
    return song_from_json(found, where=name)


def _fitting(base: Base, read: Asked, song: SongMap, most: int, *, fitted: bool) -> tuple[tuple[Hit, ...], int]:
    """The dances that suit the song, the best first."""
    import json

    from softshoe.dance.document import dance_from_json
    from softshoe.repertoire.fitting import suited

    where, _, values = _where(base, read)
    rows = base.rows(f"select {COLUMNS} from dance d{where} order by d.title_key, d.n", **values)

    def whole(at: int) -> Dance:
        events = base.value(
            "select events from dance_text where dance = :n and head = 1 order by n desc limit 1", n=rows[at]["n"]
        )
        return dance_from_json(json.loads(events))

    found = suited(rows, song, whole if fitted else None, most=most)
    return tuple(_hit(rows[at], suits=suits) for at, suits in found.best), found.total
