"""A dance with the lines of the sheet it was read from, where it was read from other lines than that has."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.dance.action import Action
    from softshoe.dance.dance import Dance, Ending, Restart, Section, Tag
    from softshoe.errors import Finding

Lined = TypeVar("Lined", "Action", "Section", "Tag", "Restart", "Ending")


def on_lines(dance: Dance, there: Sequence[int]) -> Dance:
    """Return the dance with line ``there[n]`` wherever it names line ``n``."""

    def line_of(n: int) -> int:
        return there[n] if 0 < n < len(there) else n

    def moved(one: Lined) -> Lined:
        return replace(one, line=line_of(one.line))

    def told(one: Finding) -> Finding:
        return replace(one, line=line_of(one.line)) if one.line else one

    return replace(
        dance,
        sections=tuple(map(moved, dance.sections)),
        actions=tuple(map(moved, dance.actions)),
        tags=tuple(replace(moved(tag), actions=tuple(map(moved, tag.actions))) for tag in dance.tags),
        restarts=tuple(map(moved, dance.restarts)),
        endings=tuple(replace(moved(one), actions=tuple(map(moved, one.actions))) for one in dance.endings),
        findings=tuple(map(told, dance.findings)),
        kept=tuple((line_of(n), words) for n, words in dance.kept),
    )
