"""Loads, lifts and daylight, against worked loads, the HSE's filter values and published sun times."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta

import pytest

from beeledger.base.findings import Grade
from beeledger.rules import haulage
from beeledger.rules.haulage import Height, Load, Vehicle
from beeledger.rules.sites import LatLon, read_grid

VAN = Vehicle("van", permitted_g=3_500_000, kerb_g=2_280_000)
LOAD = Load(hives=31, grams_a_hive=32_000, crew_g=160_000, kit_g=60_000)
LONDON, EDINBURGH = LatLon(51.5074, -0.1278), LatLon(55.9533, -3.1883)


def test_a_van_of_3500_kg_carries_31_hives_of_32_kg():
    """3,500 − 2,280 − 160 − 60 = 1,000 kg; 1,000 ÷ 32 = 31.25."""
    assert haulage.payload_g(VAN, LOAD) == 1_000_000
    assert haulage.hives_that_fit(VAN, LOAD) == 31
    assert haulage.check_load(VAN, LOAD) == []
    assert haulage.hives_that_fit(replace(VAN, hive_places=24), LOAD) == 24


def test_36_hives_are_152_kg_over_and_refused():
    """1,152 − 1,000 kg = 4.3 % of 3,500: inside the roadside leeway and overloaded all the same."""
    (finding,) = haulage.check_load(VAN, replace(LOAD, hives=36))
    assert finding.grade is Grade.REFUSED
    assert finding.what == "36 hives are 152 kg too heavy (over the limit: penalty of £100)"
    assert finding.mend == "Load 31 at most and go again"
    assert haulage.overload_hundredths(VAN, replace(LOAD, hives=36)) == 434


@pytest.mark.parametrize(
    ("gross_kg", "share", "words"), [(3_900, 1142, "£200"), (4_100, 1714, "£300"), (4_550, 3000, "court")]
)
def test_the_roadside_bands(gross_kg, share, words):
    """3,900 kg gross is 11.4 % over, 4,100 17.1 %, 4,550 30 %: DVSA's bands, restated."""
    load = Load(hives=1, grams_a_hive=gross_kg * 1_000 - VAN.kerb_g)
    assert haulage.overload_hundredths(VAN, load) == share
    assert words in haulage.check_load(VAN, load)[0].what


def test_more_hives_than_places_are_refused():
    codes = [finding.code for finding in haulage.check_load(replace(VAN, hive_places=30), LOAD)]
    assert codes == ["haulage.places"]


def test_100_hives_take_four_even_trips():
    assert haulage.trips(100, VAN, LOAD).loads == (25, 25, 25, 25)
    assert haulage.trips(63, VAN, LOAD).loads == (21, 21, 21)
    assert haulage.trips(32, VAN, LOAD).loads == (16, 16)
    with pytest.raises(ValueError, match="van cannot carry a hive of 1,200 kg"):
        haulage.trips(1, VAN, replace(LOAD, grams_a_hive=1_200_000))


def test_a_hive_with_a_full_super_weighs_over_40_kg():
    """Single National in spring 20–25 kg, with one full super 40–45 kg, from memory."""
    assert haulage.hive_weight_g(1, 0) == 25_000
    assert 40_000 <= haulage.hive_weight_g(1, 1, 10) <= 45_000
    assert haulage.hive_weight_g(1, 1, 5) == 25_000 + 11_800
    assert haulage.hive_weight_g(0, 0, nucleus=True) == 13_000


@pytest.mark.parametrize(
    ("height", "man", "woman", "man_out", "woman_out"),
    [
        (Height.SHOULDER, 10, 7, 5, 3),
        (Height.ELBOW, 20, 13, 10, 7),
        (Height.KNUCKLE, 25, 16, 15, 10),
        (Height.SHIN, 20, 13, 10, 7),
        (Height.FLOOR, 10, 7, 5, 3),
    ],
)
def test_the_lifting_filter_is_the_hse_s(height, man, woman, man_out, woman_out):
    """HSE, *Manual handling at work* (INDG143), the filter diagram."""
    assert haulage.lifting_filter_g(height) == man * 1_000
    assert haulage.lifting_filter_g(height, woman=True) == woman * 1_000
    assert haulage.lifting_filter_g(height, arms_out=True) == man_out * 1_000
    assert haulage.lifting_filter_g(height, woman=True, arms_out=True) == woman_out * 1_000


