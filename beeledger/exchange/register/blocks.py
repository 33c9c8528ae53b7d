"""Sheets cut into blocks: a heading row and the rows under it, and what single rows are."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, replace

from beeledger.base.findings import Where
from beeledger.base.resources import table
from beeledger.base.text import folded, listed, tidy
from beeledger.exchange.figures import words
from beeledger.exchange.register.cells import looks_like_mark
from beeledger.exchange.register.headings import Heads, Kind, read_heads
from beeledger.exchange.register.records import Remarks
from beeledger.exchange.tables import Cell, Line, Table, is_blank


@dataclass(frozen=True, slots=True)
class Block:
    """The rows under one heading row. ``title`` is the lone text above it."""

    sheet: str
    heads: Heads
    lines: tuple[Line, ...]
    title: str = ""
    epoch_1904: bool = False

    def where(self, line: Line, name: str = "") -> Where:
        """The place of a field's cell in a row."""
        return Where(sheet=self.sheet, row=line.number, column=self.heads.column(name) if name else "")


def cut(sheet: Table, remarks: Remarks) -> list[Block]:
    """The blocks of one sheet; what is passed over is noted."""
    if sheet.hidden:
        remarks.note(Where(sheet=sheet.name), "hidden", "the sheet is hidden and was not read")
        return []
    blocks, lines, heads, title = list[Block](), list[Line](), None, ""
    above: Line | None = None
    repeats: list[int] = []
    for place, line in enumerate(sheet.lines):
        found = read_heads(line, above) if heads or place < _header_rows() else None
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
    _note_passed_over(sheet, blocks, repeats, remarks)
    return [with_columns_by_content(block) for block in blocks]


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
        remarks.note(where, "heading-guessed", f"{heads.texts[index]!r} is read as {spelt}")


def row_words(rows: list[int]) -> str:
    """Rows as words: "row 2", "rows 2, 16 and 32", long lists cut."""
    shown = [str(row) for row in rows[:6]]
    if len(rows) > 6:
        return f"rows {', '.join(shown)} and {len(rows) - 6} more"
    return f"{'row' if len(rows) == 1 else 'rows'} {listed(shown)}"


def is_total(line: Line) -> bool:
    """Whether a row adds the others up: its first word says so."""
    texts = [line.cell(index) for index in line.filled()[:2]]
    total_words = table("words", "register.toml")["rows"]["total"]
    return any(isinstance(text, str) and folded(text).rstrip(":. ") in total_words for text in texts)


def is_ditto(value: Cell) -> bool:
    """Whether a cell says "as above"."""
    return (
        isinstance(value, str)
        and value.strip().casefold() in table("words", "register.toml")["rows"]["ditto"]
    )


def with_columns_by_content(block: Block) -> Block:
    """Columns whose heading is open to two meanings settled by what stands in them.

    "Hive" may head the number or the type; "Queen" her year or her colour.
    """
    if block.heads.kind is not Kind.HIVES:
        return block
    columns = dict(block.heads.columns)
    if _mostly(block, columns.get("hive"), _is_type) and "hive_type" not in columns:
        columns["hive_type"] = columns.pop("hive")
    if "hive" not in columns:
        spare = [index for index in block.heads.unused if _mostly(block, index, looks_like_mark)]
        columns |= {"hive": spare[0]} if spare else {}
    if _mostly(block, columns.get("queen_year"), _is_colour) and "queen_colour" not in columns:
        columns["queen_colour"] = columns.pop("queen_year")
    return replace(block, heads=replace(block.heads, columns=columns))


def _mostly(block: Block, index: int | None, test: Callable[[Cell], bool]) -> bool:
    if index is None:
        return False
    values = [line.cell(index) for line in block.lines if not is_blank(line.cell(index))]
    votes = Counter(test(value) for value in values)
    return votes[True] > votes[False]


def _is_type(value: Cell) -> bool:
    return isinstance(value, str) and any(word in folded(value).split() for word in words("hive_types"))


def _is_colour(value: Cell) -> bool:
    colours = table("words", "register.toml")["colours"].values()
    return isinstance(value, str) and any(folded(value) in spellings for spellings in colours)
