"""Hives to the crops and the heather and home again, with the contracts, looks at the bloom and strength checks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from beeledger.operations.contracts import (
    Counted,
    NewCheck,
    NewContract,
    add_contract,
    close_contract,
    record_bloom,
    record_strength_check,
)
from beeledger.operations.moves import post_move
from beeledger.operations.parties import NewParty, add_party
from beeledger.queries.contracts import draw_sample
from beeledger.queries.records.move_desk import NewMove, carried
from beeledger.rules.sites import distance_m, read_grid
from beeledger.sample.farm import Farm
from beeledger.sample.hive import BROOD_FRAMES, Hive, Reign
from beeledger.sample.scenario import SitePlan, TripPlan

AGREED = (2, 24)
"""When the contracts of the year are written."""
_LEVELLED = ((3, 14), (3, 17), (3, 19), (10, 20), (10, 22))
"""Evenings on which the emptiest yard is filled up from the fullest."""
_HIVES_A_YARD = 16
_EVENINGS = 6
"""A farm with more loads to take out than that takes several an evening."""
_LOAD_MINUTES, _MINUTES_A_KM = 35, 2
_EVENING, _DAWN, _NEXT_YARD = 20 * 60 + 20, 4 * 60 + 50, 150
_YARDS_A_MORNING = 6
_BLOOM = ((0, 800), (5, 4500), (10, 8500), (16, 5500))
"""Days after the hives come, and the share of the crop in flower in hundredths of a per cent."""
_CHECKED_AFTER, _CLOSED_AFTER = 5, 3


@dataclass(frozen=True, slots=True)
class Trips:
    """The trips of the scenario on a farm, asked day by day."""

    farm: Farm

    def agree(self, day: date) -> None:
        """Write the contracts of the year, on their day or when the record begins."""
        for trip in self.farm.scenario.trips:
            if trip.contract and (trip.site, day.year) not in self.farm.contracts:
                self._agree(trip, day.year)

    def at_dawn(self, day: date) -> None:
        """Bring home what is due home."""
        for trip in self.farm.scenario.trips:
            if (day.month, day.day) == trip.off:
                self._bring_home(trip, day)

    def by_day(self, day: date) -> None:
        """Look at the bloom, count the strength, close what is over."""
        for trip in self.farm.scenario.trips:
            contract = self.farm.contracts.get((trip.site, day.year))
            if contract is None:
                continue
            since = (day - date(day.year, *trip.on)).days
            for after, share in _BLOOM:
                if since == after:
                    self.farm.diary.do(
                        record_bloom, contract, day, share + 100 * self.farm.dice.randint(-3, 3)
                    )
            if since == _CHECKED_AFTER and trip.least_bees_tenths:
                self._count_strength(trip, contract, day)
            if (day - date(day.year, *trip.off)).days == _CLOSED_AFTER:
                self.farm.diary.do(close_contract, contract)

    def at_dusk(self, day: date) -> None:
        """Take hives out: from one yard an evening, so that the last come on the day agreed."""
        if (day.month, day.day) in _LEVELLED:
            self._level(day)
        for trip in self.farm.scenario.trips:
            loads = -(-trip.hives // _HIVES_A_YARD)
            an_evening = -(-loads // _EVENINGS)
            left = (date(day.year, *trip.on) - day).days
            if 1 <= left <= -(-loads // an_evening):
                for load in range(an_evening):
                    chosen = self._chosen(trip, day, left, last=left == 1 and load == an_evening - 1)
                    if chosen is not None:
                        self._take_out(trip, *chosen, day)

    def _agree(self, trip: TripPlan, year: int) -> None:
        if trip.grower not in self.farm.parties:
            party = NewParty(trip.grower, roles=("grower",))
            self.farm.parties[trip.grower] = self.farm.diary.do(add_party, party)
        new = NewContract(
            f"{trip.contract} {year}", self.farm.parties[trip.grower], self.farm.site_ids[trip.site], trip.crop,
            trip.hives, date(year, *trip.on), date(year, *trip.off), trip.price_pence, trip.area_m2,
            trip.least_bees_tenths, trip.least_brood_tenths, trip.weak_share_hundredths, trip.bonus_frame_pence,
        )  # fmt: skip
        self.farm.contracts[trip.site, year] = self.farm.diary.do(add_contract, new)

    def _chosen(
        self, trip: TripPlan, day: date, left: int, *, last: bool
    ) -> tuple[SitePlan, Sequence[Hive]] | None:
        """The yard and hives of one load: some of the strongest of the nearest yards; the last takes the rest."""
        gone = len(self.farm.hives[trip.site])
        wanted = trip.hives - gone if last else min(_HIVES_A_YARD, trip.hives - gone)
        crop = self.farm.site_plans()[trip.site]
        fit = [
            yard
            for yard in self.farm.scenario.yards
            if len(_ready(self.farm, yard, trip)) >= max(1, wanted // 2)
        ]
        if not fit or wanted <= 0:
            return None
        # Each evening another yard; one evening in six a hive less than hoped for turns out fit to go.
        nearest = sorted(fit, key=lambda yard: _km(yard, crop))[:4]
        yard = nearest[(left + day.year) % len(nearest)]
        short = self.farm.dice.random() < 0.17
        return yard, _ready(self.farm, yard, trip)[: wanted - short]

    def _take_out(self, trip: TripPlan, yard: SitePlan, hives: Sequence[Hive], day: date) -> None:
        if not hives:
            return
        crop = self.farm.site_plans()[trip.site]
        self._move(yard, crop, hives, day, _EVENING, self.farm.contracts.get((trip.site, day.year)))
        for hive in hives:
            hive.home, hive.site = yard, crop
        self.farm.hives[yard.code] = [hive for hive in self.farm.hives[yard.code] if hive not in hives]
        self.farm.hives[crop.code].extend(hives)

    def _bring_home(self, trip: TripPlan, day: date) -> None:
        crop = self.farm.site_plans()[trip.site]
        by_home: dict[str, list[Hive]] = {}
        for hive in self.farm.hives[trip.site]:
            home = hive.home or self.farm.scenario.yards[0]
            by_home.setdefault(home.code, []).append(hive)
        for place, (code, hives) in enumerate(by_home.items()):
            minute = (
                _DAWN + place % _YARDS_A_MORNING * _NEXT_YARD
            )  # more than that: another driver begins at dawn
            home = self.farm.site_plans()[code]
            self._move(crop, home, hives, day, minute, self.farm.contracts.get((trip.site, day.year)))
            for hive in hives:
                hive.site, hive.home = home, None
            self.farm.hives[code].extend(hives)
        self.farm.hives[trip.site] = []

    def _level(self, day: date) -> None:
        """Hives of the fullest yard go to the emptiest, where that one is half empty or worse."""
        yards = sorted(
            self.farm.scenario.yards, key=lambda yard: len(self.farm.hives[yard.code]) / yard.capacity
        )
        empty, full = yards[0], yards[-1]
        spare = len(self.farm.hives[full.code]) - len(self.farm.hives[empty.code])
        go = [hive for hive in self.farm.hives[full.code] if hive.kind == "full" and not hive.dead]
        go = go[: min(_HIVES_A_YARD, spare // 2)]
        if len(self.farm.hives[empty.code]) * 2 > empty.capacity or not go:
            return
        self._move(full, empty, go, day, _EVENING, None)
        for hive in go:
            hive.site = empty
        self.farm.hives[full.code] = [hive for hive in self.farm.hives[full.code] if hive not in go]
        self.farm.hives[empty.code].extend(go)

    def _move(
        self,
        start: SitePlan,
        goal: SitePlan,
        hives: Sequence[Hive],
        day: date,
        minute: int,
        contract: int | None,
    ) -> None:
        vehicle = next(
            (number for number, places in reversed(self.farm.vehicles) if places >= len(hives)),
            self.farm.vehicles[0][0],
        )
        minute += self.farm.dice.randint(0, 5) * 5
        move = NewMove(
            self.farm.site_ids[start.code], self.farm.site_ids[goal.code], day, minute,
            minute + _LOAD_MINUTES + _MINUTES_A_KM * _km(start, goal), carried([hive.id for hive in hives]),
            vehicle_id=vehicle, driver=self.farm.dice.choice(self.farm.scenario.crew),
            reason=_reason(start, goal, contract), contract_id=contract,
        )  # fmt: skip
        self.farm.diary.do(post_move, move)

    def _count_strength(self, trip: TripPlan, contract: int, day: date) -> None:
        there = {hive.id: hive for hive in self.farm.hives[trip.site]}
        if not there:
            return
        with self.farm.diary.ledger.read() as session:
            drawn = draw_sample(session, contract, day, self.farm.dice, 2_000)
        lines = tuple(_counted(there[one.colony_id]) for one in drawn if one.colony_id in there)
        if lines:
            by = f"{self.farm.dice.choice(self.farm.scenario.crew)}, with the grower"
            check = NewCheck(contract, day, by, self.farm.scenario.seed, lines, 2_000, "dry, no wind")
            self.farm.diary.do(record_strength_check, check)


def _reason(start: SitePlan, goal: SitePlan, contract: int | None) -> str:
    if goal.kind == "crop":
        return "crop" if contract else "forage"
    return "home" if start.kind == "crop" else "wintering"


def _ready(farm: Farm, yard: SitePlan, trip: TripPlan) -> list[Hive]:
    """The hives of a yard that are fit for a trip, the strongest first."""
    least = (trip.least_bees_tenths or 60) / 10
    fit = [
        hive
        for hive in farm.hives[yard.code]
        if hive.kind == "full" and hive.reign is Reign.RIGHT and not hive.dead and hive.bees >= least
        and hive.temper < 5 and hive.strips_since is None
    ]  # fmt: skip
    return sorted(fit, key=lambda hive: -hive.bees)


def _counted(hive: Hive) -> Counted:
    bees = min(BROOD_FRAMES + 10 * hive.supers, max(0.5, hive.bees))
    return Counted(hive.id, round(bees * 2) * 5, round(hive.brood * 2) * 5, hive.reign is Reign.RIGHT)


def _km(first: SitePlan, second: SitePlan) -> int:
    return max(1, round(distance_m(read_grid(first.grid), read_grid(second.grid)) / 1000))
