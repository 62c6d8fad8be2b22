"""Sections put together of pieces that leaders wrote: pieces of one to four counts, repeated, mirrored, labelled in many ways."""

from __future__ import annotations

import itertools
import re
from typing import TYPE_CHECKING, Any, NamedTuple

from sides import BACK, UNFIT, other_side

from softshoe.wording.retell_codes import mirrored as mirrored_code

if TYPE_CHECKING:
    import random

Row = dict[str, Any]
LABEL = re.compile(
    r"^[-*•\s]*(?:counts?|on|beats?|cts?)?\s*\(?([1-8])(?:\s*(?:[-–—]|to|and|&|,|\+)\s*([1-8]))?\)?\s*[.:)\-–]?\s+(?=[^\d\s])",
    re.IGNORECASE,
)
NAMED = re.compile(r"\b(right|left|r|l|rf|lf|rh|lh|both)\b", re.IGNORECASE)
WORDS = [
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
]
TIMES = {
    2: ("twice", "two times", "x2", "x 2", "(x2)", "2x"),
    3: ("three times", "x3", "3 times", "(x3)"),
    4: ("four times", "x4", "4 times", "(x4)"),
}
AGAIN = ("Repeat", "Again", "And again", "Same again", "The same again", "Do it again", "Do that again", "Once more", "Repeat that", "All of that again",
         "Do all of that once more", "Say it again", "Ditto", "and repeat", "Now again", "The same once more", "Just the same again", "Do the same again", "One more time",
         "All that again", "Repeat the last {n} counts", "Repeat those {n} counts", "Dance that again", "And the whole thing again", "Repeat all")  # fmt: skip
AGAIN_AT = ("repeat 1-{n}", "repeat {a} to {b}", "as 1-{n}", "same as 1-{n}", "same again", "again", "do it again", "do that again", "repeat", "repeat counts 1-{n}", "rpt 1-{n}",
            "the same again", "as before", "once more", "all again", "dance 1-{n} again", "same as before", "just like 1-{n}", "ditto", "repeat counts 1 to {n}", "1-{n} again")  # fmt: skip
OTHER = ("Same {s}", "The same {s}", "Same {w} {s}", "The same {w} the {s} {f}", "Same on the {s}", "Repeat on the {s}", "Now the {s} {f}", "Other {f}", "Other side", "Other {f} the same",
         "Other {f}: the same", "Change {fs}", "Change sides", "Mirror that", "{S} {f} the same", "{S} {f}: same", "{S} the same", "Then the {s}", "And the {s} {f}", "Now with the {s} {f}",
         "Repeat with the {s} {f}", "Now do it all with the {s} {f}", "The other {f} does the same", "Same with the other {f}", "Same thing {s}", "Likewise with the {s}", "Swap {fs} and repeat",
         "Now the {s} does it", "Repeat to the {s}", "All of that on the other side", "Do the same with the {s} {f}", "Then with the {s} {f}", "{S} {f} likewise", "Over to the {s}: the same",
         "On the other side now", "And on the {s}")  # fmt: skip
OTHER_AT = ("same {s}", "same with the {s}", "same on the {s}", "the same with the {s} {f}", "repeat on {s}", "repeat 1-{n} with {s}", "repeat 1-{n} on the {s}", "mirror 1-{n}", "other {f}", "other side",
            "same, other side", "{s} {f} the same", "as 1-{n} with {s}", "as 1-{n} but {s}", "1-{n} on the other side", "1-{n} with the {s} {f}", "{s} the same", "change {fs}", "repeat to the {s}",
            "same, {s} {f}", "repeat 1-{n}, {s} {f}", "same to the {s}", "do the same with the {s}", "mirror image of 1-{n}", "opposite {f}")  # fmt: skip
MORE = (
    "Do this {t} in all",
    "{T}",
    "All this {t}",
    "{t} in all",
    "Do it {t}",
    "Dance this {t}",
    "Do that {t} altogether",
    "This {t}",
    "({t})",
    "{t}",
    "- {t} through",
    "Do all that {t}",
)


TIMED = re.compile(r"\b(hold|wait|pause|still|stay|two|three|four|slow(ly)?|counts?|rest|nothing)\b|\d", re.IGNORECASE)
JOINT = re.compile(r"[,;.]| and | & | then | - | / | \+ ")


def times_itself(part: Part) -> bool:
    """Whether the words alone tell how many counts they take."""
    return (
        part.counts == len([x for x in JOINT.split(part.text) if x.strip()])
        or bool(TIMED.search(part.text))
        or (part.counts == 1 and not JOINT.search(part.text))
    )


