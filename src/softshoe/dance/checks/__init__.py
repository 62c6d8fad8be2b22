"""Well-formedness of a dance: one small function a check, all listed in ``CHECKS``; they report, they do not stop.

A check takes the dance and where its header says things (field -> line) and yields findings; kinds and severities are
those of the dance events, and every kind has its entry in docs/findings.md. ``findings_of`` runs them all and leaves
out what is only the consequence of an error told already.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.dance.checks.chair import seated
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
    weight, free_foot, walls, total, tag_length, place, side, arms, seated, not_stated,
)  # fmt: skip
CAUSES = frozenset(
    ("count-missing", "count-twice", "steps-per-count", "section-length", "section-number", "word", "foot-missing",
    "direction-missing",
     "unread")
)  # fmt: skip
# A check whose finding would only repeat the cause named here.
AFTER = {
    "free-foot": CAUSES | {"weight", "seated"}, "walls": CAUSES | {"facing", "weight", "seated"},
    "total": frozenset(("section-length", "section-number", "count-missing", "count-twice")),
    "side": CAUSES | {"weight"},
    "tag-length": frozenset(("count-missing", "count-twice")),
}  # fmt: skip
NEAR_LINES = 4


def findings_of(
    dance: Dance, lines: Mapping[str, int] | None = None, told: Iterable[Finding] = ()
) -> tuple[Finding, ...]:
    """Run all checks; ``told`` are findings made already, whose consequences are left out."""
    found: list[Finding] = list(told)
    for check in CHECKS:
        for finding in check(dance, lines or {}):
            errors = [f for f in found if f.severity == "error"]
            if any(f.kind in AFTER.get(finding.kind, ()) for f in errors):
                continue
            if finding.kind == "weight" and any(f.kind in CAUSES and _near(f, finding) for f in errors):
                continue
            found.append(finding)
    return tuple(found)


def _near(cause: Finding, finding: Finding) -> bool:
    """Return whether a finding stands within a few lines behind its possible cause."""
    return cause.line is not None and finding.line is not None and 0 <= finding.line - cause.line <= NEAR_LINES
