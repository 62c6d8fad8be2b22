"""``softshoe listen``: a song's count."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from softshoe.cli.said import moment, said_by, with_said
from softshoe.cli.show import clock_time, print_findings, print_json, worst_code

if TYPE_CHECKING:
    from softshoe.music.songmap import Alternative, Said, SongMap

BEST = 2
PICTURES = (".svg", ".png", ".pdf")


@click.command(name="listen")
@click.argument("song", type=click.Path(path_type=Path))
@with_said
@click.option("--half", is_flag=True, help="Count it half as fast as was heard.")
@click.option("--double", is_flag=True, help="Count it twice as fast as was heard.")
@click.option("--tap-here", is_flag=True, help="Tap the beat on this keyboard while the song plays.")
@click.option(
    "--from", "from_s", metavar="MOMENT", callback=moment, help="Where the song begins in a longer recording."
)
@click.option("--to", "to_s", metavar="MOMENT", callback=moment, help="Where the song ends in a longer recording.")
@click.option("--picture", type=click.Path(path_type=Path), help="Draw the song into this file: svg, png or pdf.")
@click.option("--json", "as_json", is_flag=True, help="Print the SongMap as JSON.")
@click.pass_context
def command(
    ctx: click.Context,
    /,
    song: Path,
    half: bool,
    double: bool,
    tap_here: bool,
    from_s: float | None,
    to_s: float | None,
    picture: Path | None,
    as_json: bool,
    **said: Any,
) -> None:
    """Hear the count of SONG: beats, counts of eight, phrases, and where the dance begins.

    What you say with the options below always wins over what was heard. The song is heard once: a second call with your
    word is answered at once.
    """
    _check(half=half, double=double, tap_here=tap_here, picture=picture)
    told = said_by(**said)
    if tap_here:
        from softshoe.cli.tapping import tapped_here

        told = tapped_here().said(told)
    heard = _heard(song, told, (from_s or 0.0, to_s), {(True, False): 0.5, (False, True): 2.0}.get((half, double)))
    if picture:
        _draw(heard, song, picture)
    if as_json:
        print_json(_json(heard))
    else:
        _tell(heard, song)
        if picture:
            click.echo(f"\nwritten: {picture}")
    ctx.exit(worst_code(heard.findings))


def _check(*, half: bool, double: bool, tap_here: bool, picture: Path | None) -> None:
    if half + double + tap_here > 1:
        raise click.UsageError("choose one of --half, --double and --tap-here")
    if picture and picture.suffix.casefold() not in PICTURES:
        raise click.BadParameter(f"“{picture.name}” must end in .svg, .png or .pdf", param_hint="--picture")


def _heard(song: Path, said: Said, piece: tuple[float, float | None], times: float | None) -> SongMap:
    from softshoe.music.given import song_given

    heard = song_given(song, said, piece=piece)
    if times is None:
        return heard
    return song_given(song, replace(said, tempo_bpm=round(heard.tempo_bpm * times, 2)), piece=piece)


def _json(heard: SongMap) -> dict[str, Any]:
    from softshoe.music.document import song_json

    return song_json(heard)


def _draw(heard: SongMap, song: Path, picture: Path) -> None:
    from softshoe.render.song_file import draw_song

    draw_song(heard, song, picture)


def _tell(heard: SongMap, song: Path) -> None:
    from softshoe.music.tempo_curve import tempo_words
    from softshoe.music.why import counts_between, phrase_counts
    from softshoe.render.page import sure_words

    sure = heard.confidence
    before = counts_between(heard, 0.0, heard.first_count_s)
    click.echo(f"{song.name}: {heard.tempo_bpm:.1f} beats a minute ({sure_words(sure.tempo)}), "
               f"{'a waltz' if heard.metre == 3 else 'four in a bar'} ({sure_words(sure.metre)})")  # fmt: skip
    click.echo(f"Count 1 at {heard.first_count_s:.2f} s, after {before} counts ({sure_words(sure.first_count)})")
    if heard.tempo_curve:
        click.echo(f"The tempo: {tempo_words(heard.tempo_curve)}")
    click.echo(f"The music ends at {clock_time(heard.end_s)}.\n")
    for number, (start, counts) in enumerate(zip(heard.phrases_s, phrase_counts(heard), strict=True)):
        certainty = sure_words(sure.phrases[number])
        click.echo(f"phrase {number + 1:2}  {clock_time(start):>6}  {counts:3} counts  {certainty}")
    click.echo("")
    for sentence in heard.why:
        click.echo(f"- {sentence}")
    for other in heard.alternatives[:BEST]:
        click.echo(f"Or: {_other(other, heard)} ({_share(other)})")
    click.echo("\nIs it right? Say what you hear; your word wins:\n"
               "--half, --double, --first-count, --one, --metre, --tempo, --tap-here.")  # fmt: skip
    print_findings(heard.findings, where=song.name)


def _other(other: Alternative, heard: SongMap) -> str:
    """Return an alternative in words, by what differs."""
    if abs(other.tempo_bpm / heard.tempo_bpm - 1) > 0.01:
        slower = other.tempo_bpm < heard.tempo_bpm
        return f"{'half' if slower else 'twice'} as fast, {other.tempo_bpm:.1f} beats a minute"
    if other.metre != heard.metre:
        return "as a waltz, in sixes" if other.metre == 3 else "in four, in eights"
    return f"count 1 at {other.first_count_s:.2f} s"


def _share(other: Alternative) -> str:
    return f"about {max(1, round(100 * other.confidence))} in 100"
