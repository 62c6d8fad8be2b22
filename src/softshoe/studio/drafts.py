"""Drafts: the words of a dance while they are written. Every stroke is on the disk before it is called safe.

A draft is one file a dance, to which lines are only ever added: a stroke says from which stroke it was made and what it
changed, so strokes form a tree. Going back is standing on an earlier stroke, and nothing is ever taken away. Each
window stands on a stroke of its own: where two wrote from the same one, both ways are in the tree.
"""

from __future__ import annotations

import fcntl
import json
import os
import re
import threading
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from softshoe.errors import SettingError
from softshoe.files import folder_for, write_failure
from softshoe.studio.failing import MissingError

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

UID = re.compile(r"[0-9a-f]{32}")
LONGEST = 200_000
FRESH = 64  # strokes whose words are kept at hand


@dataclass(frozen=True, slots=True)
class Stroke:
    """One change: of the words of stroke ``made_from``, ``cut`` letters at ``at`` became ``put``.

    ``also`` is the stroke of another window that it settles, 0 for none; ``first`` that nothing lies behind it.
    """

    made_from: int
    window: str
    at: int
    cut: int
    put: str
    also: int = 0
    first: bool = False


@dataclass(slots=True)
class Draft:
    """The draft of one dance: its strokes by number from 1, where each window stands, and what was kept of it.

    ``kept`` is the stroke that was last kept in the repertoire and the text it became there.
    """

    path: Path
    strokes: list[Stroke] = field(default_factory=list)
    stands: dict[str, int] = field(default_factory=dict)
    tip: int = 0
    kept: tuple[int, str] = (0, "")
    _read: int = 0
    _words: dict[int, str] = field(default_factory=dict)
    _lock: threading.RLock = field(default_factory=threading.RLock)

    def words(self, n: int | None = None) -> str:
        """Return the words as they were after a stroke; after the last one if None."""
        with self._lock:
            self.refresh()
            return self._at(self.tip if n is None else n)

    def write(self, window: str, words: str, *, made_from: int, also: int = 0, first: bool = False) -> int:
        """Keep the words that a window made from a stroke; returns the new stroke, on the disk. Raises OutputError."""
        if len(words) > LONGEST:
            raise SettingError("the sheet", "it is too long", f"a sheet has at most {LONGEST:,} letters",
                               "write one dance at a time")  # fmt: skip
        with self._lock, self._alone() as file:
            self._known(made_from)
            before = self._at(made_from)
            if words == before and not also and not first:
                if self.stands.get(window) != made_from:
                    self._add(file, {"window": window, "to": made_from})
                return made_from
            if self._is_sent_again(window, words, made_from, also):
                n = self.stands[window]
                if self.tip != n:
                    self._add(file, {"window": window, "to": n})
                return n
            at, cut, put = splice(before, words)
            row: dict[str, Any] = {"from": made_from, "window": window, "at": at, "cut": cut, "put": put}
            row |= {"also": also} if also else {}
            row |= {"first": True} if first else {}
            self._add(file, row)
            return self.tip

    def go(self, window: str, *, at: int, back: bool) -> int:
        """Let a window go one stroke back, or on again; returns where it stands then (where it was, at either end)."""
        with self._lock, self._alone() as file:
            self._known(at)
            if back:
                here = self.strokes[at - 1] if at else None
                to = at if here is None or here.first else here.made_from
            else:
                to = max((n for n, one in enumerate(self.strokes, 1) if one.made_from == at), default=at)
            if to != at:
                self._add(file, {"window": window, "to": to})
            return to

    def mark_kept(self, n: int, text: str) -> None:
        """Note that a stroke was kept in the repertoire as a text."""
        with self._lock, self._alone() as file:
            self._add(file, {"kept": n, "text": text})

    def beside(self, window: str, at: int) -> int:
        """Return the stroke on which another window stands that has words this one has not, 0 for none.

        One that went on from here counts as well as one that went another way.
        """
        with self._lock:
            self.refresh()
            self._known(at)
            behind = self._behind(at)
            others = {n for one, n in self.stands.items() if one != window and n not in behind}
            return max(others, default=0)

    def goes_on(self, at: int, other: int) -> bool:
        """Return whether a stroke was made from another, directly or not."""
        with self._lock:
            return at in self._behind(other)

    def refresh(self) -> None:
        """Read what was added since, by this program or another."""
        with self._lock:
            try:
                size = self.path.stat().st_size
                if size <= self._read:
                    return
                with self.path.open("rb") as file:
                    file.seek(self._read)
                    added = file.read(size - self._read)
            except FileNotFoundError:
                return
            whole = added[: added.rfind(b"\n") + 1]
            for line in whole.splitlines():
                self._take(json.loads(line))
            self._read += len(whole)

    def _take(self, row: dict[str, Any]) -> None:
        if "kept" in row:
            self.kept = (row["kept"], row["text"])
            return
        if "to" in row:
            self.tip = row["to"]
        else:
            self.strokes.append(Stroke(row["from"], row["window"], row["at"], row["cut"], row["put"],
                                       row.get("also", 0), row.get("first", False)))  # fmt: skip
            self.tip = len(self.strokes)
        self.stands[row["window"]] = self.tip

    def _add(self, file: int, row: dict[str, Any]) -> None:
        line = json.dumps(row, ensure_ascii=False, separators=(",", ":")).encode("utf-8", "replace") + b"\n"
        try:
            os.lseek(file, self._read, os.SEEK_SET)
            os.write(file, line)
            os.fsync(file)
        except OSError as wrong:
            raise write_failure(self.path, wrong) from wrong
        self.refresh()

    def _is_sent_again(self, window: str, words: str, made_from: int, also: int) -> bool:
        """Whether a window stands on this very stroke already: it never heard that it was kept."""
        n = self.stands.get(window, 0)
        last = self.strokes[n - 1] if n else None
        return last is not None and (last.made_from, last.also) == (made_from, also) and self._at(n) == words

    def _alone(self) -> _Alone:
        return _Alone(self)

    def _known(self, n: int) -> None:
        if not 0 <= n <= len(self.strokes):
            raise MissingError("this draft", f"it has no stroke {n}", "the page is older than what is kept",
                               "open the dance again")  # fmt: skip

    def _at(self, n: int) -> str:
        way: list[int] = []
        while n and n not in self._words:
            way.append(n)
            n = self.strokes[n - 1].made_from
        words = self._words.get(n, "")
        for k in reversed(way):
            one = self.strokes[k - 1]
            words = words[: one.at] + one.put + words[one.at + one.cut :]
            if k == way[0] or not k % FRESH:
                self._words[k] = words
        while len(self._words) > 4 * FRESH:
            del self._words[next(iter(self._words))]
        return words

    def _behind(self, n: int) -> set[int]:
        seen: set[int] = {0}
        open_ = [n]
        while open_:
            k = open_.pop()
            if k in seen:
                continue
            seen.add(k)
            open_ += [self.strokes[k - 1].made_from, self.strokes[k - 1].also]
        return seen


