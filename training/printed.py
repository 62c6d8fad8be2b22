"""Tunes in the public domain, read from printed collections whose notes are written as ABC text.

    python training/printed.py FOLDER --out tunes.json.gz

FOLDER holds the folders ``oneills1850`` (Chicago 1903), ``ryansMammoth`` (Boston 1883) and ``airdsAirs`` (Glasgow 1778
and later), as they come in ``music21/corpus`` of the package music21. Only metre, mode, and the notes of strains that
are whole (8, 16, 32 counts and so on) are kept: no titles, no words, no marks of an editor.

A strain is a list of (beat, beats, step of the scale); notes before its first bar have beats under 0.
"""

from __future__ import annotations

import argparse
import gzip
import json
import re
import sys
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

BOOKS = ("oneills1850", "ryansMammoth", "airdsAirs")
LETTERS = "CDEFGAB"
FIFTHS = {"F": -1, "C": 0, "G": 1, "D": 2, "A": 3, "E": 4, "B": 5}
MODES = {"": 0, "maj": 0, "ion": 0, "min": 1, "m": 1, "aeo": 1, "dor": 2, "mix": 3}  # places in tunes.SCALES
NOTE = re.compile(r"(\^\^|\^|__|_|=)?([A-Ga-gzx])([,']*)(\d*)(/*)(\d*)")
# beats a bar is counted in, and how many whole notes one of them lasts
COUNTED = {
    "2/4": (2, Fraction(1, 4)), "4/4": (4, Fraction(1, 4)), "C": (4, Fraction(1, 4)), "C|": (2, Fraction(1, 2)),
    "2/2": (2, Fraction(1, 2)), "6/8": (2, Fraction(3, 8)), "3/4": (3, Fraction(1, 4)), "12/8": (4, Fraction(3, 8)),
}  # fmt: skip
WHOLE = {4: (8, 16, 32), 3: (12, 24, 48)}
SLOW_AS_WRITTEN = ("C", "4/4")


def plain(text: str) -> str:
    """Return the notes of a tune without chords' names, grace notes, marks and words."""
    text = re.sub(r"%.*", "", text).replace("\\\n", " ")
    text = re.sub(r'"[^"]*"|\{[^}]*\}|![^!]*!|\+[^+]*\+', "", text)
    text = re.sub(r"\[[A-Za-z]:[^\]]*\]", "", text)
    return re.sub(r"\[([^\[\]|:\d][^\[\]]*)\]", lambda m: NOTE.search(m[1])[0] if NOTE.search(m[1]) else "", text)


def tokens(text: str) -> list[str]:
    """Return bars, notes, brackets of triplets and broken rhythms in order."""
    return re.findall(r"::|\|\]|\|\||\[\||:\|+\]?|\|+:|\||\[\d|\(\d|>+|<+|" + NOTE.pattern.replace("(", "(?:"), text)


def length(match: re.Match[str], unit: Fraction) -> Fraction:
    """Return how many whole notes a note lasts."""
    upper = int(match[4]) if match[4] else 1
    lower = int(match[6]) if match[6] else 2 ** len(match[5])
    return unit * upper / lower if match[5] or match[4] else unit


class _Reader:
    """Reads the body of one tune into strains: lists of bars, each a list of (whole notes, step or None)."""

    def __init__(self, tonic: int, unit: Fraction, bar: Fraction) -> None:
        self.tonic, self.unit, self.size = tonic, unit, bar
        self.strains: list[list[list[tuple[Fraction, int | None]]]] = [[]]
        self.bar: list[tuple[Fraction, int | None]] = []
        self.broken, self.triplet = Fraction(1), 0

    def note(self, match: re.Match[str]) -> None:
        value = length(match, self.unit) * self.broken
        self.broken = Fraction(1)
        if self.triplet:
            value, self.triplet = value * Fraction(2, 3), self.triplet - 1
        letter = match[2]
        step = None
        if letter not in "zx":
            octave = (letter.islower()) + match[3].count("'") - match[3].count(",")
            step = LETTERS.index(letter.upper()) + 7 * octave - self.tonic
        self.bar.append((value, step))

    def stroke(self, text: str) -> None:
        if self.bar:
            self.strains[-1].append(self.bar)
            self.bar = []
        if (
            text != "|"
            and self.strains[-1]
            and (len(self.strains[-1]) > 1 or sum(v for v, _ in self.strains[-1][0]) >= self.size)
        ):
            self.strains.append([])

    def read(self, text: str) -> None:
        skipped = False
        for word in tokens(text):
            if word.startswith("["):
                skipped = word == "[2"
                continue
            if word[0] in "|:":
                self.stroke(word)
                skipped = skipped and word == "|"
            elif skipped:
                continue
            elif word.startswith("("):
                self.triplet = 3 if word == "(3" else 0
            elif word[0] in "<>":
                self.dot(word)
            else:
                match = NOTE.fullmatch(word)
                if match:
                    self.note(match)
        self.stroke("||")

    def dot(self, word: str) -> None:
        if not self.bar:
            return
        part = Fraction(1, 2 ** len(word))
        value, step = self.bar[-1]
        mine, other = (2 - part, part) if word[0] == ">" else (part, 2 - part)
        self.bar[-1] = (value * mine, step)
        self.broken = other


