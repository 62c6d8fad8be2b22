"""``softshoe make``: the main job. A sheet and a song become a folder to teach from."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Any, cast

import click

from softshoe.cli.guises import with_guise
from softshoe.cli.progress import Told
from softshoe.cli.said import said_by, with_said
from softshoe.cli.taught import lesson_asked, with_lesson

if TYPE_CHECKING:
    from softshoe.adapt.version import Kind
    from softshoe.jobs.making import Wish

LANES = 2
YOUR_TEXT = (
    "You changed lesson.txt, so it is filmed as you left it, and --minutes {:g} was not used.\n"
    "For a new lesson of that length give lesson.txt another name, and make again."
)


@click.command(name="make")
@click.argument("sheet", type=click.Path(path_type=Path))
@click.argument("song", type=click.Path(path_type=Path))
@click.option("-o", "--out", type=click.Path(path_type=Path), help="The folder to make; else named after the sheet.")
@click.option(
    "--sound",
    type=click.Choice(["groove", "song", "voice"]),
    default="groove",
    show_default=True,
    help="What films and tracks carry: our own rhythm, the recording itself, or the voice alone.",
)
@click.option("--paper", type=click.Choice(["a4", "letter", "us-letter"]), default="a4", show_default=True)
@click.option("--binder", is_flag=True, help="Leave room for the holes of a binder, for printing on both sides.")
@click.option(
    "--only",
    multiple=True,
    type=click.Choice(["sheet", "films", "tracks", "report"]),
    help="Make these parts only; may be given more than once.",
)
@click.option(
    "--versions",
    multiple=True,
    type=click.Choice(["seated", "standing", "supported", "arms", "left", "right"]),
    default=("seated",),
    show_default=True,
    help="Film these versions of the dance; may be given more than once.",
)
@click.option("--for", "own", multiple=True, metavar="WORDS|FILE",
              help='Film a version of somebody\'s own too: "Tuesday group: seated, nothing overhead".')  # fmt: skip
@click.option("--film-edition", "film_editions", multiple=True, metavar="WORDS",
              help="Every film in this edition too: portrait, reduced motion, high contrast; join with +.")  # fmt: skip
@with_guise
@with_lesson
@click.option(
    "--lesson", type=click.Path(path_type=Path), help="Film the walkthrough from this text, as lesson.txt is."
)
@click.option("--later", is_flag=True, help="Only ask for it: the studio, or “softshoe jobs work”, does it.")
@click.option("--timings", is_flag=True, help="Print where the time went.")
@with_said
@click.pass_context
def command(
    ctx: click.Context,
    /,
    sheet: Path,
    song: Path,
    out: Path | None,
    sound: str,
    paper: str,
    binder: bool,
    only: tuple[str, ...],
    versions: tuple[str, ...],
    film_editions: tuple[str, ...],
    outfit: str,
    skin: str,
    hair: str,
    timings: bool,
    later: bool,
    **said: Any,
) -> None:
    """Make a folder from SHEET (the words) and SONG (a recording): sheets, films, practice tracks, a report.

    Run again, it redoes only what has changed. Values in the folder (dance.json, song.json, run.json, lesson.txt) may
    be mended by hand: your word stays and is used.
    """
    from softshoe.jobs.making import SoundKind, Wish
    from softshoe.render.film_edition import edition_of
    from softshoe.render.look_guise import guise_of
    from softshoe.render.page import PAPER_WORDS

    guise_of(outfit, skin, hair)  # an unknown word is told before any work
    wish = Wish(
        sheet=sheet,
        song=song,
        folder=out or Path(f"{sheet.stem}-softshoe"),
        sound=cast("SoundKind", sound),
        paper=PAPER_WORDS[paper],
        bound=binder,
        only=only,
        versions=cast("tuple[Kind, ...]", tuple(dict.fromkeys(versions))),
        **lesson_asked(said),
        said=asdict(said_by(**said)),
        guise={"outfit": outfit, "skin": skin, "hair": hair},
        film_editions=tuple(dict.fromkeys(edition_of(words)[1] for words in film_editions)),
    )
    ctx.exit(_asked(wish) if later else make_all(wish, timings=timings))


def _asked(wish: Wish) -> int:
    """Ask for the main job and tell its name."""

    from softshoe.cli.jobs import NAME, quiet_door

    _readable(wish)
    asked = {name: str(said) if isinstance(said, Path) else said for name, said in asdict(wish).items()}
    with quiet_door() as door:
        click.echo(f"asked for: job {door.ask('make', asked)[:NAME]}; “softshoe jobs” tells how it stands")
    return 0


def make_all(wish: Wish, *, timings: bool) -> int:
    """Do the main job and tell how it goes; return the exit code."""
    from softshoe.jobs.making import steps
    from softshoe.jobs.run import run

    _readable(wish)
    work = steps(wish)
    told = Told(work, LANES)
    try:
        failures = run(work, folder=wish.folder, workers=LANES, watch=told)
    finally:
        told.close()
    for wrong in failures:
        click.echo(str(wrong), err=True)
    _say(wish, told, timings=timings)
    return max((wrong.exit_code for wrong in failures), default=0)


def _readable(wish: Wish) -> None:
    """Fail at once, before any work, when the sheet can't be read or the song or the lesson's text is not there."""
    from softshoe.errors import UnreadableError
    from softshoe.jobs.values import words_of
    from softshoe.teach.room import room_of
    from softshoe.wording.read import read
    from softshoe.wording.source import sheet_text

    if not wish.song.exists():
        raise UnreadableError(
            str(wish.song),
            "there is no such file",
            "the song is not where you said",
            "check the name; a name with spaces wants quotation marks around it",
        )
    room_of(wish.room)
    if wish.lesson is not None:
        words_of(wish.lesson, str(wish.lesson))
    read(sheet_text(wish.sheet))


def _say(wish: Wish, told: Told, *, timings: bool) -> None:
    from softshoe.jobs.values import the_lesson
    from softshoe.teach.length import clock

    if timings:
        click.echo("Where the time went:", err=True)
        for name, seconds in sorted(told.spent_s.items(), key=lambda row: -row[1]):
            click.echo(f"  {seconds:7.1f} s  {name}", err=True)
    counts = f"{len(told.redone)} made, {len(told.kept)} kept as before"
    if told.failed_steps:
        click.echo(f"\n{counts}. Not done: {'; '.join(told.failed_steps)}. The rest is in {wish.folder}")
        return
    if wish.minutes is not None or wish.lesson is not None:
        lesson = the_lesson(wish.folder)
        told_of = YOUR_TEXT.format(wish.minutes) if wish.minutes is not None and "lesson words" in told.by_hand else ""
        words = ("", f"The walkthrough lasts {clock(lesson.length_s)}.", *lesson.told, told_of)
        click.echo("\n".join(words).rstrip())
    click.echo(f"\n{_verdict(wish)}\n{counts}. Open {wish.folder / 'index.html'}")


def _verdict(wish: Wish) -> str:
    """What was found, in a sentence or two; the report tells more."""
    from softshoe.jobs.values import fit_findings, the_dance, the_run
    from softshoe.render.report import verdict

    dance = the_dance(wish.folder)
    return verdict(dance, (*dance.findings, *fit_findings(wish.folder)), the_run(wish.folder))
