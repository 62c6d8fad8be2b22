"""Connections to PostgreSQL that are kept open for the next question: each belongs to one account's eyes for good.

A new connection costs more than most questions, for it knows nothing of the tables yet. One that was opened for an
account is never used for another, so that no forgotten setting can show one leader's dances to another.
"""

from __future__ import annotations

import atexit
import os
import threading
from collections import OrderedDict
from contextlib import contextmanager, suppress
from typing import TYPE_CHECKING

from softshoe.base import open_postgresql, told
from softshoe.errors import OutputError

if TYPE_CHECKING:
    from collections.abc import Iterator

    from softshoe.base import Base

MOST = 24  # idle ones in all; PostgreSQL lets a hundred in, and workers want some of them
Key = tuple[int, str, str, bool]

_IDLE: OrderedDict[int, tuple[Key, Base]] = OrderedDict()
_LOCK = threading.Lock()


@contextmanager
def postgresql(url: str, *, viewer: str = "", reads: bool = False) -> Iterator[Base]:
    """Yield a connection for the eyes of an account ("" for all there is); ``reads``: it can't write.

    Raises OutputError where the database does not answer.
    """
    key = (os.getpid(), url, viewer, reads)
    base = _taken(key) or _opened(url, viewer, reads)
    try:
        with told(base.where):
            yield base
    finally:
        _put_back(key, base)


def _opened(url: str, viewer: str, reads: bool) -> Base:
    base = open_postgresql(url)
    with told(base.where):
        base.run("select set_config('softshoe.viewer', :viewer, false)", viewer=viewer)
        if reads:
            base.run("set default_transaction_read_only = on")
    return base


def _taken(key: Key) -> Base | None:
    """Return an idle connection that still answers, the one that was used last."""
    while True:
        with _LOCK:
            found = next((one for one in reversed(_IDLE) if _IDLE[one][0] == key), None)
            if found is None:
                return None
            base = _IDLE.pop(found)[1]
        with suppress(OutputError), told(base.where):
            base.run("select 1 as there")
            return base
        base.close()


def _put_back(key: Key, base: Base) -> None:
    from psycopg.pq import TransactionStatus

    if base.raw.info.transaction_status != TransactionStatus.IDLE:
        base.close()
        return
    with _LOCK:
        _IDLE[id(base)] = (key, base)
        _IDLE.move_to_end(id(base))
        old = [_IDLE.popitem(last=False)[1] for _ in range(len(_IDLE) - MOST)]
    for (pid, *_), one in old:
        if pid == os.getpid():  # another's, from before this process was parted from it, is not ours to end
            one.close()


@atexit.register
def close_all() -> None:
    """Close what is idle."""
    with _LOCK:
        mine = [base for (pid, *_), base in _IDLE.values() if pid == os.getpid()]
        _IDLE.clear()
    for base in mine:
        base.close()
