"""``softshoe listen``: a song's count."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from softshoe.cli.said import said_by, with_said
from softshoe.cli.show import clock_time, print_findings, print_json, worst_code

if TYPE_CHECKING:
    from softshoe.music.songmap import SongMap


@click.command(name="listen")
@click.argument("song", type=click.Path(path_type=Path))
@with_said
@click.option("--json", "as_json", is_flag=True, help="Print the SongMap as JSON.")
@click.pass_context
def command(ctx: click.Context, /, song: Path, as_json: bool, **said: Any) -> None:
    """Hear the count of SONG: beats, counts of eight, phrases, and where the dance begins.

    What you say with the options below always wins over what was heard.
    """
    from softshoe.music.document import song_json
    from softshoe.music.given import song_given

    heard = song_given(song, said_by(**said))
    if as_json:
        print_json(song_json(heard))
    else:
        _tell(heard, song)
    ctx.exit(worst_code(heard.findings))


def _tell(heard: SongMap, song: Path) -> None:
    from softshoe.render.page import sure_words

    sure = heard.confidence
    before = sum(beat < heard.first_count_s - 0.01 for beat in heard.beats_s)
    click.echo(f"{song.name}: {heard.tempo_bpm:.1f} beats a minute ({sure_words(sure.tempo)}), "
               f"{'a waltz' if heard.metre == 3 else 'four in a bar'} ({sure_words(sure.metre)})")  # fmt: skip
    click.echo(f"Count 1 at {heard.first_count_s:.2f} s, after {before} counts ({sure_words(sure.first_count)})")
    click.echo(f"The music ends at {clock_time(heard.end_s)}.\n")
    for number, (start, end) in enumerate(zip(heard.phrases_s, (*heard.phrases_s[1:], heard.end_s), strict=True)):
        counts = sum(start - 0.01 <= beat < end - 0.01 for beat in heard.beats_s)
        certainty = sure_words(sure.phrases[number])
        click.echo(f"phrase {number + 1:2}  {clock_time(start):>6}  {counts:3} counts  {certainty}")
    for other in heard.alternatives:
        waltz = "" if other.metre == heard.metre else ", as a waltz" if other.metre == 3 else ", in four"
        words = sure_words(other.confidence)
        click.echo(f"or: {other.tempo_bpm:.1f} beats a minute, count 1 at {other.first_count_s:.2f} s{waltz} ({words})")
    click.echo("\nIs it right? Say what you hear with --tempo, --first-count, --metre or --tap: your word wins.")
    print_findings(heard.findings, where=song.name)
