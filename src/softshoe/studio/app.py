"""The studio's one page so far: words go in, the reading and its findings stand beside them."""

from __future__ import annotations

from importlib.resources import files
from typing import TYPE_CHECKING
from urllib.parse import parse_qs

from jinja2 import Environment, PackageLoader
from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.middleware import Middleware
from starlette.middleware.trustedhost import TrustedHostMiddleware
from starlette.responses import HTMLResponse, Response
from starlette.routing import Route

from softshoe.errors import WorkbenchError
from softshoe.studio.guard import Guard

if TYPE_CHECKING:
    from starlette.requests import Request

HOSTS = ["127.0.0.1", "localhost"]
LONGEST_SHEET = 200_000
PAGES = Environment(loader=PackageLoader("softshoe", "data/studio"), autoescape=True)
FONTS = {"words.ttf": "AtkinsonHyperlegible-Regular.ttf", "words-bold.ttf": "AtkinsonHyperlegible-Bold.ttf"}


def app(*, key: str, words: str = "") -> Starlette:
    """Return the studio; ``key`` is this start's secret, ``words`` the sheet shown first."""

    async def write(_: Request) -> Response:
        return await run_in_threadpool(_page, words)

    async def read(request: Request) -> Response:
        body = bytearray()
        async for part in request.stream():
            body += part
            if len(body) > 4 * LONGEST_SHEET:
                return HTMLResponse(PAGES.get_template("too-long.html").render(), 413)
        fields = parse_qs(body.decode("utf-8", "replace"), keep_blank_values=True, max_num_fields=4)
        return await run_in_threadpool(_page, fields.get("words", [""])[0][:LONGEST_SHEET])

    routes = [
        Route("/", write),
        Route("/read", read, methods=["POST"]),
        Route("/style.css", _style),
        Route("/fonts/{name}", _font),
    ]
    guards = [Middleware(TrustedHostMiddleware, allowed_hosts=HOSTS), Middleware(Guard, key=key)]
    return Starlette(routes=routes, middleware=guards)


def _page(words: str) -> HTMLResponse:
    return HTMLResponse(PAGES.get_template("write.html").render(words=words, **_reading(words)))


def _reading(words: str) -> dict[str, object]:
    from softshoe.render.sheet import sheet_text
    from softshoe.wording.read import read

    if not words.strip():
        return {}
    try:
        dance = read(words)
    except WorkbenchError as wrong:
        return {"wrong": wrong}
    lines = words.splitlines()
    found = [(f, lines[f.line - 1] if f.line and f.line <= len(lines) else "") for f in dance.findings]
    return {"dance": dance, "findings": found, "reading": sheet_text(dance)}


async def _style(_: Request) -> Response:
    return Response((files("softshoe") / "data" / "studio" / "style.css").read_bytes(), media_type="text/css")


async def _font(request: Request) -> Response:
    name = FONTS.get(request.path_params["name"])
    if name is None:
        return Response(status_code=404)
    return Response((files("softshoe") / "data" / "fonts" / name).read_bytes(), media_type="font/ttf")
