"""What the record has to say about the hives, sites and chains of one move, typed or being corrected.

Each room in one statement, however many hives. What is to be said of it stands in ``queries.move_checks``.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from beeledger.base.clock import local_moment
from beeledger.model.colonies import Colony, HiveMark, Placement
from beeledger.model.moves import MoveLine
from beeledger.model.sites import Site
from beeledger.queries.records.move_desk import LEFT_BEHIND, LOST, Carried, NewMove
from beeledger.rules.journeys import spliced, without_trips
from beeledger.rules.placements import Stay, Trip, reopened
from beeledger.rules.sites import Spot, spot_at

NEW_LINE = -1
"""Stands for a line that is not written yet."""


@dataclass(frozen=True, slots=True)
class SiteFacts:
    """A site as a move sees it."""

    id: int
    name: str
    spot: Spot | None
    capacity: int | None
    closed_on: date | None


@dataclass(frozen=True, slots=True)
class HiveFacts:
    """A colony as a move sees it; its chain without the lines that are being corrected."""

    colony_id: int
    mark: str
    founded_on: date
    ended_on: date | None
    chain: tuple[Stay, ...]


@dataclass(frozen=True, slots=True)
class MoveFacts:
    """All that the record has to say about one move."""

    move: NewMove
    zone: str
    sites: Mapping[int, SiteFacts]
    hives: Mapping[int, HiveFacts]
    instead_of: int | None = None
    chains: dict[int, list[Stay]] = field(default_factory=dict)
    """Each hive's chain with the trip in it, where it goes in."""

    @property
    def left_at(self) -> datetime:
        """UTC."""
        return local_moment(self.move.on, self.move.left_minute, self.zone)

    @property
    def arrived_at(self) -> datetime:
        """UTC."""
        return local_moment(self.move.arrival, self.move.arrived_minute, self.zone)

    def site(self, site_id: int | None) -> str:
        """A site's name."""
        known = self.sites.get(site_id or 0)
        return known.name if known else "elsewhere"


def facts_of(session: Session, move: NewMove, zone: str, instead_of: int | None = None) -> MoveFacts:
    """Sites, hives and chains by three statements, and one more for a correction."""
    ids = [hive.colony_id for hive in move.hives]
    chains = stays_of(session, ids)
    if instead_of is not None:
        old = lines_of(session, instead_of)
        chains.update(stays_of(session, [colony for colony in old if colony not in chains]))
        chains = {
            colony: without_trips(chain, [old[colony]]) if colony in old else chain
            for colony, chain in chains.items()
        }
    return MoveFacts(move, zone, site_facts(session), _hives(session, move, chains), instead_of)


def lines_of(session: Session, move_id: int) -> dict[int, int]:
    """The line of each colony of a move."""
    query = select(MoveLine.colony_id, MoveLine.id).where(MoveLine.move_id == move_id)
    return dict(session.execute(query).all())


def site_facts(session: Session) -> dict[int, SiteFacts]:
    """Every site, as a move sees it."""
    query = select(
        Site.id, Site.name, Site.easting_m, Site.northing_m, Site.latitude_e6, Site.longitude_e6,
        Site.capacity, Site.closed_on,
    )  # fmt: skip
    return {
        row.id: SiteFacts(row.id, row.name, spot_at(*row[2:6]), row.capacity, row.closed_on)
        for row in session.execute(query)
    }


def stays_of(session: Session, colony_ids: Iterable[int]) -> dict[int, list[Stay]]:
    """The chains of colonies, by one statement."""
    wanted = list(colony_ids)
    chains: dict[int, list[Stay]] = {colony_id: [] for colony_id in wanted}
    query = (
        select(
            Placement.colony_id, Placement.place, Placement.from_at, Placement.from_on, Placement.until_at,
            Placement.until_on, Placement.site_id, Placement.set_down_id, Placement.vehicle_id, Placement.stand,
            Placement.move_line_id,
        )
        .where(Placement.colony_id.in_(wanted))
        .order_by(Placement.colony_id, Placement.from_at)
    )  # fmt: skip
    for colony_id, *stay in session.execute(query):
        chains[colony_id].append(Stay(*stay))
    return chains


def trip_of(facts: MoveFacts, hive: Carried, line_id: int) -> Trip:
    """One hive's trip, as the chain takes it."""
    _, to_site_id = facts.move.way(hive)
    return Trip(
        facts.left_at, facts.move.on, facts.arrived_at, facts.move.arrival,
        None if hive.outcome == LOST else to_site_id, hive.to_set_down_id, facts.move.vehicle_id, line_id,
    )  # fmt: skip


def spliced_chain(facts: MoveFacts, hive: Carried, line_id: int) -> list[Stay]:
    """The chain of a hive with this move in it. ValueError with a sentence when it does not go in."""
    known = facts.hives[hive.colony_id]
    if hive.outcome == LEFT_BEHIND:
        return list(known.chain)
    chain: Sequence[Stay] = known.chain
    if known.ended_on is not None and known.ended_on <= facts.move.on:
        chain = reopened(chain)
    return spliced(chain, trip_of(facts, hive, line_id), facts.move.way(hive)[0])


def from_sites_said(session: Session, chains: Iterable[Sequence[Stay]]) -> dict[int, int | None]:
    """What the lines of moves in these chains say they left."""
    lines = {stay.move_line_id for chain in chains for stay in chain if stay.move_line_id is not None}
    query = select(MoveLine.id, MoveLine.from_site_id).where(MoveLine.id.in_(lines))
    return dict(session.execute(query).all())


def _hives(session: Session, move: NewMove, chains: Mapping[int, list[Stay]]) -> dict[int, HiveFacts]:
    """The colonies of the move; the mark is the one carried that day, else the last one known."""
    query = (
        select(Colony.id, Colony.founded_on, Colony.ended_on, HiveMark.mark)
        .outerjoin(
            HiveMark,
            (HiveMark.colony_id == Colony.id) & ((HiveMark.from_on <= move.on) | HiveMark.until_on.is_(None)),
        )
        .where(Colony.id.in_(chains))
        .order_by(Colony.id, HiveMark.from_on, HiveMark.id)
    )
    return {
        row.id: HiveFacts(
            row.id, row.mark or f"without a number ({row.id})", row.founded_on, row.ended_on, tuple(chains[row.id])
        )
        for row in session.execute(query)
    }  # fmt: skip
