"""Events of one section put into plain words, and these made into items of the section: one line a count."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Any, NamedTuple

from softshoe.dance.document import action_from_json
from softshoe.wording.outline import sorted_lines
from softshoe.wording.write_book import book
from softshoe.wording.write_stretch import stretch_of
from softshoe.wording.write_units import Planner

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from softshoe.dance.action import Action, Span
    from softshoe.wording.parts import Item

    Json = Mapping[str, Any]

PLAIN = "large"  # the style that neither folds nor names: one count a row


class Place(NamedTuple):
    """Where in the sheet an event was told."""

    line: int
    span: Span


def actions_of(events: Sequence[Json]) -> tuple[Action, ...]:
    """Return the actions of events. Raises ValueError where a word is none of the dance events."""
    return tuple(map(action_from_json, events))


def plain_lines(actions: Sequence[Action], counts: int) -> list[tuple[int, str]]:
    """Return the words of each count, hands that lie over it on a line of their own: (count, line)."""
    stretch = stretch_of("section 1", actions, start=0, counts=counts)
    out: list[tuple[int, str]] = []
    for unit in Planner(stretch, book("en", PLAIN), set(), half=4).units():
        out.append((unit.first, f"{unit.label} {unit.words}"))
        out += [(unit.first, unit.arms)] if unit.arms else []
        out += [(unit.first, f"{unit.first} {over}") for over in unit.over]
    return out


def plain_items(events: Sequence[Json], counts: int, places: Mapping[int, Place]) -> list[Item]:
    """Return the items of a section that plain words make, each in the place where its count was told.

    Raises ValueError or KeyError where the events can't be put into words.
    """
    lines = plain_lines(actions_of(events), counts)
    found = _items(tuple(words for _, words in lines))
    return [_placed(item, places[lines[item.line - FIRST][0]]) for item in found]


FIRST = 3  # the line of the first count below a title


@lru_cache(maxsize=256)
def _kept(lines: tuple[str, ...]) -> tuple[Item, ...]:
    blocks = sorted_lines("\n".join(("Plain", "", *lines)), unit=8).blocks
    return tuple(item for block in blocks for item in block.items)


def _items(lines: tuple[str, ...]) -> list[Item]:
    return [item.moved(0, 0) for item in _kept(lines)]


def _placed(item: Item, place: Place) -> Item:
    """Return the item with all its words in one place of the sheet."""
    start, end = place.span

    room, last = max(1, end - start), len(item.tokens) - 1
    at = [start + min(k, room - 1) for k in range(last + 1)]
    item.tokens = [
        t._replace(start=at[k], end=end if k == last else at[k] + 1, line=place.line) for k, t in enumerate(item.tokens)
    ]
    item.heads, item.line = [], place.line
    if item.label is not None:
        item.label = item.label._replace(start=start, end=start, line=place.line)
    return item
