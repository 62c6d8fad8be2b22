"""A second device in the class: let in by a code that the screen shows, it sees what is led and may lead it.

It is off until she asks for it. Then a listener of its own answers the network with nothing but this: the code, what
is led now, and the few things that can be asked. Nothing of the studio can be reached through it.
"""

from __future__ import annotations

import asyncio
import json
import secrets
import socket
import threading
import time
from contextlib import suppress
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from softshoe.errors import OutputError, SettingError

if TYPE_CHECKING:
    from collections.abc import AsyncIterator
    from pathlib import Path

    import uvicorn

    from softshoe.studio.desk import Desk

USUAL = 5078
EVERYWHERE = "0.0.0.0"
SCHEME = "http://"
CODE_S = 300.0  # so long a code is good
MOST_TRIES = 5  # wrong ones, and the code is worth nothing any more
STILL_S = 15.0  # a line on which nothing is said is shown to be alive so often
MOST_DEVICES = 8


class Line:
    """What one says and many hear, over threads and loops; whoever comes later hears the last word first."""

    def __init__(self, *, remembers: bool) -> None:
        self._lock = threading.Lock()
        self._remembers = remembers
        self._hearers: set[tuple[asyncio.AbstractEventLoop, asyncio.Queue[Any]]] = set()
        self.last: Any = None

    def say(self, what: Any) -> None:
        """Tell everybody who hears."""
        with self._lock:
            self.last = what if self._remembers else None
            for loop, heard in self._hearers:
                loop.call_soon_threadsafe(heard.put_nowait, what)

    @property
    def hearers(self) -> int:
        """How many hear now."""
        return len(self._hearers)

    async def events(self) -> AsyncIterator[str]:
        """Yield what is said as events for a page, and a sign of life now and then."""
        heard: asyncio.Queue[Any] = asyncio.Queue()
        me = (asyncio.get_running_loop(), heard)
        with self._lock:
            self._hearers.add(me)
            if self.last is not None:
                heard.put_nowait(self.last)
        try:
            yield ":\n\n"
            while True:
                try:
                    what = await asyncio.wait_for(heard.get(), STILL_S)
                except TimeoutError:
                    yield ":\n\n"
                else:
                    yield f"data: {json.dumps(what)}\n\n"
        finally:
            with self._lock:
                self._hearers.discard(me)


@dataclass(slots=True)
class Code:
    """Six digits, good for five minutes, for five tries and for one device."""

    digits: str = field(default_factory=lambda: f"{secrets.randbelow(1_000_000):06}")
    until: float = field(default_factory=lambda: time.monotonic() + CODE_S)
    tries: int = MOST_TRIES

    @property
    def left_s(self) -> int:
        """How long it is still good, 0 where it is not."""
        return max(0, round(self.until - time.monotonic())) if self.tries else 0


@dataclass(slots=True)
class Second:
    """The second devices of one studio. ``told`` is what is led, for them; ``asked`` what they ask, for the page."""

    desk: Desk
    told: Line = field(default_factory=lambda: Line(remembers=True))
    asked: Line = field(default_factory=lambda: Line(remembers=False))
    code: Code | None = None
    port: int = 0
    _known: set[str] = field(default_factory=set)
    _server: uvicorn.Server | None = None
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def open(self, *, port: int = USUAL) -> Code:
        """Listen to the network, if it does not yet, and make a new code.

        Raises OutputError, and SettingError on an association's server, which listens for nobody.
        """
        if self.desk.member:
            raise SettingError("a second device", "it can't be let in here", "this studio runs on the group's server, "
                               "not in your room", "open this very page on the second device, and come in there "
                               "too")  # fmt: skip
        with self._lock:
            if self._server is None:
                self._listen(port)
            self.code = Code()
            return self.code

    def close(self) -> None:
        """Listen no more; no device is known any more."""
        with self._lock:
            if self._server is not None:
                self._server.should_exit = True
                self._server.force_exit = True
            self._server, self.code, self.port = None, None, 0
            self._known.clear()

    def let_in(self, digits: str) -> str:
        """Return the secret of a device that knows the code, which is then used up; raises SettingError."""
        with self._lock:
            code = self.code
            if code is None or not code.left_s:
                raise SettingError("the code", "it is no longer good", "it was used, or five minutes are over",
                                   "ask for a new code on the leading screen")  # fmt: skip
            if not secrets.compare_digest(code.digits.encode(), digits.encode()):
                code.tries -= 1
                mend = "look at the leading screen and try again" if code.tries else "ask there for a new one"
                raise SettingError("the code", "it is another one", f"{code.tries} tries are left", mend)
            if len(self._known) >= MOST_DEVICES:
                raise SettingError("this device", "there are enough", f"{MOST_DEVICES} devices are let in",
                                   "send them away on the leading screen first")  # fmt: skip
            self.code = None
            secret = secrets.token_urlsafe(32)
            self._known.add(secret)
        self.asked.say({"do": "paired", "devices": len(self._known)})
        return secret

    def known(self, secret: str) -> bool:
        """Return whether this is the secret of a device that was let in."""
        return bool(secret) and any(secrets.compare_digest(one.encode(), secret.encode()) for one in self._known)

    def shown(self) -> dict[str, Any]:
        """Return what the leading screen shows of it."""
        code = self.code
        digits = code.digits if code and code.left_s else ""
        there = addresses(self.port) if self.port else []
        return {
            "open": self.port > 0,
            "port": self.port,
            "code": digits,
            "left": code.left_s if code else 0,
            "addresses": there,
            "square": square(f"{there[0]}/#{digits}") if there and digits else [],
            "devices": len(self._known),
        }

    def _listen(self, port: int) -> None:
        import uvicorn

        from softshoe.studio.second_app import second_app

        door = _door(port)
        config = uvicorn.Config(second_app(self), log_level="critical", access_log=False, lifespan="off",
                                timeout_graceful_shutdown=1)  # fmt: skip
        self._server = uvicorn.Server(config)
        self.port = door.getsockname()[1]
        threading.Thread(target=self._server.run, kwargs={"sockets": [door]}, daemon=True, name="second").start()


_SECONDS: dict[Path, Second] = {}
_GUARD = threading.Lock()


def second_of(desk: Desk) -> Second:
    """Return the second devices of this desk's studio."""
    with _GUARD:
        return _SECONDS.setdefault(desk.drafts.folder, Second(desk))


def addresses(port: int) -> list[str]:
    """Return the addresses of this machine on its network, the likeliest first; none where it is on none."""
    found: list[str] = []
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking, suppress(OSError):  # only to be told the way out
        asking.connect(("192.0.2.1", 9))
        found.append(asking.getsockname()[0])
    with suppress(OSError):
        found += [str(row[4][0]) for row in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET)]
    return [f"{SCHEME}{one}:{port}" for one in dict.fromkeys(found) if not one.startswith(("127.", "0."))]


def square(words: str) -> list[str]:
    """Return words as the square of dots that a phone reads (ISO/IEC 18004): rows of "1" for dark and "0" for light."""
    import segno

    return ["".join("1" if dark else "0" for dark in row) for row in segno.make(words, error="m", micro=False).matrix]


def _door(port: int) -> socket.socket:
    for tried in (port, 0):
        door = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        door.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            door.bind((EVERYWHERE, tried))
        except OSError:
            door.close()
        else:
            return door
    raise OutputError("a second device", "it can't be let in", "this machine gives no port for it",
                      "close other programs and try again")  # fmt: skip
