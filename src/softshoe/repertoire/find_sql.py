"""Conditions as SQL: one small table for the columns, three special cases. The same for both databases."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.repertoire.indexed import matching

if TYPE_CHECKING:
    from softshoe.base import Base
    from softshoe.repertoire.asked import Asked, Condition

Values = dict[str, object]


def conditions_sql(base: Base, read: Asked) -> tuple[str, Values]:
    """Return " where …" for a query, "" where it has no conditions, and the values in it."""
    parts: list[str] = []
    values: Values = {}
    for k, one in enumerate(read.conditions):
        sql, more = _condition(one, f"{chr(97 + k // 26)}{chr(97 + k % 26)}")
        parts.append(sql)
        values |= more
    for k, words in enumerate(read.without):
        join, _, said = matching(base, [words])
        name = f"no{chr(97 + k)}"
        parts.append(f"d.n not in (select d.n from dance d{join.replace(':asked', f':{name}')})")
        values[name] = said
    if read.title and read.words:
        join, _, said = matching(base, read.title, titles=True)
        parts.append(f"d.n in (select d.n from dance d{join.replace(':asked', ':titled')})")
        values["titled"] = said
    return (" where " + " and ".join(f"({part})" for part in parts) if parts else ""), values


def _condition(one: Condition, name: str) -> tuple[str, Values]:
    if one.field == "step":
        return _among(one, name, "d.n {} (select dance from dance_step where step in ({}))")
    if one.field == "label":
        return _among(one, name, "d.uid {} (select uid from label where about = 'dance' and label_key in ({}))")
    if one.field == "metre":
        return _among(one, name, "d.metre {} ({})")
    low, high = f"{name}_low", f"{name}_high"
    values: Values = {key: value for key, value in ((low, one.low), (high, one.high)) if value is not None}
    if one.field == "danced":
        inside = "".join(
            f" and on_day {sign} :{key}" for key, sign in ((low, ">="), (high, "<=")) if key in values
        )  # fmt: skip
        return f"{'' if one.holds else 'not '}exists (select 1 from danced where dance = d.n{inside})", values
    # a dance of 100 to 112 beats a minute is one under 110, and one over 104
    below, above = ("tempo_low", "tempo_high") if one.field == "tempo" else (one.field, one.field)
    parts = [
        f"d.{column} {sign} :{key}" for key, column, sign in ((low, above, ">="), (high, below, "<=")) if key in values
    ]
    return " and ".join(parts), values


def _among(one: Condition, name: str, sql: str) -> tuple[str, Values]:
    values: Values = {f"{name}_{chr(97 + k // 26)}{chr(97 + k % 26)}": word for k, word in enumerate(sorted(one.names))}
    return sql.format("in" if one.holds else "not in", ", ".join(f":{key}" for key in values)), values
