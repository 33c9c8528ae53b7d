"""A move as the office types it, and what the desk shows of moves."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date, datetime

from beeledger.rules.restrictions import NO_LICENCE, Licence

DELIVERED, LOST, LEFT_BEHIND = "delivered", "lost", "left behind"


@dataclass(frozen=True, slots=True)
class Carried:
    """One hive of a trip. Where a site is None, the trip's own holds."""

    colony_id: int
    from_site_id: int | None = None
    to_site_id: int | None = None
    from_set_down_id: int | None = None
    to_set_down_id: int | None = None
    outcome: str = DELIVERED
    note: str | None = None


@dataclass(frozen=True, slots=True)
class NewMove:
    """A trip as the sheet has it: local days and minutes after local midnight."""

    from_site_id: int
    to_site_id: int
    on: date
    left_minute: int
    arrived_minute: int
    hives: tuple[Carried, ...]
    arrived_on: date | None = None
    """None: the day it left."""
    vehicle_id: int | None = None
    driver: str | None = None
    reason: str = "crop"
    contract_id: int | None = None
    note: str | None = None
    exempt: bool = False
    """Distance does not matter: in a cluster for two weeks, or a swarm just taken."""
    accepted: frozenset[str] = field(default_factory=frozenset)
    """Keys of what contradicts the record and was accepted (``finding_key``)."""
    licence: Licence = NO_LICENCE
    """That lets it out of a restricted place, or in."""

    @property
    def arrival(self) -> date:
        """The local day it arrived."""
        return self.arrived_on or self.on

    def way(self, hive: Carried) -> tuple[int, int]:
        """From where to where one hive goes."""
        return hive.from_site_id or self.from_site_id, hive.to_site_id or self.to_site_id


def carried(colony_ids: Iterable[int], left_behind: Iterable[int] = ()) -> tuple[Carried, ...]:
    """Hives that all went the way of the trip, and those that were to go and stayed."""
    return (
        *(Carried(colony_id) for colony_id in colony_ids),
        *(Carried(colony_id, outcome=LEFT_BEHIND) for colony_id in left_behind),
    )


@dataclass(frozen=True, slots=True)
class MoveRow:
    """A line of the log: one trip. Moments are UTC."""

    id: int
    on: date
    state: str
    reason: str
    left_at: datetime
    arrived_at: datetime
    from_sites: tuple[str, ...]
    to_sites: tuple[str, ...]
    hives: int
    lost: int
    left_behind: int
    vehicle: str
    driver: str
    contract: str
    contract_id: int | None


@dataclass(frozen=True, slots=True)
class MoveHive:
    """One hive on the card of a move."""

    line_id: int
    colony_id: int
    mark: str
    from_site: str
    to_site: str
    outcome: str
    note: str


@dataclass(frozen=True, slots=True)
class MoveCard:
    """A trip whole, with what the form needs to correct it."""

    row: MoveRow
    note: str
    hives: tuple[MoveHive, ...]
    as_typed: NewMove


@dataclass(frozen=True, slots=True)
class HiveThere:
    """A hive that stands at a site, as the list of hives is read against it."""

    colony_id: int
    mark: str


@dataclass(frozen=True, slots=True)
class SiteChoice:
    """A site to move from or to."""

    id: int
    name: str
    code: str
    kind: str
    hives: int
    capacity: int | None


@dataclass(frozen=True, slots=True)
class VehicleChoice:
    """A vehicle to move with."""

    id: int
    name: str
    places: int
    payload_g: int | None


@dataclass(frozen=True, slots=True)
class ContractChoice:
    """A contract a move may be for."""

    id: int
    name: str
    site_id: int
    on: date
    off: date


@dataclass(frozen=True, slots=True)
class MoveChoices:
    """What the form of a new move offers."""

    sites: tuple[SiteChoice, ...]
    vehicles: tuple[VehicleChoice, ...]
    contracts: tuple[ContractChoice, ...]


REASONS = (
    ("crop", "to a crop"), ("home", "home"), ("forage", "for forage"), ("mating", "for mating"),
    ("wintering", "for the winter"), ("sale", "sold"), ("health", "for their health"), ("other", "other"),
)  # fmt: skip
"""Why hives are moved: as kept, and in words."""


def reason_words(reason: str) -> str:
    """A reason as kept, in words."""
    return dict(REASONS).get(reason, reason)
