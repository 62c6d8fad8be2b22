"""What stands around the steps: title and facts, headings, restarts, and the lines over tags and endings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.dance.facing import clock
from softshoe.dance.feet import Weight
from softshoe.wording.headings import heading_of, kind_of
from softshoe.wording.titles import title_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from softshoe.dance.dance import Dance, Ending, Restart, Section, Tag
    from softshoe.wording.write_book import Book


def header(dance: Dance, book: Book) -> list[str]:
    """Return the lines above the steps: the title, then its facts, one a line or in one."""
    facts = _facts(dance, book)
    parted = book.style.head
    return [_title(dance.title, book), *([parted.join(facts)] if parted else facts)]


def _title(title: str, book: Book) -> str:
    """Return the line of the title, bare where it is read as that title, else behind its name."""
    bare = book.say("head", "named", title=title)
    there = title_of(bare) == title and heading_of(bare) is None and not kind_of(bare) and not title[:1].isdigit()
    return bare if there else book.say("head", "title", title=title)


def _facts(dance: Dance, book: Book) -> list[str]:
    facts = [book.say("head", "counts", n=dance.counts)]
    if dance.walls:
        facts.append(book.say("head", f"walls {dance.walls}", "walls", n=dance.walls))
    if dance.level:
        facts.append(book.say("head", "level", level=book.say("level", dance.level)))
    if dance.tempo_bpm is not None:
        facts.append(book.say("head", "tempo", n=_tempo(dance.tempo_bpm)))
    if dance.intro_counts is not None:
        facts.append(book.say("head", "intro", n=dance.intro_counts))
    if dance.metre != "4/4":
        facts.append(book.say("head", "time", n=dance.metre))
    if dance.seated:
        facts.append(book.say("head", "seated"))
    elif dance.start_weight is not Weight.SEAT:
        facts.append(book.say("head", f"start {dance.start_weight.value}"))
    return facts


def notes(dance: Dance) -> list[str]:
    """Return the notes that the sheet kept as written, to stand below the steps."""
    return [words for _, words in dance.kept if kind_of(words.strip()) == "note"]


def _tempo(tempo: float | tuple[float, float]) -> str:
    return f"{tempo[0]:g}-{tempo[1]:g}" if isinstance(tempo, tuple) else f"{tempo:g}"


def heading(section: Section, book: Book) -> str:
    """Return the line over a section."""
    first = int(section.start.at)
    return book.say("section", "", number=section.number, first=first, last=first + int(section.length.n) - 1)


def restart_line(restart: Restart, book: Book) -> str:
    """Return the line that tells a restart."""
    return book.say("extra", "restart", walls=walls_words(restart.walls, book), after=restart.after_count)


def tag_line(tag: Tag, book: Book) -> str:
    """Return the line over a tag's steps."""
    walls = walls_words(tag.walls, book)
    return book.say("extra", f"tag {tag.then}", n=tag.counts, walls=walls, after=tag.after_count)


def ending_line(ending: Ending, book: Book) -> str:
    """Return the line over an ending's steps."""
    key = "ending last" if ending.wall == "last" else "ending"
    start = clock(ending.start_facing_deg)
    return book.say("extra", key, n=ending.counts, wall=ending.wall, clock=start, after=ending.after_count)


def walls_words(walls: Sequence[int], book: Book) -> str:
    """Return on which walls: "on wall 2", "on walls 2 and 4"."""
    name = book.say("extra", "wall" if len(walls) == 1 else "walls")
    last = book.say("join", "last")
    return f"{name} " + last.join(", ".join(map(str, walls)).rsplit(", ", 1))
