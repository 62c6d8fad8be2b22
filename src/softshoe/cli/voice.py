"""``softshoe voice``: her own voice for the counts and the cue words, from one recording."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.render.voice_recorded import WordFound

WORDS_A_LINE = 4


@click.group(name="voice", invoke_without_command=True)
@click.pass_context
def command(ctx: click.Context) -> None:
    """Use your own voice: record some words once, and tracks and films count with it.

    “softshoe voice record” listens to this computer's microphone; or record with a phone, and “softshoe voice import
    FILE” takes the recording in. “softshoe voice words” lists what to say. Nothing leaves this computer.
    """
    if ctx.invoked_subcommand is None:
        ctx.invoke(show)


@command.command(name="words")
def words() -> None:
    """List the words to record, in their order."""
    _list_words()
    click.echo("\nThen: softshoe voice import FILE")


def _list_words() -> None:
    from softshoe.render.voice_recorded import words_to_record

    click.echo(
        "In a quiet room, a hand's breadth from the microphone, say these words as you say them in class.\n"
        "After each word be silent for about a second. A slip of the tongue does no harm: say the word again.\n"
    )
    asked = words_to_record()
    for k in range(0, len(asked), WORDS_A_LINE):
        click.echo("  " + "   ".join(f"{word:<8}" for word in asked[k : k + WORDS_A_LINE]).rstrip())


@command.command(name="record")
@click.option("-o", "--out", type=click.Path(path_type=Path), default=Path("my-words.wav"), show_default=True,
              help="The recording to keep.")  # fmt: skip
@click.option("--device", metavar="NAME", help="The microphone's name where it is not the usual one.")
def take(out: Path, device: str | None) -> None:
    """Record the words from this computer's microphone, then find them as “import” does. Press Enter when done."""
    from threading import Event, Thread

    from softshoe.files import named
    from softshoe.render.voice_record import record, usual

    path = named(out, "my-words", ".wav")
    _list_words()
    kind, name = usual()
    done = Event()
    click.prompt("\nPress Enter and begin", default="", show_default=False)

    def await_enter() -> None:
        sys.stdin.readline()
        done.set()

    Thread(target=await_enter, daemon=True).start()

    def goes_on(seconds: float, level: float) -> bool:
        bar = "#" * round(30 * min(1.0, level))
        click.echo(f"\r{int(seconds) // 60}:{int(seconds) % 60:02d}  {bar:<30}  Enter ends", nl=False, err=True)
        return not done.is_set()

    record(path, goes_on=goes_on, source=(kind, device or name))
    click.echo(f"\nRecorded: {path}")
    taken_in(path)


@command.command(name="import")
@click.argument("recording", type=click.Path(path_type=Path))
def take_in(recording: Path) -> None:
    """Find the words in RECORDING, show what was found, and use them from now on."""
    taken_in(recording)


def taken_in(recording: Path) -> None:
    """Find the words, tell what was found, and keep them; raises MusicError where a count is missing."""
    from softshoe.errors import MusicError
    from softshoe.music.audio import heard
    from softshoe.render.voice_own import keep_own_voice
    from softshoe.render.voice_recorded import counts_to_record, words_found, words_to_record

    sound, asked = heard(recording), words_to_record()
    found = words_found(sound.samples, sound.rate_hz, words=asked)
    _table(found)
    there = {one.word for one in found}
    if missing := [word for word in dict.fromkeys(asked) if word in counts_to_record() and word not in there]:
        raise MusicError(str(recording), f"the counts {', '.join(missing)} could not be found",
                         "without all eight counts there is no voice; nothing was changed",
                         "record again, with a second of silence after each word")  # fmt: skip
    _remarks(found, [word for word in dict.fromkeys(asked) if word not in there])
    path = keep_own_voice(found)
    click.echo(
        f"{len(found)} words are yours from now on; all others are said by the workbench's voice.\nKept in {path}"
    )


@command.command(name="show")
def show() -> None:
    """Say whose voice is used."""
    from softshoe.render.voice_own import own_voice_file, own_words

    if words := own_words():
        click.echo(f"Your own voice says {len(words)} words: {', '.join(sorted(words))}.\nKept in {own_voice_file()}")
    else:
        click.echo("The workbench's own voice is used. “softshoe voice words” lists what to record for yours.")


@command.command(name="try")
@click.argument("words", nargs=-1)
@click.option("-o", "--out", type=click.Path(path_type=Path), default=Path("voice.wav"), show_default=True)
def hear(words: tuple[str, ...], out: Path) -> None:
    """Say WORDS (else the eight counts) on a beat of 100, with a click on each, into a sound file to listen to."""
    from softshoe.files import named
    from softshoe.render.voice_own import the_voice
    from softshoe.render.voice_sample import write_sample

    path = named(out, "voice", ".wav", ".flac", ".mp3")
    write_sample(the_voice(), words or None, path)
    click.echo(f"Listen to {path}: each word should fall on its click.")


@command.command(name="forget")
def forget() -> None:
    """Go back to the workbench's voice and take your recorded words away."""
    from softshoe.render.voice_own import forget_own_voice

    there = forget_own_voice()
    click.echo("Your recorded words are gone." if there else "There were no recorded words.")


def _table(found: Sequence[WordFound]) -> None:
    click.echo("word       at       long     above the room")
    for one in found:
        note = "  too loud: cut off at the top" if one.clipped else ""
        click.echo(
            f"{one.word:<9}  {_clock(one.at_s):<7}  {one.spoken.length_s:4.2f} s   {one.above_room_db:3.0f} dB{note}"
        )


def _clock(seconds: float) -> str:
    return f"{int(seconds) // 60}:{seconds % 60:04.1f}"


def _remarks(found: Sequence[WordFound], missing: Sequence[str]) -> None:
    from softshoe.render.voice_recorded import QUIET_ROOM_DB

    if missing:
        click.echo(f"Not found, left to the workbench's voice: {', '.join(missing)}.")
    if clipped := sum(one.clipped for one in found):
        click.echo(f"{clipped} words were too loud for the microphone; a little further away sounds better.")
    if sorted(one.above_room_db for one in found)[len(found) // 2] < QUIET_ROOM_DB:
        click.echo(
            "The room can be heard behind the words; a quieter room, or closer to the microphone, sounds better."
        )
