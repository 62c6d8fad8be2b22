"""A booklet: the sheets of several dances, printed one after the other in one file."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

from softshoe.errors import SettingError
from softshoe.files import write_whole
from softshoe.jobs.kinds import Plan
from softshoe.jobs.making import written_on
from softshoe.jobs.step import Step

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from softshoe.jobs.kinds import Place


def booklet(asked: Mapping[str, Any], place: Place) -> Plan:
    """Tell the steps of a booklet: each sheet is set on its own, and may be used so, then all are bound together.

    asked : "sheets" (files, in their order), and, where wished, "title", "paper", "edition", "bound", "folder"
    """
    sheets = [Path(path) for path in asked.get("sheets") or ()]
    if not sheets:
        raise SettingError("the booklet", "it has no sheets", "none was named", "name at least one sheet")
    folder = Path(asked["folder"]) if asked.get("folder") else place.folder
    how = {"paper": asked.get("paper") or "a4", "edition": asked.get("edition") or "normal"}
    pages = tuple(
        Step(f"sheet {k}", f"Setting {path.stem}", set_sheet, {**how, "made_on": written_on(path)}, (path,),
             (folder / f"{k:02}-{path.stem}.pdf",), hint_s=1.0)
        for k, path in enumerate(sheets, 1)
    )  # fmt: skip
    leaves = tuple(step.leaves[0] for step in pages)
    title = {**how, "title": asked.get("title") or "", "bound": bool(asked.get("bound"))}
    bound = Step("bind", "Binding the booklet", bind, title, tuple(sheets), (folder / "booklet.pdf",),
                 tuple(step.name for step in pages), hint_s=0.5)  # fmt: skip
    return Plan((*pages, bound), folder, (bound.leaves[0], *leaves))


def set_sheet(step: Step, _: Callable[[float], None]) -> None:
    """Set one sheet as a tagged PDF."""
    from softshoe.render.sheet import sheet_pdf
    from softshoe.render.sheet_content import Around
    from softshoe.wording.read import read
    from softshoe.wording.source import sheet_text

    how = step.settings
    dance = read(sheet_text(step.reads[0]))
    around = Around(made_on=date.fromisoformat(how["made_on"]))
    write_whole(step.leaves[0], sheet_pdf(dance, edition=how["edition"], paper=how["paper"], around=around))


def bind(step: Step, _: Callable[[float], None]) -> None:
    """Set the booklet: contents, every sheet, an index; tagged for screen readers as a whole."""
    from softshoe.render.sheet_booklet import booklet_pdf
    from softshoe.wording.read import read
    from softshoe.wording.source import sheet_text

    how = step.settings
    dances = [read(sheet_text(path)) for path in step.reads]
    page = booklet_pdf(dances, title=how["title"], edition=how["edition"], paper=how["paper"], bound=how["bound"])
    write_whole(step.leaves[0], page)
