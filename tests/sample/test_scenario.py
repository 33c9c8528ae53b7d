"""The scenario as it is read: its own size, and others in the same manner."""

from __future__ import annotations

from collections import Counter
from datetime import date

import pytest

from beeledger.rules.label_codes import is_gtin
from beeledger.rules.lot_marks import is_prefix
from beeledger.rules.sites import distance_m, read_grid
from beeledger.sample import read_scenario
from beeledger.sample.hive import Season
from beeledger.sample.rounds import calendar


def test_the_farm_has_24_sites_420_colonies_and_three_seasons_to_a_day_in_may() -> None:
    scenario = read_scenario()
    assert (len(scenario.sites), scenario.colonies, scenario.seasons) == (24, 420, 3)
    assert (scenario.first_day, scenario.today) == (date(2024, 3, 16), date(2026, 5, 14))


@pytest.mark.parametrize(("sites", "crops"), [(1, 0), (2, 1), (6, 1), (23, 4), (24, 5), (80, 5)])
def test_as_many_sites_as_were_asked_for_each_with_a_name_and_code_of_its_own(sites: int, crops: int) -> None:
    plans = read_scenario(sites=sites).sites
    assert len(plans) == len({site.name for site in plans}) == len({site.code for site in plans}) == sites
    assert sum(site.kind == "crop" for site in plans) == crops
    assert all(read_grid(site.grid) for site in plans)


def test_crops_and_heather_lie_within_a_night_of_the_yards() -> None:
    scenario = read_scenario()
    home = read_grid(scenario.sites[0].grid)
    far = max(distance_m(home, read_grid(site.grid)) for site in scenario.sites)
    assert 10_000 < far < 30_000


def test_the_lot_prefix_and_the_article_numbers_are_sound() -> None:
    settings = read_scenario().settings
    assert is_prefix(settings["lot_prefix"])
    assert all(is_gtin(number) for _, number in settings["gtins"])


@pytest.mark.parametrize("wanted", [{"colonies": 0}, {"sites": 0}, {"seasons": 0}])
def test_a_farm_of_nothing_is_refused(wanted: dict[str, int]) -> None:
    with pytest.raises(ValueError, match="a colony, a site and a season at least"):
        read_scenario(**wanted)


def test_nobody_drives_on_a_sunday_and_the_last_evening_is_still_to_be_typed() -> None:
    scenario = read_scenario()
    days = calendar(scenario)
    assert not [day for day in days if day.weekday() == 6]
    assert max(days) < scenario.today


def test_nectar_flows_in_june_and_not_in_january() -> None:
    scenario = read_scenario()
    season = Season(scenario.biology, scenario.flows, {2026: 1.0})
    site = scenario.sites[0]
    assert season.nectar_kg(date(2026, 1, 15), site) == 0
    assert season.nectar_kg(date(2026, 6, 25), site) > 0.5


def test_the_queen_lays_most_in_may_and_june() -> None:
    scenario = read_scenario()
    season = Season(scenario.biology, scenario.flows, {2026: 1.0})
    aims = {month: season.brood_aim(date(2026, month, 15)) for month in range(1, 13)}
    assert max(aims, key=lambda month: aims[month]) in (5, 6)
    assert aims[12] < 0.5
    assert 2 < aims[3] < aims[5]


@pytest.mark.parametrize(("colonies", "sites"), [(2000, 80), (4200, 240), (20_000, 800)])
def test_a_large_farm_has_room_for_its_hives_at_sites_that_are_all_on_the_map(
    colonies: int, sites: int
) -> None:
    scenario = read_scenario(colonies=colonies, sites=sites)
    assert len(scenario.sites) == len({site.name for site in scenario.sites}) == sites
    assert len({site.grid for site in scenario.sites}) == sites
    assert all(read_grid(site.grid) for site in scenario.sites)
    assert sum(site.capacity for site in scenario.yards) > 1.1 * colonies
    rooms = {site.code: site.capacity for site in scenario.sites}
    assert all(trip.hives <= rooms[trip.site] for trip in scenario.trips)


def test_a_large_farm_goes_round_more_often_buys_more_medicine_and_sells_more_honey() -> None:
    usual, large = read_scenario(), read_scenario(colonies=2000, sites=80)
    rounds = [
        Counter(site.code for day, sites in calendar(one).items() if day.year == 2025 for site, _ in sites)
        for one in (usual, large)
    ]
    assert rounds[0]["WE"] == 16
    assert rounds[1]["WE"] == 31
    pieces = [sum(row["pieces"] for row in one.medicines) for one in (usual, large)]
    drums = [sum(row["drums"] for row in one.honey["jarring"]) for one in (usual, large)]
    assert pieces[1] / pieces[0] == pytest.approx(2000 / 420, rel=0.01)
    assert drums[1] / drums[0] == pytest.approx(2000 / 420, rel=0.1)
