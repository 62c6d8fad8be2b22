"""The studio of an association: a way in for each account, and behind it a studio over what that account may see.

Forms only, no script. A visit's token lies in a cookie that scripts can't read and other pages can't send. See
docs/server.md; behind it stands ``repertoire.accounts``.
"""

from __future__ import annotations

import re
import threading
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.middleware import Middleware
from starlette.middleware.trustedhost import TrustedHostMiddleware
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse
from starlette.routing import Mount, Route

from softshoe.errors import SettingError, WorkbenchError
from softshoe.repertoire import accounts
from softshoe.repertoire.belonging import belongs
from softshoe.studio.app import Own, app
from softshoe.studio.desk import Desk
from softshoe.studio.drafts import Drafts
from softshoe.studio.entry import Entry
from softshoe.studio.failing import MissingError, failed, status_of, told, workbench_failed
from softshoe.studio.group import form_of, routes
from softshoe.studio.guard import FOREIGN, HEADERS, READING, own_page
from softshoe.studio.hearing import Hearings
from softshoe.studio.templates import FOLDER, FONTS, rendered
from softshoe.studio.work import Works

if TYPE_CHECKING:
    from collections.abc import Awaitable, Callable
    from pathlib import Path

    from starlette.responses import Response
    from starlette.types import ASGIApp, Message, Receive, Scope, Send

    from softshoe.repertoire.accounts import Account
    from softshoe.repertoire.store import Repertoire

    Answer = Callable[[Request], Awaitable[Response]]

COOKIE = "softshoe_visit"
DANCE = re.compile(r"/dance/([^/]+)")
NOT_HERS = MissingError("this dance", "it can't be seen by you", "it is somebody else's and not shared, or was taken "
                        "back", "go back to the beginning")  # fmt: skip


class _Known(Entry):
    """The way into one account's studio: whoever gets as far has come in already."""

    def known(self, said: str) -> bool:
        """Return True."""
        return True


@dataclass(slots=True)
class Association:
    """What all accounts share: the folder of files, the database, and the studios that are open."""

    home: Path
    kept: Repertoire
    hosts: list[str]
    _open: dict[tuple[str, str], Starlette] = field(default_factory=dict)
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def visitor(self, token: str, dance: str = "") -> Account | None:
        """Return whose visit it is. Raises MissingError for a ``dance`` that is somebody else's and not shared."""
        if not token:
            return None
        with self.kept.reading() as base:
            account = accounts.visitor(base, token)
            there = belongs(base, dance) if account is not None and dance else None
        if account is not None and there is not None and not (there.shared or there.whose in ("", account.uid)):
            raise NOT_HERS
        return account

    def studio(self, account: Account) -> Starlette:
        """Return the studio of an account."""
        with self._lock:
            key = (account.uid, account.role)
            if key not in self._open:
                own = self.home / "studio" / account.uid
                desk = Desk(self.home, Drafts(own / "drafts"), Works(own / "work"), Hearings(own / "waves"),
                            self.kept.seen_by(account), member=account.name)  # fmt: skip
                self._open[key] = app(desk, _Known(account.uid), hosts=self.hosts)
            return self._open[key]


def association(home: Path, kept: Repertoire, *, hosts: list[str]) -> Starlette:
    """Return the studio of an association.

    hosts : the names under which it may be asked, as a browser says them
    """
    house = Association(home, kept, hosts)
    ways = [
        Mount("/own", Own(directory=FOLDER)), Mount("/fonts", Own(directory=FONTS)),
        Route("/enter", _enter_page, methods=["GET"]), Route("/enter", _entered(house), methods=["POST"]),
        Route("/join", _join_page, methods=["GET"]), Route("/join", _joined(house), methods=["POST"]),
        Route("/leave", _left(house), methods=["POST"]),
        *routes(kept, house.visitor, cookie=COOKIE, let_in=_let_in), Mount("/", _Door(house)),
    ]  # fmt: skip
    guards = [Middleware(TrustedHostMiddleware, allowed_hosts=hosts), Middleware(_Guard)]
    return Starlette(routes=ways, middleware=guards, exception_handlers={WorkbenchError: workbench_failed})


