"""The marks of the quick line on one sheet, to lie beside the keyboard."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.platypus import Flowable

from beeledger.base.text import counted
from beeledger.queries.records.heading import Farm, Made
from beeledger.queries.records.marks_sheet import MarksSheet, Pair
from beeledger.reporting.look.figures import room_for, section
from beeledger.reporting.look.page import Heading, build
from beeledger.reporting.look.tables import Column, Ledger, Row

KEY = "marks-sheet"
TITLE = "Marks of the quick line"
_ACROSS = 5
"""Letters stand in so many columns."""


def heading(record: MarksSheet) -> Heading:
    """What stands at the head."""
    period = "A hive in one line: marks in any order, blanks between them"
    return Heading(KEY, TITLE, "", period, counted(len(record.marks), "mark"))


def render_pdf(record: MarksSheet, farm: Farm, made: Made) -> bytes:
    """The sheet as PDF: one side of paper."""
    story: list[Flowable] = [_beside(record.marks, 2, 26)]
    for title, letters in record.letters:
        story += [*section(title, room=room_for(len(letters) // _ACROSS)), _beside(letters, _ACROSS, 11)]
    if record.examples:
        columns = [Column("Typed", 34, face="SemiBold"), Column("Read as")]
        rows: list[Row] = [list(pair) for pair in record.examples]
        story += [*section("As it is read", room=100), Ledger(columns, rows)]
    return build(heading(record), farm, made, story)


def _beside(pairs: Sequence[Pair], across: int, mark_mm: float) -> Ledger:
    """Pairs in columns, read down the left one first."""
    columns = [
        column
        for at in range(across)
        for column in (
            Column("Mark", mark_mm, face="SemiBold"),
            Column("Means", group_end=at < across - 1),
        )
    ]
    high = -(-len(pairs) // across)
    whole = [*pairs, *[("", "")] * (high * across - len(pairs))]
    rows: list[Row] = [
        [words for at in range(across) for words in whole[at * high + line]] for line in range(high)
    ]
    return Ledger(columns, rows)
