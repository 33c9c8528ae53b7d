"""The ruled table of every document: every fifth line darker, figures right, heads repeated.

Cells are plain text, wrapped and never shortened. A table splits between rows, keeps two rows
together at either end of a page, and counts its lines across pages, so that the fifth lines of the
paper are the fifth lines of the list.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from reportlab.platypus import Flowable

from beeledger.reporting.look.fonts import CELL, HEAD, HEAD_UNIT, MM, Face, Role, text_width
from beeledger.reporting.look.ink import FIFTH, HAIR, Ink, ink
from beeledger.reporting.look.marks import draw_mark, draw_swatch
from beeledger.reporting.look.text import clean, draw, wrapped

PAD = 4.0
"""Room at either side of a cell, points."""
ROW = 15.5
LEADING = 11.0
_TALL_PAIR = 250.0
"""Two rows higher than this may be parted: they would not both fit everywhere."""
_TALLEST = 24
"""Lines of one cell before its row is continued as another row."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its head, its width and how its cells stand."""

    title: str
    mm: float | None = None
    """Width; None takes what the others leave (shared when several are None)."""
    unit: str = ""
    align: str = "left"
    face: Face = "Regular"
    ink: Ink = "ink"
    group_end: bool = False
    """A vertical line stands after it."""

    @property
    def role(self) -> Role:
        """The type of its cells."""
        return replace(CELL, face=self.face, ink=self.ink)


@dataclass(frozen=True, slots=True)
class Cell:
    """A cell that differs from its column: a mark before it, another ink or face."""

    text: str
    ink: Ink | None = None
    face: Face | None = None
    mark: str = ""
    """A state mark's name, or "swatch" for a square in the cell's ink."""


Row = Sequence[str | Cell]


@dataclass(frozen=True, slots=True)
class _Laid:
    """A row ready to draw: per column the lines, the role, the mark."""

    cells: tuple[tuple[tuple[str, ...], Role, str], ...]
    height: float
    number: int
    """Its place in the whole list, from 1; −1 where the row goes on in the next."""


