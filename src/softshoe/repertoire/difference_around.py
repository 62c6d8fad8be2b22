"""What changed around a wall's counts: the header, tags, restarts, endings, headings, lines kept as written."""

from __future__ import annotations

from typing import TYPE_CHECKING

from softshoe.dance.feet import Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from softshoe.dance.dance import Dance, Ending, Tag

BEARS = {
    Weight.LEFT: "the left foot",
    Weight.RIGHT: "the right foot",
    Weight.BOTH: "both feet",
    Weight.SEAT: "the seat",
}
Told = tuple[object, ...]


def around(before: Dance, after: Dance) -> Iterator[str]:
    """Yield the sentences, in the order of a sheet."""
    yield from _header(before, after)
    yield from _restarts(before, after)
    yield from _tags(before, after)
    yield from _endings(before, after)
    yield from _headings(before, after)
    yield from _kept(before, after)


def _header(before: Dance, after: Dance) -> Iterator[str]:
    rows = (
        ("title", before.title, after.title), ("counts", before.counts, after.counts),
        ("walls", before.walls, after.walls),
        ("level", before.level, after.level), ("metre", before.metre, after.metre),
        ("tempo", _tempo(before), _tempo(after)), ("intro", before.intro_counts, after.intro_counts),
        ("danced", _how(before), _how(after)),
        ("weight at the start", BEARS[before.start_weight], BEARS[after.start_weight]),
    )  # fmt: skip
    for name, old, new in rows:
        if old != new:
            yield f"{name}: {_said(new)} now, {_said(old)} before"


def _said(value: object) -> str:
    return "not said" if value is None or value == "" else str(value)


def _how(dance: Dance) -> str:
    return "seated" if dance.seated else "standing"


def _tempo(dance: Dance) -> str | None:
    tempo = dance.tempo_bpm
    if tempo is None:
        return None
    return f"{tempo[0]:g} to {tempo[1]:g}" if isinstance(tempo, tuple) else f"{tempo:g}"


def _restarts(before: Dance, after: Dance) -> Iterator[str]:
    old = {wall: one.after_count for one in before.restarts for wall in one.walls}
    new = {wall: one.after_count for one in after.restarts for wall in one.walls}
    for wall in sorted(old.keys() | new.keys()):
        if wall not in old:
            yield f"wall {wall} now restarts after {new[wall]}"
        elif wall not in new:
            yield f"wall {wall} no longer restarts (after {old[wall]} before)"
        elif old[wall] != new[wall]:
            yield f"wall {wall} now restarts after {new[wall]}, after {old[wall]} before"
    plain = {one.after_count for one in after.restarts if not one.walls} ^ {
        one.after_count for one in before.restarts if not one.walls
    }
    for count in sorted(plain):
        there = any(one.after_count == count and not one.walls for one in after.restarts)
        yield f"a restart after {count} is {'new' if there else 'gone'}"


def _tag_places(dance: Dance) -> dict[tuple[int, int], Tag]:
    return {(wall, tag.after_count): tag for tag in dance.tags for wall in (tag.walls or (0,))}


def _tags(before: Dance, after: Dance) -> Iterator[str]:
    old, new = _tag_places(before), _tag_places(after)
    for wall, count in sorted(old.keys() | new.keys()):
        where = f"in wall {wall} after {count}" if wall else f"after {count}"
        was, now = old.get((wall, count)), new.get((wall, count))
        if was is None and now is not None:
            yield f"{where} there is now a {_tag_name(now)} of {now.counts}"
        elif now is None and was is not None:
            yield f"{where} there is no {_tag_name(was)} any more ({was.counts} counts before)"
        elif was is not None and now is not None and _tag_told(was) != _tag_told(now):
            yield f"{where} the {_tag_name(now)} is another ({was.counts} counts before, {now.counts} now)"


def _tag_name(tag: Tag) -> str:
    return "tag" if tag.then == "start" else "bridge"


def _tag_told(tag: Tag) -> Told:
    return tag.counts, tag.then, tag.actions


def _endings(before: Dance, after: Dance) -> Iterator[str]:
    old, new = {e.wall: e for e in before.endings}, {e.wall: e for e in after.endings}
    for wall in sorted(old.keys() | new.keys(), key=str):
        name = "the last wall" if wall == "last" else f"wall {wall}"
        if wall not in old:
            yield f"{name} now has an ending after {new[wall].after_count}"
        elif wall not in new:
            yield f"{name} has no ending any more (after {old[wall].after_count} before)"
        elif _ending_told(old[wall]) != _ending_told(new[wall]):
            yield f"the ending of {name} is another"


def _ending_told(ending: Ending) -> Told:
    return ending.after_count, ending.counts, ending.start_facing_deg, ending.actions


def _headings(before: Dance, after: Dance) -> Iterator[str]:
    old = {section.number: section.title for section in before.sections}
    for section in after.sections:
        if section.number in old and section.title != old[section.number]:
            was, now = _title(old[section.number]), _title(section.title)
            yield f"heading of section {section.number}: {now} now, {was} before"
    if len(before.sections) != len(after.sections):
        yield f"sections: {len(after.sections)} now, {len(before.sections)} before"


def _title(words: str) -> str:
    return f"“{words}”" if words else "none"


def _kept(before: Dance, after: Dance) -> Iterator[str]:
    old, new = [words for _, words in before.kept], [words for _, words in after.kept]
    yield from (f"kept as written, new: “{words}”" for words in new if words not in old)
    yield from (f"kept as written, gone: “{words}”" for words in old if words not in new)
