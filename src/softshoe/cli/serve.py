"""``softshoe serve``: the studio for an association, each leader with an account of her own."""

from __future__ import annotations

import click

PORT = 5078


@click.command(name="serve")
@click.option("--address", default="127.0.0.1", show_default=True, help="Where to listen; keep it behind a web server.")
@click.option("--port", type=click.IntRange(1, 65_535), default=PORT, show_default=True)
@click.option("--name", "names", multiple=True, metavar="HOST", help="A name that browsers ask for it by; localhost "
              "is one.")  # fmt: skip
def command(address: str, port: int, names: tuple[str, ...]) -> None:
    """Serve the studio to the accounts of an association, over the PostgreSQL that SOFTSHOE_DATABASE names.

    docs/server.md tells how it is set up: the web server before it, the workers, the copies.
    """
    import uvicorn

    from softshoe.cli.kept_in import repertoire
    from softshoe.errors import SettingError
    from softshoe.repertoire.accounts import Account
    from softshoe.repertoire.originals import all_sent
    from softshoe.studio.association import association

    kept = repertoire()
    if not kept.url:
        raise SettingError("SOFTSHOE_DATABASE", "it names no database", "an association's repertoire lies in "
                           "PostgreSQL", "set it; for yourself alone there is “softshoe studio”")  # fmt: skip
    kept.seen_by(Account("", "", "reader", ""))  # fails here, before anybody comes, where the database can't part them
    if many := all_sent(kept.folder):
        click.echo(f"{many} files were brought to the store of files.", err=True)
    made = association(kept.folder, kept, hosts=["127.0.0.1", "localhost", *names])
    click.echo(f"Open at {address}, port {port}. Ctrl-C ends it.", err=True)
    uvicorn.run(made, host=address, port=port, log_level="warning", access_log=False)
