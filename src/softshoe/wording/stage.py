"""What is danced so far, and an item made ready to be danced."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from softshoe.errors import Finding, Severity
from softshoe.wording.counting import moved
from softshoe.wording.kept import LEAVES_NOTHING, Behind, read_words
from softshoe.wording.phrases import NOTHING, Context

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.dance.action import Action, Span
    from softshoe.dance.arms import ArmMove
    from softshoe.wording.blocks import Paint, Role
    from softshoe.wording.laid import Laid
    from softshoe.wording.lex import Token
    from softshoe.wording.parts import Atom, Item, Repeat
    from softshoe.wording.resolve import Dancer


@dataclass(slots=True)
class Ready:
    """An item with its phrases read: what it lays down, or what it copies, and its own count label made absolute."""

    item: Item
    atoms: list[Atom]
    repeat: Repeat | None
    places: tuple[Fraction, ...]
    laid: Laid | None = None
    behind: Behind = LEAVES_NOTHING
    fate: Role = "kept"  # what became of its words
    lost: list[Span] = field(default_factory=list)  # clauses that found no count
    follows: bool = False  # it comes behind what stands above it, hands as well as feet
    fills: int = 0  # how many counts are left to it, where none are told

    def on(self, places: Sequence[Fraction]) -> Ready:
        """Return the same on other counts."""
        return Ready(self.item, self.atoms, self.repeat, tuple(places), self.laid, self.behind, self.fate, self.lost,
                     self.follows)  # fmt: skip

    @property
    def span(self) -> Span:
        """The characters it stands on, its count label before its words."""
        found = [(t.start, t.end) for t in (*self.item.tokens[:1], *self.item.tokens[-1:])]
        found += [(self.item.label.start, self.item.label.end)] if self.item.label is not None else []
        return (min(s for s, _ in found), max(e for _, e in found)) if found else (0, 0)

    @property
    def counted(self) -> Span:
        """The characters that say its counts; its own where none do."""
        label = self.item.label
        return (label.start, label.end) if label is not None and label.end > label.start else self.span


@dataclass(slots=True)
class Stage:
    """The dance as far as it is danced: actions in order, hands laid over them, where sections began.

    A section may be danced on a stage of its own, ``before`` which stands what was danced till then: ``begins`` is the
    count it begins behind, and ``looked_back`` says whether it asked for what was danced up to there.
    """

    dancer: Dancer
    actions: list[Action] = field(default_factory=list)
    hands: dict[Fraction, list[ArmMove]] = field(default_factory=dict)
    hand_at: dict[Fraction, tuple[int, tuple[int, int]]] = field(default_factory=dict)
    starts: dict[int, tuple[int, int]] = field(default_factory=dict)
    names: dict[str, int] = field(default_factory=dict)  # the number of each section that has a name of its own
    unit: int = 8  # how many counts a section has by custom
    stated: int | None = None  # the dance's length in counts, where the header states it
    before: Stage | None = None
    begins: int = 0
    looked_back: bool = False
    reach: Fraction = Fraction(0)  # the latest moment on which anything is danced
    facing_deg: int = 0
    facing_off: int = 0
    facing_known: bool = True
    faced: list[tuple[int, int, Fraction, int]] = field(default_factory=list)
    unknown: list[tuple[int, str]] = field(default_factory=list)
    unread: list[tuple[int, str]] = field(default_factory=list)
    kept: list[tuple[int, str]] = field(default_factory=list)  # lines that double a count: told as that
    done: list[Ready] = field(default_factory=list)  # every item, with what became of it
    paints: list[Paint] = field(default_factory=list)  # what became of their words

    def danced(self, low: Fraction, high: Fraction) -> list[Action]:
        """Return the actions from a moment on and before another, in the order in which they were danced."""
        found = [a for a in self.actions if low <= a.at.at < high]
        return found if not self._looks_back(low) or self.before is None else [*self.before.danced(low, high), *found]

    def handed(self, low: Fraction, high: Fraction) -> dict[Fraction, list[ArmMove]]:
        """Return what the hands were laid over in that time, by its moments."""
        found = {at: list(moves) for at, moves in self.hands.items() if low <= at < high}
        if not self._looks_back(low) or self.before is None:
            return found
        out = self.before.handed(low, high)
        for at, moves in found.items():
            out.setdefault(at, []).extend(moves)
        return out

    def places(self) -> dict[int, tuple[int, int]]:
        """Return where the sections before this one begin and end."""
        self.looked_back = True
        return self.starts if self.before is None else self.before.places()

    def _looks_back(self, low: Fraction) -> bool:
        self.looked_back = self.looked_back or low <= self.begins
        return self.looked_back

    def tell(
        self,
        severity: Severity,
        kind: str,
        line: int | None,
        at: Fraction | None,
        message: str,
        mend: str | None = None,
    ) -> None:
        """Keep a finding; the moment counts from 1."""
        count = None if at is None else str(at - 1)
        self.dancer.findings.append(Finding(severity, kind, line, count, message, mend))


def ready(item: Item, base: Fraction, context: Context = NOTHING) -> Ready:
    """Read an item's phrases. ``base`` is added to its counts to make them counts of the dance."""
    if item.given is not None:
        places = moved(item.label.places, base) if item.label else ()
        one = Ready(item, [], None, places)
        one.atoms = [item.given.atom(item.line, one.span)]
        return one
    said, behind = read_words(item, context)
    item.tokens, item.talk, item.asides = said.tokens, said.talk, said.asides
    item.strange, item.unknown, item.leading = said.strange, said.unknown, said.leading
    for atom in said.atoms:
        atom.at = moved(atom.at, base)
    places = moved(item.label.places, base) if item.label else ()
    return Ready(item, said.atoms, said.repeat, places, behind=behind)


def arms_only(one: Ready) -> bool:
    """Return whether an item speaks of the hands alone."""
    return one.item.limb == "arms" or (bool(one.atoms) and all(a.arms_only for a in one.atoms) and one.repeat is None)


def replace_tokens(item: Item, tokens: list[Token]) -> Item:
    """Return the item with other tokens."""
    return replace(item, tokens=tokens, atoms=[], unknown=[])


def sounds(atom: Atom) -> bool:
    """Return whether an atom is one beat of the hands that is heard."""
    hands = [h for s in atom.choices[0] for h in s.hands]
    return atom.arms_only and len(atom.choices[0]) == 1 and all(h.gesture in ("clap", "pat", "snap") for h in hands)
