"""What a page asks: its dance, its query, its body with a limit, as values with checks."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeVar

import msgspec

from softshoe.errors import SettingError
from softshoe.studio.failing import TooLargeError

if TYPE_CHECKING:
    from collections.abc import Mapping

    from starlette.requests import Request

    from softshoe.studio.desk import Desk

Kind = TypeVar("Kind")


@dataclass(frozen=True, slots=True)
class Asked:
    """One request, its body read. ``dance`` is the identity of the dance worked on, "" on pages without one."""

    desk: Desk
    dance: str
    query: Mapping[str, str]
    path: Mapping[str, str]
    body: bytes = b""

    def json(self, kind: type[Kind]) -> Kind:
        """Return the body as a value of this kind; raises SettingError where it is none."""
        try:
            return msgspec.json.decode(self.body, type=kind)
        except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError) as wrong:
            raise SettingError("this request", "it can't be used", str(wrong), "load the page again") from wrong


async def asked_of(request: Request, desk: Desk, *, most: int) -> Asked:
    """Return what was asked, its body read up to ``most`` bytes; raises TooLargeError beyond that."""
    body = bytearray()
    if request.method not in ("GET", "HEAD"):
        async for part in request.stream():
            body += part
            if len(body) > most:
                raise TooLargeError("what was sent", "it is too much", f"this takes at most {most // 1000:,} kB",
                                    "send less at a time")  # fmt: skip
    path = {name: str(value) for name, value in request.path_params.items()}
    return Asked(desk, path.get("dance", ""), dict(request.query_params), path, bytes(body))
