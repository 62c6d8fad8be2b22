"""What the words of an item say: its clauses read into phrases, a copy it asks for, words that no clause can use."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from softshoe.dance.verbs import VERB
from softshoe.wording.apiece import EACH, apiece, hands_beside, over_again
from softshoe.wording.asked import asked, asked_behind, asked_first
from softshoe.wording.breath import unbreathed
from softshoe.wording.changes import parted_change
from softshoe.wording.chatter import parted
from softshoe.wording.described import undescribed_steps
from softshoe.wording.hand_shape import undescribed
from softshoe.wording.laid import spreads, walked
from softshoe.wording.laying_ways import natural
from softshoe.wording.mirrors import mirrored_slot
from softshoe.wording.other_side import side_alone, then_the_other
from softshoe.wording.parts import Repeat
from softshoe.wording.pattern_ends import ended_otherwise, turned_on
from softshoe.wording.phrases import Context, atoms_of
from softshoe.wording.repeats import repeat_of
from softshoe.wording.scanner import Scanner
from softshoe.wording.still import held_on_the_last

if TYPE_CHECKING:
    from softshoe.wording.apiece import Apiece
    from softshoe.wording.asked import Asked
    from softshoe.wording.changes import Change
    from softshoe.wording.drafts import Draft
    from softshoe.wording.lex import Token
    from softshoe.wording.parts import Atom, Item, Slot


HOMES = ("centre", "in place", "together")
SHAPES = ("palm", "palms", "thumb", "thumbs", "finger", "fingers")


@dataclass(slots=True)
class Said:
    """Words that may be danced and those that may not; phrases; what is copied; what the next words may lean on."""

    tokens: list[Token]
    talk: list[list[Token]]
    asides: list[Token]
    strange: list[Token]
    unknown: list[Token]
    leading: Token | None
    atoms: list[Atom]
    repeat: Repeat | None
    context: Context


def said_by(item: Item, context: Context) -> Said:
    """Read an item's words; its counts are those of the sheet. Only its words, limb and number of counts matter."""
    if any(t.low.endswith(SHAPES) for t in item.tokens):
        item = replace(item, tokens=undescribed(item.tokens))
    if any("breath" in t.low or t.low.endswith("hale") for t in item.tokens):
        item = replace(item, tokens=unbreathed(item.tokens))
    plain = undescribed_steps(item.tokens) if len(item.tokens) > 3 else item.tokens
    if plain is not item.tokens:
        return _described(item, plain, context)
    each = apiece(item.tokens) if any(t.low in EACH or t.kind == "count" for t in item.tokens) else None
    if each is not None and len(each.words) < len(item.tokens):
        return _apiece(item, each, context)
    behind = asked_behind(item.tokens)
    if behind is not None:
        whole = _asked_again(item, *behind, context)
        if whole is not None:
            return whole
    words, times, sides = over_again(item.tokens)
    if sides or (times > 1 and (item.label is None or len(item.tokens) - len(words) > 2 or hands_beside(words))):
        return _over_again(item, words, times, context)
    words, change, place = parted_change(item.tokens)
    said = _said(item, words, context)
    if len(words) == len(item.tokens) and change is None:
        return said
    if said.repeat is None:
        return _said(item, item.tokens, context)  # "open the arms again at shoulder height" is no copy
    said.repeat.change, said.repeat.place = _read_change(change), place or said.repeat.place
    said.tokens = sorted((*said.tokens, *(t for t in item.tokens if t not in words)), key=lambda t: t.start)
    return said


def _described(item: Item, plain: list[Token], context: Context) -> Said:
    """Read a line without what only describes its steps; the words stay accounted for."""
    said = said_by(replace(item, tokens=plain), context)
    once = {t.start: t for t in (*item.tokens, *said.tokens) if t.end > t.start}
    said.tokens = sorted(once.values(), key=_start)
    return said


def _start(token: Token) -> int:
    return token.start


def _apiece(item: Item, each: Apiece, context: Context) -> Said:
    """Read the words that are left, and give each of their moments its length, or both sides what one does."""
    said = _said(item, each.words, context)
    counts = len(item.label.places) if item.label else 0
    moments = sum(len(a.choices[0]) for a in said.atoms)
    if (
        each.sides
        and said.atoms
        and said.repeat is None
        and _one_sided(said.atoms)
        and counts in (0, 2 * moments * (each.counts or 1))
    ):
        said.atoms = [*said.atoms, *again(said.atoms, Repeat(said.atoms[0].span, said.atoms[0].line, mirror=True))]
    for atom in said.atoms:
        atom.apiece = each.counts
    said.tokens = sorted((*said.tokens, *(t for t in item.tokens if t not in each.words)), key=lambda t: t.start)
    return said


