"""The pages of the studio, in the order of the work, and the addresses below each.

A page is a module of ``pages`` with the same name as its template and its script in ``data/studio``; it is added here
by one row.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Mapping

    from softshoe.studio.asking import Asked

BODY = 2_000_000  # bytes of a request, where an address says nothing else
Work = Callable[..., Any]


@dataclass(frozen=True, slots=True)
class Way:
    """An address below a page's own.

    work : takes what was Asked and returns a Response or anything that JSON can hold; runs in a thread of its own.
        An async function is given the Request and the Desk instead: it streams.
    path : below the page's address, as in "song/{song}"
    most : bytes that its body may have
    """

    path: str
    work: Work
    method: str = "GET"
    most: int = BODY


@dataclass(frozen=True, slots=True)
class Page:
    """A page: ``values`` returns what its template shows, ``ways`` are the addresses that its script asks."""

    name: str
    title: str
    values: Callable[[Asked], Mapping[str, object]]
    ways: tuple[Way, ...] = ()


@dataclass(frozen=True, slots=True)
class Place:
    """A row of the table. ``says`` is what is done there, for the beginning; ``of_dance``: it works on one dance and
    lies at /dance/NAME/…; ``in_frame``: it is one of the places of the work, named in the frame of every page.
    """

    name: str
    says: str = ""
    of_dance: bool = True
    in_frame: bool = True

    @property
    def address(self) -> str:
        """Where it lies; ``{dance}`` stands for the dance's identity."""
        return f"/dance/{{dance}}/{self.name}" if self.of_dance else f"/{self.name}".replace("/start", "/")

    @property
    def page(self) -> Page:
        """The page itself, its module loaded."""
        page: Page = import_module(f"softshoe.studio.pages.{self.name}").PAGE
        return page


PLACES = (
    Place("start", of_dance=False, in_frame=False),
    Place("write", "type or paste your step sheet; it is read while you type"),
    Place("listen", "drop your song; its counts are heard, and your word wins"),
    Place("fit", "lay the dance on the song, wall by wall"),
    Place("bodies", "choose versions by plain questions, side by side"),
    Place("teach", "read and change the lesson, order films, tracks and sheets"),
    Place("lead", "the live class: count, move and wall on a big screen"),
    Place("keep", "find, compare and take in dances; back up what you have", of_dance=False),
    Place("keys", of_dance=False, in_frame=False),
)
# Modules of the studio whose ``WAYS`` several pages ask; they lie at /dance/NAME/PATH.
SHARED = ("figure",)
