"""Queens and brood: marking colours, days of development, the rearing calendar.

Figures and sources stand in ``resources/rules/queens.toml``. Descent and relationship have rooms of
their own. The calendar is biology under fair conditions: warmth and the age of the larva move it by
a day or two, so dates are expectations and never facts.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from functools import cache

from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.resources import table
from beeledger.base.text import folded


class Colour(StrEnum):
    """The five marking colours, in the order of the code."""

    WHITE = "white"
    YELLOW = "yellow"
    RED = "red"
    GREEN = "green"
    BLUE = "blue"

    @property
    def letter(self) -> str:
        """The one letter on a sheet: w, y, r, g, b."""
        return self.value[0]


class Caste(StrEnum):
    """The three kinds of bee."""

    QUEEN = "queen"
    WORKER = "worker"
    DRONE = "drone"


@dataclass(frozen=True, slots=True)
class Development:
    """Days from laying (day 0)."""

    hatches: int
    sealed: int
    emerges: int
    emerges_earliest: int


@dataclass(frozen=True, slots=True)
class QueenFigures:
    """The figures of the room, in days."""

    development: dict[Caste, Development]
    drone_mature_earliest: int
    drone_mature: int
    mating_from: int
    mating_until: int
    laying: int
    drone_layer: int
    every_days: int
    every_days_clipped: int
    graft_day_from_laying: int


@dataclass(frozen=True, slots=True)
class Job:
    """One line of the rearing calendar; ``work`` is False for what happens by itself."""

    code: str
    day: int
    on: date
    what: str
    work: bool


@dataclass(frozen=True, slots=True)
class Virgin:
    """What may be expected of a virgin queen, and from when she is likely a drone layer."""

    mating_from: date
    mating_until: date
    laying_about: date
    drone_layer_from: date


@cache
def figures() -> QueenFigures:
    """The figures of ``queens.toml``, read once."""
    toml = table("rules", "queens.toml")
    development = {caste: Development(**toml["development"][caste]) for caste in Caste}
    drones, virgin, inspection = toml["drones"], toml["virgin"], toml["inspection"]
    return QueenFigures(
        development=development,
        drone_mature_earliest=drones["mature_earliest"],
        drone_mature=drones["mature"],
        mating_from=virgin["mating_from"],
        mating_until=virgin["mating_until"],
        laying=virgin["laying"],
        drone_layer=virgin["drone_layer"],
        every_days=inspection["every_days"],
        every_days_clipped=inspection["every_days_clipped"],
        graft_day_from_laying=toml["graft"]["day_from_laying"],
    )


def marking_colour(hatch_year: int) -> Colour:
    """The colour of a queen hatched in ``hatch_year`` (four figures), by the international code."""
    order: list[str] = table("rules", "queens.toml")["colours"]["order"]
    return Colour(order[(hatch_year - 1) % len(order)])


def read_colour(text: str) -> Colour:
    """A colour from its word or its first letter, in any case. ValueError with a sentence otherwise."""
    plain = folded(text)
    for colour in Colour:
        if plain in (colour.value, colour.letter):
            return colour
    raise ValueError(f"{text!r} is no marking colour: white, yellow, red, green or blue (w y r g b)")


def year_of(colour: Colour, today: date) -> int:
    """The latest year not after ``today`` whose queens carry ``colour``. A guess: ask when it is typed."""
    return next(year for year in range(today.year, today.year - 5, -1) if marking_colour(year) is colour)


def check_colour(seen: Colour, hatch_year: int | None, where: Where | None = None) -> Finding | None:
    """Doubtful when the colour seen is not that of the recorded year; None when it fits or none is known.

    Odd and never wrong by itself: some queens are bought with the colour of the neighbouring year, and
    some farms mark all queens white.
    """
    if hatch_year is None or (due := marking_colour(hatch_year)) is seen:
        return None
    what = f"{seen} seen, but a queen of {hatch_year} is marked {due}"
    mend = "Look whether this is another queen, or correct her year"
    return Finding("queen.colour", Grade.DOUBTFUL, what, mend, where or Where(field="queen colour"))


def emerges_on(caste: Caste, laid: date) -> date:
    """When a bee laid on ``laid`` emerges."""
    return laid + timedelta(days=figures().development[caste].emerges)


def sealed_on(caste: Caste, laid: date) -> date:
    """When the cell of an egg laid on ``laid`` is sealed."""
    return laid + timedelta(days=figures().development[caste].sealed)


def broodless_from(last_egg: date, *, with_drones: bool = False) -> date:
    """The first day on which no brood can be left when the last egg was laid on ``last_egg``."""
    return emerges_on(Caste.DRONE if with_drones else Caste.WORKER, last_egg)


def drones_mature(laid: date) -> date:
    """When drones from eggs laid on ``laid`` can be counted on for mating."""
    return laid + timedelta(days=figures().drone_mature)


def drone_eggs_by(mating: date) -> date:
    """The last day for laying drones that are to be mature on ``mating``."""
    return mating - timedelta(days=figures().drone_mature)


def virgin(emerged: date) -> Virgin:
    """What to expect of a virgin queen that emerged on ``emerged``."""
    own = figures()
    days = (own.mating_from, own.mating_until, own.laying, own.drone_layer)
    return Virgin(*(emerged + timedelta(days=number) for number in days))


def cell_emerges(seen: date, *, sealed: bool) -> tuple[date, date]:
    """The earliest and latest day on which a queen may emerge from a cell seen on ``seen``.

    Sealed cells were sealed that day at the latest and may be ripe at once; open cells hold
    anything from an egg just laid to a larva about to be sealed.
    """
    queen = figures().development[Caste.QUEEN]
    if sealed:
        return seen, seen + timedelta(days=queen.emerges - queen.sealed)
    earliest = seen + timedelta(days=queen.emerges_earliest - queen.sealed)
    return earliest, seen + timedelta(days=queen.emerges)


def swarm_check_days(*, clipped: bool) -> int:
    """Days between swarm checks: longer with a clipped queen, whose swarm cannot leave with her."""
    own = figures()
    return own.every_days_clipped if clipped else own.every_days


def graft_calendar(grafted: date) -> list[Job]:
    """The dated jobs of a graft made on ``grafted``, in order of day.

    Reckoned for larvae of 12 to 24 hours; with older larvae virgins emerge up to a day and a half
    early, so the ripe cells are never left later than the tenth day.
    """
    jobs = table("rules", "queens.toml")["graft"]["job"]
    return [
        Job(job["code"], job["day"], grafted + timedelta(days=job["day"]), job["what"], job["work"])
        for job in jobs
    ]