class Part(NamedTuple):
    text: str
    codes: tuple[str, ...]
    counts: int


def moved(codes: tuple[str, ...] | list[str], by: int) -> list[str]:
    return [f"c{int(c[1:]) + by}" if re.fullmatch(r"c\d+", c) else c for c in codes]


def between(codes: list[str], a: int, b: int) -> tuple[str, ...]:
    out, at = [], 0
    for code in codes:
        if re.fullmatch(r"c\d+", code):
            at = int(code[1:])
        if a <= at <= b and code != "end":
            out.append(code)
    return tuple(moved(out, 1 - a))


def mirrored(part: Part) -> Part:
    return Part(other_side(part.text), tuple(mirrored_code(c) for c in part.codes), part.counts)


def lead(part: Part) -> str | None:
    """The side a part begins with, as it would be named: the foot's, else the hand's."""
    sides = [c[5:] if c.startswith("foot:") else c[4:] for c in part.codes if c.startswith(("foot:", "arm:"))]
    one = [s for s in sides if s in "LR"]
    return one[0] if one else None


def parts_of(rows: list[Row]) -> dict[bool, list[Part]]:
    """Pieces of sections whose lines all begin with their counts, and clauses of plain words."""
    out: dict[bool, dict[Part, None]] = {True: {}, False: {}}
    for row in rows:
        lines = [line for line in row["text"].split("\n") if line.strip()]
        if len(lines) == 1 or all(re.match(r"\d", x) for x in re.split(r",\s*", row["text"].replace("\n", ", "))):
            clauses = [x.strip() for x in re.split(r",\s+(?=[&\d])|\n", row["text"]) if x.strip()]
            lines = clauses if len(clauses) > 1 else lines
        found = [LABEL.match(line) for line in lines]
        if not all(found):
            continue
        spans = [(int(m[1]), int(m[2] or m[1])) for m in found]
        if (
            spans[0][0] != 1
            or any(two[0] != one[1] + 1 for one, two in itertools.pairwise(spans))
            or spans[-1][1] != row["counts"]
        ):
            continue
        for line, m, (a, b) in zip(lines, found, spans, strict=False):
            text = line[m.end() :].strip().rstrip(".,;")
            if b - a > 3 or BACK.search(text) or UNFIT.search(text) or re.search(r"\b[5-8]\b", text) or not text:
                continue
            codes = between(row["codes"], a, b)
            if not codes or (any(c.startswith("foot:") for c in codes) and not NAMED.search(text)):
                continue
            if not row["seated"] and "&" in codes and a != b:
                continue
            out[row["seated"]][Part(text, codes, b - a + 1)] = None
    return {seated: list(parts) for seated, parts in out.items()}


