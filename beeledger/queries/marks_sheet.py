"""The marks of the quick line as a sheet to print: out of their table, each example read by the program itself."""

from __future__ import annotations

from datetime import date

from beeledger.queries.records.marks_sheet import MarksSheet, Pair
from beeledger.rules.rounds.marks import Marks, english, marks_list, words_list
from beeledger.rules.rounds.normal import habits_for
from beeledger.rules.rounds.readback import read_back
from beeledger.rules.rounds.reading import parse

EXAMPLES = ("n +", "8 11 5 2 q d7", "a1 r0 d14/f", "z/s; no food left")
"""Lines as they are typed in an evening; what they mean is not written here but read."""
_LETTERS = "Letters: dead of, and again in days for"


def marks_sheet(today: date, marks: Marks | None = None) -> MarksSheet:
    """All marks in the order of their table. ``today`` gives the season that the examples are read in."""
    table = marks or english()
    letters = tuple(pair for name in ("dead", "next") for pair in words_list(name, table))
    return MarksSheet(
        tuple(marks_list(table)),
        ((_LETTERS, letters),),
        tuple(_example(line, today, table) for line in EXAMPLES),
    )


def _example(line: str, today: date, marks: Marks) -> Pair:
    reading = parse(line, habits_for(today), marks)
    return line, ", ".join(f"{name} {value}" for name, value in read_back(reading.entry))
