"""The rows of a site list."""

from __future__ import annotations

import re
from dataclasses import dataclass

from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.resources import table
from beeledger.base.text import folded
from beeledger.exchange.figures import UnreadCell, read_figure, shown, whole, words
from beeledger.exchange.register.blocks import Block, is_total, row_words
from beeledger.exchange.register.cells import text_of
from beeledger.exchange.register.names import display_name, site_key
from beeledger.exchange.register.records import Remarks, SiteRow
from beeledger.exchange.tables import Cell, Line, is_blank
from beeledger.rules.sites import GridReference, LatLon, check_grid, read_grid, to_grid

_DEGREES = re.compile(
    r"([NS])?\s*(-?\d{1,3}(?:\.\d+)?)\s*°?\s*(?:(\d{1,2}(?:\.\d+)?)['′]\s*)?(?:(\d{1,2}(?:\.\d+)?)[\"″]\s*)?([NS])?"
    r"[\s,;/]+"
    r"([EW])?\s*(-?\d{1,3}(?:\.\d+)?)\s*°?\s*(?:(\d{1,2}(?:\.\d+)?)['′]\s*)?(?:(\d{1,2}(?:\.\d+)?)[\"″]\s*)?([EW])?",
    re.IGNORECASE,
)


@dataclass(slots=True)
class SiteList:
    """The sites read so far, by the key of their names."""

    rows: dict[str, SiteRow]
    remarks: Remarks


def read_sites(blocks: list[Block], remarks: Remarks) -> list[SiteRow]:
    """All sites of the site blocks, the first of each name; totals compared."""
    found = SiteList({}, remarks)
    for block in blocks:
        _read_block(block, found)
    return list(found.rows.values())


def _read_block(block: Block, found: SiteList) -> None:
    passed: list[int] = []
    here: list[SiteRow] = []
    for line in block.lines:
        if is_total(line):
            _compare_total(block, line, here, found.remarks)
        elif len(line.filled()) == 1 and is_blank(block.heads.cell(line, "name")):
            passed.append(line.number)
        elif (site := _read_row(block, line, found)) is not None:
            here.append(site)
    if passed:
        place = Where(sheet=block.sheet, row=passed[0])
        found.remarks.note(place, "passed-over", f"{row_words(passed)} hold no site and were passed over")


def _read_row(block: Block, line: Line, found: SiteList) -> SiteRow | None:
    heads, remarks = block.heads, found.remarks
    raw = text_of(heads.cell(line, "name"))
    key = site_key(raw)
    if not key:
        remarks.refuse(block.where(line, "name"), "no-name", "the site has no name", "Write its name")
        return None
    first = found.rows.get(key)
    if first is not None:
        what = f"{display_name(raw)} stands already in row {first.where.row}"
        remarks.refuse(block.where(line, "name"), "duplicate-site", what, "Take one of the two out")
        return None
    spot = spot_of(block, line, remarks)
    site = SiteRow(
        name=display_name(raw),
        grid=spot.compact() if spot else None,
        easting=spot.easting_m if spot else None,
        northing=spot.northing_m if spot else None,
        capacity=_capacity(block, line, remarks),
        owner=text_of(heads.cell(line, "owner")),
        rent=text_of(heads.cell(line, "rent")),
        notes=text_of(heads.cell(line, "notes")),
        where=block.where(line, "name"),
        code=text_of(heads.cell(line, "code")),
    )
    found.rows[key] = site
    return site


def _capacity(block: Block, line: Line, remarks: Remarks) -> int | None:
    value = block.heads.cell(line, "capacity")
    where = block.where(line, "capacity")
    most = table("rules", "register.toml")["limits"]["most_site_capacity"]
    try:
        figure = read_figure(value, words("hive_units"), "room for hives")
    except UnreadCell as unread:
        remarks.doubt(where, "capacity", f"{unread.what}; left blank", unread.mend)
        return None
    number = whole(figure) if figure else None
    if figure and (number is None or not 0 <= number <= most):
        what = f"{shown(value)} cannot be the number of hives a site has room for; left blank"
        remarks.doubt(where, "capacity", what, "Correct the figure")
        return None
    if figure and figure.doubt:
        remarks.doubt(where, "capacity", f"{shown(value)} {figure.doubt}", "Write one number")
    return number


def spot_of(block: Block, line: Line, remarks: Remarks) -> GridReference | None:
    """Where a row says that its site is; None where it says nothing that can be read."""
    name, text = _grid_text(block, line)
    if not text:
        return None
    where = block.where(line, name)
    try:
        degrees = read_degrees(text)
        spot = to_grid(degrees) if degrees else read_grid(text)
    except ValueError as error:
        remarks.doubt(
            where, "grid", f"{error}; the site is kept without", "Write two letters and 6, 8 or 10 figures"
        )
        return None
    finding = check_grid(spot.as_given(), where)
    if finding:
        remarks.findings.append(
            Finding(f"register.{finding.code}", Grade.DOUBTFUL, finding.what, finding.mend, where)
        )
    return spot


def _grid_text(block: Block, line: Line) -> tuple[str, str]:
    heads = block.heads
    pairs = (("latitude", "longitude"), ("easting", "northing"))
    for first, second in pairs:
        values = [_plain(heads.cell(line, name)) for name in (first, second)]
        if all(values):
            return first, ", ".join(values)
    return "grid", _plain(heads.cell(line, "grid"))


def _plain(value: Cell) -> str:
    text = text_of(value)
    return "" if folded(text) in words("blank") else text


def read_degrees(text: str) -> LatLon | None:
    """Latitude and longitude as people write them: "52.37, -2.89", "52°22'N 2°53'W". None otherwise."""
    match = _DEGREES.fullmatch(text.strip())
    if match is None:
        return None
    north, east = match.groups()[:5], match.groups()[5:]
    latitude, longitude = _degrees(north), _degrees(east)
    return LatLon(latitude, longitude) if abs(latitude) <= 90 and abs(longitude) <= 180 else None


def _degrees(parts: tuple[str | None, ...]) -> float:
    before, whole_part, minutes, seconds, behind = parts
    size = float(whole_part or 0)
    sign = -1 if size < 0 or (before or behind or "").upper() in ("S", "W") else 1
    return sign * (abs(size) + float(minutes or 0) / 60 + float(seconds or 0) / 3600)


def _compare_total(block: Block, line: Line, sites: list[SiteRow], remarks: Remarks) -> None:
    index = block.heads.columns.get("capacity")
    stated = line.cell(index) if index is not None else None
    where = block.where(line, "capacity")
    if not isinstance(stated, int | float):
        remarks.note(block.where(line), "total", "a total, passed over")
        return
    total = sum(site.capacity or 0 for site in sites)
    same = total == stated
    what = f"the total says {shown(stated)}; the sites read have room for {total} hives"
    if same:
        remarks.note(where, "total", f"{what}, as it should be")
    else:
        remarks.note(where, "total-differs", what, "Look for a site that is missing or counted twice")
