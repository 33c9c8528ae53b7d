"""The sheet for a round: one line a hive in walking order, to be filled with a pencil at the hive."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from reportlab.platypus import Flowable, Spacer

from beeledger.base.dates import long, weekday
from beeledger.base.text import counted
from beeledger.queries.records.heading import Farm, Made
from beeledger.queries.records.round_sheet import LastFigures, RoundSheet, SheetLine
from beeledger.reporting.drawing.sheet_corners import Corners
from beeledger.reporting.drawing.sheet_grid import GridLine, SheetGrid, WriteIn
from beeledger.reporting.look.figures import Facts, said
from beeledger.reporting.look.fonts import MM
from beeledger.reporting.look.page import LANDSCAPE, Heading, build
from beeledger.reporting.look.workbook import Book, Field, Value
from beeledger.rules.rounds.paper import COLUMNS, PaperColumn

KEY = "round-sheet"
TITLE = "Round"
BLANK_LINES = 3
"""Lines left for hives that are not on the list."""

PAPER = replace(LANDSCAPE, top=9 * MM, bottom=17 * MM, inset=8 * MM)
"""Across, with room for a code in each corner."""
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
    columns = [_with_mark(one, marks.get(one.name, ""), units.get(one.name, "")) for one in COLUMNS]
    lines = [_line(number, line) for number, line in enumerate(record.lines, start=1)]
    lines += [GridLine("", "")] * BLANK_LINES
    corners = Corners.of(record)
    story: list[Flowable] = [
        Facts(_facts(record, corners), name_room=52),
        WriteIn(
            [
                ("Date", 1.1, ""),
                ("Crew", 1.2, record.crew),
                ("Begun", 1, ""),
                ("Ended", 1, ""),
                ("Weather", 1.6, ""),
            ]
        ),
        SheetGrid(columns, lines, "Margin", on_page=corners),
        WriteIn([("All hives fed", 1.2, ""), ("Feed left", 1, ""), ("Whole site", 2.4, "")]),
        Spacer(0, 2),
        *said(record.cautions),
    ]
    return build(heading(record), farm, made, story, PAPER)


def _facts(record: RoundSheet, corners: Corners | None) -> list[tuple[str, str]]:
    return [
        ("Way in", record.way_in),
        ("Due", record.due),
        ("Last visit", long(record.last_visit) if record.last_visit else ""),
        ("Work", "" if record.minutes is None else f"about {work_words(record.minutes)}"),
        ("Sheet", record.uid or (corners.sheet if corners else "")),
    ]


def work_words(minutes: int) -> str:
    """As "45 min", "2 h 05"."""
    hours, rest = divmod(minutes, 60)
    return f"{hours} h {rest:02d}" if hours else f"{rest} min"


def stores_unit(lines: Sequence[SheetLine]) -> str:
    """What the site counts its stores in: as most of its hives had it the last time, kilograms where none had."""
    in_frames = sum(line.last.stores.endswith("fr.") for line in lines)
    return "frames" if in_frames > sum(line.last.stores.endswith("kg") for line in lines) else "kg"


def _with_mark(column: PaperColumn, mark: str, unit: str = "") -> PaperColumn:
    return replace(column, unit=" ".join(part for part in (mark, unit or column.unit) if part))


def _line(number: int, line: SheetLine) -> GridLine:
    last = tuple(str(getattr(line.last, column.name)) for column in COLUMNS)
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
