"""Mends that are certain, applied to the sheet: a wall number, a total, a clock facing, a misspelled step.

A mend is applied only where the sheet read again has that error no more and no new one.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from softshoe.errors import WordingError
from softshoe.wording.read import read
from softshoe.wording.tongue import language_of

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance
    from softshoe.errors import Finding

# kind: what the mend offers, and where it goes on the line
CERTAIN = {
    "walls": (
        re.compile(r"Write (\d) walls?"),
        re.compile(r"(?<=walls: )\d|(?<=walls:)\d|\b(?:\d|one|two|four)(?=[\s-]*w(?:alls?)?\b)", re.I),
    ),
    "total": (
        re.compile(r"Write (\d+) counts"),
        re.compile(r"\d+(?=[\s-]*(?:counts?|cts?|c)\b)|(?<=counts: )\d+|(?<=count: )\d+", re.I),
    ),
    "facing": (re.compile(r"Write (\d+:\d\d)"), re.compile(r"\d{1,2}:\d\d")),
    "word": (re.compile(r"Did you mean “(.+?)”"), None),
}
ONE_WALL = re.compile(r"\b(1[\s-]wall)s\b", re.IGNORECASE)
MORE_WALLS = re.compile(r"\b([24] wall)\b", re.IGNORECASE)
UNKNOWN = re.compile(r"“(.+?)” is no step")


def mended(text: str, dance: Dance) -> str | None:
    """Return the sheet with its certain mends, or None when there is none to apply."""
    out, english = text, language_of(text) == "en"
    for finding in dance.findings:
        if finding.kind == "word" and not english:
            continue  # the word offered is English
        if finding.kind in CERTAIN and finding.line is not None and finding.mend is not None:
            tried = _applied(out, finding)
            if tried is not None and _better(out, tried):
                out = tried
    return out if out != text else None


def _applied(text: str, finding: Finding) -> str | None:
    """Return the text with one finding's mend on its line; None where its place isn't plain."""
    offer, place = CERTAIN[finding.kind]
    offered = offer.search(finding.mend or "")
    lines = text.split("\n")
    if offered is None or finding.line is None or not 0 < finding.line <= len(lines):
        return None
    line = lines[finding.line - 1]
    if place is None:
        unknown = UNKNOWN.search(finding.message)
        place = re.compile(rf"\b{re.escape(unknown[1])}\b") if unknown else None
    found = place.findall(line) if place is not None else []
    if place is None or len(found) != 1:
        return None
    new = place.sub(offered[1], line)
    lines[finding.line - 1] = ONE_WALL.sub(r"\1", new) if offered[1] == "1" else MORE_WALLS.sub(r"\1s", new)
    return "\n".join(lines)


def _better(before: str, after: str) -> bool:
    """Return whether the mended sheet has fewer findings and no error that was not there."""
    try:
        old, new = read(before).findings, read(after).findings
    except WordingError:
        return False
    errors = {(f.kind, f.line) for f in old if f.severity == "error"}
    return len(new) < len(old) and {(f.kind, f.line) for f in new if f.severity == "error"} <= errors