def test_twisting_and_frequent_lifts_lower_the_filter():
    """INDG143: −10 % over 45°, −20 % over 90°; −30 % at 1 to 2 lifts a minute, −50 % at 5 to 8, −80 % over 12."""
    assert haulage.lifting_filter_g(Height.KNUCKLE, twist_degrees=50) == 22_500
    assert haulage.lifting_filter_g(Height.KNUCKLE, twist_degrees=95) == 20_000
    assert haulage.lifting_filter_g(Height.KNUCKLE, lifts_a_minute=2) == 17_500
    assert haulage.lifting_filter_g(Height.KNUCKLE, lifts_a_minute=6) == 12_500
    assert haulage.lifting_filter_g(Height.KNUCKLE, lifts_a_minute=13) == 5_000


def test_a_full_super_is_within_a_mans_filter_and_over_a_womans():
    """13.6 kg of honey and 5 kg of wood and wax."""
    assert haulage.check_lift(18_600) is None
    assert haulage.check_lift(25_000) is None
    assert haulage.check_lift(25_001) is not None
    finding = haulage.check_lift(18_600, woman=True)
    assert finding.what == "18.6 kg is more than the 16 kg of the HSE's lifting filter"
    assert haulage.check_lift(40_000).mend == "Two people or a lifter"


def near(found: datetime, clock: str, minutes: int = 2) -> bool:
    hour, minute = map(int, clock.split(":"))
    wanted = found.replace(hour=hour, minute=minute, second=0)
    return abs(found - wanted) <= timedelta(minutes=minutes)


@pytest.mark.parametrize(
    ("place", "day", "rise", "sets"),
    [
        # Published for London: 4 and 3 November 2018, 21 June 2011, 22 December 2007.
        (LONDON, date(2018, 11, 4), None, "16:29"),
        (LONDON, date(2018, 11, 3), None, "16:31"),
        (LONDON, date(2011, 6, 21), "04:42", "21:20"),
        (LONDON, date(2007, 12, 22), None, "15:53"),
        # Computed with the NOAA equations, local clock.
        (LONDON, date(2025, 5, 1), "05:32", "20:24"),
        (EDINBURGH, date(2025, 6, 21), "04:26", "22:03"),
        (EDINBURGH, date(2025, 12, 21), "08:42", "15:40"),
    ],
)
def test_the_sun_rises_and_sets_when_it_was_published_to(place, day, rise, sets):
    light = haulage.daylight(day, place, "Europe/London")
    assert near(light.sunset, sets)
    assert rise is None or near(light.sunrise, rise)


@pytest.mark.parametrize(
    ("place", "day", "dusk"),
    [
        (LONDON, date(2025, 3, 20), "18:47"),
        (LONDON, date(2025, 6, 21), "22:09"),
        (EDINBURGH, date(2025, 6, 21), "23:05"),
        (EDINBURGH, date(2025, 12, 21), "16:27"),
    ],
)
def test_civil_dusk(place, day, dusk):
    """The sun 6° below the horizon; computed with the NOAA equations."""
    assert near(haulage.daylight(day, place, "Europe/London").dusk, dusk)


def test_where_the_sun_does_not_set_there_is_no_sunset():
    light = haulage.daylight(date(2026, 6, 21), LatLon(70.0, 25.0), "Europe/Oslo")
    assert (light.sunset, light.dusk) == (None, None)


def test_daylight_takes_a_grid_reference_too():
    assert haulage.daylight(date(2026, 6, 21), read_grid("SO 400 700"), "Europe/London").sunset.hour == 21


def test_a_round_is_reckoned_there_and_back():
    """Straight 5 + 5 km × 1.3 = 13 km; at 45 km/h 17.3 minutes, rounded up."""
    home, stop = read_grid("SO 400 700"), read_grid("SO 430 740")
    estimate = haulage.round_estimate(home, [stop])
    assert (estimate.metres, estimate.minutes) == (13_000, 18)
    assert haulage.round_estimate(home, []).metres == 0


def test_a_plain_order_goes_on_to_the_nearest():
    stops = {"far": read_grid("SO 450 700"), "near": read_grid("SO 410 700"), "mid": read_grid("SO 430 700")}
    assert haulage.nearest_next(read_grid("SO 400 700"), stops) == ["near", "mid", "far"]
