"""The sheet for a round: one line a hive in walking order, to be filled with a pencil at the hive."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.platypus import Flowable, Spacer

from beeledger.base.dates import long, weekday
from beeledger.base.text import counted
from beeledger.queries.records.heading import Farm, Made
from beeledger.queries.records.round_sheet import LastFigures, RoundSheet, SheetLine
from beeledger.reporting.drawing.sheet_grid import GridLine, SheetColumn, SheetGrid, WriteIn
from beeledger.reporting.look.figures import Facts, said
from beeledger.reporting.look.page import LANDSCAPE, Heading, build
from beeledger.reporting.look.workbook import Book, Field, Value

KEY = "round-sheet"
TITLE = "Round"
BLANK_LINES = 3
"""Lines left for hives that are not on the list."""

_COLUMNS: tuple[tuple[str, SheetColumn], ...] = (
    ("queen", SheetColumn("Seen", 10, ticks=("",))),
    ("eggs", SheetColumn("Eggs", 10, ticks=("",), group_end=True)),
    ("brood", SheetColumn("Brood", 16, "frames")),
    ("bees", SheetColumn("Bees", 16, "frames")),
    ("stores", SheetColumn("Stores", 16)),
    ("temper", SheetColumn("Temper", 15, "1–5", group_end=True)),
    ("cells", SheetColumn("Cells", 17)),
    ("supers", SheetColumn("Supers", 16, "on, off", group_end=True)),
    ("feed", SheetColumn("Feed", 14, "litres")),
    ("strips", SheetColumn("Strips", 26, ticks=("in", "out"))),
    ("mites", SheetColumn("Mites", 14, "in 300", group_end=True)),
    ("again", SheetColumn("Again", 12, "days", group_end=True)),
)
_FIELDS: tuple[tuple[str, Field], ...] = (
    ("queen", Field("Queen seen", wide=8)),
    ("eggs", Field("Eggs", wide=8)),
    ("brood", Field("Brood, frames", wide=9)),
    ("bees", Field("Bees, frames", wide=9)),
    ("stores", Field("Stores", wide=9)),
    ("temper", Field("Temper, 1–5", wide=9)),
    ("cells", Field("Cells", wide=12)),
    ("supers", Field("Supers", wide=9)),
    ("feed", Field("Feed, litres", wide=9)),
    ("strips", Field("Strips", wide=9)),
    ("mites", Field("Mites", wide=9)),
    ("again", Field("Again, days", wide=9)),
)


def heading(record: RoundSheet) -> Heading:
    """What stands at the head."""
    period = weekday(record.day) + f" {record.day.year}" if record.day else counted(len(record.lines), "hive")
    side = " · ".join(part for part in (record.code, record.grid) if part)
    return Heading(KEY, TITLE, record.site, period, side)


def render_pdf(record: RoundSheet, farm: Farm, made: Made) -> bytes:
    """The sheet as PDF, A4 across: a usual site is one sheet of paper, printed on both sides."""
    marks = dict(record.marks)
    units = {"stores": stores_unit(record.lines)}
    columns = [_with_mark(column, marks.get(name, ""), units.get(name, "")) for name, column in _COLUMNS]
    lines = [_line(number, line) for number, line in enumerate(record.lines, start=1)]
    lines += [GridLine("", "")] * BLANK_LINES
    story: list[Flowable] = [
        Facts(_facts(record), name_room=52),
        WriteIn(
            [
                ("Date", 1.1, ""),
                ("Crew", 1.2, record.crew),
                ("Begun", 1, ""),
                ("Ended", 1, ""),
                ("Weather", 1.6, ""),
            ]
        ),
        SheetGrid(columns, lines, "Margin"),
        WriteIn([("All hives fed", 1.2, ""), ("Feed left", 1, ""), ("Whole site", 2.4, "")]),
        Spacer(0, 2),
        *said(record.cautions),
    ]
    return build(heading(record), farm, made, story, LANDSCAPE)


def _facts(record: RoundSheet) -> list[tuple[str, str]]:
    return [
        ("Way in", record.way_in),
        ("Due", record.due),
        ("Last visit", long(record.last_visit) if record.last_visit else ""),
        ("Work", "" if record.minutes is None else f"about {work_words(record.minutes)}"),
        ("Sheet", record.uid),
    ]


def work_words(minutes: int) -> str:
    """As "45 min", "2 h 05"."""
    hours, rest = divmod(minutes, 60)
    return f"{hours} h {rest:02d}" if hours else f"{rest} min"


def stores_unit(lines: Sequence[SheetLine]) -> str:
    """What the site counts its stores in: as most of its hives had it the last time, kilograms where none had."""
    in_frames = sum(line.last.stores.endswith("fr.") for line in lines)
    return "frames" if in_frames > sum(line.last.stores.endswith("kg") for line in lines) else "kg"


def _with_mark(column: SheetColumn, mark: str, unit: str = "") -> SheetColumn:
    unit = " ".join(part for part in (mark, unit or column.unit) if part)
    return SheetColumn(column.title, column.mm, unit, column.ticks, column.group_end)


def _line(number: int, line: SheetLine) -> GridLine:
    last = tuple(str(getattr(line.last, name)) for name, _ in _COLUMNS)
    return GridLine(str(number), line.hive, line.queen_colour, line.queen, last, line.due)


def render_workbook(record: RoundSheet, farm: Farm, made: Made) -> bytes:
    """The last figures as a workbook, one line a hive in walking order."""
    fields = [
        Field("Walk", "count", 7),
        Field("Stand", wide=8),
        Field("Hive", wide=10),
        Field("Queen", wide=14),
    ]
    fields += [field for _, field in _FIELDS]
    fields.append(Field("Due", wide=34))
    rows: list[tuple[Value, ...]] = [
        (number, line.stand, line.hive, line.queen, *_last_values(line.last), line.due)
        for number, line in enumerate(record.lines, start=1)
    ]
    book = Book(heading(record), farm, made)
    book.sheet("Last figures", fields, rows)
    return book.save()


def _last_values(last: LastFigures) -> list[str]:
    return [str(getattr(last, name)) for name, _ in _FIELDS]
