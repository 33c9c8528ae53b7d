"""One hive row: every cell by its meaning, and what is wrong with it."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import Any, TypeVar

from beeledger.base.findings import Grade
from beeledger.base.resources import table
from beeledger.base.text import folded, shortened
from beeledger.exchange.days import read_day
from beeledger.exchange.figures import (
    UnreadCell,
    is_not_given,
    read_figure,
    shown,
    tenths,
    whole,
    words,
)
from beeledger.exchange.register.blocks import Block
from beeledger.exchange.register.cells import (
    colour_in,
    read_colour,
    read_mark,
    read_temper,
    read_year,
    read_yes_no,
    text_of,
)
from beeledger.exchange.register.records import ColonyRow, Remarks
from beeledger.exchange.register.sightings import read_sightings
from beeledger.exchange.tables import Cell, Line
from beeledger.rules.queens import Colour, marking_colour

Value = TypeVar("Value")
_LONGEST_MARK = 20


@dataclass(frozen=True, slots=True)
class HiveLine:
    """A row that holds a hive, and the site it was found to stand at."""

    block: Block
    line: Line
    site: str

    def cell(self, name: str) -> Cell:
        """The value of a field."""
        return self.block.heads.cell(self.line, name)


class _Row:
    """Reads the cells of one row and collects what is wrong with them."""

    def __init__(self, hive_line: HiveLine) -> None:
        self.of = hive_line
        self.remarks = Remarks()

    def take(self, name: str, read: Callable[[Cell], Value], code: str, *, needed: bool) -> Value | None:
        """A field's value; unreadable, the row is refused when ``needed``, else the field left blank."""
        where = self.of.block.where(self.of.line, name)
        try:
            return read(self.of.cell(name))
        except UnreadCell as unread:
            if needed:
                self.remarks.refuse(where, code, unread.what, unread.mend)
            else:
                self.remarks.doubt(where, code, f"{unread.what}; left blank", unread.mend)
            return None

    def doubt(self, name: str, code: str, what: str, mend: str) -> None:
        """The row is kept and this cell wants a look."""
        self.remarks.doubt(self.of.block.where(self.of.line, name), code, what, mend)


def read_hive(hive_line: HiveLine, today: date, remarks: Remarks) -> ColonyRow | None:
    """The colony of a row, or None when the row is refused; findings go to ``remarks``."""
    row = _Row(hive_line)
    epoch, turned = hive_line.block.epoch_1904, hive_line.block.month_first
    mark = _mark(row)
    seen = row.take(
        "seen", lambda cell: read_day(cell, today, epoch_1904=epoch, month_first=turned), "date", needed=True
    )
    year = row.take("queen_year", lambda cell: read_year(cell, today, epoch_1904=epoch), "year", needed=False)
    colony = ColonyRow(
        hive=mark,
        site=hive_line.site,
        hive_type=text_of(hive_line.cell("hive_type")),
        queen_year=year,
        queen_colour=_colour(row),
        marked=row.take("marked", read_yes_no, "marked", needed=False),
        seen=seen,
        brood_tenths=_brood(row),
        supers=_supers(row),
        temper=row.take("temper", read_temper, "temper", needed=True),
        comment=text_of(hive_line.cell("comment")),
        where=hive_line.block.where(hive_line.line, "hive"),
        gone=_gone(text_of(hive_line.cell("comment"))),
        more=read_sightings(lambda name, read: row.take(name, read, name.replace("_", "-"), needed=False)),
        clipped=row.take("clipped", read_yes_no, "clipped", needed=False),
        line=text_of(hive_line.cell("line")),
    )
    _look_again(row, colony, today)
    found = row.remarks.findings
    refused = [finding for finding in found if finding.grade is Grade.REFUSED]
    remarks.findings.extend(refused or found)
    return None if refused else colony


def _gone(comment: str) -> str:
    """The word of a comment that says the colony is no more."""
    said = re.findall(r"\w+", folded(comment))
    return next((word for word in words("gone") if word in said), "")


def _mark(row: _Row) -> str:
    value = row.of.cell("hive")
    mark = read_mark(value)
    where = row.of.block.where(row.of.line, "hive")
    if not mark:
        what = f"the hive's number is {shown(value)!r}" if shown(value) else "the hive has no number"
        row.remarks.refuse(where, "no-hive", what, "Write the number it is known by")
    elif len(mark) > _LONGEST_MARK or mark.startswith("-"):
        what = f"{shortened(mark, 30)!r} is no hive number"
        row.remarks.refuse(where, "no-hive", what, "Write the number it is known by")
    return mark


