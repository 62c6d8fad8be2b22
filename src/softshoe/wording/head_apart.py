"""A reading that dances what was told whole, beside the one told whole: they differ in the head, and in tags, alone.

Where the rules could not cut a sheet, they read all of its lines as its head: words of its steps promised endings,
hid restarts, made a seated dance a standing one. Told whole, it is known which lines are danced.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.wording.read_once import head_danced
from softshoe.wording.whole_weigh import unlike

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.reading import Reading
    from softshoe.wording.whole_ask import Part

HARD = ("inferred", "ambiguous")
FOR_AUTHORS = ("section-number", "section-length", "tag-length", "place", "promise", "facing")


def with_head(text: str, found: Reading, other: Reading, parts: Sequence[Part]) -> Reading:
    """Return a sheet with the head that stands beside what is danced, where a reading took steps for its head.

    ``other`` is the sheet told whole.
    """
    if not _only_head(found, other, parts) or not head_danced(text, parts):
        return found
    return _with_told(other, found)


def _only_head(found: Reading, other: Reading, parts: Sequence[Part]) -> bool:
    """Return whether two readings dance the same, the other one just so and without an error.

    What is the author's to mend is not mended for her; but what a header promises stands above the first step.
    """
    if any(f.severity == "error" for f in other.dance.findings) or len(other.dance.sections) != len(parts):
        return False
    first = parts[0].words.lines[0][2]
    hers = (f for f in found.dance.findings if f.severity == "error" and f.kind in FOR_AUTHORS)
    return all(f.kind == "promise" and (f.line or 0) > first for f in hers) and not any(
        unlike(reading.dance, parts) for reading in (found, other)
    )


def _with_told(other: Reading, found: Reading) -> Reading:
    """Return a reading with what another one, that dances the same, says of words that were hard to read."""
    hard = (f for f in found.dance.findings if f.kind in HARD and f not in other.dance.findings)
    return replace(other, dance=replace(other.dance, findings=(*other.dance.findings, *hard)))
