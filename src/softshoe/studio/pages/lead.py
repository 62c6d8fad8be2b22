"""Lead: the live class, counted from the plan, with the song at any tempo, and a second device where she wants one."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from starlette.responses import StreamingResponse

from softshoe.studio.figure import number_in
from softshoe.studio.leading import figure_of, plan_of, versions_named
from softshoe.studio.second import second_of
from softshoe.studio.second_app import now_ms
from softshoe.studio.table import Page, Way

if TYPE_CHECKING:
    from starlette.requests import Request
    from starlette.responses import Response

    from softshoe.studio.asking import Asked
    from softshoe.studio.desk import Desk


@dataclass(frozen=True, slots=True)
class Led:
    """What the leading page does now: since ``at`` [ms of the studio's clock] the song is at ``pos`` [s] and goes on
    at ``rate``; ``loop`` is what comes again and again [s], empty for nothing; ``ahead`` are counts still counted in.
    """

    version: str
    running: bool
    pos: float
    at: float
    rate: float
    loop: tuple[float, ...] = ()
    ahead: int = 0
    step: float = 0.6


def values(asked: Asked) -> dict[str, object]:
    """Return the versions that can be led."""
    return {"versions": versions_named(asked.desk, asked.dance)}


def plan(asked: Asked) -> dict[str, Any]:
    """Tell the plan of the class."""
    return plan_of(asked.desk, asked.dance, asked.query.get("version", ""))


def figure(asked: Asked) -> dict[str, Any]:
    """Tell frames of the figure: the query says of which version, motion and counts."""
    first, last = (number_in(asked.query.get(name, ""), name) for name in ("first", "last"))
    version, motion = asked.query.get("version", ""), asked.query.get("motion", "")
    return figure_of(asked.desk, asked.dance, version, motion, first, last)


def clock(_: Asked) -> dict[str, float]:
    """Tell the studio's clock."""
    return {"now": now_ms()}


def led(asked: Asked) -> dict[str, int]:
    """Tell second devices what is led now."""
    said = asked.json(Led)
    second = second_of(asked.desk)
    second.told.say({"dance": asked.dance, **{name: getattr(said, name) for name in Led.__dataclass_fields__}})
    return {"hear": second.told.hearers}


def second(asked: Asked) -> dict[str, Any]:
    """Tell how it stands with second devices."""
    return second_of(asked.desk).shown()


def second_in(asked: Asked) -> dict[str, Any]:
    """Let a second device in: listen to the network and make a code."""
    second_of(asked.desk).open()
    return second_of(asked.desk).shown()


def second_away(asked: Asked) -> dict[str, Any]:
    """Send all second devices away and listen no more."""
    second_of(asked.desk).close()
    return second_of(asked.desk).shown()


async def asked_for(_: Request, desk: Desk) -> Response:
    """Stream what second devices ask for."""
    return StreamingResponse(second_of(desk).asked.events(), media_type="text/event-stream")


PAGE = Page("lead", "Lead", values, (
    Way("plan", plan), Way("figure", figure), Way("clock", clock), Way("led", led, "POST"), Way("second", second),
    Way("second/in", second_in, "POST"), Way("second/away", second_away, "POST"), Way("asked", asked_for),
))  # fmt: skip
