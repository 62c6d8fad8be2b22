"""The counts of a section that is asked for, as words change them one after the other."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.wording.asks_moves import (
    ALL_HANDS,
    AT_HOME,
    FEET,
    HANDS,
    HOMES,
    ONE_FOOT,
    TURN,
    TURNS,
    WAITING,
    led_to,
    stem,
    straightened,
    turned,
    turned_by,
    with_arm_of,
    with_foot_of,
)
from softshoe.wording.shape import shape
from softshoe.wording.whole_copies import Moment, moments_of

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Iterable, Sequence

    Step = Callable[[str], Sequence[str] | None]

# Words before what is danced that add nothing to it: "and then you do a little kick".
BEFORE = (
    "finish by|end by|put in|low|little|small|gentle|big|tiny|light|soft|plus|extra|is|are|becomes?|make|do|give|have|"
    "repeat|dance|again|once more|over again|same|you|we|they|it|and|then|now|just|so|please|let|there|comes?|danced?|"
    "done|as|with|add|a|an|by|of|that|the|to|in"
)
LED_IN = shape(rf"^\W*(?:(?:{BEFORE})\b\s*)+")
STAY = shape(
    r"^\W*(?:(?:and|then|you|they|just|for|the)\s+)*(?:stays?|holds?|waits?|pause|freeze|rest there|keep still|nothing|"
    r"leave (?:it|them))(?:\s+(?:up|there|still|down|out|them|it|in|here))*\W*$"
)
SIDED = shape(r"\b(?:left|right|both|[lr][fh]?)\b")
UNSURE = shape(  # what is not done, or not once, or by who knows which
    r"\b(?:no|not|never|nobody|none|don['’]t|without|missing|forget|maybe|perhaps|skip\w*|omit\w*|leave|left out|"
    r"except|unless|nor|twice|double|times|one (?:hand|arm|foot|leg)|revers\w*|mirror\w*|other|opposite)\b|x\s?\d"
)
OF_FEET = shape(r"\b(toe|heel|kick|touch|tap|stomp|stamp|knee|point|scuff|brush)(?:es|s)\b")
OF_HANDS = shape(r"\b(clap|snap|pat|punch|push|pull)(?:es|s)\b(?:\s+go(?:es)?\b(?=\s+(?:up|out|down|forward)))?")


class Rows:
    """The counts of a section: as they were (``before``), as they are (``rows``).

    ``alone``: hands told take the place of what feet did. ``free``: as many counts may change as there are.
    ``waiting``: counts on which what was done is done no more, and nothing else is told yet.
    """

    def __init__(self, moments: Iterable[Moment], step: Step) -> None:
        self.rows: dict[int, list[Moment]] = {}
        for moment in moments:
            self.rows.setdefault(moment.at[0], []).append(moment)
        self.before = {count: list(row) for count, row in self.rows.items()}
        self.counts = max(self.rows)
        self.step = step
        self.alone = self.free = False
        self.waiting: tuple[int, ...] = ()

    def lay(self, words: str, count: int, *, alone: bool = False) -> bool:
        """Let words be danced on a count, hands over what feet do there, ``alone`` in its stead; say if that can be."""
        low = words.casefold()
        if STAY.match(low):
            self.wait(count)
            return True
        row = self.rows.get(count, [Moment((count, ""))])
        done = self._done(low, row[0])
        if done is None:
            return False
        if done.feet:
            row = [done._replace(hands=done.hands or row[0].hands)]
        else:
            row = [done] if alone else [done._replace(feet=row[0].feet), *row[1:]]
        self.rows[count] = [one._replace(at=(count, one.at[1])) for one in row]
        return True

    def _done(self, words: str, was: Moment) -> Moment | None:
        """Return what words ask for on one count, where ``was`` was danced; None where they ask for nothing plain."""
        words = LED_IN.sub("", words).strip(" .,;:!-")
        sides = SIDED.findall(words)
        if (len(sides) > 1 and "both" not in sides) or UNSURE.search(words):
            return None
        words = OF_HANDS.sub(r"\1", words)
        one_foot = any(code in ONE_FOOT for code in was.feet)
        found = moments_of(self.step(OF_FEET.sub(r"\1", words) if one_foot else words) or ())
        if len(found) != 1 or not (found[0].feet or found[0].hands):
            return None
        feet, hands = turned(found[0].feet, was.feet, words), found[0].hands
        if not sides:
            feet, hands = with_foot_of(feet, was.feet), with_arm_of(hands, was.hands)
        return Moment(was.at, feet, hands)

    def lay_on(self, words: str, counts: Collection[int], *, alone: bool = False) -> bool:
        """Let words be danced on some counts; whether there are any, and that can be."""
        one_side = SIDED.search(words.casefold()) is not None and "both" not in words.casefold()
        return (
            bool(counts) and not (one_side and len(counts) > 1) and all(self.lay(words, n, alone=alone) for n in counts)
        )

    def wait(self, count: int) -> None:
        """Let nothing be danced on a count."""
        self.rows[count] = [Moment((count, ""))]

    def with_feet(self, word: str) -> list[int]:
        """Return the counts on which feet do what a word names, or nothing where it names a wait."""
        form = stem(word)
        if form in WAITING:
            return self._where(lambda m: not (m.feet or m.hands), all)
        if form in HOMES:
            return self._where(lambda m: "step" in m.feet and bool(AT_HOME & set(m.feet)))
        return self._where(lambda m: bool(set(FEET.get(form, ())) & set(m.feet)))

    def with_hands(self, word: str) -> list[int]:
        """Return the counts on which hands do what a word names."""
        return self._where(lambda m: f"hand:{HANDS.get(stem(word), '')}" in m.hands)

    def with_either(self, word: str) -> list[int]:
        """Return the counts on which feet, else hands, do what a word names."""
        return self.with_feet(word) or self.with_hands(word)

    def _where(self, holds: Callable[[Moment], bool], of: Callable[[Iterable[bool]], bool] = any) -> list[int]:
        return [n for n, row in self.before.items() if of(map(holds, row))]

    def drop(self, word: str, counts: Collection[int]) -> bool:
        """Let what a word names not be done, on some counts or on all; whether it is done anywhere."""
        form = stem(word)
        if form in TURNS:
            return self._straighten(counts)
        some = self._where(lambda m: bool(m.hands)) if form in ALL_HANDS else self.with_hands(word)
        some = [n for n in some if not counts or n in counts]
        for n in some:
            were = {code for m in self.before[n] for code in m.hands}
            self.rows[n] = [m._replace(hands=()) if set(m.hands) <= were else m for m in self.rows[n]]
        return bool(some)

    def _straighten(self, counts: Collection[int]) -> bool:
        turning = [
            n for n in self._where(lambda m: any(c.startswith(TURN) for c in m.feet)) if not counts or n in counts
        ]
        for n in turning:
            self.rows[n] = [m._replace(feet=straightened(m.feet)) for m in self.rows[n]]
        return bool(turning) and all(self.rows[n] != self.before[n] for n in turning)

    def turn_by(self, degrees: int, counts: Collection[int] = ()) -> bool:
        """Let each turn be of so many degrees, on some counts or on all; say if there is one anywhere."""
        some = [
            n for n in self._where(lambda m: any(code.startswith(TURN) for code in m.feet)) if not counts or n in counts
        ]
        for n in some:
            self.rows[n] = [m._replace(feet=turned_by(m.feet, degrees)) for m in self.rows[n]]
        return bool(some)

    def lead(self, old: Collection[str], new: str, counts: Collection[int] = ()) -> bool:
        """Let feet go another way where they go one of some, on some counts or on all; say if they do anywhere."""
        some = [n for n in self._where(lambda m: bool(set(old) & set(m.feet))) if not counts or n in counts]
        for n in some:
            self.rows[n] = [m._replace(feet=led_to(m.feet, old, new)) for m in self.rows[n]]
        return bool(some)

    def exchange(self, codes: dict[str, str]) -> None:
        """Let feet do everything with some codes exchanged."""
        for n, row in self.rows.items():
            self.rows[n] = [m._replace(feet=tuple(codes.get(code, code) for code in m.feet)) for m in row]

    def changed(self) -> list[Moment]:
        """Return the moments of the counts that are not as they were."""
        return [m for n in sorted(self.rows) if self.rows[n] != self.before.get(n) for m in self.rows[n]]
