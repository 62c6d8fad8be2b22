"""The sheets that slips are planted in: every sheet of the tests that is sound, in whatever hand it is written."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from softshoe.dance.footwork import wall_events
from softshoe.wording.read import read
from softshoe.wording.source import sheet_text

if TYPE_CHECKING:
    from softshoe.dance.action import Event
    from softshoe.dance.dance import Dance
    from softshoe.errors import Finding

SHEETS = Path(__file__).parents[1] / "sheets"
FOLDERS = ("sound", "own", "odd", "hand_a/sound", "hand_b/sound", "hand_c/sound")
LABEL = re.compile(r"^[\s|•*\-]*(?:counts?\s+|ct\s+)?\(?(\d+)(?:\s*(?:-|–|to|&|,|\+|a)\s*(\d+))?(?=[\s:.|)&,-])", re.I)
COPIES = re.compile(r"\b(?:repeat|rpt|same|mirror|again|as|also|likewise|reverse|x ?\d|twice)\b", re.I)


@dataclass(frozen=True, slots=True)
class Slip:
    """One error slipped into a sound sheet: where it stands, of what kind, and how grave it must be told."""

    sheet: str
    way: str
    kind: str
    text: str
    line: int | None
    severity: str = "error"
    also: frozenset[str] = frozenset()  # kinds that may be called an error as well
    or_lines: tuple[int, ...] = ()  # other lines on which it may be told


@dataclass(frozen=True)
class Sheet:
    """A sound sheet, its lines, and the dance it holds."""

    name: str
    text: str
    dance: Dance

    @cached_property
    def lines(self) -> list[str]:
        return self.text.split("\n")

    @cached_property
    def events(self) -> list[tuple[Event, str]]:
        """The events of a wall, each with what bears before it."""
        out, weight = [], self.dance.start_weight.value
        for event in wall_events(self.dance):
            out.append((event, weight))
            weight = event.weight.value
        return out

    @cached_property
    def on_line(self) -> dict[int, list[tuple[Event, str]]]:
        """The events by the line they are written on."""
        out: dict[int, list[tuple[Event, str]]] = {}
        for event, before in self.events:
            out.setdefault(event.action.line, []).append((event, before))
        return out

    @cached_property
    def copied(self) -> bool:
        """Whether any line copies others."""
        return any(COPIES.search(line) for line in self.lines)

    @cached_property
    def first_steps(self) -> int:
        """The line of the first section."""
        return min((s.line for s in self.dance.sections if s.line), default=1)

    @cached_property
    def body_end(self) -> int:
        """The last line of the wall's steps."""
        return max(self.on_line)

    @cached_property
    def columns(self) -> bool:
        """Whether feet and arms, or sections, stand in columns or blocks of their own."""
        return any("|" in line or re.match(r"\W*(?:feet|arms|hands)\b", line, re.I) for line in self.lines)

    def has(self, *kinds: str) -> bool:
        """Whether the sheet speaks of tags, restarts or endings at all."""
        words = self.text.casefold()
        return any(kind in words for kind in kinds)

    def with_line(self, number: int, new: str | None) -> str:
        """The text with another line ``number``; None takes it out."""
        lines = list(self.lines)
        lines[number - 1 : number] = [] if new is None else [new]
        return "\n".join(lines)

    def with_after(self, number: int, new: str) -> str:
        """The text with a line more behind line ``number``."""
        lines = list(self.lines)
        lines.insert(number, new)
        return "\n".join(lines)

    def with_end(self, new: str) -> str:
        """The text with lines more at its end."""
        return self.text.rstrip("\n") + "\n" + new + "\n"


@cache
def pool() -> tuple[Sheet, ...]:
    """Every sound sheet that is read without an error."""
    out = []
    for folder in FOLDERS:
        for path in sorted((SHEETS / folder).glob("*.txt")):
            dance = read(sheet_text(path))
            if not any(f.severity == "error" for f in dance.findings):
                name = f"{folder.partition('/')[0]}/{path.stem}"
                out.append(Sheet(name, sheet_text(path), dance))
    return tuple(out)


def found(slip: Slip, findings: tuple[Finding, ...]) -> bool:
    """Whether a slip is told: its kind, on its line or one beside it, at least as gravely."""
    rank = ("note", "warning", "error")
    near = None if slip.line is None else (slip.line - 1, slip.line, slip.line + 1, *slip.or_lines)
    return any(
        f.kind == slip.kind and (near is None or f.line in near) and rank.index(f.severity) >= rank.index(slip.severity)
        for f in findings
    )


def accused(slip: Slip, findings: tuple[Finding, ...]) -> list[str]:
    """What else is called an error, of another kind."""
    return [
        f"{f.kind} on line {f.line}"
        for f in findings
        if f.severity == "error" and f.kind != slip.kind and f.kind not in slip.also
    ]
