"""Texts that hold no dance: letters, lists, recipes, timetables, verses of our own, nothing at all."""

from __future__ import annotations

TEXTS = (
    "",
    "\n\n   \n",
    "Milk\nEggs\nTwo loaves\nTea\nCandles for Nora",
    "Dear Bess,\nthank you for the lovely tea on Sunday. The scones were a triumph.\nYours, Winifred",
    "The hall is closed on the bank holiday. The caretaker has the keys.",
    "Agenda\nApologies\nMinutes of the last meeting\nRaffle\nAny other business",
    "Ingredients: flour, butter, sugar, a pinch of salt.\nMix gently. Bake until golden.",
    "Members' telephone list\nAgnes Plumley\nEnid Crabtree\nMabel Thistlewood",
    "O the kettle it sang and the cat it did purr,\nand the rain on the window was silver and fur.",
    "https\nwww\nhtml",
    "Bus 14 leaves the green on the hour.\nBus 9 does not run on Sundays.",
    "1. Apples\n2. Pears\n3. Plums\n4. Damsons",
    "Committee: Olive (chair), Percy (treasurer), Ada (teas)",
    "To whom it may concern: the piano has been tuned.",
    "Lost: one umbrella, black, wooden handle. Found: one glove.",
    "Lorem ipsum dolor sit amet, consectetur adipiscing elit.",
    "{\"name\": \"kettle\", \"price\": 12}",
    "Name;Town;Paid\nEdith;Lower Fenwick;yes\nHugh;Weir;no",
    "Knitting pattern\nCast on forty. Knit two, purl two.\nCast off loosely.",
    "Poster: Grand Jumble Sale, Saturday, at the old school. Admission free.",
    "Quiz\nWhich river runs through the town?\nWho painted the mill?",
    "Weather tomorrow: bright spells, then drizzle by evening.",
)  # fmt: skip
