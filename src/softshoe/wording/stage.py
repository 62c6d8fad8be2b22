"""What is danced so far, and an item made ready to be danced."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from softshoe.errors import Finding, Severity
from softshoe.wording.chatter import parted
from softshoe.wording.counting import moved
from softshoe.wording.laid import Laid, walked
from softshoe.wording.mirrors import mirrored_slot
from softshoe.wording.other_side import side_alone, then_the_other
from softshoe.wording.phrases import NOTHING, Context, atoms_of
from softshoe.wording.repeats import repeat_of
from softshoe.wording.scanner import Scanner

if TYPE_CHECKING:
    from fractions import Fraction

    from softshoe.dance.action import Action, Span
    from softshoe.dance.arms import ArmMove
    from softshoe.wording.blocks import Role
    from softshoe.wording.drafts import Draft
    from softshoe.wording.lex import Token
    from softshoe.wording.parts import Atom, Item, Repeat, Slot
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
    fate: Role = "kept"  # what became of its words
    lost: list[Span] = field(default_factory=list)  # clauses that found no count

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
        return (label.start, label.end) if label is not None else self.span


@dataclass(slots=True)
class Stage:
    """The dance as far as it is danced: actions in order, hands laid over them, where sections began."""

    dancer: Dancer
    actions: list[Action] = field(default_factory=list)
    hands: dict[Fraction, list[ArmMove]] = field(default_factory=dict)
    hand_at: dict[Fraction, tuple[int, tuple[int, int]]] = field(default_factory=dict)
    starts: dict[int, tuple[int, int]] = field(default_factory=dict)
    stated: int | None = None  # the dance's length in counts, where the header states it
    facing_deg: int = 0
    facing_off: int = 0
    facing_known: bool = True
    faced: list[tuple[int, int, Fraction, int]] = field(default_factory=list)
    unknown: list[tuple[int, str]] = field(default_factory=list)
    unread: list[tuple[int, str]] = field(default_factory=list)
    kept: list[tuple[int, str]] = field(default_factory=list)  # lines that double a count: told as that
    done: list[Ready] = field(default_factory=list)  # every item, with what became of it

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
    item.tokens, item.talk = parted(item.tokens)
    scanner = Scanner(item.tokens)
    drafts = scanner.read()
    item.asides = scanner.asides
    item.strange = [d.tokens[0] for d in drafts if d.unknown and d.tokens[0] is d.unknown[0] and _for_a_step(d)]
    talk = [d for d in drafts if d.bare and len(d.unknown) > 1] if not all(d.bare for d in drafts) else []
    item.talk += [d.tokens for d in talk]  # "…, as though admiring the roses"
    item.unknown = [t for d in drafts if d not in talk for t in d.unknown]
    item.leading = _leading(drafts)
    places = moved(item.label.places, base) if item.label else ()
    found = repeat_of(drafts, item.tokens)
    repeat = None
    if found is not None:
        repeat, drafts = found
    elif (alone := side_alone(drafts, item)) is not None:
        repeat, drafts = alone, []
    atoms, left = atoms_of(drafts, context=context, of_arms=item.limb == "arms")
    twice = then_the_other(drafts) if repeat is None and len(places) > 2 else None
    if twice is not None:
        half, more = atoms_of(twice[0], context=context, of_arms=item.limb == "arms")
        if 2 * sum(len(a.choices[0]) for a in half) == len(places):
            atoms, left = [*half, *again(half, twice[1])], more
    moments = sum(len(a.choices[0]) for a in atoms)
    if repeat is not None and _own_again(repeat, atoms, item, half=moments if len(places) in (0, 2 * moments) else 0):
        atoms, repeat = [*atoms, *again(atoms, repeat)], None
    elif repeat is not None and atoms and not item.label and len(repeat.at) == len(atoms) and all(a.at for a in atoms):
        copies = again(atoms, repeat)  # "open on 1, rest on 2; the same on 4 and 5"
        atoms += [replace(one, at=(place,)) for one, place in zip(copies, repeat.at, strict=True)]
        repeat = None
    if atoms and not any(t.kind in ("side", "foot", "footpart") and t.value[:1] in ("R", "L") for t in item.tokens):
        atoms[0].choices = [_opened(c) for c in atoms[0].choices]
    atoms = walked(atoms)
    for atom in atoms:
        atom.at = moved(atom.at, base)
    return Ready(item, atoms, repeat, places, context=left)


def _for_a_step(draft: Draft) -> bool:
    """ "Stonk right": a strange word and a foot, without a doing word."""
    return bool(draft.feet) and not (draft.doing or draft.hands or draft.part or draft.dirs)


def _opened(choice: tuple[Slot, ...]) -> tuple[Slot, ...]:
    """Mark what opens a stretch that names no foot."""
    return tuple(s._replace(wants=tuple(w._replace(opens=not w.alternate) for w in s.wants)) for s in choice)


def _leading(drafts: list[Draft]) -> Token | None:
    """Return a strange word that stands where a doing word should.

    "Wimble on the spot: right, left": for the whole line. "Flumph right foot forward", "right plimber forward": where
    the clause names who moves and whither, and nothing that is done.
    """
    head = drafts[0] if drafts else None
    if head is None:
        return None
    if head.unknown and head.tokens[0] is head.unknown[0] and head.heading:
        named = head.doing or head.hands or head.part or head.feet
        listed = all(d.feet and not (d.doing or d.part or d.hands or d.dirs) for d in drafts[1:])
        return head.unknown[0] if not named and len(drafts) > 1 and listed else None
    return next((d.unknown[0] for d in drafts if _lacks_doing(d)), None)


def _lacks_doing(draft: Draft) -> bool:
    """Return whether a strange word stands straight before or behind the foot or hand of a clause without a verb."""
    if not draft.unknown or draft.doing or draft.part or not (draft.feet or draft.hands):
        return False
    words = [t for t in draft.tokens if t.kind not in ("mark", "fill", "prep")]
    at = next(i for i, t in enumerate(words) if t is draft.unknown[0])
    beside = [words[i].kind for i in (at - 1, at + 1) if 0 <= i < len(words)]
    return at < 2 and any(kind in ("side", "foot", "hand", "dir") for kind in beside)


def _own_again(repeat: Repeat, atoms: list[Atom], item: Item, *, half: int) -> bool:
    """ "Push forward, pull back, then the same again": what stands before it on the line is done once more."""
    those = repeat.last and half != repeat.last  # "… then repeat those four counts"
    refers = repeat.counts or repeat.sections or those or repeat.whole_section or repeat.at
    if refers or not atoms or repeat.span[0] <= atoms[0].span[0]:
        return False
    return item.limb == "arms" or (half > 0 and bool(item.label)) or not all(a.arms_only for a in atoms)


def again(atoms: list[Atom], repeat: Repeat) -> list[Atom]:
    """Return the atoms once more, mirrored where the repeat says so or names the other foot to lead."""
    feet = [w.foot for a in atoms for s in a.choices[0] for w in s.wants if w.foot in ("L", "R")]
    feet = feet or [h.side for a in atoms for s in a.choices[0] for h in s.hands if h.side in ("L", "R")]
    mirror = repeat.mirror or (bool(repeat.lead) and bool(feet) and feet[0] != repeat.lead)
    out: list[Atom] = []
    for i, atom in enumerate(atoms):
        choices = [tuple(mirrored_slot(s) if mirror else s for s in c) for c in atom.choices]
        out.append(replace(atom, choices=choices, join=atom.join if i else "seq", facings=[]))
    out[-1].facings = list(repeat.facings)
    return out


def arms_only(one: Ready) -> bool:
    """Return whether an item speaks of the hands alone."""
    return one.item.limb == "arms" or (bool(one.atoms) and all(a.arms_only for a in one.atoms) and one.repeat is None)


def replace_tokens(item: Item, tokens: list[Token]) -> Item:
    """Return the item with other tokens."""
    return replace(item, tokens=tokens, atoms=[], unknown=[])
