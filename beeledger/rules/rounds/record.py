"""What the record says of a hive before tonight's line: that which an entry is checked against."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from beeledger.rules.queens import marking_colour
from beeledger.rules.rounds.entry import Entry, QueenColour, QueenState


@dataclass(frozen=True, slots=True)
class Treatment:
    """A medicine that is in the hive, or whose withdrawal period still runs."""

    medicine: str
    since: date
    ends: date | None = None
    """The first day on which honey may be taken again; None while it is not known."""
    in_hive: bool = True
    """Whether strips or trays are still in."""


@dataclass(frozen=True, slots=True)
class HiveRecord:
    """One hive by the record. None is not known, and what is not known is not checked."""

    mark: str
    colony_id: int | None = None
    """None when no colony carries the mark."""
    alive: bool = True
    stands_here: bool = True
    site: str = ""
    """Where it stands by the record."""
    queen_state: QueenState | None = None
    queen_year: int | None = None
    queen_colour: QueenColour | None = None
    """The mark she carries; when None it follows from her year."""
    brood_boxes: int | None = None
    frames_per_box: int | None = None
    frame_type: str | None = None
    """A code of ``stores.toml`` and of ``Figures.frames``, as national_brood."""
    supers_on: int | None = None
    last: Entry | None = None
    last_date: date | None = None
    treatment: Treatment | None = None
    feed_on: bool | None = None
    """Whether feed was given since supers last went on, or is still on."""

    @property
    def frames(self) -> int | None:
        """Brood frames that the hive holds; None when its boxes are not known."""
        if self.brood_boxes is None or self.frames_per_box is None:
            return None
        return self.brood_boxes * self.frames_per_box

    @property
    def colour(self) -> QueenColour | None:
        """The colour that the queen should carry; None when nothing is known of it."""
        if self.queen_colour is not None:
            return self.queen_colour
        return None if self.queen_year is None else QueenColour(marking_colour(self.queen_year))
