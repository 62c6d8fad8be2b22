"""One slip gets one error, as near to its cause as can be said: what only follows from another finding is left out.

A line that is lost, doubled or not understood may have held a turn or a change of weight. So the facings behind it,
the first clash of feet, and the sums over the whole dance are told only when that line is mended.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from softshoe.dance.dance import Dance
    from softshoe.errors import Finding

LOST = frozenset((
    "count-missing", "count-twice", "steps-per-count", "section-length", "word", "foot-missing", "direction-missing",
))  # fmt: skip
MISLAID = LOST | {"section-number"}  # steps may stand on other counts than was meant
NEAR_LINES = 4


@dataclass(frozen=True, slots=True)
class Rule:
    """Findings of ``kind`` follow from those of ``causes`` that stand where ``place`` says."""

    kind: str
    causes: frozenset[str]
    place: Callable[[Finding, Finding, Dance], bool]


def anywhere(_cause: Finding, _finding: Finding, _dance: Dance) -> bool:
    """The cause may stand on any line."""
    return True


def before(cause: Finding, finding: Finding, _dance: Dance) -> bool:
    """The cause stands above the finding, or on its line."""
    return cause.line is not None and finding.line is not None and cause.line <= finding.line


def near(cause: Finding, finding: Finding, dance: Dance) -> bool:
    """The cause stands a few lines above the finding, or on its line."""
    return before(cause, finding, dance) and (finding.line or 0) - (cause.line or 0) <= NEAR_LINES


def on_its_line(cause: Finding, finding: Finding, _dance: Dance) -> bool:
    """Both stand on one line."""
    return cause.line is not None and cause.line == finding.line


def in_its_section(cause: Finding, finding: Finding, dance: Dance) -> bool:
    """Both stand in one section."""

    def section(line: int | None) -> int:
        return sum(s.line <= (line or 0) for s in dance.sections)

    return cause.line is not None and section(cause.line) == section(finding.line)


def beside_its_section(cause: Finding, finding: Finding, dance: Dance) -> bool:
    """The cause stands in the finding's section or next to it: in a half that it is compared with."""

    def section(line: int | None) -> int:
        return sum(s.line <= (line or 0) for s in dance.sections)

    return abs(section(cause.line) - section(finding.line)) < 2


def earlier_in_its_section(cause: Finding, finding: Finding, dance: Dance) -> bool:
    """Both stand in one section, the cause above."""
    return in_its_section(cause, finding, dance) and (cause.line or 0) < (finding.line or 0)


TURNED = LOST | {"weight", "seated", "facing", "total"}
RULES = (
    Rule("free-foot", LOST | {"weight", "seated", "total"}, anywhere),
    Rule("walls", TURNED, anywhere),
    Rule("total", frozenset(("section-length", "section-number", "count-missing", "count-twice")), anywhere),
    Rule("side", LOST, beside_its_section),
    Rule("side", frozenset(("weight",)), anywhere),
    Rule("tag-length", frozenset(("count-missing", "count-twice")), before),
    Rule("facing", LOST | {"weight"}, before),
    Rule("weight", MISLAID, near),
    Rule("promise", frozenset(("section-length", "total", "count-missing", "count-twice")), anywhere),
    Rule("place", frozenset(("section-length", "total")), anywhere),
    Rule("section-length", frozenset(("count-missing", "count-twice", "section-number")), in_its_section),
    Rule("count-twice", frozenset(("count-twice",)), earlier_in_its_section),
    Rule("count-missing", frozenset(("count-twice",)), in_its_section),
    Rule("count-missing", frozenset(("section-number",)), in_its_section),
    Rule("section-number", frozenset(("section-length", "count-twice", "count-missing")), before),
    Rule("arms", frozenset(("count-twice", "count-missing", "section-length", "steps-per-count")), in_its_section),
    Rule("direction-missing", frozenset(("word",)), on_its_line),
    Rule("steps-per-count", frozenset(("word", "count-twice")), on_its_line),
)  # fmt: skip


# What is summed over the whole dance is judged last, in this order.
SUMS = ("total", "side", "promise", "place", "walls", "free-foot")


def told_once(found: Iterable[Finding], dance: Dance) -> tuple[Finding, ...]:
    """Return the findings without consequences, and each kind of error once a line."""
    findings = list(found)
    kept: list[Finding] = [f for f in findings if f.severity != "error"]
    errors = [f for f in findings if f.severity == "error"]
    for finding in sorted(errors, key=lambda f: _turn(f, dance)):
        if not (_again(finding, kept) or _follows(finding, kept, dance)):
            kept.append(finding)
    clash = _first_clash_after_a_loss(kept)
    return tuple(f for f in findings if f is not clash and any(f is k for k in kept))


def _turn(finding: Finding, dance: Dance) -> tuple[int, float]:
    """Return when a finding is judged: line by line, a section's length at its end, the sums last."""
    line = finding.line or 0
    if finding.kind == "section-length":
        return 0, min((s.line - 0.5 for s in dance.sections if s.line > line), default=float("inf"))
    return (SUMS.index(finding.kind) + 1 if finding.kind in SUMS else 0), line


def _again(finding: Finding, kept: list[Finding]) -> bool:
    """Return whether this kind of error is told on this line already."""
    same = ((f.severity, f.kind, f.line) == (finding.severity, finding.kind, finding.line) for f in kept)
    return finding.line is not None and any(same)


def _follows(finding: Finding, kept: list[Finding], dance: Dance) -> bool:
    """Return whether an error follows from another that is told; a warning of a word costs its own line at most."""
    return any(
        cause.kind in rule.causes and rule.place(cause, finding, dance)
        for rule in RULES
        if rule.kind == finding.kind
        for cause in kept
        if cause.severity == "error" or (cause.kind == "word" and rule.place is on_its_line)
    )


def _first_clash_after_a_loss(findings: list[Finding]) -> Finding | None:
    """Return the first clash of feet behind a lost line, however far: until then it hides in the free foot."""
    errors = [f for f in findings if f.severity == "error" and f.line is not None]
    lost = [f.line or 0 for f in errors if f.kind in MISLAID]
    return next((f for f in errors if f.kind == "weight" and lost and (f.line or 0) >= min(lost)), None)
