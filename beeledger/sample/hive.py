"""One colony of the sample: what it does by itself from day to day.

A picture of a colony, made to look like a farm's in every chart; nothing in the program reckons with it. The
course of brood, life spans and flows stand in ``sample_db/year.toml``. Frames, kilograms and mites are plain
floats here; they become whole numbers when the crew writes them down.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from random import Random

from beeledger.rules import mites as mite_rules
from beeledger.rules import stores as store_rules
from beeledger.sample.scenario import Biology, FlowPlan, SitePlan

SUPER_KG = 11.5
FRAME_KG = 2.2
BROOD_FRAMES = 11
NUCLEUS_FRAMES = 6
_SWARMS_AFTER = 11
_OVERRUN = 8.0
"""Mites in a hundred bees."""
_CELL_TO_VIRGIN, _VIRGIN_TO_LAYING = 9, 16


class Reign(StrEnum):
    """How the colony really stands for a queen, whether anybody knows it or not."""

    RIGHT = "right"
    CELLS = "cells"
    VIRGIN = "virgin"
    QUEENLESS = "queenless"
    DRONE_LAYER = "drone_layer"


@dataclass(slots=True)
class Hive:
    """A colony as it is, and beside it the little that the record knows."""

    id: int
    mark: str
    site: SitePlan
    vigour: float
    temper: int
    mite_pace: float
    """How fast mites breed in it, beside the usual."""
    hoard: float
    """Kilograms it keeps beside the brood while supers are on."""
    queen_year: int
    bees: float
    brood: float
    stores: float
    mites: float
    kind: str = "full"
    home: SitePlan | None = None
    """Where it goes back to from a crop."""
    marked: bool = True
    known_year: int | None = None
    """The year of the queen that the record has."""
    reign: Reign = Reign.RIGHT
    since: date = date.min
    cells_since: date | None = None
    """When the bees began swarm cells that nobody has acted on."""
    supers: int = 0
    honey: float = 0.0
    strips_since: date | None = None
    treated: date | None = None
    counted: date | None = None
    dead: str = ""
    """The cause, once it has died."""
    died: date | None = None

    @property
    def frames(self) -> int:
        """Frames of its brood box."""
        return BROOD_FRAMES if self.kind == "full" else NUCLEUS_FRAMES

    @property
    def infested(self) -> float:
        """Mites in a hundred bees."""
        return 100 * 0.4 * self.mites / max(1.0, self.bees * 1900)

    @property
    def fullness(self) -> float:
        """How full its supers are, from 0 to 1."""
        return min(1.0, self.honey / (self.supers * SUPER_KG)) if self.supers else 0.0


@dataclass(slots=True)
class Season:
    """What a day is like for every colony of a site."""

    biology: Biology
    flows: tuple[FlowPlan, ...]
    kindness: dict[int, float]
    """How good each year is for nectar."""

    def brood_aim(self, day: date) -> float:
        """Frames of brood that a good queen keeps on a day, between the middles of the months."""
        place = day.month - 1 + (day.day - 15) / 30
        low = int(place // 1)
        share = place - low
        figures = self.biology.brood_tenths
        return (figures[low % 12] * (1 - share) + figures[(low + 1) % 12] * share) / 10

    def nectar_kg(self, day: date, site: SitePlan) -> float:
        """Kilograms that a strong colony would gather on a good day there."""
        here = (day.month, day.day)
        grams = sum(
            flow.g_per_day * site.flows.get(flow.name, 0)
            for flow in self.flows
            if flow.first <= here <= flow.last
        )
        return grams / 100_000 * self.kindness[day.year]


def live_a_day(hive: Hive, day: date, season: Season, weather: float, dice: Random) -> None:
    """A day passes. ``weather`` from 0 (nothing flies) to 1."""
    if hive.dead:
        return
    _raise_brood(hive, day, season)
    _gather_and_eat(hive, day, season, weather)
    _breed_mites(hive, day)
    _queens(hive, day, weather, dice)
    _perhaps_die(hive, day, dice)


def _raise_brood(hive: Hive, day: date, season: Season) -> None:
    aim = season.brood_aim(day) * hive.vigour if hive.reign is Reign.RIGHT else 0.0
    room = min(hive.frames * 0.86, 0.6 + 0.85 * hive.bees)
    aim = min(aim, room)
    if hive.stores < 1.5:
        aim *= 0.5
    hive.brood += (aim - hive.brood) * 0.085
    life: float = season.biology.life_days[day.month - 1]
    # Mites shorten the lives of the bees they were raised with.
    life *= max(0.45, 1 - max(0.0, hive.infested - 2) * 0.07)
    hive.bees += hive.brood * 1.35 / 21 - hive.bees / life


def _gather_and_eat(hive: Hive, day: date, season: Season, weather: float) -> None:
    month_g = store_rules.figures().use_month_g[day.month - 1]
    need = month_g / 30_400 * (0.3 + 0.6 * min(1.4, hive.bees / 10))
    income = season.nectar_kg(day, hive.site) * weather * max(0.0, hive.bees - 3) / 14 * hive.vigour
    hive.stores += income - need
    if income > need:
        room = max(2.0, (hive.frames - 0.6 * hive.brood - 0.5) * FRAME_KG)
        above = max(0.0, min(income, hive.stores - min(room, hive.hoard if hive.supers else room)))
        # What finds room neither in the supers nor beside the brood is never gathered: the bees idle.
        hive.stores -= above
        hive.honey = min(hive.supers * SUPER_KG, hive.honey + above)
    if hive.stores < 0.5 and hive.honey > 1:
        hive.stores, hive.honey = hive.stores + 1, hive.honey - 1
    hive.stores = max(0.0, hive.stores)


def _breed_mites(hive: Hive, day: date) -> None:
    if hive.brood > 0.6:
        # A colony so full of mites has little healthy brood left to breed them in.
        pace = hive.mite_pace * (0.25 if hive.infested > _OVERRUN else 1)
        hive.mites *= 2 ** (pace / mite_rules.figures().doubling_days)
    if hive.strips_since is not None and (day - hive.strips_since).days < 45:
        hive.mites *= 0.922
    hive.mites = max(1.0, hive.mites)


def _queens(hive: Hive, day: date, weather: float, dice: Random) -> None:
    age = (day - hive.since).days
    if hive.reign is Reign.CELLS and age >= _CELL_TO_VIRGIN:
        hive.reign, hive.since = Reign.VIRGIN, day
    elif hive.reign is Reign.VIRGIN and age >= _VIRGIN_TO_LAYING and weather > 0.35:
        lucky = dice.random()
        if lucky < 0.86:
            hive.reign, hive.queen_year, hive.marked = Reign.RIGHT, day.year, False
        else:
            hive.reign = Reign.QUEENLESS if lucky < 0.96 else Reign.DRONE_LAYER
        hive.since = day
    elif hive.reign is Reign.RIGHT:
        _perhaps_swarm(hive, day, weather, dice)


def _perhaps_swarm(hive: Hive, day: date, weather: float, dice: Random) -> None:
    season = (4, 24) <= (day.month, day.day) <= (7, 8)
    if hive.cells_since is None:
        queen_age = day.year - hive.queen_year
        pull = 0.011 if queen_age >= 2 else 0.006 if queen_age == 1 else 0.0006
        crowded = max(0.0, min(1.5, (hive.bees - 9) / 6)) * (1.3 if hive.fullness > 0.8 else 1.0)
        if season and hive.kind == "full" and dice.random() < pull * crowded:
            hive.cells_since = day
        elif 7 <= day.month <= 9 and queen_age >= 2 and dice.random() < 0.0012:
            hive.queen_year, hive.marked = day.year, False  # quietly superseded
        return
    if (day - hive.cells_since).days >= _SWARMS_AFTER and weather > 0.5:
        hive.bees *= 0.45
        hive.stores = max(0.5, hive.stores - 2)
        hive.reign, hive.since, hive.cells_since = Reign.CELLS, day - timedelta(days=6), None


def _perhaps_die(hive: Hive, day: date, dice: Random) -> None:
    winter = day.month >= 11 or day.month <= 3
    causes = (
        ("starvation", 0.05 if hive.stores < 0.9 else 0.0),
        ("varroa", 0.004 * max(0.0, hive.infested - 5.0) if winter or day.month >= 9 else 0.0),
        ("queen_failure", 0.006 if winter and hive.reign is not Reign.RIGHT else 0.00014 if winter else 0.0),
        ("drone_layer", 0.012 if hive.reign is Reign.DRONE_LAYER and day.month in (3, 4, 5) else 0.0),
        ("dwindled", 0.03 if hive.bees < 1.1 else 0.00025 if winter else 0.00002),
        ("damp", 0.00022 if winter else 0.0),
        ("wasps", 0.004 if day.month in (8, 9) and hive.bees < 4 else 0.0),
        ("animals", 0.00011 if winter else 0.0),
        ("unknown", 0.00016 if winter else 0.00001),
    )
    thrown = dice.random()
    for cause, chance in causes:
        if thrown < chance:
            hive.dead, hive.died = cause, day
            return
        thrown -= chance


def mites_washed_off(hive: Hive, bees: int, dice: Random) -> int:
    """Mites in a wash of so many bees, as chance gives them."""
    share = min(0.3, hive.infested / 100)
    return sum(dice.random() < share for _ in range(bees))
