"""The columns of the sites, each site as a row and as a shape on the map."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from beeledger.base.dates import short
from beeledger.base.text import counted
from beeledger.base.units import kilometres
from beeledger.queries.records.sites import SiteLine
from beeledger.rules.due import Grade, grade
from beeledger.ui.parts.due_words import INKS, MARKS
from beeledger.ui.parts.site_map import MapSite
from beeledger.ui.widgets.cells import BLANK, Align, Cell, Column, Row, Run
from beeledger.ui.widgets.marks import Mark

COLUMNS = (
    Column("site", "Site", sample="Ash Lane", slack=True, whole=True),
    Column("due", "Due", sample="restricted", marks=True),
    Column("hives", "Hives", sample="32 / 32", align=Align.RIGHT, spare=1),
    Column("visit", "Visit", sample="29 Apr", align=Align.RIGHT, spare=2),
    Column("home", "Home", "km", sample="27.3", align=Align.RIGHT, spare=3),
)
RESTRICTED = Cell(
    "restricted", "now", weight=600, mark=Mark.HELD, spoken="restricted, nothing leaves without a licence"
)
KINDS = (
    ("out", "out-apiary"), ("home", "home"), ("crop", "crop"), ("mating", "mating"), ("quarantine", "quarantine"),
)  # fmt: skip


def site_row(line: SiteLine, today: date, *, restricted: bool = False) -> Row:
    """A site as a row; a restriction in force is said before what is due."""
    over = line.capacity is not None and line.colonies > line.capacity
    cells = (
        Cell(line.name, weight=600),
        RESTRICTED if restricted else _due(line, today),
        Cell(hives_words(line), "watch" if over else "ink", align=Align.RIGHT),
        Cell(_day(line.last_round_on, today), "ink2", align=Align.RIGHT) if line.last_round_on else BLANK,
        BLANK
        if line.metres_from_home is None
        else Cell(kilometres(line.metres_from_home), "ink2", align=Align.RIGHT),
    )
    sort = (
        line.name.casefold(), line.due_on, line.colonies, line.last_round_on, line.metres_from_home,
    )  # fmt: skip
    words = [
        line.name,
        line.code,
        line.kind,
        dict(KINDS)[line.kind],
        line.landholder,
        line.grid or "",
        cells[1].text,
    ]
    return Row(line.site_id, cells, sort, " ".join(words))


def hives_words(line: SiteLine) -> str:
    """What stands there, and how much room there is: "18 / 24"; without a known room only what stands."""
    return f"{line.colonies} / {line.capacity}" if line.capacity is not None else str(line.colonies)


def is_due(line: SiteLine) -> bool:
    """Whether something is late, due today or soon there."""
    return line.due_on is not None


def on_map(line: SiteLine, today: date, *, restricted: bool = False) -> MapSite:
    """A site as a shape on the map."""
    mark = Mark.HELD if restricted else MARKS[grade(line.due_on, today)] if line.due_on else None
    return MapSite(
        line.site_id, line.name, line.easting_m, line.northing_m, line.latitude_e6, line.longitude_e6, line.colonies,
        mark, line.kind == "home", RESTRICTED.text if restricted else _due(line, today).text,
    )  # fmt: skip


def sums(lines: Sequence[SiteLine]) -> list[Run]:
    """The foot: sites, what stands on them, room left where it is known."""
    room = [line.capacity - line.colonies for line in lines if line.capacity is not None]
    runs = [
        Run(counted(len(lines), "site"), "ink", 600, gap=16),
        Run(counted(sum(line.colonies for line in lines), "colony", "colonies"), gap=16),
    ]
    if room:
        runs.append(Run(f"room for {sum(left for left in room if left > 0):,} more"))
    return runs


def _due(line: SiteLine, today: date) -> Cell:
    if line.closed_on is not None:
        return Cell(f"given up {_day(line.closed_on, today)}", "ink2")
    if line.due_on is None:
        return BLANK
    how, days = grade(line.due_on, today), (line.due_on - today).days
    words = {Grade.LATE: f"{-days} late", Grade.TODAY: "today"}.get(
        how, "tomorrow" if days == 1 else f"in {days}"
    )
    spoken = {Grade.LATE: f"late, {counted(-days, 'day')}", Grade.TODAY: "due today"}.get(
        how, f"in {counted(days, 'day')}"
    )
    return Cell(words, INKS[how], mark=MARKS[how], spoken=spoken)


def _day(day: date, today: date) -> str:
    return short(day) if day.year == today.year else f"{short(day)} {day.year}"
