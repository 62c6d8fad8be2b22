"""Following long work on a page: how it goes as a stream, stopped and gone on with."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import TYPE_CHECKING

from starlette.concurrency import run_in_threadpool
from starlette.responses import StreamingResponse

from softshoe.studio import orders

if TYPE_CHECKING:
    from collections.abc import AsyncIterator

    from starlette.requests import Request
    from starlette.responses import Response

    from softshoe.studio.desk import Desk

WAIT_S = 10.0
# What was made is shown as it is, its own styles with it; no script runs in it.
SHOWN = (
    "default-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; font-src 'self' data:; "
    "script-src 'none'; base-uri 'none'; form-action 'none'"
)


@dataclass(frozen=True, slots=True)
class Named:
    """A job."""

    job: str


def stop_at(desk: Desk, job: str) -> None:
    """Stop a job; what is done of it stays."""
    orders.door_of(desk).stop(job)


def again_at(desk: Desk, job: str) -> None:
    """Do a job that is over once more; what is still as it should be is kept."""
    orders.door_of(desk).again(job)


async def coming(request: Request, desk: Desk) -> Response:
    """Stream how the jobs go, from the change that the page has seen last."""
    said = request.headers.get("last-event-id", "0")

    async def stream() -> AsyncIterator[str]:
        since = int(said) if said.isascii() and said.isdecimal() else 0
        door = await run_in_threadpool(orders.door_of, desk)
        yield ":\n\n"
        while not await request.is_disconnected():
            found = await run_in_threadpool(door.changes, since, wait_s=WAIT_S)
            for one in found:
                since = max(since, one.changed)
                yield f"id: {since}\ndata: {json.dumps(orders.told_of(desk, one))}\n\n"
            if not found:
                yield ":\n\n"

    return StreamingResponse(stream(), media_type="text/event-stream")
