"""What a chair class's sentences come to: beats, what is asked again, and what one clause leaves for the next."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

Spans = tuple[tuple[int, int], ...]

OTHER = {"R": "L", "L": "R", "both": "both", "": ""}
MIRROR = {"right": "left", "left": "right"}
OWN = {"R": "right", "L": "left"}
SOUNDS = ("clap", "snap", "pat", "drum")
GOES = ("push", "punch", "reach", "point")
BACKWARD = ("pull", "lower", "close", "rest")
LASTING = ("roll", "circle", "wave", "shake", "swing", "sweep")
BODY = ("lap", "thigh", "knee", "hip")
HEIGHTS = ("waist", "chest", "shoulder", "head", "overhead")
MARCH = "march"


class DeclinedError(Exception):
    """The words are not of this kind; they are read by the other rooms."""


@dataclass(frozen=True, slots=True)
class HandPart:
    """One hand's part, or both alike."""

    side: str
    gest: str
    place: str = ""
    way: str = ""


@dataclass(frozen=True, slots=True)
class FootPart:
    """One foot's part; ``foot`` "" is the one that is free."""

    foot: str
    verb: str
    way: str = ""


@dataclass(frozen=True, slots=True)
class Beat:
    """One movement, or a stillness. ``length`` 0 where nothing says it; ``at`` the counts it falls on; ``nums`` numbers
    that are counts or lengths; ``label`` counts that stand before it and those behind it on its line.
    """

    hands: tuple[HandPart, ...] = ()
    feet: tuple[FootPart, ...] = ()
    length: int = 0
    at: tuple[int, ...] = ()
    ranged: bool = False  # its counts are a range
    listed: bool = False  # its counts are told one by one, without "on"
    nums: tuple[int, ...] = ()
    often: bool = False  # a lone number says how often it is done
    plural: bool = False  # "claps"
    slow: bool = False  # its length is only how it is done
    sentence: int = 0
    line: int = 0
    label: tuple[int, ...] = ()
    words: Spans = ()
    kind: str = ""  # "dash", "label" or "copy"
    track: str = ""  # "feet" or "hands", where they are told apart

    @property
    def still(self) -> bool:
        """Return whether nothing moves."""
        return not self.hands and not self.feet

    @property
    def lasts(self) -> bool:
        """Return whether it is done again on each count it lasts."""
        rolls = all(h.gest in LASTING for h in self.hands)
        return not self.still and rolls and all(f.verb == MARCH for f in self.feet)

    @property
    def sounds(self) -> bool:
        """Return whether it is a beat of the hands that is heard."""
        return bool(self.hands) and all(h.gest in SOUNDS for h in self.hands)

    def mirrored(self) -> Beat:
        """Return it on the other side."""
        hands = tuple(replace(h, side=OTHER[h.side], way=MIRROR.get(h.way, h.way)) for h in self.hands)
        feet = tuple(replace(f, foot=OTHER[f.foot], way=MIRROR.get(f.way, f.way)) for f in self.feet)
        return replace(self, hands=hands, feet=feet)


@dataclass(frozen=True, slots=True)
class Ask:
    """What is danced again: ``side`` leads ("other" the one that did not), ``times`` more."""

    side: str = ""
    times: int = 1
    sentence: int = 0
    line: int = 0
    label: tuple[int, ...] = ()
    words: Spans = ()


@dataclass(slots=True)
class State:
    """What the clauses so far leave for the next."""

    side: str = ""  # who moves in this sentence
    both: bool = False  # both hands throughout
    each: int = 0  # counts each movement lasts, where that is said of all
    meant: dict[str, str] = field(default_factory=dict)  # "the ups are pushes"
    out: str = ""  # the last gesture that goes out, in this line
    last_out: str = ""  # and before it
    outward: tuple[str, str, str] = ("", "", "")  # the last one that went out, its place, its way
    gest: str = ""
    way: str = ""
    place: str = ""
    height: str = ""  # told once for what follows, in ``sentence``
    sentence: int = -1
    lone: str = ""  # the hand that moved last
    patted: str = ""  # where hands patted last
    limbed: bool = False  # one hand is told by name, with the side it goes to
    away: str = ""  # the foot that has not come home
    lead: str = ""  # the hand that begins
    headed: str = ""  # the side told before the colon of this sentence
    foot: str = ""
    step: str = ""
    track: str = ""
    counted: bool = False  # the march has its counts
    talk: list[tuple[int, int]] = field(default_factory=list)  # sentences and brackets that are not danced
