"""Sections whose lines name no counts: each sentence follows on the one before, as long as that fills the section.

Hands on a line of their own lie over the feet above, or come behind them; two sentences are one movement or two; the
times said at the end are for the last step or for the line; what goes on takes the counts that are left. The reading is
taken whose counts fill the section.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

from softshoe.wording.kept import LEAVES_NOTHING
from softshoe.wording.laid import can_last
from softshoe.wording.laying_ways import natural
from softshoe.wording.lengths import is_uncounted, length_of
from softshoe.wording.parts import Repeat
from softshoe.wording.phrases import after_stop
from softshoe.wording.ranges_behind import sentences
from softshoe.wording.said import again
from softshoe.wording.stage import Ready, arms_only, ready

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from softshoe.wording.blocks import Block
    from softshoe.wording.lex import Token
    from softshoe.wording.parts import Atom

DANCED = frozenset(("verb", "pattern", "gest", "dual", "draw", "footpart", "hand", "foot", "dir", "again", "same",
"repeat", "mirror"))  # fmt: skip
MOVED = ("verb", "pattern", "gest", "dual", "draw", "footpart")
WHITHER = ("side", "times", "num", "repeat", "same", "again")
MOST_UNITS = 4  # sections of one heading
LONGEST_NAME = 4  # words


def last_danced(block: Block) -> int:
    """Return the last line of a section that has counts, or that dances where none of its lines has any; 0 for none."""
    told = block.kind == "section" and block.heading is not None and is_uncounted(block.items)
    lines = [i.line for i in block.items if i.label is not None or (told and any(t.kind in MOVED for t in i.tokens))]
    return max(lines, default=0)


def in_order(items: list[Ready], words: Sequence[list[Token]], block: Block, unit: int) -> list[Ready]:
    """Return the items of such a section, marked as following each other, parted or repeated as fills its counts.

    ``words`` are those of each item before it was read.
    """
    if block.kind != "section" or not is_uncounted([one.item for one in items]) or not any(o.atoms for o in items):
        return items
    parts: list[Ready] = items
    for parts in _ways(items, words):
        for follow in _follows(parts):
            length = _length(parts, unit, follow)
            if _fits(length, block, unit):
                return _marked(parts, follow)
            left = (length_of(block) or unit) - length
            open_end = _open_end(parts) if left > 0 else None
            if open_end is not None:
                open_end.fills = left + 1
                return _marked(parts, follow)
    if all(map(arms_only, parts)):
        return _marked(parts, [True] * len(parts))  # hands lie over feet, never over hands
    return items


def _ways(items: list[Ready], words: Sequence[list[Token]]) -> Iterator[list[Ready]]:
    """Yield the section as it stands, cut behind its full stops, without a name before its sentences, with what is said
    at the end of a line done by all of the line.
    """
    yield items
    parts = _parted(items, words)
    if len(parts) > len(items):
        yield parts
    if len(parts) > len(items) and _names(parts[0]):
        yield parts[1:]
    for way in (items, parts) if len(parts) > len(items) else (items,):
        over = [_all_over(one) or one for one in way]
        if any(a is not b for a, b in zip(over, way, strict=True)):
            yield over


def _follows(items: Sequence[Ready]) -> Iterator[list[bool]]:
    """Yield which hands come behind what stands above them: those that move more than once, none, all."""
    often = [_often(one) for one in items]
    yield often
    if any(often):
        yield [False] * len(items)
    if not all(often):
        yield [True] * len(items)


def _often(one: Ready) -> bool:
    """Return whether hands on a line of no limb's move several times: "pat your knees 4 times", "roll for 4"."""
    if not arms_only(one) or one.item.limb or any(a.on_verb or a.at or a.whole for a in one.atoms):
        return False
    return int(natural(one.atoms)[1]) > 1


def _marked(items: list[Ready], follow: Sequence[bool]) -> list[Ready]:
    for one, behind in zip(items, follow, strict=True) if any(follow) or len(items) > 1 else ():
        one.follows = behind or not arms_only(one)
    return items


def _fits(length: int, block: Block, unit: int) -> bool:
    wanted = length_of(block)
    return length == wanted if wanted else 0 < length <= MOST_UNITS * unit and length % unit == 0


