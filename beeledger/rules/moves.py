"""Moving hives: what to say before a move is written, and how many days hives stood on a crop.

Figures and sources stand in ``resources/rules/moves.toml``. Nothing here forbids what a crew has really
done: only what cannot be (moved before it was founded, unloaded before it was loaded) is refused; what
contradicts the record is asked about. Restrictions by law are the contacts' room and come first.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cache
from zoneinfo import ZoneInfo

from beeledger.base import dates
from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.resources import table
from beeledger.base.text import counted
from beeledger.base.units import kilometres
from beeledger.rules import haulage
from beeledger.rules.sites import Spot, distance_m


@dataclass(frozen=True, slots=True)
class MoveFigures:
    """Metres, days and hours."""

    near_m: int
    far_m: int
    forgets_days: int
    longest_hours: int


@dataclass(frozen=True, slots=True)
class Left:
    """A place a hive has left: which, where, and on which local day."""

    site: str
    spot: Spot | None
    on: date


@dataclass(frozen=True, slots=True)
class MovedHive:
    """What the record says of a hive on the day of the move. ``site`` is None when it is unaccounted for."""

    mark: str
    site: str | None
    founded: date | None = None
    ended: date | None = None
    left: Sequence[Left] = ()


@dataclass(frozen=True, slots=True)
class PlannedMove:
    """A move as typed. Moments are UTC and may be unknown; ``room`` is how many more the new site takes.

    ``exempt`` says that distance does not matter: in a cluster for two weeks, or a swarm just taken.
    """

    day: date
    from_site: str
    to_site: str
    from_spot: Spot | None = None
    to_spot: Spot | None = None
    loaded: datetime | None = None
    unloaded: datetime | None = None
    zone: str = "Europe/London"
    room: int | None = None
    exempt: bool = False


@dataclass(frozen=True, slots=True)
class Stay:
    """One hive on a crop: on from a local day, off on another; ``off`` is None while it still stands there."""

    mark: str
    on: date
    off: date | None = None


@cache
def figures() -> MoveFigures:
    """The figures of ``moves.toml``, read once."""
    toml = table("rules", "moves.toml")
    distance = toml["distance"]
    return MoveFigures(
        distance["near_m"], distance["far_m"], distance["forgets_days"], toml["transit"]["longest_hours"]
    )


def is_between(metres: int) -> bool:
    """Whether a distance is more than 3 feet and less than 3 miles, so that flying bees go back."""
    return figures().near_m < metres < figures().far_m


def check_move(move: PlannedMove, hives: Sequence[MovedHive]) -> list[Finding]:
    """Everything to be said about a move before it is written; whole-move findings first, then by hive."""
    findings = [*_times(move), *_distance(move), *_daylight(move), *_room(move, len(hives))]
    twice = [mark for mark, number in Counter(hive.mark for hive in hives).items() if number > 1]
    for mark in twice:
        where = Where(field="hives", record=mark)
        findings.append(
            Finding("move.twice", Grade.REFUSED, f"{mark} is in the list twice", "Strike one out", where)
        )
    for hive in hives:
        findings += [*_standing(move, hive), *_coming_back(move, hive)]
    return findings


def days_on(stay: Stay, first: date, until: date) -> int:
    """Whole local days a hive stood there from ``first`` up to, not including, ``until``.

    The day it came counts and the day it left does not: as many days as nights. Came and left on one
    day is nought. ``until`` closes a stay that is still open.
    """
    begin = max(stay.on, first)
    end = until if stay.off is None else min(stay.off, until)
    return max(0, (end - begin).days)


def hive_days(stays: Iterable[Stay], first: date, until: date) -> int:
    """The days of all stays together, by the rule of ``days_on``."""
    return sum(days_on(stay, first, until) for stay in stays)


def standing_on(stays: Iterable[Stay], day: date) -> int:
    """How many hives stood there at the end of ``day``."""
    return sum(stay.on <= day and (stay.off is None or day < stay.off) for stay in stays)


def _times(move: PlannedMove) -> Iterator[Finding]:
    if move.from_site == move.to_site:
        what = f"The move begins and ends at {move.to_site}"
        yield Finding("move.nowhere", Grade.REFUSED, what, "Choose another site", Where(field="to"))
    if move.loaded is None or move.unloaded is None:
        return
    where = Where(field="unloaded")
    if move.unloaded < move.loaded:
        yield Finding(
            "move.backward", Grade.REFUSED, "Unloaded before loaded", "Look at the two times", where
        )
    elif move.unloaded - move.loaded > timedelta(hours=figures().longest_hours):
        hours = round((move.unloaded - move.loaded).total_seconds() / 3600)
        what = f"The hives were {hours} hours on the way: confined bees overheat"
        yield Finding(
            "move.long", Grade.DOUBTFUL, what, "Look at the two times, or ventilate and water", where
        )


def _distance(move: PlannedMove) -> Iterator[Finding]:
    if move.exempt or move.from_spot is None or move.to_spot is None:
        return
    metres = distance_m(move.from_spot, move.to_spot)
    if not is_between(metres):
        return
    what = (
        f"{move.to_site} is {_far(metres)} from {move.from_site} in a straight line, between 3 feet and 3 miles: "
        "flying bees go back to the old place"
    )
    mend = "Take them over 3 miles away for 3 to 4 weeks first, or wait for the winter cluster"
    yield Finding("move.distance", Grade.DOUBTFUL, what, mend, Where(field="to"))


def _daylight(move: PlannedMove) -> Iterator[Finding]:
    if move.exempt or move.loaded is None or move.from_spot is None:
        return
    local = move.loaded.astimezone(ZoneInfo(move.zone))
    light = haulage.daylight(local.date(), move.from_spot, move.zone)
    if light.sunrise is None or light.sunset is None or not light.sunrise <= local < light.sunset:
        return
    what = (
        f"Loaded at {local:%H:%M} in daylight (sunrise {light.sunrise:%H:%M}, sunset {light.sunset:%H:%M}): "
        "bees that are out are left behind"
    )
    yield Finding(
        "move.daylight", Grade.NOTED, what, "Close up after flying has stopped", Where(field="loaded")
    )


def _room(move: PlannedMove, hives: int) -> Iterator[Finding]:
    if move.room is not None and hives > move.room:
        what = f"{move.to_site} has room for {counted(max(0, move.room), 'hive')}, and {hives} come"
        yield Finding(
            "move.room", Grade.DOUBTFUL, what, "Leave some behind, or raise its capacity", Where(field="to")
        )


def _standing(move: PlannedMove, hive: MovedHive) -> Iterator[Finding]:
    where = Where(field="hives", record=hive.mark)
    if hive.founded is not None and move.day < hive.founded:
        what = f"{hive.mark} did not exist before {dates.long(hive.founded)}"
        yield Finding("move.unborn", Grade.REFUSED, what, "Look at the date or the number", where)
    elif hive.ended is not None and hive.ended <= move.day:
        what = f"{hive.mark} is recorded as ended on {dates.long(hive.ended)}"
        yield Finding("move.ended", Grade.AGAINST, what, "Look at the number, or correct its end", where)
    elif hive.site != move.from_site:
        place = "unaccounted for" if hive.site is None else f"at {hive.site}"
        what = f"The record has {hive.mark} {place} on {dates.short(move.day)}, not at {move.from_site}"
        yield Finding(
            "move.elsewhere", Grade.AGAINST, what, "Look at the number, or correct where it stood", where
        )


def _coming_back(move: PlannedMove, hive: MovedHive) -> Iterator[Finding]:
    """Bees remember a place for weeks: set down near it, but not on it, they fly there."""
    if move.exempt or move.to_spot is None:
        return
    for left in hive.left:
        gone = (move.day - left.on).days
        if left.spot is None or left.site in (move.to_site, move.from_site) or gone >= figures().forgets_days:
            continue
        if is_between(metres := distance_m(left.spot, move.to_spot)):
            what = (
                f"{hive.mark} left {left.site} {counted(gone, 'day')} ago, {_far(metres)} from {move.to_site}: "
                "its bees may fly back there"
            )
            mend = f"Wait until {dates.short(left.on + timedelta(days=figures().forgets_days))}"
            yield Finding("move.back", Grade.DOUBTFUL, what, mend, Where(field="hives", record=hive.mark))


def _far(metres: int) -> str:
    return f"{metres} m" if metres < 1_000 else f"{kilometres(metres)} km"
