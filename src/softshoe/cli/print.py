"""``softshoe print``: one dance on paper, in any size and for any body, without a song."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, cast

import click

from softshoe.cli.guises import with_guise

if TYPE_CHECKING:
    from collections.abc import Callable

    from softshoe.adapt.version import Version
    from softshoe.dance.dance import Dance
    from softshoe.figure.motion import Support
    from softshoe.render.page import Edition, Paper
    from softshoe.render.picture_camera import Seen

PAGES = ("sheet", "pictures", "floor", "leader", "everyone", "text", "braille", "web")
SIZED = ("sheet", "pictures", "floor", "leader", "everyone")
ENDINGS = {"text": ".txt", "braille": ".brf", "web": ".html"}
SUPPORTS: dict[str, Support] = {
    "none": "free", "chair back": "chair back", "walking frame": "frame", "chair": "chair", "wheelchair": "wheelchair",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Asked:
    """What is to be printed."""

    page: str
    edition: Edition
    paper: Paper
    bound: bool
    support: Support | None
    view: Seen


@click.command(name="print")
@click.argument("sheet", type=click.Path(path_type=Path))
@click.option("--page", type=click.Choice(PAGES), default="sheet", show_default=True, help="What to print.")
@click.option("--size", type=click.Choice(["normal", "large", "giant"]), default="normal", show_default=True,
              help="14, 18 or 24 point (pictures: 12, 18 or 24).")  # fmt: skip
@click.option("--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True)
@click.option("--binder", is_flag=True, help="Leave room for the holes of a binder, for printing on both sides.")
@click.option("--for", "wishes", metavar="WORDS", default="",
              help='A version: standing, supported, seated, arms, left, right, or wishes in plain words.')  # fmt: skip
@click.option("--support", type=click.Choice(tuple(SUPPORTS)), help="What holds the dancer in pictures.")
@click.option("--view", type=click.Choice(["mirror", "behind", "side"]), default="mirror", show_default=True,
              help="How pictures are seen.")  # fmt: skip
@with_guise
@click.option(
    "-o",
    "--out",
    type=click.Path(path_type=Path),
    help="The file to write, or a folder for it; else named after the sheet.",
)
def command(
    sheet: Path,
    page: str,
    size: str,
    paper: str,
    binder: bool,
    wishes: str,
    support: str | None,
    view: str,
    out: Path | None,
    *,
    outfit: str,
    skin: str,
    hair: str,
) -> None:
    """Print the dance of SHEET: its step sheet, pictures, the floor from above, a page to lead from, all versions side
    by side, plain text, braille, or a page for the browser."""
    from softshoe.files import named, write_whole
    from softshoe.render.look import in_guise
    from softshoe.render.look_guise import guise_of
    from softshoe.render.page import PAPER_WORDS, SIZE_WORDS
    from softshoe.wording.read import read
    from softshoe.wording.source import sheet_text

    tail = "".join(f"-{part}" for part in (*([page] if page != "sheet" else []), *([size] if size != "normal" else [])))
    target = named(out, f"{sheet.stem}{tail}", ENDINGS.get(page, ".pdf"))
    dance = read(sheet_text(sheet))
    version = _version(dance, wishes)
    held = _support(version, support)
    asked = Asked(page, SIZE_WORDS[size], PAPER_WORDS[paper], binder, held, cast("Seen", view))
    _sizes(asked)
    with in_guise(guise_of(outfit, skin, hair)):
        made = MADE[page](dance, version, asked)
    write_whole(target, made)
    click.echo(f"written: {target}")


def _sizes(asked: Asked) -> None:
    from softshoe.errors import SettingError

    if asked.edition != "normal" and asked.page not in SIZED:
        raise SettingError("--size", f"the page “{asked.page}” has one size only", "it is no page on paper",
                           f"leave --size away, or print one of these: {', '.join(SIZED)}")  # fmt: skip


def _version(dance: Dance, wishes: str) -> Version | None:
    """The version asked for: a kind by its name, or wishes in plain words."""
    from softshoe.adapt.adapt import adapt
    from softshoe.adapt.plain import in_plain_words
    from softshoe.adapt.version import KINDS

    said = wishes.strip().casefold()
    if not said:
        return None
    kind = next((one for one in KINDS if one == said), None)
    return adapt(dance, kind or in_plain_words(wishes, name="--for"))


def _support(version: Version | None, said: str | None) -> Support | None:
    from softshoe.teach.parts import SUPPORTS as OF_KIND

    if said is not None:
        return SUPPORTS[said]
    return OF_KIND.get(version.kind) if version is not None else None


def _under(version: Version | None, asked: Asked) -> str:
    from softshoe.render.sheet_content import VERSION_NAMES

    if asked.support == "frame":
        return "Standing with a walking frame"
    return VERSION_NAMES[version.kind] if version is not None else ""


def _sheet(dance: Dance, version: Version | None, asked: Asked) -> bytes:
    from softshoe.render.sheet import sheet_pdf

    return sheet_pdf(dance, None, version, edition=asked.edition, paper=asked.paper, bound=asked.bound)


def _pictures(dance: Dance, version: Version | None, asked: Asked) -> bytes:
    from softshoe.render.sheet_pictures import pictures_pdf

    return pictures_pdf(
        version.dance if version else dance, support=asked.support, edition=asked.edition, paper=asked.paper,
        view=asked.view, bound=asked.bound, under=_under(version, asked),
    )  # fmt: skip


def _floor(dance: Dance, version: Version | None, asked: Asked) -> bytes:
    from softshoe.render.sheet_floor import floor_pdf

    return floor_pdf(
        version.dance if version else dance, support=asked.support, edition=asked.edition, paper=asked.paper,
        bound=asked.bound, under=_under(version, asked),
    )  # fmt: skip


def _leader(dance: Dance, version: Version | None, asked: Asked) -> bytes:
    from softshoe.render.sheet_leader import leader_pdf

    shown = version.dance if version else dance
    return leader_pdf(shown, edition=asked.edition, paper=asked.paper, bound=asked.bound)


def _everyone(dance: Dance, version: Version | None, asked: Asked) -> bytes:
    from softshoe.adapt.adapt import adapt
    from softshoe.jobs.pages import MIXED_ROOM, MOST
    from softshoe.render.sheet_everyone import everyone_pdf

    shown = version.dance if version else dance
    others = [adapt(shown, kind) for kind in MIXED_ROOM if kind != ("seated" if shown.seated else "standing")]
    return everyone_pdf(shown, others[:MOST], edition=asked.edition, paper=asked.paper, bound=asked.bound)


def _text(dance: Dance, version: Version | None, _: Asked) -> str:
    from softshoe.render.sheet import sheet_text
    from softshoe.render.sheet_text import care_text

    return sheet_text(dance, version) + care_text(version.dance if version else dance)


def _braille(dance: Dance, version: Version | None, asked: Asked) -> str:
    from softshoe.render.sheet_braille import brf

    return brf(_text(dance, version, asked))


def _web(dance: Dance, version: Version | None, _: Asked) -> str:
    from softshoe.render.sheet import sheet_html

    return sheet_html(dance, None, version)


MADE: dict[str, Callable[[Dance, Version | None, Asked], bytes | str]] = {
    "sheet": _sheet, "pictures": _pictures, "floor": _floor, "leader": _leader, "everyone": _everyone, "text": _text,
    "braille": _braille, "web": _web,
}  # fmt: skip
