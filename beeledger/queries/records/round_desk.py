"""What the desk knows of a site before it types a round: one line a hive, as the record has it that day."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from beeledger.rules.rounds.entry import Entry, QueenState


@dataclass(frozen=True, slots=True)
class QueenKnown:
    """The queen on record; every field None where nothing is known."""

    year: int | None = None
    colour: str | None = None
    """The marking colour by her year; None when her year is not known or she is not marked."""
    marked: bool | None = None
    clipped: bool | None = None
    tag: str | None = None
    state: QueenState | None = None
    """As the last look that said so found it."""
    state_on: date | None = None


@dataclass(frozen=True, slots=True)
class BoxesKnown:
    """The boxes of a hive."""

    hive_type: str
    brood_boxes: int
    brood_frames: int
    brood_frame: str
    supers: int
    super_frames: int
    excluder: bool


@dataclass(frozen=True, slots=True)
class TreatmentOn:
    """A course in a hive that day, or within its withdrawal."""

    treatment_id: int
    product: str
    active: str
    since: date
    out_on: date | None
    out_due: date | None
    pieces: int | None
    withdrawal_days: int


@dataclass(frozen=True, slots=True)
class FeedOn:
    """The last feed given."""

    on: date
    kind: str
    volume_ml: int | None
    weight_g: int | None


@dataclass(frozen=True, slots=True)
class DueKnown:
    """A dated reason to go to a hive."""

    colony_id: int
    code: str
    what: str
    why: str
    due_on: date
    minutes: int


@dataclass(frozen=True, slots=True)
class Visit:
    """A posted entry with the round it belongs to."""

    entry_id: int
    round_id: int
    colony_id: int
    on: date
    entry: Entry
    reason: str | None = None


@dataclass(frozen=True, slots=True)
class HiveLine:
    """One colony that stood at the site that day, as the record has it."""

    colony_id: int
    mark: str | None
    stand: int | None
    kind: str
    founded_on: date
    ended_on: date | None
    end_cause: str | None
    site_id: int | None
    site: str
    here_from: date
    left_on: date | None
    """The day it left the site again; None when it still stood there."""
    queen: QueenKnown = QueenKnown()
    boxes: BoxesKnown | None = None
    last: Visit | None = None
    """The last visit up to that day, whatever came of it."""
    looked: Visit | None = None
    """The last visit at which it was opened."""
    treatments: tuple[TreatmentOn, ...] = ()
    feed: FeedOn | None = None
    due: tuple[DueKnown, ...] = ()


@dataclass(frozen=True, slots=True)
class RoundSheet:
    """A site on a day: the lines of a round in walking order."""

    site_id: int
    site: str
    code: str
    on: date
    lines: tuple[HiveLine, ...]
    last_round_on: date | None = None
    way_in: str = ""


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """Where the hive with a mark is by the record."""

    mark: str
    colony_id: int
    place: str
    """site, vehicle or unaccounted; "ended" for a colony that is no more."""
    site_id: int | None
    site: str
    since: date | None
    ended_on: date | None = None
    end_cause: str | None = None


@dataclass(frozen=True, slots=True)
class PostedRound:
    """A round in a list."""

    round_id: int
    uid: str
    site_id: int
    site: str
    on: date
    hives: int
    crew: str
    source: str