def _colour(row: _Row) -> str | None:
    if "queen_colour" in row.of.block.heads.columns:
        return row.take("queen_colour", read_colour, "colour", needed=False)
    found = colour_in(shown(row.of.cell("queen_year"))) or colour_in(shown(row.of.cell("marked")))
    return found if found in set(Colour) else None


def _brood(row: _Row) -> int | None:
    raw = row.of.cell("brood")
    where = row.of.block.where(row.of.line, "brood")
    figure = row.take(
        "brood", lambda cell: read_figure(cell, words("frame_units"), "frames of brood"), "brood", needed=True
    )
    if figure is None:
        return None
    hive_type = text_of(row.of.cell("hive_type"))
    most = most_brood_frames(hive_type)
    if figure.value < 0:
        row.remarks.refuse(where, "brood", f"{shown(raw)} frames of brood cannot be", "Correct the figure")
    elif figure.value > most:
        box = hive_type or "any hive"
        what = f"{shortened(shown(raw), 30)} frames of brood do not fit into the {most} of {box}"
        row.remarks.refuse(where, "brood", what, "Correct the figure or the type of hive")
    kept = tenths(figure)
    if kept.doubt:
        row.doubt("brood", "brood-inexact", f"{shown(raw)} {kept.doubt}", "Write one figure, or leave it so")
    return int(kept.value)


def most_brood_frames(hive_type: str) -> int:
    """The frames that the brood boxes of a hive type hold; a generous figure when it is not known."""
    figures = table("rules", "register.toml")["brood"]
    bare = folded(hive_type)
    frames = [name for name in figures["box_frames"] if name in bare]
    if not frames:
        return int(figures["unknown_most_frames"])
    boxes = max((count for name, count in figures["boxes"].items() if name in bare), default=1)
    return int(figures["box_frames"][max(frames, key=len)] * boxes)


def _supers(row: _Row) -> int | None:
    raw = row.of.cell("supers")
    where = row.of.block.where(row.of.line, "supers")
    figure = row.take(
        "supers", lambda cell: read_figure(cell, words("super_units"), "supers"), "supers", needed=True
    )
    if figure is None:
        return None
    most = table("rules", "register.toml")["limits"]["most_supers"]
    if not 0 <= figure.value <= most:
        what = f"{shortened(shown(raw), 30)} supers cannot be"
        row.remarks.refuse(where, "supers", what, "Correct the figure")
        return None
    number = whole(figure)
    if number is None:
        row.doubt(
            "supers", "supers-part", f"{shown(raw)} is no whole number of supers; left blank", "Count boxes"
        )
    elif figure.doubt:
        row.doubt("supers", "supers-inexact", f"{shown(raw)} {figure.doubt}", "Write one number")
    return number


def _look_again(row: _Row, colony: ColonyRow, today: date) -> None:
    limits: dict[str, Any] = table("rules", "register.toml")["limits"]
    year, colour = colony.queen_year, colony.queen_colour
    if year is not None and colour is not None and (due := marking_colour(year)) != colour:
        name = "queen_colour" if "queen_colour" in row.of.block.heads.columns else "queen_year"
        what = f"queen colour does not fit year: a queen of {year} is marked {due}, not {colour}"
        row.doubt(name, "colour", what, "Look which of the two is right")
    if year is not None and today.year - year > limits["oldest_queen_years"]:
        what = f"a queen of {year} would be {today.year - year} years old"
        row.doubt("queen_year", "year-old", what, "Look whether the year is right")
    if colony.gone:
        what = f"the comment says “{colony.gone}”; it comes in as ended, of an unknown cause"
        row.doubt("comment", "comment-gone", what, "If it lives, say so before it is brought in")
    if colony.seen is not None and today.year - colony.seen.year > limits["oldest_look_years"]:
        row.doubt(
            "seen", "date-old", f"last looked at in {colony.seen.year}", "Look whether the year is right"
        )


def is_hive(block: Block, line: Line) -> bool:
    """Whether a row speaks of one hive: figures of a look or of her queen, or a hive and one of them."""
    fields = ("queen_year", "queen_colour", "marked", "seen", "brood", "supers", "temper", "hive_type")
    said = sum(not is_not_given(block.heads.cell(line, name)) for name in fields)
    named = not is_not_given(block.heads.cell(line, "hive"))
    return said >= 2 or (named and (said == 1 or not is_not_given(block.heads.cell(line, "site"))))
