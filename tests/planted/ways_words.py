"""Slips of words: misspelled and unknown steps, hands asked for too much, what a chair can't do, other matter."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from .pool import COPIES, LABEL, Sheet, Slip

if TYPE_CHECKING:
    from collections.abc import Iterator

VERBS = ("touch", "cross", "recover", "point", "shuffle", "coaster", "stomp", "sailor", "scuff", "hitch",
         "pivot", "march", "brush", "chasse", "kick", "heel", "step", "rock", "walk", "clap", "raise", "lower",
         "reach")  # fmt: skip
VERB = re.compile(rf"\b({'|'.join(VERBS)})\b", re.I)
NONSENSE = ("zwoggle", "flumph", "plimber", "quoddle", "brindle")
ALIKE = ("dropped letter", "swapped letters", "doubled letter")


def misspelt(word: str, how: int) -> str:
    """The word with one slip of the typing hand."""
    k = len(word) // 2
    if how == 0:
        return word[:k] + word[k + 1 :] if len(word) > 5 else word[:k] + word[k + 1] + word[k] + word[k + 2 :]
    return word[:k] + word[k + 1] + word[k] + word[k + 2 :] if how == 1 else word[: k + 1] + word[k] + word[k + 1 :]


def a_word_misspelt(sheet: Sheet) -> Iterator[Slip]:
    """A step's name has letters swapped, dropped or doubled; the word meant is offered."""
    for number in sheet.on_line:
        line = sheet.lines[number - 1]
        words = list(VERB.finditer(line))
        if len(words) == 1 and len(words[0][1]) > 4:
            how = (number + len(line)) % 3
            at = words[0]
            word = misspelt(at[1], how)
            if word.casefold() != at[1].casefold():
                text = sheet.with_line(number, line[: at.start()] + word + line[at.end() :])
                yield Slip(sheet.name, ALIKE[how], "word", text, number, "warning")


def a_word_of_no_table(sheet: Sheet) -> Iterator[Slip]:
    """A step's name is one that nobody knows."""
    for number, done in sheet.on_line.items():
        line = sheet.lines[number - 1]
        words = list(VERB.finditer(line))
        alone = len(words) == 1 and len(done) == 1 and done[0][0].action.verb not in ("hold",)
        if (
            alone
            and not COPIES.search(line)
            and not re.search(r"turn|pivot|1/|quarter|half|swing|\band\b|,|\bdig|taps", line)
        ):
            at = words[0]
            word = NONSENSE[number % 5]
            word = word.upper() if at[1].isupper() else word.capitalize() if at[1][0].isupper() else word
            text = sheet.with_line(number, line[: at.start()] + word + line[at.end() :])
            yield Slip(sheet.name, "unknown word", "word", text, number)


TOO_MUCH = (
    (r"\bclaps?\b", " and put both hands on the hips"), (r"\bclaps?\b", " and reach both arms forward"),
    (r"\bpats? (?:the |both |your )?(?:thighs|knees)\b", " and clap"),
    (r"\boverhead\b", " and rest both hands in the lap"), (r"\bsnap(?: the)?(?: fingers)?\b", " and pat both thighs"),
    (r"\bboth (?:hands|arms) [a-z]+ forward at chest height\b", " and clap"),
    (r"\bcross both arms on the chest\b", " and reach both arms forward"),
)  # fmt: skip


def a_hand_asked_for_two_things(sheet: Sheet) -> Iterator[Slip]:
    """The hands are asked for one thing more at the moment they are busy."""
    for number, done in sheet.on_line.items():
        line = sheet.lines[number - 1]
        for k, (busy, more) in enumerate(TOO_MUCH):
            places = list(re.finditer(busy, line, re.I))
            if len(places) == 1 and any(e.action.arms for e, _ in done) and (number + k) % 2:
                rest = line[places[0].end() :]
                if re.match(r"\s*(?:$|[,.;|(]|on \d)", rest):
                    extra = more.upper() if line.isupper() else more
                    text = sheet.with_line(number, line[: places[0].end()] + extra + rest)
                    yield Slip(sheet.name, f"hands {k}", "arms", text, number)


NOT_ON_A_CHAIR = (
    "jump with both feet", "pivot half a turn to the left", "hop on the right foot",
    "step the right foot forward with a quarter turn to the right",
    "unwind half a turn to the left", "kick both feet forward",
)  # fmt: skip


def what_a_chair_cannot(sheet: Sheet) -> Iterator[Slip]:
    """A seated sheet asks for a jump, a pivot, a hop, a turn."""
    if not sheet.dance.seated or sheet.columns or sheet.has("for count"):
        return
    for number, done in sheet.on_line.items():
        line = sheet.lines[number - 1]
        label = LABEL.match(line)
        if label and not label[2] and len(done) == 1 and "|" not in line and "\t" not in line:
            rest = line[label.end() :]
            gap = rest[: len(rest) - len(rest.lstrip(" :.)"))] or " "
            words = NOT_ON_A_CHAIR[number % 6]
            words = words.upper() if line.isupper() else words
            text = sheet.with_line(number, line[: label.end()] + gap + words)
            yield Slip(sheet.name, f"chair {number % 6}", "seated", text, number)
        for swap, words in SWAPS:
            at = re.search(swap, line, re.I)
            if at and len(re.findall(swap, line, re.I)) == 1:
                new = words.upper() if line.isupper() else words
                text = sheet.with_line(number, line[: at.start()] + new + line[at.end() :])
                yield Slip(sheet.name, f"chair swap {words}", "seated", text, number)


SWAPS = ((r"\bclap, clap\b", "jump, hold"), (r"\bhold\b(?=$|,)", "jump"), (r"\bclap\b(?=$)", "hop on the left foot"))


def a_line_of_other_matter(sheet: Sheet) -> Iterator[Slip]:
    """A line among the steps that holds none."""
    words = ("My cousin brought the cake for us", "we had such a nice supper on Friday",
             "the caretaker has the key to the hall", "thank Doris for the jam")  # fmt: skip
    numbers = sorted(sheet.on_line)
    within = [n for n in numbers[2:] if n + 1 in numbers and not any(s.line == n + 1 for s in sheet.dance.sections)]
    if len(within) > 3 and not sheet.copied and not sheet.columns:
        number = within[len(within) // 2]
        text = sheet.with_after(number, words[number % 4])
        yield Slip(sheet.name, "other matter", "unread", text, number + 1, "warning")


WAYS = (
    a_word_misspelt, a_word_of_no_table, a_hand_asked_for_two_things, what_a_chair_cannot, a_line_of_other_matter,
)  # fmt: skip
