"""``softshoe plan``: a class laid out of dances."""

from __future__ import annotations

from pathlib import Path

import click

from softshoe.cli.show import clock_time
from softshoe.plan.groups import groups


@click.command(name="plan")
@click.argument("sheets", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--group", default="seated beginners", show_default=True, help=f"Who comes: {', '.join(groups())}.")
@click.option("--minutes", type=int, default=45, show_default=True, help="How long the class is.")
@click.option("--new", multiple=True, help="Title of a dance that is new to the group; may be given more than once.")
def command(sheets: tuple[Path, ...], group: str, minutes: int, new: tuple[str, ...]) -> None:
    """Lay a class out of the dances of SHEETS: order, rests, minutes, and which of the usual rules it can't keep."""
    from softshoe.plan.classes import plan_class
    from softshoe.plan.groups import group_named
    from softshoe.wording.read import read
    from softshoe.wording.source import sheet_text

    dances = [read(sheet_text(sheet)) for sheet in sheets]
    plan = plan_class(dances, group=group_named(group), minutes=minutes, new=new)
    for item in plan.items:
        click.echo(f"{clock_time(item.start_s):>6}  {item.what}  ({clock_time(item.length_s)})")
    click.echo(f"\n{plan.dancing_s / 60:.0f} minutes of dancing.")
    for note in plan.notes:
        click.echo(f"Note: {note}.")
    click.echo("Whoever dances with a condition asks her own clinician first; local rules come before this plan.")
