"""A lesson's text read back: every block becomes a piece again, with the words that stand there now.

What can't be read is told with its line: a count the piece has not, words too long for their count, an unknown title.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from softshoe.errors import WordingError, nearest
from softshoe.teach.pieces import Piece, Said, at_speed, lesson_of
from softshoe.teach.text import HEAD, LESSON, REST, SAY, SPEED, TOLD, WRITE, speed_of
from softshoe.teach.voice import GAP_S, LINE_CHARS, ONSET_S, spoken_s
from softshoe.teach.words import COUNT_WORDS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.teach.lesson import Lesson

FASTEST = 1.4  # of a calm pace: as fast as stays clear
LONGEST_S = 4.0  # for words that nothing follows
COUNTS_A_MINUTE = (20.0, 200.0)
REST_MOST_S = 600.0


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a block: its number in the text, what stands before the colon and behind it."""

    number: int
    name: str
    words: str


@dataclass(frozen=True, slots=True)
class Block:
    """A title with the lines below it."""

    number: int
    title: str
    lines: tuple[Line, ...]

    def named(self, name: str) -> list[Line]:
        """The lines of this name."""
        return [line for line in self.lines if line.name == name]

    @property
    def counts(self) -> list[Line]:
        """The lines that say something on a count."""
        return [line for line in self.lines if line.name not in (WRITE, SAY, SPEED, REST)]


@dataclass(frozen=True, slots=True)
class Wrong:
    """Something that can't be read: line, what, why, how to mend it."""

    line: int
    what: str
    why: str
    mend: str


def lesson_from_text(text: str, pieces: Sequence[Piece], *, where: str = "the lesson's text") -> Lesson:
    """Return the lesson that a text describes; ``pieces``: every piece the dance has, once.

    Raises WordingError with the line of the first thing that can't be read, and the lines of the others.
    """
    wrong: list[Wrong] = []
    title, told, blocks = _blocks(text, wrong)
    read = [piece for block in blocks if (piece := _piece(block, pieces, wrong)) is not None]
    songs = [block.number for block in blocks if any(p.song and p.title == block.title for p in pieces)]
    wrong += [Wrong(number, "the song plays twice", "a lesson has it once", "take this block out")
              for number in songs[1:]]  # fmt: skip
    if not wrong and not read:
        wrong.append(Wrong(1, "there is nothing in this lesson", f"no block begins with “{HEAD}”",
                           "make the lesson anew and change that"))  # fmt: skip
    if wrong:
        raise _error(sorted(wrong, key=lambda one: one.line), where)
    return lesson_of(title, read, told=told)


def _error(wrong: Sequence[Wrong], where: str) -> WordingError:
    first, rest = wrong[0], ", ".join(dict.fromkeys(str(one.line) for one in wrong[1:]))
    more = f" (line {rest} can't be read either)" if rest else ""
    return WordingError(f"{where}, line {first.line}", first.what, first.why, f"{first.mend}{more}")


def _blocks(text: str, wrong: list[Wrong]) -> tuple[str, tuple[str, ...], list[Block]]:
    """The lesson's title, what is told of its length, and its blocks."""
    title, told = "", []
    blocks: list[Block] = []
    for number, raw in enumerate(text.lstrip("\ufeff").splitlines(), start=1):
        line = raw.strip()
        if not line or line.startswith("#"):
            continue
        if line.startswith(HEAD):
            blocks.append(Block(number, line.removeprefix(HEAD).strip(), ()))
            continue
        name, colon, words = (part.strip() for part in line.partition(":"))
        name = " ".join(name.casefold().split())
        if not colon:
            wrong.append(Wrong(number, f"“{line}” can't be read", "a line has a name, a colon and words",
                               f"put “{SAY}:” before a sentence, a count before what is said on it"))  # fmt: skip
        elif blocks:
            lines = (*blocks[-1].lines, Line(number, name, words))
            blocks[-1] = replace(blocks[-1], lines=lines)
        elif name == LESSON:
            title = words
        elif name == TOLD:
            told.append(words)
        else:
            wrong.append(Wrong(number, f"“{line}” stands before the first block", "it belongs to no piece",
                               f"put it below a line that begins with “{HEAD}”"))  # fmt: skip
    return title, tuple(told), blocks


