"""From the recording to the run: how many planted tags and restarts are found when the song has to be heard first.

    python benchmarks/fitting_heard.py [SONGS [WORKERS]]

Songs are played by the small synthesiser of the tests, with counts added to or taken from known phrases. The dance is
laid twice: on what is true of the song, and on what is heard. Where the second differs, the listener has failed; where
the first differs from what was planted without being as good, fitting has.
"""

from __future__ import annotations

import sys
from collections import Counter
from dataclasses import replace
from multiprocessing import get_context
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from fit.planted import stepping
from music.songs_made import CHORUS, VERSE, Part, Recipe, made
from softshoe.fit.lay import fit
from softshoe.music.listen import listen
from softshoe.music.songmap import Confidence, SongMap

if TYPE_CHECKING:
    from music.songs_made import Song
    from softshoe.fit.run import Run

KINDS = ("plain", "one tag", "regular tag", "restarts", "tag and restart")
STYLES = ("pop", "disco", "country", "swing", "sixteens")
WALLS, COUNTS, INTRO = 8, 32, 16


def phrases(kind: str, random: Random) -> list[int]:
    """Return how many counts more (or fewer) than the dance each phrase has."""
    found = [0] * WALLS
    first, tag = random.randint(1, 3), random.choice([4, 4, 8])
    if kind == "one tag":
        found[random.randint(1, WALLS - 3)] = tag
    elif kind == "regular tag":
        found[1:-1:2] = [tag] * len(found[1:-1:2])
    elif kind == "restarts":
        found[2] = found[5] = -16
    elif kind == "tag and restart":
        found[first], found[first + 2] = tag, -16
    return found


def song_of(more: list[int], random: Random) -> Song:
    parts = [Part(INTRO, VERSE, loud=0.75)]
    for number, extra in enumerate(more):
        chords, loud = (CHORUS, 1.0) if number % 2 else (VERSE, 0.85)
        whole = Part(COUNTS + min(0, extra), chords, lead=True, loud=loud, fill=extra <= 0)
        parts.append(whole)
        if extra > 0:
            parts.append(replace(whole, beats=extra, chords=(chords[-1],), phrase=False, fill=True))
    return made(Recipe(tuple(parts), bpm=random.uniform(92, 124), style=random.choice(STYLES),
                       jitter_s=random.choice([0.0, 0.006]), drift=random.choice([0.0, 0.01]),
                       key=random.randrange(12), seed=random.randrange(10**6)))  # fmt: skip


def true_map(song: Song) -> SongMap:
    """Return what is true of a made song, every bit of it sure."""
    phrases_s = tuple(float(s) for s in song.phrases if s > song.first_count - 0.1)
    sure = Confidence(1, 1, 1, 1, 1, 1, (1.0,) * len(phrases_s))
    rows = (tuple(map(float, row)) for row in (song.beats, song.downbeats, song.eights))
    return SongMap(*rows, phrases_s, song.first_count, song.end, song.recipe.bpm, 4, sure)


def repairs(run: Run) -> tuple[object, ...]:
    tags = tuple((t.after_wall or t.in_wall, t.at_count, t.counts) for t in run.tags)
    return run.beats_per_count, tags, tuple((r.wall, r.after_count) for r in run.restarts)


def slip(heard: SongMap, song: Song) -> str:
    """What the listener did not hear as it is; the coarsest slip alone."""
    if abs(heard.tempo_bpm / song.recipe.bpm - 1) > 0.04:
        return "tempo"
    beat_s = 60 / song.recipe.bpm
    if abs(heard.first_count_s - song.first_count) > beat_s / 2:
        beats = (heard.first_count_s - song.first_count) / beat_s
        return f"first count {beats:+.0f} beats"
    missed = sum(min(abs(h - s) for h in heard.phrases_s) > beat_s / 2 for s in song.phrases[1:])
    added = sum(min(abs(h - s) for s in song.phrases) > beat_s / 2 for h in heard.phrases_s)
    return f"phrases: {missed} missed, {added} added"


def tried(number: int) -> tuple[str, bool, bool, bool, str]:
    """Return the kind of a song; whether what was planted is found, begun right, found when heard; why not."""
    kind = KINDS[number % len(KINDS)]
    random = Random(f"heard {number}")
    more = phrases(kind, random)
    song = song_of(more, random)
    dance = stepping(COUNTS, turn_deg=random.choice([0, 90, 180]))
    wanted = fit(dance, true_map(song), most=1).runs[0]
    heard = listen(song.sound)
    run = fit(dance, heard, most=1).runs[0]
    tags = {(wall, COUNTS, extra) for wall, extra in enumerate(more, 1) if extra > 0}
    cuts = {(wall, COUNTS + extra) for wall, extra in enumerate(more, 1) if extra < 0}
    planted = set(repairs(wanted)[1]) == tags and set(repairs(wanted)[2]) == cuts  # type: ignore[call-overload]
    starts = abs(run.start.time_s - wanted.start.time_s) < 0.2
    right = starts and repairs(run) == repairs(wanted)
    why = (f"  {number:3} {kind:16} {song.recipe.style:9} {song.recipe.bpm:5.1f}  {slip(heard, song):32} "
           f"wanted {repairs(wanted)[1:]}, got {repairs(run)[1:]}")  # fmt: skip
    return kind, planted, starts, right, "" if right else why


def main(many: int, workers: int) -> None:
    count = {name: Counter[str]() for name in ("songs", "planted", "begun", "right")}
    with get_context("spawn").Pool(workers) as pool:
        for kind, *found, why in pool.imap(tried, range(many)):
            for name, value in zip(count, (True, *found), strict=True):
                count[name][kind] += value
            if why:
                print(why, flush=True)
    print("\nkind               songs  planted found  begun right  found from the recording")
    for kind in KINDS:
        numbers = [count[name][kind] for name in count]
        print("{:18} {:5} {:14} {:12} {:25}".format(kind, *numbers))
    print("{:18} {:5} {:14} {:12} {:25}".format("all", *(count[name].total() for name in count)))


if __name__ == "__main__":
    asked = [int(word) for word in sys.argv[1:]]
    main(asked[0] if asked else 40, asked[1] if len(asked) > 1 else 1)
