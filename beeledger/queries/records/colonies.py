"""Colonies as their table and their card show them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from beeledger.queries.records.round_desk import HiveLine, Visit


@dataclass(frozen=True, slots=True)
class ColonyFilter:
    """Which colonies are listed. ``alive``: the living, else those that ended; ``site_id`` of None is everywhere."""

    alive: bool = True
    site_id: int | None = None


@dataclass(frozen=True, slots=True)
class ColonyLine:
    """One colony in the list: where it is, its queen, the last figures. None is not known or not looked at."""

    colony_id: int
    mark: str | None
    number: int | None
    kind: str
    place: str
    """site, vehicle, unaccounted; "ended" for a colony that is no more."""
    site_id: int | None
    site: str
    stand: int | None
    founded_on: date
    ended_on: date | None = None
    end_cause: str | None = None
    queen_year: int | None = None
    queen_marked: bool | None = None
    queen_tag: str | None = None
    queen_state: str | None = None
    queen_state_on: date | None = None
    looked_on: date | None = None
    bees_tenths: int | None = None
    brood_tenths: int | None = None
    stores_g: int | None = None
    """Weighed or estimated at the hive, or reckoned from frames of a size whose weight is known."""
    stores_heft: str | None = None
    stores_on: date | None = None
    mites_hundredths: int | None = None
    mites_on: date | None = None
    supers: int | None = None
    due_code: str | None = None
    due_what: str | None = None
    due_on: date | None = None


@dataclass(frozen=True, slots=True)
class ColonyList:
    """The colonies listed, and the share of mites from which the farm treats."""

    lines: tuple[ColonyLine, ...]
    mite_line_hundredths: int


@dataclass(frozen=True, slots=True)
class MitesCounted:
    """One count of mites."""

    on: date
    method: str
    mites: int
    bees: int | None
    days: int | None


@dataclass(frozen=True, slots=True)
class Stood:
    """A stay: at a site, on a vehicle or unaccounted for."""

    place: str
    site_id: int | None
    name: str
    from_on: date
    until_on: date | None


@dataclass(frozen=True, slots=True)
class QueenThere:
    """A queen at the head of the colony from a day until a day."""

    queen_id: int
    year: int | None
    marked: bool | None
    clipped: bool | None
    tag: str | None
    origin: str | None
    from_on: date
    until_on: date | None
    why_ended: str | None


@dataclass(frozen=True, slots=True)
class Treated:
    """A course of medicine."""

    product: str
    active: str
    in_on: date
    out_on: date | None
    pieces: int | None


@dataclass(frozen=True, slots=True)
class Fed:
    """A feed given."""

    on: date
    kind: str
    volume_ml: int | None
    weight_g: int | None


@dataclass(frozen=True, slots=True)
class PutOffOnce:
    """A reason that a person put off: from which day by the rule to which, when, by whom and why."""

    code: str
    first_on: date
    until_on: date
    on: date
    by_whom: str
    note: str


@dataclass(frozen=True, slots=True)
class SupersFrom:
    """How many supers were on from a day."""

    on: date
    supers: int


@dataclass(frozen=True, slots=True)
class Kin:
    """What passed between this colony and another: a split, a unite, a given frame."""

    kind: str
    on: date
    other_id: int
    other_mark: str | None
    away: bool
    """From this colony to the other; else from the other to this."""


@dataclass(frozen=True, slots=True)
class ColonyCard:
    """All that the card of one colony shows; lists oldest first, visits newest first."""

    line: HiveLine
    place: str
    set_down: str
    mite_line_hundredths: int
    visits: tuple[Visit, ...]
    crews: dict[int, str]
    """The crew's initials by round."""
    mites: tuple[MitesCounted, ...]
    stood: tuple[Stood, ...]
    queens: tuple[QueenThere, ...]
    treated: tuple[Treated, ...]
    fed: tuple[Fed, ...]
    supers: tuple[SupersFrom, ...]
    kin: tuple[Kin, ...]
    marks: tuple[tuple[str, date, date | None], ...]
    """Hive numbers it carried: from, until."""
    put_off: tuple[PutOffOnce, ...] = ()
