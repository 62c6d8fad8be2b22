"""What keeps the studio to this machine and this person: own pages only, one key a start, strict headers."""

from __future__ import annotations

import secrets
from typing import TYPE_CHECKING

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import HTTPConnection
from starlette.responses import PlainTextResponse, RedirectResponse

if TYPE_CHECKING:
    from starlette.types import ASGIApp, Message, Receive, Scope, Send

COOKIE = "softshoe_key"
READING = {"GET", "HEAD", "OPTIONS"}
HEADERS = {
    "content-security-policy": (
        "default-src 'none'; style-src 'self'; img-src 'self'; font-src 'self'; form-action 'self'; base-uri 'none'; "
        "frame-ancestors 'none'"
    ),
    "x-content-type-options": "nosniff",
    "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "cache-control": "no-store",
}


class Guard:
    """Refuses changes that another page asked for, and anybody without this start's key; adds the security headers.

    The link printed at the start carries the key once; it is swapped for a cookie that only this browser keeps.
    """

    def __init__(self, app: ASGIApp, *, key: str) -> None:
        self.app, self.key = app, key

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:  # noqa: D102 - what it does is the class's own sentence
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        async def dressed(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    headers.setdefault(name, value)
            await send(message)

        await self._answer(scope)(scope, receive, dressed)

    def _answer(self, scope: Scope) -> ASGIApp:
        asked = HTTPConnection(scope)
        if scope["method"] not in READING and not _own_page(scope, Headers(scope=scope)):
            return PlainTextResponse("This came from another page.", 403)
        if self._right(asked.query_params.get("key", "")):
            swapped = RedirectResponse("/", 303)
            swapped.set_cookie(COOKIE, self.key, httponly=True, samesite="strict")
            return swapped
        if not self._right(asked.cookies.get(COOKIE, "")):
            return PlainTextResponse("Open the studio by the link that “softshoe studio” printed.", 403)
        return self.app

    def _right(self, said: str) -> bool:
        return secrets.compare_digest(said.encode(), self.key.encode())


def _own_page(scope: Scope, asked: Headers) -> bool:
    site, origin = asked.get("sec-fetch-site"), asked.get("origin")
    own = f"{scope['scheme']}://{asked.get('host')}"
    return site in ("same-origin", "none") if site else origin in (None, own)
