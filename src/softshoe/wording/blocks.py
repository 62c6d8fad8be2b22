"""What a sheet's lines are sorted into: blocks (sections, tags, endings) with their items, and lines of other kinds."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from fractions import Fraction

    from softshoe.wording.headings import Heading
    from softshoe.wording.parts import Item
    from softshoe.wording.whole_ask import End

Role = Literal["title", "header", "heading", "place", "count", "event", "note", "filler", "passed", "kept", "mark"]
Paint = tuple[int, int, Role]  # characters from, to (not included), and what the reader took them for


@dataclass(slots=True)
class Block:
    """A section, tag or ending with its items; ``named`` sections have a heading of their own."""

    kind: str
    line: int
    text: str = ""
    heading: Heading | None = None
    items: list[Item] = field(default_factory=list)
    title: str = ""
    rest: tuple[str, int, int] | None = None  # words of the heading line, their line and start
    span: tuple[int, int] | None = None  # the characters of its heading
    told: End | None = None  # a tag or ending as the network tells it

    @property
    def last(self) -> Fraction | None:
        """The last count an item has come to; arms told below the steps do not go back behind them."""
        found = None
        for item in reversed(self.items):
            if item.label is not None:
                at = item.label.places[-1]
                found = at if found is None or at > found else found
                if item.limb != "arms":
                    break
        return found


@dataclass(slots=True)
class Outline:
    """The lines sorted. ``restarts`` are (line, words, index of the block it stands in, items before it)."""

    title: str = ""
    header: list[tuple[int, str]] = field(default_factory=list)
    blocks: list[Block] = field(default_factory=list)
    restarts: list[tuple[int, str, int, int]] = field(default_factory=list)
    kept: list[tuple[int, str]] = field(default_factory=list)
    notes: list[tuple[int, str]] = field(default_factory=list)
    loose: list[tuple[int, str]] = field(default_factory=list)
    paints: list[Paint] = field(default_factory=list)
    beyond: int | None = None  # where the lines begin that are too many to be read
