"""Notices of spraying with the own sites inside each, and whom to call."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy import Select, func, select
from sqlalchemy.orm import Session

from beeledger.model.colonies import Placement
from beeledger.model.parties import Party, PartyContact
from beeledger.model.sites import Site
from beeledger.model.spray import SprayNotice
from beeledger.rules.sites import Spot, spot_at, within


@dataclass(frozen=True, slots=True)
class Inside:
    """An own site inside the circle, with hives that stand there now; ``call``: its landholder and telephone."""

    site_id: int
    site: str
    metres: int
    hives: int
    call: str


@dataclass(frozen=True, slots=True)
class NoticeLine:
    """One notice whole. Moments are UTC; ``call`` is who gave it, with the telephone where it is known."""

    id: int
    given_by: str
    call: str
    given_on: date
    easting_m: int | None
    northing_m: int | None
    radius_m: int
    from_at: datetime
    until_at: datetime
    from_on: date
    until_on: date
    substance: str
    note: str
    closed_on: date | None
    done: str
    sites: tuple[Inside, ...]

    def runs(self, now: datetime) -> bool:
        """Whether it cannot wait: neither closed nor over."""
        return self.closed_on is None and now <= self.until_at


def spray_running(session: Session, now: datetime) -> list[NoticeLine]:
    """Notices neither closed nor over, soonest first: one statement, and two more where there are any."""
    query = _notices().where(SprayNotice.closed_on.is_(None), SprayNotice.until_at >= now)
    return _lines(session, query.order_by(SprayNotice.from_at, SprayNotice.id))


def spray_at(session: Session, site_id: int) -> list[NoticeLine]:
    """Every notice whose circle a site is in, newest first: three statements."""
    lines = _lines(session, _notices().order_by(SprayNotice.from_at.desc(), SprayNotice.id.desc()))
    return [line for line in lines if any(one.site_id == site_id for one in line.sites)]


def _notices() -> Select[SprayNotice, str | None]:
    return (
        select(SprayNotice, PartyContact.phone)
        .outerjoin(PartyContact, PartyContact.party_id == SprayNotice.party_id)
    )  # fmt: skip


def _lines(session: Session, query: Select[SprayNotice, str | None]) -> list[NoticeLine]:
    rows = session.execute(query).all()
    if not rows:
        return []
    standing, known, spots = _own_sites(session)
    lines = []
    for row, phone in rows:
        middle = spot_at(row.easting_m, row.northing_m, row.latitude_e6, row.longitude_e6)
        near = within(middle, row.radius_m, spots) if middle is not None else []
        inside = tuple(
            Inside(number, known[number][0], metres, standing.get(number, 0), known[number][1])
            for number, metres in near
        )
        lines.append(
            NoticeLine(
                row.id, row.given_by, _who(row.given_by, phone), row.given_on, row.easting_m, row.northing_m,
                row.radius_m, row.from_at, row.until_at, row.from_on, row.until_on, row.substance or "", row.note or "",
                row.closed_on, row.done or "", inside,
            )
        )  # fmt: skip
    return lines


def _own_sites(session: Session) -> tuple[dict[int, int], dict[int, tuple[str, str]], dict[int, Spot]]:
    """Hives standing, name and landholder, and spot of each open site."""
    open_stays = (
        select(Placement.site_id, func.count())
        .where(Placement.until_at.is_(None), Placement.site_id.is_not(None))
        .group_by(Placement.site_id)
    )
    standing = {number: hives for number, hives in session.execute(open_stays) if number is not None}
    query = (
        select(Site, Party.name, PartyContact.phone)
        .outerjoin(Party, Party.id == Site.landholder_id)
        .outerjoin(PartyContact, PartyContact.party_id == Party.id)
        .where(Site.closed_on.is_(None))
    )
    known, spots = {}, {}
    for site, name, phone in session.execute(query):
        known[site.id] = (site.name, _who(name, phone))
        spot = spot_at(site.easting_m, site.northing_m, site.latitude_e6, site.longitude_e6)
        if spot is not None:
            spots[site.id] = spot
    return standing, known, spots


def _who(name: str | None, phone: str | None) -> str:
    return " · ".join(part for part in (name, phone) if part)
