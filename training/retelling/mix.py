"""More sections out of those at hand: mirrored, put together of halves, with talk between, dressed otherwise."""

from __future__ import annotations

import random
import re
from typing import Any

from compose import Composer
from faults import faulty
from reworded import reworded
from sides import BACK, UNFIT, other_side
from wholes import Wholes

from softshoe.wording.retell_codes import mirrored as mirrored_code

Row = dict[str, Any]
FIRST = re.compile(
    r"^\W*(?:counts? |on |beats? )?(1\s*[-–—to&,. ]+\s*4|1\s*,\s*2\s*,\s*3\s*,\s*4|1-4|one to four|first (?:four|4)[a-z ]*)\b",
    re.IGNORECASE,
)
SECOND = re.compile(
    r"^\W*(?:counts? |on |beats? )?(5\s*[-–—to&,. ]+\s*8|5\s*,\s*6\s*,\s*7\s*,\s*8|5-8|five to eight|(?:last|next|second) (?:four|4)[a-z ]*)\b",
    re.IGNORECASE,
)
BEARS = {"step", "rock", "recover", "sway", "lunge", "stomp", "drop", "grind", "pivot", "hop"}
SAME_KIND = [["kick", "scuff", "brush", "flick"], ["clap", "snap"]]


def mirrored(row: Row) -> Row:
    if UNFIT.search(row["text"]):
        return row
    return {**row, "text": other_side(row["text"]), "codes": [mirrored_code(c) for c in row["codes"]]}


def last_foot(codes: list[str], before: int) -> str | None:
    """The foot that bears before a count, as far as codes tell."""
    foot, found, at = None, None, 0
    for code in codes:
        if re.fullmatch(r"c\d+", code):
            at = int(code[1:])
            foot = None
        if at >= before:
            break
        if code.startswith("foot:"):
            foot = code[5:]
        if code in BEARS and foot:
            found = foot
    return found


def cut_in_halves(row: Row) -> tuple[tuple[str, list[str]], tuple[str, list[str]], str | None] | None:
    """The first four counts and the last, each with its words, where lines say so and the second does not look back."""
    lines = [line for line in row["text"].split("\n") if line.strip()]
    if row["counts"] != 8 or len(lines) < 2:
        return None
    cut = next(
        (
            k
            for k, line in enumerate(lines)
            if (k and re.match(r"\W*(counts? )?5\b", line, re.IGNORECASE)) or (k and SECOND.match(line))
        ),
        None,
    )
    if cut is None and len(lines) == 2 and not re.search(r"\d", row["text"]):
        cut = 1
    if cut is None or (re.search(r"\b[5-8]\b", " ".join(lines[:cut])) or BACK.search(" ".join(lines[cut:]))):
        return None
    if re.search(r"\b[1-4]\b(?! ?(count|ct|beat|time|wall))", " ".join(lines[cut:])) and not re.search(
        r"\(\d\)|\bfor \d", " ".join(lines[cut:])
    ):
        return None
    at = [k for k, code in enumerate(row["codes"]) if re.fullmatch(r"c\d+", code)]
    late = next((k for k in at if int(row["codes"][k][1:]) >= 5), None)
    if late is None:
        return None
    told = len(lines) == 2 and cut == 1 and not re.search(r"\d", row["text"])
    kind = "bare" if told else "told"
    first, second = ("\n".join(lines[:cut]), row["codes"][:late]), ("\n".join(lines[cut:]), row["codes"][late:])
    if kind == "bare" and 2 * sum(c.startswith("c") and c[1:].isdigit() for c in first[1]) != sum(
        c.startswith("c") and c[1:].isdigit() for c in row["codes"]
    ):
        return None
    return first, second, f"{kind}{row['seated']}{None if row['seated'] else last_foot(row['codes'], 5)}"


