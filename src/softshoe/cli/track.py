"""``softshoe track``: one practice track at any tempo, or one section of the dance, round and round."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, cast

import click

from softshoe.cli.said import said_by, with_said

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance
    from softshoe.fit.run import Run
    from softshoe.music.songmap import SongMap
    from softshoe.render.track import Song, SoundKind
    from softshoe.teach.calls import Speech
    from softshoe.teach.lesson import Lesson

FULL = 100


@click.command(name="track")
@click.argument("sheet", type=click.Path(path_type=Path))
@click.argument("song", type=click.Path(path_type=Path))
@click.option("-o", "--out", type=click.Path(path_type=Path), help="The file to write: mp3, flac or wav.")
@click.option(
    "--pace", type=click.IntRange(40, 200), default=FULL, show_default=True, help="Per cent of the song's speed."
)
@click.option("--section", type=int, metavar="NUMBER", help="This section alone, as a round without a seam.")
@click.option(
    "--times", type=click.IntRange(1, 100), default=1, show_default=True, help="How often a section goes round."
)
@click.option("--speech", type=click.Choice(["both", "counts", "none"]), default="both", show_default=True,
              help="Cues and counts, counts alone, or no voice.")  # fmt: skip
@click.option("--sound", type=click.Choice(["groove", "song", "voice"]), default="groove", show_default=True,
              help="Our own rhythm, the recording itself, or the voice alone.")  # fmt: skip
@with_said
def command(
    sheet: Path,
    song: Path,
    out: Path | None,
    pace: int,
    section: int | None,
    times: int,
    speech: str,
    sound: str,
    **said: Any,
) -> None:
    """Record a practice track of SHEET on SONG at a tempo of your choice, seated, with count-in and cues.

    With --section, that section alone: a wav or flac of it can be set to repeat and no seam is heard.
    """
    from softshoe.files import named
    from softshoe.jobs.values import best_fit
    from softshoe.music.given import song_given
    from softshoe.wording.read import read
    from softshoe.wording.source import sheet_text

    endings = (".wav", ".flac", ".mp3") if section else (".mp3", ".flac", ".wav")
    path = named(out, f"{sheet.stem}-{f'section-{section}-' if section else ''}{pace}", *endings)
    dance = read(sheet_text(sheet))
    heard = song_given(song, said_by(**said))
    lesson = _lesson(dance, best_fit(dance, heard).runs[0], heard, section, pace / FULL, cast("Speech", speech))
    _write(lesson, path, _recording(song, sound), cast("SoundKind", sound), times if section else 0, pace, dance.title)
    click.echo(f"Written: {path}")


def _lesson(dance: Dance, run: Run, song: SongMap, section: int | None, pace: float, speech: Speech) -> Lesson:
    from softshoe.fit.timeline import timeline
    from softshoe.jobs.values import versions
    from softshoe.teach.at_tempo import at_tempo, swing_of
    from softshoe.teach.loop import section_loop

    version, moments = versions(dance)["seated"], timeline(dance, run, song)
    if section is not None:
        lesson = section_loop(dance, version, run, moments, section=section, pace=pace, speech=speech)
        return replace(lesson, swing=swing_of(song))
    return at_tempo(dance, version, run, song, moments, pace=pace, speech=speech, fading=False)


def _recording(song: Path, sound: str) -> Song | None:
    from softshoe.jobs.media import recording

    return recording(song) if sound == "song" else None


def _write(lesson: Lesson, path: Path, song: Song | None, sound: SoundKind, times: int, pace: int, album: str) -> None:
    """Write the track, or the section ``times`` over."""
    from softshoe.files import write_whole
    from softshoe.render.captions import captions_of
    from softshoe.render.loop import loop_sound
    from softshoe.render.track import lesson_sound, write_track
    from softshoe.render.voice import RATE_HZ
    from softshoe.render.voice_own import the_voice

    voice = the_voice() if lesson.cues else None
    if times:
        samples = loop_sound(lesson, song=song, voice=voice, sound=sound, times=times)
    else:
        samples = lesson_sound(lesson, song=song, voice=voice, sound=sound)
    chapters = [] if times else [(passage.start_s, passage.title) for passage in lesson.passages]
    write_track(samples, RATE_HZ, path, title=f"{lesson.title}, {pace} %", chapters=chapters, album=album)
    if not times:
        write_whole(path.with_suffix(".vtt"), captions_of(lesson))
