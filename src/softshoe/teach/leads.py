"""What is said before each piece of a lesson, which depends on the pieces before it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.teach.cards import closing_card
from softshoe.teach.words import number_word

if TYPE_CHECKING:
    from collections.abc import Iterable

    from softshoe.teach.lesson import View
    from softshoe.teach.pieces import Piece

AGAIN = ("Once more.",)
VIEWS: dict[View, str] = {
    "behind": "You see the dancer from behind.",
    "mirror": "The dancer faces you, as in a mirror.",
}
WATCH = ("First watch the whole dance, once.", "Then we learn it, piece by piece.")
PRACTISED = ("Now the whole dance, without the music.", "The next move is called before it comes.")
LATER = {"practice70": AGAIN, "practice85": ("Once more, a little faster.",),
         "practice100": ("And now at the speed of the song.",)}  # fmt: skip
SONG = ("Now with the music.",)
FIXED = ("welcome", "chair", "stop", "recall", "join", "known", "tag", "restart", "ending", "rest")


def with_leads(pieces: Iterable[Piece], *, seated: bool) -> tuple[Piece, ...]:
    """Return the pieces with what is said before each; ``seated``: the dance was written for the chair."""
    done: list[Piece] = []
    for piece in pieces:
        done.append(_led(piece, done, seated=seated))
    return tuple(done)


def _led(piece: Piece, done: list[Piece], *, seated: bool) -> Piece:
    kinds = [one.kind for one in done]
    if done and piece.beats and (done[-1].kind, done[-1].title) == (piece.kind, piece.title):
        return replace(piece, remarks=AGAIN)
    if piece.kind in FIXED:
        return piece
    if piece.kind == "close":
        card = closing_card(danced="song" in kinds)
        return replace(piece, title=card.title, lines=card.lines, remarks=card.spoken)
    if piece.kind == "watch":
        return replace(piece, remarks=WATCH)
    if piece.kind == "song":
        return replace(piece, remarks=SONG)
    if piece.kind in LATER:
        first = not any(kind in LATER for kind in kinds)
        return replace(piece, remarks=PRACTISED if first else LATER[piece.kind])
    return replace(piece, remarks=_section_lead(piece, done, seated=seated))


def _section_lead(piece: Piece, done: list[Piece], *, seated: bool) -> tuple[str, ...]:
    """What is said before a section: its number once, then what is new."""
    name = f"Section {number_word(piece.section)}"
    here = [one.kind for one in done if one.section == piece.section]
    if piece.kind == "show":
        return _show_lead(piece, name, done, seated=seated)
    first = not any(one.kind == piece.kind for one in done)
    feet = "words" in here or "counts" in here
    if piece.kind == "counts":
        return (("Now seated, slowly, with the counts." if first else "Seated, slowly.") if here else
                f"{name}, seated, with the counts.",)  # fmt: skip
    if piece.kind == "words":
        if "counts" in here:
            return ("Now with the words.",)
        return (("Now seated, with the words." if first else "Seated.") if here else f"{name}, seated.",)
    if piece.kind == "arms":
        return ("Now the arms alone. The feet rest." if first else "The arms alone.",)
    if "counts" in piece.title:
        return ("With the counts.",)
    if "arms" in here:
        return ("Feet and arms together.",)
    return (("And now with the arms." if first else "With the arms.") if feet else f"{name}: arms alone.",)


def _show_lead(piece: Piece, name: str, done: list[Piece], *, seated: bool) -> tuple[str, ...]:
    shown = [one for one in done if one.kind == "show"]
    lead = [f"{name}, standing." if shown else f"{name}. Standing first, feet only."]
    if seated and not shown:
        lead.append("Stay on your chair, and watch the feet.")
    if not shown or shown[-1].view != piece.view:
        lead.append(VIEWS[piece.view])
    return tuple(lead)
