"""Listen: a song dropped on the page is heard, drawn with its counts, played, and corrected by the listener's word."""

from __future__ import annotations

import asyncio
import base64
import json
from dataclasses import dataclass, replace
from pathlib import PurePosixPath
from typing import TYPE_CHECKING, Any, Literal

from starlette.responses import FileResponse, JSONResponse, StreamingResponse

from softshoe.repertoire.originals import here
from softshoe.studio.failing import MissingError, told
from softshoe.studio.hearing import WAVE_HZ, lines_view
from softshoe.studio.incoming import kind_of, taken_in
from softshoe.studio.reading import finding
from softshoe.studio.table import Page, Way

if TYPE_CHECKING:
    from collections.abc import AsyncIterator

    from starlette.requests import Request
    from starlette.responses import Response

    from softshoe.music.songmap import Said, SongMap
    from softshoe.studio.asking import Asked
    from softshoe.studio.desk import Desk
    from softshoe.studio.hearing import Hearing

LOOK_S = 0.2
MOST_NAME = 80
MOST_WAYS = 3


@dataclass(frozen=True, slots=True)
class Word:
    """What the listener says beside what she said before; None: nothing of that kind.

    one_s : a moment that is a count one; from_s : the one that it takes the place of
    times : 0.5 to count half as fast, 2 twice as fast
    """

    tempo_bpm: float | None = None
    times: float | None = None
    first_count_s: float | None = None
    metre: Literal[3, 4] | None = None
    taps_s: tuple[float, ...] | None = None
    one_s: float | None = None
    from_s: float | None = None


@dataclass(frozen=True, slots=True)
class Steps:
    """How many words to take back; under 0, to say again."""

    back: int


@dataclass(frozen=True, slots=True)
class Chosen:
    """A song that is kept."""

    song: str


def values(asked: Asked) -> dict[str, object]:
    """Return the songs that are kept with their recordings, to choose from."""
    asked.desk.draft(asked.dance)
    return {"songs": asked.desk.songs(), "song": asked.desk.works.of(asked.dance).song}


async def came(request: Request, desk: Desk) -> Response:
    """Take in a recording as the body of the request, and hear it."""
    uid = str(request.path_params["dance"])
    desk.draft(uid)
    name = PurePosixPath(request.query_params.get("name", "").replace("\\", "/")).name[-MOST_NAME:] or "song"
    content = await taken_in(request, desk.home)
    desk.hear(uid, content, name)
    return JSONResponse({"content": content})


def demo(asked: Asked) -> dict[str, object]:
    """Take in the demo song, and hear it."""
    return {"content": asked.desk.demo_song(asked.dance)}


def chosen(asked: Asked) -> dict[str, object]:
    """Take a song that is kept."""
    asked.desk.draft(asked.dance)
    return {"content": asked.desk.take_song(asked.dance, asked.json(Chosen).song)}


async def progress(request: Request, desk: Desk) -> Response:
    """Stream how the hearing of a recording goes, until it is over."""
    content = request.query_params.get("content", "")

    async def stream() -> AsyncIterator[str]:
        last = None
        while True:
            now = desk.hearings.told(content)
            if now != last:
                yield f"data: {json.dumps(_hearing(now))}\n\n"
                last = now
            if now.state != "hearing":
                return
            await asyncio.sleep(LOOK_S)

    return StreamingResponse(stream(), media_type="text/event-stream")


def _hearing(now: Hearing) -> dict[str, object]:
    lost = MissingError("the song", "it was not heard", "the studio was stopped meanwhile", "drop the file once more")
    wrong = told(now.wrong or lost) if now.state == "failed" else None
    return {"state": now.state, "share": round(now.share, 3), "words": now.words, "wrong": wrong}


def song(asked: Asked) -> dict[str, object]:
    """Tell the song as it is counted now."""
    return view(asked)


def said(asked: Asked) -> dict[str, object]:
    """Heed a word of the listener and tell the song as it is counted then."""
    word, desk = asked.json(Word), asked.desk
    work = desk.works.of(asked.dance)
    new = heeding(word, work.said, desk.song_map(asked.dance))
    desk.count(asked.dance, work.saying(new))
    return view(asked)


def back(asked: Asked) -> dict[str, object]:
    """Take words back, or say them again."""
    work = asked.desk.works.of(asked.dance)
    asked.desk.count(asked.dance, work.back(asked.json(Steps).back))
    return view(asked)


def heeding(word: Word, said: Said, song: SongMap) -> Said:
    """Return what the listener says with one word more."""
    if word.times is not None:
        return replace(said, tempo_bpm=round(song.tempo_bpm * word.times, 2), taps_s=())
    if word.tempo_bpm is not None:
        return replace(said, tempo_bpm=word.tempo_bpm, taps_s=())
    if word.taps_s is not None:
        return replace(said, taps_s=tuple(sorted(set(word.taps_s))), tempo_bpm=None)
    if word.metre is not None:
        return replace(said, metre=word.metre)
    if word.first_count_s is not None:
        return replace(said, first_count_s=word.first_count_s)
    if word.one_s is not None:
        others = [one for one in said.ones_s if word.from_s is None or abs(one - word.from_s) > 0.01]
        return replace(said, ones_s=tuple(sorted({*others, word.one_s})))
    return said


def view(asked: Asked) -> dict[str, Any]:
    """Return everything the page draws of the song."""
    from softshoe.render.song_lines import song_words

    desk, work = asked.desk, asked.desk.works.of(asked.dance)
    heard, kept = desk.song_map(asked.dance), desk.kept_song(asked.dance)
    ways = [
        {"tempo": round(one.tempo_bpm, 2), "first": one.first_count_s, "metre": one.metre}
        for one in heard.alternatives[:MOST_WAYS]
    ]
    shown = {
        "title": kept.title,
        "song": kept.uid,
        "lines": lines_view(heard),
        "tempo": heard.tempo_bpm,
        "metre": heard.metre,
        "first": heard.first_count_s,
        "end": heard.end_s,
        "why": heard.why,
        "findings": [finding(number, one) for number, one in enumerate(heard.findings)],
        "ways": ways,
        "words": song_words(heard, kept.title),
    }
    wave = base64.b64encode(desk.hearings.wave(kept.content)).decode()
    return {**shown, "wave": wave, "wave_hz": WAVE_HZ, "said": work.heeded, "unsaid": len(work.saids) - work.heeded}


def sound(asked: Asked) -> Response:
    """Give out the recording of the dance's song; the browser asks for the pieces it plays."""
    kept = asked.desk.kept_song(asked.dance)
    path = here(asked.desk.home, kept.recording)
    if not kept.recording or not path.is_file():
        raise MissingError(
            kept.title, "its recording is not here", "only its counts are kept", "drop the file once more"
        )
    return FileResponse(path, media_type=kind_of(path))


PAGE = Page("listen", "Listen", values, (
    Way("come", came, "PUT"), Way("demo", demo, "POST"), Way("choose", chosen, "POST"),
    Way("progress", progress), Way("song", song), Way("said", said, "POST"), Way("back", back, "POST"),
    Way("sound", sound),
))  # fmt: skip
