"""Steps that make pages: the sheet to print and to read on the screen, the report, the page that shows it all."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING, TypedDict

from softshoe.files import write_whole
from softshoe.jobs import values

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from softshoe.adapt.version import Kind, Version
    from softshoe.errors import Finding
    from softshoe.jobs.step import Step
    from softshoe.render.page import Paper
    from softshoe.render.sheet_content import Around

MIXED_ROOM: tuple[Kind, ...] = ("standing", "supported", "seated", "arms")
MOST = 3


class Leaf(TypedDict):
    """What every printed page is told of the paper it is for."""

    paper: Paper
    bound: bool


def sheet(step: Step, _: Callable[[float], None]) -> None:
    """Set the sheet as a tagged PDF in one edition."""
    from softshoe.render.sheet import sheet_pdf

    folder = step.leaves[0].parent
    how = step.settings
    dance, run = values.the_dance(folder), values.the_run_if_any(folder)
    around = _around(folder, how["made_on"])
    page = sheet_pdf(dance, run, edition=how["edition"], **_leaf(step), around=around)
    write_whole(step.leaves[0], page)


def sheet_words(step: Step, _: Callable[[float], None]) -> None:
    """Write the sheet as a page for the browser, as plain text, and as braille."""
    from softshoe.fit.on_song import on_song
    from softshoe.render.sheet import sheet_html, sheet_text
    from softshoe.render.sheet_braille import brf
    from softshoe.render.sheet_text import care_text

    page, words, cells = step.leaves
    dance, run = values.the_dance(page.parent), values.the_run_if_any(page.parent)
    write_whole(page, sheet_html(dance, run, around=_around(page.parent, step.settings["made_on"])))
    text = sheet_text(on_song(dance, run) if run else dance) + care_text(dance)
    write_whole(words, text)
    write_whole(cells, brf(text))


def leader(step: Step, _: Callable[[float], None]) -> None:
    """Set the one page to lead from."""
    from softshoe.render.sheet_leader import leader_pdf

    folder = step.leaves[0].parent
    page = leader_pdf(values.the_dance(folder), values.the_run_if_any(folder), **_leaf(step))
    write_whole(step.leaves[0], page)


def everyone(step: Step, _: Callable[[float], None]) -> None:
    """Set the versions for a mixed room: side by side, in large print one under the other."""
    from softshoe.adapt.adapt import adapt
    from softshoe.render.sheet_everyone import everyone_pdf

    folder = step.leaves[0].parent
    dance = values.the_dance(folder)
    others = [adapt(dance, kind) for kind in MIXED_ROOM if kind != ("seated" if dance.seated else "standing")]
    page = everyone_pdf(dance, others[:MOST], values.the_run_if_any(folder), **_leaf(step),
                        edition=step.settings.get("edition", "normal"))  # fmt: skip
    write_whole(step.leaves[0], page)


def pictures(step: Step, _: Callable[[float], None]) -> None:
    """Set a picture for each count of each section."""
    from softshoe.render.look import in_guise
    from softshoe.render.look_guise import guise_of
    from softshoe.render.sheet_pictures import pictures_pdf

    with in_guise(guise_of(**step.settings.get("guise", {}))):
        page = pictures_pdf(values.the_dance(step.leaves[0].parent), **_leaf(step))
    write_whole(step.leaves[0], page)


def version_pictures(step: Step, _: Callable[[float], None]) -> None:
    """Set the pictures of one version, with what holds the dancer."""
    from softshoe.render.look import in_guise
    from softshoe.render.look_guise import guise_of
    from softshoe.render.sheet_content import VERSION_NAMES
    from softshoe.render.sheet_pictures import pictures_pdf
    from softshoe.teach.parts import SUPPORTS

    version = values.version_of(step)
    under = f"For {version.abilities.name}" if "own" in step.settings else VERSION_NAMES[version.kind]
    with in_guise(guise_of(**step.settings.get("guise", {}))):
        page = pictures_pdf(version.dance, support=SUPPORTS.get(version.kind), under=under, **_leaf(step))
    write_whole(step.leaves[0], page)


def floor(step: Step, _: Callable[[float], None]) -> None:
    """Set the floor map of the whole dance."""
    from softshoe.render.sheet_floor import floor_pdf

    write_whole(step.leaves[0], floor_pdf(values.the_dance(step.leaves[0].parent), **_leaf(step)))


def _leaf(step: Step) -> Leaf:
    """The paper a page is printed on, and whether it goes into a binder."""
    return {"paper": step.settings["paper"], "bound": step.settings.get("bound", False)}


def report(step: Step, _: Callable[[float], None]) -> None:
    """Write the report."""
    from softshoe.adapt.shown import shown_smaller
    from softshoe.render.report import Sources, report_html
    from softshoe.wording.source import sheet_text

    folder = step.leaves[0].parent
    dance = values.the_dance(folder)
    names = step.settings
    told = Sources(names["sheet"], names["song"], tuple(sheet_text(step.reads[-1]).splitlines()))
    shown = [version for version in values.versions(dance).values() if version.changes]  # an unchanged one is the dance
    smaller = [*shown_smaller(dance), *(one for version in shown for one in _smaller_in(version))]
    dance = replace(dance, findings=(*dance.findings, *values.fit_findings(folder), *smaller))
    page = report_html(dance, values.the_run(folder), values.the_song(folder), shown, sources=told)
    write_whole(step.leaves[0], page)


def _smaller_in(version: Version) -> Iterator[Finding]:
    """What pictures and films of a version show smaller than it says, with the version's name."""
    from softshoe.adapt.shown import shown_smaller
    from softshoe.render.sheet_content import VERSION_NAMES
    from softshoe.teach.parts import SUPPORTS

    for one in shown_smaller(version.dance, support=SUPPORTS.get(version.kind)):
        yield replace(one, message=f"{VERSION_NAMES[version.kind]}: {one.message}")


def run_picture(step: Step, _: Callable[[float], None]) -> None:
    """Draw the run: the song's phrases above, the walls below."""
    from softshoe.render.fit_file import fit_picture

    folder, name, paper = step.leaves[0].parent, step.settings["song"], step.settings.get("paper", "a4")
    dance, run, song = values.the_dance(folder), values.the_run(folder), values.the_song(folder)
    write_whole(step.leaves[0], fit_picture(dance, run, song, name, kind=".pdf", paper=paper))


def index(step: Step, _: Callable[[float], None]) -> None:
    """Write the page that shows what lies in the folder."""
    from softshoe.render.index import index_html

    folder = step.leaves[0].parent
    dance, run, song = values.the_dance(folder), values.the_run(folder), values.the_song(folder)
    dance = replace(dance, findings=(*dance.findings, *values.fit_findings(folder)))
    write_whole(step.leaves[0], index_html(dance, folder, run, song, song_name=step.settings["song"]))


def _around(folder: Path, made_on: str) -> Around:
    from softshoe.render.sheet_content import Around

    song = values.the_song(folder) if (folder / "song.json").is_file() else None
    return Around(song=song, made_on=date.fromisoformat(made_on))
