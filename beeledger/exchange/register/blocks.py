"""Sheets cut into blocks: a heading row and the rows under it, and what single rows are."""

from __future__ import annotations

from dataclasses import dataclass, replace

from beeledger.base.findings import Where
from beeledger.base.resources import table
from beeledger.base.text import folded, listed, tidy
from beeledger.exchange.register.choosing import Choices, with_choices
from beeledger.exchange.register.content import (
    day_proofs,
    heads_by_content,
    is_month_first,
    with_columns_by_content,
)
from beeledger.exchange.register.headings import Heads, read_heads
from beeledger.exchange.register.records import Remarks
from beeledger.exchange.tables import Cell, Line, Table


@dataclass(frozen=True, slots=True)
class Block:
    """The rows under one heading row. ``title`` is the lone text above it.

    ``month_first`` when dates in words of figures are written as 05/14/2026.
    """

    sheet: str
    heads: Heads
    lines: tuple[Line, ...]
    title: str = ""
    epoch_1904: bool = False
    month_first: bool = False
    kind_said: bool = False
    """Whether the person said what its rows are."""

    def where(self, line: Line, name: str = "") -> Where:
        """The place of a field's cell in a row."""
        return Where(sheet=self.sheet, row=line.number, column=self.heads.column(name) if name else "")


def cut(sheet: Table, remarks: Remarks, chosen: Choices | None = None) -> list[Block]:
    """The blocks of one sheet, their columns as ``chosen``; what is passed over is noted."""
    if sheet.hidden:
        remarks.note(Where(sheet=sheet.name), "hidden", "the sheet is hidden and was not read")
        return []
    blocks, lines, heads, title = list[Block](), list[Line](), None, ""
    above: Line | None = None
    repeats: list[int] = []
    for place, line in enumerate(sheet.lines):
        found = read_heads(line, above) if heads or place < _header_rows() else None
        if found is None and heads is None and place < _header_rows():
            found = heads_by_content(line, sheet.lines[place + 1 :])
        above = line
        if found is None:
            title = title if heads else _title(line) or title
            lines.append(line)
        elif heads and found.columns == heads.columns and found.kind is heads.kind:
            repeats.append(line.number)
        else:
            if heads:
                blocks.append(Block(sheet.name, heads, tuple(lines), title, sheet.epoch_1904))
                title = _title(lines[-1]) if lines else ""
            heads, lines = found, []
    if heads:
        blocks.append(Block(sheet.name, heads, tuple(lines), title, sheet.epoch_1904))
    blocks = [_settled(block, chosen or {}) for block in blocks]
    _note_passed_over(sheet, blocks, repeats, remarks)
    return blocks


def _settled(block: Block, chosen: Choices) -> Block:
    heads, kind_said = with_choices(with_columns_by_content(block.heads, block.lines), chosen)
    turned = is_month_first(heads, block.lines)
    return replace(block, heads=heads, month_first=turned, kind_said=kind_said)


def _header_rows() -> int:
    rows: int = table("rules", "register.toml")["reading"]["header_rows"]
    return rows


def _title(line: Line) -> str:
    filled = line.filled()
    value = line.cell(filled[0])
    return tidy(value) if len(filled) == 1 and isinstance(value, str) else ""


def _note_passed_over(sheet: Table, blocks: list[Block], repeats: list[int], remarks: Remarks) -> None:
    whole = Where(sheet=sheet.name)
    if not blocks and sheet.lines:
        remarks.note(whole, "no-headings", "no headings of sites or hives were found; the sheet was not read")
    if repeats:
        place = Where(sheet=sheet.name, row=repeats[0])
        remarks.note(place, "repeated-headings", f"headings stand again in {row_words(repeats)}")
    if sheet.stopped_at:
        place = Where(sheet=sheet.name, row=sheet.stopped_at)
        remarks.note(
            place,
            "stopped",
            f"nothing was read below row {sheet.stopped_at:,}, after so many rows or blank rows",
            "Move the rows up if there are more",
        )
    for block in blocks:
        _note_columns(block, remarks)


def _note_columns(block: Block, remarks: Remarks) -> None:
    heads = block.heads
    place = Where(sheet=block.sheet, row=heads.row)
    if heads.unused:
        unused = listed([heads.column_at(index) for index in heads.unused])
        remarks.note(place, "columns-left", f"not taken in: {unused}")
    for index, spelt in heads.guessed.items():
        where = replace(place, column=heads.column_at(index))
        remarks.note(where, "heading-guessed", f"{heads.texts.get(index, '')!r} is read as {spelt}")
    if heads.month_first is None:
        _note_days(block, remarks)


def _note_days(block: Block, remarks: Remarks) -> None:
    """Dates that some rows write month first: which way the others are read is said."""
    heads = block.heads
    where = Where(sheet=block.sheet, row=heads.row)
    month_first, day_first = day_proofs(heads, block.lines)
    if block.month_first:
        where = replace(where, column=heads.column("seen"))
        what = "the dates are read month first, for some cannot be day first"
        remarks.doubt(where, "month-first", what, "Look at one that could be either")
    elif month_first:
        where = replace(where, column=heads.column("seen"))
        what = f"{month_first} of the dates can only be month first and {day_first} only day first; all are read day first"
        remarks.doubt(
            where, "days-mixed", what, "Set the column to month first if that is how they are meant"
        )


def row_words(rows: list[int]) -> str:
    """Rows as words: "row 2", "rows 2, 16 and 32", long lists cut."""
    shown = [str(row) for row in rows[:6]]
    if len(rows) > 6:
        return f"rows {', '.join(shown)} and {len(rows) - 6} more"
    return f"{'row' if len(rows) == 1 else 'rows'} {listed(shown)}"


def is_total(line: Line) -> bool:
    """Whether a row adds the others up: its first word says so."""
    total = table("words", "register.toml")["rows"]
    texts = [folded(value) for index in line.filled()[:2] if isinstance(value := line.cell(index), str)]
    return any(
        text.rstrip(":. ") in total["total"] or text.split(" ")[0] in total["total_first"] for text in texts
    )


def is_ditto(value: Cell) -> bool:
    """Whether a cell says "as above"."""
    return (
        isinstance(value, str)
        and value.strip().casefold() in table("words", "register.toml")["rows"]["ditto"]
    )
