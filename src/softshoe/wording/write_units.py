"""A stretch of the dance cut into what one line says: a copy, a walk, a named pattern, a pair of counts, one count.

Whatever is folded is only proposed here: ``write`` reads the sheet again and bans what did not come back equal.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from softshoe.dance.arms import GESTURE
from softshoe.dance.counts import SIGNS
from softshoe.dance.facing import clock
from softshoe.dance.feet import Foot
from softshoe.dance.places import Direction
from softshoe.wording.write_hands import bleeding, hands_of, hands_words, unbled
from softshoe.wording.write_names import named_at
from softshoe.wording.write_words import ONE, foot_words, lower, moment_words, words_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from softshoe.dance.action import Action
    from softshoe.wording.write_book import Book
    from softshoe.wording.write_stretch import Stretch

LONGEST = 96
WALKS = {
    "step": (Direction.FORWARD, Direction.BACK, Direction.IN_PLACE),
    "sway": (Direction.LEFT, Direction.RIGHT),
    "stomp": (Direction.IN_PLACE,),
}
LASTING = ("drag", "sweep", "hold")
Key = tuple[str, str, int, int]  # the block's name, what kind of fold, first and last count


@dataclass(frozen=True, slots=True)
class Unit:
    """Counts ``first`` to ``last`` of a block in one line; ``label`` names them, ``arms`` stand apart from the words.

    ``over`` are lines for the hands alone, laid over the whole count ``first``.
    """

    first: int
    last: int
    kind: str
    label: str
    words: str
    arms: str = ""
    over: tuple[str, ...] = ()


class Planner:
    """Cuts one stretch into units, first to last."""

    def __init__(self, stretch: Stretch, book: Book, banned: set[Key], *, half: int) -> None:
        self.stretch, self.book, self.banned, self.half = stretch, book, banned, half

    def units(self) -> list[Unit]:
        """Return the units in order of counts, each that turns with the facing it leads to."""
        return [self._faced(unit) for unit in self._cut()]

    def _faced(self, unit: Unit) -> Unit:
        facing = self.stretch.facings.get(unit.last)
        turned = any(a.turn_deg for a in self.stretch.actions(unit.first, unit.last))
        if facing is None or not turned or facing % 90:
            return unit
        return replace(unit, words=f"{unit.words} ({clock(facing)})")

    def _cut(self) -> list[Unit]:
        whole = self._section() if self.book.style.folds else None
        if whole is not None:
            return [whole]
        found: list[Unit] = []
        n = 1
        while n <= self.stretch.counts:
            unit = next(filter(None, self._tries(n)))
            found.append(unit)
            n = unit.last + 1
        return found

    def _tries(self, n: int) -> Iterator[Unit | None]:
        folds = self.book.style.folds
        if folds:
            yield self._copy(n, least=3)
            yield self._walk(n)
        if self.book.style.names:
            yield self._pattern(n)
        if folds:
            yield self._copy(n, least=2)
            yield self._lasting(n)
        if self.book.style.group > 1:
            yield self._group(n)
        yield self._one(n)

    def allowed(self, kind: str, first: int, last: int) -> bool:
        """Return whether this fold has not failed before."""
        return (self.stretch.name, kind, first, last) not in self.banned

    # copies

    def _section(self) -> Unit | None:
        last = self.stretch.counts
        if not self.allowed("section", 1, last) or not _busy(self.stretch.actions(1, last)):
            return None
        for number, other in self.stretch.earlier:
            for mirror in (False, True):
                if other.counts == last and other.shape(1, last, mirror=mirror) == self.stretch.shape(1, last):
                    words = self.book.say("copy", "section mirror" if mirror else "section", n=number)
                    return Unit(1, last, "section", self._range(1, last), _capital(words))
        return None

    def _copy(self, n: int, *, least: int) -> Unit | None:
        most = self.half if least > 2 else least
        for length in range(min(most, n - 1, self.stretch.counts - n + 1), least - 1, -1):
            if (n - 1) % length or not self.allowed("half", n, n + length - 1):
                continue
            source = self.stretch.actions(n - length, n - 1)
            if length == 2 and len(self._said(source)) < self.book.style.worth:
                continue
            here = self.stretch.shape(n, n + length - 1)
            for mirror in (False, True):
                if _busy(source) and self.stretch.shape(n - length, n - 1, mirror=mirror) == here:
                    return self._copied(n, length, source, mirror=mirror)
        return None

    def _copied(self, n: int, length: int, source: Sequence[Action], *, mirror: bool) -> Unit:
        lead = next((a for a in source if a.foot in ONE), None)
        sided = lead is not None and lead.dir in (Direction.LEFT, Direction.RIGHT)
        key = "half" if not mirror else "half side" if sided else "half mirror"
        foot = lead.foot.other if lead is not None and lead.foot in ONE else Foot.BOTH
        names = foot_words(foot, self.book)
        words = self.book.say("copy", key, first=n - length, last=n - 1, **(names | {"side": names["lead"]}))
        return Unit(n, n + length - 1, "half", self._range(n, n + length - 1), _capital(words))

    # walks, patterns, what lasts

    def _walk(self, n: int) -> Unit | None:
        """ "Walk forward right, left, right": steps of one kind, foot after foot."""
        row = self.stretch.rows.get(n, ())
        if len(row) != 1 or not _walking(row[0]):
            return None
        last = n
        while last - n + 1 < self.half and self._goes_on(row[0], last + 1):
            last += 1
        if last - n < 1 or not self.allowed("walk", n, last):
            return None
        way = row[0].dir.value if row[0].verb == "step" and row[0].dir is not None else row[0].verb
        feet = [foot_words(a.foot, self.book)["listed"] for a in self.stretch.actions(n, last) if a.foot is not None]
        words = _capital(f"{self.book.say('walk', way)} {', '.join(feet)}")
        arms = self._arms_line(row[0]) if row[0].arms else ""
        return self._extended(Unit(n, last, "walk", self._range(n, last), words, arms))

    def _goes_on(self, first: Action, n: int) -> bool:
        row = self.stretch.rows.get(n, ())
        before = self.stretch.rows.get(n - 1, ())
        if n > self.stretch.counts or len(row) != 1 or len(before) != 1 or not _walking(row[0]):
            return False
        one = row[0]
        same = one.verb == first.verb and (one.dir is first.dir or one.verb == "sway") and one.arms == first.arms
        return same and one.foot is not before[0].foot

    def _pattern(self, n: int) -> Unit | None:
        """A named pattern, where a leader would count it in: on an odd count, in a waltz on the first of a bar."""
        if (n - 1) % (3 if self.half == 3 else 2):
            return None
        for length, words in named_at(self.stretch, n, self.book):
            last = n + length - 1
            if last <= self.stretch.counts and self.allowed("pattern", n, last):
                return self._extended(Unit(n, last, "pattern", self._label(n, last), words))
        return None

    def _lasting(self, n: int) -> Unit | None:
        """ "Drag the left in" over two counts, a hold of three."""
        row = self.stretch.rows.get(n, ())
        if len(row) != 1 or not _lasts(row[0]):
            return None
        last = n
        while last + 1 <= self.stretch.counts and self.stretch.shape(last + 1, last + 1) == self.stretch.shape(n, n):
            last += 1
        if last == n or not self.allowed("lasting", n, last):
            return None
        return Unit(n, last, "lasting", self._range(n, last), _capital(words_of(row[0], self.book)))

    def _extended(self, unit: Unit) -> Unit:
        """ "Vine right" of three counts takes the fourth into its line: "vine right, scuff left"."""
        n = unit.last + 1
        alone = unit.arms or (unit.last - unit.first + 1) % 2 == 0 or self.half == 3 or n > self.stretch.counts
        if alone or self._claimed(n) or not self.allowed(f"{unit.kind}, and", unit.first, n):
            return unit
        said = self._said(self.stretch.actions(n, n), capital=False)
        words = f"{unit.words}{self.book.say('join', 'list')}{lower(said, self.book)}"
        if len(words) > LONGEST:
            return unit
        return Unit(unit.first, n, f"{unit.kind}, and", self._label(unit.first, n), words)

    # plain counts

    def _group(self, n: int) -> Unit | None:
        """A few counts in a row that nothing else claims."""
        size = 3 if self.half == 3 else self.book.style.group
        last = min(n + size - 1, self.stretch.counts)
        if (n - 1) % size or last == n or not self.allowed("group", n, last):
            return None
        later = [k for k in range(n + 1, last + 1) if self._claimed(k)]
        last = later[0] - 1 if later else last
        if last == n or any(a.at.at < 1 for a in self.stretch.rows.get(n, ())) or not self.allowed("group", n, last):
            return None
        actions, arms = self._armless(self.stretch.actions(n, last))
        words = self._twice(n, last) or self._said(actions)
        if len(words) > LONGEST or (last - n > 1 and len(self.stretch.actions(n, last)) > last - n + 1):
            return None
        kind = "twice" if self._twice(n, last) else "group"
        return Unit(n, last, kind, self._label(n, last), words, "" if kind == "twice" else arms)

    def _twice(self, n: int, last: int) -> str:
        """ "Clap twice": two counts of one movement; "" for any others."""
        row = self.stretch.rows.get(n, ())
        same = last == n + 1 and self.stretch.shape(n, n) == self.stretch.shape(last, last)
        if not same or len(row) != 1 or row[0].turn_deg or row[0].verb == "hold":
            return ""
        if (row[0].arms and row[0].foot is not None) or not self.allowed("twice", n, last):
            return ""
        return self.book.say("join", "twice", words=self._said(row))

    def _armless(self, actions: list[Action]) -> tuple[list[Action], str]:
        """Return the actions and "" as they are; without arms, and these apart, where one movement goes on over all."""
        moves = {a.arms for a in actions}
        if len(moves) != 1 or not all(GESTURE[arm.gesture].lasting for arm in actions[0].arms):
            return actions, ""
        whole = all(a.at.at.denominator == 1 and a.foot is not None for a in actions)
        if not actions[0].arms or not whole:
            return actions, ""
        return [_handless(a) for a in actions], self._arms_line(actions[0])

    def _arms_line(self, action: Action) -> str:
        return f"{self.book.say('join', 'arms')} {hands_of(action, self.book)}"

    def _claimed(self, k: int) -> bool:
        folds = self.book.style.folds
        return bool(
            (folds and (self._copy(k, least=2) or self._walk(k) or self._lasting(k)))
            or (self.book.style.names and self._pattern(k))
        )

    def _one(self, n: int) -> Unit:
        actions = self.stretch.rows.get(n, ())
        label = self._label(n, n)
        if bleeding([arm for a in actions for arm in a.arms]):
            runs = [run for a in actions if a.at.at.denominator == 1 for run in unbled(a.arms)]
            over = tuple(f"{self.book.say('join', 'arms')} {hands_words(run, self.book)}" for run in runs)
            return Unit(n, n, "one", label, self._said([_handless(a) for a in actions]), over=over)
        if self.book.style.name == "table" and len({a.at for a in actions}) == 1:
            arms = ", ".join(filter(None, (hands_of(a, self.book) for a in actions)))
            return Unit(n, n, "one", label, self._said(actions, arms=False), arms)
        return Unit(n, n, "one", label, self._said(actions))

    def _said(self, actions: Iterable[Action], *, arms: bool = True, capital: bool = True) -> str:
        """Return what happens, moment by moment."""
        at: dict[object, list[Action]] = {}
        for action in actions:
            at.setdefault(action.at, []).append(action)
        said = [moment_words(together, self.book, arms=arms) for together in at.values()]
        words = self.book.say("join", "list").join(lower(w, self.book) if i else w for i, w in enumerate(said))
        words = words or self.book.say("verb", "hold")
        return _capital(words) if capital else words

    def _range(self, first: int, last: int) -> str:
        """Return the counts from first to last: "1-4", spoken "1 to 4"."""
        if first == last:
            return str(first)
        return self.book.say("range", "pair" if last == first + 1 else "", first=first, last=last)

    def _label(self, first: int, last: int) -> str:
        """Return the counts as a leader writes them: "1-2", "1&2", "3&4&", "&1"."""
        rows = [self.stretch.rows.get(n, ()) for n in range(first, last + 1)]
        signs = [_signs(row, self.stretch.start + n) for n, row in enumerate(rows, first)]
        before = "&" if any(a.at.at < 1 for a in rows[0]) else ""
        if not any(signs):
            return before + self._range(first, last)
        labels = [f"{n}{sign}" for n, sign in enumerate(signs, first)]
        parted = [f"{label}," if label[-1].isdigit() and len(labels) > 2 else label for label in labels]
        return before + "".join(parted).rstrip(",")


def _signs(row: Sequence[Action], count: int) -> str:
    parts = {a.at.at - count for a in row if a.at.at >= 1}
    return "".join(sign for sign, part in SIGNS.items() if part in parts)


def _busy(actions: Sequence[Action]) -> bool:
    """Return whether there is enough to copy: a copy of holds says nothing."""
    return sum(a.verb != "hold" for a in actions) > 1


def _walking(action: Action) -> bool:
    plain = action.foot in ONE and action.dir in WALKS.get(action.verb, ()) and not action.turn_deg
    lasting = all(GESTURE[arm.gesture].lasting for arm in action.arms)
    return plain and lasting and action.weight_said is None and action.at.at.denominator == 1


def _lasts(action: Action) -> bool:
    if action.verb == "arms":
        return all(GESTURE[arm.gesture].lasting and arm.gesture != "drum" for arm in action.arms)
    return action.verb in LASTING and not action.arms and action.foot is not Foot.BOTH


def _handless(action: Action) -> Action:
    """Return the action without what its hands do on a whole count."""
    if action.at.at.denominator != 1:
        return action
    return replace(action, arms=(), verb="hold" if action.verb == "arms" else action.verb)


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
