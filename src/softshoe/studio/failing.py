"""Failures in plain words: as a page for a person, as JSON for a page's own script. Four parts, never a traceback."""

from __future__ import annotations

import logging
from typing import TYPE_CHECKING

from starlette.responses import HTMLResponse, JSONResponse, Response

from softshoe.errors import OutputError, SettingError, UnreadableError, WorkbenchError
from softshoe.studio.table import PLACES
from softshoe.studio.templates import rendered

if TYPE_CHECKING:
    from starlette.requests import HTTPConnection, Request

STATUS: tuple[tuple[type[WorkbenchError], int], ...] = (
    (UnreadableError, 422), (SettingError, 400), (OutputError, 507), (WorkbenchError, 409),
)  # fmt: skip


class MissingError(SettingError):
    """Something at an address where nothing is."""


class TooLargeError(SettingError):
    """More was sent than is taken."""


NOWHERE = MissingError("this address", "there is nothing here", "the page was moved, or the address has a slip in it",
                       "go back to the beginning")  # fmt: skip
FAULT = WorkbenchError("the studio", "it could not do this", "a fault of the program; what you wrote is kept",
                       "go back and try again; if it happens again, report it")  # fmt: skip
NOT_SO = SettingError("this address", "this can't be done here", "the address is for something else",
                      "go back to the beginning")  # fmt: skip


def status_of(wrong: WorkbenchError) -> int:
    """Return the status of HTTP that goes with a failure."""
    if isinstance(wrong, MissingError):
        return 404
    if isinstance(wrong, TooLargeError):
        return 413
    return next(status for kind, status in STATUS if isinstance(wrong, kind))


def told(wrong: WorkbenchError) -> dict[str, str]:
    """Return the four parts of a failure."""
    return {"where": wrong.where, "what": wrong.what, "why": wrong.why, "mend": wrong.mend}


def failed(asked: HTTPConnection, wrong: WorkbenchError, *, status: int = 0) -> Response:
    """Return the answer that tells a failure."""
    status = status or status_of(wrong)
    if "text/html" in asked.headers.get("accept", ""):
        return HTMLResponse(
            rendered("failed.html", wrong=wrong, places=PLACES, here="", dance=None, title="Not done", script=""),
            status,
        )
    return JSONResponse(told(wrong), status)


def workbench_failed(request: Request, wrong: Exception) -> Response:
    """Tell a failure of the workbench."""
    return failed(request, wrong if isinstance(wrong, WorkbenchError) else FAULT)


def address_failed(request: Request, wrong: Exception) -> Response:
    """Tell of an address that is not there, or that can't be used so."""
    status = getattr(wrong, "status_code", 404)
    return failed(request, NOWHERE if status == 404 else NOT_SO, status=status)


def program_failed(request: Request, wrong: Exception) -> Response:
    """Tell of a fault of the program; the log has its traceback."""
    logging.getLogger("softshoe").error("%s %s", request.method, request.url.path, exc_info=wrong)
    return failed(request, FAULT, status=500)
