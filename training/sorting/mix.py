"""More sheets out of those at hand: headers, headings, sections, remarks and ends of different sheets put together, dressed otherwise."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import random
    from pathlib import Path

Line = tuple[str, str]
BLANK = "-"
STEPS = ("B", "C", "R", "K", "?", "!")
ROMAN = ("I", "II", "III", "IV", "V", "VI", "VII", "VIII")
ORDINAL = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth")
NUMBER = ("one", "two", "three", "four", "five", "six", "seven", "eight")
NOUN = (
    "section",
    "part",
    "round",
    "block",
    "set",
    "verse",
    "phrase",
    "eight",
    "figure",
    "stanza",
    "line",
    "chapter",
    "pattern",
    "piece",
    "group",
    "bit",
    "stage",
    "chunk",
    "scene",
    "page",
)
FRAMES = ("{N} {n}", "{N} {n}:", "{N} {r}", "{N} {o}", "{O} {N}", "The {O} {N}", "{n}.", "{n})", "({n})", "{r}.", "{r}", "{L}", "{L}.", "{L})", "{N} {L}", "{N} {L}:", "-- {n} --",
          "[{n}]", "#{n}", "{n}", "{a}-{b}", "[{a}-{b}]", "Counts {a}-{b}", "Counts {a} to {b}:", "{a} - {b}", "({a}-{b})", "* {O}", "{O}", "{O}:", "{W}", "{N} {W}", "STEP {n}", "{N}{n}", "~ {n} ~")  # fmt: skip
TITLED = ("{f} {t}", "{f} - {t}", "{f}: {t}", "{f} {t}:", "{f} ({t})", "{t}", "{t}", "{t}:", "{t} (8)", "{t} (8 counts)", "{t} ({a}-{b})", "{t}, {a}-{b}", "{f} | {t}", "{f} / {t} /", "{t} {f}", "* {t} *", "= {t} =", "{t} ~")  # fmt: skip


class Parts:
    """What whole sheets fall into."""

    def __init__(self, sheets: list[list[Line]], bodies: list[list[str]], talk: list[str]) -> None:
        self.sheets, self.bodies, self.talk = sheets, bodies, talk
        self.heads: list[list[Line]] = []
        self.ends: list[list[Line]] = []
        self.headings: list[list[str]] = []
        self.sections: list[list[Line]] = []
        self.extras: list[list[Line]] = []
        for sheet in sheets:
            firsts = [k for k, (kind, _) in enumerate(sheet) if kind in ("S", "B", "C", "?", "K", "G")]
            lasts = [k for k, (kind, _) in enumerate(sheet) if kind in STEPS]
            if not firsts or not lasts:
                continue
            self.heads.append(sheet[: firsts[0]])
            self.ends.append(sheet[lasts[-1] + 1 :])
            self.headings.append([text for kind, text in sheet if kind == "S"])
            for part in sections_of(sheet[firsts[0] : lasts[-1] + 1]):
                self.sections.append(part)
            extra = [line for line in sheet if line[0] == "G"]
            if extra:
                self.extras.append(extra)
        self.headings = [h for h in self.headings if len(h) > 1]
        titles = {
            re.sub(r"^\W*(?:\w+\s+)?[\dIVXA-H]+[.:)\]]*\s*[-–:]?\s*", "", t).strip(" :")
            for h in self.headings
            for t in h
        }
        self.titles = sorted(t for t in titles if 3 < len(t) < 40 and not re.search(r"\d", t))
        self.again = [text for sheet in sheets for kind, text in sheet if kind == "R"]
        self.remarks = sorted(
            {text for sheet in sheets for kind, text in sheet if kind == "N" and len(text) > 3} | set(talk)
        )

    def drawn(self, rng: random.Random) -> list[Line]:
        """Return a sheet as it is, or one put together."""
        lines = list(rng.choice(self.sheets)) if rng.random() < 0.3 else self.joined(rng)
        return dressed(lines, rng)

    def joined(self, rng: random.Random) -> list[Line]:
        many = rng.choice((2, 3, 3, 4, 4, 4, 4, 5, 6))
        out = list(rng.choice(self.heads))
        gap = rng.random() < 0.6
        heads = self.named(many, rng)
        own = rng.random()
        for k in range(many):
            if own < 0.6 and self.bodies:
                body: list[Line] = [("C", text) for text in rng.choice(self.bodies)]
            else:
                body = [
                    line
                    for line in rng.choice(self.sections)
                    if line[0] not in ("S",) and (line[0] != BLANK or rng.random() < 0.5)
                ]
                body = [("C" if kind == "B" else kind, text) for kind, text in body]
            if k and heads and rng.random() < 0.07 and self.again:
                body = [("R", rng.choice(self.again))]
            body = [(k_, t) for k_, t in body if t.strip() or k_ == BLANK]
            while body and body[0][0] == BLANK:
                body.pop(0)
            if not body:
                continue
            if heads:
                joint = rng.random() < 0.12 and body[0][0] == "C" and len(heads[k]) < 40
                if joint:
                    body[0] = ("B", heads[k].rstrip(": ") + rng.choice((": ", " - ", "  ", ". ")) + body[0][1])
                else:
                    out.append(("S", heads[k]))
                    if rng.random() < 0.08:
                        out.append((BLANK, ""))
            elif body[0][0] == "C":
                body[0] = ("B", body[0][1])
            if rng.random() < 0.12:
                at = rng.randrange(len(body) + 1)
                if heads or at:
                    body.insert(at, ("N", rng.choice(self.remarks)))
            out += body
            if gap:
                out.append((BLANK, ""))
        if rng.random() < 0.25 and self.extras:
            out += rng.choice(self.extras)
        return out + list(rng.choice(self.ends))

    def named(self, many: int, rng: random.Random) -> list[str]:
        """Return headings of one style, or none where the sections have none."""
        kind = rng.random()
        if kind < 0.12:
            return []
        if kind < 0.45:
            one = rng.choice(self.headings)
            if len(one) >= many:
                return one[:many]
        frame, noun = rng.choice(FRAMES), rng.choice(NOUN)
        titled = rng.choice(TITLED) if rng.random() < 0.65 else "{f}"
        case = rng.choice((str, str, str.capitalize, str.upper, str.title))
        out = []
        for k in range(many):
            holes = {"n": str(k + 1), "r": ROMAN[k], "o": ORDINAL[k], "O": ORDINAL[k].capitalize(), "L": "ABCDEFGH"[k], "N": noun.capitalize(), "W": NUMBER[k].capitalize(),
                     "a": str(8 * k + 1), "b": str(8 * k + 8)}  # fmt: skip
            out.append(case(titled.format(f=frame.format(**holes), t=rng.choice(self.titles), **holes)))
        return out


def sections_of(lines: list[Line]) -> list[list[Line]]:
    out: list[list[Line]] = []
    for line in lines:
        if line[0] in ("S", "B") or not out:
            out.append([])
        if line[0] not in ("G", "T", "H"):
            out[-1].append(line)
    return [part for part in out if any(kind in STEPS for kind, _ in part)]


def dressed(lines: list[Line], rng: random.Random) -> list[Line]:
    """The same lines as another would type them."""
    if rng.random() < 0.07:
        lines = [(k, t.upper()) for k, t in lines]
    elif rng.random() < 0.04:
        lines = [(k, t.lower()) for k, t in lines]
    blanks = rng.random()
    if blanks < 0.15:
        lines = [line for line in lines if line[0] != BLANK]
    elif blanks < 0.25:
        lines = [x for line in lines for x in ([(BLANK, ""), line] if line[0] == "S" else [line])]
    elif blanks < 0.3:
        lines = [x for line in lines for x in ((line, (BLANK, "")) if line[0] != BLANK else (line,))]
    if rng.random() < 0.08:
        mark = rng.choice(("- ", "* ", "• ", "  ", "> "))
        lines = [(k, mark + t if k in ("C", "B", "?") else t) for k, t in lines]
    if rng.random() < 0.06:
        lines = [(k, t + rng.choice((".", ":", "!"))) if k == "S" else (k, t) for k, t in lines]
    if rng.random() < 0.06:
        lines = [(k, f"**{t}**") if k in ("S", "T") else (k, t) for k, t in lines]
    if rng.random() < 0.06:
        lines = [(k, "# " + t if k == "T" else "## " + t if k == "S" else t) for k, t in lines]
    return lines


def bodies_of(path: Path) -> list[list[str]]:
    rows: list[dict[str, Any]] = [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines() if line]
    return [row["text"].split("\n") for row in rows]
