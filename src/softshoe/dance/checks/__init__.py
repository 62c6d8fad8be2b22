"""Well-formedness of a dance: one small function a check, all listed in ``CHECKS``; they report, they do not stop.

A check takes the dance and where its header says things (field -> line) and yields findings; kinds and severities are
those of the dance events, and every kind has its entry in docs/findings.md. ``findings_of`` runs them all and leaves
out what is only the consequence of an error told already.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.dance.checks.chair import seated
from softshoe.dance.checks.consequences import told_once
from softshoe.dance.checks.demand import crowded, level, one_sided
from softshoe.dance.checks.hands import arms
from softshoe.dance.checks.lengths import place, tag_length, total
from softshoe.dance.checks.sides import side
from softshoe.dance.checks.stated import not_stated
from softshoe.dance.checks.walls import walls
from softshoe.dance.checks.weights import free_foot, weight

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping

    from softshoe.dance.dance import Dance
    from softshoe.errors import Finding

CHECKS: tuple[Callable[[Dance, Mapping[str, int]], Iterator[Finding]], ...] = (
    weight, free_foot, walls, total, tag_length, place, side, arms, seated, not_stated, crowded, level, one_sided,
)  # fmt: skip


def findings_of(
    dance: Dance, lines: Mapping[str, int] | None = None, told: Iterable[Finding] = ()
) -> tuple[Finding, ...]:
    """Run all checks; ``told`` are findings made already. What only follows from another finding is left out."""
    found = [*told, *(finding for check in CHECKS for finding in check(dance, lines or {}))]
    return told_once(found, dance)
