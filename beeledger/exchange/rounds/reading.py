"""A filled round workbook read back: every row accounted for, each bad cell named."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time
from pathlib import Path
from typing import Any

from beeledger.base.errors import CannotNow
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import counted, folded, listed
from beeledger.exchange.days import read_day
from beeledger.exchange.figures import UnreadCell, shown
from beeledger.exchange.rounds.columns import COLUMNS, SITE_FIELDS, Column
from beeledger.exchange.rounds.records import RoundRow, RoundWorkbook, SiteLine
from beeledger.exchange.rounds.values import read_minute, read_value, split_of
from beeledger.exchange.rounds.writing import FORMAT_VERSION, HIVES, IDENTITY, MARK_OF_KIND, SITE
from beeledger.exchange.tables import Cell, Line, Table, column_letter, is_blank, read_tables
from beeledger.rules.rounds.entry import Outcome, fields_filled
from beeledger.rules.rounds.plain import from_plain


@dataclass(slots=True)
class _Identity:
    uid: str
    site: str
    record_version: int
    hives: dict[str, tuple[str, int]]
    """By folded mark: the mark as it was written, and its colony."""


@dataclass(slots=True)
class _Findings:
    sheet: str
    found: list[Finding] = field(default_factory=list)

    def add(self, grade: Grade, code: str, what: str, mend: str, row: int | None, column: str = "") -> None:
        where = Where(sheet=self.sheet, row=row, column=column)
        self.found.append(Finding(f"round-workbook.{code}", grade, what, mend, where))


def read_round_workbook(path: Path, today: date) -> RoundWorkbook:
    """Read a filled round workbook. Raises CannotNow when the file is not one or cannot be read.

    Cells are judged one by one; what the figures mean together is for the checks of a round.
    """
    tables = {sheet.name: sheet for sheet in read_tables(path)}
    if not {HIVES, IDENTITY} <= set(tables):
        raise _not_one(path)
    identity = _read_identity(tables[IDENTITY], path)
    findings = _Findings(HIVES)
    rows = list(_rows(tables[HIVES], identity, findings, path))
    kept = _joined(rows, findings)
    missing = _missing(kept, identity, findings)
    on_site = _Findings(SITE)
    line = _site_line(tables.get(SITE), on_site, today)
    return RoundWorkbook(
        identity.uid,
        identity.site,
        identity.record_version,
        line,
        tuple(kept),
        missing,
        tuple(sorted(findings.found, key=lambda f: f.where.row or 0)) + tuple(on_site.found),
    )


def _not_one(path: Path) -> CannotNow:
    return CannotNow(
        f"{path.name} is not a round workbook.",
        "Fill the workbook that was written for the round, and read that.",
    )


def _read_identity(sheet: Table, path: Path) -> _Identity:
    lines = sheet.lines
    facts = {shown(line.cell(0)): line.cell(1) for line in lines[:4]}
    version, uid, record = facts.get(MARK_OF_KIND), shown(facts.get("uid")), facts.get("record")
    if not isinstance(version, int) or not isinstance(record, int) or not uid:
        raise _not_one(path)
    if version > FORMAT_VERSION:
        raise CannotNow(f"{path.name} was written by a newer program.", "Read it with that one.")
    hives = {}
    for line in lines[5:]:
        colony, mark = line.cell(1), shown(line.cell(2))
        if not isinstance(colony, int) or not mark:
            raise _not_one(path)
        hives[folded(mark)] = (mark, colony)
    return _Identity(uid, shown(facts.get("site")), record, hives)


def _rows(sheet: Table, identity: _Identity, findings: _Findings, path: Path) -> Iterator[RoundRow]:
    head = next((line for line in sheet.lines if folded(shown(line.cell(0))) == "hive"), None)
    if head is None:
        raise _not_one(path)
    headings = {folded(shown(head.cell(index))): index for index in head.filled()}
    columns = {headings[key]: column for column in COLUMNS if (key := folded(column.heading)) in headings}
    _say_lost_columns(columns, findings, head.number)
    for line in sheet.lines:
        if line.number > head.number and (row := _row(line, columns, identity, findings)) is not None:
            yield row


def _say_lost_columns(columns: dict[int, Column], findings: _Findings, row: int) -> None:
    lost = [column.heading for column in COLUMNS if column not in columns.values()]
    if lost:
        what = f"{counted(len(lost), 'column')} not found: {listed(lost[:6])}"
        findings.add(Grade.DOUBTFUL, "column-lost", what, "Read a copy with its headings as they were", row)


def _row(line: Line, columns: dict[int, Column], identity: _Identity, findings: _Findings) -> RoundRow | None:
    cells = {index: line.cell(index) for index in columns if not is_blank(line.cell(index))}
    typed = shown(line.cell(0))
    mark, colony = identity.hives.get(folded(typed), (typed, None))
    if not cells and not mark:
        return None
    before = len(findings.found)
    values = _values(line, cells, columns, findings)
    entry = from_plain(values)
    if not mark and entry.outcome is not Outcome.STRANGER:
        what = "the row is filled and names no hive"
        findings.add(
            Grade.REFUSED, "no-hive", what, "Write the hive, or choose stranger", line.number, "A (Hive)"
        )
    raw = {columns[index].name: shown(value) for index, value in cells.items()}
    refused = any(finding.grade is Grade.REFUSED for finding in findings.found[before:])
    return RoundRow(line.number, mark, colony, entry, raw, refused)


def _values(
    line: Line, cells: dict[int, Cell], columns: dict[int, Column], findings: _Findings
) -> dict[str, Any]:
    values: dict[str, Any] = {}
    for index, cell in cells.items():
        column = columns[index]
        place = f"{column_letter(index)} ({column.heading})"
        try:
            value, doubt = read_value(column, cell)
        except UnreadCell as unread:
            findings.add(Grade.REFUSED, "cell", unread.what, unread.mend, line.number, place)
            continue
        if doubt:
            findings.add(
                Grade.DOUBTFUL, "inexact", f"{shown(cell)} {doubt}", "Look at it", line.number, place
            )
        if value is not None:
            values[column.name] = value
    split = {name: values.pop(name) for name in list(values) if name.startswith("split_")}
    if split:
        try:
            values["split_to"] = [split_of(split)]
        except UnreadCell as unread:
            place = _place_of("split_mark", columns)
            findings.add(Grade.REFUSED, "cell", unread.what, unread.mend, line.number, place)
    return values


def _place_of(name: str, columns: dict[int, Column]) -> str:
    """Letter and heading of a field's column."""
    found = (
        f"{column_letter(at)} ({column.heading})" for at, column in columns.items() if column.name == name
    )
    return next(found, "")