class Mixer:
    """Draws training sections; ``talk`` are remarks that mean no step, ``more`` are rows that are drawn as often as their share says."""

    def __init__(
        self,
        rows: list[Row],
        talk: list[str],
        more: list[tuple[float, list[Row]]] | None = None,
        whole: tuple[float, list[Row]] | None = None,
        ends: list[Row] | None = None,
    ) -> None:
        self.rows, self.talk, self.more = rows, talk, more or []
        self.share = whole[0] if whole else 0.0
        bodies = [*rows, *(row for _, rs in self.more for row in rs)]
        self.wholes = Wholes(whole[1], bodies, talk, ends or []) if whole else None
        self.composer = Composer(rows)
        self.labelled = [row for row in rows if faulty(row, random.Random(1)) or faulty(row, random.Random(2))]
        self.halves: dict[str, tuple[list[Any], list[Any]]] = {}
        for row in rows:
            for one in (row, mirrored(row)):
                found = cut_in_halves(one)
                if found:
                    firsts, seconds = self.halves.setdefault(str(found[2]), ([], []))
                    firsts.append(found[0])
                    seconds.append(found[1])

    def draw(self, rng: random.Random) -> Row:
        if self.wholes is not None and rng.random() < self.share:
            return self.dressed(self.wholes.draw(rng), rng)
        kind = rng.random()
        if kind < 0.12:
            row = faulty(mirrored(rng.choice(self.labelled)) if rng.random() < 0.5 else rng.choice(self.labelled), rng)
            if row is not None:
                return self.dressed(row, rng)
        if kind < 0.33:
            return self.dressed(self.composer.draw(rng), rng)
        if kind < 0.5 and self.halves:
            keys = list(self.halves)
            firsts, seconds = self.halves[rng.choices(keys, [len(self.halves[k][0]) for k in keys])[0]]
            a, b = rng.choice(firsts), rng.choice(seconds)
            row = {"seated": "", "text": a[0] + "\n" + b[0], "codes": [*a[1], *b[1]], "counts": 8}
            row["seated"] = next(k for k, v in self.halves.items() if v[0] is firsts).find("True") > 0
        else:
            row = rng.choice(self.pool(rng))
            if rng.random() < 0.5:
                row = mirrored(row)
        return self.dressed(row, rng)

    def pool(self, rng: random.Random) -> list[Row]:
        """Return the rows to draw one from."""
        at = rng.random()
        for share, rows in self.more:
            if at < share:
                return rows
            at -= share
        return self.rows

    def dressed(self, row: Row, rng: random.Random) -> Row:
        text, codes = reworded(row["text"], rng), row["codes"]
        if rng.random() < 0.2:
            text, codes = self.other_action(text, codes, rng)
        if rng.random() < 0.25 and self.talk:
            lines = text.split("\n")
            k = rng.randrange(len(lines))
            said = rng.choice(self.talk)
            glue = " " if said[0] in "(,–-" or lines[k].rstrip()[-1:] in ".!?)" else rng.choice([". ", " - ", "\n"])
            lines[k] = lines[k] + glue + said if rng.random() < 0.9 or said[0] in "(,–-" else said + "\n" + lines[k]
            text = "\n".join(lines)
        if rng.random() < 0.08:
            text = re.sub(r"\n+", lambda _: rng.choice([" ", ". ", "; ", " / "]), text)
        elif rng.random() < 0.12:
            text = re.sub(r"\. (?=[A-Z])", lambda _: rng.choice([".\n", ". ", " "]), text)
        if rng.random() < 0.15:
            text = re.sub(r", ", lambda _: rng.choice([", ", " ", "; ", " - ", ", then "]), text)
        if rng.random() < 0.1:
            text = text.replace(" - ", rng.choice([": ", " ", " – "]))
        if rng.random() < 0.1:
            text = re.sub(r"[.!]$", "", text)
        if rng.random() < 0.06:
            text = self.misspelt(text, rng)
        if rng.random() < 0.08:
            text = re.sub(r"(?m)^(\W*)(?=[A-Za-z0-9])", lambda m: rng.choice(["- ", "* ", "• ", ""]) + m[1], text)
        if rng.random() < 0.1:
            text = re.sub(
                r"(?<![\w:/½¼])([1-8])\s?[-–]\s?([1-8])(?![\w:/])",
                lambda m: m[1] + rng.choice(["-", " - ", " to ", "–", "/", ", "]) + m[2],
                text,
            )
        return {**row, "text": text, "codes": codes}

    @staticmethod
    def misspelt(text: str, rng: random.Random) -> str:
        words = re.findall(r"[A-Za-z]{5,}", text)
        if not words:
            return text
        word = rng.choice(words)
        k = rng.randrange(1, len(word) - 1)
        return text.replace(word, word[:k] + rng.choice(["", word[k] * 2, word[k + 1] + word[k]]) + word[k + 1 :], 1)

    @staticmethod
    def other_action(text: str, codes: list[str], rng: random.Random) -> tuple[str, list[str]]:
        for kin in SAME_KIND:
            for one in kin:
                said = re.findall(rf"\b{one}", text, re.IGNORECASE)
                mark = one if one in BEARS or one not in ("clap", "snap") else f"hand:{one}"
                if (
                    said
                    and mark in codes
                    and not any(re.search(rf"\b{o}", text, re.IGNORECASE) for o in kin if o != one)
                ):
                    new = rng.choice([o for o in kin if o != one])
                    newmark = new if mark == one else f"hand:{new}"
                    if one == "kick" and "dir:forward" not in codes:
                        continue
                    return re.sub(rf"\b{one}", new, text, flags=re.IGNORECASE), [
                        newmark if c == mark else c for c in codes
                    ]
        return text, codes
