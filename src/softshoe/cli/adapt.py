"""``softshoe adapt``: a version for other abilities, with what changed and why."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from softshoe.adapt.version import KINDS
from softshoe.cli.show import print_json

if TYPE_CHECKING:
    from softshoe.adapt.version import Abilities, Kind, Version
    from softshoe.dance.dance import Dance

WAYS = "--to KIND or FILE, --for WORDS, or --ask"


@click.command(name="adapt")
@click.argument("sheet", type=click.Path(path_type=Path))
@click.option("--to", metavar="KIND|FILE", help=f"The version wanted ({', '.join(KINDS)}), or a file of wishes.")
@click.option(
    "--for", "words", metavar="WORDS", help='Wishes in plain words: "seated, left arm only, nothing overhead".'
)
@click.option("--ask", is_flag=True, help="Ask for wishes, one question after the other.")
@click.option("--keep", type=click.Path(path_type=Path), help="Keep the wishes asked for in this file.")
@click.option(
    "--instead", multiple=True, metavar="COUNT=STEP", help='Dance a count your own way: "13=touch R beside L".'
)
@click.option("--tempo", type=click.FloatRange(20, 400), help="Counts a minute, for the effort.")
@click.option("--costs", is_flag=True, help="Show what was given up, by named part.")
@click.option("--json", "as_json", is_flag=True, help="Print the version's dance events as JSON.")
def command(
    sheet: Path,
    to: str | None,
    words: str | None,
    keep: Path | None,
    instead: tuple[str, ...],
    tempo: float | None,
    *,
    ask: bool,
    costs: bool,
    as_json: bool,
) -> None:
    """Make the version of SHEET for other abilities: the same counts, and every change with its reason."""
    from softshoe.adapt.adapt import adapt
    from softshoe.adapt.by_hand import instead as put_in
    from softshoe.dance.document import dance_json
    from softshoe.wording.read import read
    from softshoe.wording.source import sheet_text

    dance = read(sheet_text(sheet))
    version = adapt(dance, _wanted(to, words, keep, ask=ask))
    warnings: list[str] = []
    for one in instead:
        version, told = put_in(version, one)
        warnings += told
    if as_json:
        print_json(dance_json(version.dance))
    else:
        _show(dance, version, warnings, tempo, costs=costs)
    if version.breaches or warnings:
        raise SystemExit(1)


def _wanted(to: str | None, words: str | None, keep: Path | None, *, ask: bool) -> Kind | Abilities:
    from softshoe.adapt.plain import in_plain_words
    from softshoe.adapt.wishes_file import read_wishes, wishes_text
    from softshoe.cli.ask_wishes import asked_wishes
    from softshoe.errors import SettingError
    from softshoe.files import write_whole

    if sum((to is not None, words is not None, ask)) != 1:
        raise SettingError("softshoe adapt", "one way to say for whom is needed", WAYS, "give one of these: " + WAYS)
    if ask:
        given, said = asked_wishes()
        if keep is not None:
            write_whole(keep, wishes_text(given, said))
            click.echo(f"written: {keep}")
        return given
    if words is not None:
        return in_plain_words(words, name="--for")
    if to in KINDS:
        return to
    looks_like_file = Path(str(to)).suffix.lower() in (".toml", ".json") or "/" in str(to)
    if not looks_like_file and not Path(str(to)).exists():
        return in_plain_words(str(to), name="--to")
    return read_wishes(Path(str(to)))


def _show(dance: Dance, version: Version, warnings: list[str], tempo: float | None, *, costs: bool) -> None:
    from softshoe.adapt.plain import limit_words
    from softshoe.render.sheet import sheet_text as sheet_words
    from softshoe.render.sheet_notes import change_rows

    click.echo(sheet_words(version.dance))
    click.echo(f"\nFor: {limit_words(version.abilities)}.")
    for warning in dict.fromkeys(warnings):
        click.echo(f"  please check: {warning}")
    rows = change_rows(dance, version)
    click.echo(f"\n{len(rows)} count{' is' if len(rows) == 1 else 's are'} danced otherwise:")
    sources = {change.at.label: change.source for change in version.changes}
    for at, was, now, why in rows:
        click.echo(f"  count {at}: {now}\n    in place of: {was}\n    {why} ({sources.get(at, 'common practice')})")
    if version.lost:
        click.echo("\nWhat could not be kept:")
        for sentence in version.lost:
            click.echo(f"  {sentence}")
    _show_smaller(version)
    if costs:
        _show_costs(version)
    _show_effort(version.dance, tempo)
    _show_care(version)


def _show_smaller(version: Version) -> None:
    from softshoe.adapt.shown import shown_smaller
    from softshoe.dance.counts import Count
    from softshoe.teach.parts import SUPPORTS

    found = shown_smaller(version.dance, support=SUPPORTS.get(version.kind))
    if found:
        click.echo("\nWhat pictures and films show smaller:")
    for one in found:
        click.echo(f"  count {Count.at_moment(one.count or '0').label}: {one.message}")


def _show_costs(version: Version) -> None:
    from softshoe.adapt.costs import MEANS, WEIGHTS, cost_of

    parts = version.costs or {}
    click.echo(f"\nWhat was given up, {cost_of(parts):.1f} in all (the version that gives up least was taken):")
    for part, times in parts.items():
        click.echo(f"  {part}: {times:g} x {WEIGHTS[part]:g}  ({MEANS[part]})")


def _show_effort(dance: Dance, tempo: float | None) -> None:
    from softshoe.plan.effort import DISAGREE, asks_much, balance_of, balance_words, band_words, effort_band

    band = effort_band(dance, counts_per_min=tempo)
    click.echo(f"\nEffort: {band_words(band)}.\n  Basis: {band.basis}.\n  {DISAGREE}")
    click.echo("In one wall:")
    for sentence in (*balance_words(balance_of(dance)), *asks_much(dance, counts_per_min=tempo)):
        click.echo(f"  {sentence}")


def _show_care(version: Version) -> None:
    from softshoe.adapt.cautions import caution_counts, cautions
    from softshoe.render.sheet_notes import care_note

    note = care_note(version.dance, version)
    click.echo(f"\n{note.name}")
    for sentence in note.words[:-1]:
        click.echo(f"  {sentence}")
    table, counts = cautions(), caution_counts(version.dance)
    for one in version.cautions:
        row = table[one]
        where = f" (count {counts[one]})" if counts.get(one) else ""
        click.echo(f"  {row.condition}: {row.watch}{where}. Instead: {row.adaptation}.")
    click.echo(f"\n{table['stop_signs'].always_say}.")
