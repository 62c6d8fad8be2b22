"""index.html: one page that shows everything in a folder, from disk and without scripts; any part may be missing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING
from urllib.parse import quote

from softshoe.render.report_rows import finding_rows
from softshoe.render.sheet_content import head_words

if TYPE_CHECKING:
    from pathlib import Path

    from softshoe.dance.dance import Dance
    from softshoe.fit.run import Run
    from softshoe.music.songmap import SongMap

FILMS = ("*.mp4", "*.webm")
TRACKS = ("*.mp3", "*.m4a", "*.ogg", "*.wav")
PAPERS = {
    "sheet.pdf": "The step sheet, to print",
    "sheet-large.pdf": "The step sheet in large print",
    "sheet-giant.pdf": "The step sheet in giant print",
    "everyone.pdf": "All versions side by side, for a mixed room",
    "everyone-large.pdf": "All versions one under the other, in large print",
    "everyone-giant.pdf": "All versions one under the other, in giant print",
    "pictures.pdf": "A picture for each count",
    "floor.pdf": "The floor from above: where the feet land",
    "leader.pdf": "One page to lead from",
    "run.pdf": "A picture of the dance on the song: phrases above, walls below",
    "sheet.html": "The step sheet as a page for the browser",
    "sheet.txt": "The step sheet as plain text",
    "sheet.brf": "The step sheet as braille, for an embosser or a braille display",
}
VALUES = {
    "dance.json": "the dance",
    "song.json": "the song",
    "run.json": "how the dance lies on the song",
    "lesson.txt": "the walkthrough in words: read it, lead from it, change it",
    "lesson.json": "the walkthrough in seconds",
}
FILM_WORDS = {
    "walkthrough": ("The walkthrough", "Slow, without the song: each section shown, said and written."),
    "dance-seated": ("The dance, seated", "At tempo, from the first count to the ending."),
    "dance-standing": ("The dance, standing", "At tempo, from the first count to the ending."),
    "dance-supported": ("The dance, behind a chair", "At tempo, from the first count to the ending."),
    "dance-arms": ("The dance, arms only", "At tempo, from the first count to the ending."),
    "dance-left": ("The dance, left side only", "At tempo, from the first count to the ending."),
    "dance-right": ("The dance, right side only", "At tempo, from the first count to the ending."),
}
EDITION_WORDS = {
    "portrait": "Upright, for a phone.",
    "reduced-motion": "Each pose stands until the next; nothing moves between.",
    "high-contrast": "White on black, with strong colours.",
}


@dataclass(frozen=True, slots=True)
class Shown:
    """One film or track: its name and words, the file, and beside it captions and chapters where they lie there.

    ``captions_here`` and ``chapters_here`` are these themselves, as addresses that hold their words: a page opened from
    disk may play the film beside it, but browsers let it read no captions from another file.
    """

    name: str
    words: str
    href: str
    captions: str = ""
    captions_here: str = ""
    chapters_here: str = ""


@dataclass(frozen=True, slots=True)
class Drawn:
    """A picture of our own."""

    svg: str


@dataclass(frozen=True, slots=True)
class Linked:
    """A file to open: its address in the folder and what it is."""

    href: str
    name: str
    words: str


def index_html(
    dance: Dance, folder: Path, run: Run | None = None, song: SongMap | None = None, *, song_name: str = ""
) -> str:
    """Return the page for what lies in the folder now; ``dance`` with all that was found, the fit's findings too."""
    from softshoe.render.html import page_html
    from softshoe.render.report import verdict

    sheet = folder / "sheet.txt"
    return page_html("index.html", {
        "verdict": verdict(dance, dance.findings, run), "findings": finding_rows(dance.findings, ()),
        "sheet": sheet.read_text("utf-8") if sheet.is_file() else "",
        "fit": _fit(dance, run, song, song_name) if run and song else None,
        "title": dance.title or "A dance without a name", "head": " ".join(head_words(dance, run, None)),
        "films": _shown(folder, FILMS), "tracks": _shown(folder, TRACKS), "papers": _linked(folder, PAPERS),
        "versions": _versions(folder), "report": (folder / "report.html").exists(), "values": _linked(folder, VALUES),
    })  # fmt: skip


def _fit(dance: Dance, run: Run, song: SongMap, name: str) -> Drawn:
    from softshoe.render.fit_file import fit_picture

    return Drawn(fit_picture(dance, run, song, name, kind=".svg").decode("utf-8"))


def _here(path: Path) -> str:
    """A text file as an address that holds it, "" where there is none."""
    return f"data:text/vtt;charset=utf-8,{quote(path.read_text('utf-8'))}" if path.is_file() else ""


def _address(name: str) -> str:
    return quote(name)


def _linked(folder: Path, known: dict[str, str]) -> tuple[Linked, ...]:
    return tuple(Linked(_address(n), n, words) for n, words in known.items() if (folder / n).exists())


def _versions(folder: Path) -> tuple[Linked, ...]:
    """Sheets and pictures of versions, sheet-seated.pdf and the like, besides those named in the table."""
    return tuple(
        Linked(_address(path.name), path.name, f"{words}: {path.stem.removeprefix(f'{kind}-').replace('-', ' ')}")
        for kind, words in (("sheet", "The step sheet"), ("pictures", "A picture for each count"))
        for path in sorted(folder.glob(f"{kind}-*.pdf"))
        if path.name not in PAPERS
    )


def _shown(folder: Path, patterns: tuple[str, ...]) -> tuple[Shown, ...]:
    paths = sorted({p for pattern in patterns for p in folder.glob(pattern)}, key=_order)
    return tuple(_one(path) for path in paths)


def _order(path: Path) -> tuple[int, list[tuple[int, str]]]:
    first = list(FILM_WORDS).index(path.stem) if path.stem in FILM_WORDS else len(FILM_WORDS)
    return first, [(int(part) if part.isdigit() else 0, part) for part in path.stem.split("-")]


def _one(path: Path) -> Shown:
    name, words = _film_words(path.stem) or _track_words(path.stem)
    captions, chapters = path.with_suffix(".vtt"), path.with_name(f"{path.stem}-chapters.vtt")
    beside = _address(captions.name) if captions.is_file() else ""
    return Shown(name, words, _address(path.name), beside, _here(captions), _here(chapters))


def _film_words(stem: str) -> tuple[str, str] | None:
    """A film's name and words; what follows the name of the plain film is its edition."""
    for base, (name, words) in FILM_WORDS.items():
        if stem == base:
            return name, words
        if stem.startswith(f"{base}-"):
            told = [say for part, say in EDITION_WORDS.items() if part in stem]
            return f"{name}: {stem.removeprefix(base)[1:].replace('-', ' ')}", " ".join(told) or words
    return None


def _track_words(stem: str) -> tuple[str, str]:
    parts = stem.split("-")
    if parts[0] == "practice" and len(parts) > 1 and parts[1].isdigit():
        quiet = stem.endswith("no-voice")
        pace = "At its own tempo" if parts[1] == "100" else f"At {parts[1]} % of its tempo"
        name = f"Practice, {parts[1]} %" + (", no voice" if quiet else "")
        return name, f"{pace}, {'without' if quiet else 'with'} a voice."
    words = stem.replace("-", " ").replace("_", " ")
    return words[:1].upper() + words[1:], ""
