"""What keeps the studio to this machine and this person: own pages only, one browser's cookie, strict headers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import HTTPConnection
from starlette.responses import RedirectResponse

from softshoe.errors import SettingError
from softshoe.studio.failing import failed

if TYPE_CHECKING:
    from starlette.types import ASGIApp, Message, Receive, Scope, Send

    from softshoe.studio.entry import Entry

READING = {"GET", "HEAD", "OPTIONS"}
HEADERS = {
    "content-security-policy": (
        "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data:; "
        "font-src 'self'; media-src 'self' blob:; connect-src 'self'; worker-src 'self'; manifest-src 'self'; "
        "form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
    ),
    "x-content-type-options": "nosniff",
    "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "cache-control": "no-store",
}
FOREIGN = SettingError(
    "this request", "nothing was changed", "it came from another page", "change things from the studio's own pages"
)
STRANGER = SettingError(
    "the studio", "this browser is not let in", "it was not opened by the link that “softshoe studio” printed, "
    "or that link was used before", "stop the studio with Ctrl-C, start it again and open the new link",
)  # fmt: skip


def dressed(send: Send) -> Send:
    """Return what sends an answer with the strict headers, where it has none of its own."""

    async def sent(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers.setdefault(name, value)
        await send(message)

    return sent


class Guard:
    """Refuses changes that another page asked for, and anybody without the cookie; adds the security headers.

    The link printed at the start opens once; it is swapped for a cookie that only this browser keeps.
    """

    def __init__(self, app: ASGIApp, *, entry: Entry) -> None:
        self.app, self.entry = app, entry

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:  # noqa: D102 - what it does is the class's own sentence
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        await self._answer(scope)(scope, receive, dressed(send))

    def _answer(self, scope: Scope) -> ASGIApp:
        asked = HTTPConnection(scope)
        if scope["method"] not in READING and not own_page(scope, Headers(scope=scope)):
            return failed(asked, FOREIGN, status=403)
        known = self.entry.known(asked.cookies.get(self.entry.cookie, ""))
        key = asked.query_params.get("key", "")
        if key and (known or self.entry.opened_by(key)):
            swapped = RedirectResponse(asked.url.path if asked.url.path.startswith("/dance/") else "/", 303)
            swapped.set_cookie(self.entry.cookie, self.entry.secret, httponly=True, samesite="strict", path="/")
            return swapped
        return self.app if known else failed(asked, STRANGER, status=403)


def own_page(scope: Scope, asked: Headers) -> bool:
    """Return whether a page of this very address asked."""
    site, origin = asked.get("sec-fetch-site"), asked.get("origin")
    own = f"{scope['scheme']}://{asked.get('host')}"
    return site in ("same-origin", "none") if site else origin in (None, own)
