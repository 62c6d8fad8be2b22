"""What is danced so far, and an item made ready to be danced."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from softshoe.errors import Finding, Severity
from softshoe.wording.phrases import NOTHING, Context, atoms_of
from softshoe.wording.repeats import repeat_of
from softshoe.wording.scanner import drafts_of

if TYPE_CHECKING:
    from fractions import Fraction

    from softshoe.dance.action import Action
    from softshoe.dance.arms import ArmMove
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
    context: Context = NOTHING


@dataclass(slots=True)
class Stage:
    """The dance as far as it is danced: actions in order, hands laid over them, where sections began."""

    dancer: Dancer
    actions: list[Action] = field(default_factory=list)
    hands: dict[Fraction, list[ArmMove]] = field(default_factory=dict)
    hand_at: dict[Fraction, tuple[int, tuple[int, int]]] = field(default_factory=dict)
    starts: dict[int, tuple[int, int]] = field(default_factory=dict)
    facing_deg: int = 0
    facing_off: int = 0
    facing_known: bool = True
    faced: list[tuple[int, int, Fraction, int]] = field(default_factory=list)
    unknown: list[tuple[int, str]] = field(default_factory=list)
    unread: list[tuple[int, str]] = field(default_factory=list)

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
    drafts = drafts_of(item.tokens)
    item.unknown = [t for d in drafts for t in d.unknown]
    places = tuple(p + base for p in item.label.places) if item.label else ()
    found = repeat_of(drafts, item.tokens)
    repeat = None
    if found is not None:
        repeat, drafts = found
    atoms, left = atoms_of(drafts, context=context)
    for atom in atoms:
        atom.at = tuple(p + base for p in atom.at)
    return Ready(item, atoms, repeat, places, context=left)


def arms_only(one: Ready) -> bool:
    """Return whether an item speaks of the hands alone."""
    return one.item.limb == "arms" or (bool(one.atoms) and all(a.arms_only for a in one.atoms) and one.repeat is None)


def replace_tokens(item: Item, tokens: list[Token]) -> Item:
    """Return the item with other tokens."""
    return replace(item, tokens=tokens, atoms=[], unknown=[])
