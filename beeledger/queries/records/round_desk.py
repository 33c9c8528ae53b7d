"""What the desk knows of a site before it types a round: one line a hive, as the record has it that day."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from beeledger.rules import medicines
from beeledger.rules.rounds.entry import Entry, QueenColour, QueenState
from beeledger.rules.rounds.record import HiveRecord, Treatment


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
    withdrawal_days: int | None


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
    fact: str | None = None
    """The kind of fact it follows from, and its day."""
    fact_on: date | None = None
    first_on: date | None = None
    """The day by the rule, where a person has put it off."""


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
    supers_put_on: date | None = None
    """When supers last went on, by a round."""
    due: tuple[DueKnown, ...] = ()

    def record(self, site_id: int, on: date, *, stood_here: bool | None = None) -> HiveRecord:
        """The same as the checks of a line want it, for a round at ``site_id`` on ``on``."""
        boxes, queen = self.boxes, self.queen
        return HiveRecord(
            mark=self.mark or "",
            colony_id=self.colony_id,
            alive=self.ended_on is None or self.ended_on > on,
            stands_here=self.site_id == site_id if stood_here is None else stood_here,
            site=self.site,
            queen_state=queen.state,
            queen_year=queen.year,
            queen_colour=QueenColour.UNMARKED if queen.marked is False else None,
            brood_boxes=boxes.brood_boxes if boxes else None,
            frames_per_box=boxes.brood_frames if boxes else None,
            frame_type=boxes.brood_frame if boxes else None,
            supers_on=boxes.supers if boxes else None,
            last=self.last.entry if self.last else None,
            last_date=self.last.on if self.last else None,
            treatment=self._treatment(),
            feed_on=self._feed_on(),
        )

    def _treatment(self) -> Treatment | None:
        if not self.treatments:
            return None
        courses = [
            (one, medicines.Treatment(one.active, one.since, one.out_on, one.withdrawal_days))
            for one in self.treatments
        ]
        # What is still in stands before what has only its withdrawal left.
        one, course = max(courses, key=lambda pair: (medicines.treated_until(pair[1]) is None, pair[0].since))
        out = medicines.treated_until(course)
        return Treatment(one.product, one.since, medicines.free_from(course), in_hive=out is None)

    def _feed_on(self) -> bool | None:
        if self.feed is None:
            return None if self.last is None else False
        return self.supers_put_on is None or self.feed.on >= self.supers_put_on


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


@dataclass(frozen=True, slots=True)
class RoundKey:
    """Which posted round is meant, where a number alone could be a site's."""

    round_id: int