def _joined(rows: list[RoundRow], findings: _Findings) -> list[RoundRow]:
    """One row a hive: a second row adds further splits; anything else in it is refused."""
    first: dict[str, int] = {}
    kept: list[RoundRow] = []
    for row in rows:
        place = first.get(folded(row.hive)) if row.hive else None
        if place is None:
            first[folded(row.hive)] = len(kept)
            kept.append(row)
        elif kept[place].is_blank:
            kept[place] = row
        elif row.is_blank:
            continue
        elif fields_filled(row.entry) == ("split_to",) and not row.refused:
            entry = kept[place].entry
            kept[place] = replace(
                kept[place], entry=replace(entry, split_to=entry.split_to + row.entry.split_to)
            )
        else:
            what = f"hive {row.hive} is filled a second time; row {kept[place].row} is the first"
            findings.add(Grade.REFUSED, "twice", what, "Leave one of the two", row.row, "A (Hive)")
            kept.append(replace(row, refused=True))
    return kept


def _missing(rows: list[RoundRow], identity: _Identity, findings: _Findings) -> tuple[str, ...]:
    there = {folded(row.hive) for row in rows}
    missing = tuple(mark for key, (mark, _) in identity.hives.items() if key not in there)
    if missing:
        what = f"{counted(len(missing), 'hive')} of the sheet has no row: {listed(missing)}"
        findings.add(Grade.DOUBTFUL, "row-gone", what, "Look whether rows were deleted", None)
    blanks = [row.hive for row in rows if row.is_blank]
    if blanks:
        what = f"{counted(len(blanks), 'hive')} not filled in: {listed(blanks)}"
        findings.add(Grade.NOTED, "not-filled", what, "", None)
    strange = [row for row in rows if row.colony_id is None and row.hive]
    for row in strange:
        what = f"hive {row.hive} was not on the sheet"
        findings.add(
            Grade.AGAINST, "not-on-sheet", what, "Look where it stands by the record", row.row, "A (Hive)"
        )
    return missing


def _site_line(sheet: Table | None, findings: _Findings, today: date) -> SiteLine:
    if sheet is None:
        return SiteLine()
    by_heading = {folded(shown(line.cell(0))): line for line in sheet.lines}
    values: dict[str, Any] = {}
    for column in SITE_FIELDS:
        line = by_heading.get(folded(column.heading))
        if line is None or is_blank(line.cell(1)):
            continue
        try:
            values[column.name] = _site_value(column, line.cell(1), today)
        except UnreadCell as unread:
            findings.add(
                Grade.REFUSED, "cell", unread.what, unread.mend, line.number, f"B ({column.heading})"
            )
    names = ("feed_kind", "feed_ml", "feed_g", "clearers")
    each = from_plain({name: values[name] for name in names if values.get(name) is not None})
    return SiteLine(
        day=values.get("day"),
        crew=values.get("crew") or "",
        start_minute=values.get("start"),
        end_minute=values.get("end"),
        weather=values.get("weather") or "",
        each=each,
        note=values.get("note") or "",
    )


def _site_value(column: Column, cell: Cell, today: date) -> Any:
    if column.name in ("start", "end"):
        return read_minute(cell)
    if column.name == "day":
        return read_day(cell, today)
    if isinstance(cell, datetime | time):
        return shown(cell)
    return read_value(column, cell)[0]
