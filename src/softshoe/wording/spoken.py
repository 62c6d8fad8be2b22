"""The spoken walkthrough: runs of words on the beat between remarks, without count labels.

Each doing word takes one count, "and" the half count, a pattern its own; numbers behind a run only tell its counts
once more.
A run is a clause list in which every clause is danced; any other sentence is a remark. Sections are filled one by one.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from fractions import Fraction
from typing import TYPE_CHECKING

from softshoe.wording.asked import asked, asking
from softshoe.wording.blocks import Block
from softshoe.wording.changes import parted_change
from softshoe.wording.counting import HIGHEST
from softshoe.wording.described import describes
from softshoe.wording.fitting_runs import fitted, lies_over
from softshoe.wording.headings import heading_of, kind_of
from softshoe.wording.items import items_of
from softshoe.wording.laying_ways import natural
from softshoe.wording.lengths_told import length_items, told_lengths
from softshoe.wording.lex import Token, tokens_of
from softshoe.wording.limbs import limb_of, limbs_in_a_row
from softshoe.wording.looking import told
from softshoe.wording.parts import Item
from softshoe.wording.remark import GENERAL, may_be_danced, talks
from softshoe.wording.repeats import repeat_of
from softshoe.wording.scanner import drafts_of
from softshoe.wording.shape import shape
from softshoe.wording.stage import ready
from softshoe.wording.tails import is_tail
from softshoe.wording.wall_end import closes_wall

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from softshoe.wording.lines import Line

BREAK = shape(r"(?<=[.!?;…])\s+|\s[-–—]{1,2}\s|[“”\"]|\n")
REMARK = shape(
    r"^\W*(?:and\s+)?(?:we|you|that|that's|that’s|this|it|it's|it’s|the(?!\s+same\b)|i|i'm|your|feet together|"
    r"(?:the )?(?:right|left) foot (?:first|leads?|starts)|ready|listen|remember|don't|here|there|if|when|"
    r"keep|stay|each|every|no\b|small|breathe|relax|let the|be on|mind|do not|only as|count it|think|feel|"
    r"let's|let’s|let us|five,? six,? seven|from the top|weight|start|stand|sit|everyone|everybody|good|great|"
    r"lovely|well done|okay|ok|music|intro)\b",
    re.IGNORECASE,
)
LIMB_NAME = r"(?:foot|feet|heels?|toes?|knees?|legs?|hands?|arms?|fists?|palms?|fingers?)\b"
LIMB_MOVES = shape(
    rf"\W*(?:(?:the|your|let the)\s+(?:(?:right|left)\s+(?:{LIMB_NAME}|on[e]\b|to\b)|both\s+{LIMB_NAME})|"
    r"the\s+(?:right|left)\W*$|keep\s+marching|keep\s+(?:a|the)\s+march\b|it\s+(?:comes|goes)\s+(?:home|back))",
    re.IGNORECASE,
)
THEN_LIMB = shape(rf"\W*(?:the|your|let the)\s+(?:{LIMB_NAME}|left\b|right\b)", re.IGNORECASE)
THEN = shape(r"\b(?:then|now|next|after)\b", re.IGNORECASE)
STILL = shape(r"\b(?:stays?|only|always|never|must|should|can|may|might|will)\b", re.IGNORECASE)
LEAD_IN = shape(
    r"^\W*(?:now|and now|and then|then|and|next|so|after that|first|again now|okay|right then)\b[\s,:]*", re.IGNORECASE
)
# "That's four, and do it again to make eight": behind a remark, what is asked to be danced once more.
COPY_BEHIND = shape(
    r"[,;]\s*(?:(?:and|now|then|so)\s+)*(?=(?:do|dance|repeat)\s+(?:it|that|those|them|all)\b.*\bagain\b|repeat\s+(?:it|that)\b)",
    re.IGNORECASE,
)
LONGEST_ASKING = 80  # characters
SUBJECT = shape(r"\W*(?:you|we)\s+(?:(?:now|then|just|simply|both|all|can|will)\s+)*", re.IGNORECASE)
SIZED = shape(r"[(\[]\d+ (?:counts?|cts)[)\]]\W*$", re.IGNORECASE)  # a line that tells its length is one run
STEPS = ("verb", "pattern", "footpart", "gest", "dual")
NUMBERS = ("num", "mark", "fill", "join", "count")
ASKING = ("repeat", "same", "again", "mirror")


def sentences_of(line: Line) -> Iterator[tuple[str, int]]:
    """Yield the sentences of a line and where they begin in the sheet; a tail goes on with the one before."""
    at = 0
    ends = [(m.start(), m.end()) for m in BREAK.finditer(line.text)]
    for k, (end, behind) in enumerate([*ends, (len(line.text), len(line.text))]):
        until = ends[k + 1][0] if k + 1 < len(ends) else len(line.text)
        headed = line.text[:end].endswith(";") and (":" in line.text[at:end] or SIZED.search(line.text) is not None)
        if at < end < until and (headed or is_tail(line.text[behind:until])):
            continue
        if line.text[at:end].strip():
            yield line.text[at:end], line.start + at
        at = behind


def run_of(sentence: str, *, line: int, offset: int) -> list[Token] | None:
    """Return the words of a run, without its lead-in and the numbers behind it; None where the sentence is a remark.

    >>> run_of("That was easy.", line=1, offset=0) is None
    True
    """
    if ":" in sentence and asked(told(tokens_of(sentence, line=line, offset=offset))) is None:
        head, _, tail = sentence.rpartition(":")
        own = run_of(tail, line=line, offset=offset + len(head) + 1) if tail.strip() else None
        whole = _headed(sentence, head, line=line, offset=offset) if tail.strip() else None
        if own is not None or whole is not None:
            return whole or _led(own or [], head, line=line, offset=offset)
        sentence = head
    words = told(tokens_of(sentence, line=line, offset=offset)) if len(sentence) <= LONGEST_ASKING else []
    if words and asked(words) is not None:
        return words
    lead = LEAD_IN.match(sentence)
    begin = lead.end() if lead else 0
    begin = _behind_subject(sentence, begin)
    body = sentence[begin:]
    if copies(body):
        return told(tokens_of(body, line=line, offset=offset + begin))
    then = lead is not None and THEN.search(lead[0]) is not None
    if REMARK.match(body) and not _of_a_limb(body, then=then):
        copy = COPY_BEHIND.search(body)
        if copy is None or closes_wall(body[copy.end() :]):
            return None
        return run_of(body[copy.end() :], line=line, offset=offset + begin + copy.end())
    tokens = told(tokens_of(body, line=line, offset=offset + begin))
    if all(t.kind in NUMBERS for t in tokens) or talks(tokens):
        return None
    tokens = _without_numbers(tokens)
    return tokens if _danced(tokens) else None


def _of_a_limb(body: str, *, then: bool) -> bool:
    """ "The right toe reaches out", "then the heels go forward", "keep marching": what a limb does is no remark."""
    told = LIMB_MOVES.match(body) or (THEN_LIMB.match(body) if then else None)
    return told is not None and STILL.search(body) is None


def _behind_subject(sentence: str, begin: int) -> int:
    """ "We tap the right toes", "now you step left": where what is done begins; ``begin`` where nothing is."""
    found = SUBJECT.match(sentence, begin)
    doing = next(iter(tokens_of(sentence[found.end() :], line=0)), None) if found else None
    danced = doing is not None and doing.kind in STEPS and doing.low not in GENERAL and doing.value != "hold"
    return found.end() if found is not None and danced else begin


def copies(body: str) -> bool:
    """Return whether a sentence sets out to ask for what is danced already: "The same with the left foot."."""
    tokens = told(tokens_of(body, line=0))
    asks = next((i for i, t in enumerate(tokens) if t.kind in ASKING), len(tokens))
    if asks > 2 or any(t.kind not in NUMBERS for t in tokens[:asks]) or closes_wall(body):
        return False
    words, _, _ = parted_change(tokens)
    drafts = drafts_of(words)
    said = repeat_of(drafts, words)
    return said is not None and not any(d.unknown for d in drafts)


def _headed(sentence: str, head: str, *, line: int, offset: int) -> list[Token] | None:
    """ "Walk forward: right, left, right, kick": what is done stands before the list; None where it does not."""
    lead = LEAD_IN.match(head)
    begin = lead.end() if lead else 0
    if REMARK.match(head[begin:]):
        return None
    drafts = drafts_of(list(tokens_of(head[begin:], line=line)))
    if any(d.unknown or d.repeat or d.mirror for d in drafts) or all(d.bare for d in drafts):
        return None
    if len(drafts) > 1 and any(d.hands for d in drafts):
        return None
    own = drafts_of(list(tokens_of(sentence[len(head) + 1 :], line=line)))
    if drafts[0].doing and not (drafts[0].feet or drafts[0].dirs) and all(d.doing or d.part for d in own if not d.bare):
        return None  # "Rowing: pull in to the waist, push forward": it only names what is told
    tokens = _without_numbers(told(tokens_of(sentence[begin:], line=line, offset=offset + begin)))
    return tokens if _danced(tokens) else None


def _led(run: list[Token], head: str, *, line: int, offset: int) -> list[Token]:
    """ "Same to the left: side, behind …": the side named before the run leads it."""
    if any(t.kind in ("side", "foot") for t in run[:2]):
        return run
    for token in tokens_of(head, line=line, offset=offset):
        side = (
            {"left": "L", "right": "R"}.get(token.value, token.value) if token.kind in ("side", "foot", "dir") else ""
        )
        if side in ("L", "R"):
            return [Token("side", side, "", token.text, token.start, token.end, line, low=token.low), *run]
    return run


def _without_numbers(tokens: list[Token]) -> list[Token]:
    """Clauses of numbers alone ("five six") tell the counts once more."""
    out: list[Token] = []
    clause: list[Token] = []
    for token in tokens:
        clause.append(token)
        if token.kind == "mark" and token.text in ",.;":
            out += _unless_numbers(clause, out)
            clause = []
    return out + _unless_numbers(clause, out)


def _unless_numbers(clause: list[Token], before: list[Token]) -> list[Token]:
    """Return the clause unless it only counts; behind "clap on 2," further numbers are counts of the clap."""
    listed = len(before) > 2 and before[-2].kind == "num" and (before[-3].kind in ("on", "count", "mark", "num"))
    listed = listed and any(t.kind in ("on", "count") for t in before[-8:])
    return [] if all(t.kind in NUMBERS for t in clause) and not listed else clause


def _danced(tokens: list[Token]) -> bool:
    """Return whether every clause can be danced."""
    drafts = drafts_of(tokens)
    if repeat_of(drafts, tokens) is not None and not any(d.unknown for d in drafts):
        return True
    real = [d for d in drafts if not d.quiet]
    named = [d for d in real if not d.bare]
    strange = sum(len(d.unknown) for d in real)
    return (
        bool(named)
        and strange == 0
        and all(d.doing or d.dirs or d.part or d.hands or d.amount or d.feet or d.place for d in named)
        and any(d.doing or d.dirs or d.part or d.hands or d.place == "thigh" for d in named)
    )


@dataclass(slots=True)
class Spoken:
    """The runs of a walkthrough as sections; ``left``: what seems to be danced and can't be read, or is too much (line,
    first character, the one behind the last).
    """

    blocks: list[Block] = field(default_factory=list)
    left: list[tuple[int, int, int]] = field(default_factory=list)


def spoken_blocks(lines: list[Line], *, unit: int, stated: int | None = None) -> Spoken:
    """Return the runs as sections of ``unit`` counts, none where it holds none; ``stated`` is the whole length."""
    out = Spoken()
    stretch: list[Item] = []
    headed = False
    room, come = Room(unit), 0
    for line in _going_on(lines):
        if len(out.blocks) * unit > HIGHEST:
            out.left.append((line.number, line.start, line.start + len(line.text)))
            continue
        if heading_of(line.text) is not None:
            room.take(fitted(stretch, unit) if headed else stretch, out)
            stretch, headed, come = [], True, 0
        full = come % unit == 0
        words = [] if full else asking(tokens_of(line.text, line=line.number, offset=line.start))
        more = [Item(None, words, line.number)] if words else list(_runs_of(line, out, full=full, begun=come > 0))
        for item in more:
            come += 0 if lies_over(item) else natural_length(item) or _asked_length(item, come % unit, unit)
        stretch += more
        if not (headed or stated):
            room.take(stretch, out)
            stretch = []
    whole = unit if headed else stated
    room.take(fitted(stretch, whole) if whole else stretch, out)
    return out


def _going_on(lines: list[Line]) -> Iterator[Line]:
    """ "Toes: right side, together, left side, together," goes on on the line below: yield both as one."""
    whole: Line | None = None
    last = 0
    for line in lines:
        if whole is not None and line.number == last + 1 and _goes_on(whole):
            gap = line.start - whole.start - len(whole.text)
            whole = whole._replace(text=whole.text + " " * gap + line.text)
        else:
            if whole is not None:
                yield whole
            whole = line
        last = line.number
    if whole is not None:
        yield whole


def _goes_on(line: Line) -> bool:
    return line.text.rstrip().endswith(",") and len(line.text) < LONGEST_JOINED


LONGEST_JOINED = 400  # characters


def _asked_length(item: Item, filled: int, unit: int) -> int:
    """How many counts a sentence adds that asks for the section so far again; 0 where that is not its length."""
    asks = asked(item.tokens) if item.label is None and filled < unit else None
    return (asks.last or filled) * asks.more if asks is not None else 0


class Room:
    """Puts runs into sections, one after the other."""

    def __init__(self, unit: int) -> None:
        self.unit = self.before = unit
        self.filled = 0

    def take(self, items: Iterable[Item], out: Spoken) -> None:
        """Add runs to the last section, or open the next where that one is full."""
        for item in items:
            limbs = {i.limb for i in out.blocks[-1].items} if out.blocks else set()
            other = (
                bool(item.limb) and bool(limbs) and limbs <= {"feet", "arms"} - {item.limb}
            )  # "Arms: …" over "Feet: …"
            if out.blocks and (lies_over(item) or other):
                out.blocks[-1].items.append(item)
                continue
            length = natural_length(item) or _asked_length(item, self.filled, self.unit) or self.before
            if not out.blocks or self.filled >= self.unit:
                out.blocks.append(Block("section", item.line))
                self.filled = 0
            out.blocks[-1].items.append(item)
            self.filled += length
            self.before = length


def _runs_of(line: Line, out: Spoken, *, full: bool, begun: bool) -> Iterator[Item]:
    """Yield the runs of a line; what only seems to be one is left. ``full``: the section has all its counts."""
    kind = kind_of(line.text)
    if kind in ("note", "legend") or (
        kind == "end" and (full or run_of(line.text, line=line.number, offset=0) is None)
    ):
        return
    limb, begin = limb_of(line.text)
    if limb or limbs_in_a_row(line.text):
        tracks = items_of(line.text, line=line.number, offset=line.start)
        if tracks and all(t.label is None and t.limb in ("feet", "arms") for t in tracks):
            yield from tracks
            return
    if limb and begun:
        line = line._replace(text=line.text[begin:], start=line.start + begin)
    for sentence, start in sentences_of(line):
        tokens = run_of(sentence, line=line.number, offset=start)
        if tokens is not None and begun and describes(tokens):
            continue  # "Heels to the front, please."
        pieces = told_lengths(tokens) if tokens is not None else []
        if pieces:
            yield from length_items(pieces, Fraction(0), floats=True)
        elif tokens is not None:
            begun = True
            yield Item(None, tokens, line.number, limb="arms" if limb == "arms" and begun else "")
        elif _seems_danced(sentence):
            out.left.append((line.number, start, start + len(sentence)))


def _seems_danced(sentence: str) -> bool:
    """ "Heel, toe, flumble, toe": more step words than others, and no remark."""
    if REMARK.match(sentence) or talks(tokens_of(sentence, line=0)):
        return False
    if may_be_danced(tokens_of(sentence, line=0)):
        return True
    words = [t for t in tokens_of(sentence, line=0) if t.kind not in (*NUMBERS, "prep", "dir")]
    steps = sum(t.kind in STEPS for t in words)
    return steps > 1 and 2 * steps > len(words)


def natural_length(item: Item) -> int:
    """Return how many counts a run fills."""
    if item.label is not None:
        return item.label.last.__floor__() - item.label.first.__floor__() + 1
    one = ready(Item(None, list(item.tokens), item.line), Fraction(0))
    if one.repeat is not None or not one.atoms:
        return 0
    return int(natural(one.atoms)[1])
