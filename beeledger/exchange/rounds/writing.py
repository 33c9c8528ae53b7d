"""The round sheet of one site as a workbook to be filled on a tablet.

Headings, hives, last figures and sums are locked; entry cells have drop-downs and limits. A hidden
sheet carries the round's uid and each hive's colony, so that the file finds its way home.
"""

from __future__ import annotations

import io
from collections.abc import Mapping
from datetime import date
from typing import Any, Literal

from openpyxl import Workbook
from openpyxl.styles import Alignment, Border, Font, PatternFill, Protection, Side
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation

from beeledger.base.dates import long
from beeledger.base.resources import table
from beeledger.base.text import tidy
from beeledger.exchange.rounds.columns import COLUMNS, SITE_FIELDS, YES_NO, Column, Takes
from beeledger.exchange.rounds.values import cell_of
from beeledger.queries.records.round_sheet import LastFigures, RoundSheet
from beeledger.rules.rounds.entry import EMPTY, Entry

FORMAT_VERSION = 1
MARK_OF_KIND = "round workbook"
HIVES, SITE, WORDS, IDENTITY = "Hives", "Site", "words", "identity"
HEADINGS_ROW = 5
FIRST_ROW = HEADINGS_ROW + 1
_SUMS_ROW, _GROUPS_ROW = 3, 4
FIXED = (("Hive", 8.0), ("Queen", 13.0), ("Last visit", 38.0), ("Due", 24.0))
_FIRST_ENTRY = len(FIXED) + 1
_OPEN = Protection(locked=False)
_HAIR = Side(style="hair", color="B9B4A6")
_LINES = Border(bottom=_HAIR, right=_HAIR)
_HEAD_FILL = PatternFill("solid", fgColor="EFECE3")
_QUIET = Font(name="Calibri", size=10, color="6B675C")
_STRONG = Font(name="Calibri", size=10, bold=True)
_PLAIN = Font(name="Calibri", size=11)
_TITLE = Font(name="Calibri", size=15, bold=True)
_HOW = "Fill the white cells. Blank means nobody looked; 0 or no means looked and none."


def write_round_workbook(
    sheet: RoundSheet,
    colony_ids: Mapping[str, int],
    record_version: int = 0,
    entries: Mapping[str, Entry] | None = None,
) -> bytes:
    """The workbook's bytes. ``colony_ids`` gives each line's colony by its hive mark.

    ``record_version`` is the number of the last act the figures were made from; ``entries``, by hive
    mark, is what a draft holds already. Raises ValueError when a line has no colony, two lines have one hive mark, or the sheet has no uid.
    """
    marks = [line.hive for line in sheet.lines]
    if not sheet.uid or len(set(marks)) != len(marks) or not set(marks) <= set(colony_ids):
        raise ValueError("a round sheet needs a uid, and each hive a mark of its own and a colony")
    book = Workbook()
    _hives(book.active, sheet, entries or {})
    _site(book.create_sheet(SITE), sheet)
    _words(book.create_sheet(WORDS))
    _identity(book.create_sheet(IDENTITY), sheet, colony_ids, record_version)
    book.security.lockStructure = True
    book.properties.creator = "BeeLedger"
    book.properties.title = f"Round at {tidy(sheet.site)}"
    buffer = io.BytesIO()
    book.save(buffer)
    return buffer.getvalue()


def put(cell: Any, value: object, font: Font = _PLAIN) -> None:
    """Set a cell; text is text even when it begins with =."""
    cell.value = value
    if isinstance(value, str):
        cell.data_type = "s"
    cell.font = font


def _hives(page: Any, sheet: RoundSheet, entries: Mapping[str, Entry]) -> None:
    page.title = HIVES
    more = _further_splits(sheet, entries)
    last = FIRST_ROW + len(sheet.lines) + len(more) + _spare_rows() - 1
    day = f", {long(sheet.day)}" if sheet.day else ""
    put(page["A1"], f"{tidy(sheet.site)}{day}", _TITLE)
    due = f" Due: {sheet.due}." if sheet.due else ""
    put(page["A2"], tidy(f"{_HOW}{due} {' '.join(_sentence(note.words) for note in sheet.cautions)}"), _QUIET)
    _headings(page)
    for row, line in enumerate(sheet.lines, start=FIRST_ROW):
        fixed = (line.hive, line.queen or line.queen_colour, last_words(line.last), line.due)
        for at, value in enumerate(fixed, start=1):
            put(page.cell(row, at), value, _STRONG if at == 1 else _QUIET)
            page.cell(row, at).alignment = Alignment(vertical="center", wrap_text=at > 2)
            page.cell(row, at).border = _LINES
    for row in range(FIRST_ROW + len(sheet.lines), last + 1):
        # Rows for hives found that are on no list: their mark is typed.
        page.cell(row, 1).protection = _OPEN
        page.cell(row, 1).border = _LINES
    _entry_cells(page, last)
    for row, line in enumerate(sheet.lines, start=FIRST_ROW):
        _put_entry(page, row, entries.get(line.hive, EMPTY))
    for row, (mark, entry) in enumerate(more, start=FIRST_ROW + len(sheet.lines)):
        put(page.cell(row, 1), mark, _STRONG)
        _put_entry(page, row, entry)
    _sums(page, last)
    _look(page, last)


