"""The report: what was found in the sheet and the song, how sure that is, what to watch for, and how to correct it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from softshoe.adapt.cautions import cautions
from softshoe.render.page import listed
from softshoe.render.report_balance import sides
from softshoe.render.report_rows import (
    SEVERITY_WORDS,
    caution_rows,
    finding_rows,
    sure_rows,
    version_parts,
    wall_rows,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.adapt.version import Version
    from softshoe.dance.dance import Dance
    from softshoe.errors import Finding
    from softshoe.fit.run import Run
    from softshoe.music.songmap import SongMap

WHOLE = 100.0
LICENCE = (
    "Playing a recording to a class, and putting a film or track with a recording where others can get it, can need "
    "licences where you live: ask the hall, or whoever licenses music there. What this folder carries unless you asked "
    "for the song is a plain rhythm of our own, and it is free to share."
)


@dataclass(frozen=True, slots=True)
class Sources:
    """The names of what was read, and the sheet's lines as written."""

    sheet_name: str = "sheet.txt"
    song_name: str = ""
    lines: Sequence[str] = ()


def report_html(
    dance: Dance, run: Run | None = None, song: SongMap | None = None, versions: Sequence[Version] = (), *,
    sources: Sources | None = None,
) -> str:  # fmt: skip
    """Return the report as a page for the browser; every part that is missing is left out."""
    from softshoe.render.html import page_html

    told = sources or Sources()
    findings = (*dance.findings, *(song.findings if song else ()))
    table = cautions()
    return page_html("report.html", {
        "title": dance.title or "A dance without a name", "verdict": verdict(dance, findings, run),
        "sources": told,
        "findings": finding_rows(dance.findings, told.lines),
        "heard": finding_rows(song.findings, (), whole="The whole song") if song else (),
        "run": run, "walls": wall_rows(run, dance_counts=dance.counts) if run else (),
        "score_parts": sorted(run.score.parts.items(), key=lambda part: part[1]) if run else (),
        "sure": sure_rows(song) if song else (), "kept": dance.kept,
        "versions": version_parts(dance, versions), "sides": sides(dance),
        "cautions": caution_rows(dance, versions), "stop": table["stop_signs"], "warm": table["warmup"],
        "seat": table["sit_seat"] if dance.seated else None, "ask": table["stop_signs"].always_say,
        "severity_words": SEVERITY_WORDS, "licence": LICENCE,
    })  # fmt: skip


def verdict(dance: Dance, findings: Sequence[Finding], run: Run | None) -> str:
    """Return the report in one or two sentences."""
    mend = sum(f.severity == "error" for f in findings)
    check = sum(f.severity == "warning" for f in findings)
    said = [_things(mend, "to mend"), _things(check, "to check")]
    words = listed([part for part in said if part])
    sheet = f"There is {words}." if words and (mend or check) == 1 else f"There are {words}." if words else ""
    sound = "The sheet is sound: nothing needs mending." if not mend else ""
    fit = _fit_words(run, dance) if run else ""
    return " ".join(filter(None, (sheet, sound, fit)))


def _things(number: int, what: str) -> str:
    return f"{number} thing{'' if number == 1 else 's'} {what}" if number else ""


def _fit_words(run: Run, dance: Dance) -> str:
    whole = sum(w.counts >= dance.counts for w in run.walls)
    walls = f"{len(run.walls)} walls, {whole} of them whole"
    return f"On this song the dance runs {walls}; the fit has {run.score.total:.0f} of {WHOLE:.0f} points."
