"""The chain of a colony's stays: no gap, no overlap, one place at each moment.

Pure: a chain in, the chain as it must become out, so that old moves can be put right while later rounds
stand.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from itertools import pairwise

from beeledger.base.dates import long
from beeledger.base.findings import Finding, Grade


@dataclass(frozen=True, slots=True)
class Stay:
    """A colony at one place from one moment until another (half open). Moments are UTC, days local."""

    place: str
    from_at: datetime
    from_on: date
    until_at: datetime | None = None
    until_on: date | None = None
    site_id: int | None = None
    set_down_id: int | None = None
    vehicle_id: int | None = None
    stand: int | None = None
    move_line_id: int | None = None

    def covers(self, moment: datetime) -> bool:
        """Whether the colony was here at ``moment``."""
        return self.from_at <= moment and (self.until_at is None or moment < self.until_at)


@dataclass(frozen=True, slots=True)
class Trip:
    """One colony carried: when it left and arrived, on what, to where, by which line of a move."""

    left_at: datetime
    left_on: date
    arrived_at: datetime
    arrived_on: date
    to_site_id: int | None
    to_set_down_id: int | None = None
    vehicle_id: int | None = None
    move_line_id: int | None = None
    stand: int | None = None


def stay_at(chain: Sequence[Stay], moment: datetime) -> Stay | None:
    """Where the colony was at ``moment``; None before it was and after it ended."""
    return next((stay for stay in chain if stay.covers(moment)), None)


def with_trip(chain: Sequence[Stay], trip: Trip) -> list[Stay]:
    """The chain with a trip put in: the stay it left is cut, what follows is kept.

    The colony then stands where it was brought until the moment the cut stay would have ended.
    Raises ValueError with a sentence when it was nowhere at the moment of leaving, or when the trip
    runs into the next change of place.
    """
    if trip.arrived_at <= trip.left_at:
        raise ValueError("it arrived before it left")
    left = stay_at(chain, trip.left_at)
    if left is None:
        raise ValueError("the colony was not there yet, or no longer, at that moment")
    if left.from_at == trip.left_at:
        raise ValueError("it came there at that very moment")
    if left.until_at is not None and trip.arrived_at >= left.until_at:
        raise ValueError("it had been moved on before it arrived")
    cut = replace(left, until_at=trip.left_at, until_on=trip.left_on)
    place = "vehicle" if trip.vehicle_id is not None else "unaccounted"
    transit = Stay(
        place, trip.left_at, trip.left_on, trip.arrived_at, trip.arrived_on,
        vehicle_id=trip.vehicle_id, move_line_id=trip.move_line_id,
    )  # fmt: skip
    arrived = Stay(
        "site" if trip.to_site_id is not None else "unaccounted",
        trip.arrived_at, trip.arrived_on, left.until_at, left.until_on,
        site_id=trip.to_site_id, set_down_id=trip.to_set_down_id, stand=trip.stand, move_line_id=trip.move_line_id,
    )  # fmt: skip
    return [part for stay in chain for part in ((cut, transit, arrived) if stay is left else (stay,))]


def without_trip(chain: Sequence[Stay], move_line_id: int) -> list[Stay]:
    """The chain as if one line of a move had never been: the stay before runs on instead."""
    kept: list[Stay] = []
    for stay in chain:
        if stay.move_line_id == move_line_id and kept:
            kept[-1] = replace(kept[-1], until_at=stay.until_at, until_on=stay.until_on)
        elif stay.move_line_id == move_line_id:
            raise ValueError("nothing is known of where the colony stood before")
        else:
            kept.append(stay)
    return kept


def ended(chain: Sequence[Stay], at: datetime, on: date) -> list[Stay]:
    """The chain of a colony that ended at a moment; later stays fall away."""
    kept = [stay for stay in chain if stay.from_at < at]
    if kept and (kept[-1].until_at is None or kept[-1].until_at > at):
        kept[-1] = replace(kept[-1], until_at=at, until_on=on)
    return kept


def reopened(chain: Sequence[Stay]) -> list[Stay]:
    """The chain of a colony whose end was a mistake: its last stay runs on."""
    return [*chain[:-1], *(replace(stay, until_at=None, until_on=None) for stay in chain[-1:])]


def check_chain(chain: Sequence[Stay], *, alive: bool) -> list[Finding]:
    """Every gap, overlap and missing end of a chain, as findings. The same check serves ``beeledger check``."""
    findings = []
    for before, after in pairwise(chain):
        if before.until_at is None or before.until_at > after.from_at:
            findings.append(
                Finding("overlap", Grade.REFUSED, f"it stands in two places from {long(after.from_on)} on")
            )
        elif before.until_at < after.from_at:
            findings.append(
                Finding(
                    "gap",
                    Grade.REFUSED,
                    f"it is nowhere from {long(before.until_on or after.from_on)} to {long(after.from_on)}",
                )
            )
    if alive and (not chain or chain[-1].until_at is not None):
        findings.append(Finding("nowhere", Grade.REFUSED, "it lives and has no place"))
    if not alive and chain and chain[-1].until_at is None:
        findings.append(Finding("ghost", Grade.REFUSED, "it has ended and still has a place"))
    return findings
