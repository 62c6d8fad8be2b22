"""Words for turns and facings, read into the draft."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.lex import clock_deg
from softshoe.wording.scan import Scan

if TYPE_CHECKING:
    from softshoe.wording.lex import Token


class TurnWords(Scan):
    """One method a kind of word."""

    def _amount(self, token: Token) -> int:
        draft = self.draft
        if draft.amount:
            self._close("and")
        draft = self.draft
        if (
            draft.tokens
            and draft.tokens[-1].kind == "side"
            and len(draft.feet) == 1
            and not draft.doing
            and not draft.dirs
        ):
            draft.spin = 1 if draft.feet[0] == "R" else -1
        draft.amount = int(token.value)
        return 1 + self._spin_ahead(1)

    def _turnword(self, _token: Token) -> int:
        self.draft.turning = True
        return 1 + self._spin_ahead(1)

    def _spin_ahead(self, ahead: int) -> int:
        """Read "turn to the left", "turn L" behind an amount; return how many tokens that took."""
        start = ahead
        while (token := self._peek(ahead)) is not None and token.kind in ("turnword", "fill", "prep", "amount"):
            if token.kind == "amount":
                if self.draft.amount:
                    return 0 if ahead == start else ahead - start
                self.draft.amount = int(token.value)
            ahead += 1
        if token is None:
            return ahead - start
        spin = {"side": {"R": 1, "L": -1}, "dir": {"right": 1, "left": -1}, "spin": {"1": 1, "-1": -1}}
        found = spin.get(token.kind, {}).get(token.value)
        if found is None:
            return ahead - start
        self.draft.spin = found
        return ahead - start + 1

    def _round(self, token: Token) -> int:
        """ "Walk round in a full circle to the left": its steps share the turn."""
        self.draft.round = int(token.value)
        return 1 + self._spin_ahead(1)

    def _spin(self, token: Token) -> int:
        self.draft.spin = int(token.value)
        return 1

    def _clock(self, token: Token) -> int:
        deg = clock_deg(token.text)
        if deg is not None:
            self._facing(deg, token)
        return 1

    def _facing(self, deg: int, token: Token) -> None:
        draft = (
            self.draft if self.draft.tokens and not self.draft.bare else (self.done[-1] if self.done else self.draft)
        )
        draft.facing, draft.facing_at = deg, token.line

    def _wallname(self, token: Token) -> int:
        last = self.draft.tokens[-1] if self.draft.tokens else None
        if last is not None and last.kind == "look":
            self._facing(int(token.value), token)
        elif "wall" not in token.low:
            self.draft.dirs.append("back" if token.value == "180" else "forward")
        return 1

    def _look(self, token: Token) -> int:
        """ "Squaring up to 12:00" ends a diagonal with the turn that is left."""
        ahead = self._peek(1)
        if ahead is not None and ahead.kind in ("fill", "prep") and (behind := self._peek(2)) is not None:
            return 3 if behind.kind == "dir" and behind.value in ("forward", "back") else 1  # "looking at the front"
        if ahead is not None and ahead.kind == "dir" and ahead.value in ("forward", "back"):
            return 2
        if token.low.startswith("squar") and ahead is not None and ahead.kind == "clock":
            deg = clock_deg(ahead.text)
            self.draft.square = -1 if deg is None else deg
        return 1
