"""The walkthrough: every piece that may teach a dance, in the order in which it is taught.

Order: chair, floor and stop words; the whole to watch; each section standing with counts, then seated with counts
aloud, with the words, the arms alone, and both (common practice for chair dances too: feet are seen best on a standing
dancer); after every second section what is known together; tag, restarts and ending; the whole dance, slowly and then
faster; with the song; the way out. ``length`` says which of them a lesson has, ``leads`` what is said before each.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from softshoe.fit.timeline import timeline
from softshoe.teach import cards
from softshoe.teach.heard import cut_heard, tag_heard
from softshoe.teach.laid import USUAL_ROOM
from softshoe.teach.leads import with_leads
from softshoe.teach.length import chosen
from softshoe.teach.patterns import pattern_words
from softshoe.teach.pieces import Piece, lesson_of
from softshoe.teach.sections import section_pieces
from softshoe.teach.stretches import Stretch
from softshoe.teach.taught import SLOW, Taught, taught
from softshoe.teach.wholes import once, with_song

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from softshoe.adapt.version import Version
    from softshoe.dance.action import Action
    from softshoe.dance.dance import Dance
    from softshoe.fit.run import Run
    from softshoe.music.songmap import SongMap
    from softshoe.teach.cards import Card
    from softshoe.teach.lesson import Lesson
    from softshoe.teach.room import Room

PRACTICE = {70: "The whole dance, slowly", 85: "The whole dance", 100: "The whole dance, at its own speed"}
REST_S = 40.0


def walkthrough(
    dance: Dance,
    versions: Mapping[str, Version],
    run: Run,
    song: SongMap,
    *,
    minutes: float | None = None,
    room: Room = USUAL_ROOM,
) -> Lesson:
    """Return the walkthrough of a dance; ``minutes`` long, or about five for 32 counts where that is None.

    ``versions`` by kind: the seated one (or, lacking it, the first) is taught; a standing one is shown before it.
    Keys of motions are those of ``parts.parts``.
    """
    pieces, told = chosen(every_piece(dance, versions, run, song, room=room), minutes, seated=dance.seated)
    return lesson_of(dance.title, pieces, told=told)


def every_piece(
    dance: Dance, versions: Mapping[str, Version], run: Run, song: SongMap, *, room: Room = USUAL_ROOM
) -> tuple[Piece, ...]:
    """Return each piece that a lesson of this dance may have, once, in the order of teaching."""
    plan = taught(dance, versions, run, song)
    pieces = (*_welcome(plan), *section_pieces(plan), *_extras(plan, song), *_wholes(plan, song, room))
    return with_leads(pieces, seated=dance.seated)


def _card(plan: Taught, kind: str, card: Card, *, rest_s: float = 0.0) -> Piece:
    figure = plan.parts[f"{plan.seat}:dance"].stance
    return Piece(kind, card.title, figure, remarks=card.spoken, lines=card.lines, rest_s=rest_s)


def _welcome(plan: Taught) -> Iterator[Piece]:
    yield _card(plan, "welcome", cards.title_card(plan.dance, plan.run, counts_per_min=plan.counts_per_min))
    yield _card(plan, "chair", cards.chair_card())
    yield _card(plan, "stop", cards.stop_card())
    yield once(plan.dance, plan.versions[plan.seat], plan.run, kind="watch", title="The whole dance, to watch",
               speech="count-in", step_s=plan.step_s(1.0))  # fmt: skip


def _extras(plan: Taught, song: SongMap) -> Iterator[Piece]:
    """Each tag once, then restarts and the closing shape; told by wall, and by ear where a part of the song begins."""
    done: list[tuple[Action, ...]] = []
    moments = timeline(plan.dance, plan.run, song)
    for index, tag in enumerate(plan.run.tags):
        key = f"{plan.seat}:tag{index}"
        actions = plan.parts[key].actions
        if actions not in done:
            done.append(actions)
            cut = next((r for r in plan.run.restarts if r.wall == tag.after_wall), None)
            lead = cards.tag_remark(tag, pattern_words(actions), cut, heard=tag_heard(moments, song, index))
            yield replace(_extra(plan, "tag", _tag_title(len(done)), key), remarks=lead)
    if plan.run.restarts:
        heard = {cut.wall: cut_heard(moments, song, cut) for cut in plan.run.restarts}
        yield _card(plan, "restart", cards.restart_card(plan.run, heard, standing="standing" in plan.versions))
    if plan.run.ending:
        lead = ("On the last beat open the arms, and hold.",)
        yield replace(_extra(plan, "ending", "Ending", f"{plan.seat}:close"), remarks=lead)


def _tag_title(number: int) -> str:
    return "Tag" if number == 1 else f"Tag {number}"


def _extra(plan: Taught, kind: str, title: str, key: str) -> Piece:
    part = plan.parts[key]
    per = plan.dance.counts_per_section
    return Stretch(key, part, 1, part.counts, plan.step_s(SLOW), "arms", per).piece(kind, title)


def _wholes(plan: Taught, song: SongMap, room: Room) -> Iterator[Piece]:
    version = plan.versions[plan.seat]
    for share, title in PRACTICE.items():
        step_s = plan.step_s(share / 100)
        yield once(plan.dance, version, plan.run, kind=f"practice{share}", title=title, step_s=step_s)
    yield _card(plan, "rest", cards.rest_card(), rest_s=REST_S)
    moments = timeline(plan.dance, plan.run, song)
    yield with_song(plan.dance, version, plan.run, moments, title="With the song", end_s=song.end_s, room=room)
    yield _card(plan, "close", cards.closing_card())