class Ledger(Flowable):
    """A ruled table. ``sums`` stands below a firm line and never parts from the last rows."""

    def __init__(
        self,
        columns: Sequence[Column],
        rows: Sequence[Row],
        *,
        sums: Row | None = None,
        empty: str = "",
        row: float = ROW,
    ) -> None:
        super().__init__()
        self.columns, self.rows, self.sums, self.empty = tuple(columns), rows, sums, empty
        self.row = row
        self.laid: list[_Laid] | None = None
        self.foot: _Laid | None = None
        self.widths: tuple[float, ...] = ()
        self.start, self.stop = 0, len(rows)
        self.spaceAfter = 8

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:  # noqa: ARG002, N803
        """The height at this width."""
        self._lay(aW)
        return aW, self._head_height() + self._rows_height() + self._foot_height()

    def split(self, aW: float, aH: float) -> list[Flowable]:  # noqa: N803
        """As many rows as fit, and the rest under the same head."""
        self._lay(aW)
        laid = self.laid or []
        room = aH - self._head_height()
        cut = self.start
        while cut < self.stop and laid[cut].height <= room:
            room -= laid[cut].height
            cut += 1
        cut = self._good_cut(cut)
        if cut == self.start:
            return []
        first, rest = self._slice(self.start, cut), self._slice(cut, self.stop)
        first.foot = None
        first.spaceAfter = 0
        return [first, rest]

    def _good_cut(self, cut: int) -> int:
        """Two rows at either end where they are of the usual height; the start when none may stay."""
        laid, start, stop = self.laid or [], self.start, self.stop
        if cut == stop:  # only the sums do not fit: take two rows over with them
            cut = max(stop - 2, start + 1) if stop - start > 1 else start
        elif stop - cut == 1 and cut - start > 2:
            cut -= 1
        if cut - start == 1 and stop - start > 1:
            tall = laid[start].height + laid[start + 1].height > _TALL_PAIR
            return cut if tall else start
        return cut

    def _slice(self, start: int, stop: int) -> Ledger:
        part = Ledger(self.columns, self.rows, empty=self.empty, row=self.row)
        part.laid, part.foot, part.widths, part.sums = self.laid, self.foot, self.widths, self.sums
        part.start, part.stop = start, stop
        return part

    def _lay(self, room: float) -> None:
        if self.laid is not None:
            return
        fixed = sum(column.mm * MM for column in self.columns if column.mm is not None)
        slack = [column for column in self.columns if column.mm is None]
        rest = (room - fixed) / len(slack) if slack else 0.0
        self.widths = tuple(rest if column.mm is None else column.mm * MM for column in self.columns)
        self.laid = []
        for number, row in enumerate(self.rows, start=1):
            self.laid.extend(self._lay_row(row, number))
        self.start, self.stop = 0, len(self.laid)
        if self.sums is not None:
            self.foot = self._lay_sums(self.sums)

    def _lay_sums(self, sums: Row) -> _Laid:
        """The row of sums: a sum wider than its column runs on over blank neighbours."""
        bold = [cell if isinstance(cell, Cell) else Cell(cell, face="SemiBold", ink="ink") for cell in sums]
        cells = []
        for place, (cell, column) in enumerate(zip(bold, self.columns, strict=True)):
            step = -1 if column.align == "right" else 1
            room, beside = self.widths[place], place + step
            while 0 <= beside < len(bold) and not bold[beside].text:
                room += self.widths[beside]
                beside += step
            cells.append(_lay_cell(cell, column, room))
        most = max(len(lines) for lines, _, _ in cells)
        return _Laid(tuple(cells), self.row + LEADING * max(most - 1, 0), 0)

    def _lay_row(self, row: Row, number: int) -> list[_Laid]:
        cells = [
            _lay_cell(cell, column, room)
            for cell, column, room in zip(row, self.columns, self.widths, strict=True)
        ]
        most = max(len(lines) for lines, _, _ in cells)
        if most <= 1:
            return [_Laid(tuple(cells), self.row, number)]
        parts = []
        for begin in range(0, most, _TALLEST):
            part = tuple((lines[begin : begin + _TALLEST], role, mark) for lines, role, mark in cells)
            height = max(len(lines) for lines, _, _ in part) * LEADING + self.row - LEADING
            parts.append(_Laid(part, height, number if begin + _TALLEST >= most else -1))
        return parts

    def _head_height(self) -> float:
        return 30.0 if any(column.unit for column in self.columns) else 18.0

    def _rows_height(self) -> float:
        laid = self.laid or []
        if self.start == self.stop:
            return self.row if self.empty else 0.0
        return sum(laid[index].height for index in range(self.start, self.stop))

    def _foot_height(self) -> float:
        return self.foot.height + 1 if self.foot else 0.0

    def draw(self) -> None:
        """Head, rows and their lines, sums."""
        top = self._head_height() + self._rows_height() + self._foot_height()
        right = sum(self.widths)
        self._draw_head(top, right)
        y = top - self._head_height()
        self._draw_rules(y, right)
        laid = self.laid or []
        if self.start == self.stop and self.empty:
            draw(self.canv, PAD, y - self.row + 4.5, self.empty, replace(CELL, ink="ink2"))
            y -= self.row
        for index in range(self.start, self.stop):
            self._draw_row(laid[index], y)
            y -= laid[index].height
        if self.foot:
            self._draw_row(self.foot, y - 1)

    def _draw_head(self, top: float, right: float) -> None:
        x = 0.0
        bottom = top - self._head_height()
        two = any(column.unit for column in self.columns)
        for column, room in zip(self.columns, self.widths, strict=True):
            at = _anchor(x, room, column.align)
            draw(self.canv, at, bottom + (17.5 if two else 5.5), column.title, HEAD, column.align)
            draw(self.canv, at, bottom + 5.5, column.unit, HEAD_UNIT, column.align)
            x += room
        self._rule(bottom, right, FIFTH)

    def _draw_rules(self, y: float, right: float) -> None:
        canvas, laid = self.canv, self.laid or []
        top = y
        for index in range(self.start, self.stop):
            y -= laid[index].height
            last = index == self.stop - 1
            fifth = laid[index].number % 5 == 0 or (last and self.foot is not None)
            self._rule(y, right, FIFTH if fifth else HAIR)
        x = 0.0
        canvas.setStrokeColor(ink("line"))
        canvas.setLineWidth(HAIR)
        for column, room in zip(self.columns, self.widths, strict=True):
            x += room
            if column.group_end:
                canvas.line(x, top + self._head_height() - 4, x, y)

    def _rule(self, y: float, right: float, weight: float) -> None:
        self.canv.setStrokeColor(ink("line5" if weight == FIFTH else "line"))
        self.canv.setLineWidth(weight)
        self.canv.line(0, y, right, y)

    def _draw_row(self, row: _Laid, y: float) -> None:
        x = 0.0
        base = y - (self.row - LEADING) / 2 - 8.6
        for (lines, role, mark), column, room in zip(row.cells, self.columns, self.widths, strict=True):
            if mark == "swatch":
                draw_swatch(self.canv, role.ink, x + PAD + 4, base + 3.2, 8)
            elif mark and lines:
                draw_mark(self.canv, mark, x + PAD + 4, base + 3.2, 8)
            inset = 13.0 if mark and lines else 0.0
            at = _anchor(x, room, column.align)
            for index, line in enumerate(lines):
                draw(self.canv, at + inset, base - index * LEADING, line, role, column.align)
            x += room


def _anchor(x: float, room: float, align: str) -> float:
    return {"left": x + PAD, "right": x + room - PAD, "centre": x + room / 2}[align]


def _lay_cell(cell: str | Cell, column: Column, room: float) -> tuple[tuple[str, ...], Role, str]:
    role = column.role
    if isinstance(cell, Cell):
        role = replace(role, ink=cell.ink or role.ink, face=cell.face or role.face)
        inset = 13 if cell.mark else 0
        return wrapped(cell.text, role, room - 2 * PAD - inset), role, cell.mark
    if not cell:
        return (), role, ""
    return wrapped(cell, role, room - 2 * PAD), role, ""


def day_mm() -> float:
    """The width that holds any day without its year."""
    return widest(["30 May", "28 Nov"])


def long_day_mm() -> float:
    """The width that holds any day with its year."""
    return widest(["30 May 2028", "28 Nov 2028"])


def widest(cells: Sequence[str], role: Role = CELL) -> float:
    """The width in millimetres that holds the widest of ``cells`` on one line."""
    return (max((text_width(clean(cell), role) for cell in cells), default=0) + 2 * PAD + 0.5) / MM
