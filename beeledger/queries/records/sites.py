"""Sites as their table, the map and their card show them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from beeledger.queries.records.colonies import ColonyLine


@dataclass(frozen=True, slots=True)
class SiteName:
    """An open site to choose from."""

    site_id: int
    name: str
    code: str
    kind: str


@dataclass(frozen=True, slots=True)
class SiteLine:
    """One site in the list. Metres on the National Grid where it is in Great Britain, degrees everywhere."""

    site_id: int
    code: str
    name: str
    kind: str
    grid: str | None
    easting_m: int | None
    northing_m: int | None
    latitude_e6: int | None
    longitude_e6: int | None
    landholder: str
    capacity: int | None
    colonies: int
    last_round_on: date | None
    due_on: date | None
    """The oldest reason to go there."""
    colonies_due: int
    """Colonies with a reason that is late, due today or soon."""
    permission_until: date | None
    metres_from_home: int | None
    closed_on: date | None = None


@dataclass(frozen=True, slots=True)
class SiteVisit:
    """A round at a site."""

    round_id: int
    on: date
    crew: str
    weather: str
    hives: int


@dataclass(frozen=True, slots=True)
class SiteNear:
    """Another site close by."""

    site_id: int
    name: str
    metres: int
    colonies: int


@dataclass(frozen=True, slots=True)
class SiteLosses:
    """Colonies that ended while they stood there, of one cause in one year."""

    year: int
    cause: str
    colonies: int


@dataclass(frozen=True, slots=True)
class SiteContract:
    """A pollination contract at the site."""

    contract_id: int
    name: str
    crop: str
    on_on: date
    off_on: date
    hives: int
    state: str


@dataclass(frozen=True, slots=True)
class SiteCard:
    """All that the card of one site shows."""

    line: SiteLine
    landholder_phone: str
    landholder_person: str
    permission_from: date | None
    rent_pence: int | None
    rent_jars: int | None
    way_in: str
    forage: str
    other_bees: str
    apiary_number: str
    note: str
    standing: tuple[ColonyLine, ...]
    set_down: tuple[str, ...]
    visits: tuple[SiteVisit, ...]
    near: tuple[SiteNear, ...]
    near_m: int
    losses: tuple[SiteLosses, ...]
    contracts: tuple[SiteContract, ...]
