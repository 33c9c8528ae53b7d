"""Contracts on two lines each, and their bars: bloom above, hives below."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from beeledger.base.units import hectares
from beeledger.queries.records.contract_desk import ContractRow, Standing
from beeledger.ui.widgets.bar_rows import Bar, Kind
from beeledger.ui.widgets.cells import Align, Cell, Column, Row
from beeledger.ui.widgets.look import Token
from beeledger.ui.widgets.marks import Mark

COLUMNS = (
    Column("name", "Contract", sample="Orchard Bank 2026"),
    Column("found", "Found", sample="99 / 99", align=Align.RIGHT),
    Column("state", "State", sample="no hive came", marks=True),
)
SOON_DAYS = 7
"""A contract that begins within a week and is short cannot wait; common practice, no source."""
ONE_DAY = timedelta(days=1)


def contract_row(row: ContractRow, today: date) -> Row:
    """One contract, ready to show."""
    words, mark, ink = state_of(row, today)
    name = Cell(row.name, weight=600, second=crop_line(row))
    figure = Cell(f"{row.found} / {row.terms.hives}", ink if mark else "ink", 600 if mark else 400)
    state = Cell(words, ink, 600 if ink == "now" else 400, mark=mark)
    search = f"{row.name} {row.grower} {row.crop_words} {row.site} {words}"
    return Row(row.id, (name, figure, state), (row.name, row.found, words), search)


def crop_line(row: ContractRow) -> str:
    """Crop and area: "apple · 14 ha"."""
    area = row.terms.area_m2
    return row.crop_words if area is None else f"{row.crop_words} · {hectares(area)} ha"


def state_of(row: ContractRow, today: date) -> tuple[str, Mark | None, Token]:
    """The state in words, with its mark and ink."""
    if row.standing is Standing.CLOSED:
        return "closed", None, "ink2"
    if row.standing is Standing.HOME:
        return "home, owed", None, "ink2"
    if row.terms.off < today:
        return ("to fetch" if row.here else "no hive came"), Mark.LATE, "now"
    if row.standing is Standing.OFFERED:
        return "offered", Mark.SOON, "ink2"
    return _found_state(row, today)


def _found_state(row: ContractRow, today: date) -> tuple[str, Mark | None, Token]:
    if row.short:
        urgent = row.terms.on <= today + timedelta(days=SOON_DAYS)
        return (
            (f"{row.short} short", Mark.LATE, "now")
            if urgent
            else (f"{row.short} short", Mark.TODAY, "watch")
        )
    if row.here and row.beyond:
        return f"{row.beyond} beyond", Mark.ODD, "watch"
    if row.here:
        return "on site", None, "ink2"
    return f"ready {row.ready}", Mark.SOON, "ink2"


def contract_bars(row: ContractRow, today: date) -> tuple[Bar, ...]:
    """What the looks at the bloom and the log say, and what is only promised."""
    return (*_bloom(row), *_hives(row, today))


def span_of(bars: Sequence[tuple[Bar, ...]], today: date) -> tuple[date, date]:
    """Whole months that hold every bar."""
    days = [day for row in bars for bar in row for day in (bar.first, bar.last)] or [today]
    first, last = min(days).replace(day=1), max(days)
    return first, (last.replace(day=1) + timedelta(days=32)).replace(day=1) - ONE_DAY


def is_short(row: ContractRow, today: date) -> bool:
    """Whether a person has to find hives for it."""
    return row.short > 0 and row.standing in (Standing.WAITING, Standing.ON_SITE) and row.terms.off >= today


def most_pressing(rows: Sequence[ContractRow], today: date) -> ContractRow:
    """The contract to show first: one that is short, else one that still runs, else the first."""
    order = (Standing.WAITING, Standing.ON_SITE, Standing.OFFERED, Standing.HOME, Standing.CLOSED)
    return min(rows, key=lambda row: (not is_short(row, today), order.index(row.standing)))


def _bloom(row: ContractRow) -> list[Bar]:
    """From the first look with flowers to the look that found none any more, or to the last look."""
    open_ = [look for look in row.looks if look.share_hundredths > 0]
    if not open_:
        return []
    ended = next((look for look in row.looks if look.on > open_[-1].on), None)
    last = ended or open_[-1]
    return [Bar(open_[0].on, last.on, Kind.ENDS)]


def _hives(row: ContractRow, today: date) -> list[Bar]:
    terms = row.terms
    if row.standing is Standing.ON_SITE and row.first_on is not None:
        bars = [Bar(row.first_on, max(row.first_on, today), Kind.FULL, lower=True)]
        if terms.off > today:
            bars.append(Bar(today + ONE_DAY, terms.off, Kind.DASHED, lower=True))
        return bars
    if row.first_on is not None:
        return [Bar(row.first_on, row.last_off or row.first_on, Kind.PALE, lower=True)]
    if row.standing is Standing.CLOSED:
        return []
    return [Bar(terms.on, terms.off, Kind.DASHED, f"{terms.hives} hives", lower=True)]