class Composer:
    def __init__(self, rows: list[Row]) -> None:
        self.parts = parts_of(rows)
        self.bare = {
            s: {n: [p for p in ps if p.counts == n and times_itself(p)] for n in (1, 2, 3, 4)}
            for s, ps in self.parts.items()
        }
        self.by = {s: {n: [p for p in ps if p.counts == n] for n in (1, 2, 3, 4)} for s, ps in self.parts.items()}

    def some(self, seated: bool, counts: int, rng: random.Random, *, bare: bool) -> list[Part]:
        by = (self.bare if bare else self.by)[seated]
        out: list[Part] = []
        left = counts
        while left:
            n = rng.choice([k for k in (1, 2, 2, 4, 4) if k <= left and by[k]])
            part = rng.choice(by[n])
            out.append(mirrored(part) if rng.random() < 0.5 else part)
            left -= n
        return out

    def draw(self, rng: random.Random) -> Row:
        seated = rng.random() < 0.6
        total = rng.choice((8, 8, 8, 8, 8, 4, 16)) if seated else 8
        kind = rng.random()
        style = rng.choice(("labels", "labels", "bare", "bare", "behind", "lengths", "one line"))
        rows: list[tuple[str, int, int]] = []  # words, first and last count
        codes: list[str] = []

        def put(parts: list[Part], at: int) -> int:
            for part in parts:
                rows.append((part.text, at, at + part.counts - 1))
                codes.extend(moved(part.codes, at - 1))
                at += part.counts
            return at

        def say(words: str, a: int, b: int, copied: list[str]) -> None:
            rows.append((words, a, b))
            codes.extend(copied)

        half = total // 2
        if kind < 0.4:
            put(self.some(seated, total, rng, bare=style in ("bare", "one line")), 1)
        else:
            quarter = kind > 0.85 and half > 2
            n = half // 2 if quarter else half
            parts = self.some(seated, n, rng, bare=style in ("bare", "one line"))
            whole = Part(
                "", tuple(c for p, at in zip(parts, self.starts(parts), strict=False) for c in moved(p.codes, at)), n
            )
            at = put(parts, 1)
            side = next((lead(p) for p in parts if lead(p)), None)
            if kind < 0.6 or side is None or (quarter and rng.random() < 0.5):
                times = total // n
                if style == "labels" and times > 2 and len(rows) > 1:
                    word = WORDS[times - 1]
                    words = rng.choice(
                        (
                            f"{word} more times",
                            f"repeat {word} more times",
                            f"do that {word} more times",
                            f"x{times - 1} more",
                            f"same {word} more times",
                        )
                    )
                    say(words, at, total, [c for k in range(1, times) for c in moved(whole.codes, k * n)])
                elif (style != "labels" or len(rows) == 1) and (rng.random() < 0.4 or times > 2):
                    t = rng.choice(TIMES[times])
                    words = rng.choice(MORE).format(t=t, T=t.capitalize())
                    copied = [c for k in range(1, times) for c in moved(whole.codes, k * n)]
                    if words.startswith(("(", "-")) or rng.random() < 0.3:
                        text, a, _b = rows[-1]
                        if len(rows) == 1:
                            rows[-1] = (f"{text} {words}", a, total)
                            codes.extend(copied)
                        else:
                            say(words, at, total, copied)
                    else:
                        say(words, at, total, copied)
                else:
                    pool = AGAIN_AT if style == "labels" else AGAIN
                    say(rng.choice(pool).format(n=n, a=1, b=n), at, total, moved(whole.codes, n))
            else:
                new = {"R": "left", "L": "right"}[side]
                shown = rng.choice((new, new[0].upper()))
                foot = (
                    "hand"
                    if not any(c.startswith("foot:") for c in whole.codes)
                    else rng.choice(("foot", "foot", "leg"))
                )
                words = rng.choice(OTHER_AT if style == "labels" else OTHER).format(
                    s=shown, S=shown.capitalize(), f=foot, fs={"foot": "feet", "leg": "legs", "hand": "hands"}[foot], n=n, w=rng.choice(("with", "on")))  # fmt: skip
                copied = [mirrored_code(c) for c in moved(whole.codes, n)]
                say(words, at, at + n - 1, copied)
                if quarter:
                    say(rng.choice(AGAIN).format(n=2 * n), at + n, total, moved(list(whole.codes) + copied, 2 * n))
        return {"seated": seated, "text": self.laid(rows, style, rng), "codes": [*codes, "end"], "counts": total}

    @staticmethod
    def starts(parts: list[Part]) -> list[int]:
        at, out = 0, []
        for part in parts:
            out.append(at)
            at += part.counts
        return out

    @staticmethod
    def laid(rows: list[tuple[str, int, int]], style: str, rng: random.Random) -> str:
        dash = rng.choice(("-", "-", "–", " to ", " - ", "/"))
        behind = rng.choice((" ", ": ", ". ", ") ", " - ", "\t"))
        before = rng.choice(("", "", "", "Counts ", "Count ", "On ", "cts "))

        def label(a: int, b: int) -> str:
            return str(a) if a == b else f"{a}{dash if b > a + 1 or dash != ' to ' else '-'}{b}"

        def said(n: int) -> str:
            return (
                rng.choice(
                    (
                        f"({n})",
                        f"({n} counts)",
                        f"{n} counts",
                        f"for {WORDS[n]}",
                        f"for {n} counts",
                        f"- {WORDS[n]} counts",
                        f"({n} cts)",
                    )
                )
                if n > 1
                else rng.choice(("", "(1)", ""))
            )

        if style == "labels":
            glue = rng.choice(("\n", "\n", "\n", ", ", "; "))
            return glue.join(f"{before if glue == chr(10) else ''}{label(a, b)}{behind}{text}" for text, a, b in rows)
        if style == "behind":
            form = rng.choice(("({})", "({})", "counts {}", "on {}", "[{}]"))
            glue = rng.choice((", ", ". ", "\n", "; "))
            return glue.join(f"{text} {form.format(label(a, b))}" for text, a, b in rows)
        if style == "lengths":
            glue = rng.choice((", ", ". ", "\n", "; "))
            return glue.join(f"{text} {said(b - a + 1)}".strip() for text, a, b in rows)
        glue = (
            rng.choice((". ", ", ", "; ", " - ", ", then "))
            if style == "one line"
            else rng.choice((".\n", "\n", "\n", ", ", ". "))
        )
        text = glue.join(text for text, _, _ in rows)
        return text + rng.choice(("", "."))
