"""The places in the order of the list on the left, and where each is found.

A place is imported when it is first opened, so that the window starts quickly.
"""

from __future__ import annotations

from dataclasses import dataclass
from importlib import import_module

from beeledger.ui.desk.desk import Desk
from beeledger.ui.desk.place import Place


@dataclass(frozen=True, slots=True)
class PlaceEntry:
    """One entry of the list on the left."""

    key: str
    title: str
    group: int

    def build(self, desk: Desk) -> Place:
        """Make the place; its module is ``beeledger.ui.places.<key>.place``, its class ``Here``."""
        module = import_module(f"beeledger.ui.places.{self.key}.place")
        made: Place = module.Here(desk)
        return made


PLACES = (
    PlaceEntry("today", "Today", 0),
    PlaceEntry("rounds", "Rounds", 0),
    PlaceEntry("sites", "Sites", 1),
    PlaceEntry("colonies", "Colonies", 1),
    PlaceEntry("queens", "Queens", 1),
    PlaceEntry("harvest", "Harvest", 2),
    PlaceEntry("batches", "Batches", 2),
    PlaceEntry("dispatch", "Dispatch", 2),
    PlaceEntry("pollination", "Pollination", 3),
    PlaceEntry("moves", "Moves", 3),
    PlaceEntry("stock", "Stock", 4),
    PlaceEntry("medicines", "Medicines", 4),
    PlaceEntry("reports", "Reports", 5),
    PlaceEntry("history", "History", 5),
    PlaceEntry("settings", "Settings", 5),
)
"""Places that are built. One line more here is all that a new place needs of the frame."""


def entry_of(key: str) -> PlaceEntry:
    """The entry of a place by its key; KeyError when there is none."""
    return next(entry for entry in PLACES if entry.key == key)
