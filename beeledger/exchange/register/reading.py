"""A whole register read: sites first, then the hives at them, then duplicates and totals."""

from __future__ import annotations

from collections import Counter, defaultdict
from datetime import date
from pathlib import Path

from beeledger.base.errors import CannotNow
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import counted
from beeledger.exchange.figures import shown
from beeledger.exchange.register.blocks import Block, cut, is_ditto
from beeledger.exchange.register.choosing import Choices, columns_taken
from beeledger.exchange.register.colonies import read_hive
from beeledger.exchange.register.copies import without_older_copies
from beeledger.exchange.register.headings import Kind
from beeledger.exchange.register.kinds import with_kinds
from beeledger.exchange.register.names import SiteNames, display_name, letters_apart, site_key
from beeledger.exchange.register.placing import names_from_hives, place_hives, sheet_sites
from beeledger.exchange.register.records import ColonyRow, RegisterReading, Remarks, SiteRow
from beeledger.exchange.register.sites import read_sites, spot_of
from beeledger.exchange.tables import Line, Table, read_tables

_RESTART_SHARE = 0.3
"""Of the numbers used at two sites or more, from which on numbers are taken to begin again."""


def read_register(path: Path, today: date, chosen: Choices | None = None) -> RegisterReading:
    """Read sites and colonies out of a farm's own spreadsheet, whatever its shape.

    ``chosen`` is what the person said of the columns of tables with these headings.
    Nothing is written. Raises CannotNow when the file cannot be read or holds no such table.
    """
    return read_all(read_tables(path), today, path.name, chosen)


def read_all(
    tables: list[Table], today: date, file_name: str, chosen: Choices | None = None
) -> RegisterReading:
    """As ``read_register``, of sheets that are read already."""
    remarks = Remarks()
    blocks = with_kinds([block for sheet in tables for block in cut(sheet, remarks, chosen)])
    if not blocks:
        raise CannotNow(
            f"No table of sites or hives was found in {file_name}.",
            "It needs a row of headings such as Hive, Site, Queen year, Last visit, Brood.",
        )
    site_blocks = [block for block in blocks if block.heads.kind is Kind.SITES]
    hive_blocks = [block for block in blocks if block.heads.kind is Kind.HIVES]
    other_blocks = [block for block in blocks if block.heads.kind in (Kind.LOOKS, Kind.QUEENS)]
    sites = read_sites(site_blocks, remarks) or _sites_from_hives(hive_blocks + other_blocks, remarks)
    colonies, restart = _read_colonies(hive_blocks, sites, today, remarks)
    looks = _read_others(other_blocks, Kind.LOOKS, sites, today, remarks)
    queens = _read_others(other_blocks, Kind.QUEENS, sites, today, remarks)
    _note_room(sites, colonies, remarks)
    found = _in_order(remarks.findings, tables)
    columns = tuple(
        column for block in blocks for column in columns_taken(block.sheet, block.heads, block.lines)
    )
    return RegisterReading(
        tuple(sites), tuple(colonies), found, restart, tuple(looks), tuple(queens), columns
    )


def _sites_from_hives(blocks: list[Block], remarks: Remarks) -> list[SiteRow]:
    first: dict[str, tuple[str, Where]] = {}
    times: Counter[str] = Counter()
    for name, where in names_from_hives(blocks):
        key = site_key(name)
        if key:
            first.setdefault(key, (name, where))
            times[key] += 1
    if first:
        place = Where(sheet=blocks[0].sheet, row=blocks[0].heads.row)
        what = f"there is no list of sites; {counted(len(first), 'name')} taken from the hive rows"
        remarks.note(place, "no-site-list", what, "Add grid references and room for hives later")
    for key, (name, where) in first.items():
        near = [other for other in first if times[other] > times[key] and letters_apart(key, other) <= 2]
        if near and len(key) >= 6:
            what = f"{name!r} is nearly {first[near[0]][0]!r}; kept as a site of its own"
            remarks.doubt(where, "site-near", what, "Correct the name if the same site is meant")
    spots = _spots_of_hives(blocks, remarks)
    blank = (None, None, None, "", "", "")
    return [
        SiteRow(display_name(name), spots.get(key), *blank, where) for key, (name, where) in first.items()
    ]


def _spots_of_hives(blocks: list[Block], remarks: Remarks) -> dict[str, str]:
    """The grid reference of each site, where the rows of its hives carry one: the first that can be read."""
    found: dict[str, str] = {}
    for block in blocks:
        last = ""
        for line in block.lines:
            value = block.heads.cell(line, "site")
            last = (
                site_key(value) if isinstance(value, str) and value.strip() and not is_ditto(value) else last
            )
            if last and last not in found and (spot := spot_of(block, line, remarks)) is not None:
                found[last] = spot.compact()
    return found


def _read_colonies(
    blocks: list[Block], sites: list[SiteRow], today: date, remarks: Remarks
) -> tuple[list[ColonyRow], bool]:
    names = SiteNames((site.name, site.code) for site in sites)
    of_sheet = sheet_sites(blocks, names)
    read: list[ColonyRow] = []
    totals: list[tuple[Block, Line]] = []
    for place, block in enumerate(blocks):
        hives, total_lines = place_hives(block, names, of_sheet.get(place), remarks)
        totals += [(block, line) for line in total_lines]
        for hive_line in hives:
            colony = read_hive(hive_line, today, remarks)
            if colony is not None:
                read.append(colony)
    read = without_older_copies(read, remarks)
    restart = _numbers_restart(read)
    colonies = _first_of_each(read, remarks, restart=restart)
    for block, line in totals:
        _compare_total(block, line, colonies, remarks)
    return colonies, restart