class _Alone:
    """The draft's file, locked against other programs, cleared of a line that a crash left half-written."""

    def __init__(self, draft: Draft) -> None:
        self.draft, self.file = draft, -1

    def __enter__(self) -> int:
        path = self.draft.path
        try:
            self.file = os.open(path, os.O_RDWR | os.O_CREAT, 0o600)
            fcntl.flock(self.file, fcntl.LOCK_EX)
            self.draft.refresh()
            if os.fstat(self.file).st_size > self.draft._read:
                os.ftruncate(self.file, self.draft._read)
        except OSError as wrong:
            self.__exit__()
            raise write_failure(path, wrong) from wrong
        return self.file

    def __exit__(self, *_: object) -> None:
        if self.file >= 0:
            os.close(self.file)
            self.file = -1


def splice(before: str, after: str) -> tuple[int, int, str]:
    """Return the one change that makes a text of another: where, how many letters go, and what comes.

    >>> splice("step left", "step right"), splice("ab", "ab")
    ((5, 3, 'righ'), (2, 0, ''))
    """
    most = min(len(before), len(after))
    start = next((k for k in range(most) if before[k] != after[k]), most)
    most -= start
    end = next((k for k in range(most) if before[-1 - k] != after[-1 - k]), most)
    return start, len(before) - start - end, after[start : len(after) - end]


def identity(said: str) -> str:
    """Return what an address says, where it is the identity of a dance; raises MissingError for anything else."""
    if not UID.fullmatch(said):
        raise MissingError("this address", "there is no such dance", "the address has a slip in it",
                           "go back to the beginning and choose the dance there")  # fmt: skip
    return said


@dataclass(slots=True)
class Drafts:
    """The drafts of a folder, each read once."""

    folder: Path
    _drafts: dict[str, Draft] = field(default_factory=dict)
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def of(self, uid: str) -> Draft:
        """Return the draft of a dance, empty where none was begun; raises MissingError for what is no identity."""
        uid = identity(uid)
        with self._lock:
            if uid not in self._drafts:
                self._drafts[uid] = Draft(folder_for(self.folder) / f"{uid}.jsonl")
            draft = self._drafts[uid]
        draft.refresh()
        return draft

    def newest(self, most: int) -> list[str]:
        """Return the identities of the dances last written at, the newest first."""
        try:
            rows = [
                (one.stat().st_mtime, one.name[:-6]) for one in os.scandir(self.folder) if one.name.endswith(".jsonl")
            ]
        except FileNotFoundError:
            return []
        return [name for _, name in sorted(rows, reverse=True)[:most] if UID.fullmatch(name)]


def lines_in(words: str) -> Iterator[str]:
    """Yield the lines that hold something."""
    yield from (line.strip() for line in words.splitlines() if line.strip())
