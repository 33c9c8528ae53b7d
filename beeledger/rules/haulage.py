"""Vans and lifting: what may be loaded, what a hive weighs, when it is dark enough, how far a round is.

Figures and sources stand in ``resources/rules/haulage.toml``. Weights are estimates until a hive is
weighed. The plate of the vehicle, its axle limits, the driver's licence and the law on drivers' hours
stand above what is said here; a weighbridge settles it. Lifting figures are the HSE's filter and no limit.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum
from functools import cache
from itertools import pairwise
from typing import Any
from zoneinfo import ZoneInfo

from astral import LocationInfo
from astral.sun import dusk, sunrise, sunset

from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.resources import table
from beeledger.base.text import counted
from beeledger.base.units import kilograms
from beeledger.rules.sites import GridReference, LatLon, Spot, distance_m, to_lat_lon

_WHOLE = 10_000


@dataclass(frozen=True, slots=True)
class Vehicle:
    """A van or trailer, grams: ``permitted_g`` is its maximum authorised mass, ``kerb_g`` as weighed empty."""

    name: str
    permitted_g: int
    kerb_g: int
    hive_places: int | None = None


@dataclass(frozen=True, slots=True)
class Load:
    """What goes on it, grams."""

    hives: int
    grams_a_hive: int
    crew_g: int = 0
    kit_g: int = 0


@dataclass(frozen=True, slots=True)
class Trips:
    """How many journeys a haul takes and how many hives go on each, as even as can be."""

    hives_a_trip: int
    loads: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Daylight:
    """Local moments at a place on a day; None where the sun does not rise, set or leave twilight."""

    sunrise: datetime | None
    sunset: datetime | None
    dusk: datetime | None


class Height(StrEnum):
    """Where the hands are while lifting."""

    SHOULDER = "shoulder"
    ELBOW = "elbow"
    KNUCKLE = "knuckle"
    SHIN = "shin"
    FLOOR = "floor"


@dataclass(frozen=True, slots=True)
class Round:
    """An estimate of a drive: straight lines × 1.3."""

    metres: int
    minutes: int


def payload_g(vehicle: Vehicle, load: Load) -> int:
    """Grams left for hives once crew and kit are on; below 0 when they alone are too much."""
    return vehicle.permitted_g - vehicle.kerb_g - load.crew_g - load.kit_g


def hives_that_fit(vehicle: Vehicle, load: Load) -> int:
    """The most hives of ``load.grams_a_hive`` by weight and by places. ValueError for weightless hives."""
    if load.grams_a_hive <= 0:
        raise ValueError("a hive weighs something")
    by_weight = max(0, payload_g(vehicle, load) // load.grams_a_hive)
    return by_weight if vehicle.hive_places is None else min(by_weight, vehicle.hive_places)


def overload_hundredths(vehicle: Vehicle, load: Load) -> int:
    """How far over the permitted mass, in hundredths of a per cent of it; 0 when it is not."""
    gross = vehicle.kerb_g + load.crew_g + load.kit_g + load.hives * load.grams_a_hive
    return max(0, (gross - vehicle.permitted_g) * _WHOLE // vehicle.permitted_g)


def check_load(vehicle: Vehicle, load: Load) -> list[Finding]:
    """Refused: heavier than permitted, or more hives than places."""
    findings = []
    over_g = load.hives * load.grams_a_hive - payload_g(vehicle, load)
    where = Where(field="hives", record=vehicle.name)
    if over_g > 0:
        share = overload_hundredths(vehicle, load)
        bands = table("rules", "haulage.toml")["overload"]["band"]
        words = [band["words"] for band in bands if share >= band["over_hundredths"]][-1]
        what = f"{counted(load.hives, 'hive')} are {kilograms(over_g, 0)} kg too heavy ({words})"
        mend = f"Load {hives_that_fit(vehicle, load)} at most and go again"
        findings.append(Finding("haulage.overload", Grade.REFUSED, what, mend, where))
    if vehicle.hive_places is not None and load.hives > vehicle.hive_places:
        what = f"{counted(load.hives, 'hive')} for {counted(vehicle.hive_places, 'place')}"
        findings.append(Finding("haulage.places", Grade.REFUSED, what, "Share them over more trips", where))
    return findings


def trips(hives: int, vehicle: Vehicle, load: Load) -> Trips:
    """How to carry so many hives with one vehicle. ValueError when not even one fits."""
    most = hives_that_fit(vehicle, load)
    if most == 0:
        raise ValueError(f"{vehicle.name} cannot carry a hive of {kilograms(load.grams_a_hive, 0)} kg")
    number = -(-hives // most)
    return Trips(most, tuple(hives // number + (trip < hives % number) for trip in range(number)))


def hive_weight_g(
    brood_boxes: int, supers: int, super_fullness_tenths: int = 0, *, nucleus: bool = False
) -> int:
    """An estimate in grams of a hive as it is carried, strapped. ValueError for negative boxes."""
    if brood_boxes < 0 or supers < 0 or not 0 <= super_fullness_tenths <= 10:
        raise ValueError("boxes are not negative, and a super is between 0 and 10 tenths full")
    own = table("rules", "haulage.toml")["hive_weights"]
    if nucleus:
        return int(own["nucleus_g"] + own["strap_and_mesh_g"])
    full, empty = own["super_full_g"], own["super_empty_g"]
    each = empty + (full - empty) * super_fullness_tenths // 10
    return int(brood_boxes * own["brood_box_g"] + supers * each + own["strap_and_mesh_g"])


@cache
def _lifting() -> Mapping[str, Any]:
    return dict(table("rules", "haulage.toml")["lifting"])


def lifting_filter_g(
    height: Height,
    *,
    woman: bool = False,
    arms_out: bool = False,
    twist_degrees: int = 0,
    lifts_a_minute: int = 0,
) -> int:
    """Grams above which the HSE's filter asks for a full assessment of a lift.

    Up to 30 lifts an hour count as nought a minute. Between the filter's steps the lower figure holds.
    """
    own = _lifting()
    row: list[int] = own[f"{'women' if woman else 'men'}_{'far' if arms_out else 'close'}_g"]
    grams = row[own["heights"].index(height)]
    if twist_degrees > 45:
        grams = grams * own["twist_90_hundredths" if twist_degrees > 90 else "twist_45_hundredths"] // _WHOLE
    if lifts_a_minute > 8:
        grams = grams * own["over_twelve_a_minute_hundredths"] // _WHOLE
    elif lifts_a_minute > 2:
        grams = grams * own["five_to_eight_a_minute_hundredths"] // _WHOLE
    elif lifts_a_minute > 0:
        grams = grams * own["one_to_two_a_minute_hundredths"] // _WHOLE
    return int(grams)


def check_lift(grams: int, height: Height = Height.KNUCKLE, *, woman: bool = False) -> Finding | None:
    """A caution when one person would lift more than the filter, close to the body; None otherwise."""
    least = lifting_filter_g(height, woman=woman)
    if grams <= least:
        return None
    what = f"{kilograms(grams)} kg is more than the {kilograms(least, 0)} kg of the HSE's lifting filter"
    return Finding("haulage.lift", Grade.NOTED, what, "Two people or a lifter")


def daylight(day: date, spot: Spot, zone: str) -> Daylight:
    """Sunrise, sunset and civil dusk (sun 6° down) at a spot, local time, by the astral library."""
    place = _degrees(spot)
    observer = LocationInfo(latitude=place.latitude, longitude=place.longitude).observer
    local = ZoneInfo(zone)

    def moment(which: Any) -> datetime | None:
        try:
            found: datetime = which(observer, date=day, tzinfo=local)
        except ValueError:  # astral's word for "not on this day so far north"
            return None
        return found.replace(microsecond=0)

    return Daylight(moment(sunrise), moment(sunset), moment(dusk))


def _degrees(spot: Spot) -> LatLon:
    return to_lat_lon(spot) if isinstance(spot, GridReference) else spot


def road_m(first: Spot, second: Spot) -> int:
    """Metres by road, guessed from the straight line."""
    detour: int = table("rules", "haulage.toml")["roads"]["detour_hundredths"]
    return distance_m(first, second) * detour // 100


def round_estimate(home: Spot, stops: Sequence[Spot]) -> Round:
    """The drive from home over the stops in this order and back; 0 without stops. Work is not in it."""
    if not stops:
        return Round(0, 0)
    places = [home, *stops, home]
    metres = sum(road_m(first, second) for first, second in pairwise(places))
    an_hour: int = table("rules", "haulage.toml")["roads"]["metres_an_hour"]
    return Round(metres, -(-metres * 60 // an_hour))


def nearest_next(home: Spot, stops: Mapping[str, Spot]) -> list[str]:
    """A plain order for a round: always on to the nearest that is left. Good, and not the best there is."""
    left, here, order = dict(stops), home, []
    while left:
        name = min(left, key=lambda key: (distance_m(here, left[key]), key))
        here = left.pop(name)
        order.append(name)
    return order