def _further_splits(sheet: RoundSheet, entries: Mapping[str, Entry]) -> list[tuple[str, Entry]]:
    """A hive's second split and those after it stand in rows of their own."""
    marks = [line.hive for line in sheet.lines if line.hive in entries]
    return [(mark, Entry(split_to=(split,))) for mark in marks for split in entries[mark].split_to[1:]]


def _put_entry(page: Any, row: int, entry: Entry) -> None:
    for at, column in enumerate(COLUMNS, start=_FIRST_ENTRY):
        value = cell_of(column, entry)
        if value is not None:
            put(page.cell(row, at), value)


def _headings(page: Any) -> None:
    for at, (text, wide) in enumerate(FIXED, start=1):
        _heading(page, at, "", text, wide)
    group = ""
    for at, column in enumerate(COLUMNS, start=_FIRST_ENTRY):
        _heading(page, at, column.group if column.group != group else "", column.heading, column.wide)
        group = column.group
    page.row_dimensions[HEADINGS_ROW].height = 32


def _heading(page: Any, at: int, group: str, text: str, wide: float) -> None:
    put(page.cell(_GROUPS_ROW, at), group or None, _QUIET)
    put(page.cell(HEADINGS_ROW, at), text, _STRONG)
    page.cell(HEADINGS_ROW, at).alignment = Alignment(wrap_text=True, vertical="bottom")
    page.cell(HEADINGS_ROW, at).fill = _HEAD_FILL
    page.cell(HEADINGS_ROW, at).border = _LINES
    page.column_dimensions[get_column_letter(at)].width = wide


def _entry_cells(page: Any, last: int) -> None:
    for at, column in enumerate(COLUMNS, start=_FIRST_ENTRY):
        letter = get_column_letter(at)
        check = _check(column)
        check.add(f"{letter}{FIRST_ROW}:{letter}{last}")
        page.add_data_validation(check)
        for row in range(FIRST_ROW, last + 1):
            cell = page.cell(row, at)
            cell.protection = _OPEN
            cell.border = _LINES
            cell.font = _PLAIN
            if column.takes is Takes.TEXT:
                cell.number_format = "@"
                cell.alignment = Alignment(wrap_text=True, vertical="center")


def _check(column: Column) -> DataValidation:
    """The check in the cells of a column, with the sentence that stands when it says no."""
    bounds: dict[str, Any] = {"operator": "between", "formula1": "0", "formula2": str(column.most)}
    if column.takes in (Takes.CHOICE, Takes.YES_NO):
        check = DataValidation(type="list", formula1=_list_range(column), allow_blank=True)
        said = "Choose from the list, or leave it blank"
    elif column.takes is Takes.TEXT:
        check = DataValidation(type="textLength", allow_blank=True, **bounds)
        said = f"At most {column.most} letters"
    else:
        kind: Literal["whole", "decimal"] = "whole" if column.takes is Takes.WHOLE else "decimal"
        if column.name == "temper":
            bounds["formula1"] = "1"
        check = DataValidation(type=kind, allow_blank=True, **bounds)
        said = f"A {column.takes} from {bounds['formula1']} to {column.most}, or blank"
    check.errorTitle, check.error = column.heading[:31], said
    check.showErrorMessage = True
    return check


def _list_range(column: Column) -> str:
    letter = get_column_letter(_lists().index(column.name) + 1)
    return f"{WORDS}!${letter}$1:${letter}${len(choices_of(column))}"


def choices_of(column: Column) -> tuple[str, ...]:
    """The words of a column's drop-down."""
    return tuple(YES_NO) if column.takes is Takes.YES_NO else tuple(column.choices)


