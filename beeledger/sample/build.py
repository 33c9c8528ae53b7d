"""The sample farm built: day after day colonies live, crews go round, hives travel, honey comes in."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta
from random import Random

from beeledger.base.clock import FixedClock, local_moment
from beeledger.database.ledger import Ledger
from beeledger.operations.due import rebuild_all
from beeledger.sample.authority import Authority
from beeledger.sample.breeding import Breeder
from beeledger.sample.diary import Diary
from beeledger.sample.farm import Farm
from beeledger.sample.hive import Season, live_a_day
from beeledger.sample.honey_room import HoneyRoom
from beeledger.sample.opening import buy_medicines, open_farm
from beeledger.sample.rounds import Calendar, calendar, visit_site
from beeledger.sample.scenario import Scenario
from beeledger.sample.store_room import StoreRoom
from beeledger.sample.trips import AGREED, Trips

Progress = Callable[[int, int], None]
_MEDICINES_BOUGHT = (7, 1)
_FIRST_SITE_MINUTE, _LAST_SITE_MINUTE, _DRIVE_MINUTES = 8 * 60 + 30, 17 * 60, 25


@dataclass(frozen=True, slots=True)
class Built:
    """What was built: the evening it ends on, and how much of everything."""

    today: date
    sites: int
    colonies: int
    rounds: int
    acts: int


def build_sample(
    ledger: Ledger, scenario: Scenario, seed: int | None = None, progress: Progress | None = None
) -> Built:
    """Let the farm of ``scenario`` live its years in an empty ledger, through the acts.

    The same seed gives the same farm. The ledger's clock is as before when it is done.
    """
    clock = FixedClock(local_moment(scenario.first_day, 0, ledger.clock.zone), ledger.clock.zone)
    before, ledger.clock = ledger.clock, clock
    try:
        dice = Random(scenario.seed if seed is None else seed)  # noqa: S311  # chance, not secrets
        with ledger.in_haste():
            return _live(ledger, clock, scenario, dice, progress)
    finally:
        ledger.clock = before


def _live(
    ledger: Ledger, clock: FixedClock, scenario: Scenario, dice: Random, progress: Progress | None
) -> Built:
    years = range(scenario.first_day.year, scenario.today.year + 1)
    season = Season(scenario.biology, scenario.flows, {year: dice.uniform(0.8, 1.15) for year in years})
    # Dice of its own, from the same seed: its state is read and not used up.
    breeder = Breeder(Random(dice.getstate()[1][0]))  # noqa: S311  # chance, not secrets
    farm = Farm(scenario, Diary(ledger, clock), dice, season, breeder)
    farm.diary.turn_to(scenario.first_day)
    open_farm(farm)
    trips, room, visits = Trips(farm), HoneyRoom(farm), calendar(scenario)
    authority = Authority(farm)
    store = StoreRoom(farm, Random(dice.getstate()[1][1]))  # noqa: S311  # chance, not secrets
    trips.agree(scenario.first_day)
    store.open(scenario.first_day)
    total = (scenario.today - scenario.first_day).days
    weather = 0.6
    for passed in range(1, total + 1):
        day = scenario.first_day + timedelta(days=passed)
        # One day's weather is much like the last.
        weather = min(1.0, max(0.0, 0.55 * weather + 0.45 * dice.uniform(0.05, 1.15)))
        for hive in farm.standing:
            live_a_day(hive, day, season, weather, dice)
        if day < scenario.today:
            _work(farm, trips, day, weather, visits)
            room.work(day)
            authority.work(day)
            store.work(day)
        if progress is not None:
            progress(passed, total)
    farm.diary.turn_to(scenario.today)
    farm.diary.do(rebuild_all)
    return Built(scenario.today, len(scenario.sites), farm.alive, farm.rounds, farm.diary.acts)


def _work(farm: Farm, trips: Trips, day: date, weather: float, visits: Calendar) -> None:
    farm.diary.turn_to(day)
    if (day.month, day.day) == _MEDICINES_BOUGHT:
        buy_medicines(farm)
    if (day.month, day.day) == AGREED:
        trips.agree(day)
    trips.at_dawn(day)
    minute = _FIRST_SITE_MINUTE
    for site, visit in visits.get(day, ()):
        if minute > _LAST_SITE_MINUTE:
            minute = _FIRST_SITE_MINUTE  # more than one crew can do: another one drives beside it
        took = visit_site(farm, site, visit, day, minute, weather)
        minute += took + _DRIVE_MINUTES if took else 0
    farm.breeder.work(farm.diary, farm.home, day)
    trips.by_day(day)
    trips.at_dusk(day)