def strain(bars: list[list[tuple[Fraction, int | None]]], per_bar: int, beat: Fraction) -> dict[str, Any] | None:
    """Return one strain in beats, or None when it is no whole one."""
    size = per_bar * beat
    lengths = [sum(v for v, _ in bar) for bar in bars]
    notes, at = [], Fraction(0)
    if lengths and lengths[0] < size:
        at = -lengths[0]
    total = Fraction(0)
    for k, bar in enumerate(bars):
        for value, step in bar:
            if step is not None:
                notes.append((round(float(at / beat), 4), round(float(value / beat), 4), step))
            at += value
        if k and k + 1 < len(bars) and lengths[k] != size:
            return None
        total = at
    pickup = lengths[0] if lengths and lengths[0] < size else Fraction(0)
    if total != -(-total // size) * size and total + pickup != -(-total // size) * size:
        return None
    beats = int(-(-total // size)) * per_bar
    metre = 3 if per_bar == 3 else 4
    if beats not in WHOLE[metre] or len(notes) < beats // 2:
        return None
    middle = sorted(step for _, _, step in notes)[len(notes) // 2]
    down = 7 * round((middle - 4) / 7)
    return {"beats": beats, "notes": [(a, b, s - down) for a, b, s in notes]}


def tune(text: str) -> list[dict[str, Any]]:
    """Return what one tune holds, counted in each way that it may be counted."""
    fields = dict(re.findall(r"^([MLK]):\s*(.*?)\s*$", text, re.M))
    metre, key = fields.get("M", "").split("%")[0].strip(), fields.get("K", "").split("%")[0]
    found = re.match(r"([A-G])([#b]?)\s*([A-Za-z]*)", key)
    if metre not in COUNTED or not found or found[3][:3].lower() not in MODES:
        return []
    per_bar, beat = COUNTED[metre]
    unit = Fraction(fields["L"]) if re.fullmatch(r"\d+/\d+", fields.get("L", "")) else Fraction(1, 8)
    body = "\n".join(line for line in plain(text).split("\n") if not re.match(r"^\s*[A-Za-z]:", line))
    reader = _Reader(LETTERS.index(found[1]), unit, per_bar * beat)
    reader.read(body)
    ways = [(per_bar, beat)] + ([(2, Fraction(1, 2))] if metre in SLOW_AS_WRITTEN else [])
    out = []
    for count, long in ways:
        strains = [s for s in (strain(bars, count, long) for bars in reader.strains if bars) if s]
        if strains:
            grid = 3 if metre in ("6/8", "12/8") else 4
            out.append({"metre": 3 if count == 3 else 4, "grid": grid, "mode": MODES[found[3][:3].lower()],
                        "way": f"{metre} in {count}", "strains": strains})  # fmt: skip
    return out


@cache
def tunes(path: str) -> tuple[dict[str, Any], ...]:
    """Return the tunes of a file that this module wrote."""
    return tuple(json.loads(gzip.decompress(Path(path).read_bytes())))


def main() -> None:
    """Read the collections."""
    ask = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ask.add_argument("folder", type=Path)
    ask.add_argument("--out", type=Path, required=True)
    args = ask.parse_args()
    found, asked = [], 0
    for book in BOOKS:
        for path in sorted((args.folder / book).glob("*.abc")):
            for text in re.split(r"^X:", path.read_text("utf-8", errors="replace"), flags=re.M)[1:]:
                asked += 1
                found += tune("X:" + text)
    args.out.write_bytes(gzip.compress(json.dumps(found, separators=(",", ":")).encode(), mtime=0))
    sys.stdout.write(
        f"{asked} tunes, {len(found)} ways to count them, {sum(len(t['strains']) for t in found)} strains\n"
    )


if __name__ == "__main__":
    main()
