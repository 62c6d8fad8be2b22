"""What every part of the clause reader shares: where it stands, the draft it writes, how a clause ends."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.drafts import Draft

if TYPE_CHECKING:
    from softshoe.wording.lex import Token


class Scan:
    """The place in the tokens, the present draft and those done."""

    def __init__(self, tokens: list[Token]) -> None:
        self.tokens = tokens
        self.i = 0
        self.draft = Draft("seq")
        self.done: list[Draft] = []
        self.depth = 0
        self.asides: list[Token] = []  # words that are no part of the dance: an option, a hint

    def _close(self, join: str) -> None:
        """End the clause; the next hangs on it by ``join``."""
        if self.draft.tokens:
            self.draft.heading = join == "colon"
            self.done.append(self.draft)
        elif self.done and join == "colon":
            self.done[-1].heading = True
        if not self.draft.tokens and join in ("seq", "stop", "plus") and self.draft.join in ("and", "with", "amp"):
            join = self.draft.join
        self.draft = Draft("seq" if join == "colon" else join)
        self.draft.grouped = self.depth > 0

    def _peek(self, ahead: int) -> Token | None:
        j = self.i + ahead
        return self.tokens[j] if j < len(self.tokens) else None
