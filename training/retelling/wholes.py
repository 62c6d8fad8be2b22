"""Whole sheets drawn without end: as they are written, with other heads, other sections, other ends, or put together of all these."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from asking import words_in
from changed import asked
from faults import FAULT, faulty
from sides import BACK, UNFIT, other_side
from whole import ADDS, BEGINS, whole_codes

from softshoe.wording.retell_codes import AS, ENDS, MIRROR
from softshoe.wording.retell_codes import mirrored as mirrored_code
from softshoe.wording.whole_copies import counts_of_its_own, sources_in

if TYPE_CHECKING:
    import random

Row = dict[str, Any]
HEAD, END = ("T", "H", "N"), ("N", "G", "H")
NUMBERED = ("{N} {n}", "{N} {n}:", "{n}.", "{n})", "({n})", "{L}.", "{L}:", "{N} {L}", "{r}.", "{O} {N}", "{O} {N}:", "The {o} {N}", "{a}-{b}", "Counts {a} to {b}:", "[{a}-{b}]",
            "{N} {n} ({a}-{b})", "{W}.", "{O},")  # fmt: skip
BY_NUMBER = ("{N} {n}", "{N} {n}:", "{n}.", "{N} {n} ({a}-{b})", "{O} {N}", "{n})")
BY_LETTER = ("{N} {L}", "{L}:", "{L}.", "{N} {L}:")
CALLED = {  # how a section is called, by what its heading counts with
    "{n}": ("{N} {n}", "{N} {n}", "the {o} {N}", "{N} {w}", "no. {n}", "{n}"),
    "{L}": ("{N} {L}", "{L}", "{L}", "the {o} {N}"),
    "{r}": ("{N} {r}", "{r}", "the {o} {N}"),
    "{W}": ("{N} {w}", "{w}", "the {o} {N}"),
    "{O}": ("the {o} {N}", "the {o}", "{N} {w}"),
    "{o}": ("the {o} {N}", "the {o}"),
    "{a}": ("{a}-{b}", "counts {a} to {b}", "counts {a}-{b}", "the {o} {N}"),
}
LENGTHS = (4, 6, 8, 12, 16)
PLAIN = re.compile(r"1 [A-Z][^,]*, 2 [A-Z][^,]*, 3 [A-Z]")
LEANS = re.compile(
    r"\b(section|part|verse|chorus|first|second|third|above|before|earlier|again|same|repeat|as|other|mirror|opposite|once more|ditto|reprise|back to)\b",
    re.IGNORECASE,
)
NOUN = ("section", "part", "round", "block", "set", "verse", "phrase", "eight", "figure", "line", "stanza", "pattern")
ORDINAL = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth")
NUMBER = ("one", "two", "three", "four", "five", "six", "seven", "eight")
ROMAN = ("I", "II", "III", "IV", "V", "VI", "VII", "VIII")
LEADS = ("Then ", "Next: ", "After that, ", "And then ", "Next eight: ", "Now ", "", "", "", "Second eight counts: ", "Following on, ", "From there ", "Next we go on: ", "The next part: ")  # fmt: skip
AGAIN = ("Repeat {ref}", "{ref} again", "As {ref}", "Same as {ref}", "Dance {ref} again", "Repeat {a}-{b}", "Repeat counts {a} to {b}", "as {a}-{b}", "All of {ref} once more", "Do {ref} again", "The same as {ref}",
         "{ref}, repeated", "Back to {ref}", "rpt {ref}", "like {ref}", "(= {ref})", "{ref} once more", "{ref} from start to end")  # fmt: skip
MIRRORED = ("Repeat {ref} on the other side", "{ref} again, other foot", "As {ref}, other foot", "Mirror {ref}", "{ref} mirrored", "Same as {ref} but starting with the other foot", "Repeat {a}-{b} on opposite foot",
            "Repeat counts {a} to {b}, other way round", "{ref} the other way", "{ref} again, opposite feet", "as {a}-{b}, other side", "Mirror image of {ref}", "Repeat {ref} with left and right changed over",
            "All of {ref} to the other side", "Do {ref} again with the other leg leading", "{ref}, opposite foot lead")  # fmt: skip
FIRST_AGAIN = (
    "Repeat all of that",
    "All of that again",
    "Same again",
    "Repeat",
    "Do that again",
    "Again",
    "And again",
    "The whole thing once more",
    "Repeat the above",
    "ditto",
    "Repeat x1",
)
FIRST_MIRRORED = ("All of that on the other side", "Same again, other foot", "Repeat on the other side", "Mirror that", "Other side", "The same with the other foot", "Opposite foot: repeat the above", "Now the other way", "Change feet and repeat")  # fmt: skip
ASKING, OTHERWISE = (
    0.4,
    0.55,
)  # of the sheets put together one section asks for others; of these something is other in it
REF = re.compile("\0(\\d)")  # what another section is called
WALL = re.compile(r"\b(walls?|time) ([1-9])\b", re.IGNORECASE)


RULE = re.compile(
    r"\b(clap\w*|hands?|arms?|pat|snap|fists?|palms?|always|every|each|all|whole|never|both|twice|double|slow\w*|counts?|beats?|same|means?|repeat\w*|left out)\b|=",
    re.IGNORECASE,
)


class Wholes:
    """Draws whole sheets; ``bodies`` are rows of sections by themselves, ``ends`` groups of ends (ends.groups_of)."""

    def __init__(self, rows: list[Row], bodies: list[Row], talk: list[str], ends: list[Row]) -> None:
        self.sheets = [row for row in rows if any(mark != "C" for mark, _ in row["lines"])]
        self.asks = [row for row in rows if all(mark == "C" for mark, _ in row["lines"])]
        self.fit = {id(row) for row in rows if exchanges(row)}
        self.again = [row for row in self.sheets if any(part["as"] for part in row["sections"])]
        self.ended = [row for row in self.sheets if row["ends"]]
        self.talk, self.ends = talk, ends
        self.bodies: dict[tuple[bool, int], list[Row]] = {}
        for row in bodies:
            if row["counts"] in LENGTHS and not PLAIN.match(row["text"]):
                self.bodies.setdefault((row["seated"], row["counts"]), []).append(row)
        self.heads: dict[bool, list[list[str]]] = {True: [], False: []}
        self.last: list[list[str]] = [[]]
        names: set[str] = set()
        for row in self.sheets:
            marks = [mark for mark, _ in row["lines"]]
            first = next((k for k, mark in enumerate(marks) if mark not in HEAD), 0)
            last = next((k for k in range(len(marks), 0, -1) if marks[k - 1] not in END), 0)
            self.heads[row["seated"]].append(
                [text for line in row["lines"][:first] if not rules(line) for text in line[1:]]
            )
            if "G" not in marks[last:]:
                self.last.append([text for line in row["lines"][last:] if not rules(line) for text in line[1:]])
            names |= {text.strip(BEGINS) for mark, text in row["lines"] if mark == "S" and not re.search(r"\d|first|second|third|[A-H]\b", text)}  # fmt: skip
        self.names = sorted(names)

    def draw(self, rng: random.Random) -> Row:
        """A sheet as it is written or with another head, one that asks, or one put together of sections."""
        kind = rng.random()
        if kind < 0.5 or not self.asks:
            pool = self.again if rng.random() < 0.25 else self.ended if rng.random() < 0.15 else self.sheets
            row = self.headed(self.exchanged(rng.choice(pool or self.sheets), rng), rng)
        elif kind < 0.66:
            row = self.exchanged(rng.choice(self.asks), rng)
            if rng.random() < 0.7:
                head = rng.choice(self.heads[row["seated"]])
                row = {**row, "text": "\n".join([*head, row["text"], *rng.choice(self.last)])}
        else:
            row = self.put_together(rng)
        if rng.random() < 0.5 and not UNFIT.search(row["text"]):
            row = {**row, "text": other_side(row["text"]), "codes": [mirrored_code(c) for c in row["codes"]]}
        return {**row, "text": self.blanks(row["text"], rng)}

    def body(self, rng: random.Random, counts: int, *, seated: bool) -> Row | None:
        pool = self.bodies.get((seated, counts))
        return rng.choice(pool) if pool else None

    def exchanged(self, row: Row, rng: random.Random) -> Row:
        """Other sections in the place of some, where those that ask for them name nothing of their steps."""
        if id(row) not in self.fit or rng.random() < 0.4:
            return row
        lines = [list(line) for line in row["lines"]]
        sections = list(row["sections"])
        new: dict[int, list[str]] = {}
        for k, (part, (start, stop)) in enumerate(zip(sections, row["own"], strict=True)):
            other = self.body(rng, part["counts"], seated=row["seated"])
            if part["as"] or other is None or start == stop or rng.random() < 0.3:
                continue
            signed = BEGINS if lines[start][1].startswith(BEGINS) else ""
            sections[k] = {**part, "codes": other["codes"]}
            new[start] = (signed + other["text"]).split("\n")
            new |= {n: [] for n in range(start + 1, stop)}
        told = [words for n, (_, text) in enumerate(lines) for words in new.get(n, [text])]
        return {**row, "lines": row["lines"] if not new else [("C", t) for t in told], "sections": sections, "text": "\n".join(told),
                "codes": whole_codes(sections, row["ends"])}  # fmt: skip

    def headed(self, row: Row, rng: random.Random) -> Row:
        if rng.random() < 0.65 or row["ends"]:
            return row
        lines = row["lines"]
        first = next((k for k, (mark, _) in enumerate(lines) if mark not in HEAD), 0)
        if not first or any(map(rules, lines)):
            return row
        head = rng.choice(self.heads[row["seated"]])
        return {**row, "text": "\n".join([*head, *(text for _, text in lines[first:])])}

    def put_together(self, rng: random.Random) -> Row:
        if self.ends and rng.random() < 0.22:
            return self.ended_so(rng.choice(self.ends), rng)
        seated = rng.random() < 0.55
        many = rng.choice((1, 2, 2, 3, 4, 4, 5))
        counts = rng.choice((8, 8, 8, 8, 8, 8, 4, 16, 6))
        rows = [row for _ in range(many) if (row := self.body(rng, counts, seated=seated)) is not None]
        if not rows:
            return self.sheet(rng)
        if rng.random() < 0.12:
            k = rng.randrange(len(rows))
            rows[k] = faulty(rows[k], rng) or rows[k]
        sections = [{"codes": row["codes"], "counts": row["counts"], "as": row.get("as")} for row in rows]
        head = list(rng.choice(self.heads[seated])) if rng.random() < 0.85 else []
        end = rng.choice(self.last) if rng.random() < 0.4 else []
        rows, sections = self.asking(rows, sections, rng)
        told = self.flowing(rows, rng) if rng.random() < 0.45 else self.listed(rows, NUMBERED, rng)
        return self.whole([*head, *told, *end], sections, [], seated=seated)

    def whole(self, lines: list[str], sections: list[Row], ends: list[str], *, seated: bool) -> Row:
        return {"seated": seated, "whole": True, "text": "\n".join(lines), "codes": whole_codes(sections, ends)}

    def asking(self, rows: list[Row], sections: list[Row], rng: random.Random) -> tuple[list[Row], list[Row]]:
        """Now and then one section more that asks for one above, or for two, with something other or without."""
        if rng.random() > ASKING or any(part["as"] or part["codes"][:1] == [FAULT] for part in sections):
            return rows, sections
        at = rng.randrange(1, len(rows) + 1)
        found = asked(sections[:at], rng) if rng.random() < OTHERWISE else None
        counts = rows[0]["counts"]
        if found is not None:
            words = found.words.replace("{ref}", f"\0{found.first}").replace("{two}", f"\0{found.second}")
            told = found.told
        else:
            words, told = self.again_of(at, counts, rng)
        row = {**rows[0], "text": words[:1].upper() + words[1:], "counts": counts}
        part = {"codes": [], "counts": counts, "as": told}
        return [*rows[:at], row, *rows[at:]], [*sections[:at], part, *sections[at:]]

    @staticmethod
    def again_of(at: int, counts: int, rng: random.Random) -> tuple[str, list[str]]:
        """Words that ask for one of so many sections, as it is or on the other side, and their codes."""
        mirror, which = rng.random() < 0.5, rng.randrange(at)
        if at == 1 and rng.random() < 0.4:
            words = rng.choice(FIRST_MIRRORED if mirror else FIRST_AGAIN)
        else:
            words = rng.choice(MIRRORED if mirror else AGAIN)
            words = words.format(ref=f"\0{which}", a=which * counts + 1, b=(which + 1) * counts)
        return words, [f"{AS}{which + 1}", *([MIRROR] if mirror else [])]

    def ended_so(self, group: Row, rng: random.Random) -> Row:
        """Sections put together as the dance of a group of ends, with what it leaves out and adds."""
        seated, length = group["seated"], group["length"]
        rows = [self.body(rng, length, seated=seated) for _ in range(group["counts"] // length)]
        if None in rows:
            return self.sheet(rng)
        named = {"numbers": BY_NUMBER, "letters": BY_LETTER}.get(group["named"], NUMBERED)
        ends, said = otherwise(group["ends"], [group["head"], [t for _, t in group["inside"]], group["below"]], rng)
        above, inside, below = said
        told: list[Row] = []
        behind = dict(zip((n for n, _ in group["inside"]), inside, strict=True))
        for k, row in enumerate(rows, 1):
            text = row["text"] + (f"\n{behind[k]}" if k in behind else "")
            told.append({**row, "text": text})
        head = [*rng.choice(self.heads[seated]), *above]
        first = next((k for k, text in enumerate(below) if text.strip()), 0)
        if sum(map(ends.count, ENDS)) == 1 and not inside and below:
            below[first] = ADDS + below[first]
        gap = [""] if rng.random() < 0.6 else []
        last = rng.choice(self.last) if rng.random() < 0.2 else []
        sections = [{"codes": row["codes"], "counts": length, "as": None} for row in told]
        return self.whole([*head, *self.listed(told, named, rng), *gap, *below, *last], sections, ends, seated=seated)

    def sheet(self, rng: random.Random) -> Row:
        return rng.choice(self.sheets)

    def headings(self, rows: list[Row], frames: tuple[str, ...], rng: random.Random) -> list[str]:
        """Headings of one style, or none; where one section asks for another, that is called by its heading."""
        asks = any(REF.search(row["text"]) for row in rows)
        kind = rng.random() if frames is NUMBERED else 1.0
        if kind < 0.15 and not asks:
            return [""] * len(rows)
        if kind < 0.45 and len(self.names) >= len(rows):
            mark = rng.choice(("{}", "{}", "{}:", "* {} *", "{} (8)", "-- {}", "{}."))
            names = rng.sample(self.names, len(rows))
            called = [rng.choice((name, name, name.lower(), f"“{name}”")).strip(" :.*-") for name in names]
            self.call(rows, called)
            return [mark.format(name) for name in names]
        frame, noun = rng.choice(frames), rng.choice(NOUN)
        case = rng.choice((str, str.upper, str.capitalize))
        titled = rng.random() < 0.3 and bool(self.names)
        out, called, at = [], [], 0
        for k, row in enumerate(rows):
            holes = {"n": k + 1, "r": ROMAN[k % 8], "o": ORDINAL[k % 8], "O": ORDINAL[k % 8].capitalize(), "L": "ABCDEFGH"[k % 8], "N": noun, "W": NUMBER[k % 8].capitalize(), "a": at + 1, "b": at + row["counts"]}  # fmt: skip
            at += row["counts"]
            out.append(case(frame.format(**holes)) + (f" {rng.choice(self.names)}" if titled else ""))
            holes["w"] = NUMBER[k % 8]
            called.append(rng.choice(next(ways for sign, ways in CALLED.items() if sign in frame)).format(**holes))
        self.call(rows, called)
        return out

    @staticmethod
    def call(rows: list[Row], called: list[str]) -> None:
        """Put what sections are called in the place of the signs for them."""
        for row in rows:
            text = REF.sub(lambda found: called[int(found[1])], row["text"])
            row["text"] = text[:1].upper() + text[1:] if text != row["text"] else text

    def listed(self, rows: list[Row], frames: tuple[str, ...], rng: random.Random) -> list[str]:
        """Sections below each other, each on lines of its own."""
        names = self.headings(rows, frames, rng)
        gap, joint = rng.random() < 0.6, rng.random() < 0.25
        out: list[str] = []
        for name, row in zip(names, rows, strict=True):
            lines = row["text"].split("\n")
            if joint and name:
                lines[0] = BEGINS + name + rng.choice((": ", " ", " - ")) + lines[0]
            else:
                lines = [name, *lines] if name else lines
                lines[0] = BEGINS + lines[0]
            if rng.random() < 0.15 and self.talk:
                lines.insert(rng.randrange(1, len(lines) + 1), rng.choice(self.talk))
            out += lines + ([""] if gap else [])
        return out

    def flowing(self, rows: list[Row], rng: random.Random) -> list[str]:
        """Sections as paragraphs, or several in one."""
        headed = rng.random() < 0.4 or any(REF.search(row["text"]) for row in rows)
        names = self.headings(rows, NUMBERED, rng) if headed else [""] * len(rows)
        out: list[str] = [""] if rng.random() < 0.5 else []
        said = ""
        for k, (name, row) in enumerate(zip(names, rows, strict=True)):
            words = " ".join(line.strip() for line in row["text"].split("\n"))
            words = re.sub(r"([^.!?;:,])\s*$", r"\1.", words)
            lead = f"{name.rstrip(':. ')}{rng.choice((': ', '. ', ', '))}" if name else rng.choice(LEADS) if k else ""
            if lead and lead[-2:] in ("n ", "w ", "e ", ", "):
                words = words[:1].lower() + words[1:]
            words = BEGINS + lead + words
            if rng.random() < 0.15 and self.talk:
                words += " " + rng.choice(self.talk)
            said = f"{said} {words}".strip()
            if rng.random() < 0.6:
                out += [said, *([""] if rng.random() < 0.5 else [])]
                said = ""
        return [*out, said] if said else out

    @staticmethod
    def blanks(text: str, rng: random.Random) -> str:
        """Blank lines left out, or lines parted by them, now and then; all in capitals or small letters."""
        kind = rng.random()
        if kind < 0.1:
            text = re.sub(r"\n\s*\n+", "\n", text)
        elif kind < 0.15:
            text = text.replace("\n", "\n\n")
        if kind > 0.95:
            return text.upper()
        return text.lower() if kind > 0.92 else text


def rules(line: tuple[str, str]) -> bool:
    """Whether a remark may say how all sections are danced."""
    return line[0] == "N" and RULE.search(line[1]) is not None


def exchanges(row: Row) -> bool:
    """Whether sections of a sheet may be others: it is known which words are theirs, and none leans on another but as a whole."""
    if not row.get("own") or any(map(rules, row["lines"])):
        return False
    texts = ["\n".join(text for _, text in row["lines"][start:stop]) for start, stop in row["own"]]
    own = [words_in(text.split("\n")) for text in texts]
    for k, part in enumerate(row["sections"]):
        if not texts[k].strip(BEGINS + " \n") or part["codes"][:1] == ["fault"]:
            return False
        if part["as"]:
            if any(own[k] & own[source] for source in sources_in(part["as"])) or not says_where(part, texts[k]):
                return False
        elif (k and (LEANS.search(texts[k]) or not len(texts[k]) > 20)) or (
            BACK.search(texts[k]) and LEANS.search(texts[k]) and k
        ):
            return False
    return True


def says_where(part: Row, words: str) -> bool:
    """Whether it is said on which counts something is other in a section, so that it stays so when another is asked for."""
    other = set(counts_of_its_own(part["as"]))
    return other <= {part["counts"] - 1, part["counts"]} or other <= set(map(int, re.findall(r"\d+", words)))


def otherwise(ends: list[str], said: list[list[str]], rng: random.Random) -> tuple[list[str], list[list[str]]]:
    """Ends on other walls, where their words name each wall as a number behind "wall"."""
    walls = sorted({code[5:] for code in ends if code.startswith("wall:") and code[5:].isdigit()})
    whole = "\n".join(text for lines in said for text in lines)
    named = {m[2] for m in WALL.finditer(whole)}
    numbers = set(re.findall(r"(?<!\d)\d(?!\d)", WALL.sub("", whole)))
    if (
        rng.random() < 0.4
        or not walls
        or any(len(wall) > 1 for wall in walls)
        or not named >= set(walls)
        or numbers & set(walls)
    ):
        return ends, [list(lines) for lines in said]
    kept = [w for w in named if w not in walls]
    new = dict(zip(walls, sorted(rng.sample([w for w in "23456789" if w not in kept], len(walls))), strict=True))
    told = [[WALL.sub(lambda m: f"{m[1]} {new.get(m[2], m[2])}", text) for text in lines] for lines in said]
    return [f"wall:{new.get(code[5:], code[5:])}" if code.startswith("wall:") else code for code in ends], told
