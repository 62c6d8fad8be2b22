"""``softshoe read``: what a sheet says, action by action, and every finding; ``--mend`` writes what is certain."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from softshoe.cli.show import print_findings, print_json, worst_code
from softshoe.wording.tongue import LANGUAGES

if TYPE_CHECKING:
    from softshoe.dance.dance import Dance
    from softshoe.wording.account import Account

ROLES = {
    "title": "title", "header": "header", "heading": "heading", "place": "tag or restart", "count": "count",
    "event": "danced", "note": "note", "filler": "how, no step", "passed": "passed over", "kept": "kept as written",
    "mark": "mark",
}  # fmt: skip

PLAIN = frozenset((".txt", ".md", ".text", ".csv", ".tsv"))


@click.command(name="read")
@click.argument("sheet", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print the dance events as JSON.")
@click.option("--account", is_flag=True, help="Print what every word was taken for; with --json beside the events.")
@click.option("--language", type=click.Choice(tuple(LANGUAGES)), help="What it is written in; else found out.")
@click.option("--mend", is_flag=True, help="Write a copy with the mends that are certain, and show what changed.")
@click.option("-o", "--out", type=click.Path(path_type=Path), help="Where --mend writes; else beside the sheet.")
@click.pass_context
def command(
    ctx: click.Context,
    sheet: Path,
    as_json: bool,
    account: bool,
    language: str | None,
    mend: bool,
    out: Path | None,
) -> None:
    """Say what SHEET says, action by action, and what is wrong with it.

    It may be written in English, German, French or Spanish; what is found is told in English.
    Ends with 0 when the dance is sound, 1 when errors were found, 2 when the sheet can't be read. With --mend only
    what is certain is changed, such as a wall number or a misspelled step, and the code is that of the mended sheet.
    """
    from softshoe.dance.document import dance_json
    from softshoe.errors import WordingError
    from softshoe.wording.account import account_json
    from softshoe.wording.read import empty, reading
    from softshoe.wording.source import sheet_text

    if out is not None and not mend:
        raise click.UsageError("-o says where --mend writes; give --mend as well.")
    if mend and (as_json or account):
        raise click.UsageError("--mend shows what changed; ask for the rest of the mended sheet afterwards.")
    text = sheet_text(sheet)
    try:
        sheet_read = reading(text, language=language or "")
    except WordingError:
        if as_json:
            print_json(dance_json(empty(text)))
        raise
    dance = sheet_read.dance
    if mend:
        dance = _mended(dance, text, out or sheet.with_name(f"{sheet.stem}-mended{_ending(sheet)}"))
    elif as_json:
        more = {"account": account_json(sheet_read.account)} if account else {}
        print_json(dance_json(dance) | more)
    elif account:
        _show_account(sheet_read.account)
    else:
        _tell(dance, sheet, text)
    ctx.exit(worst_code(dance.findings))


def _ending(sheet: Path) -> str:
    """A mended sheet is plain text: it does not pass for a word processor's document."""
    return sheet.suffix if sheet.suffix.casefold() in PLAIN else ".txt"


def _mended(dance: Dance, text: str, path: Path) -> Dance:
    """Write the mended sheet, show what changed and what is left to do; return the dance it holds."""
    from softshoe.files import write_whole
    from softshoe.wording.mend import differences, mended
    from softshoe.wording.read import read

    again = mended(text, dance)
    if again is None:
        click.echo("Nothing here can be mended for certain; nothing was written.")
        print_findings(dance.findings, where="the sheet", lines=text.splitlines())
        return dance
    for line in differences(text, again):
        click.echo(line)
    write_whole(path, again)
    click.echo(f"written: {path}")
    dance = read(again)
    print_findings((f for f in dance.findings if f.severity == "error"), where=path.name, lines=again.splitlines())
    return dance


def _show_account(account: Account) -> None:
    """Print every piece of the sheet: its line, what it was taken for, its words, the counts that came of it."""
    line = 0
    for piece in account.pieces:
        number = f"{piece.line:4}" if piece.line != line else "    "
        counts = "  -> " + " ".join(at.label for at in piece.moments) if piece.moments else ""
        click.echo(f"{number}  {ROLES[piece.role]:16}  {account.words(piece)}{counts}")
        line = piece.line


def _tell(dance: Dance, sheet: Path, text: str) -> None:
    from softshoe.dance.level import level_of
    from softshoe.dance.level_words import level_lines
    from softshoe.render.sheet import sheet_text as sheet_words

    click.echo(sheet_words(dance))
    for number, words in dance.kept:
        click.echo(f"kept as written, line {number}: {words}")
    print_findings(dance.findings, where=sheet.name, lines=text.splitlines())
    errors = sum(f.severity == "error" for f in dance.findings)
    if not errors:
        click.echo("\n" + "\n".join(level_lines(dance, level_of(dance))))
    click.echo(
        f"\n{len(dance.actions)} actions in {dance.counts} counts; " + (f"{errors} to mend." if errors else "sound.")
    )
