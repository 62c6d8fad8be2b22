"""A lesson as words that a leader can read, change and have filmed again.

One block a piece, headed by its title; in it what is written, what is spoken, how fast the counts are, and what is
said on which count:

    == Section 1, seated
    counts a minute: 60
    say: Now seated, with the words.
    2 before: seven
    1 before: eight
    1: heel
    2: home

``text_read`` reads it back: blocks may be taken out, moved and repeated, lines changed, added and taken away.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from softshoe.teach.pieces import Piece

HEAD, LESSON, TOLD = "==", "lesson", "told"
WRITE, SAY, SPEED, REST = "write", "say", "counts a minute", "rest"
HELP = (
    "# Change what you like: take blocks out, move or repeat them, change, add or take away lines.",
    "# say: a sentence spoken first.  write: a line on the card.  rest: seconds the card stays.",
    "# A number and a colon: what is said on that count; 2 before: two counts before the first.",
    "# A block with a title of your own and say or write lines is a card of your own.",
)


def lesson_text(title: str, pieces: Sequence[Piece], told: Sequence[str] = ()) -> str:
    """Return the lesson as text."""
    lines = [f"{LESSON}: {title}".rstrip(), *(f"{TOLD}: {words}" for words in told), "", *HELP]
    for piece in pieces:
        lines += ["", f"{HEAD} {piece.title}".rstrip(), *_block(piece)]
    return "\n".join(lines) + "\n"


def speed_of(piece: Piece) -> str:
    """Return the counts a minute of a piece, as they are written."""
    return f"{60 / piece.step_s:.5g}"


def _block(piece: Piece) -> Iterator[str]:
    yield from (f"{WRITE}: {words}" for words in piece.lines)
    if piece.rest_s:
        yield f"{REST}: {piece.rest_s:g}"
    if piece.beats and not piece.song:
        yield f"{SPEED}: {speed_of(piece)}"
    yield from (f"{SAY}: {words}" for words in piece.remarks)
    yield from (f"{piece.names[one.beat]}: {one.words}" for one in piece.said)