def _lists() -> list[str]:
    listed = (column for column in COLUMNS if column.takes in (Takes.CHOICE, Takes.YES_NO))
    return [column.name for column in listed]


def _words(page: Any) -> None:
    by_name = {column.name: column for column in COLUMNS}
    for at, name in enumerate(_lists(), start=1):
        for row, word in enumerate(choices_of(by_name[name]), start=1):
            put(page.cell(row, at), word)
    page.sheet_state = "hidden"
    page.protection.sheet = True


def _sums(page: Any, last: int) -> None:
    put(page.cell(_SUMS_ROW, 1), "Sums", _STRONG)
    for at, column in enumerate(COLUMNS, start=_FIRST_ENTRY):
        letter = get_column_letter(at)
        cells = f"{letter}{FIRST_ROW}:{letter}{last}"
        cell = page.cell(_SUMS_ROW, at)
        if column.summed:
            cell.value = f"=SUM({cells})"
        elif column.takes is Takes.YES_NO:
            cell.value = f'=COUNTIF({cells},"yes")'
        elif column.name == "outcome":
            cell.value = f"=COUNTA({cells})"
        cell.font = _STRONG


def _look(page: Any, last: int) -> None:
    page.freeze_panes = page.cell(FIRST_ROW, 2)
    page.sheet_view.showGridLines = False
    page.protection.sheet = True
    page.protection.formatColumns = page.protection.formatRows = False
    page.page_setup.orientation, page.page_setup.paperSize = "landscape", 9
    page.page_setup.fitToHeight = 0
    page.sheet_properties.pageSetUpPr.fitToPage = True
    page.print_title_rows = f"{HEADINGS_ROW}:{HEADINGS_ROW}"
    page.print_area = f"A1:{get_column_letter(len(FIXED) + len(COLUMNS))}{last}"


def _site(page: Any, sheet: RoundSheet) -> None:
    put(page["A1"], f"{tidy(sheet.site)}: said once for the whole site", _TITLE)
    given: dict[str, date | str | None] = {"day": sheet.day, "crew": sheet.crew}
    for row, column in enumerate(SITE_FIELDS, start=3):
        put(page.cell(row, 1), column.heading, _STRONG)
        cell = page.cell(row, 2)
        put(cell, given.get(column.name) or None)
        cell.protection, cell.border = _OPEN, _LINES
        cell.number_format = "dd/mm/yyyy" if column.name == "day" else cell.number_format
        cell.alignment = Alignment(horizontal="left", wrap_text=True)
        if column.takes is not Takes.TEXT:
            check = _check(column)
            check.add(cell.coordinate)
            page.add_data_validation(check)
    facts = (("Grid reference", sheet.grid), ("Way in", sheet.way_in))
    for row, (name, value) in enumerate(facts, start=len(SITE_FIELDS) + 4):
        put(page.cell(row, 1), name, _QUIET)
        put(page.cell(row, 2), value or None, _QUIET)
    page.column_dimensions["A"].width, page.column_dimensions["B"].width = 22, 48
    page.sheet_view.showGridLines = False
    page.protection.sheet = True


def _identity(page: Any, sheet: RoundSheet, colony_ids: Mapping[str, int], record_version: int) -> None:
    rows: list[tuple[object, ...]] = [
        (MARK_OF_KIND, FORMAT_VERSION),
        ("uid", sheet.uid),
        ("site", sheet.site),
        ("record", record_version),
        ("row", "colony", "hive"),
    ]
    rows += [(at, colony_ids[line.hive], line.hive) for at, line in enumerate(sheet.lines, start=FIRST_ROW)]
    for at, row in enumerate(rows, start=1):
        for place, value in enumerate(row, start=1):
            put(page.cell(at, place), value)
    page.sheet_state = "veryHidden"
    page.protection.sheet = True


def last_words(last: LastFigures) -> str:
    """The last visit's figures in one line, each with its name."""
    named = (
        ("", "queen seen" if last.queen else ""), ("", "eggs" if last.eggs else ""), ("brood", last.brood),
        ("bees", last.bees), ("stores", last.stores), ("temper", last.temper), ("cells", last.cells),
        ("supers", last.supers), ("feed", last.feed), ("strips", last.strips), ("mites", last.mites),
        ("again", last.again),
    )  # fmt: skip
    return ", ".join(f"{name} {words}".strip() for name, words in named if words)


def _sentence(words: str) -> str:
    return words if words.endswith((".", "!", "?")) else f"{words}."


def _spare_rows() -> int:
    return int(table("rules", "round_workbook.toml")["sheet"]["spare_rows"])
