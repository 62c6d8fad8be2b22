"""A chair class's sentences cut into clauses: who moves, what is done, where, how often, on which counts, how long."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from softshoe.wording.chair_parts import OWN
from softshoe.wording.chair_words import words_of

if TYPE_CHECKING:
    from softshoe.wording.chair_words import Word

LEVEL = ("height", "level", "high", "ht")


@dataclass(slots=True)
class Clause:
    """One clause; ``nums`` are lone numbers (a count or a length), ``at`` counts told for sure, ``length`` for sure."""

    join: str = "seq"
    sentence: int = 0
    line: int = 0
    inside: bool = False  # in brackets
    words: list[Word] = field(default_factory=list)
    side: str = ""
    limb: str = ""
    gest: str = ""
    step: str = ""
    foot: str = ""
    home: bool = False
    down: bool = False  # the foot comes down where it is
    place: str = ""
    level: bool = False
    dirs: list[str] = field(default_factory=list)
    nums: list[int] = field(default_factory=list)
    at: tuple[int, ...] = ()
    ranged: bool = False
    listed: bool = False  # told one by one, without "on"
    length: int = 0
    times: int = 0
    slow: int = 0
    each: bool = False
    hold: bool = False
    dash: bool = False
    turn: bool = False
    first: bool = False
    again: bool = False
    same: bool = False
    odd: str = ""
    label: tuple[int, ...] = ()
    own: bool = False
    inner: bool = False  # its numbers stand in brackets
    names: bool = False  # "… is", "… are", "… =": it says what a word means

    @property
    def head(self) -> bool:
        """Return whether it stands before a colon."""
        return any(w.kind == "head" for w in self.words)

    @property
    def counted(self) -> bool:
        """Return whether it tells counts, lengths or how often."""
        return bool(self.nums or self.at or self.length or self.times)

    @property
    def only_counts(self) -> bool:
        """Return whether it says nothing but when, how long and how often."""
        return not (self.moves or self.dirs or self.foot or self.place or self.side or self.limb or self.odd)

    def take_counts(self, other: Clause) -> None:
        """Take over the counts that another clause tells."""
        self.nums += other.nums
        self.at, self.length = (*self.at, *other.at), self.length or other.length
        self.ranged, self.listed = other.ranged or self.ranged, other.listed or self.listed
        self.inner = other.inner

    def has(self, *words: str) -> bool:
        """Return whether it has one of these words."""
        return any(w.text in words for w in self.words)

    def ends(self, *ends: str) -> bool:
        """Return whether one of its words ends so."""
        return any(w.text.endswith(ends) for w in self.words)

    @property
    def upon(self) -> bool:
        """Return whether a place is told with "on"."""
        return any(w.text.split(" ")[0] == "on" for w in self.words)

    @property
    def moves(self) -> bool:
        """Return whether it says what is done, or that nothing is."""
        return bool(self.gest or self.step or self.home or self.hold or self.again or self.same)

    @property
    def says(self) -> bool:
        """Return whether it says anything."""
        told = self.moves or self.side or self.limb or self.foot or self.place or self.dirs
        return bool(
            told
            or self.nums
            or self.at
            or self.length
            or self.times
            or self.slow
            or self.odd
            or self.each
            or self.label
        )


class Cutter:
    """Cuts a text into clauses."""

    def __init__(self, text: str) -> None:
        self.words = words_of(text)
        self.out: list[Clause] = []
        self.now = Clause()
        self.sentence = self.line = 0
        self.inside = False
        self.soft: set[int] = set()  # sentences behind a ";"
        self.heads: set[int] = set()  # clauses that stand before a colon
        self.strange: list[tuple[int, int]] = []  # sentence and clause of each word that no table has
        self.leading = False  # counts stand before their words
        self.fresh = True  # at the beginning of a line
        i = 0
        while i < len(self.words):
            i += self._word(i)
        self._flush("seq")

    def _flush(self, join: str) -> None:
        if self.now.says or self.now.words:
            self.out.append(self.now)
        self.now = Clause(join, self.sentence, self.line, self.inside)

    def _near(self, i: int) -> Word | None:
        return self.words[i] if 0 <= i < len(self.words) else None

    def _word(self, i: int) -> int:
        """Take the word at i; return how many were taken."""
        word = self.words[i]
        kind, value = word.kind, word.value
        if kind == "stop":
            self._stop(word)
            return 1
        fresh = self.fresh
        self.fresh = fresh and (kind == "join" or value == "dash")
        if kind in ("num", "list"):
            return self._number(i, fresh)
        if kind == "tail":
            return self._tail(i)
        if kind == "join":
            self._flush(value)
        elif kind in ("open", "shut"):
            self._flush("seq")
            self.inside = self.now.inside = kind == "open"
        elif kind == "head":
            self.now.words.append(word)
            self._flush("seq")
            self.heads.add(len(self.out) - 1)
        elif kind == "strange":
            self.now.words.append(word)
            self.strange.append((self.sentence, len(self.out)))
        elif value == "dash":
            self._dash(i)
        else:
            self._said(word, self._near(i + 1))
        return 1

    def _stop(self, word: Word) -> None:
        self._flush("seq")
        self.sentence += 1
        self.soft |= {self.sentence} if word.text == ";" else set()
        if word.value == "line" or word.text == "//":
            self.line += 1
            self.fresh = True
        self.now = Clause("seq", self.sentence, self.line, self.inside)

    def _tail(self, i: int) -> int:
        """Words that only explain: to the end of the sentence or bracket, or to the counts behind them."""
        end = i
        while end < len(self.words) and self.words[end].kind not in ("stop", "shut"):
            ahead = self.words[end + 1 : end + 3]
            counts = self.words[end].text in (",", "for") and any(w.kind == "num" for w in ahead)
            then = self.words[end].text == "," and bool(ahead) and ahead[0].text == "then"
            if end > i and (counts or then):
                break
            end += 1
        told = self.words[i:end]
        numbers = any(w.kind in ("num", "list") for w in told)
        if numbers or any(w.kind in ("gest", "hold") and w.value != "dash" for w in told[3:]):
            self.strange.append((self.sentence, len(self.out)))
        return end - i

    def _dash(self, i: int) -> None:
        """A dash parts clauses; alone between two marks it is a count on which nothing moves."""
        before, behind = self._near(i - 1), self._near(i + 1)
        opens = before is None or before.kind in ("stop", "join", "head", "open") or before.value == "dash"
        alone = opens and (behind is None or behind.kind in ("stop", "join", "shut"))
        self._flush("seq")
        if alone or (before is not None and before.kind in ("join", "num", "list")):
            self.now.hold = alone
        elif behind is not None and behind.kind not in ("stop", "join", "num"):
            return
        self.now.dash = True
        self.now.words.append(self.words[i])
        self._flush("seq")

    # numbers

    def _number(self, i: int, fresh: bool) -> int:
        """A number: a count, a length, how often. Return how many words were taken."""
        word, before, behind = self.words[i], self._near(i - 1), self._near(i + 1)
        if word.text in ("a", "an") and not self._article_counts(behind):
            return 1
        if behind is not None and behind.kind == "count" and word.kind == "num":
            self.now.length = word.numbers[0]
            self.now.words += [word, behind]
            return 2
        digits = word.text[:1].isdigit()
        done = next((w for w in self.words[i + 1 : i + 3] if w.kind != "fill"), None)
        if self._how_often(word, done, digits=digits):
            return 1
        led = before is not None and before.kind in ("on", "for", "count")
        if (fresh or self.leading or not self.now.words) and digits and not self.inside and not led:
            self.leading = True
            self._flush("seq")
            self.now.label, self.now.ranged = word.numbers, word.value == "range"
            self.now.words.append(word)
            return 1
        self._told_behind(word, before)
        return 1

    def _article_counts(self, behind: Word | None) -> bool:
        """ "A count", "a clap": an article that says how long or how often."""
        return behind is not None and (behind.kind == "count" or (behind.kind == "gest" and not self.now.moves))

    def _how_often(self, word: Word, behind: Word | None, *, digits: bool) -> bool:
        """ "Three claps", "two slow swings", "4 punches"."""
        if word.kind != "num" or behind is None or behind.kind not in ("slow", "gest", "step"):
            return False
        plural = behind.kind != "slow" and behind.text.endswith("s")
        if digits and not plural:
            return False
        if self.now.moves:
            self._flush("seq")
        self.now.times = word.numbers[0]
        self.now.words.append(word)
        return True

    def _told_behind(self, word: Word, before: Word | None) -> None:
        """Counts or a length behind the words."""
        now = self.now
        now.words.append(word)
        on = before is not None and (before.kind in ("on", "count") or before.text == "on")
        if on or len(word.numbers) > 1:
            now.at = (*now.at, *word.numbers)
            now.ranged = word.value == "range"
            now.listed = not on and not now.ranged
            if not on and not self.inside and now.moves:
                self._flush("seq")
        elif before is not None and before.kind == "for":
            now.length = word.numbers[0]
        else:
            now.nums.append(word.numbers[0])
            now.inner = self.inside

    # words

    def _said(self, word: Word, behind: Word | None) -> None:
        """Take what a word says of its clause; a second doing word, or a second one who does it, begins the next."""
        kind, value = word.kind, word.value
        if self._begins(word):
            self._flush("seq")
        if kind == "gest" and word.text.endswith("ing") and self._marched():
            if self.now.side in OWN and not self.now.limb:
                self._flush("during")
            self.now.join = "during"
        if self._listed(word):
            self._flush("seq")
        now = self.now
        now.words.append(word)
        if kind == "side":
            self._sided(value)
        elif kind == "limb":
            side, _, name = value.rpartition(" ")
            now.limb = side if side in ("that", "other", "same") else name or value
            now.side = side if side and side not in ("that", "same") else now.side
        elif kind in ("foot", "step"):
            self._footed(kind, value)
        elif kind == "place":
            self._placed(word, behind)
        elif kind == "dir":
            now.dirs.append(value)
        elif kind == "home":
            now.home, now.down = True, value == "down"
        elif kind in ("times", "slow"):
            setattr(now, kind, int(value))
        elif kind in ("gest", "odd"):
            setattr(now, kind, value)
        elif kind in ("hold", "each", "turn", "first", "same", "own", "is", "again"):
            self._flagged(word)

    def _flagged(self, word: Word) -> None:
        now, kind = self.now, word.kind
        if kind == "again" and word.text == "again" and (now.gest or now.step) and (now.dirs or now.place or now.limb):
            return  # "push down again"
        setattr(now, "names" if kind == "is" else kind, True)

    def _listed(self, word: Word) -> bool:
        """ "R L R L", "right hand, left hand" without commas: each begins a clause of its own."""
        now = self.now
        before = now.words[-1] if now.words else None
        if word.kind == "side" and before is not None and before.kind == "side":
            return word.value in OWN and before.value in OWN
        hand = word.kind == "limb" and word.value.startswith(("R ", "L "))
        return hand and bool(now.limb) and now.side in OWN and not (now.dirs or now.place)

    def _footed(self, kind: str, value: str) -> None:
        now = self.now
        side, _, name = value.rpartition(" ")
        if kind == "foot":
            now.foot, now.limb = side or now.foot or "?", "foot"
            return
        now.step = name if now.step in ("", "touch") or name != "touch" else now.step
        now.foot = side or now.foot

    def _placed(self, word: Word, behind: Word | None) -> None:
        now = self.now
        if now.place and now.place != word.value and not now.level:
            now.dirs.append("strange")
        height = word.text.endswith(LEVEL) or word.text.startswith(("height", "level"))
        now.place, now.level = word.value, height or (behind is not None and behind.text in LEVEL)

    def _marched(self) -> bool:
        """Return whether feet move before it in the sentence."""
        return any(c.step for c in (*self.out, self.now) if c.sentence == self.sentence)

    def _sided(self, value: str) -> None:
        if not self.now.side:
            self.now.side = value
        elif value in OWN:
            self.now.dirs.append(OWN[value])

    def _begins(self, word: Word) -> bool:
        """Return whether a word can't belong to the clause so far."""
        now, kind = self.now, word.kind
        whither = bool(now.dirs or now.place)
        if kind == "gest":
            return bool(now.gest or now.step) and not now.first and now.gest != "rest"
        if kind == "step":
            now.gest = "" if now.gest == "rest" else now.gest  # "put the right heel forward"
            return bool(now.gest or (now.step and now.step != "touch"))
        if kind == "limb":
            return word.value.startswith(("R ", "L ", "both ")) and bool(now.side and (whither or now.home))
        if kind == "side":
            return word.value in (*OWN, "both") and (now.hold or bool(now.side and whither))
        if kind == "hold":
            return bool(now.place) if now.hold else bool(now.gest or whither or now.home)
        if kind in ("dir", "place"):
            return now.hold and not now.limb and not (kind == "place" and now.has("rest", "rests"))
        return kind == "again" and now.moves and word.text != "again"
