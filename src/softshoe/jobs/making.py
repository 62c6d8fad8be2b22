"""The main job as steps: a sheet and a song become a folder to teach from.

Every value between two steps is a file of the folder, so each can be looked at, mended by hand and used again.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass, field
from datetime import date
from typing import TYPE_CHECKING, Any, Literal, TypedDict

from softshoe.jobs import media, pages, values
from softshoe.jobs.step import Step

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    from softshoe.adapt.own import Own
    from softshoe.adapt.version import Kind

SoundKind = Literal["song", "groove", "voice"]
Paper = Literal["a4", "us-letter"]


class OnPaper(TypedDict):
    """What a page on paper needs before it, and what it does without."""

    needs: tuple[str, ...]
    likes: tuple[str, ...]


PACES = (70, 85, 100)
OTHER_PAPERS = (
    ("leader", "Setting the page to lead from", pages.leader, 0.3),
    ("everyone", "Setting the versions side by side", pages.everyone, 0.3),
    ("floor", "Drawing the floor from above", pages.floor, 1.0),
)
# Paper wants the dance alone: where it can't be laid on the song, the sheet is still printed.
ON_PAPER: OnPaper = {"needs": ("read",), "likes": ("fit",)}
CONTRAST = "high-contrast"
EDITIONS = {"normal": "sheet.pdf", "large": "sheet-large.pdf", "largest": "sheet-giant.pdf"}
EVERYONE = {"large": "everyone-large.pdf", "largest": "everyone-giant.pdf"}
PRINT_WORDS = {"normal": "normal print", "large": "large print", "largest": "giant print"}


@dataclass(frozen=True, slots=True)
class Wish:
    """What was asked for: ``only`` these parts, () for all; a film and pictures of the dance for each of ``versions``;
    and each of ``own``, versions of somebody's own; ``bound`` leaves room for the holes of a binder.

    ``minutes`` and ``lesson``: how long the walkthrough shall be, or the text that it is made from; ``room`` what is
    seen on the four walls. ``said`` holds the listener's word; ``guise`` the words for outfit, skin and hair;
    ``film_editions`` further editions of every film, by their names (``render.film_edition``).
    """

    sheet: Path
    song: Path
    folder: Path
    sound: SoundKind = "groove"
    paper: Paper = "a4"
    bound: bool = False
    only: tuple[str, ...] = ()
    versions: tuple[Kind, ...] = ("seated",)
    own: tuple[Own, ...] = ()
    minutes: float | None = None
    lesson: Path | None = None
    room: str = ""
    said: Mapping[str, Any] = field(default_factory=dict)
    guise: Mapping[str, str] = field(default_factory=dict)
    film_editions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Place:
    """The files of the folder, by name; what is only on the way lies in a folder of its own."""

    folder: Path

    def __call__(self, *names: str) -> tuple[Path, ...]:
        return tuple(self.folder / name for name in names)


def steps(wish: Wish) -> tuple[Step, ...]:
    """Return the steps of this wish, in an order in which they can be done."""
    at = _Place(wish.folder)
    parts = [step for part in PART if not wish.only or part in wish.only for step in PART[part](wish, at)]
    return (*_values(wish, at), *parts, _index(wish, at, parts))


def written_on(sheet: Path) -> str:
    """Return the day on which the sheet was last changed, as ISO 8601 writes it."""
    return date.fromtimestamp(sheet.stat().st_mtime).isoformat()


def _values(wish: Wish, at: _Place) -> tuple[Step, ...]:
    song = {"said": dict(wish.said)}
    return (
        Step("read", "Reading the sheet", values.read, {}, (wish.sheet,), at("dance.json"), hint_s=0.5, mendable=True),
        Step("listen", "Listening to the song", values.listen, song, (wish.song,), at("song.json"), hint_s=8,
             mendable=True, apart=True),
        Step("fit", "Laying the dance on the song", values.fit, {}, at("dance.json", "song.json"), at("run.json"),
             ("read", "listen"), hint_s=0.5, mendable=True),
        *_lesson(wish, at),
    )  # fmt: skip


def _lesson(wish: Wish, at: _Place) -> tuple[Step, ...]:
    """The walkthrough as text, then in seconds: a hand may mend either, and a text that is given wins over both."""
    given = () if wish.lesson is None else (wish.lesson,)
    how = {"room": wish.room, "given": str(wish.lesson or "")}
    reads = at("dance.json", "song.json", "run.json")
    return (
        Step("lesson words", "Writing the lesson", values.lesson_words, {**how, "minutes": wish.minutes},
             (*reads, *given), at("lesson.txt"), ("fit",), hint_s=1, mendable=not given),
        Step("lesson", "Laying out the lesson", values.lesson, how, (*reads, *at("lesson.txt")), at("lesson.json"),
             ("lesson words",), hint_s=1, mendable=True),
    )  # fmt: skip


def _voice_file() -> Path:
    """The leader's own words: what is spoken is made again when they change."""
    from softshoe.render.voice_own import own_voice_file

    return own_voice_file()