def _read_others(
    blocks: list[Block], kind: Kind, sites: list[SiteRow], today: date, remarks: Remarks
) -> list[ColonyRow]:
    """The rows of looks or of queens. A look needs its day; one of a hive and a day comes once."""
    names = SiteNames((site.name, site.code) for site in sites)
    of_sheet = sheet_sites(blocks, names)
    read: list[ColonyRow] = []
    first: dict[tuple[str, str, date | None], ColonyRow] = {}
    for place, block in enumerate(blocks):
        if block.heads.kind is not kind:
            continue
        hives, _totals = place_hives(block, names, of_sheet.get(place), remarks)
        for hive_line in hives:
            row = read_hive(hive_line, today, remarks)
            if row is None:
                continue
            if kind is Kind.LOOKS and row.seen is None:
                where = block.where(hive_line.line, "seen")
                remarks.refuse(where, "no-day", "the look has no day", "Write the day of the visit")
                continue
            key = (site_key(row.hive), row.site, row.seen if kind is Kind.LOOKS else None)
            if first.setdefault(key, row) is not row:
                _refuse_second(row, first[key], remarks)
            else:
                read.append(row)
    return read


def _numbers_restart(colonies: list[ColonyRow]) -> bool:
    sites_of: dict[str, set[str]] = defaultdict(set)
    for colony in colonies:
        sites_of[site_key(colony.hive)].add(colony.site)
    shared = sum(len(sites) > 1 for sites in sites_of.values())
    return shared >= 3 and shared >= _RESTART_SHARE * len(sites_of)


def _first_of_each(colonies: list[ColonyRow], remarks: Remarks, *, restart: bool) -> list[ColonyRow]:
    first: dict[tuple[str, str], ColonyRow] = {}
    bare: dict[tuple[str, str], ColonyRow] = {}
    for colony in colonies:
        site = colony.site if restart else ""
        key = (site_key(colony.hive), site)
        earlier = first.get(key)
        if earlier is not None:
            _refuse_second(colony, earlier, remarks)
            continue
        first[key] = colony
        alike = bare.setdefault((_bare_number(colony.hive), site), colony)
        if alike is not colony:
            what = f"hive {colony.hive} may be hive {alike.hive} of {alike.where.words()}"
            remarks.doubt(colony.where, "hive-alike", what, "Look whether they are two hives")
    if restart:
        place = next(iter(first.values())).where
        what = "hive numbers begin again at each site, so a number alone does not name a hive"
        remarks.doubt(place, "numbers-restart", what, "Give each hive a mark of its own after reading in")
    return list(first.values())


def _refuse_second(colony: ColonyRow, earlier: ColonyRow, remarks: Remarks) -> None:
    sheet = f"{earlier.where.sheet}, " if earlier.where.sheet != colony.where.sheet else ""
    what = f"hive {colony.hive} is a duplicate: it stands already in {sheet}row {earlier.where.row}"
    where = colony.where
    mine = {(where.sheet, where.row)}
    remarks.findings = [f for f in remarks.findings if (f.where.sheet, f.where.row) not in mine]
    remarks.refuse(where, "duplicate", what, "Take one of the two out, or give it its own number")


def _bare_number(mark: str) -> str:
    figures = "".join(letter for letter in mark if letter.isdigit()).lstrip("0")
    return figures if figures and mark[-1:].isdigit() and len(mark) - len(figures) <= 4 else site_key(mark)


def _compare_total(block: Block, line: Line, colonies: list[ColonyRow], remarks: Remarks) -> None:
    figures = [value for index in line.filled() if isinstance(value := line.cell(index), int | float)]
    if not figures:
        remarks.note(block.where(line), "total", "a total, passed over")
        return
    here = sum(colony.where.sheet == block.sheet for colony in colonies)
    left_out = [f for f in remarks.findings if f.grade is Grade.REFUSED and f.where.sheet == block.sheet]
    doubles = sum(finding.code == "register.duplicate" for finding in left_out)
    rows = len({finding.where.row for finding in left_out}) - doubles
    what = f"the total says {shown(figures[0])}; {counted(here, 'hive')} read, {rows} refused and {doubles} doubled"
    if figures[0] in (here, here + rows, here + rows + doubles):
        remarks.note(block.where(line), "total", what)
    else:
        remarks.note(block.where(line), "total-differs", what, "Look for hives missing or counted twice")


def _note_room(sites: list[SiteRow], colonies: list[ColonyRow], remarks: Remarks) -> None:
    standing = Counter(colony.site for colony in colonies)
    for site in sites:
        if site.capacity is not None and standing[site.name] > site.capacity:
            what = f"{site.name} has room for {site.capacity} and {standing[site.name]} hives stand there"
            remarks.note(site.where, "room", what, "Look whether the room is right")


def _in_order(findings: list[Finding], tables: list[Table]) -> tuple[Finding, ...]:
    order = {sheet.name: place for place, sheet in enumerate(tables)}
    return tuple(sorted(findings, key=lambda f: (order.get(f.where.sheet, 0), f.where.row or 0)))
