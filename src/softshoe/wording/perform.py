"""A block's items danced: laid on their counts, settled by footwork, copies copied; what does not fit is told."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from softshoe.dance.counts import Count
from softshoe.wording.between_counts import stand_between
from softshoe.wording.counting import HIGHEST, Label
from softshoe.wording.counts_behind import as_length, led_up_to, stands_behind, tells_both
from softshoe.wording.each_home import comes
from softshoe.wording.filling import Filler, as_written
from softshoe.wording.kept import LEAVES_NOTHING
from softshoe.wording.laid import Laid
from softshoe.wording.laying import lay, otherwise
from softshoe.wording.laying_ways import natural
from softshoe.wording.limb_tracks import tracked
from softshoe.wording.parts import Atom, Item, Slot
from softshoe.wording.phrases import after_stop, on_a_new_line
from softshoe.wording.plurals import strike_each
from softshoe.wording.remark import talks
from softshoe.wording.run_on import parted_run
from softshoe.wording.stage import Ready, Stage, arms_only, ready, replace_tokens, sounds
from softshoe.wording.strange import is_chatter, is_strange, tell_strange
from softshoe.wording.uncounted import in_order

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.dance.action import Span
    from softshoe.wording.blocks import Block, Role

MOST_ITEMS = 600


class Player(Filler):
    """Dances the items of a block in order, from a count on."""

    def __init__(self, stage: Stage, block: Block, *, start: int, base: int) -> None:
        self.stage = stage
        self.block = block
        self.start = start  # counts of the dance before the block
        self.shift = Fraction(start - base)
        self.cursor = Fraction(start)  # the last whole count filled
        self.line: int | None = None  # of the item danced last
        self.feet: Ready | None = None
        self.labelled = any(i.label is not None for i in block.items)
        self.last: Span | None = None  # the words that filled the last count

    def play(self) -> int:
        """Dance the block; return how many counts it has come to."""
        if any(item.limb for item in self.block.items[:MOST_ITEMS]):
            self.block.items = tracked(self.block.items, self.stage.unit)
        words = [list(item.tokens) for item in self.block.items[:MOST_ITEMS]]
        items = self._joined(self._ready())
        if len(items) == len(words):
            items = in_order(items, words, self.block, self.stage.unit)
        stand_between(items, self.start, self.stage.unit)
        strike_each(items)
        for i, one in enumerate(items):
            self._lay(one, items[i + 1] if i + 1 < len(items) else None)
        for i, one in enumerate(items):
            self.stage.done.append(one)
            if self.cursor > HIGHEST:
                self.stage.unread.append((one.item.line, as_written(one.item.tokens)))
            elif self._is_title(one, items[i + 1] if i + 1 < len(items) else None):
                one.fate = "heading"
            else:
                one.fate = self._one(one, self._ahead(items[i + 1 : i + 4]))
            self._leave(one)
        for item in self.block.items[MOST_ITEMS:]:
            self.stage.done.append(Ready(item, [], None, ()))
            self.stage.unread.append((item.line, as_written(item.tokens)))
        return int(self.cursor) - self.start

    def _leave(self, one: Ready) -> None:
        """Keep the phrases that found no count."""
        for start, end in one.lost:
            words = [t for t in one.item.tokens if start <= t.start < end]
            self.stage.unread.append((words[0].line if words else one.item.line, as_written(words)))

    def _ready(self) -> list[Ready]:
        """Read the items; within a line the words lean on those before."""
        out: list[Ready] = []
        for item in self.block.items[:MOST_ITEMS]:
            same = bool(out) and out[-1].item.line == item.line and item.label is not None
            behind = out[-1].behind if out else LEAVES_NOTHING
            context = behind.here() if same or _goes_on(item) else on_a_new_line(behind.context)
            one = ready(item, self.shift, after_stop(context) if item.stopped else context)
            out.append(one)
            if (
                one.repeat is not None
                and one.repeat.at
                and one.places
                and one.repeat.at[0] > one.places[-1] - self.shift
            ):
                out.append(self._parted(one))
        return out

    def _parted(self, one: Ready) -> Ready:
        """ "On 2 pull them back. Do that again on 3 and 4": the copy has counts of its own."""
        repeat = one.repeat
        assert repeat is not None
        one.repeat = None
        label = Label(repeat.at, False, *repeat.span, repeat.line)
        return Ready(
            Item(label, [], repeat.line), [], repeat, tuple(p + self.shift for p in repeat.at), behind=one.behind
        )

    def _joined(self, items: list[Ready]) -> list[Ready]:
        """A line without counts goes on with the line before where that one alone does not fill its counts."""
        out: list[Ready] = []
        for one in items:
            before = out[-1] if out else None
            if before is not None and tells_both(before, one):
                words = [*before.item.tokens, *one.item.heads, *one.item.tokens]
                out[-1] = ready(replace_tokens(one.item, words), self.shift)
                continue
            if before is None or one.item.label is not None or one.item.limb or before.item.label is None:
                out.append(one)
                continue
            label = before.item.label
            if label.floats and before.item.tokens and (one.item.line != before.item.line or one.item.stopped):
                out.append(one)  # "… home (2)" over "stomp right, left": the next line comes behind
            elif not before.item.tokens or (one.atoms and not arms_only(one) and not _fills(before)):
                joined = replace_tokens(before.item, [*before.item.tokens, *one.item.tokens])
                out[-1] = ready(joined, self.shift)
            else:
                out.append(one)
        return out

    def _lay(self, one: Ready, behind: Ready | None = None) -> None:
        if one.item.given is not None:
            one.laid = Laid([(one.places[0], one.atoms[0].choices[0][0], one.atoms[0])], moments=1)
            return
        if one.places and one.atoms and one.repeat is None:
            label = one.item.label
            one.places = self._lasting(one, behind)
            if label is not None and label.single and len(one.atoms) == 1:
                one.atoms[0].each = one.atoms[0].each or sounds(one.atoms[0])  # "pat the thighs, one, two"
            one.laid = lay(one.atoms, one.places, ranged=bool(label and label.ranged), seated=self.stage.dancer.seated)
            if label is not None and label.plus:
                one.places, one.laid = otherwise(one.atoms, one.places, one.laid)
            self._run_on(one)

    def _run_on(self, one: Ready) -> None:
        """Read words that run on without commas clause by clause, where only so they fill their counts."""
        wholes = len(one.places)
        fits = one.laid is not None and not one.laid.problem and (len(one.laid.at) >= wholes or not _parts(one))
        lasts = one.item.label is not None and one.item.label.floats  # "heels up (2)"
        if (
            one.laid is None
            or fits
            or lasts
            or one.item.limb
            or wholes < 2
            or any(p.denominator != 1 for p in one.places)
        ):
            return
        for words in parted_run(one.item.tokens, sure=arms_only(one)):
            other = ready(replace_tokens(one.item, words), self.shift)
            if other.repeat is not None or not other.atoms:
                continue
            laid = lay(other.atoms, one.places, ranged=True, seated=self.stage.dancer.seated)
            if not laid.problem and len({at for at, _, _ in laid.at}) == wholes == len(other.atoms):
                one.item, one.atoms, one.laid = other.item, other.atoms, laid
                return

    def _lasting(self, one: Ready, behind: Ready | None) -> tuple[Fraction, ...]:
        """ "On count 1 right heel forward. Hold for 3. On count 5 …": a count that only says where a stretch begins."""
        first = one.places[0]
        holds = [a for a in one.atoms[1:] if any(w.verb == "hold" for s in a.choices[0] for w in s.wants)]
        if len(one.places) > 1 or first.denominator != 1 or not (holds or any((a.counts or 0) > 1 for a in one.atoms)):
            return one.places
        length = int(natural(one.atoms)[1])
        after = behind.places[0] if behind is not None and behind.places else None
        if length < 2 or (after is not None and after < first + length):
            return one.places
        return tuple(first + k for k in range(length))

    def _is_title(self, one: Ready, behind: Ready | None) -> bool:
        """Words without counts over lines that fill the very next counts sum those lines up."""
        if one.item.label is not None or one.item.limb or one.repeat is not None or behind is None or not one.atoms:
            return False
        if arms_only(one) and self.feet is not None:
            return False
        if behind.item.label is not None and behind.item.label.floats:
            return False  # "stomp, stomp, clap, clap" over "wiggle for 4"
        return bool(behind.places) and behind.places[0].__floor__() <= self.cursor + 1

    def _ahead(self, items: Sequence[Ready]) -> list[Slot]:
        slots: list[Slot] = []
        for one in items:
            if one.repeat is not None:
                break
            if one.laid is not None and not arms_only(one):
                slots += [slot for _, slot, _ in one.laid.at[:3]]
        return slots[:4]

    # one item

    def _one(self, one: Ready, ahead: list[Slot]) -> Role:
        """Dance one item; return what became of its words."""
        behind, self.line = self.line == one.item.line, one.item.line
        if one.item.label is None and not one.item.limb and talks(one.item.tokens, alone=not behind):
            self.stage.kept.append((one.item.line, as_written(one.item.tokens)))
            return "note"  # "… (5-8). Stay over your feet."
        if one.item.remark:
            return self._loose(one) if one.atoms or one.item.unknown else "note"
        for talk in one.item.talk:
            (self.stage.kept if talks(talk) else self.stage.unread).append((talk[0].line, as_written(talk)))
        if is_chatter(one, labelled=self.labelled):
            return self._loose(one)
        if one.item.label is None and one.item.limb == "feet" and one.atoms and all(a.holds for a in one.atoms):
            return "note"  # "feet: still"
        tell_strange(self.stage, one)
        floats = one.item.label is not None and one.item.label.floats and not one.item.limb  # "wiggle for 4" comes next
        if arms_only(one) and not floats and self._is_overlay(one):
            self._overlay(one)
            return "event"
        if one.item.label is None and one.repeat is None and (not one.atoms or is_strange(one)):
            return self._loose(one)
        if one.item.label is None and one.repeat is not None and self._is_over():
            return self._loose(one)  # "and do it all again": the dance is at its end
        self._says_where(one)
        self._float(one)
        self._counted_behind(one)
        places = self._places(one)
        if places is None and one.places:
            self.stage.kept.append((one.item.line, as_written(one.item.tokens)))
            return "kept"
        if places is None:
            return self._loose(one)
        if one.repeat is not None:
            self._repeat(one, one.repeat, places)
        else:
            self._dance(one, places, ahead)
        self.feet = one.on(places)
        self.last = one.counted
        return "event"

    def _is_over(self) -> bool:
        """Return whether the dance has come to the length that its header states."""
        self.stage.dancer.asked.add("length")
        return self.stage.stated is not None and self.cursor >= self.stage.stated

    def _float(self, one: Ready) -> None:
        """What only says how long it lasts begins where the dance has come to."""
        label = one.item.label
        if label is None or not label.floats or not one.places or one.places[0] == self.cursor + 1:
            return
        begin = self.cursor + 1 - one.places[0].__floor__()
        one.places = tuple(begin + place for place in one.places)
        if one.laid is not None:
            self._lay(one)

    def _counted_behind(self, one: Ready) -> None:
        """Read a count behind the words that is not the next as that of the last of them, or as their length."""
        if not one.places or not stands_behind(one) or one.places[0].__floor__() == self.cursor + 1:
            return
        length = as_length(one, self.cursor)
        laid = None if length else led_up_to(one, self.cursor, seated=self.stage.dancer.seated)
        if length:
            one.places = length
            self._lay(one)
        elif laid is not None:
            first = one.places[0].__floor__()
            one.places = (*(Fraction(n) for n in range(int(self.cursor) + 1, first)), *one.places)
            one.laid = laid

    def _says_where(self, one: Ready) -> None:
        """ "Repeat (5-8)": counts that are still to come are those of the copy, not those that it copies."""
        repeat = one.repeat
        if repeat is None or repeat.counts is None or one.places:
            return
        first, last = (count + self.shift for count in repeat.counts)
        if first == self.cursor + 1:
            repeat.counts = None
            one.places = tuple(Fraction(n) for n in range(int(first), int(last) + 1))

    def _loose(self, one: Ready) -> Role:
        """Words that hold no step are kept; that feet or hands rest needs no more than that."""
        if any(t.kind == "quiet" for t in one.item.tokens):
            return "note"
        if all(t.kind == "mark" for t in one.item.tokens):
            return "mark"
        line = next(t.line for t in one.item.tokens if t.kind != "mark")
        self.stage.unread.append((line, as_written(one.item.tokens)))
        return "kept"

    def _places(self, one: Ready) -> list[Fraction] | None:
        """Return the item's counts after telling gaps and doubles; None when it is a double."""
        if not (places := list(one.places)):
            return self._unlabelled_places(one)
        first = places[0]
        whole, cursor, split = first.__floor__(), int(self.cursor), first.denominator != 1
        stage = self.stage
        if whole <= cursor and places[-1] <= self.cursor and first > self.start and not self._between(places):
            stage.tell("error", "count-twice", one.item.line, first,
                       f"Count {self._said(first)} is filled already by a line above.",
                       "Take one of the two out, or number them on.")  # fmt: skip
            return None
        if whole < cursor + 1 and not split:
            stage.tell("error", "count-twice", one.item.line, first,
                       f"Count {self._said(first)} is filled by the line above as well.",
                       "Let each count stand once.")  # fmt: skip
            places = [p for p in places if p > self.cursor]
        elif whole > cursor + 1:
            missing = self.cursor + 1
            stage.tell("error", "count-missing", one.item.line, missing,
                       f"Nothing fills count {self._said(missing)}, before this line.",
                       "Write what is danced there, or “hold”.")  # fmt: skip
            for n in range(cursor + 1, whole):
                self._hold(Fraction(n), one.item.line, one.counted)
        reached = places[-1].__floor__() if places else cursor
        self.cursor = Fraction(reached) if reached > cursor else self.cursor
        return places or None

    def _between(self, places: list[Fraction]) -> bool:
        return all(p.denominator != 1 for p in places)

    def _said(self, at: Fraction) -> str:
        return Count(at - self.start).label

    def _with_timed(self, atoms: list[Atom]) -> tuple[list[tuple[Fraction, Slot, Atom]], Fraction]:
        """ "Walk forward four, clap on 4": hands told for one of the steps lie over it."""
        atoms = [a for a in atoms if not a.on_verb.startswith("@")]
        if not atoms:
            return [], Fraction(0)
        timed = [a for a in atoms if a.arms_only and (a.at or a.on_verb) and len(a.choices[0]) == 1]
        main = [a for a in atoms if a not in timed]
        laid, length = natural(main) if timed and main else natural(atoms)
        if not (timed and main and laid):
            return laid, length
        over: list[tuple[Fraction, Slot, Atom]] = []
        for atom in timed:
            at = [p - self.shift - 1 if p - self.shift <= length else p - self.cursor - 1 for p in atom.at]
            at += [here for here, slot, _ in laid if atom.on_verb and comes(slot, atom.on_verb)]
            if not at or not all(0 <= here < length for here in at):
                return natural(atoms)
            over += [(here, atom.choices[0][0], atom) for here in at]
        return [*laid, *over], length

    def _unlabelled_places(self, one: Ready) -> list[Fraction] | None:
        """Without counts: the whole of the section, or the patterns' own rhythm from here on."""
        heading = self.block.heading
        if one.fills:
            places = [self.cursor + k for k in range(1, one.fills + 1)]
        elif heading is not None and heading.counts and self.cursor == self.start and not one.follows:
            places = [Fraction(self.start + k) for k in range(1, heading.counts[1] - heading.counts[0] + 2)]
        elif one.repeat is not None:
            length = self._source_length(one, one.repeat)
            places = [self.cursor + k for k in range(1, length + 1)]
        else:
            laid, length_n = self._with_timed(one.atoms)
            if not laid:
                return None
            one.laid = Laid([(self.cursor + 1 + at, slot, atom) for at, slot, atom in laid], moments=len(laid))
            places = [self.cursor + k for k in range(1, max(1, int(length_n)) + 1)]
            if any(a.counts for a in one.atoms):  # "march for eight counts, the arms swinging"
                spread = lay(one.atoms, places, ranged=True)
                one.laid = one.laid if spread.problem else spread
            self.cursor = places[-1]
            one.places = tuple(places)
            return places
        if not places:
            return None
        self.cursor = places[-1]
        one.places = tuple(places)
        self._lay(one)
        return places


def _goes_on(item: Item) -> bool:
    """ "3 Lift" below "2 Lower" below "1 Lift both heels": one word alone is said of what was lifted."""
    words = [t for t in item.tokens if t.kind != "mark"]
    return len(words) == 1 and words[0].value in ("raise", "lower") and item.label is not None and not item.limb


def _parts(one: Ready) -> bool:
    """Return whether words may run on: hands do, where no comma parts them."""
    return not arms_only(one) or not any(t.kind == "mark" and t.text in ",;" for t in one.item.tokens)


def _fills(one: Ready) -> bool:
    """Return whether an item's words fill its counts."""
    if one.repeat is not None:
        return True
    if not one.atoms:
        return not one.places
    laid = lay(one.atoms, one.places, ranged=True)
    reached = len(laid.at) < len(one.places) and len(one.atoms) == 1
    return not laid.problem and not reached
