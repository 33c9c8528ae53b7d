"""The medicine register: what was given, bought and disposed of in a period, as the medicines law asks."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class GivenEntry:
    """A medicine given to the hives of a site on a day. ``missing`` says in words what is not written down."""

    in_on: date
    out_on: date | None
    product: str
    batch: str
    site: str
    hives: tuple[str, ...]
    pieces: int | None
    """Together, so far as known."""
    unmeasured: int
    """Hives whose quantity is not known."""
    withdrawal_days: int | None
    who: str
    last_day: date | None
    """The last day the medicine was in; None while it is."""
    keep_until: date | None
    missing: str = ""


@dataclass(frozen=True, slots=True)
class BoughtEntry:
    """A pack as bought, and what became of it."""

    on: date | None
    product: str
    active: str
    batch: str
    expires_on: date | None
    pieces: int | None
    supplier: str
    address: tuple[str, ...]
    proof: str
    used: int
    disposed: int
    left: int | None
    missing: str = ""


@dataclass(frozen=True, slots=True)
class DisposedEntry:
    """What was got rid of otherwise than by treatment."""

    on: date
    product: str
    batch: str
    pieces: int | None
    how: str
    missing: str = ""


@dataclass(frozen=True, slots=True)
class MedicineRegister:
    """The register of a period; ``scope`` says of what ("all sites", "Perry Tree")."""

    scope: str
    first: date
    last: date
    given: tuple[GivenEntry, ...]
    bought: tuple[BoughtEntry, ...]
    disposed: tuple[DisposedEntry, ...]

    @property
    def hives(self) -> int:
        """Hives treated, each time counted."""
        return sum(len(entry.hives) for entry in self.given)

    @property
    def lacking(self) -> int:
        """Entries in which something is missing."""
        missing = [entry.missing for entry in self.given]
        missing += [entry.missing for entry in self.bought]
        missing += [entry.missing for entry in self.disposed]
        return sum(map(bool, missing))
