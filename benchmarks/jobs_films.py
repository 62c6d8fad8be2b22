"""A kind of long work for benchmarks/jobs.py: a short film, importable by name so that a worker can make it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from softshoe.jobs import media, values
from softshoe.jobs.kinds import Place, Plan
from softshoe.jobs.step import Step

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

CARD_S = 1.0


def film(asked: Mapping[str, Any], place: Place) -> Plan:
    """Read, take the song's map, fit, film."""
    at = place.folder
    dance, song, run = at / "dance.json", at / "song.json", at / "run.json"
    left = (at / "film.mp4", at / "film.vtt", at / "film-chapters.vtt")
    steps = (
        Step("read", "Reading", values.read, {}, (Path(asked["sheet"]),), (dance,), hint_s=0.5),
        Step("listen", "Listening", values.listen, {"said": {}}, (Path(asked["song"]),), (song,), hint_s=0.5),
        Step("fit", "Fitting", values.fit, {}, (dance, song), (run,), ("read", "listen"), hint_s=0.5),
        Step("film", "Filming", short, {"sound": "groove", "kind": "seated"}, (dance, song, run), left, ("fit",),
             hint_s=20, apart=True),
    )  # fmt: skip
    return Plan(steps, at, left)


def short(step: Step, tell: Callable[[float], None]) -> None:
    """Film the dance with a short card."""
    media.CARD_S = CARD_S
    media.dance_film(step, tell)
