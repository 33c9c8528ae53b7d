"""The pedigree of a queen on one sheet: the drawing, and below it each ancestor in a line."""

from __future__ import annotations

from reportlab.platypus import Flowable

from beeledger.queries.records.heading import Farm, Made
from beeledger.queries.records.pedigree import HEADS, Pedigree
from beeledger.queries.records.queens import QueenName
from beeledger.reporting.drawing.pedigree_chart import PedigreeChart
from beeledger.reporting.look.figures import Facts, section
from beeledger.reporting.look.page import LANDSCAPE, Heading, build
from beeledger.reporting.look.tables import Column, Ledger, Row
from beeledger.reporting.look.text import Lines
from beeledger.rules.pedigree import Box
from beeledger.rules.queens import marking_colour

KEY = "pedigree"
TITLE = "Pedigree"
_HIGH = 385.0
"""Room of the drawing on a sheet on its side, points."""
_SAYS = (
    "Dam side: solid line, square box, above. Drone side: dashed line, cut corners, below; it follows from how the "
    "dam was mated. A dashed empty box says what is not recorded."
)


def heading(record: Pedigree) -> Heading:
    """What stands at the head."""
    return Heading(KEY, TITLE, f"queen {record.subject.words}", record.reach)


def render_pdf(record: Pedigree, farm: Farm, made: Made) -> bytes:
    """The pedigree as PDF."""
    subject = record.subject
    facts = [
        ("Hatched", str(subject.year or "")),
        ("Line", subject.line or ""),
        ("Hive", subject.hive or ""),
        ("Mated", record.mated),
    ]
    story: list[Flowable] = [
        Facts(facts, columns=4, name_room=48),
        PedigreeChart(record, _HIGH),
        Lines(f"{_SAYS} {record.shared_words[:1].upper()}{record.shared_words[1:]}".strip(), above=4),
        *section("Ancestors", room=90),
        Ledger(
            [
                Column("Generation", 38), Column("Side", 30), Column("Queen", face="SemiBold"), Column("Colour", 22),
                Column("Hatched", 22), Column("Line"), Column("Ended"),
            ],
            _rows(record),
            empty="No ancestor is recorded.",
        ),
    ]  # fmt: skip
    return build(heading(record), farm, made, story, LANDSCAPE)


def _rows(record: Pedigree) -> list[Row]:
    rows: list[Row] = []
    for box in record.boxes:
        if box.unknown is not None:
            rows.append([HEADS[box.generation], _side(box), box.unknown.value, "", "", "", ""])
        elif box.generation:
            rows += [_row(box, queen) for queen in record.queens(box)]
    return rows


def _row(box: Box, queen: QueenName) -> Row:
    colour = str(marking_colour(queen.year)) if queen.year and queen.marked is not False else ""
    return [
        HEADS[box.generation], _side(box), queen.words, colour, str(queen.year or ""), queen.line or "",
        " ".join(part for part in (queen.end_cause or "", str(queen.ended_on.year) if queen.ended_on else "") if part),
    ]  # fmt: skip


def _side(box: Box) -> str:
    return "drones of" if box.drone_side else "dam"
