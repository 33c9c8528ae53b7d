"""The one style of workbooks: head frozen and repeated, widths set, real dates and numbers.

Text is always text: a cell that begins with = is never a formula, here or when it is edited.
"""

from __future__ import annotations

import zipfile
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from io import BytesIO
from typing import Literal

from openpyxl import Workbook
from openpyxl.cell import Cell
from openpyxl.styles import Alignment, Border, Font, NamedStyle, Side
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.worksheet import Worksheet

from beeledger.queries.records.heading import Farm, Made
from beeledger.reporting.look.ink import INKS
from beeledger.reporting.look.page import Heading, made_words
from beeledger.reporting.look.text import clean

Kind = Literal[
    "text", "count", "tenths", "hundredths", "kilograms", "grams", "money", "share", "day", "moment"
]
Value = str | int | float | date | datetime | None

_FORMATS: dict[Kind, str] = {
    "text": "@",
    "count": "#,##0",
    "tenths": "0.0",
    "hundredths": "0.00",
    "kilograms": "#,##0.000",
    "grams": "#,##0.0",
    "money": "£#,##0.00;[Red]-£#,##0.00",
    "share": "0.00%",
    "day": "dd/mm/yyyy",
    "moment": "dd/mm/yyyy hh:mm",
}
_SCALES: dict[Kind, int] = {"tenths": 10, "hundredths": 100, "kilograms": 1000, "money": 100, "share": 10_000}
"""What a whole number of each kind is divided by: tenths of a frame, pence, grams, hundredths of a per cent."""
_LONGEST = 32_767
"""Characters a cell holds (ECMA-376 leaves it open; it is the limit of spreadsheet programs)."""
HEAD_ROW = 5
"""Rows above the table: title, period, farm and source, a blank, the head itself."""


@dataclass(frozen=True, slots=True)
class Field:
    """A column: its head, its kind and its width in characters."""

    title: str
    kind: Kind = "text"
    wide: float = 12


class Book:
    """A workbook being written; ``save`` gives its bytes."""

    def __init__(self, heading: Heading, farm: Farm, made: Made) -> None:
        self.heading, self.farm, self.made = heading, farm, made
        self.book = Workbook()
        if self.book.active is not None:
            self.book.remove(self.book.active)
        for style in _styles():
            self.book.add_named_style(style)
        self._name()

    def _name(self) -> None:
        facts = self.book.properties
        facts.title = clean(f"{self.heading.title} {self.heading.identity}")
        facts.creator = clean(self.farm.name)
        facts.created = facts.modified = self.made.at.replace(tzinfo=None)

    def sheet(
        self,
        name: str,
        fields: Sequence[Field],
        rows: Iterable[Sequence[Value]],
        *,
        sums: Sequence[Value] | None = None,
        wide: bool = True,
    ) -> Worksheet:
        """Add a sheet: titles, head, rows and the row of sums."""
        sheet: Worksheet = self.book.create_sheet(_sheet_name(name))
        self._titles(sheet, name)
        _head(sheet, fields)
        number = HEAD_ROW
        for number, row in enumerate(rows, start=HEAD_ROW + 1):
            _write_row(sheet, number, fields, row, " 5" if (number - HEAD_ROW) % 5 == 0 else "")
        if sums is not None:
            _write_row(sheet, number + 1, fields, sums, " sum")
        _print_setup(sheet, len(fields), number, wide=wide)
        foot = sheet.oddFooter
        if foot is not None and foot.left is not None and foot.right is not None:
            foot.left.text = _escaped(made_words(self.made))
            foot.right.text = f"{self.heading.key} · page &P of &N"
        return sheet

    def _titles(self, sheet: Worksheet, name: str) -> None:
        title = " · ".join(part for part in (self.heading.title, self.heading.identity, name) if clean(part))
        _write(_at(sheet, 1, 1), title, "ledger title")
        _write(_at(sheet, 2, 1), self.heading.period, "ledger quiet")
        _write(_at(sheet, 3, 1), f"{self.farm.name} · {made_words(self.made)}", "ledger quiet")

    def save(self) -> bytes:
        """The file's bytes; the same record and moment give the same bytes."""
        buffer = BytesIO()
        self.book.save(buffer)
        return _timeless(buffer.getvalue(), self.made.at)


