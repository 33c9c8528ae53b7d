"""The time, handed in at the door. Nothing else in the program asks the computer for it."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from typing import Protocol
from zoneinfo import ZoneInfo

DEFAULT_ZONE = "Europe/London"


class Clock(Protocol):
    """A moment in UTC and the farm's local date for it."""

    zone: str

    def now(self) -> datetime:
        """The moment, in UTC, aware."""
        ...

    def today(self) -> date:
        """The farm's local date."""
        ...


@dataclass(slots=True)
class FarmClock:
    """The computer's clock read in the farm's zone."""

    zone: str = DEFAULT_ZONE

    def now(self) -> datetime:
        """The moment, in UTC, to the second."""
        return datetime.now(UTC).replace(microsecond=0)

    def today(self) -> date:
        """The farm's local date."""
        return self.now().astimezone(ZoneInfo(self.zone)).date()


@dataclass(slots=True)
class FixedClock:
    """A clock that stands still, or is moved on by hand: for tests, screenshots and the sample."""

    moment: datetime
    zone: str = field(default=DEFAULT_ZONE)

    def now(self) -> datetime:
        """The moment it was set to, in UTC."""
        return self.moment.astimezone(UTC)

    def today(self) -> date:
        """The local date of that moment."""
        return self.moment.astimezone(ZoneInfo(self.zone)).date()


@dataclass(slots=True)
class CarriedClock:
    """A clock that was set to another moment and goes on from there: a copy of the sample lives on its own day."""

    began: datetime
    zone: str = field(default=DEFAULT_ZONE)
    set_at: datetime = field(default_factory=lambda: datetime.now(UTC))

    def now(self) -> datetime:
        """The moment it was set to and the time since, in UTC, to the second."""
        return (self.began + (datetime.now(UTC) - self.set_at)).astimezone(UTC).replace(microsecond=0)

    def today(self) -> date:
        """The farm's local date."""
        return self.now().astimezone(ZoneInfo(self.zone)).date()


def local_moment(day: date, minute: int, zone: str) -> datetime:
    """The UTC moment of a local wall-clock time (``minute`` after midnight) on ``day``.

    On the night the clocks go back the earlier of the two moments is meant; a time that the
    clocks skip in spring is read as the moment just as long after midnight.
    """
    wall = datetime(day.year, day.month, day.day, minute // 60, minute % 60, tzinfo=ZoneInfo(zone))
    return wall.astimezone(UTC)


def local_date(moment: datetime, zone: str) -> date:
    """The local date of a UTC moment."""
    return moment.astimezone(ZoneInfo(zone)).date()
