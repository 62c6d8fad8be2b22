"""``softshoe together``: the versions of one dance side by side in one film."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, cast

import click

from softshoe.cli.guises import with_guise

if TYPE_CHECKING:
    from softshoe.adapt.version import Kind
    from softshoe.dance.dance import Dance
    from softshoe.figure.motion import Support
    from softshoe.render.film_together import Dancer
    from softshoe.render.look import Guise
    from softshoe.render.picture_camera import Seen

SIDE_BY_SIDE: dict[str, tuple[Kind, Support]] = {  # name below the dancer: kind, what supports her
    "standing": ("standing", "free"),
    "behind a chair": ("supported", "chair back"),
    "seated": ("seated", "chair"),
    "arms only": ("arms", "wheelchair"),
    "right side only": ("right", "chair"),
}
TEMPO = 112.0


@click.command(name="together")
@click.argument("sheet", type=click.Path(path_type=Path), required=False)
@click.option("-o", "--out", type=click.Path(path_type=Path), default=Path("together.mp4"), show_default=True,
              help="The film to write, or a folder for it.")  # fmt: skip
@click.option("--tempo", type=click.FloatRange(40, 200), help="Counts a minute; the sheet's own, else 112.")
@click.option("--view", type=click.Choice(["mirror", "behind", "side"]), default="mirror", show_default=True,
              help="See them as in a mirror, from behind, or from the side.")  # fmt: skip
@with_guise
def command(sheet: Path | None, out: Path, tempo: float | None, view: str, outfit: str, skin: str, hair: str) -> None:
    """Film five versions of SHEET (or of the demo dance) side by side: standing, behind a chair, seated, arms only,
    one side only. They are five different people, unless you say how they look."""
    from softshoe.files import named
    from softshoe.render.film_together import together

    target = named(out, "together", ".mp4")
    dance = _dance(sheet)
    own = max(dance.tempo_bpm) if isinstance(dance.tempo_bpm, tuple) else dance.tempo_bpm
    words = _words(dance)
    together(
        _dancers(dance, _guises(outfit, skin, hair)),
        target,
        title=dance.title or "One dance",
        counts_per_min=tempo or own or TEMPO,
        words=lambda count: words.get(count, ""),
        metre=6 if dance.metre == "3/4" else 8,
        view=cast("Seen", view),
    )
    click.echo(f"written: {target}")


def _dance(sheet: Path | None) -> Dance:
    from importlib.resources import files

    from softshoe.wording.read import read
    from softshoe.wording.source import sheet_text

    if sheet is not None:
        return read(sheet_text(sheet))
    return read((files("softshoe") / "data" / "demo" / "sheet.txt").read_text("utf-8"))


def _guises(outfit: str, skin: str, hair: str) -> list[Guise]:
    """The guises from left to right: as asked, else those of the table."""
    from softshoe.render.look_guise import guise_of
    from softshoe.tables import table

    if outfit or skin or hair:
        return [guise_of(outfit, skin, hair)] * len(SIDE_BY_SIDE)
    return [guise_of(row["outfit"], row["skin"], row["hair"]) for row in table("look/company")]


def _dancers(dance: Dance, guises: list[Guise]) -> list[Dancer]:
    from softshoe.adapt.adapt import adapt
    from softshoe.dance.footwork import wall_events
    from softshoe.figure.move import move
    from softshoe.render.film_together import Dancer

    made: list[Dancer] = []
    for (name, (kind, support)), guise in zip(SIDE_BY_SIDE.items(), guises, strict=True):
        version = adapt(dance, kind).dance
        counts = float(version.counts)
        motion = move(wall_events(version), counts=counts, stance="standing", loop=True, support=support)
        made.append(Dancer(name, motion, guise))
    return made


def _words(dance: Dance) -> dict[int, str]:
    from softshoe.dance.footwork import wall_events
    from softshoe.render.phrase_words import action_words, sentence

    told: dict[int, str] = {}
    before = None
    for event in wall_events(dance):
        if event.action.at.at.denominator == 1:
            told[event.action.at.whole] = sentence(
                action_words(event.action, facing_deg=event.facing_deg, before=before)
            )
        before = event.action
    return told
