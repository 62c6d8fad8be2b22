"""``softshoe studio``: the same in the browser, on this machine only."""

from __future__ import annotations

import secrets
import socket
import webbrowser
from pathlib import Path

import click

LOOPBACK = "127.0.0.1"


@click.command(name="studio")
@click.argument("sheet", required=False, type=click.Path(path_type=Path))
@click.option("--port", type=click.IntRange(0, 65_535), default=0, help="The port to listen on; 0 takes a free one.")
@click.option("--no-browser", is_flag=True, help="Only print the link.")
def command(sheet: Path | None, port: int, no_browser: bool) -> None:
    """Open the studio in the browser: write a sheet and see its reading. Nobody outside this machine can reach it."""
    import uvicorn

    from softshoe.studio.app import app
    from softshoe.wording.source import sheet_text

    words = sheet_text(sheet) if sheet else ""
    key = secrets.token_urlsafe(24)
    door = _door(port)
    link = f"http://{LOOPBACK}:{door.getsockname()[1]}/?key={key}"
    click.echo(f"The studio is open: {link}\nStop it with Ctrl-C.")
    if not no_browser:
        webbrowser.open(link)
    server = uvicorn.Server(uvicorn.Config(app(key=key, words=words), log_level="warning", access_log=False))
    server.run(sockets=[door])


def _door(port: int) -> socket.socket:
    from softshoe.errors import SettingError

    door = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    door.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        door.bind((LOOPBACK, port))
    except OSError as wrong:
        raise SettingError(
            "--port", f"port {port} can't be used", str(wrong), "leave --port away: a free one is taken"
        ) from wrong
    return door
