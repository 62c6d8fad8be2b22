"""One step of long work: what it reads, what it leaves, and the function that does it.

A step's key is made of its name, its settings, the content of what it reads and the program that does it: the same key
means that the same files would be made again, so they are kept.
"""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING, Any

from softshoe.files import content_hash

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    Tell = Callable[[float], None]
    Work = Callable[["Step", Tell], None]


@dataclass(frozen=True, slots=True)
class Step:
    """``work`` reads ``reads``, writes ``leaves`` and tells its share done, 0 to 1; it must be importable by name.

    ``reads`` and ``leaves`` are files; ``needs`` names of steps before it; ``hint_s`` about how long it takes.
    ``likes`` names steps that it waits for and, should they fail, does without.

    ``mendable``: what it leaves may be mended by hand; then the hand's word stays and is used from then on.
    ``apart``: done in a process of its own, so that it can be stopped and its memory is given back.
    ``spreads``: that process starts others.
    """

    name: str
    title: str
    work: Work
    settings: Mapping[str, Any]
    reads: tuple[Path, ...]
    leaves: tuple[Path, ...]
    needs: tuple[str, ...] = ()
    likes: tuple[str, ...] = ()
    hint_s: float = 1.0
    mendable: bool = False
    apart: bool = False
    spreads: bool = False

    def key(self) -> str:
        """Return the step's key: equal keys leave equal files."""
        read = [content_hash(path) for path in self.reads]
        told = json.dumps([self.name, dict(self.settings), read, program()], sort_keys=True, default=str)
        return hashlib.sha256(told.encode()).hexdigest()


@cache
def program() -> str:
    """Return a fingerprint of the program itself: its code and its tables."""
    digest = hashlib.sha256()
    root = Path(str(files("softshoe")))
    for path in sorted(root.rglob("*")):
        if path.suffix in {".py", ".csv", ".toml", ".typ", ".json"}:
            digest.update(str(path.relative_to(root)).encode())
            digest.update(path.read_bytes())
    return digest.hexdigest()[:16]
