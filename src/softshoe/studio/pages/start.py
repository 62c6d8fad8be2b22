"""The beginning: a new dance, the demo dance, and what was last written at."""

from __future__ import annotations

from importlib.resources import files
from typing import TYPE_CHECKING

from starlette.responses import RedirectResponse

from softshoe.studio.desk import RECENT, title_of
from softshoe.studio.table import Page, Way

if TYPE_CHECKING:
    from starlette.responses import Response

    from softshoe.studio.asking import Asked


def values(asked: Asked) -> dict[str, object]:
    """Return the dances last written at: identity and title."""
    drafts = asked.desk.drafts
    recent = [(uid, title_of(drafts.of(uid).words())) for uid in drafts.newest(RECENT)]
    return {"recent": recent}


def new(asked: Asked) -> Response:
    """Begin an empty dance and go to it."""
    return RedirectResponse(f"/dance/{asked.desk.new()}/write", 303)


def demo(asked: Asked) -> Response:
    """Go to the demo dance, with the tour."""
    words = (files("softshoe") / "data" / "demo" / "sheet.txt").read_text("utf-8")
    return RedirectResponse(f"/dance/{asked.desk.found(words)}/write#tour", 303)


PAGE = Page("start", "Begin", values, (Way("new", new, "POST"), Way("demo", demo, "POST")))
