"""The sheet a crew takes to a site: one line a hive, last figures pale, room for today's."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from beeledger.queries.records.heading import Note


@dataclass(frozen=True, slots=True)
class LastFigures:
    """The last visit's figures of one hive, as short words; blank where nobody looked."""

    queen: str = ""
    """"q" when seen."""
    eggs: str = ""
    brood: str = ""
    bees: str = ""
    stores: str = ""
    temper: str = ""
    cells: str = ""
    supers: str = ""
    feed: str = ""
    strips: str = ""
    mites: str = ""
    again: str = ""


@dataclass(frozen=True, slots=True)
class SheetLine:
    """One hive in walking order."""

    hive: str
    stand: str = ""
    queen_colour: str = ""
    """"white", "yellow", "red", "green", "blue", or blank for a queen without a mark."""
    queen: str = ""
    """The words beside the disc: "blue '25", "none"."""
    last: LastFigures = LastFigures()
    due: str = ""
    """Why it is to be looked at: "swarm check, strips out"."""
    colony_id: int | None = None


@dataclass(frozen=True, slots=True)
class RoundSheet:
    """One site's sheet."""

    site: str
    lines: tuple[SheetLine, ...]
    code: str = ""
    grid: str = ""
    day: date | None = None
    """The day planned; None leaves a rule to write on."""
    last_visit: date | None = None
    crew: str = ""
    way_in: str = ""
    """Gate, key, contact."""
    due: str = ""
    """The counted words of the site: "9 swarm check · 4 strips out"."""
    minutes: int | None = None
    cautions: tuple[Note, ...] = ()
    marks: tuple[tuple[str, str], ...] = ()
    """Name of a column of ``LastFigures`` and its mark in the quick line, printed in the head."""
    uid: str = ""
    """The sheet's own mark, anywhere unique."""
    site_id: int | None = None
    """With it and the colonies of the lines the sheet gets corner codes and can be read back from a scan."""
