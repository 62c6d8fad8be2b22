"""Fit: the ways to lay the dance on its song, what she decides about them, one of them chosen, played and danced."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

from softshoe.fit.pins import Pins, WallPin
from softshoe.studio.failing import MissingError
from softshoe.studio.laying import laid, runs_view, walls_view
from softshoe.studio.table import Page, Way

if TYPE_CHECKING:
    from softshoe.fit.lay import FitResult
    from softshoe.fit.run import Run
    from softshoe.music.songmap import SongMap
    from softshoe.studio.asking import Asked


@dataclass(frozen=True, slots=True)
class Pin:
    """One more decision. ``free`` undoes what was decided: about this wall, or about everything where none is named.

    wall, counts, tag : this wall restarts after so many counts (None: it does not), with a tag of so many (0: none)
    allow : "tags", "restarts" or "bridges": new ones of this kind, yes or no
    """

    wall: int | None = None
    counts: int | None = None
    tag: int = 0
    free: bool = False
    start_s: float | None = None
    end_s: float | None = None
    beats_per_count: float | None = None
    allow: dict[str, bool] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Steps:
    """How many decisions to take back; under 0, to make again."""

    back: int


@dataclass(frozen=True, slots=True)
class Choice:
    """The number of a run among those offered."""

    run: int


def values(asked: Asked) -> dict[str, object]:
    """Return whether there is a song to lay the dance on."""
    draft = asked.desk.draft(asked.dance)
    return {"song": asked.desk.works.of(asked.dance).song, "at": draft.tip}


def runs(asked: Asked) -> dict[str, Any]:
    """Tell the runs to choose from, what was decided, and which run was chosen."""
    work = asked.desk.works.of(asked.dance)
    words, _, found = _found(asked)
    return {
        **runs_view(words, found),
        "title": asked.desk.kept_song(asked.dance).title,
        "chosen": asked.desk.chosen_run(asked.dance, found.runs),
        "pins": _pins(work.pins),
        "pinned": work.holding,
        "unpinned": len(work.pinned) - work.holding,
    }


def walls(asked: Asked) -> dict[str, Any]:
    """Tell one run count by count."""
    words, song, found = _found(asked)
    return walls_view(words, song, _one(found, asked.query.get("run", "0")))


def pin(asked: Asked) -> dict[str, Any]:
    """Heed a decision: it holds, and the rest is solved around it. Nothing is changed where it can't hold."""
    work, desk = asked.desk.works.of(asked.dance), asked.desk
    pins = decided(asked.json(Pin), work.pins, desk.dance(asked.dance).counts)
    laid(desk.words(asked.dance), desk.song_map(asked.dance), pins)
    desk.works.put(asked.dance, work.pinning(pins))
    return runs(asked)


def back(asked: Asked) -> dict[str, Any]:
    """Take decisions back, or make them again."""
    work = asked.desk.works.of(asked.dance)
    asked.desk.works.put(asked.dance, work.unpinned(asked.json(Steps).back))
    return runs(asked)


def choose(asked: Asked) -> dict[str, Any]:
    """Choose a run: the text and the run are kept in the repertoire, for everything that is made of them."""
    _, _, found = _found(asked)
    number = asked.json(Choice).run
    asked.desk.choose(asked.dance, _one(found, str(number)))
    return {"chosen": number}


def decided(said: Pin, pins: Pins, counts: int) -> Pins:
    """Return what is decided with one decision more about a dance of so many counts."""
    if said.free and said.wall is None:
        return Pins()
    if said.wall is not None:
        others = {wall: one for wall, one in pins.walls.items() if wall != said.wall}
        if said.free:
            return replace(pins, walls=others)
        extras = ((said.counts or counts, said.tag),) if said.tag else ()
        return replace(pins, walls=others | {said.wall: WallPin(said.counts, extras)})
    allowed = {name: yes for name, yes in said.allow.items() if name in ("tags", "restarts", "bridges")}
    return Pins(
        start_s=pins.start_s if said.start_s is None else said.start_s,
        end_s=pins.end_s if said.end_s is None else said.end_s,
        beats_per_count=said.beats_per_count or pins.beats_per_count,
        walls=pins.walls,
        **{"tags": pins.tags, "restarts": pins.restarts, "bridges": pins.bridges, **allowed},
    )


def _pins(pins: Pins) -> dict[str, Any]:
    walls = {
        wall: {"counts": one.counts, "tag": one.extras[0][1] if one.extras else 0} for wall, one in pins.walls.items()
    }
    return {"start": pins.start_s, "end": pins.end_s, "tags": pins.tags, "restarts": pins.restarts,
            "bridges": pins.bridges, "walls": walls}  # fmt: skip


def _found(asked: Asked) -> tuple[str, SongMap, FitResult]:
    desk = asked.desk
    words, song = desk.words(asked.dance), desk.song_map(asked.dance)
    return words, song, laid(words, song, desk.works.of(asked.dance).pins)


def _one(found: FitResult, said: str) -> Run:
    number = int(said) if said.isascii() and said.isdecimal() and len(said) < 4 else -1
    if not 0 <= number < len(found.runs):
        raise MissingError(
            "this run", "it is not there any more", "the dance or the song was changed", "load the page again"
        )
    return found.runs[number]


PAGE = Page("fit", "Fit", values, (
    Way("runs", runs), Way("walls", walls), Way("pin", pin, "POST"), Way("back", back, "POST"),
    Way("choose", choose, "POST"),
))  # fmt: skip
