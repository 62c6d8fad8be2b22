"""The words by which a dance is found: the one place where SQLite and PostgreSQL are asked in different ways."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from softshoe.repertoire.plain import parts_of, plain, words_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.base import Base

STRANGE = {
    "sqlite": "select value as word from json_each(:words) where value not in (select word from word)",
    "postgresql": "select value as word from jsonb_array_elements_text(cast(:words as jsonb)) "
                  "where value not in (select word from word)",
}  # fmt: skip
NEW_WORD = "insert into word (word) values (:word) on conflict do nothing"
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
    _known_from_now_on(base, sorted({*words_of(title), *words_of(words)}))


def _known_from_now_on(base: Base, words: list[str]) -> None:
    """Let these words, and slips of them, be known; most of them are."""
    rows = base.rows(STRANGE[base.engine], words=json.dumps(words))
    new = [row["word"] for row in rows]
    base.many(NEW_WORD, [{"word": word} for word in new])
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
