"""The door for people: one table of commands, errors in plain words with their exit code, no traceback.

A command's module is loaded only when it is called, so that ``softshoe --help`` answers at once.
"""

from __future__ import annotations

import os
import sys
from importlib import import_module

import click

from softshoe import __version__
from softshoe.errors import WorkbenchError, nearest

COMMANDS = {
    "make": "The main job: a sheet and a song become a folder to teach from.",
    "demo": "The main job on the demo dance and song that come with softshoe.",
    "read": "Say what a sheet says, action by action, and what is wrong with it.",
    "write": "Give the same dance back in another wording or language.",
    "words": "Say what a word of the sheets means and how it is written.",
    "listen": "Hear a song's count: beats, eights, phrases, first count.",
    "fit": "Lay a dance on a song: walls, tags, restarts, ending.",
    "match": "Find the dances of the repertoire that sit well on a song.",
    "adapt": "Make a version for other abilities, and say what changed and why.",
    "print": "Print a dance in any size: sheet, pictures, floor map, braille and more.",
    "booklet": "Bind many dances into one booklet with contents and index.",
    "track": "Record one practice track at any tempo, or one section round and round.",
    "lesson": "Write how a dance is taught in words, to read, change and film.",
    "together": "Film five versions of a dance side by side.",
    "dress": "Find the song in a filmed run-through and write its counts on it.",
    "voice": "Let tracks and films speak with your own voice.",
    "plan": "Lay a class out of dances.",
    "keep": "Keep dances and songs in the repertoire.",
    "kept": "Show a kept dance: its texts, what changed, songs, labels, notes, days.",
    "remove": "Take a dance out of the repertoire; it can be put back.",
    "find": "Find kept dances by words, steps, tempo, days and songs.",
    "import": "Take in a folder of old sheets, or what was exported.",
    "export": "Write everything that is kept into plain files.",
    "backup": "Pack everything that is kept into one file.",
    "restore": "Put everything back from a backup, or an earlier day.",
    "jobs": "Long work that was asked for: how it stands, stop it, do it again.",
    "accounts": "Who may come into an association's repertoire.",
    "serve": "The studio for an association, with accounts.",
    "notes": "Keep notes about people, locked with a passphrase.",
    "studio": "The same in the browser, on this machine only.",
}
INTERRUPTED = 130


class Doors(click.Group):
    """The commands of the table, each loaded when it is called; a mistyped one is answered with the nearest."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the commands in the order of the table."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Load one command."""
        if cmd_name not in COMMANDS:
            return None
        command: click.Command = import_module(f"softshoe.cli.{cmd_name}").command
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Say the nearest command when there is none of that name."""
        if args and args[0] not in COMMANDS and not args[0].startswith("-"):
            near = nearest(args[0], COMMANDS)
            hint = f"did you mean “softshoe {near}”?" if near else "“softshoe --help” lists the commands"
            ctx.fail(f"there is no command “{args[0]}”: {hint}")
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """List the commands from the table, without loading any."""
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))


@click.group(cls=Doors, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, prog_name="softshoe", message="%(prog)s %(version)s")
def doors() -> None:
    """Softshoe turns a step sheet and a song into all that a line-dance class needs.

    Begin with “softshoe demo”, then “softshoe make SHEET SONG -o FOLDER”.
    """


def run() -> None:
    """Run the command line; every failure a person can meet ends in plain words and an exit code."""
    try:
        code = doors.main(standalone_mode=False)
    except click.exceptions.Abort:
        code = _stopped()
    except click.ClickException as wrong:
        wrong.show()
        code = wrong.exit_code
    except WorkbenchError as wrong:
        click.echo(str(wrong), err=True)
        code = wrong.exit_code
    except KeyboardInterrupt:
        code = _stopped()
    except BrokenPipeError:  # the reader of our output went away: nothing to tell anybody
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        code = 0
    sys.exit(code if isinstance(code, int) else 0)


def _stopped() -> int:
    click.echo("Stopped. Nothing half-written was left; the same command goes on where it stopped.", err=True)
    return INTERRUPTED
