"""Two ways of saying one dance, compared: what a reading says, without the places on the page it says it from."""

from __future__ import annotations

from typing import Any

from softshoe.dance.document import dance_json
from softshoe.wording.read import read


def told(sheet: str) -> dict[str, Any]:
    """Return what a sheet says: header, sections, events without lines, and the errors."""
    answer = dance_json(read(sheet))
    said = {k: v for k, v in answer.items() if k not in ("findings", "events", "sections", "kept")}
    said["events"] = [{k: v for k, v in e.items() if k != "line"} for e in answer["events"]]
    said["sections"] = [(s["number"], s["start"], s["counts"]) for s in answer["sections"]]
    said["errors"] = [(f["kind"], f["message"]) for f in answer["findings"] if f["severity"] == "error"]
    return said
