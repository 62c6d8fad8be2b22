"""The frame that every page stands in, and the routes of a page: its own address and those below it."""

from __future__ import annotations

import inspect
from importlib import import_module
from typing import TYPE_CHECKING

from starlette.concurrency import run_in_threadpool
from starlette.responses import HTMLResponse, JSONResponse, Response
from starlette.routing import Route

from softshoe.studio.asking import asked_of
from softshoe.studio.drafts import identity
from softshoe.studio.table import PLACES
from softshoe.studio.templates import FOLDER, rendered

if TYPE_CHECKING:
    from collections.abc import Awaitable, Callable, Iterator

    from starlette.requests import Request

    from softshoe.studio.asking import Asked
    from softshoe.studio.desk import Desk
    from softshoe.studio.table import Page, Place, Way

    Answer = Callable[[Request], Awaitable[Response]]


def routes_of(place: Place, desk: Desk) -> Iterator[Route]:
    """Yield the routes of a place."""
    page = place.page
    yield Route(place.address, _showing(place, page, desk), methods=["GET"])
    for way in page.ways:
        address = f"{place.address.rstrip('/')}/{way.path}" if place.address != "/" else f"/start/{way.path}"
        yield Route(address, _answering(way, desk), methods=[way.method])


def shared_routes(name: str, desk: Desk) -> Iterator[Route]:
    """Yield the routes of a module that several pages ask, below the dance's own address."""
    for way in import_module(f"softshoe.studio.{name}").WAYS:
        yield Route(f"/dance/{{dance}}/{way.path}", _answering(way, desk), methods=[way.method])


def _showing(place: Place, page: Page, desk: Desk) -> Answer:
    def shown(asked: Asked) -> HTMLResponse:
        dance = desk.shown(asked.dance) if place.of_dance else None
        values = dict(page.values(asked))
        script = f"{page.name}.js" if (FOLDER / f"{page.name}.js").is_file() else ""
        frame = {"places": PLACES, "here": place.name, "dance": dance, "title": page.title, "script": script,
                 "member": desk.member}  # fmt: skip
        return HTMLResponse(rendered(f"{page.name}.html", **frame, **values))

    async def answer(request: Request) -> Response:
        return await run_in_threadpool(shown, await asked_of(request, desk, most=0))

    return answer


def _answering(way: Way, desk: Desk) -> Answer:
    def worked(asked: Asked) -> Response:
        out = way.work(asked)
        return out if isinstance(out, Response) else JSONResponse(out)

    async def answer(request: Request) -> Response:
        if "dance" in request.path_params:
            identity(str(request.path_params["dance"]))
        if inspect.iscoroutinefunction(way.work):
            streamed: Response = await way.work(request, desk)
            return streamed
        return await run_in_threadpool(worked, await asked_of(request, desk, most=way.most))

    return answer