class _Guard:
    """Refuses changes that another page asked for; adds the security headers."""

    def __init__(self, inner: ASGIApp) -> None:
        self.app = inner

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        async def dressed(message: Message) -> None:
            if message["type"] == "http.response.start":
                message["headers"] = _with(message["headers"])
            await send(message)

        asked = Request(scope)
        foreign = scope["method"] not in READING and not own_page(scope, asked.headers)
        await (failed(asked, FOREIGN, status=403) if foreign else self.app)(scope, receive, dressed)


def _with(headers: list[tuple[bytes, bytes]]) -> list[tuple[bytes, bytes]]:
    there = {name.lower() for name, _ in headers}
    more = [(name.encode(), value.encode()) for name, value in HEADERS.items() if name.encode() not in there]
    return [*headers, *more]


class _Door:
    """Lets those with a visit through to their studio; sends the others to the way in."""

    def __init__(self, house: Association) -> None:
        self.house = house

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        asked = Request(scope)
        dance = DANCE.match(asked.url.path)
        account = await run_in_threadpool(self.house.visitor, asked.cookies.get(COOKIE, ""), dance[1] if dance else "")
        if account is None:
            await RedirectResponse("/enter", 303)(scope, receive, send)
            return
        studio = await run_in_threadpool(self.house.studio, account)
        await studio(scope, receive, send)


def _page(way: str, *, status: int = 200, wrong: WorkbenchError | None = None, **filled: str) -> Response:
    values = {"who": "", "code": ""} | filled
    return HTMLResponse(rendered("enter.html", way=way, wrong=told(wrong) if wrong else None, **values), status)


async def _enter_page(_: Request) -> Response:
    return _page("enter")


async def _join_page(request: Request) -> Response:
    return _page("join", code=request.query_params.get("code", ""))


def _entered(house: Association) -> Answer:
    def enter(form: dict[str, str]) -> accounts.Entered:
        with house.kept.writing() as base:
            return accounts.enter(base, form.get("name", ""), form.get("password", ""))

    async def answer(request: Request) -> Response:
        form = await form_of(request)
        entered = await run_in_threadpool(enter, form)
        if entered.refused is not None:
            return _page("enter", status=403, wrong=entered.refused, who=form.get("name", ""))
        return _let_in(request, entered.token)

    return answer


def _joined(house: Association) -> Answer:
    def join(form: dict[str, str]) -> str:
        name, password = form.get("name", ""), form.get("password", "")
        with house.kept.writing() as base:
            accounts.join(base, form.get("code", ""), name, password)
            return accounts.enter(base, name, password).token

    async def answer(request: Request) -> Response:
        form = await form_of(request)
        try:
            token = await run_in_threadpool(join, form)
        except SettingError as wrong:
            return _page("join", status=status_of(wrong), wrong=wrong, who=form.get("name", ""),
                         code=form.get("code", ""))  # fmt: skip
        return _let_in(request, token)

    return answer


def _left(house: Association) -> Answer:
    def leave(token: str) -> None:
        with house.kept.writing() as base:
            accounts.leave(base, token)

    async def answer(request: Request) -> Response:
        await run_in_threadpool(leave, request.cookies.get(COOKIE, ""))
        gone = RedirectResponse("/enter", 303)
        gone.delete_cookie(COOKIE)
        return gone

    return answer


def _let_in(request: Request, token: str, to: str = "/") -> Response:
    in_it = RedirectResponse(to, 303)
    in_it.set_cookie(COOKIE, token, max_age=accounts.VISIT_DAYS * 86_400, httponly=True, samesite="strict",
                     secure=request.url.scheme == "https")  # fmt: skip
    return in_it
