"""Lengths and places: sections add up, a tag fills its counts, and stands where the dance has a count."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.dance.checks.given import extras
from softshoe.errors import Finding

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from softshoe.dance.dance import Dance


def total(dance: Dance, lines: Mapping[str, int]) -> Iterator[Finding]:
    """The sections add up to the counts stated.

    "32 counts" over five sections of eight.
    """
    written = sum(int(section.length.n) for section in dance.sections)
    if "counts" in lines and dance.sections and written != dance.counts:
        yield Finding(
            "error", "total", lines["counts"], None,
            f"The sections add up to {written} counts; {dance.counts} are stated.",
            f"Write {written} counts, or look for a section too many or too few.",
        )  # fmt: skip


def tag_length(dance: Dance, lines: Mapping[str, int]) -> Iterator[Finding]:
    """A tag's or ending's steps fill the counts stated for it.

    "Tag (8 counts)" over "1-4 sway right, left, right, left".
    """
    del lines
    for extra in extras(dance):
        if not extra.actions:
            continue
        filled = max(action.at.whole for action in extra.actions)
        if filled != extra.counts:
            yield Finding(
                "error", "tag-length", extra.line, None,
                f"{extra.counts} counts are stated here; the steps fill {filled}.",
                f"Write {filled} counts, or fill the others.",
            )  # fmt: skip


def place(dance: Dance, lines: Mapping[str, int]) -> Iterator[Finding]:
    """A tag, restart or ending is placed at a count that the dance has.

    "Restart after 40 counts" in a dance of 32.
    """
    del lines
    named = [("tag", t.after_count, t.line) for t in dance.tags]
    named += [("restart", r.after_count, r.line) for r in dance.restarts]
    named += [("ending", e.after_count, e.line) for e in dance.endings]
    for what, after, line in named:
        if not 0 < after <= dance.counts:
            yield Finding(
                "error", "place", line, None,
                f"The {what} is placed after count {after}; the dance has {dance.counts}.",
                "Name a count of the dance.",
            )  # fmt: skip