def _open_end(items: Sequence[Ready]) -> Ready | None:
    """Return the one item that goes on as long as there are counts: "march on the spot", "roll the hands"."""
    moving = [one for one in items if one.atoms and one.repeat is None and one.item.label is None]
    found = [one for one in moving if _goes_on(one.atoms)]
    return found[0] if len(found) == 1 and (len(moving) == 1 or not arms_only(found[0])) else None


def _goes_on(atoms: Sequence[Atom]) -> bool:
    if any(a.counts or a.at or a.times > 1 for a in atoms) or int(natural(atoms)[1]) != 1:
        return False
    slots = [(slot, a) for a in atoms for slot in a.choices[0]]
    return any(can_last(slot, a) and not a.holds for slot, a in slots)


def _length(items: Sequence[Ready], unit: int, follow: Sequence[bool]) -> int:
    """Return how many counts the items take."""
    total = 0
    for one, behind in zip(items, follow, strict=True):
        label = one.item.label
        if one.repeat is not None:
            total += len(label.places) if label is not None else _copied(one, total, unit)
        elif label is not None:
            total += len(label.places)
        elif behind or not total or not arms_only(one):
            main = [a for a in one.atoms if not (a.arms_only and (a.at or a.on_verb))]
            total += int(natural(main)[1]) if main else 0
    return total


def _copied(one: Ready, total: int, unit: int) -> int:
    repeat = one.repeat
    assert repeat is not None
    if repeat.counts:
        return (int(repeat.counts[1]) - int(repeat.counts[0]) + 1) * repeat.times
    return (repeat.last or (unit if repeat.sections or repeat.whole_section else total)) * repeat.times


def _all_over(one: Ready) -> Ready | None:
    """ "R heel fwd, home, L heel fwd, home x 2": return the item with all of it done so often, or None."""
    last = one.atoms[-1] if one.atoms and one.repeat is None and one.item.label is None else None
    if (
        last is None
        or last.times < 2
        or len(one.atoms) < 2
        or len(last.choices) < 2
        or len(last.choices[0]) < last.times
    ):
        return None
    once = [*one.atoms[:-1], replace(last, choices=[last.choices[-1]], times=1)]
    turn = Repeat(once[0].span, once[0].line)
    atoms = [*once, *(a for _ in range(last.times - 1) for a in again(once, turn))]
    return replace(one, atoms=atoms)


def _returns(atom: Atom) -> bool:
    """Return whether what is told last only brings home what went out before: it alone is not done several times."""
    slot = atom.choices[-1][-1] if atom.choices[-1] else None
    if slot is None:
        return False
    home = any(w.verb in ("lower", "hold") or (w.verb == "step" and w.dir in HOMES) for w in slot.wants)
    return home or any(h.gesture in ("pull", "lower", "rest", "close") for h in slot.hands)


HOMES = ("centre", "together", "in place")


def _parted(items: list[Ready], words: Sequence[list[Token]]) -> list[Ready]:
    """Return the items cut behind their full stops, where something is danced on both sides."""
    out: list[Ready] = []
    for one, tokens in zip(items, words, strict=True):
        pieces = _dancing(tokens) if one.item.label is None else []
        if len(pieces) < 2:
            out.append(one)
            continue
        behind = LEAVES_NOTHING
        for piece in pieces:
            item = replace(one.item, tokens=piece, atoms=[], unknown=[], talk=[], asides=[], strange=[], leading=None)
            item.heads = one.item.heads if piece is pieces[0] else []
            read = ready(item, Fraction(0), after_stop(behind.here()))
            behind = read.behind
            out.append(read)
    return out


def _dancing(tokens: Sequence[Token]) -> list[list[Token]]:
    """Return the sentences, those that dance nothing with the one before them."""
    whole: list[list[Token]] = []
    for piece in sentences(tokens):
        if whole and (not any(t.kind in DANCED for t in piece) or not any(t.kind in DANCED for t in whole[-1])):
            whole[-1] += piece
        else:
            whole.append(piece)
    return whole


def _names(one: Ready) -> bool:
    """ "Toes. Tap the right toe …": return whether a first sentence may be a name."""
    words = [t for t in one.item.tokens if t.kind != "mark"]
    return len(words) <= LONGEST_NAME and not any(t.kind in WHITHER for t in words)
