"""The round sheet as paper: where its boxes and corner codes stand, and what the codes say.

One description for the hand that draws the sheet and the eye that reads it back. Lengths are points
(1/72 inch), as on the page; ``y`` counts down from the top edge of an A4 sheet that lies across.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

MM = 72 / 25.4
PAGE = (297 * MM, 210 * MM)
"""A4 across (ISO 216)."""
SIDE = 12 * MM
"""Left margin: the grid begins here."""
CODE = 11 * MM
"""Side of a corner code without its white rim."""
CODE_IN = 5 * MM
"""How far a code stands from the edges: common office printers leave 4 mm white and a little more (from memory)."""
ROW = 6.5 * MM
"""High enough to write a figure in with a cold hand."""
STEP = 2.0
"""Rows are higher by whole steps, so that a code can say how high."""
BOX = 3.6 * MM
BOX_LIFT = 5.4
"""The foot of a box stands this far under the middle of a row of ordinary height."""
_LETTER = 4.4
LADDER_AIR, AIR, _RIGHT = 1.8, 3.5, 2.5
"""Between a word and its box, points."""
_LADDER = 8.6
"""From one box of a ladder to the next, with the sign between them."""


@dataclass(frozen=True, slots=True)
class Tick:
    """A box: the word before it and what a mark in it says, as a field and its value."""

    word: str
    field: str
    value: int | bool = True


@dataclass(frozen=True, slots=True)
class PaperColumn:
    """A column to write in; a tight one has its boxes in a ladder, each with one sign, small, before it."""

    name: str
    title: str
    mm: float
    unit: str = ""
    ticks: tuple[Tick, ...] = ()
    group_end: bool = False
    ladder: bool = False


WHO = (7.0, 15.0, 24.0)
"""Widths of number, hive and queen, millimetres."""
COLUMNS: tuple[PaperColumn, ...] = (
    PaperColumn("queen", "Seen", 10, ticks=(Tick("", "queen_seen"),)),
    PaperColumn("eggs", "Eggs", 10, ticks=(Tick("", "eggs"),), group_end=True),
    PaperColumn("brood", "Brood", 15, "frames"),
    PaperColumn("bees", "Bees", 15, "frames"),
    PaperColumn("stores", "Stores", 15),
    PaperColumn(
        "temper", "Temper", 37.5, "1–5",
        tuple(Tick(str(number), "temper", number) for number in range(1, 6)), group_end=True, ladder=True,
    ),
    PaperColumn("cells", "Cells", 15),
    PaperColumn(
        "supers", "Supers", 23.5, "on, off", (Tick("+1", "supers_on", 1), Tick("−1", "supers_off", 1)), group_end=True
    ),
    PaperColumn("feed", "Feed", 12, "litres"),
    PaperColumn("strips", "Strips", 22.5, ticks=(Tick("in", "medicine_in"), Tick("out", "medicine_out"))),
    PaperColumn("mites", "Mites", 13, "in 300", group_end=True),
    PaperColumn("again", "Again", 12, "days", group_end=True),
)  # fmt: skip


def edges() -> tuple[float, ...]:
    """The upright rules of the grid, points from its left: number, hive, queen, then the columns."""
    found = [0.0]
    for wide in (*WHO, *(column.mm for column in COLUMNS)):
        found.append(found[-1] + wide * MM)
    return tuple(found)


def ticks_wide(column: PaperColumn) -> float:
    """The room that the boxes of a column take at its right, points."""
    places = tick_lefts(column)
    return column.mm * MM - min(places) + 3 if places else 0.0


def tick_lefts(column: PaperColumn) -> tuple[float, ...]:
    """The left sides of a column's boxes, points from the left of the column."""
    lefts: list[float] = []
    x = column.mm * MM - _RIGHT
    for tick in reversed(column.ticks):
        x -= BOX
        lefts.append(x)
        if column.ladder:
            x -= _LADDER
        elif tick.word:
            x -= AIR + _LETTER * len(tick.word) + 3
    return tuple(reversed(lefts))


def row_high(wanted: float) -> float:
    """The height of a row that needs so much, in whole steps."""
    steps = max(0, -int(-(wanted - ROW) // STEP))
    return ROW + STEP * min(steps, 255)


@dataclass(frozen=True, slots=True)
class PaperPage:
    """One page of a sheet, as its four codes say it. ``hives`` has None for a line left blank."""

    page: int
    """From 1."""
    site_id: int
    day: int
    """Days since year 1, as ``date.toordinal``; 0 when the day was left open."""
    site_print: int
    """The check sum of the site's name: another ledger has another name under that number."""
    marks_print: int
    """The check sum of the page's hive marks, in order."""
    start: int
    """Lines of the sheet before this page."""
    total: int
    """Lines of the whole sheet that have a hive."""
    top: int
    """From the top edge to the first row, tenths of a point."""
    hives: tuple[int | None, ...]
    steps: tuple[int, ...]
    """By row: how many steps it is higher than ``ROW``."""

    def rows(self) -> Iterator[tuple[int, float, float]]:
        """Each row: its place on the page from 0, its upper edge, its height."""
        y = self.top / 10
        for at, steps in enumerate(self.steps):
            high = ROW + STEP * steps
            yield at, y, high
            y += high


@dataclass(frozen=True, slots=True)
class BoxAt:
    """One box on a page: its row, the column, the box's own tick, its left and upper side."""

    row: int
    column: PaperColumn
    tick: Tick
    x: float
    y: float


def boxes_of(page: PaperPage) -> list[BoxAt]:
    """Every box of a page, row by row."""
    lefts = [
        (column, tick, SIDE + edge + left)
        for column, edge in zip(COLUMNS, edges()[len(WHO) :], strict=False)
        for tick, left in zip(column.ticks, tick_lefts(column), strict=True)
    ]
    return [
        BoxAt(row, column, tick, x, top + ROW / 2 + BOX_LIFT - BOX)
        for row, top, _ in page.rows()
        for column, tick, x in lefts
    ]


def code_corners() -> tuple[tuple[float, float], ...]:
    """The upper left of each corner code: top left, top right, bottom left, bottom right."""
    right, low = PAGE[0] - CODE_IN - CODE, PAGE[1] - CODE_IN - CODE
    return ((CODE_IN, CODE_IN), (right, CODE_IN), (CODE_IN, low), (right, low))


def in_order(values: Sequence[str]) -> bytes:
    """Words as one run of bytes, for a check sum."""
    return "\n".join(values).encode()
