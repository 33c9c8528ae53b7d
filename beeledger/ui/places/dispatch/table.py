"""The list of dispatches: its columns, and a dispatch as a row."""

from __future__ import annotations

from beeledger.base.dates import long
from beeledger.base.text import counted
from beeledger.base.units import kilograms
from beeledger.queries.records.dispatch_desk import WAY_WORDS, DispatchRow
from beeledger.ui.widgets.cells import Align, Cell, Column, Row

COLUMNS = (
    Column("on", "Sent", sample="28 Nov 2026", align=Align.RIGHT),
    Column("party", "To", sample="Farm Shop", slack=True, whole=True),
    Column("way", "How", sample="given", spare=4),
    Column("marks", "Lots", sample="SB26-0143-57"),
    Column("jars", "Jars", sample="9,999", align=Align.RIGHT),
    Column("back", "Back", sample="99", align=Align.RIGHT, spare=3),
    Column("kg", "Weight", "kg", sample="999.9", align=Align.RIGHT, spare=1),
    Column("paper", "Paper", sample="11824", spare=2),
)

HOW = {"dispatch": "sold", "public": "sold", "gift": "given", "rent": "rent"}
"""In a word; the receiver says the rest."""


def dispatch_row(row: DispatchRow) -> Row:
    """A dispatch in the list."""
    cells = (
        Cell(long(row.on)),
        Cell(row.receiver, weight=600, tip=row.receiver),
        Cell(HOW[row.way], "ink2", tip=WAY_WORDS[row.way]),
        Cell(marks_words(row.marks), tip=", ".join(row.marks)),
        Cell(f"{row.jars:,}" if row.jars else ""),
        Cell(f"{row.back:,}" if row.back else "", "watch"),
        Cell(kilograms(row.grams)),
        Cell(row.reference),
    )
    keys = (
        row.on, row.receiver.casefold(), WAY_WORDS[row.way], row.marks, row.jars or None, row.back or None,
        row.grams, row.reference.casefold() or None,
    )  # fmt: skip
    words = (
        row.receiver,
        WAY_WORDS[row.way],
        *row.marks,
        row.reference,
        row.on.strftime("%d %B %Y"),
        long(row.on),
    )
    return Row(row.id, cells, keys, " ".join(words))


def marks_words(marks: tuple[str, ...]) -> str:
    """The first lot, and how many more."""
    more = len(marks) - 1
    return "".join(marks[:1]) + (f" and {more} more" if more > 0 else "")


def weight_words(jars: int, grams: int) -> str:
    """Jars and weight: "30 jars, 9.6 kg"."""
    return ", ".join([counted(jars, "jar")] * bool(jars) + [f"{kilograms(grams)} kg"])
