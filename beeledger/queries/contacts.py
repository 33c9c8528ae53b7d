"""Contacts of a site: its standing places, trips and gifts of a period read once, then walked by ``rules.contacts``.

A trip joins the hives that rode together. Vehicles cleaned or not between trips, supers back from extracting and
tools are not in the record and not walked; the paper says so.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import UTC, date, datetime, timedelta

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from beeledger.base.clock import local_date, local_moment
from beeledger.base.dates import short
from beeledger.model.colonies import ColonyTransfer, HiveMark, Placement
from beeledger.model.moves import Move, MoveLine
from beeledger.model.parties import Party, PartyContact
from beeledger.model.sites import Site
from beeledger.queries.farm import farm_settings
from beeledger.queries.moves import UNMARKED, register_record
from beeledger.queries.records.contacts import ContactLine, ContactTrace, NearSite, StoodLine
from beeledger.rules.contacts import Contact, Link, Node, Step, onward, traced_back
from beeledger.rules.sites import Spot, near_m, spot_at, within
from beeledger.rules.strength import number_order

_EVER = 2**40
"""Later than any moment of a ledger, in seconds."""


def contacts_of_site(
    session: Session,
    site_id: int,
    first: date,
    last: date,
    *,
    back: bool = False,
    radius_m: int | None = None,
) -> ContactTrace:
    """What a site may have reached from ``first`` to ``last``, both whole days, or what may have reached it."""
    zone, radius = farm_settings(session).zone, radius_m or near_m()
    start, end = local_moment(first, 0, zone), local_moment(last + timedelta(days=1), 0, zone) - _SECOND
    links = [*_stays(session, start, end), *_trips(session, start, end), *_gifts(session, first, last, zone)]
    trace = traced_back if back else onward
    found = trace(links, [("site", site_id)], _seconds(start), _seconds(end))
    sites, spots = _sites(session)
    names = {("site", number): name for number, (name, _) in sites.items()}
    names |= {("colony", number): mark for number, mark in _marks(session, last).items()}
    calls = {number: call for number, (_, call) in sites.items()}
    lines = [_line(one, names, calls, zone) for one in found.values() if one.node[0] in ("site", "colony")]
    lines.sort(key=lambda line: (line.kind != "site", line.on, line.steps, number_order(line.name)))
    near = within(spots[site_id], radius, spots) if site_id in spots else []
    return ContactTrace(
        sites[site_id][0], first, last, back, radius, tuple(lines),
        tuple(NearSite(key, *_named(sites, key, metres)) for key, metres in near if key != site_id),
        tuple(_stood(session, site_id, start, end, names)),
        register_record(session, first, last, site_id=site_id).lines,
    )  # fmt: skip


_SECOND = timedelta(seconds=1)


def _named(sites: Mapping[int, tuple[str, str]], key: int, metres: int) -> tuple[str, int, str]:
    name, call = sites[key]
    return name, metres, call


def _seconds(moment: datetime) -> int:
    return int(moment.timestamp())


def _stays(session: Session, start: datetime, end: datetime) -> Iterator[Link]:
    """Hives at sites at some moment of the period."""
    query = select(Placement.colony_id, Placement.site_id, Placement.from_at, Placement.until_at).where(
        Placement.site_id.is_not(None),
        Placement.from_at <= end,
        or_(Placement.until_at.is_(None), Placement.until_at >= start),
    )
    for colony, site, since, until in session.execute(query):
        if site is not None:
            left = _EVER if until is None else _seconds(until)
            yield Link(("colony", colony), ("site", site), _seconds(since), left)


def _trips(session: Session, start: datetime, end: datetime) -> Iterator[Link]:
    """Hives that rode on one trip; a hive left behind did not ride."""
    query = (
        select(MoveLine.colony_id, Move.id, Move.left_at, Move.arrived_at)
        .join(Move, Move.id == MoveLine.move_id)
        .where(
            Move.state != "planned", MoveLine.outcome != "left behind", Move.left_at <= end, Move.arrived_at >= start
        )
    )  # fmt: skip
    for colony, move, left, arrived in session.execute(query):
        yield Link(("colony", colony), ("trip", move), _seconds(left), _seconds(arrived))


def _gifts(session: Session, first: date, last: date, zone: str) -> Iterator[Link]:
    """Frames, bees, cells and queens given: known by the day alone, at any moment of it."""
    query = select(ColonyTransfer.from_colony_id, ColonyTransfer.to_colony_id, ColonyTransfer.on).where(
        ColonyTransfer.on >= first, ColonyTransfer.on <= last
    )
    for giver, taker, on in session.execute(query):
        begins = _seconds(local_moment(on, 0, zone))
        ends = _seconds(local_moment(on + timedelta(days=1), 0, zone)) - 1
        yield Link(("colony", giver), ("colony", taker), begins, ends, both=False)


def _sites(session: Session) -> tuple[dict[int, tuple[str, str]], dict[int, Spot]]:
    """Every site there was: name and whom to call, and where it lies."""
    query = (
        select(Site, Party.name, PartyContact.phone)
        .outerjoin(Party, Party.id == Site.landholder_id)
        .outerjoin(PartyContact, PartyContact.party_id == Party.id)
    )
    known, spots = {}, {}
    for site, name, phone in session.execute(query):
        known[site.id] = (site.name, " · ".join(part for part in (name, phone) if part))
        spot = spot_at(site.easting_m, site.northing_m, site.latitude_e6, site.longitude_e6)
        if spot is not None:
            spots[site.id] = spot
    return known, spots


def _marks(session: Session, last: date) -> dict[int, str]:
    """The mark that each colony last carried up to the end of the period."""
    query = select(HiveMark.colony_id, HiveMark.mark).where(HiveMark.from_on <= last)
    return dict(session.execute(query.order_by(HiveMark.from_on, HiveMark.id)).all())


def _stood(
    session: Session, site_id: int, start: datetime, end: datetime, names: Mapping[Node, str]
) -> list[StoodLine]:
    query = select(Placement.colony_id, Placement.from_on, Placement.until_on).where(
        Placement.site_id == site_id,
        Placement.from_at <= end,
        or_(Placement.until_at.is_(None), Placement.until_at >= start),
    )
    lines = [
        StoodLine(names.get(("colony", colony), UNMARKED), since, until)
        for colony, since, until in session.execute(query)
    ]
    return sorted(lines, key=lambda line: (line.since, number_order(line.hive)))


def _line(one: Contact, names: Mapping[Node, str], calls: Mapping[int, str], zone: str) -> ContactLine:
    kind, number = one.node
    call = calls.get(number, "") if kind == "site" else ""
    name = names.get(one.node, UNMARKED)
    way = "; ".join(_step(step, names, zone) for step in one.steps)
    return ContactLine(kind, number, name, _day(one.at, zone), len(one.steps), way, call)


def _step(step: Step, names: Mapping[Node, str], zone: str) -> str:
    return f"{short(_day(step.at, zone))} {_said(step.start, names)} to {_said(step.goal, names)}"


def _said(node: Node, names: Mapping[Node, str]) -> str:
    if node[0] == "trip":
        return "the trip"
    name = names.get(node, UNMARKED)
    return f"hive {name}" if node[0] == "colony" else name


def _day(seconds: int, zone: str) -> date:
    return local_date(datetime.fromtimestamp(seconds, UTC), zone)
