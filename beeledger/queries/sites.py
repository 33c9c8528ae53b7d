"""Sites: what stands where, and what the card of one shows."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from datetime import date, timedelta
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from beeledger.model.colonies import Colony, Placement
from beeledger.model.contracts import Contract
from beeledger.model.due import Due
from beeledger.model.parties import Party, PartyContact
from beeledger.model.rounds import Round, RoundEntry
from beeledger.model.sites import SetDownPlace, Site
from beeledger.queries.colonies import list_colonies
from beeledger.queries.records.colonies import ColonyFilter
from beeledger.queries.records.sites import (
    SiteCard,
    SiteContract,
    SiteLine,
    SiteLosses,
    SiteName,
    SiteNear,
    SiteVisit,
)
from beeledger.rules.due import default_settings
from beeledger.rules.sites import Spot, distance_m, near_m, spot_at, within

VISITS, CONTRACTS = 10, 6
_EXITS = ("sold", "united")


def open_sites(session: Session) -> list[SiteName]:
    """Every site that is not given up, by name: one statement."""
    query = (
        select(Site.id, Site.name, Site.code, Site.kind).where(Site.closed_on.is_(None)).order_by(Site.name)
    )
    return [SiteName(*row) for row in session.execute(query)]


def landholders(session: Session) -> list[str]:
    """The names of the landholders: one statement."""
    return list(session.scalars(select(Party.name).where(Party.is_landholder).order_by(Party.name)))


def list_sites(session: Session, today: date, *, closed: bool = False) -> list[SiteLine]:
    """Sites by name with what stands there and what is due; ``closed``: those given up. Four statements."""
    given_up = Site.closed_on.is_not(None) if closed else Site.closed_on.is_(None)
    query = (
        select(
            Site.id, Site.code, Site.name, Site.kind, Site.grid, Site.easting_m, Site.northing_m, Site.latitude_e6,
            Site.longitude_e6, Party.name.label("landholder"), Site.capacity, Site.permission_until, Site.closed_on,
        )
        .outerjoin(Party, Party.id == Site.landholder_id)
        .order_by(Site.name)
    )  # fmt: skip
    rows = session.execute(query.where(given_up)).all()
    standing, rounds, dues = _standing(session), _last_rounds(session), _dues(session, today)
    home = next((spot for row in rows if row.kind == "home" and (spot := spot_of(row))), None)
    return [_line(row, standing, rounds, dues, home) for row in rows]


def site_card(session: Session, site_id: int, today: date) -> SiteCard | None:
    """Everything on the card of one site; None when there is none. A constant number of statements."""
    site = session.get(Site, site_id)
    if site is None:
        return None
    lines = {line.site_id: line for line in list_sites(session, today, closed=site.closed_on is not None)}
    contact = session.execute(
        select(PartyContact.person, PartyContact.phone).where(PartyContact.party_id == site.landholder_id)
    ).first()
    person, phone = contact or ("", "")
    return SiteCard(
        line=lines[site_id], landholder_person=person or "", landholder_phone=phone or "",
        permission_from=site.permission_from, rent_pence=site.rent_pence, rent_jars=site.rent_jars,
        way_in=site.way_in or "", forage=site.forage or "", other_bees=site.other_bees or "",
        apiary_number=site.apiary_number or "", note=site.note or "",
        standing=tuple(list_colonies(session, ColonyFilter(site_id=site_id))), set_down=_set_down(session, site_id),
        visits=_visits(session, site_id), near=_near(lines, site_id), near_m=near_m(),
        losses=_losses(session, site_id), contracts=_contracts(session, site_id),
    )  # fmt: skip


def spot_of(site: Any) -> Spot | None:
    """Where a row or record of a site is; None when nobody said."""
    return spot_at(site.easting_m, site.northing_m, site.latitude_e6, site.longitude_e6)


def _standing(session: Session) -> dict[int, int]:
    query = (
        select(Placement.site_id, func.count())
        .where(Placement.until_at.is_(None), Placement.site_id.is_not(None))
        .group_by(Placement.site_id)
    )
    return {row[0] or 0: row[1] for row in session.execute(query)}


def _last_rounds(session: Session) -> dict[int, date]:
    # Of each site alone: one step on the index, however many rounds there were.
    last = select(func.max(Round.on)).where(Round.site_id == Site.id).correlate(Site).scalar_subquery()
    return {site_id: on for site_id, on in session.execute(select(Site.id, last)) if on is not None}


def _dues(session: Session, today: date) -> dict[int, tuple[date, int]]:
    until = today + timedelta(days=default_settings().soon_days)
    query = (
        select(Due.site_id, func.min(Due.due_on), func.count(func.distinct(Due.colony_id)))
        .where(Due.due_on <= until, Due.site_id.is_not(None))
        .group_by(Due.site_id)
    )
    return {row[0] or 0: (row[1], row[2]) for row in session.execute(query)}


def _line(
    row: Any,
    standing: Mapping[int, int],
    rounds: Mapping[int, date],
    dues: Mapping[int, tuple[date, int]],
    home: Spot | None,
) -> SiteLine:
    due_on, colonies_due = dues.get(row.id, (None, 0))
    here = spot_of(row)
    return SiteLine(
        row.id, row.code, row.name, row.kind, row.grid, row.easting_m, row.northing_m, row.latitude_e6,
        row.longitude_e6, row.landholder or "", row.capacity, standing.get(row.id, 0), rounds.get(row.id), due_on,
        colonies_due, row.permission_until, distance_m(home, here) if home and here else None, row.closed_on,
    )  # fmt: skip


def _near(lines: Mapping[int, SiteLine], site_id: int) -> tuple[SiteNear, ...]:
    here = spot_of(lines[site_id])
    if here is None:
        return ()
    spots = {key: spot for key, line in lines.items() if key != site_id and (spot := spot_of(line))}
    return tuple(
        SiteNear(key, lines[key].name, metres, lines[key].colonies)
        for key, metres in within(here, near_m(), spots)
    )


def _set_down(session: Session, site_id: int) -> tuple[str, ...]:
    query = select(SetDownPlace.name).where(SetDownPlace.site_id == site_id).order_by(SetDownPlace.name)
    return tuple(session.scalars(query))


def _visits(session: Session, site_id: int) -> tuple[SiteVisit, ...]:
    hives = select(func.count()).where(RoundEntry.round_id == Round.id).correlate(Round).scalar_subquery()
    query = (
        select(Round.id, Round.on, Round.crew, Round.weather, hives)
        .where(Round.site_id == site_id)
        .order_by(Round.on.desc(), Round.id.desc())
        .limit(VISITS)
    )
    return tuple(
        SiteVisit(number, on, crew or "", weather or "", count)
        for number, on, crew, weather, count in session.execute(query)
    )


def _losses(session: Session, site_id: int) -> tuple[SiteLosses, ...]:
    """Colonies that ended on the day their stay here ended; what was sold or united is no loss."""
    query = (
        select(Colony.ended_on, Colony.end_cause)
        .join(Placement, Placement.colony_id == Colony.id)
        .where(
            Placement.site_id == site_id,
            Placement.until_on == Colony.ended_on,
            Colony.end_cause.not_in(_EXITS),
        )
    )
    count = Counter((on.year, cause or "") for on, cause in session.execute(query) if on is not None)
    ordered = sorted(count.items(), key=lambda pair: (-pair[0][0], -pair[1], pair[0][1]))
    return tuple(SiteLosses(year, cause, number) for (year, cause), number in ordered)


def _contracts(session: Session, site_id: int) -> tuple[SiteContract, ...]:
    query = (
        select(
            Contract.id, Contract.name, Contract.crop, Contract.on_on, Contract.off_on, Contract.hives, Contract.state
        )
        .where(Contract.site_id == site_id)
        .order_by(Contract.on_on.desc(), Contract.id.desc())
        .limit(CONTRACTS)
    )  # fmt: skip
    return tuple(SiteContract(*row) for row in session.execute(query))
