"""Test dances laid on made songs, each once: what the tests of lessons ask their questions of."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any, Literal

from fit.made_maps import all_dances, made_map
from softshoe.adapt.adapt import adapt
from softshoe.fit.lay import fit
from softshoe.fit.pins import Pins, WallPin
from softshoe.fit.timeline import timeline
from softshoe.teach.at_tempo import at_tempo

if TYPE_CHECKING:
    from softshoe.adapt.version import Kind, Version
    from softshoe.dance.dance import Dance
    from softshoe.fit.run import Run
    from softshoe.music.songmap import SongMap
    from softshoe.teach.lesson import Lesson

SongName = Literal["plain", "tag", "restart", "restart with a tag"]
SONGS: tuple[SongName, ...] = ("plain", "tag", "restart", "restart with a tag")
DANCES = {dance.title: dance for dance in all_dances()}


@cache
def laid(title: str, song: SongName) -> tuple[Run, SongMap]:
    """The best run of a dance on a song made for it: nothing to mend, a tag, a cut, or a cut with a tag."""
    dance = DANCES[title]
    whole, section = dance.counts, dance.counts_per_section
    cut, tag = whole // 2, section // 2
    third = {"plain": whole, "tag": whole + tag, "restart": cut, "restart with a tag": cut + tag}[song]
    phrases = [whole, whole, third, *[whole] * 4]
    metre: Any = 3 if dance.metre == "3/4" else 4
    made = made_map(phrases, metre=metre, intro=2 * section)
    pins = {"restart": WallPin(cut, ()), "restart with a tag": WallPin(cut, ((cut, tag),))}
    run = fit(dance, made, pins=Pins(walls={3: pins[song]} if song in pins else {}), most=1).runs[0]
    return run, made


@cache
def best(dance: Dance, song: SongMap) -> Run:
    """The best run of a dance on a song."""
    return fit(dance, song).runs[0]


@cache
def adapted(dance: Dance, kind: Kind) -> Version:
    """A version of a dance."""
    return adapt(dance, kind)


def versions(dance: Dance) -> dict[str, Version]:
    """The versions a walkthrough shows."""
    return {"standing": adapted(dance, "standing"), "seated": adapted(dance, "seated")}


def danced(dance: Dance, song: SongName, kind: Kind, **wishes: Any) -> Lesson:
    """The dance at tempo on the song."""
    run, made = laid(dance.title, song)
    return at_tempo(dance, adapted(dance, kind), run, made, timeline(dance, run, made), **wishes)
