"""Restrictions, visits of inspectors and samples, as the desk shows them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, datetime, timedelta

from sqlalchemy import ColumnElement, select
from sqlalchemy.orm import Session

from beeledger.base.text import listed
from beeledger.base.units import kilometres
from beeledger.database.restricted import Laid, force_of, laid, stops_of
from beeledger.model.colonies import HiveMark
from beeledger.model.parties import Party, Vehicle
from beeledger.model.restrictions import LicenceUse, OfficialVisit, Restriction, Sample
from beeledger.model.sites import Site
from beeledger.queries.records.restrictions import (
    LicenceLine,
    RestrictionChoices,
    RestrictionLine,
    SampleLine,
    SiteOfficial,
    VisitLine,
)
from beeledger.rules.restrictions import result_days


def official_of_site(session: Session, site_id: int, now: datetime) -> SiteOfficial:
    """Restrictions that cover a site, visits and samples there. At most seven statements."""
    lines = _lines(session, [one for one in laid(session) if site_id in one.sites])
    return SiteOfficial(
        site_id,
        tuple(line for line in lines if holds(line, now)),
        tuple(line for line in lines if not holds(line, now)),
        tuple(visits_to(session, site_id)),
        tuple(_samples(session, Sample.site_id == site_id)),
    )


def in_force(session: Session, now: datetime) -> list[RestrictionLine]:
    """Every restriction that holds now, newest first: on sites, circles and vehicles."""
    return _lines(session, [one for one in laid(session) if one.force.holds(now)])


def restricted_by(session: Session, site_id: int, now: datetime) -> list[RestrictionLine]:
    """What holds at one site now."""
    ones = [one for one in laid(session) if site_id in one.sites and one.force.holds(now)]
    return _lines(session, ones)


def waiting_samples(session: Session, today: date) -> list[SampleLine]:
    """Samples of which nothing has come back for too long, oldest first."""
    last = today - timedelta(days=result_days())
    return list(reversed(_samples(session, Sample.outcome.is_(None), Sample.taken_on <= last)))


def restriction_choices(session: Session) -> RestrictionChoices:
    """The authorities the farm deals with, and its vehicles."""
    names = session.scalars(select(Party.name).where(Party.is_authority).order_by(Party.name))
    vehicles = session.execute(select(Vehicle.id, Vehicle.name).order_by(Vehicle.name))
    return RestrictionChoices(tuple(names), tuple((row.id, row.name) for row in vehicles))


def holds(line: RestrictionLine, now: datetime) -> bool:
    """Whether a restriction as shown is in force."""
    return line.begins_at <= now and (line.released_at is None or now < line.released_at)


def visits_to(session: Session, site_id: int) -> list[VisitLine]:
    """The visits of inspectors to a site, newest first."""
    query = select(OfficialVisit).where(OfficialVisit.site_id == site_id)
    return [
        VisitLine(row.id, row.on, row.inspector, row.purpose or "", row.found or "", row.note or "")
        for row in session.scalars(query.order_by(OfficialVisit.on.desc(), OfficialVisit.id.desc()))
    ]


def _samples(session: Session, *conditions: ColumnElement[bool]) -> list[SampleLine]:
    query = (
        select(Sample, Site.name, HiveMark.mark)
        .join(Site, Site.id == Sample.site_id)
        .outerjoin(
            HiveMark,
            (HiveMark.colony_id == Sample.colony_id)
            & (HiveMark.from_on <= Sample.taken_on)
            & (HiveMark.until_on.is_(None) | (HiveMark.until_on > Sample.taken_on)),
        )
        .where(*conditions)
        .order_by(Sample.taken_on.desc(), Sample.id.desc())
    )
    return [
        SampleLine(
            row.id, row.site_id, site, mark or "", row.taken_on, row.what, row.kind, row.laboratory or "", row.sent_on,
            row.result_on, row.result or "", row.outcome or "",
        )
        for row, site, mark in session.execute(query)
    ]  # fmt: skip


def _lines(session: Session, ones: Sequence[Laid]) -> list[RestrictionLine]:
    """The restrictions whole, newest first."""
    if not ones:
        return []
    known = {one.id: one for one in ones}
    licences = _licences(session, known)
    query = (
        select(Restriction, Party.name)
        .outerjoin(Party, Party.id == Restriction.authority_id)
        .where(Restriction.id.in_(known))
        .order_by(Restriction.begins_at.desc(), Restriction.id.desc())
    )
    return [
        _line(row, known[row.id], authority or row.by_whom or "", licences.get(row.id, []))
        for row, authority in session.execute(query)
    ]


def _line(row: Restriction, one: Laid, by_whom: str, licences: Sequence[LicenceLine]) -> RestrictionLine:
    force = force_of(row)
    return RestrictionLine(
        row.id, row.scope, _where(row, one), tuple(sorted(one.sites.values())),
        min(one.sites, default=None), row.site_id, row.vehicle_id,
        row.easting_m, row.northing_m, row.latitude_e6, row.longitude_e6, row.radius_m, force.begins_at, force.begins_on, row.served_on, stops_of(row),
        by_whom, row.reference or "", row.reason, row.expected_end_on, force.released_at, force.released_on,
        row.release_reference or "", row.note or "", tuple(licences),
    )  # fmt: skip


def _where(row: Restriction, one: Laid) -> str:
    if row.scope == "vehicle":
        return one.vehicle
    names = sorted(one.sites.values())
    if row.scope == "site":
        return names[0] if names else ""
    inside = listed(names) if 0 < len(names) <= 3 else f"{len(names) or 'no'} sites"
    return f"a circle of {kilometres(row.radius_m or 0)} km with {inside}"


def _licences(session: Session, restriction_ids: Iterable[int]) -> dict[int, list[LicenceLine]]:
    query = select(LicenceUse).where(LicenceUse.restriction_id.in_(list(restriction_ids)))
    found: dict[int, list[LicenceLine]] = {}
    for row in session.scalars(query.order_by(LicenceUse.id)):
        line = LicenceLine(row.what, row.licence, row.issued_by or "", row.issued_on, row.reason or "")
        found.setdefault(row.restriction_id, []).append(line)
    return found
