"""A day to plan, read from the ledger: work learnt from posted rounds, roads by the farm's factor, urgency."""

from __future__ import annotations

from datetime import date

import pytest

from beeledger.base.errors import CannotNow
from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.farm import set_farm
from beeledger.operations.sites import NewSite, add_site, change_site
from beeledger.queries.day_plan import day_problem, seconds_a_hive
from beeledger.rules.day_plan import Van, check_plan, urgency_s
from beeledger.rules.day_tours import proposed
from tests.builders.yards import LOOKED, Yard, yard

TODAY = date(2026, 5, 14)
VAN = Van("Blue van", 8 * 3600, 17 * 3600)


@pytest.fixture
def drove(ledger: Ledger) -> Yard:
    perform(ledger, add_site, NewSite("Home", grid="SO 400 600", kind="home"))
    place = yard(ledger, "Long Drove", "3", "7", "12")
    perform(ledger, change_site, place.site, NewSite("Long Drove", grid="SO 430 640"))
    place.post(date(2026, 4, 28), h3=LOOKED, h7=LOOKED, h12=LOOKED)
    return place


def test_the_minutes_of_a_site_are_learnt_from_its_posted_rounds(drove: Yard):
    # The yard's rounds go from 10:00 to 12:00: two hours for three hives.
    with drove.ledger.read() as session:
        assert seconds_a_hive(session, TODAY) == {drove.site: 2400, None: 2400}
        (stop,) = day_problem(session, TODAY, [drove.site], [VAN]).stops
    assert (stop.name, stop.work_s) == ("Long Drove", 7200)
    assert stop.urgency_s == urgency_s(9, 0)  # seven days after 28 April was 5 May, nine days ago


def test_roads_are_the_straight_line_times_the_farms_factor(drove: Yard):
    # 3 km east and 4 km north of home: 5 km in a straight line.
    perform(drove.ledger, set_farm, {"road_factor_hundredths": 140})
    with drove.ledger.read() as session:
        problem = day_problem(session, TODAY, [drove.site], [VAN])
    assert problem.metres == ((0, 7000), (7000, 0))
    assert proposed(problem, steps=20) == ((0,),)
    assert check_plan(problem, ((0,),)) == []


def test_a_site_without_a_spot_is_no_stop_and_without_a_home_nothing_is_planned(ledger: Ledger):
    place = yard(ledger, "Low Dyke", "1")
    place.post(date(2026, 4, 28), h1=LOOKED)
    with ledger.read() as session, pytest.raises(CannotNow, match="no home"):
        day_problem(session, TODAY, [place.site], [VAN])
    perform(ledger, add_site, NewSite("Home", grid="SO 400 600", kind="home"))
    with ledger.read() as session:
        assert day_problem(session, TODAY, [place.site], [VAN]).stops == ()
