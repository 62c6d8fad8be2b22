"""The song map as JSON and back, in the shape that ``softshoe listen --json`` prints; seconds to 4 places.

What comes from a file is not trusted: every key, number and order is checked, and what is wrong is named.
"""

from __future__ import annotations

import json
import math
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Literal, cast

from softshoe.errors import Finding, MusicError
from softshoe.music.songmap import Alternative, Confidence, Said, SongMap, Swing

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.music.songmap import MetreOfSong

Json = dict[str, Any]

LARGEST_BYTES = 20_000_000
MOST_BEATS = 100_000
LONGEST_S = 1e6
FASTEST_BPM = 1000.0
SURE = ("beats", "downbeats", "eights", "first_count", "tempo", "metre")
SAID = ("tempo", "first_count", "metre", "taps", "ones")
SWING = (("share", 0.5, 0.8), ("confidence", 0.0, 1.0))
FINDING = ("severity", "kind", "line", "count", "message", "mend")


def song_json(song: SongMap) -> Json:
    """Return the song map as an object with every key; seconds and tempo to 4 places."""
    sure = song.confidence
    return {
        "beats": _rounded(song.beats_s),
        "downbeats": _rounded(song.downbeats_s),
        "eights": _rounded(song.eights_s),
        "phrases": _rounded(song.phrases_s),
        "first_count": round(song.first_count_s, 4),
        "end": round(song.end_s, 4),
        "tempo": round(song.tempo_bpm, 4),
        "metre": song.metre,
        "confidence": {**{key: round(getattr(sure, key), 4) for key in SURE}, "phrases": _rounded(sure.phrases)},
        "alternatives": [_alternative_json(other) for other in song.alternatives],
        "tempo_curve": [_rounded(point) for point in song.tempo_curve],
        "why": list(song.why),
        "swing": _swing_json(song.swing),
        "said": _said_json(song.said),
        "findings": [{key: getattr(finding, key) for key in FINDING} for finding in song.findings],
    }


def _rounded(numbers: Sequence[float]) -> list[float]:
    return [round(float(number), 4) for number in numbers]


def _alternative_json(other: Alternative) -> Json:
    return {
        "tempo": round(other.tempo_bpm, 4),
        "first_count": round(other.first_count_s, 4),
        "metre": other.metre,
        "confidence": round(other.confidence, 4),
    }


def _swing_json(swing: Swing | None) -> Json | None:
    if swing is None:
        return None
    return {"share": round(swing.share, 4), "confidence": round(swing.confidence, 4), "triplets": swing.triplets}


def _said_json(said: Said) -> Json:
    """Return only what was said."""
    first = None if said.first_count_s is None else round(said.first_count_s, 4)
    values = (said.tempo_bpm, first, said.metre, _rounded(said.taps_s) or None, _rounded(said.ones_s) or None)
    return {key: value for key, value in zip(SAID, values, strict=True) if value is not None}


def song_from_json(document: Json | bytes | str, *, where: str = "the song map") -> SongMap:
    """Return the song map of an object, or of its text.

    Raises MusicError, naming the key, when something is missing, of the wrong kind, out of range or out of order.
    """
    read = _Reader(where)
    table = read.parsed(document) if isinstance(document, bytes | str) else document
    if not isinstance(table, dict):
        raise read.wrong("the map", "it is no table of keys")
    beats = read.times(table, "beats")
    song = SongMap(
        beats_s=beats,
        downbeats_s=read.some_of(table, "downbeats", beats),
        eights_s=read.some_of(table, "eights", beats),
        phrases_s=read.some_of(table, "phrases", beats),
        first_count_s=read.number(table, "first_count", low=0.0, high=LONGEST_S),
        end_s=read.number(table, "end", low=0.0, high=LONGEST_S),
        tempo_bpm=read.number(table, "tempo", low=1e-3, high=FASTEST_BPM),
        metre=read.metre(table),
        confidence=read.confidence(table),
        alternatives=read.alternatives(table),
        said=read.said(table),
        findings=read.findings(table),
        tempo_curve=read.curve(table) if "tempo_curve" in table else (),
        why=read.sentences(table) if "why" in table else (),
        swing=read.swing(table) if table.get("swing") is not None else None,
    )
    if len(song.confidence.phrases) != len(song.phrases_s):
        raise read.wrong("confidence.phrases", "it must hold one number for each phrase")
    return song


