"""Whether a restriction holds at a moment, which sites it covers, and what it keeps from leaving or coming.

A restriction begins with the notification and ends with the inspector's written release, nothing else: an
expected end is shown and never acted on. Of a thing of which only the day is known, ``may_hold`` asks whether
it may have been in force then, ``surely_holds`` whether it was in force all that day. Not here: what the
record has of either (``queries.restrictions``).

Source: Bee Diseases and Pests Control (England) Order 2006 (SI 2006/342), articles 3, 4 and 6. That a site
in a restricted circle may not even send hives to another site in it is the careful reading; the notice itself
says what holds.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum
from functools import cache

from beeledger.base.resources import table
from beeledger.rules.sites import Spot, within


class Goes(StrEnum):
    """What goes from one place to another."""

    HIVES = "hives"
    SUPERS = "supers"
    """Boxes with combs of honey in them."""
    HONEY = "honey"
    """Out of the comb, in drums or jars."""
    COMB = "comb"
    """A frame given: it may hold brood, and bees sit on it."""
    BEES = "bees"
    """Shaken, split off or united."""


@dataclass(frozen=True, slots=True)
class Stops:
    """What a restriction keeps where it is."""

    bees: bool = True
    comb: bool = True
    honey: bool = True
    boxes: bool = True
    tools: bool = True
    inward: bool = False
    """Whether nothing may come in either."""

    def stops(self, what: Goes) -> bool:
        """Whether so much as one part of ``what`` is stopped: a hive is bees, combs and boxes."""
        return {
            Goes.HIVES: self.bees or self.comb or self.boxes,
            Goes.SUPERS: self.honey or self.comb or self.boxes,
            Goes.HONEY: self.honey,
            Goes.COMB: self.comb or self.bees,
            Goes.BEES: self.bees,
        }[what]

    def named(self) -> tuple[str, ...]:
        """In words, as the form names them."""
        words = {
            "bees": self.bees,
            "comb": self.comb,
            "honey": self.honey,
            "boxes": self.boxes,
            "tools": self.tools,
        }
        return tuple(word for word, stopped in words.items() if stopped)


@dataclass(frozen=True, slots=True)
class Force:
    """From when until when a restriction holds: half open, moments in UTC with their local days beside them."""

    begins_at: datetime
    begins_on: date
    released_at: datetime | None = None
    released_on: date | None = None

    def holds(self, moment: datetime) -> bool:
        """Whether it is in force at ``moment``: from the notification itself until just before the release."""
        return self.begins_at <= moment and (self.released_at is None or moment < self.released_at)

    def touches(self, start: datetime, end: datetime) -> bool:
        """Whether it is in force at any moment from ``start`` to ``end``."""
        return self.begins_at <= end and (self.released_at is None or start < self.released_at)

    def may_hold(self, on: date) -> bool:
        """Whether it may have been in force when something of that day was done."""
        return self.begins_on <= on and (self.released_on is None or on <= self.released_on)

    def surely_holds(self, on: date) -> bool:
        """Whether it was in force whenever on that day something was done."""
        return self.begins_on < on and (self.released_on is None or on < self.released_on)


@dataclass(frozen=True, slots=True)
class Cover:
    """What it lies on: one site, all within a circle, or a vehicle."""

    site_id: int | None = None
    middle: Spot | None = None
    radius_m: int | None = None
    vehicle_id: int | None = None

    def sites(self, spots: Mapping[int, Spot | None]) -> frozenset[int]:
        """The ids of the sites it covers; a site on the rim is inside, one without a place is not found."""
        if self.site_id is not None:
            return frozenset({self.site_id})
        if self.middle is None or self.radius_m is None:
            return frozenset()
        known = {site_id: spot for site_id, spot in spots.items() if spot is not None}
        return frozenset(site_id for site_id, _ in within(self.middle, self.radius_m, known))


@dataclass(frozen=True, slots=True)
class Licence:
    """A licence as typed: its own reference, who issued it when, and why."""

    reference: str = ""
    issued_by: str = ""
    issued_on: date | None = None
    reason: str = ""

    @property
    def given(self) -> bool:
        """Whether it has a reference; without one it is none."""
        return bool(self.reference.strip())


NO_LICENCE = Licence()
ALL_OUT = Stops()
"""The standstill of a notification: nothing leaves."""


@dataclass(frozen=True, slots=True)
class Notifiable:
    """The notifiable diseases and pests of one country, and who is told."""

    country: str
    law: str
    names: tuple[str, ...]
    tell: str
    source: str


@cache
def first_words() -> str:
    """What to do on a suspicion, before anything is typed."""
    return str(table("rules", "notifiable.toml")["first"]["words"])


@cache
def result_days() -> int:
    """Days after which a sample without a result is asked about."""
    return int(table("rules", "notifiable.toml")["waiting"]["result_days"])


@cache
def notifiable_at(zone: str) -> Notifiable:
    """The list of the country whose time a farm keeps; of one that is not in the file, the general words."""
    rows = table("rules", "notifiable.toml")["country"]
    row = next((row for row in rows if zone in row["zones"]), rows[-1])
    return Notifiable(row["name"], row["law"], tuple(row["notifiable"]), row["tell"], row["source"])
