"""The dance's name: in the first line, behind a key ("Dance: …"), or below a letter's greeting."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from softshoe.wording.shape import shape

if TYPE_CHECKING:
    from collections.abc import Sequence

LONGEST_SENTENCE = 300

REMARK = shape(
    r"\s*[(\[](?=[^)\]]*\b(?:\d+\s?[cw]|seated|chair|chairs|sitting|sit|standing|stand|count|counts|cts|wall|walls|beginner|impr|"
    r"improver"
    r"|intermediate|advanced|bpm|level|dance|waltz|spoken|any ability|step sheet|line dance)\b)[^)\]]*[)\]]",
    re.IGNORECASE,
)
CALLED = shape(
    r"\b(?:it['’]s|it is|this is|is|dance|one|and)\s+called\s+[\"“'‘]?([^\s\"“][^,.;:!?\"”()]*)", re.IGNORECASE
)
TITLE_WORD = shape(
    r"^\W*(?:(?:the |our |this (?:week's |month's )?)?(?:title|subject|re|fwd?|dance|dance name|dance title|"
    r"name(?: of (?:the |this )?dance)?|step ?sheet(?: for)?|sheet(?: for)?))"
    r"\s*(?:[:=|\t]|\.{2,}|\s{2,}|[–—-](?=\s)|is\s+called\b|is(?=\s+[\"“'‘A-Z]))\s*",
    re.IGNORECASE,
)
STEPS_OF = shape(
    r"^\W*(?:(?:an?\s+|the\s+)?walk-?\s?through\s+(?:of\s+|for\s+|to\s+)?(?=[\"“'‘])|"
    r"(?:the\s+)?(?:steps|step ?sheet)\s+(?:of|for|to)\s+|how to dance\s+|"
    r"(?:(?:our|my|this|the|today['’]s)\s+)?(?:new\s+)?(?:line )?dance\s+(?:for|of)\s+(?:the\s+)?\w+\s*:"
    r"\s*(?=[^\W\d]))",
    re.IGNORECASE,
)
DATA = shape(
    r"(?:\s{2,}|(?<=[a-z]{3})\.\s+|\t|\s*//|\s*[|•]|\s+[.·*–—~>+-]+\s+|\s*\.{2,}\s*|!+\s*|\s(?=\d+\s*(?:bpm|counts?|cts?|walls?)\b)|\s*[,;]\s*|\s*:\s*|\s*/\s*)(?=[^\n]*?(?:\b(?:\d+|one|two|four|"
    r"sixteen|thirty[- ]two|twenty[- ]four"
    r"|forty[- ]eight|sixty[- ]four|eight|twelve)[\s-]*(?:counts?|cts?|c|walls?|w|bpm|beats?)\b|\b(?:absolute|"
    r"beginner|improver|impr|intermediate|advanced"
    r"|seated|chairs?|sitting|level|bpm|intro|waltz in|any ability|everybody|dance for|an? (?:[a-z]+ )?(?:waltz|polka)$"
    r"|line dance|AB)\b))",
    re.IGNORECASE,
)


PICTURES = shape(r"^[\u2190-\u2bff\ufe0f\U0001f000-\U0001faff\s*_]+|[\u2190-\u2bff\ufe0f\U0001f000-\U0001faff\s*_]+$")


def title_of(line: str) -> str:
    """Return the dance's name from the first line, without remarks and header data behind it.

    >>> title_of("Ten O'Clock Tap        4 counts, 1 wall, beginner")
    "Ten O'Clock Tap"
    >>> title_of("Cushion Cove: a sitting dance for everybody")
    'Cushion Cove'
    """
    called = CALLED.search(line[:LONGEST_SENTENCE])
    if called:
        return called[1].strip()
    text = TITLE_WORD.sub("", line[:LONGEST_SENTENCE].strip())
    text = REMARK.sub("", STEPS_OF.sub("", text))
    cut = DATA.search(text)
    if cut and cut.start() > 0:
        text = text[: cut.start()]
    text = BY_LINE.sub("", SHEET_OF.sub("", AS_TOLD.sub("", text)))
    text = SEATED_BEHIND.sub("", TALK_BEHIND.sub("", text))
    bare = PICTURES.sub("", text.strip(" \t\"“”'*#=_~|:;,.<>-–—")).strip(" \t*_#")
    return " ".join(bare.split()) if bare else line.strip()


# "Red Kettle - chair", "Red Kettle chair dance", "Red Kettle seated"; "Behind the Blue Chair" and "Be Seated" are names
SEATED_BEHIND = shape(
    r"(?:\s*[-–—,:]\s*(?:seated|chair)|\s+(?:chair|seated) dance)$|(?-i:(?<=[a-z])\s+seated$)",
    re.IGNORECASE,
)
# "Harbour Bell by Pip Rowntree"; "Stand By Me" and "Down by the Weir" are names
BY_LINE = shape(r"(?<=\S)\s*[,(–—-]?\s+\(?by\s+(?:[A-Z][\w.'’-]*(?:\s+(?:and|&)\s+|\s+|\W*$)){2,}\W*$")
SHEET_OF = shape(
    r"\s+[-–—:]\s+(?:the\s+|an?\s+)?(?:instructions?|directions?|step ?sheets?|steps|sheet|walk-?through|script|"
    r"handout|notes)\b.*$",
    re.IGNORECASE,
)
AS_TOLD = shape(  # "Parlour Patter - as Pip says it on the practice tape"
    r"\s*(?:[,(:–—-]|\s)\s*as\s+(?:we\s+|[A-Z][\w.'’-]*\s+){0,2}(?:says?|calls?|teach(?:es)?|taught|tells?|told|danc\w+|do(?:es)?|"
    r"writes?|written|shows?|shown)\b.*$"
)
# "Red Kettle, which I made up for Doris"
TALK_BEHIND = shape(r"(?<=\w)\s*[,(–—-]\s*(?:which|that)\s+(?:I|we|you)\s+.*$")
GREETING = shape(
    r"^\W*(?:hello|hi|hiya|hallo|dear|good (?:morning|day|afternoon|evening)|greetings|morning|welcome|hey)\b",
    re.IGNORECASE,
)
ADDRESSED = shape(
    r"\b(?:all|everyone|everybody|folks?|friends?|dancers?|ladies|gentlemen|team|class|group|again|there|you|love|dears?|my)\b",
    re.IGNORECASE,
)
KEYED = shape(
    r"^\W*(?:title|(?:the |our |this week's )?dance(?: name| title)?|"
    r"(?:the )?name(?: of (?:the |this )?dance)?)\s*[:=]\s*(?=\S)",
    re.IGNORECASE,
)
MAIL = shape(r"^\W*(?:from|to|cc|sent|date)\s*:", re.IGNORECASE)
SUBJECT = shape(r"^\W*(?:subject|re|fwd?)\s*:\s*(?=\S)", re.IGNORECASE)
LONGEST_NAME = 7  # words


def title_among(lines: Sequence[tuple[int, str]], first: str) -> str:
    """Return the dance's name from the header lines (number, text); a letter's greeting is none.

    >>> title_among([(1, "Hello everyone,"), (3, "Dance: Ginger Snap")], "Hello everyone,")
    'Ginger Snap'
    """
    if not _is_letter(lines, first) or CALLED.search(first[:LONGEST_SENTENCE]):
        return title_of(first)
    rest = [text for _, text in lines if text != first]
    keyed = next((text for text in rest if KEYED.match(text)), None)
    called = next((m for text in rest if (m := CALLED.search(text[:LONGEST_SENTENCE]))), None)
    if keyed is not None:
        return title_of(keyed)
    if called is not None:
        return called[1].strip()
    subject = next((text for text in rest if SUBJECT.match(text)), None)
    if subject is not None:
        return title_of(subject)
    named = (text for text in rest if len(text.split()) <= LONGEST_NAME and not re.search(r"\d|[.,:;!?]\s*$", text))
    return title_of(next(named, first))


def _is_letter(lines: Sequence[tuple[int, str]], first: str) -> bool:
    """Return whether the first line greets: "Hello everyone!"; straight over its facts "Hello, Holly!" is a name."""
    if MAIL.match(first) or first.rstrip().endswith(","):
        return True
    found = GREETING.match(first)
    called = first[found.end() :].strip() if found is not None else ""
    if found is None or not called or ADDRESSED.search(called):
        return found is not None
    if called[-1] not in "!.:–—-":
        return len(called.split()) == 1
    numbers = [number for number, text in lines if text == first]
    return not numbers or numbers[0] + 1 not in (number for number, _ in lines)
