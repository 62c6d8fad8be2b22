"""Sections as Softshoe itself writes them, in every style, and as they stand in sheets: the text that the network is asked, the events read.

    PYTHONPATH=src:tests python training/retelling/written.py OUT.jsonl FOLDER … [--made 300] [--part 0/1]

A folder of sheets holds texts with truths beside them; only sheets that the rules read without an error are written. ``--made`` adds
dances drawn at random, as the property tests draw them.
"""

from __future__ import annotations

import argparse
import json
import random
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any

from hypothesis import HealthCheck, Phase, given, seed, settings

from dance.sound_dances import sound_dances
from softshoe.dance.document import dance_json
from softshoe.errors import WorkbenchError
from softshoe.wording import read as reader
from softshoe.wording.outlined import outlined
from softshoe.wording.retell_ask import words_of_sections
from softshoe.wording.retell_codes import codes_of
from softshoe.wording.retell_weigh import ELSEWHERE
from softshoe.wording.write import write
from softshoe.wording.write_book import STYLES

if TYPE_CHECKING:
    from collections.abc import Iterator

    from softshoe.dance.dance import Dance

Row = dict[str, Any]
FEW = 4  # of the styles, for one dance


def asked(text: str, of: str) -> Iterator[Row]:
    """Yield each section as the network is asked for it, with what the rules read; none that another one has to tell."""
    dance = dance_json(reader.read(text))
    if any(f["severity"] == "error" for f in dance["findings"]):
        return
    outline, seated, unit = outlined(text)
    lines = {section["line"]: section for section in dance["sections"]}
    for words in words_of_sections(text, outline, unit):
        section = lines.get(outline.blocks[words.block].line)
        if section is None or int(section["counts"]) > 16:
            continue
        start, many = Fraction(section["start"]), int(section["counts"])
        events = [e for e in dance["events"] if start <= Fraction(e["t"]) < start + many]
        codes = codes_of([{**e, "t": str(Fraction(e["t"]) - start)} for e in events])
        if codes and not ELSEWHERE.search(words.text):
            yield {"of": of, "seated": seated, "text": words.text, "codes": codes, "counts": many}


def as_meant(path: Path, dance: Dance) -> bool:
    """Return whether a sheet is read as its truth tells it, where it has one."""
    beside = path.with_suffix(".json")
    if not beside.is_file():
        return True
    events = json.loads(beside.read_text(encoding="utf-8")).get("events", [])
    return [shown(e) for e in events] == [shown(e) for e in dance_json(dance)["events"]]


def shown(event: Row) -> tuple[Any, ...]:
    """Return what of an event two tellings share."""
    return Fraction(event["t"]), event["foot"], event["action"], event["turn"]


def main() -> None:
    ask = argparse.ArgumentParser()
    ask.add_argument("out")
    ask.add_argument("folders", nargs="*")
    ask.add_argument("--made", type=int, default=300)
    ask.add_argument("--part", default="0/1")
    own = ask.parse_args()
    part, parts = map(int, own.part.split("/"))
    rng = random.Random(part)
    found: dict[str, Row] = {}

    def take(dance: Dance, of: str) -> None:
        for style in rng.sample(sorted(STYLES), FEW):
            try:
                for row in asked(write(dance, style=style), of):
                    found.setdefault(row["text"], row)
            except (WorkbenchError, ValueError):
                continue

    paths = [path for folder in own.folders for path in sorted(Path(folder).glob("*.txt"))]
    for path in paths[part::parts]:
        try:
            text = path.read_text(encoding="utf-8")
            dance = reader.read(text)
            rows = list(asked(text, f"{path.parent.parent.name}:{path.stem}")) if as_meant(path, dance) else []
        except (WorkbenchError, ValueError, UnicodeDecodeError):
            continue
        found |= {row["text"]: row for row in rows}
        if rows:
            take(dance, rows[0]["of"])

    @seed(part + 1)
    @settings(
        max_examples=own.made,
        deadline=None,
        database=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(dance=sound_dances())
    def made(dance: Dance) -> None:
        take(dance, f"made:{len(found)}")

    made()
    Path(own.out).write_text(
        "\n".join(json.dumps(row, ensure_ascii=False) for row in found.values()) + "\n", encoding="utf-8"
    )
    print(len(found), "sections of", len(paths[part::parts]), "sheets and", own.made, "dances made")


if __name__ == "__main__":
    main()
