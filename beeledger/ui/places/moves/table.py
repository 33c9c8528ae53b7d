"""The log of moves as a table: one line a trip."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from beeledger.base.dates import long, weekday
from beeledger.base.text import counted, listed
from beeledger.queries.records.move_desk import MoveRow, reason_words
from beeledger.rules.hive_lists import stretches
from beeledger.ui.widgets.cells import Align, Cell, Column, Row
from beeledger.ui.widgets.marks import Mark

COLUMNS = (
    Column("on", "Day", sample="30 Sep 2025"),
    Column("left", "Left", sample="23:59", spare=4),
    Column("from", "From", slack=True, whole=True, sample="Orchard Bank"),
    Column("to", "To", slack=True, whole=True, sample="Orchard Bank"),
    Column("hives", "Hives", sample="999", align=Align.RIGHT, group_end=True),
    Column("vehicle", "Vehicle", sample="White van", spare=2),
    Column("driver", "Driver", sample="RH", spare=3),
    Column("contract", "For", slack=True, whole=True, sample="Orchard 2026", spare=1),
    Column("state", "State", sample="2 lost", marks=True),
)


def move_row(move: MoveRow, zone: str, year: int) -> Row:
    """One trip, ready to show; days of another ``year`` are written with it."""
    left = f"{move.left_at.astimezone(ZoneInfo(zone)):%H:%M}"
    start, goal, why = sites_words(move.from_sites), sites_words(move.to_sites), why_words(move)
    state, mark = state_of(move)
    cells = (
        Cell(weekday(move.on) if move.on.year == year else long(move.on), "ink2"),
        Cell(left, "ink2"),
        Cell(start, weight=600, tip=listed(move.from_sites)),
        Cell(goal, weight=600, tip=listed(move.to_sites)),
        Cell(f"{move.hives:,}"),
        Cell(move.vehicle, "ink2"),
        Cell(move.driver, "ink2"),
        Cell(why, "ink2"),
        Cell(state, "watch" if mark is Mark.ODD else "ink2", mark=mark),
    )
    sort = (
        move.on, move.left_at, start, goal, move.hives, move.vehicle or None,
        move.driver or None, why or None, state or None,
    )  # fmt: skip
    search = " ".join((*(cell.text for cell in cells), *move.from_sites, *move.to_sites, move.on.isoformat()))
    return Row(move.id, cells, sort, search)


def sites_words(sites: tuple[str, ...]) -> str:
    """One site by its name, several by their number."""
    return sites[0] if len(sites) == 1 else counted(len(sites), "site") if sites else ""


def why_words(move: MoveRow) -> str:
    """The contract, or why else."""
    return move.contract or reason_words(move.reason)


def state_of(move: MoveRow) -> tuple[str, Mark | None]:
    """What is not as it usually is: planned, lost, left behind."""
    if move.state != "delivered":
        return move.state, Mark.SOON
    if move.lost:
        return f"{move.lost} lost", Mark.ODD
    if move.left_behind:
        return f"{move.left_behind} left behind", None
    return "", None


def marks_words(marks: list[str]) -> str:
    """Numbers in a row joined into stretches: "12–14, 21"."""
    return stretches(marks)
