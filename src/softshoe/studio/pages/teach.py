"""Teach: the lesson read, changed and previewed; films, tracks and sheets ordered, and seen to come."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any
from urllib.parse import quote

from starlette.responses import FileResponse

from softshoe.adapt.version import KINDS
from softshoe.errors import SettingError
from softshoe.studio import lessons, orders
from softshoe.studio.chosen import on_song, own_of_wish, wishes
from softshoe.studio.figure import number_in
from softshoe.studio.following import SHOWN, Named, again_at, coming, stop_at
from softshoe.studio.leading import frames_of_part
from softshoe.studio.table import Page, Way

if TYPE_CHECKING:
    from starlette.responses import Response

    from softshoe.studio.asking import Asked

PARTS = {"films": "Films", "tracks": "Practice tracks", "sheet": "Sheets and pictures", "report": "The report"}
SOUNDS = {"groove": "the plain rhythm", "song": "the song itself", "voice": "the voice alone"}


@dataclass(frozen=True, slots=True)
class Words:
    """The words of the lesson."""

    words: str


@dataclass(frozen=True, slots=True)
class Minutes:
    """How long the lesson shall be, None for as long as is usual."""

    minutes: float | None


def values(asked: Asked) -> dict[str, object]:
    """Return what can be ordered, and for whom."""
    desk, uid = asked.desk, asked.dance
    every = [own_of_wish(wish) for wish in wishes(desk, uid)]
    own = [one.name for one in every if not one.plain]
    wanted = {one.kind for one in every if one.plain} or (set() if own else {"seated"})
    laid = on_song(desk, uid)
    return {"parts": PARTS, "kinds": [(kind, kind in wanted) for kind in KINDS], "own": own, "sounds": SOUNDS,
            "song": laid.title if laid and laid.recording else ""}  # fmt: skip


def lesson(asked: Asked) -> dict[str, Any]:
    """Tell the words of the lesson as she left them, and the lesson they make."""
    words = lessons.written(asked.desk, asked.dance)
    return {"words": words, **lessons.lesson_view(asked.desk, asked.dance, words)}


def wrote(asked: Asked) -> dict[str, Any]:
    """Keep the words of the lesson, and tell what they make."""
    words = asked.json(Words).words
    lessons.keep(asked.desk, asked.dance, words)
    return lessons.lesson_view(asked.desk, asked.dance, words)


def anew(asked: Asked) -> dict[str, Any]:
    """Write the lesson anew, of so many minutes; the words before are kept beside it."""
    words = lessons.anew(asked.desk, asked.dance, minutes=asked.json(Minutes).minutes)
    lessons.keep(asked.desk, asked.dance, words)
    return {"words": words, **lessons.lesson_view(asked.desk, asked.dance, words)}


def figure(asked: Asked) -> dict[str, Any]:
    """Tell frames of the figure: the query says which motion of the lesson and which counts."""
    first, last = (number_in(asked.query.get(name, ""), name) for name in ("first", "last"))
    motion = asked.query.get("motion", "")
    part = lessons.motion_of(asked.desk, asked.dance, motion)
    return frames_of_part(asked.desk.words(asked.dance), motion, part, first, last, "mirror")


def said(asked: Asked) -> Response:
    """Give out the sound of one part: the voice over the plain rhythm. It is said now, if it never was."""
    from softshoe.studio.spoken import part_of, spoken_file

    part = part_of(lessons.lesson_of(asked.desk, asked.dance), number_in(asked.path["part"], "part"))
    return FileResponse(spoken_file(asked.desk, part))


def order(asked: Asked) -> dict[str, Any]:
    """Order films, tracks, sheets."""
    said = asked.json(orders.Order)
    if not said.parts or set(said.parts) - set(PARTS) or set(said.kinds) - set(KINDS) or said.sound not in SOUNDS:
        raise SettingError("the order", "nothing was ordered", "what shall be made was not said",
                           "choose films, tracks, sheets or the report")  # fmt: skip
    return {"job": orders.ask(asked.desk, asked.dance, said)}


def jobs(asked: Asked) -> dict[str, Any]:
    """Tell what was ordered, the newest first, and what lies there made of this dance."""
    every = [orders.told_of(asked.desk, one) for one in reversed(orders.door_of(asked.desk).all())]
    ready = orders.made_of(asked.desk, asked.dance)
    return {
        "jobs": every,
        "made": [one | {"href": f"/dance/{asked.dance}/teach/made/{quote(one['name'])}"} for one in ready],
    }


def stop(asked: Asked) -> dict[str, Any]:
    """Stop a job; what is done of it stays."""
    stop_at(asked.desk, asked.json(Named).job)
    return jobs(asked)


def again(asked: Asked) -> dict[str, Any]:
    """Go on with a job that was stopped or failed."""
    again_at(asked.desk, asked.json(Named).job)
    return jobs(asked)


def made(asked: Asked) -> Response:
    """Give out a file that was made. Pages run no script here."""
    path = orders.made_file(asked.desk, asked.dance, asked.path["name"])
    return FileResponse(path, headers={"content-security-policy": SHOWN}, content_disposition_type="inline")


PAGE = Page("teach", "Teach", values, (
    Way("lesson", lesson), Way("words", wrote, "POST"), Way("anew", anew, "POST"), Way("figure", figure),
    Way("said/{part}", said),
    Way("order", order, "POST"), Way("jobs", jobs), Way("stop", stop, "POST"), Way("again", again, "POST"),
    Way("coming", coming), Way("made/{name}", made),
))  # fmt: skip
