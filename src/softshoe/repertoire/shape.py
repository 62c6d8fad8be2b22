"""The shape of the database, brought up step by step: numbered SQL files of ``data/repertoire``, each in one
transaction.

A database of a newer shape than this program knows is never touched.
"""

from __future__ import annotations

from importlib.resources import files
from typing import TYPE_CHECKING

from softshoe.errors import OutputError

if TYPE_CHECKING:
    from collections.abc import Callable

    from softshoe.base import Base

SHAPE = 4
FIRST = {"sqlite": 1, "postgresql": 2}  # the first shape that each database ever had
FIRST_OF_TEXTS = 2  # before it there were sheets


def shape_of(base: Base) -> int:
    """Return the shape of a database, 0 for an empty one."""
    if base.engine == "sqlite":
        return int(base.value("pragma user_version") or 0)
    return int(base.value("select number from shape") or 0) if base.has_table("shape") else 0


def known_shape(base: Base) -> int:
    """Return the shape; raises OutputError where a newer softshoe made it."""
    shape = shape_of(base)
    if shape > SHAPE:
        raise OutputError(base.where, "the repertoire is of a newer softshoe",
                          f"it has shape {shape}, and this program knows shapes up to {SHAPE}; nothing was touched",
                          "bring softshoe up to date on this computer too")  # fmt: skip
    return shape


def bring_up(base: Base, copied: Callable[[int], None]) -> None:
    """Bring the database to the newest shape; ``copied`` is called with the old shape before the first change."""
    shape = known_shape(base)
    if shape == SHAPE:
        return
    if shape:
        copied(shape)
    base.begin()
    try:
        if base.engine == "postgresql":
            base.run("select pg_advisory_xact_lock(5077)")
        old = known_shape(base)
        for number in range(max(old + 1, FIRST[base.engine]), SHAPE + 1):
            _step(base, number)
        if old < FIRST_OF_TEXTS and base.engine == "sqlite":
            _sheets_moved(base)
        base.commit()
    except BaseException:
        base.rollback()
        raise


def _step(base: Base, number: int) -> None:
    name = f"{number:04}.{base.engine}.sql"
    base.script((files("softshoe") / "data" / "repertoire" / name).read_text(encoding="utf-8"))
    if base.engine == "sqlite":
        base.run(f"pragma user_version = {number}")
    else:
        base.script("create table if not exists shape (number integer not null)")
        base.run("delete from shape")
        base.run("insert into shape (number) values (:number)", number=number)


def _sheets_moved(base: Base) -> None:
    """The sheets of shape 1, where texts of one title were one dance, become dances with their texts.

    Done when the tables have their newest shape: it is written to as today.
    """
    import json

    from softshoe.dance.document import dance_from_json
    from softshoe.repertoire.dances import Sheet, keep

    for row in base.rows("select words, events, kept_at from sheet order by id"):
        keep(base, Sheet.of(row["words"], dance_from_json(json.loads(row["events"]))), now=row["kept_at"])
    base.script("drop table sheet_words;\ndrop table sheet;\n")