class _Reader:
    """Takes values out of an object, and says what is wrong with them."""

    def __init__(self, where: str) -> None:
        self.where = where

    def wrong(self, key: str, why: str) -> MusicError:
        """Return the error to raise for a key."""
        mend = "make the map again by listening to the song, or put this one thing right"
        return MusicError(f"{self.where}, “{key}”", "this is not a song map that can be used", why, mend)

    def parsed(self, text: bytes | str) -> Any:
        if len(text) > LARGEST_BYTES:
            raise self.wrong("the file", "it is far larger than any song's map")
        try:
            return json.loads(text)
        except (ValueError, RecursionError) as fault:
            raise self.wrong("the file", "its text is not JSON, or was cut off") from fault

    def value(self, table: Json, key: str) -> Any:
        if key not in table:
            raise self.wrong(key, "it is missing")
        return table[key]

    def number(self, table: Json, key: str, *, low: float, high: float) -> float:
        return self.checked(self.value(table, key), key, low=low, high=high)

    def checked(self, value: Any, key: str, *, low: float, high: float) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(_small(value)):
            raise self.wrong(key, "it must be a number")
        if not low <= value <= high:
            raise self.wrong(key, f"it must lie between {low:g} and {high:g}")
        return float(value)

    def list(self, table: Json, key: str) -> list[Any]:
        value = self.value(table, key)
        if not isinstance(value, list):
            raise self.wrong(key, "it must be a list")
        if len(value) > MOST_BEATS:
            raise self.wrong(key, f"it holds more than {MOST_BEATS} entries")
        return value

    def object(self, table: Json, key: str) -> Json:
        value = self.value(table, key)
        if not isinstance(value, dict):
            raise self.wrong(key, "it must be a table of keys")
        return value

    def times(self, table: Json, key: str) -> tuple[float, ...]:
        found = tuple(self.checked(value, key, low=0.0, high=LONGEST_S) for value in self.list(table, key))
        if any(b <= a for a, b in pairwise(found)):
            raise self.wrong(key, "its times must rise")
        return found

    def some_of(self, table: Json, key: str, beats: tuple[float, ...]) -> tuple[float, ...]:
        found = self.times(table, key)
        if not set(found) <= set(beats):
            raise self.wrong(key, "each of its times must be one of “beats”")
        return found

    def metre(self, table: Json, name: str = "metre") -> MetreOfSong:
        value = self.value(table, "metre")
        if isinstance(value, bool) or value not in (3, 4):
            raise self.wrong(name, "it must be 3 or 4")
        return 3 if value == 3 else 4

    def confidence(self, table: Json) -> Confidence:
        sure = self.object(table, "confidence")
        missing = [key for key in (*SURE, "phrases") if key not in sure]
        if missing:
            raise self.wrong(f"confidence.{missing[0]}", "it is missing")
        one = {key: self.checked(self.value(sure, key), f"confidence.{key}", low=0, high=1) for key in SURE}
        phrases = self.list(sure, "phrases")
        return Confidence(phrases=tuple(self.checked(p, "confidence.phrases", low=0, high=1) for p in phrases), **one)

    def alternatives(self, table: Json) -> tuple[Alternative, ...]:
        found = []
        for row in self.list(table, "alternatives"):
            if not isinstance(row, dict):
                raise self.wrong("alternatives", "each must be a table of keys")
            found.append(
                Alternative(
                    tempo_bpm=self.number(row, "tempo", low=1e-3, high=FASTEST_BPM),
                    first_count_s=self.number(row, "first_count", low=0.0, high=LONGEST_S),
                    metre=self.metre(row, "alternatives.metre"),
                    confidence=self.number(row, "confidence", low=0, high=1),
                )
            )
        return tuple(found)

    def said(self, table: Json) -> Said:
        said = {key: value for key, value in self.object(table, "said").items() if value is not None}
        unknown = set(said) - set(SAID)
        if unknown:
            raise self.wrong("said", f"“{min(map(str, unknown))[:40]}” is nothing a listener says")
        return Said(
            tempo_bpm=self.number(said, "tempo", low=1e-3, high=FASTEST_BPM) if "tempo" in said else None,
            first_count_s=self.number(said, "first_count", low=0.0, high=LONGEST_S) if "first_count" in said else None,
            metre=self.metre(said, "said.metre") if "metre" in said else None,
            taps_s=self.times(said, "taps") if "taps" in said else (),
            ones_s=self.times(said, "ones") if "ones" in said else (),
        )

    def curve(self, table: Json) -> tuple[tuple[float, float], ...]:
        key = "tempo_curve"
        found = []
        for row in self.list(table, key):
            if not isinstance(row, list) or len(row) != 2:
                raise self.wrong(key, "each point must be a second and a tempo")
            at_s = self.checked(row[0], key, low=0.0, high=LONGEST_S)
            found.append((at_s, self.checked(row[1], key, low=1e-3, high=FASTEST_BPM)))
        return tuple(found)

    def swing(self, table: Json) -> Swing:
        swing = self.object(table, "swing")
        triplets = swing.get("triplets", False)
        if not isinstance(triplets, bool):
            raise self.wrong("swing.triplets", "it must be true or false")
        share, sure = (self.checked(swing.get(key), f"swing.{key}", low=low, high=high) for key, low, high in SWING)
        return Swing(share, sure, triplets)

    def sentences(self, table: Json) -> tuple[str, ...]:
        if not all(isinstance(words, str) for words in self.list(table, "why")):
            raise self.wrong("why", "it must hold words")
        return tuple(table["why"])

    def findings(self, table: Json) -> tuple[Finding, ...]:
        return tuple(self.finding(row) for row in self.list(table, "findings"))

    def finding(self, row: Any) -> Finding:
        if not isinstance(row, dict) or row.get("severity") not in ("error", "warning", "note"):
            raise self.wrong("findings", "each must have a severity: error, warning or note")
        texts = {key: row.get(key) for key in ("kind", "count", "message", "mend")}
        line = row.get("line")
        if isinstance(line, bool) or not (line is None or isinstance(line, int)):
            raise self.wrong("findings.line", "it must be a whole number or null")
        for key, text in texts.items():
            if not (isinstance(text, str) or (text is None and key in ("count", "mend"))):
                raise self.wrong(f"findings.{key}", "it must be words")
        severity = cast("Literal['error', 'warning', 'note']", row["severity"])
        return Finding(severity, str(texts["kind"]), line, texts["count"], str(texts["message"]), texts["mend"])


def _small(value: float) -> float:
    """Return a number that fits, or NaN for a whole number too large to be one."""
    try:
        return float(value)
    except OverflowError:
        return math.nan
