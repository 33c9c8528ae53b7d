"""When a restriction holds, where, and what it stops.

Held against the Bee Diseases and Pests Control (England) Order 2006 (SI 2006/342): articles 3 and 4 for the
standstill from the notification on, article 2 for what is notifiable.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest

from beeledger.rules.restrictions import (
    ALL_OUT,
    Cover,
    Force,
    Goes,
    Licence,
    Stops,
    first_words,
    notifiable_at,
)
from beeledger.rules.sites import GridReference, LatLon

BEGAN, ENDED = datetime(2026, 5, 3, 13, 30, tzinfo=UTC), datetime(2026, 6, 15, 9, 0, tzinfo=UTC)
SECOND = timedelta(seconds=1)
OPEN = Force(BEGAN, date(2026, 5, 3))
RELEASED = Force(BEGAN, date(2026, 5, 3), ENDED, date(2026, 6, 15))


def test_it_holds_from_the_moment_of_the_notification() -> None:
    assert not OPEN.holds(BEGAN - SECOND)
    assert OPEN.holds(BEGAN)


def test_it_holds_until_just_before_the_release_and_without_one_for_ever() -> None:
    assert RELEASED.holds(ENDED - SECOND)
    assert not RELEASED.holds(ENDED)
    assert OPEN.holds(ENDED + timedelta(days=3_650))


def test_a_trip_that_was_under_way_when_it_began_is_touched_and_one_that_was_over_is_not() -> None:
    hour = timedelta(hours=1)
    assert OPEN.touches(BEGAN - hour, BEGAN)
    assert not OPEN.touches(BEGAN - hour, BEGAN - SECOND)
    assert RELEASED.touches(ENDED - SECOND, ENDED + hour)
    assert not RELEASED.touches(ENDED, ENDED + hour)


@pytest.mark.parametrize(
    ("day", "may", "surely"),
    [(2, False, False), (3, True, False), (4, True, True)],
)
def test_of_the_day_it_began_nobody_knows_what_came_first(day: int, may: bool, surely: bool) -> None:
    on = date(2026, 5, day)
    assert (OPEN.may_hold(on), OPEN.surely_holds(on)) == (may, surely)


@pytest.mark.parametrize(
    ("day", "may", "surely"),
    [(14, True, True), (15, True, False), (16, False, False)],
)
def test_of_the_day_of_the_release_neither(day: int, may: bool, surely: bool) -> None:
    on = date(2026, 6, day)
    assert (RELEASED.may_hold(on), RELEASED.surely_holds(on)) == (may, surely)


MIDDLE = GridReference(339_200, 275_100)
SPOTS = {
    1: MIDDLE, 2: GridReference(342_200, 275_100), 3: GridReference(342_201, 275_100), 4: None,
    5: GridReference(341_000, 277_500),
}  # fmt: skip


def test_a_circle_of_3_km_takes_in_the_site_on_its_rim_and_not_the_one_a_metre_beyond() -> None:
    # 1,800 m east and 2,400 m north are 3,000 m away, by the triangle of 3, 4 and 5.
    assert Cover(middle=MIDDLE, radius_m=3_000).sites(SPOTS) == {1, 2, 5}


def test_a_circle_outside_great_britain_goes_by_degrees() -> None:
    # A degree of latitude is 111.2 km on the sphere of 6,371 km (2π · 6,371 / 360).
    spots = {1: LatLon(44.0, 5.0), 2: LatLon(44.1, 5.0)}
    assert Cover(middle=LatLon(44.0, 5.0), radius_m=11_100).sites(spots) == {1}
    assert Cover(middle=LatLon(44.0, 5.0), radius_m=11_130).sites(spots) == {1, 2}


def test_a_site_is_covered_though_it_is_on_no_map_and_a_vehicle_covers_none() -> None:
    assert Cover(site_id=4).sites(SPOTS) == {4}
    assert Cover(vehicle_id=1).sites(SPOTS) == frozenset()


def test_the_standstill_of_a_notification_stops_all_that_leaves_and_nothing_that_comes() -> None:
    assert all(ALL_OUT.stops(what) for what in Goes)
    assert not ALL_OUT.inward


@pytest.mark.parametrize(
    ("stops", "stopped"),
    [
        (Stops(True, False, False, False, False), {Goes.HIVES, Goes.BEES, Goes.COMB}),
        (Stops(False, True, False, False, False), {Goes.HIVES, Goes.SUPERS, Goes.COMB}),
        (Stops(False, False, True, False, False), {Goes.SUPERS, Goes.HONEY}),
        (Stops(False, False, False, True, False), {Goes.HIVES, Goes.SUPERS}),
        (Stops(False, False, False, False, True), set()),
    ],
    ids=["bees", "comb", "honey", "boxes", "tools"],
)
def test_what_is_made_of_a_stopped_thing_is_stopped_too(stops: Stops, stopped: set[Goes]) -> None:
    assert {what for what in Goes if stops.stops(what)} == stopped


def test_a_licence_without_a_reference_is_none() -> None:
    assert not Licence(" ", "the inspector", date(2026, 5, 4), "heather").given
    assert Licence("L 12/26").given


def test_the_four_of_the_english_order_are_named_and_the_inspector_is_told_first() -> None:
    england = notifiable_at("Europe/London")
    assert england.names == (
        "American foul brood",
        "European foul brood",
        "small hive beetle",
        "Tropilaelaps mites",
    )
    assert "SI 2006/342" in england.law
    assert notifiable_at("Europe/Vienna").country == "elsewhere"
    assert "tell the bee inspector first" in first_words()
    assert "law" in first_words()
