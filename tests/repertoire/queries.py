"""Dances and queries that both databases must answer alike."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from softshoe.repertoire.beside import put_danced, put_label
from softshoe.repertoire.dances import Sheet, keep
from softshoe.repertoire.values import Danced
from softshoe.wording.read import read

if TYPE_CHECKING:
    from softshoe.repertoire.store import Repertoire

TODAY = date(2026, 11, 28)
SHEETS = {
    "tin": "Tin Kettle\n32 counts, 2 walls, beginner, 104 bpm\n1-4 Vine right, touch left beside right\n5-8 "
           "Vine left, touch right",
    "cafe": "Café Quai\nSeated, 1 wall, absolute beginner, 92 bpm\n1-2 Heel right forward, together\n3-4 Clap, clap",
    "mill": "Mill Race\n4 walls, improver, 100-112 bpm\n1-4 Monterey half turn right\n5-8 Monterey half turn right",
    "barge": "Barge Waltz\n3/4, 1 wall, 96 bpm\n1-3 Waltz basic forward left\n4-6 Waltz basic back right",
    "plain": "Plain Lane\n2 walls\n1 Step right to the side\n2 Step left behind right\n3 Step right to the "
             "side\n4 Touch left",
}  # fmt: skip

QUERIES = (
    ("", ["Barge Waltz", "Café Quai", "Mill Race", "Plain Lane", "Tin Kettle"]),
    ("CAFÉ qu", ["Café Quai"]), ("cafe", ["Café Quai"]), ("called mill", ["Mill Race"]),
    ("has a Monterey", ["Mill Race"]), ("monterey turns", ["Mill Race"]),
    ("has a vine", ["Plain Lane", "Tin Kettle"]),
    ("no turns", ["Barge Waltz", "Café Quai", "Plain Lane", "Tin Kettle"]), ("has half turns", ["Mill Race"]),
    ("seated", ["Café Quai"]), ("with claps", ["Café Quai"]), ("2-wall no vines", []),
    ("two walls under 110", ["Tin Kettle"]), ("under 105", ["Barge Waltz", "Café Quai", "Mill Race", "Tin Kettle"]),
    ("around 110", ["Mill Race", "Tin Kettle"]), ("faster than 113", []), ("waltz", ["Barge Waltz"]),
    ("3/4", ["Barge Waltz"]), ("beginner", ["Tin Kettle"]), ("up to beginner", ["Café Quai", "Tin Kettle"]),
    ("32 counts", ["Tin Kettle"]), ("at most 8 counts 4 walls", ["Mill Race"]), ("#christmas", ["Tin Kettle"]),
    ("danced in may", ["Tin Kettle"]), ("danced this year", ["Tin Kettle"]), ("danced", ["Café Quai", "Tin Kettle"]),
    ("not danced since 2026", ["Barge Waltz", "Café Quai", "Mill Race", "Plain Lane"]),
    ("never danced waltz", ["Barge Waltz"]), ('"step left behind"', ["Plain Lane"]), ("vine no touch", []),
    ("no beside vine", []), ("no kettle 2 walls", ["Plain Lane"]),
)  # fmt: skip


def filled(repertoire: Repertoire) -> None:
    """Keep the dances, one with a label, two with a day."""
    with repertoire.writing() as base:
        puts = {name: keep(base, Sheet.of(words, read(words))).dance for name, words in SHEETS.items()}
        put_label(base, "dance", puts["tin"], "Christmas")
        put_danced(base, puts["tin"], Danced("2026-05-12", "Tuesday"))
        put_danced(base, puts["cafe"], Danced("2025-12-01"))
