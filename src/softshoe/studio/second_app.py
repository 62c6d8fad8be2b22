"""What a second device can reach: the code, what is led now, and the few things that can be asked. Nothing else."""

from __future__ import annotations

import ipaddress
import time
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import Headers
from starlette.middleware import Middleware
from starlette.responses import FileResponse, HTMLResponse, JSONResponse, PlainTextResponse, Response, StreamingResponse
from starlette.routing import Route

from softshoe.errors import SettingError, WorkbenchError
from softshoe.studio.asking import Asked, asked_of
from softshoe.studio.failing import MissingError, told
from softshoe.studio.guard import READING, dressed, own_page
from softshoe.studio.templates import FOLDER, FONTS, rendered

if TYPE_CHECKING:
    from starlette.requests import Request
    from starlette.types import ASGIApp, ExceptionHandler, Receive, Scope, Send

    from softshoe.studio.second import Second

COOKIE = "softshoe_second"
BODY = 2000
HOURS_S = 12 * 3600
SEEN_BY_ALL = ("style.css", "lead.css", "shoe.svg", "ask.js", "pair.js")
SEEN_INSIDE = ("second.js", "lead_plan.js", "lead_show.js", "lead_signs.js", "lead_awake.js", "lead_clock.js")
LETTERS = ("AtkinsonHyperlegible-Regular.woff2", "AtkinsonHyperlegible-Bold.woff2", "B612-Bold.woff2")
Do = Literal["go", "again", "next", "before", "start", "slower", "quicker", "loop", "wall"]


@dataclass(frozen=True, slots=True)
class Digits:
    """The code as it was typed."""

    code: str


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a device asks for; ``n`` is the wall or tag in the order of the song, from 0."""

    do: Do
    n: int = 0


class OnlyNumbers:
    """Answers to addresses made of numbers alone, so that no page under a name can reach it; adds strict headers."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:  # noqa: D102 - the class says it
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        asked = Headers(scope=scope)
        own = scope["method"] in READING or own_page(scope, asked)
        app = self.app if own and _a_number(asked.get("host", "")) else PlainTextResponse("Not here.", 400)
        await app(scope, receive, dressed(send))


def _a_number(host: str) -> bool:
    try:
        ipaddress.IPv4Address(host.rpartition(":")[0] or host)
    except ValueError:
        return False
    return True


def second_app(second: Second) -> Starlette:
    """Return what is reached from the network."""
    doors = _Doors(second)
    routes = [
        Route("/", doors.page), Route("/pair", doors.pair, methods=["POST"]), Route("/plan", doors.plan),
        Route("/told", doors.told), Route("/do", doors.do, methods=["POST"]), Route("/clock", doors.clock),
        Route("/own/{name}", doors.own), Route("/fonts/{name}", doors.font),
    ]  # fmt: skip
    failures: dict[int | type[Exception], ExceptionHandler] = {WorkbenchError: _failed}
    return Starlette(routes=routes, middleware=[Middleware(OnlyNumbers)], exception_handlers=failures)


def _failed(_: Request, wrong: Exception) -> Response:
    assert isinstance(wrong, WorkbenchError)
    return JSONResponse(told(wrong), 404 if isinstance(wrong, MissingError) else 403)


class _Doors:
    """The few addresses there are."""

    def __init__(self, second: Second) -> None:
        self.second = second

    def _in(self, request: Request) -> bool:
        return self.second.known(request.cookies.get(COOKIE, ""))

    def _must(self, request: Request) -> None:
        if not self._in(request):
            raise SettingError("this device", "it is not let in", "the code was not given here, or she sent all away",
                               "load the page again and type the code")  # fmt: skip

    async def page(self, request: Request) -> Response:
        """The code to be typed, or what is led."""
        return HTMLResponse(rendered("second.html" if self._in(request) else "pair.html"))

    async def pair(self, request: Request) -> Response:
        """Let a device in that knows the code."""
        said = (await self._asked(request)).json(Digits)
        answer = JSONResponse({"in": True})
        answer.set_cookie(COOKIE, self.second.let_in(said.code.strip()), httponly=True, samesite="strict",
                          max_age=HOURS_S)  # fmt: skip
        return answer

    async def plan(self, request: Request) -> Response:
        """The plan of what is led."""
        from softshoe.studio.leading import plan_of

        self._must(request)
        led: Any = self.second.told.last
        if not led:
            raise MissingError("the class", "nothing is led yet", "no dance is open to be led",
                               "open a dance in Lead on the leading screen")  # fmt: skip
        return JSONResponse(await run_in_threadpool(plan_of, self.second.desk, led["dance"], led["version"]))

    async def told(self, request: Request) -> Response:
        """What is led, as it goes on."""
        self._must(request)
        return StreamingResponse(self.second.told.events(), media_type="text/event-stream")

    async def do(self, request: Request) -> Response:
        """Ask for something."""
        self._must(request)
        said = (await self._asked(request)).json(Wanted)
        self.second.asked.say({"do": said.do, "n": said.n})
        return JSONResponse({"heard": self.second.asked.hearers})

    async def clock(self, request: Request) -> Response:
        """The time here, for keeping in step."""
        self._must(request)
        return JSONResponse({"now": now_ms()})

    async def own(self, request: Request) -> Response:
        """The files of these pages."""
        name = request.path_params["name"]
        if name not in SEEN_BY_ALL and not (name in SEEN_INSIDE and self._in(request)):
            raise MissingError("this address", "there is nothing here", "nobody needs it here", "go back")
        return FileResponse(FOLDER / name)

    async def font(self, request: Request) -> Response:
        """The letters."""
        name = request.path_params["name"]
        if name not in LETTERS:
            raise MissingError("this address", "there is nothing here", "nobody needs it here", "go back")
        return FileResponse(FONTS / name)

    async def _asked(self, request: Request) -> Asked:
        return await asked_of(request, self.second.desk, most=BODY)


def now_ms() -> float:
    """The clock that screens keep in step by. [ms]"""
    return time.monotonic() * 1000
