"""Who may come in: a link that opens the studio once, and the secret that this browser keeps from then on.

The secret outlives the program, so that a page that was open when the studio stopped goes on when it is started again.
"""

from __future__ import annotations

import hashlib
import os
import secrets
import threading
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from softshoe.files import folder_for, write_failure

if TYPE_CHECKING:
    from pathlib import Path

SECRET = "secret"
LETTERS = 43  # of a secret: 32 bytes as url-safe letters


@dataclass(slots=True)
class Entry:
    """The way in. ``secret`` is what the cookie must hold; ``link`` opens once and is then worth nothing."""

    secret: str
    link: str = field(default_factory=lambda: secrets.token_urlsafe(24))
    _lock: threading.Lock = field(default_factory=threading.Lock)

    @property
    def cookie(self) -> str:
        """The cookie's name: studios on other ports of this machine have others."""
        return f"softshoe_{hashlib.sha256(self.secret.encode()).hexdigest()[:8]}"

    def opened_by(self, link: str) -> bool:
        """Use up the link; True where it was the right one and nobody had used it."""
        with self._lock:
            right = bool(self.link) and secrets.compare_digest(link.encode(), self.link.encode())
            if right:
                self.link = ""
            return right

    def known(self, said: str) -> bool:
        """Return whether this is what the cookie holds."""
        return secrets.compare_digest(said.encode(), self.secret.encode())


def entry_of(folder: Path) -> Entry:
    """Return the way into the studio of this folder, its secret made at the first start; raises OutputError."""
    path = folder_for(folder) / SECRET
    try:
        if path.is_file() and len(kept := path.read_text("ascii", "replace").strip()) == LETTERS:
            return Entry(kept)
        secret = secrets.token_urlsafe(32)
        path.unlink(missing_ok=True)
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(handle, "w") as file:
            file.write(secret)
    except OSError as wrong:
        raise write_failure(path, wrong) from wrong
    return Entry(secret)
