"""``softshoe studio``: the same in the browser, on this machine only."""

from __future__ import annotations

import socket
import webbrowser
from contextlib import suppress
from pathlib import Path

import click

LOOPBACK = "127.0.0.1"
USUAL = 5077  # taken where it is free, so that a page that was open goes on when the studio is started again
WAITING = 128
STILL_S = 3  # how long open pages are waited for when it is stopped


@click.command(name="studio")
@click.argument("sheet", required=False, type=click.Path(path_type=Path))
@click.option(
    "--port", type=click.IntRange(0, 65_535), help=f"The port to listen on; {USUAL} or a free one if not said."
)
@click.option(
    "--home", type=click.Path(path_type=Path, file_okay=False), help="The folder in which everything is kept."
)
@click.option("--no-browser", is_flag=True, help="Only print the link.")
def command(sheet: Path | None, port: int | None, home: Path | None, no_browser: bool) -> None:
    """Open the studio in the browser: the whole job by looking, typing and listening.

    The link opens once, for the browser that it is opened in. Nobody outside this machine can reach the studio.
    """
    import uvicorn

    from softshoe.studio.app import studio
    from softshoe.wording.source import sheet_text

    made, address = studio(home, words=sheet_text(sheet) if sheet else "")
    door = _door(port)
    link = f"http://{LOOPBACK}:{door.getsockname()[1]}{address}"
    click.echo(f"The studio is open: {link}\nStop it with Ctrl-C.")
    if not no_browser:
        webbrowser.open(link)
    config = uvicorn.Config(made, log_level="warning", access_log=False, timeout_graceful_shutdown=STILL_S)
    with suppress(KeyboardInterrupt):  # that is how it is stopped
        uvicorn.Server(config).run(sockets=[door])


def _door(port: int | None) -> socket.socket:
    from softshoe.errors import SettingError

    for tried in (port,) if port is not None else (USUAL, 0):
        door = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        door.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            door.bind((LOOPBACK, tried))
            door.listen(WAITING)  # from now on a browser waits until the program is ready
        except OSError as wrong:
            door.close()
            if port is not None:
                raise SettingError("--port", f"port {port} can't be used", str(wrong),
                                   "leave --port away: a free one is taken") from wrong  # fmt: skip
        else:
            return door
    raise SettingError("the studio", "no port can be used", "this machine gives none", "close other programs")
