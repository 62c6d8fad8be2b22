"""The words by which a dance is found: the one place where SQLite and PostgreSQL are asked in different ways.

On PostgreSQL every word knows whose it is: the group's where a dance that everybody sees has it, else the account's
whose dance has it. So a slip of the fingers is led to no word of somebody else's own dance.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from softshoe.repertoire.plain import parts_of, plain, words_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.base import Base

WHOSE = "select case when shared = 1 then '' else owner end as whose from dance where n = :n"
STRANGE = {
    "sqlite": "select value as word from json_each(:words) where value not in (select word from word)",
    "postgresql": "select value as word from jsonb_array_elements_text(cast(:words as jsonb)) "
                  "where value not in (select word from word where whose = :whose)",
}  # fmt: skip
NEW_WORD = {
    "sqlite": "insert into word (word) values (:word) on conflict do nothing",
    "postgresql": "insert into word (word, whose) values (:word, :whose) on conflict do nothing",
}
# The newest first, for words that most sheets hold: SQLite gives the first few without looking at the rest.
NEWEST = {"sqlite": "w.rowid desc", "postgresql": "d.n desc"}
NO_MORE_THE_GROUPS = (
    "delete from word where whose = '' and word in (select value from jsonb_array_elements_text(cast(:words as "
    "jsonb))) and not exists (select 1 from dance_words s join dance d on d.n = s.dance where (d.owner = '' or "
    "d.shared = 1) and s.found @@ plainto_tsquery('simple', word.word))"
)
NEW_PART = "insert into word_part (part, letters, word) values (:part, :letters, :word) on conflict do nothing"


def index(base: Base, n: int, title: str, words: str) -> None:
    """Let a dance be found by these words, and by no others."""
    title, words = plain(title), plain(words)
    base.run("delete from dance_words where " + ("rowid" if base.engine == "sqlite" else "dance") + " = :n", n=n)
    if base.engine == "sqlite":
        base.run(
            "insert into dance_words (rowid, title, words) values (:n, :title, :words)", n=n, title=title, words=words
        )
    else:
        base.run("insert into dance_words (dance, title, words, found) values (:n, :title, :words, "
                 "setweight(to_tsvector("
                 "'simple', :title), 'A') || setweight(to_tsvector('simple', :words), 'B'))", n=n,
                 title=" ".join(words_of(title)), words=" ".join(words_of(words)))  # fmt: skip
    _known_from_now_on(base, n, sorted({*words_of(title), *words_of(words)}))


def belongs_anew(base: Base, dances: Sequence[int]) -> None:
    """Let the words of dances that were shared, taken back or given away be known to those who see the dances now.

    What was the group's through these dances alone is the group's no more.
    """
    if base.engine == "sqlite":  # one person
        return
    once: set[str] = set()
    for n in dances:
        row = base.one("select title, words from dance_words where dance = :n", n=n)
        now = [] if row is None else sorted({*row["title"].split(), *row["words"].split()})
        _known_from_now_on(base, n, now)
        once.update(now)
        for text in base.rows("select words from dance_text where dance = :n and head = 0", n=n):
            once.update(words_of(text["words"]))
    base.run(NO_MORE_THE_GROUPS, words=json.dumps(sorted(once)))


def _known_from_now_on(base: Base, n: int, words: list[str]) -> None:
    """Let these words, and slips of them, be known to whoever sees the dance; most of them are."""
    whose = {} if base.engine == "sqlite" else {"whose": base.value(WHOSE, n=n)}
    rows = base.rows(STRANGE[base.engine], words=json.dumps(words), **whose)
    new = [row["word"] for row in rows]
    base.many(NEW_WORD[base.engine], [{"word": word, **whose} for word in new])
    base.many(NEW_PART, [{"part": part, "letters": len(word), "word": word}
                         for word in new if not word.isdigit() for part in sorted(parts_of(word))])  # fmt: skip


def matching(base: Base, said: Sequence[Sequence[str]], *, titles: bool = False) -> tuple[str, str, str]:
    """Return the join, the order and the expression for dances that hold all of these.

    said : each a word, or a phrase of several; the last word of each may be the beginning of one
    titles : the title alone is looked at
    """
    if base.engine == "sqlite":
        asked = " ".join('"' + " ".join(words) + '" *' for words in said)
        return (" join dance_words w on w.rowid = d.n and w.dance_words match :asked", "bm25(w.dance_words, 5.0, 1.0)",
                f"{{title}} : ({asked})" if titles else asked)  # fmt: skip
    weight = "A" if titles else ""
    asked = " & ".join("(" + " <-> ".join([*words[:-1], f"{words[-1]}:*{weight}"]) + ")" for words in said)
    return (" join dance_words w on w.dance = d.n and w.found @@ to_tsquery('simple', :asked)",
            "-ts_rank(w.found, to_tsquery('simple', :asked))", asked)  # fmt: skip
