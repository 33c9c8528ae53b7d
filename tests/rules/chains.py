"""Random trips, corrections and ends of one colony, beside a model that only knows what happened when."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta

from hypothesis import strategies as st

from beeledger.rules.placements import Stay, Trip, ended, reopened, with_trip, without_trip

START = datetime(2026, 3, 1, 6, 0, tzinfo=UTC)
SPAN = 60
"""Hours within which everything happens: short, so that trips often run into each other."""


def at(hour: int) -> datetime:
    return START + timedelta(hours=hour)


def day(hour: int) -> date:
    return at(hour).date()


@dataclass(frozen=True)
class Put:
    """A trip to a site (None: it was lost on the way), on a vehicle or not."""

    left: int
    hours: int
    site: int | None
    vehicle: int | None


@dataclass(frozen=True)
class TakeBack:
    """One of the trips so far never was."""

    which: int


@dataclass(frozen=True)
class End:
    hour: int


@dataclass(frozen=True)
class Revive:
    pass


Step = Put | TakeBack | End | Revive
hours = st.integers(0, SPAN)
puts = st.builds(Put, hours, st.integers(0, 9), st.sampled_from([2, 3, 4, None]), st.sampled_from([1, None]))
some_steps = st.lists(
    st.one_of(
        puts, puts, puts, st.builds(TakeBack, st.integers(0, 9)), st.builds(End, hours), st.just(Revive())
    ),
    max_size=12,
)


@dataclass
class Life:
    """A chain as the rules make it, and beside it every change of place as (hour, where)."""

    chain: list[Stay] = field(default_factory=lambda: [Stay("site", at(0), day(0), site_id=1)])
    trips: dict[int, tuple[int, int | None, int | None]] = field(default_factory=dict)
    """By line: left, arrived (None: it ended on the way) and the site."""
    ended: int | None = None
    lines: int = 0
    refused: int = 0

    def take(self, step: Step) -> None:
        """Do one step; what the rules refuse changes nothing."""
        try:
            getattr(self, f"_{type(step).__name__.lower()}")(step)
        except ValueError:
            self.refused += 1

    def where(self, hour: int) -> str | None:
        """Where it was at an hour, by what happened and not by the chain."""
        if hour < 0 or (self.ended is not None and hour >= self.ended):
            return None
        place = "site 1"
        for left, arrived, site in sorted(self.trips.values(), key=lambda trip: trip[0]):
            if hour >= left:
                way = arrived is None or hour < arrived
                place = "on the way" if way else ("lost" if site is None else f"site {site}")
        return place

    def _put(self, step: Put) -> None:
        self.lines += 1
        left, arrived = step.left, step.left + step.hours
        trip = Trip(at(left), day(left), at(arrived), day(arrived), step.site, vehicle_id=step.vehicle, move_line_id=self.lines)  # fmt: skip
        self.chain = with_trip(self.chain, trip)
        self.trips[self.lines] = (left, arrived, step.site)

    def _takeback(self, step: TakeBack) -> None:
        if self.trips:
            line = sorted(self.trips)[step.which % len(self.trips)]
            self.chain = without_trip(self.chain, line)
            del self.trips[line]

    def _end(self, step: End) -> None:
        if self.ended is None and step.hour > 0:
            self.chain = ended(self.chain, at(step.hour), day(step.hour))
            self.ended = step.hour
            self.trips = {
                line: (left, None if arrived is None or arrived >= step.hour else arrived, site)
                for line, (left, arrived, site) in self.trips.items()
                if left < step.hour
            }

    def _revive(self, _: Revive) -> None:
        self.chain = reopened(self.chain)
        self.ended = None


def said_of(chain: Sequence[Stay], hour: int) -> str | None:
    """Where the chain says it was."""
    stays = [stay for stay in chain if stay.covers(at(hour))]
    assert len(stays) <= 1
    if not stays:
        return None
    if stays[0].place == "site":
        return f"site {stays[0].site_id}"
    # Lost for good and on the way without a vehicle are both unaccounted for; the vehicle tells the way.
    return stays[0].place
