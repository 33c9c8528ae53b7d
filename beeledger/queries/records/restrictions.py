"""What the desk shows of restrictions, official visits and samples."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from beeledger.base.findings import Finding
from beeledger.rules.restrictions import Stops


@dataclass(frozen=True, slots=True)
class Stopped:
    """Something that a restriction stops, as it is said beforehand and as a licence for it is kept."""

    restriction_id: int
    what: str
    finding: Finding


@dataclass(frozen=True, slots=True)
class LicenceLine:
    """One thing that was let out under a licence."""

    what: str
    licence: str
    issued_by: str
    issued_on: date | None
    reason: str


@dataclass(frozen=True, slots=True)
class RestrictionLine:
    """One restriction whole. ``where`` says in words what it lies on; moments are UTC."""

    id: int
    scope: str
    where: str
    sites: tuple[str, ...]
    """The names of the sites it covers."""
    first_site_id: int | None
    """One of them, to go to; None where it covers none."""
    site_id: int | None
    vehicle_id: int | None
    easting_m: int | None
    northing_m: int | None
    latitude_e6: int | None
    longitude_e6: int | None
    radius_m: int | None
    begins_at: datetime
    begins_on: date
    served_on: date | None
    stops: Stops
    by_whom: str
    reference: str
    reason: str
    expected_end_on: date | None
    released_at: datetime | None
    released_on: date | None
    release_reference: str
    note: str
    licences: tuple[LicenceLine, ...] = ()


@dataclass(frozen=True, slots=True)
class RestrictionChoices:
    """What the form of a restriction offers: authorities by name, vehicles by id and name."""

    authorities: tuple[str, ...]
    vehicles: tuple[tuple[int, str], ...]


@dataclass(frozen=True, slots=True)
class VisitLine:
    """An inspector's visit to a site."""

    id: int
    on: date
    inspector: str
    purpose: str
    found: str
    note: str


@dataclass(frozen=True, slots=True)
class SampleLine:
    """A sample and what came back of it; ``outcome`` is empty while nothing has."""

    id: int
    site_id: int
    site: str
    mark: str
    """The number of the hive it was taken from; empty for the site as a whole."""
    taken_on: date
    what: str
    kind: str
    laboratory: str
    sent_on: date | None
    result_on: date | None
    result: str
    outcome: str


@dataclass(frozen=True, slots=True)
class SiteOfficial:
    """All that the authority has to do with one site, newest first; what is in force before the rest."""

    site_id: int
    in_force: tuple[RestrictionLine, ...] = ()
    past: tuple[RestrictionLine, ...] = ()
    visits: tuple[VisitLine, ...] = ()
    samples: tuple[SampleLine, ...] = ()
