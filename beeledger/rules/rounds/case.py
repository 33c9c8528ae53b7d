"""One line under check, and the small questions that several checks ask of it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from beeledger.rules.rounds.entry import Entry, Outcome, outcome_of
from beeledger.rules.rounds.figures import Figures
from beeledger.rules.rounds.record import HiveRecord
from beeledger.rules.stores import figures as stores_figures
from beeledger.rules.stores import stores_from_frames_g

Words = dict[str, str]
"""What a check that trips puts into its words; ``field`` names the cell when the check has several."""


@dataclass(frozen=True, slots=True)
class Case:
    """An entry, the record of its hive, the day of the visit, and the figures of the farm."""

    entry: Entry
    record: HiveRecord
    today: date
    figures: Figures

    @property
    def outcome(self) -> Outcome | None:
        """The outcome, said or plain from what was done."""
        return outcome_of(self.entry)

    @property
    def supers_after(self) -> int | None:
        """Supers that are on when the crew leaves; None when the record does not know what was on."""
        if self.record.supers_on is None:
            return None
        return self.record.supers_on + (self.entry.supers_on or 0) - (self.entry.supers_off or 0)

    @property
    def brood_cells(self) -> int | None:
        """Cells that the brood frames hold at least; None without a figure or a known frame."""
        frame = self.record.frame_type
        if self.entry.brood_tenths is None or frame not in self.figures.frames:
            return None
        return self.figures.brood_cells(self.entry.brood_tenths, frame)

    def stores_g(self, entry: Entry | None) -> int | None:
        """Stores of ``entry`` in grams, weighed or reckoned from frames; None when not looked at."""
        if entry is None or entry.stores_g is not None:
            return None if entry is None else entry.stores_g
        frame = self.record.frame_type
        if entry.stores_tenths is None or frame is None or frame not in stores_figures().frames_g:
            return None
        return stores_from_frames_g(entry.stores_tenths, frame)
