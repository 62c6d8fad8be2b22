"""The studio: one frame, a page for each place of the work, all over one desk. See docs/studio.md for adding a page."""

from __future__ import annotations

import threading
import time
from contextlib import suppress
from typing import TYPE_CHECKING

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.middleware.trustedhost import TrustedHostMiddleware
from starlette.routing import Mount
from starlette.staticfiles import StaticFiles

from softshoe.errors import WorkbenchError
from softshoe.studio.desk import Desk
from softshoe.studio.entry import Entry, entry_of
from softshoe.studio.failing import address_failed, program_failed, workbench_failed
from softshoe.studio.frame import routes_of, shared_routes
from softshoe.studio.guard import Guard
from softshoe.studio.table import PLACES, SHARED
from softshoe.studio.templates import FOLDER, FONTS

if TYPE_CHECKING:
    from pathlib import Path

    from starlette.responses import Response
    from starlette.types import ExceptionHandler, Scope

HOSTS = ["127.0.0.1", "localhost"]
LOOPBACK = "127.0.0.1"
SETTLED_S = 3.0


class Own(StaticFiles):
    """Our own files of these kinds, asked for again each time and sent only where they changed."""

    KINDS = (".js", ".css", ".woff2", ".wasm", ".mjs", ".svg", ".webmanifest")

    async def get_response(self, path: str, scope: Scope) -> Response:  # noqa: D102 - as StaticFiles says it
        if not path.endswith(self.KINDS):
            raise HTTPException(404)
        answer = await super().get_response(path, scope)
        answer.headers["cache-control"] = "no-cache"
        if path == "offline.js":
            answer.headers["service-worker-allowed"] = "/"
        return answer


def app(desk: Desk, entry: Entry, *, hosts: list[str] = HOSTS) -> Starlette:
    """Return the studio over a desk, open to whoever holds its link; it answers to these names of hosts."""
    own = [Mount("/own", Own(directory=FOLDER)), Mount("/fonts", Own(directory=FONTS))]
    pages = [route for place in PLACES for route in routes_of(place, desk)]
    pages += [route for name in SHARED for route in shared_routes(name, desk)]
    failures: dict[int | type[Exception], ExceptionHandler] = {
        WorkbenchError: workbench_failed, HTTPException: address_failed, Exception: program_failed,
    }  # fmt: skip
    guards = [Middleware(TrustedHostMiddleware, allowed_hosts=hosts), Middleware(Guard, entry=entry)]
    return Starlette(routes=[*own, *pages], middleware=guards, exception_handlers=failures)


def studio(home: Path | None = None, *, words: str = "") -> tuple[Starlette, str]:
    """Return the studio of a folder (the user's own when None) and the address that opens it, without the host.

    words : a sheet to begin with, as a new dance; the beginning when ""
    """
    desk = Desk.at(home)
    entry = entry_of(desk.home / "studio")
    address = f"/dance/{desk.found(words)}/write" if words.strip() else "/"
    if (desk.home / "jobs").is_dir():
        threading.Thread(target=_go_on, args=(desk,), daemon=True, name="softshoe-orders").start()
    return app(desk, entry), f"{address}?key={entry.link}"


def _go_on(desk: Desk) -> None:
    """Take up long work that was cut short the last time, once the first page is there."""
    from softshoe.studio.orders import door_of

    time.sleep(SETTLED_S)
    with suppress(WorkbenchError):  # a page that asks for it tells what is wrong
        door_of(desk)
