"""The restrictions a ledger holds, as the rules take them, with the sites each covers and the honey behind each.

What goes against one is found by ``database.checking.restrictions``; what is said of it beforehand stands in
``queries.restrictions``.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from beeledger.model.honey import HoneyLot, HoneyTransfer, Take
from beeledger.model.parties import Vehicle
from beeledger.model.restrictions import Restriction
from beeledger.model.sites import Site
from beeledger.rules.restrictions import Cover, Force, Stops
from beeledger.rules.sites import spot_at


@dataclass(frozen=True, slots=True)
class Laid:
    """One restriction with the sites it lies on."""

    id: int
    cover: Cover
    force: Force
    stops: Stops
    reason: str
    sites: Mapping[int, str]
    """The sites it covers, with their names."""
    vehicle: str = ""


def laid(session: Session) -> list[Laid]:
    """Every restriction there was or is, oldest first: one statement, and one more when there are any."""
    query = select(Restriction, Vehicle.name).outerjoin(Vehicle, Vehicle.id == Restriction.vehicle_id)
    rows = session.execute(query.order_by(Restriction.begins_at, Restriction.id)).all()
    if not rows:
        return []
    names, spots = {}, {}
    sites = select(Site.id, Site.name, Site.easting_m, Site.northing_m, Site.latitude_e6, Site.longitude_e6)
    for site_id, name, *where in session.execute(sites):
        names[site_id], spots[site_id] = name, spot_at(*where)
    found = []
    for row, vehicle in rows:
        cover = cover_of(row)
        covered = {site_id: names[site_id] for site_id in cover.sites(spots) if site_id in names}
        found.append(Laid(row.id, cover, force_of(row), stops_of(row), row.reason, covered, vehicle or ""))
    return found


def cover_of(row: Restriction) -> Cover:
    """What a restriction lies on."""
    middle = spot_at(row.easting_m, row.northing_m, row.latitude_e6, row.longitude_e6)
    return Cover(row.site_id, middle, row.radius_m, row.vehicle_id)


def force_of(row: Restriction) -> Force:
    """From when until when a restriction holds."""
    return Force(row.begins_at, row.begins_on, row.released_at, row.released_on)


def stops_of(row: Restriction) -> Stops:
    """What a restriction stops."""
    return Stops(
        row.stops_bees, row.stops_comb, row.stops_honey, row.stops_boxes, row.stops_tools, row.stops_inward
    )


def lots_from(session: Session, site_ids: Collection[int], first_day: date) -> set[int]:
    """The lots that hold honey taken at these sites since a day, however often it was run together."""
    query = (
        select(HoneyLot.id)
        .join(Take, Take.id == HoneyLot.take_id)
        .where(Take.site_id.in_(site_ids), Take.on >= first_day)
    )
    reached = set(session.scalars(query))
    edge = reached
    while edge:
        onward = select(HoneyTransfer.to_lot_id).where(
            HoneyTransfer.from_lot_id.in_(sorted(edge)), HoneyTransfer.to_lot_id.is_not(None)
        )
        edge = {lot for lot in session.scalars(onward) if lot is not None} - reached
        reached |= edge
    return reached