def _piece(block: Block, pieces: Sequence[Piece], wrong: list[Wrong]) -> Piece | None:
    counted = bool(block.counts or block.named(SPEED))
    same = [piece for piece in pieces if piece.title.casefold() == block.title.casefold()]
    base = next((piece for piece in same if bool(piece.beats) is counted), next(iter(same), None))
    if base is None and counted:
        known = {piece.title.casefold(): piece.title for piece in pieces if piece.beats}
        near = nearest(block.title, known)
        mend = f"did you mean “{known[near]}”?" if near else "use the title of another block"
        wrong.append(Wrong(block.number, f"nothing that is danced is called “{block.title}”",
                           "only what the lesson knows can be danced", mend))  # fmt: skip
        return None
    remarks = tuple(line.words for line in block.named(SAY) if line.words)
    wrong += [Wrong(line.number, f"“{line.words}” is too long for a caption", f"it has two lines of {LINE_CHARS}",
                    "say it in two sentences, each on a line of its own")
              for line in block.named(SAY) if len(line.words) > 2 * LINE_CHARS]  # fmt: skip
    lines = tuple(line.words for line in block.named(WRITE) if line.words)
    base = base or Piece("own", block.title, pieces[0].figure)
    piece = replace(base, remarks=remarks, lines=lines, rest_s=_rest_s(block, wrong))
    return _danced(block, piece, wrong) if piece.beats else piece


def _rest_s(block: Block, wrong: list[Wrong]) -> float:
    return next((_number(line, (0.0, REST_MOST_S), wrong) or 0.0 for line in block.named(REST)), 0.0)


def _number(line: Line, limits: tuple[float, float], wrong: list[Wrong]) -> float | None:
    try:
        value = float(line.words.replace(",", "."))
    except ValueError:
        value = -1.0
    if limits[0] <= value <= limits[1]:
        return value
    wrong.append(Wrong(line.number, f"“{line.words}” can't be used for “{line.name}”",
                       f"it is a number from {limits[0]:g} to {limits[1]:g}", "write such a number"))  # fmt: skip
    return None


def _danced(block: Block, piece: Piece, wrong: list[Wrong]) -> Piece:
    """The piece at the speed, and with the words on its counts, that stand in the block."""
    for line in block.named(SPEED):
        if piece.song:
            wrong.append(Wrong(line.number, "the song keeps its own speed", "its counts are the song's beats",
                               "take this line out, or practise with a slower block before it"))  # fmt: skip
        elif line.words != speed_of(piece):
            per_min = _number(line, COUNTS_A_MINUTE, wrong)
            piece = at_speed(piece, 60 / per_min) if per_min else piece
    places = {name.casefold(): at for at, name in enumerate(piece.names)}
    on: dict[int, Line] = {}
    for line in block.counts:
        at = places.get(line.name)
        if at is None:
            near = nearest(line.name, places) if len(line.name) > 2 else None
            mend = f"did you mean “{near}”?" if near else f"its counts are named {piece.names[0]} … {piece.names[-1]}"
            wrong.append(Wrong(line.number, f"“{block.title}” has no count “{line.name}”",
                               "words are said on a count of the piece", mend))  # fmt: skip
        elif at in on:
            wrong.append(Wrong(line.number, f"two things are said on count {line.name}", "one voice speaks at a time",
                               f"put both on line {on[at].number}, or take one out"))  # fmt: skip
        elif line.words:
            on[at] = line
    return replace(piece, said=tuple(_said(piece, at, on, wrong) for at in sorted(on)))


def _said(piece: Piece, at: int, on: dict[int, Line], wrong: list[Wrong]) -> Said:
    """What is said on a beat, with its room: as before where nothing was changed, else up to the next words."""
    line = on[at]
    before = next((one for one in piece.said if (one.beat, one.words) == (at, line.words)), None)
    later = [beat for beat in on if beat > at]
    ends_s = piece.beats[min(later)].at_s if later else piece.length_s
    free_s = ends_s - piece.beats[at].at_s - ONSET_S - GAP_S
    if before is not None and (before.room_s <= free_s + 1e-9 or not later):
        return before
    room_s = min(free_s, before.room_s if before else LONGEST_S)
    if spoken_s(line.words) > room_s * FASTEST:
        wrong.append(Wrong(line.number, f"“{line.words}” is too long for count {line.name}",
                           f"there are {max(room_s, 0):.1f} seconds before the next words",
                           "take fewer words, leave the next count silent, or take fewer counts a minute"))  # fmt: skip
    return Said(at, line.words, "count" if line.words in COUNT_WORDS else "cue", max(room_s, 0.05))