def _asked_again(item: Item, words: list[Token], ask: Asked, context: Context) -> Said | None:
    """Read a line whose last sentence asks for all of it again; None where its counts leave no room for that."""
    said = _said(item, words, context)
    counts = len(item.label.wholes) if item.label else 0
    if not said.atoms or said.repeat is not None or ask.last not in (0, _moments(said.atoms)):
        return None
    if counts not in (0, _moments(said.atoms) * (1 + ask.more)):
        return None
    first = said.atoms
    for n in range(ask.more):
        mirror = ask.mirror and n % 2 == 0
        turn = Repeat(first[0].span, first[0].line, mirror=mirror, lead=ask.lead)
        said.atoms = [*said.atoms, *again([a for a in first if not spreads(a, first)], turn)]
    said.tokens = sorted((*said.tokens, *(t for t in item.tokens if t not in words)), key=lambda t: t.start)
    return said


def _over_again(item: Item, words: list[Token], times: int, context: Context) -> Said:
    """Read a line that is danced several times (``times`` > 1), or on both sides."""
    said = _said(item, words, context)
    counts = len(item.label.places) if item.label else 0
    told = counts in (0, max(2, times) * _moments(said.atoms), max(2, times) * int(natural(said.atoms)[1]))
    if not said.atoms or said.repeat is not None or not told:
        return _said(item, item.tokens, context)
    mirror = times < 2 or _changes_feet(said.atoms)
    first = said.atoms
    for n in range(1, max(2, times)):
        turn = Repeat(first[0].span, first[0].line, mirror=mirror and n % 2 == 1)
        said.atoms = [*said.atoms, *again([a for a in first if not spreads(a, first)], turn)]
    said.tokens = sorted((*said.tokens, *(t for t in item.tokens if t not in words)), key=lambda t: t.start)
    return said


def _changes_feet(atoms: list[Atom]) -> bool:
    """Return whether the foot that begins bears at the end, away from its place: then the other begins."""
    wants = [w for a in atoms for s in a.choices[0] for w in s.wants]
    bears = next((w for w in reversed(wants) if w.verb in VERB and VERB[w.verb].takes_weight), None)
    home = bears is not None and len({w.foot for w in wants} - {None}) == 1 and bears.dir in HOMES and len(wants) > 1
    return bears is not None and bears.foot in ("L", "R") and wants[0].foot == bears.foot and not home


def _one_sided(atoms: list[Atom]) -> bool:
    sides = {w.foot for a in atoms for s in a.choices[0] for w in s.wants if w.foot in ("R", "L")}
    sides |= {h.side for a in atoms for s in a.choices[0] for h in s.hands if h.side in ("R", "L")}
    return len(sides) == 1


def _said(item: Item, words: list[Token], context: Context) -> Said:
    """Read those of an item's words that stand as they are."""
    first = asked_first(words) if item.label is None or len(item.label.places) > 1 else None
    tokens, talk = parted(words) if first is None else (first[0], [first[1]])
    scanner = Scanner(tokens)
    drafts = scanner.read()
    strange = [d.tokens[0] for d in drafts if d.unknown and d.tokens[0] is d.unknown[0] and _for_a_step(d)]
    talks = [d for d in drafts if d.bare and len(d.unknown) > 1] if not all(d.bare for d in drafts) else []
    talk += [d.tokens for d in talks]  # "…, as though admiring the roses"
    unknown = [t for d in drafts if d not in talks for t in (*d.unknown, *_run_together(d))]
    leading = _leading(drafts)
    atoms, repeat, left = _phrases(item, tokens, drafts, context)
    if atoms and not any(t.kind in ("side", "foot", "footpart") and t.value[:1] in ("R", "L") for t in tokens):
        atoms[0].choices = [_opened(c) for c in atoms[0].choices]
    return Said(tokens, talk, scanner.asides, strange, unknown, leading, walked(atoms), repeat, left)


def _run_together(draft: Draft) -> list[Token]:
    """ "Side behind side kick": places that no one step goes to; those behind the first are told as passed over."""
    ways = [t for t in draft.tokens if t.kind == "dir"]
    crossed = [way for way in draft.dirs if way.startswith("across")]
    return ways[1:] if len(draft.dirs) > 2 and crossed and not draft.hands else []


def _read_change(change: Change | None) -> Change | None:
    """Read the clause that is danced in the stead of another."""
    if change is None or not change.words:
        return change
    atoms, _ = atoms_of(Scanner(list(change.words)).read())
    change.slot = atoms[0].choices[0][0] if atoms and atoms[0].choices[0] else None
    return change