def _styles() -> list[NamedStyle]:
    hair = Side(style="hair", color=INKS["line5"][1:])
    firm = Side(style="thin", color=INKS["line5"][1:])
    name, colour = "Inter", INKS["ink"][1:]
    styles = [
        NamedStyle("ledger title", font=Font(name=name, size=14, bold=True, color=colour)),
        NamedStyle("ledger quiet", font=Font(name=name, size=9, color=INKS["ink2"][1:])),
        NamedStyle(
            "ledger head",
            font=Font(name=name, size=9, bold=True, color=INKS["ink2"][1:]),
            border=Border(bottom=firm),
            alignment=Alignment(wrap_text=True, vertical="bottom"),
        ),
    ]
    for kind, number_format in _FORMATS.items():
        flow = Alignment(
            horizontal="left" if kind == "text" else "right", vertical="top", wrap_text=kind == "text"
        )
        for tail, border, bold in (
            ("", Border(bottom=hair), False),
            (" 5", Border(bottom=firm), False),
            (" sum", Border(top=firm), True),
        ):
            styles.append(
                NamedStyle(
                    f"ledger {kind}{tail}",
                    font=Font(name=name, size=10, bold=bold, color=colour),
                    border=border,
                    alignment=flow,
                    number_format=number_format,
                )
            )
    return styles


def _write_row(
    sheet: Worksheet, number: int, fields: Sequence[Field], row: Sequence[Value], tail: str
) -> None:
    for column, (value, field) in enumerate(zip(row, fields, strict=True), start=1):
        style = f"ledger {field.kind}{tail}"
        _write(_at(sheet, number, column), value, style, _SCALES.get(field.kind, 1))


def _at(sheet: Worksheet, row: int, column: int) -> Cell:
    cell = sheet.cell(row, column)
    assert isinstance(cell, Cell), "the program merges no cells"
    return cell


def _write(cell: Cell, value: Value, style: str, scale: int = 1) -> None:
    cell.style = style
    if value is None:
        return
    if isinstance(value, str):
        text = clean(value)[:_LONGEST]
        if text:
            cell.value = text
            cell.data_type = "s"
            if text[0] in "=+-@":
                cell.quotePrefix = True
        return
    if isinstance(value, datetime):
        cell.value = value.replace(tzinfo=None)
    elif isinstance(value, int) and scale > 1:
        cell.value = Decimal(value) / scale
    else:
        cell.value = value


def _head(sheet: Worksheet, fields: Sequence[Field]) -> None:
    for column, field in enumerate(fields, start=1):
        _write(_at(sheet, HEAD_ROW, column), field.title, "ledger head")
        if field.kind != "text":
            _at(sheet, HEAD_ROW, column).alignment = Alignment(
                wrap_text=True, vertical="bottom", horizontal="right"
            )
        sheet.column_dimensions[get_column_letter(column)].width = field.wide
    sheet.row_dimensions[1].height = 22
    sheet.row_dimensions[HEAD_ROW].height = 28
    sheet.freeze_panes = f"B{HEAD_ROW + 1}"


def _print_setup(sheet: Worksheet, columns: int, last: int, *, wide: bool) -> None:
    sheet.page_setup.orientation = "landscape" if wide else "portrait"
    sheet.page_setup.paperSize = 9  # A4
    sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    sheet.print_title_rows = f"{HEAD_ROW}:{HEAD_ROW}"
    sheet.page_margins.left = sheet.page_margins.right = 0.5
    sheet.page_margins.top = sheet.page_margins.bottom = 0.6
    sheet.sheet_view.showGridLines = False
    if last > HEAD_ROW:
        sheet.auto_filter.ref = f"A{HEAD_ROW}:{get_column_letter(columns)}{last}"


def _sheet_name(name: str) -> str:
    kept = "".join(ch for ch in clean(name) if ch not in "[]:*?/\\")
    return kept[:31].strip("'") or "Sheet"


def _escaped(text: str) -> str:
    """For a printed head or foot, where & begins a command."""
    return text.replace("&", "&&")


def _timeless(data: bytes, at: datetime) -> bytes:
    """The same file with the moment of the data on each of its parts."""
    stamp = (max(at.year, 1980), at.month, at.day, at.hour, at.minute, 0)
    out = BytesIO()
    with zipfile.ZipFile(BytesIO(data)) as before, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as after:
        for name in before.namelist():
            part = zipfile.ZipInfo(name, stamp)
            part.compress_type = zipfile.ZIP_DEFLATED
            after.writestr(part, before.read(name))
    return out.getvalue()
