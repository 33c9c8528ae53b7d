"""A trip put into the chain of a colony's stays where the record and the sheet may not agree.

Pure, on top of ``rules.placements``: the sheet says from where a hive was taken; where the record has it
elsewhere, the record is corrected first, and what stands after the trip is looked at again.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta

from beeledger.rules.placements import Stay, Trip, stay_at, with_trip, without_trip

_FOUND_BEFORE = timedelta(minutes=1)
"""A hive that was loaded at a site stood there at least a minute; when it came is not known."""


def found_at(chain: Sequence[Stay], site_id: int, at: datetime, on: date) -> list[Stay]:
    """The chain of a colony that was seen at a site at ``at``, where the record had it elsewhere.

    The stay it was said to be in ends there, and it stands at the site until that stay would have ended.
    A chain that agrees already comes back as it is. Raises ValueError with a sentence when the colony was
    nowhere then, or had only just come to where the record has it.
    """
    stay = stay_at(chain, at)
    if stay is None:
        raise ValueError("the colony was not there yet, or no longer, at that moment")
    if stay.site_id == site_id:
        return list(chain)
    if stay.from_at >= at:
        raise ValueError("by the record it came elsewhere at that very moment")
    there = Stay("site", at, on, stay.until_at, stay.until_on, site_id=site_id)
    cut = replace(stay, until_at=at, until_on=on)
    return [part for each in chain for part in ((cut, there) if each is stay else (each,))]


def spliced(chain: Sequence[Stay], trip: Trip, from_site_id: int) -> list[Stay]:
    """The chain with a trip from ``from_site_id`` put in, the record corrected where it had it elsewhere.

    Raises ValueError with a sentence when no correction makes the trip possible.
    """
    left = stay_at(chain, trip.left_at)
    if left is None or left.site_id == from_site_id:
        return with_trip(chain, trip)
    return with_trip(found_at(chain, from_site_id, trip.left_at - _FOUND_BEFORE, trip.left_on), trip)


def without_trips(chain: Sequence[Stay], line_ids: Iterable[int]) -> list[Stay]:
    """The chain as if some lines of moves had never been."""
    kept = list(chain)
    for line_id in line_ids:
        kept = without_trip(kept, line_id)
    return kept


def departures(chain: Sequence[Stay]) -> dict[int, int | None]:
    """For each line of a move in the chain: the last site the colony stood at before it."""
    found: dict[int, int | None] = {}
    site: int | None = None
    for stay in chain:
        if stay.move_line_id is not None and stay.move_line_id not in found:
            found[stay.move_line_id] = site
        site = stay.site_id if stay.site_id is not None else site
    return found


def contradicted(chain: Sequence[Stay], said: Mapping[int, int | None]) -> dict[int, int | None]:
    """Lines that by ``said`` left a site other than the one the chain now has them leave, with that one."""
    return {
        line: site
        for line, site in departures(chain).items()
        if line in said and said[line] is not None and said[line] != site
    }
