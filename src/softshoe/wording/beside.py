"""Lines that tell what is danced beside the walls' own counts: tags and endings with their steps, restarts amid a line,
where a tag belongs, words that close a wall.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from softshoe.wording.added_steps import goes_on_behind, inline_steps, moves, steps_of, steps_told
from softshoe.wording.ahead import STEP_WORDS
from softshoe.wording.begins import first_count, title_end
from softshoe.wording.blocks import Block
from softshoe.wording.counting import fills
from softshoe.wording.extras import AT_END, LAST_WALL, walls_in
from softshoe.wording.finishing import finishing, stated_counts
from softshoe.wording.headings import Kind, kind_of
from softshoe.wording.items import items_of
from softshoe.wording.leaving import MORE, adds, ends_song, leaving_amid, longer
from softshoe.wording.lengths import is_uncounted
from softshoe.wording.lex import tokens_of
from softshoe.wording.limbs import limb_of
from softshoe.wording.looking import COMING, WHO
from softshoe.wording.remark import sentences_in, talk
from softshoe.wording.shape import shape
from softshoe.wording.stanzas import Stanzas
from softshoe.wording.strange import is_filler, meant_by
from softshoe.wording.titled import DOING
from softshoe.wording.wall_end import closes_dance, closes_wall

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.wording.lex import Token
    from softshoe.wording.lines import Line
    from softshoe.wording.parts import Item

RESTART_IN = shape(
    r"(?:[(\[*>]+[^()\[\]*>.;]*|\s[–—-]\s+[^()\[\]*>.;,]{0,30}?|(?<=[.;])\s*[^()\[\]*>.;]*|)"
    r"\brestart\b[^()\[\]*>;]*[)\]*.]*",
    re.IGNORECASE,
)
# Below a tag: the dance goes on where it was left.
CARRIES_ON = shape(
    r"^\W*(?:(?:and|then|now|so)\W+)*(?:(?:go|carry|keep)\s+(?:straight\s+)?on|continue|resume|proceed|pick up|"
    r"(?:start|begin)\s+(?:with\s+)?(?:the\s+)?(?:next\s+)?wall|"
    r"(?:with\s+)?walls?\s+\d[\d ,or&]*\s+from\s+the\s+(?:top|start|beginning)|"
    r"(?:dance|do|finish)\s+(?:on\b|the\s+(?:rest|remaining|second|third|last|other|next)))\b[^.]*\W*$",
    re.IGNORECASE,
)
SAYS = ("clock", "wallname", "weight", "takeweight", "bear")
BARE = shape(r"\W*(?:the\s+)?\w+\W*")
TURNED = ("amount", "turnword", "round", "dir")
IDLE = ("mark", "fill", "prep", "look", "on", "join", "note", "side", "foot")
TOLD_TAG = shape(
    r"^(?!\W*\d+\W)(?=.*\b(?:tag|bridge)\b)(?=.*\bwalls?\b)(?=.*\b(?:after|end|during|on|add|then)\b)", re.IGNORECASE
)
REPEATING = shape(
    r"^\W*(?:(?<==)\s*(?=s\d|section|part)|repeat|rpt|rep\b|same|mirror|reverse|again|as section|opposite)",
    re.IGNORECASE,
)


class Beside(Stanzas):
    """Takes the lines of tags, endings, restarts and the ends of walls."""

    def _kind(self, first: int, line: Line, text: str) -> Kind:
        """Return what a line is besides steps; what a wall adds may be told by its words and the counts below it."""
        kind: Kind = "row head" if line.head else kind_of(text) if first not in self.song else ""
        if kind == "ending" and finishing(text) and not self._whole_danced():
            return ""  # "To finish, kick right on 1 …": the last eight of the dance
        if (not kind or kind == "restart") and self._counts_below(self.at):
            told = longer(text) if not kind or MORE.search(text) or AT_END.search(text) else ""
            return told if told else ("tag" if not kind and TOLD_TAG.search(text) else kind)
        if kind == "end" and self.block and is_uncounted(self.block.items) and self._danced_below(self.at):
            return "" if REPEATING.match(text) else kind  # "Repeat" amid sections without counts
        if kind == "restart" and AT_END.search(text) and self._told_whole(self.at, text):
            return "tag"  # "At the end of wall 2 sway right, sway left, then start again"
        if not kind and ends_song(text) and self._whole_danced() and steps_told(text):
            return "ending"
        last = LAST_WALL.search(text) is not None
        told = longer(text) if not kind else ""
        at_end = AT_END.search(text) is not None and moves(text[inline_steps(text) or len(text) :])
        sure = last or at_end or adds(text)
        over = adds(text) and text.rstrip().endswith(":")  # "After wall 3, an extra 8:" over its steps
        if told and (over or (sure and self._told_whole(self.at, text))):
            return "ending" if last else "tag"
        return kind

    def _whole_danced(self) -> bool:
        """Return whether the sections above are as long as the header says; True where it says nothing."""
        stated = stated_counts(text for _, text in self.out.header)
        there = sum(block.kind == "section" and bool(block.items) for block in self.out.blocks)
        return stated is None or there * self.unit >= stated

    def _counts_below(self, i: int) -> bool:
        """Return whether the line below begins to count from 1."""
        below = self._first_label(self.lines[i + 1]) if i + 1 < len(self.lines) else None
        return below is not None and below.first <= 1

    def _told_whole(self, i: int, text: str) -> bool:
        """Return whether a line without a count of its own holds the steps of what a wall adds."""
        own = self._first_label(self.lines[i])
        told = own is not None and not own.floats and own.first <= 1 and first_count(text) is not None
        return not told and inline_steps(text) is not None

    def _untold(self, words: str) -> bool:
        """Return whether words behind a tag's name have no count of their own: over counts they only sum it up."""
        return all(item.label is None for item in items_of(words, line=0, offset=0))

    def _closes(self, i: int, text: str) -> bool:
        """Behind a full section, words that the dance begins again are no copy of it."""
        if self.block is None:
            return False
        last = self.block.last
        if last is None and self.block.items and self.block.heading is not None and not self._danced_below(i):
            return closes_wall(text)  # lines without counts
        if last is not None and self.block.kind != "section" and CARRIES_ON.match(text):
            return True
        full = (
            fills(last, self.unit) or self.block.kind != "section"
            if last is not None
            else self.block.rest is not None and not self.block.items
        )
        apart = self.last_counted < i and self.lines[i - 1].number < self.lines[i].number - 1
        return full and (closes_wall(text) or _closes_amid_talk(sentences_in(text)) or (apart and closes_dance(text)))

    def _named_items(self, text: str, line: int, offset: int) -> list[Item]:
        """ "Rock: 3 rock L forward, 4 recover": counts that begin, or go on, behind a name of what they hold."""
        at = title_end(text) if not limb_of(text)[0] else None
        last = self.block.last if self.block is not None else None
        first = first_count(text[at:]) if at is not None else None
        if at is None or first is None or first not in (1, (last or 0) + 1):
            return []
        items = items_of(text[at:], line=line, offset=offset + at)
        if not items or items[0].label is None or not any(t.kind in DOING for t in items[0].tokens):
            return []
        if not items[-1].tokens:
            return []  # "Right shuffle forward: 1&2. Rock left, recover: 3, 4.": the counts stand behind their words
        items[0].heads = [*tokens_of(text[:at], line=line, offset=offset), *items[0].heads]
        return items

    def _open_extra(self, kind: str, line: Line, text: str) -> None:
        above = self.block
        if above is not None and above.kind != "section" and BARE.fullmatch(above.text) and not above.items:
            kind = above.kind  # "ENDING" over "On wall 7, after count 16:"
        titled = above is not None and above.line + 1 == line.number and self._counts_below(self.at)
        if titled and above is not None and above.kind == kind and all(item.label is None for item in above.items):
            above.items = []  # "Tag - sways" over "End of wall 2" over counts
        if above is not None and above.kind == kind and not above.items and inline_steps(above.text) is None:
            above.text += f". {text}"  # "TAG" over "At the end of wall 3, add:"
            self._paint(line, "heading")
        else:
            self.block = Block(kind, line.number, text, span=self._paint(line, "heading"))
            self.out.blocks.append(self.block)
        assert self.block is not None
        at = inline_steps(text)
        if at is not None and not (self._counts_below(self.at) and self._untold(text[at:])):
            told = self.block
            words, rest = steps_of(text, at)
            self.block.text = self.block.text[: len(self.block.text) - len(text)] + words
            shift = len(line.text) - len(text)
            told.items += items_of(rest, line=line.number, offset=line.start + shift + at)
            below = self.lines[self.at + 1].text if self.at + 1 < len(self.lines) else ""
            alone = all(item.label is None for item in told.items) and not walls_in(below)
            if above is not None and above.kind == "section" and alone:
                self.block = above  # "On wall 3 a bridge of 4 counts: …": the section goes on below it

    def _going_on(self, text: str, offset: int) -> str:
        """Return a line below a tag's heading without the words of how the dance goes on; blanks keep their place."""
        if self.block is None or self.block.kind == "section":
            return text
        said, steps = goes_on_behind(text)
        if not said or not re.search(r"[^\W\d]", steps):
            return text
        self.block.text += said
        self.out.paints.append((offset + len(steps.rstrip()), offset + len(text), "place"))
        return steps

    def _extras_of_header(self) -> None:
        """A tag or an ending that the header tells with its steps, and nothing below: it is danced as told there."""
        there = {block.kind for block in self.out.blocks}
        for line, text in self.early:
            kind = kind_of(text)
            if kind not in there and there:
                self._open_extra(kind, line, text)

    def _pointed(self) -> None:
        """ "End of wall 1: do the tag" among the steps: where the tag that is told elsewhere has its place."""
        for number, text in self.pointers:
            tag = next((b for b in self.out.blocks if b.kind == "tag" and not walls_in(b.text)), None)
            if tag is None:
                self.out.header.append((number, text))
            else:
                tag.text += f". {text}"

    def _restart_inside(self, line: Line, text: str, offset: int) -> tuple[str, int]:
        """ "… touch left (restart here on wall 3)": the remark is taken out, blanks keep its place."""
        found = RESTART_IN.search(text) if "restart" in text.casefold() else None
        span = leaving_amid(text) or (found.span() if found is not None else None)
        if span is None:
            return text, offset
        start, end = span
        self.out.restarts.append((line.number, text[start:end], len(self.out.blocks) - 1, -1))
        self.out.paints.append((offset + start, offset + end, "place"))
        return text[:start] + " " * (end - start) + text[end:], offset


def _closes_amid_talk(said: list[str]) -> bool:
    """ "That's all sixteen. Start again." """
    closes = [closes_wall(one) for one in said]
    return any(closes) and all(c or talk(one) for c, one in zip(closes, said, strict=True))


def idles(items: list[Item]) -> bool:
    """Return whether nothing on a line below a tag's steps can be danced: "Take a bow!"."""
    tokens = [t for item in items for t in item.tokens]
    steps = any((t.kind in STEP_WORDS or t.kind == "num") and t.value != "hold" for t in tokens)
    return not steps and not any(t.kind == "word" and meant_by(t.text) and not is_filler(t.text) for t in tokens)


def only_says(tokens: Sequence[Token]) -> Sequence[Token]:
    """Return the words of a line that only tells where one faces or what bears by now; () for any other."""
    said = any(t.kind in SAYS for t in tokens)
    if said and tokens[0].low in WHO:  # "You have turned half way round to 6:00"
        tokens = [t._replace(kind="fill", value="", dir="") if t.kind in TURNED else t for t in tokens]
    idle = said and all(t.kind in (*SAYS, *IDLE) or t.low in WHO or t.low.startswith(COMING) for t in tokens)
    return tokens if idle else ()