def _sheets(wish: Wish, at: _Place) -> tuple[Step, ...]:
    reads = at("dance.json", "song.json", "run.json")
    when = {"made_on": written_on(wish.sheet)}
    leaf: dict[str, Any] = {"paper": wish.paper, **({"bound": True} if wish.bound else {})}
    printed = tuple(
        Step(f"sheet {edition}", f"Setting the sheet in {PRINT_WORDS[edition]}", pages.sheet,
             {**leaf, **when, "edition": edition}, reads, at(name), **ON_PAPER, hint_s=1)
        for edition, name in EDITIONS.items()
    )  # fmt: skip
    plain = Step("sheet words", "Writing the sheet as a page, as plain text and as braille", pages.sheet_words, when,
                 reads, at("sheet.html", "sheet.txt", "sheet.brf"), **ON_PAPER, hint_s=0.5)  # fmt: skip
    others = tuple(
        Step(name, title, work, leaf, reads, at(f"{name}.pdf"), **ON_PAPER, hint_s=hint_s)
        for name, title, work, hint_s in OTHER_PAPERS
    )
    mixed = tuple(
        Step(f"everyone {edition}", f"Setting all versions in {PRINT_WORDS[edition]}", pages.everyone,
             {**leaf, "edition": edition}, reads, at(name), **ON_PAPER, hint_s=0.3)
        for edition, name in EVERYONE.items()
    )  # fmt: skip
    on = {"song": wish.song.stem, **({"paper": wish.paper} if wish.paper != "a4" else {})}
    laid = Step("run picture", "Drawing how the dance lies on the song", pages.run_picture, on, reads, at("run.pdf"),
                ("fit",), hint_s=0.5)  # fmt: skip
    return (*printed, plain, *others, *mixed, *_pictures(wish, at, leaf), laid)


def _pictures(wish: Wish, at: _Place, leaf: dict[str, Any]) -> tuple[Step, ...]:
    """The pictures of the dance as it is written, and of each version that is filmed."""
    reads = at("dance.json", "song.json", "run.json")
    drawn = {**leaf, **({"guise": dict(wish.guise)} if any(wish.guise.values()) else {})}
    told = "Drawing the pictures, count by count"
    return (
        Step("pictures", told, pages.pictures, drawn, reads, at("pictures.pdf"), **ON_PAPER, hint_s=2.0),
        *(
            Step(f"pictures-{stem}", f"{told}, {words}", pages.version_pictures, {**drawn, **which}, reads,
                 at(f"pictures-{stem}.pdf"), **ON_PAPER, hint_s=2.0)
            for stem, words, which in _versions(wish)
            if stem != _written_for(wish.sheet)
        ),
    )  # fmt: skip


def _versions(wish: Wish) -> list[tuple[str, str, dict[str, Any]]]:
    """The versions that are filmed and drawn: as files have it, in words, and as settings."""
    own: dict[str, tuple[str, dict[str, Any]]] = {}
    for one in wish.own:
        alike = sum(other.stem == one.stem for other in wish.own[: wish.own.index(one)])
        own[f"{one.stem}-{alike + 1}" if alike else one.stem] = (
            f"for {one.name}",
            {"kind": one.kind, "own": asdict(one)},
        )
    kinds: dict[str, tuple[str, dict[str, Any]]] = {kind: (kind, {"kind": kind}) for kind in wish.versions}
    return [(stem, *found) for stem, found in (kinds | own).items()]