def _phrases(
    item: Item, tokens: list[Token], drafts: list[Draft], context: Context
) -> tuple[list[Atom], Repeat | None, Context]:
    """Return the phrases of the clauses, what they ask to be copied, and what the next words may lean on."""
    counts = len(item.label.places) if item.label else 0
    if item.limb == "feet":
        context = context._replace(hand=None, last="feet")
    drafts = held_on_the_last(ended_otherwise(turned_on(drafts, item), item), item.label)
    same_arms = item.limb != "arms" and len(drafts) > 1 and _same_arms(drafts[-1], drafts[0])
    drafts = drafts[:-1] if same_arms else drafts
    found, repeat = repeat_of(drafts, tokens), None
    if (asks := _only_asks(tokens, item, found)) is not None:
        repeat, drafts = asks, []
    elif found is not None:
        repeat, drafts = found
    elif (alone := side_alone(drafts, item)) is not None:
        repeat, drafts = alone, []
    twice = then_the_other(drafts) if counts > 2 or not counts else None
    atoms, left = atoms_of(drafts, context=context, of_arms=item.limb == "arms")
    if same_arms and atoms and repeat is None:
        atoms[-1].same_arms = True
    if twice is not None:
        half, more = atoms_of(twice[0], context=context, of_arms=item.limb == "arms")
        if counts in (
            2 * _moments(half),
            0 if _moments(half) > 1 else -1,
            4 * _moments(half) if repeat is not None else -1,
        ):
            atoms, left = [*half, *again(half, twice[1])], more
    inside = _again_inside(atoms, repeat, item) if repeat is not None else None
    if inside is not None:
        return inside, None, left
    if repeat is not None and _own_again(repeat, atoms, item, half=_half(atoms, counts)):
        atoms, repeat = [*atoms, *again(atoms, repeat)], None
    elif repeat is not None and atoms and not item.label and len(repeat.at) == sum(len(a.at) or 99 for a in atoms):
        for one in again(atoms, repeat):  # "open on 1, rest on 2; the same on 4 and 5"
            atoms = [*atoms, replace(one, at=repeat.at[: len(one.at)])]
            repeat.at = repeat.at[len(one.at) :]
        repeat = None
    return atoms, repeat, left


def _only_asks(tokens: list[Token], item: Item, found: tuple[Repeat, list[Draft]] | None) -> Repeat | None:
    """Return what a sentence asks for that does nothing but ask, where its clauses alone don't tell it."""
    if item.limb == "arms" or (item.label is not None and len(item.label.places) == 1):
        return None
    told = found[0] if found is not None else None
    if told is not None and (told.sections or told.counts or told.whole_section):
        return None
    if found is not None and told is not None and not (found[1] or told.times > 1 or told.lead):
        return None
    asks = asked(tokens)
    return asks.repeat(tokens) if asks is not None else None


def _same_arms(last: Draft, first: Draft) -> bool:
    """ "Left heel forward, and home again, with the same arms", "…, arms as before"."""
    arms = last.repeat in ("same", "again") and last.hands in (["both"], [""], ["same"])
    named = last.doing or last.dirs or last.feet or last.part or last.place or last.at
    return arms and not named and not first.arms and bool(first.feet or first.doing)


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
    told = half > 1 and not item.label  # "thighs x2, clap x2, repeat"
    return item.limb == "arms" or (half > 0 and bool(item.label)) or told or not all(a.arms_only for a in atoms)


def _again_inside(atoms: list[Atom], repeat: Repeat, item: Item) -> list[Atom] | None:
    """ "Arms up, down, and again, up and down. Then clap four times": what stands before "again" is done once more,
    and may be told once more; None where that doesn't fill the counts.
    """
    if repeat.counts or repeat.sections or repeat.last or repeat.whole_section or item.label is None:
        return None
    before = [a for a in atoms if a.span[0] < repeat.span[0]]
    after = atoms[len(before) :]
    told, counts = _moments(before), len(item.label.wholes)
    if not before or not after or len(item.label.places) != counts:
        return None
    if 2 * told + _moments(after) == counts:
        return [*before, *again(before, repeat), *after]
    twice = next((k for k in range(1, len(after)) if _moments(after[:k]) == told), 0)
    if twice and told + _moments(after) == counts:
        return [*before, *again(before, repeat), *after[twice:]]
    return None


def _half(atoms: list[Atom], counts: int) -> int:
    """Return how many moments fill half of the counts, those of hands beside the feet shared or not; 0 for none."""
    beside = sum(a.arms_only and a.join in ("and", "with", "plus") for a in atoms[1:])
    return next((m for m in (_moments(atoms), _moments(atoms) - beside) if counts in (0, 2 * m)), 0)


def _moments(atoms: list[Atom]) -> int:
    return sum(len(a.choices[0]) for a in atoms)


def again(atoms: list[Atom], repeat: Repeat) -> list[Atom]:
    """Return the atoms once more, mirrored where the repeat says so or names the other foot to lead."""
    feet = [w.foot for a in atoms for s in a.choices[0] for w in s.wants if w.foot in ("L", "R")]
    feet = feet or [h.side for a in atoms for s in a.choices[0] for h in s.hands if h.side in ("L", "R")]
    mirror = repeat.mirror or (bool(repeat.lead) and bool(feet) and feet[0] != repeat.lead)
    out: list[Atom] = []
    for i, atom in enumerate(a for a in atoms if not a.on_verb):
        choices = [tuple(mirrored_slot(s) if mirror else s for s in c) for c in atom.choices]
        out.append(replace(atom, choices=choices, join=atom.join if i else "seq", facings=[]))
    if out:
        out[-1].facings = list(repeat.facings)
    return out
