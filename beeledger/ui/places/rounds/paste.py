"""A block from a spreadsheet into the grid, and lines of the grid out as text."""

from __future__ import annotations

import re

from beeledger.rules.rounds.entry import Entry, over
from beeledger.ui.places.rounds.columns import GridColumn, read_cell, without
from beeledger.ui.places.rounds.sheet import Sheet

_YES = re.compile(r"^(y|yes|true|x|✓)$", re.IGNORECASE)
_NO = re.compile(r"^(n|no|false)$", re.IGNORECASE)


def paste_block(sheet: Sheet, row: int, at: int, text: str) -> list[str]:
    """Tab-separated cells from a line and column on; gives what could not be read, and leaves those cells."""
    entries: dict[int, Entry] = {}
    problems = []
    for down, line in enumerate(text.rstrip("\r\n").splitlines()):
        to = row + down
        if to >= len(sheet.lines):
            problems.append("there are more lines than hives from here on")
            break
        for right, value in enumerate(line.split("\t")[: len(sheet.columns) - at]):
            column = sheet.columns[at + right]
            said, problem = read_cell(column, spreadsheet_words(column, value), sheet.habits, alone=True)
            if said is None:
                problems.append(f"{sheet.lines[to].mark}, {problem}")
            elif value.strip():
                base = entries.get(to, sheet.lines[to].typed)
                entries[to] = over(without(base, column.fields), said)
    sheet.put_entries(entries)
    return problems


def spreadsheet_words(column: GridColumn, value: str) -> str:
    """What a spreadsheet says with yes and no, in marks."""
    plain = value.strip().replace("\N{MINUS SIGN}", "-")
    if column.key in ("seen", "eggs"):
        mark = "q" if column.key == "seen" else "e"
        if _YES.match(plain):
            return mark
        if _NO.match(plain):
            return f"{mark}-"
    if column.key == "cells" and plain.casefold() in ("none", "no", "0"):
        return "-"
    return plain


def rows_as_text(sheet: Sheet, rows: range) -> str:
    """Lines as tab-separated cells, the hive first."""
    told = []
    for row in rows:
        shown = [column.show(sheet.views[row].entry, sheet.habits) for column in sheet.columns]
        told.append("\t".join([sheet.lines[row].mark, *shown]))
    return "\n".join(told)