def _written_for(sheet: Path) -> str:
    """How the dance of a sheet is written: its own pictures show that already; "" where it can't be read."""
    from softshoe.errors import UnreadableError
    from softshoe.wording.read import read
    from softshoe.wording.source import sheet_text

    try:
        return "seated" if read(sheet_text(sheet)).seated else "standing"
    except UnreadableError:
        return ""


def _tracks(wish: Wish, at: _Place) -> tuple[Step, ...]:
    reads = (*at("dance.json", "song.json", "run.json"), _voice_file(), wish.song)
    spoken = [(f"practice-{pace}", {"pace": pace, "spoken": True}) for pace in PACES]
    plain = [("practice-100-no-voice", {"pace": 100, "spoken": False})]
    return tuple(
        Step(name, f"Recording {name}.mp3", media.track, {**how, "sound": wish.sound, "number": number}, reads,
             at(f"{name}.mp3", f"{name}.vtt"), ("fit",), hint_s=12, apart=True)
        for number, (name, how) in enumerate((*spoken, *plain), start=1)
    )  # fmt: skip


def _films(wish: Wish, at: _Place) -> tuple[Step, ...]:
    """Every film in every edition; what nobody asked for is no setting, so that a folder made before stays as it is.

    Editions of a film sound alike: they wait for the plain one and take its sound. One in high contrast is made along
    with the one that is like it otherwise, if that is wished too."""
    reads = at("dance.json", "song.json", "run.json")
    guise = {"guise": dict(wish.guise)} if any(wish.guise.values()) else {}
    room = {"room": wish.room} if wish.room else {}
    films: list[Step] = []
    wished = ("", *wish.film_editions)
    twins = {one: f"{one}-{CONTRAST}".strip("-") for one in wished if f"{one}-{CONTRAST}".strip("-") in wished}
    for edition in (one for one in wished if one not in twins.values()):
        how: dict[str, Any] = {"sound": wish.sound, **guise, **({"edition": edition} if edition else {})}
        tail, told = (f"-{edition}", f", {edition.replace('-', ' ')}") if edition else ("", "")
        made, hint = [tail], 1.0
        if edition in twins:
            made, hint = [tail, f"-{twins[edition]}"], 1.6
            how, told = {**how, "contrast": True}, f"{told}, in high contrast too"

        def heard(plain: str, edition: str = edition) -> tuple[Path, ...]:
            return at(f"{plain}.mp4") if edition else (_voice_file(), wish.song)

        films.append(
            Step(f"walkthrough{tail}", f"Filming the walkthrough{told}", media.walkthrough, how,
                 (*reads, *at("lesson.json"), *heard("walkthrough")), at(*_film_files("walkthrough", made)),
                 ("lesson", *(("walkthrough",) if edition else ())), hint_s=100 * hint, apart=True)
        )  # fmt: skip
        for stem, words, which in _versions(wish):
            plain = f"dance-{stem}"
            films.append(
                Step(f"{plain}{tail}", f"Filming the dance, {words}{told}", media.dance_film, {**how, **room, **which},
                     (*reads, *heard(plain)), at(*_film_files(plain, made)),
                     ("fit", *((plain,) if edition else ())), hint_s=70 * hint, apart=True)
            )  # fmt: skip
    return tuple(films)


def _film_files(name: str, tails: list[str]) -> tuple[str, ...]:
    return tuple(f"{name}{tail}{kind}" for tail in tails for kind in (".mp4", ".vtt", "-chapters.vtt"))


def _report(wish: Wish, at: _Place) -> tuple[Step, ...]:
    names = {"song": wish.song.name, "sheet": wish.sheet.name}
    reads = (*at("dance.json", "song.json", "run.json"), wish.sheet)
    return (Step("report", "Writing the report", pages.report, names, reads, at("report.html"), ("fit",), hint_s=0.5),)


def _index(wish: Wish, at: _Place, parts: list[Step]) -> Step:
    made = tuple(path for step in parts for path in step.leaves)
    return Step("index", "Writing the page that shows it all", pages.index, {"song": wish.song.stem},
                (*at("dance.json", "song.json", "run.json"), *made),
                at("index.html"), ("lesson", *(step.name for step in parts)), hint_s=0.2)  # fmt: skip


PART: Mapping[str, Callable[[Wish, _Place], tuple[Step, ...]]] = {
    "sheet": _sheets,
    "report": _report,
    "films": _films,  # the longest first, so that both lanes end together
    "tracks": _tracks,
}
