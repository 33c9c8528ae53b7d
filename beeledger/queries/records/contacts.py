"""Contacts of a site over a period, as the paper and the desk show them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from beeledger.queries.records.movement_register import RegisterLine


@dataclass(frozen=True, slots=True)
class ContactLine:
    """A site or hive in contact. ``on``: onward the first day of contact, traced back the last it could pass on."""

    kind: str
    number: int
    name: str
    on: date
    steps: int
    way: str
    """The way of fewest steps in words, in time order, each step with its day."""
    call: str = ""
    """Of a site: its landholder with the telephone."""


@dataclass(frozen=True, slots=True)
class NearSite:
    """An own site within the radius."""

    site_id: int
    name: str
    metres: int
    call: str


@dataclass(frozen=True, slots=True)
class StoodLine:
    """A hive that stood at the site in the period; ``until`` None while it stands there."""

    hive: str
    since: date
    until: date | None


@dataclass(frozen=True, slots=True)
class ContactTrace:
    """Everything of one site and period."""

    scope: str
    first: date
    last: date
    back: bool
    radius_m: int
    lines: tuple[ContactLine, ...]
    near: tuple[NearSite, ...]
    stood: tuple[StoodLine, ...]
    log: tuple[RegisterLine, ...]

    def many(self, kind: str) -> int:
        """How many sites or colonies are in contact."""
        return sum(line.kind == kind for line in self.lines)
