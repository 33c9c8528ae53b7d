"""Where sites are: National Grid references, latitude and longitude, straight-line distances.

A grid reference names the south-west corner of a square; the fewer figures, the larger the square.
Sites outside Great Britain are kept by latitude and longitude only. Not here: roads (haulage) and
who stands where (placements).

Sources: Ordnance Survey, *A guide to coordinate systems in Great Britain* (projection and datum
constants, annexes A to C, and the lettering of the 100 km squares). The seven-parameter change of
datum is good to about 5 m, which is enough to find a field and to say "within 3 km".
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from math import asin, atan2, cos, degrees, hypot, pi, radians, sin, sqrt, tan
from typing import TypeVar

from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.resources import table

Key = TypeVar("Key")

EAST_END_M, NORTH_END_M = 700_000, 1_300_000
"""The lettered squares of Great Britain end here."""
_SQUARE_M = 100_000
_LETTERS = "ABCDEFGHJKLMNOPQRSTUVWXYZ"
# The squares that hold some land of Great Britain (from memory, after the figure in the guide).
_LAND_BY_FIRST_LETTER = {
    "H": "PTUWXYZ",
    "N": "ABCDFGHJKLMNORSTUWXYZ",
    "O": "V",
    "S": "CDEHJKMNOPRSTUVWXYZ",
    "T": "AFGLMQRV",
}
_LAND = frozenset(first + second for first, seconds in _LAND_BY_FIRST_LETTER.items() for second in seconds)
# "O" typed for nought and "I" or "l" for one are the usual slips.
_SLIPS = str.maketrans("OIL", "011")
_SHAPE = re.compile(r"([A-Z])[^0-9A-Z]*([A-Z])[^0-9A-Z]*(\d[^A-Z]*)")
_NUMBERS = re.compile(r"(\d{5,6}(?:\.\d+)?)\s*[,; ]\s*(\d{5,7}(?:\.\d+)?)")


@dataclass(frozen=True, slots=True)
class GridReference:
    """The south-west corner of a square, metres east and north of the grid's false origin.

    ``figures`` is how many figures were given (2 to 10): 6 figures name a square of 100 m.
    """

    easting_m: int
    northing_m: int
    figures: int = 10

    @property
    def square_m(self) -> int:
        """The side in metres of the square that is named."""
        return int(10 ** (5 - self.figures // 2))

    def compact(self) -> str:
        """Two letters and ten figures, "SO3920075100", however few were given."""
        return self.spaced().replace(" ", "")

    def spaced(self) -> str:
        """The normal form on screen and paper, "SO 39200 75100"."""
        return self._written(5)

    def as_given(self) -> str:
        """Only the figures that were given: "SO 392 751"."""
        return self._written(self.figures // 2)

    def _written(self, half: int) -> str:
        east, north = (f"{value % _SQUARE_M:05d}"[:half] for value in (self.easting_m, self.northing_m))
        return f"{_letters(self.easting_m, self.northing_m)} {east} {north}"


@dataclass(frozen=True, slots=True)
class LatLon:
    """Degrees north and east on WGS84, as a telephone shows them."""

    latitude: float
    longitude: float

    def millionths(self) -> tuple[int, int]:
        """Whole millionths of a degree (about 0.1 m), as a table keeps them."""
        return round(self.latitude * 1_000_000), round(self.longitude * 1_000_000)


Spot = GridReference | LatLon


def spot_at(
    easting_m: int | None, northing_m: int | None, latitude_e6: int | None, longitude_e6: int | None
) -> Spot | None:
    """A site's spot from metres of the grid, or failing them from millionths of a degree; None on no map."""
    if easting_m is not None and northing_m is not None:
        return GridReference(easting_m, northing_m)
    if latitude_e6 is not None and longitude_e6 is not None:
        return LatLon(latitude_e6 / 1_000_000, longitude_e6 / 1_000_000)
    return None


def read_grid(text: str) -> GridReference:
    """Read a grid reference in any common form.

    "SK512408", "sk 51234089", "SK 51234 40891", "SK 512 408", "SK 512/408", and easting and
    northing in full metres, "451200, 340800"; 2 to 10 figures after the letters. Raises ValueError
    with a sentence when it is not one, when the figures do not halve, or outside Great Britain.
    """
    plain = text.strip().upper()
    if match := _NUMBERS.fullmatch(plain):
        return _inside(int(float(match[1])), int(float(match[2])), 10, text)
    match = _SHAPE.fullmatch(plain)
    if match is None:
        raise ValueError(_why_no_reference(plain, text))
    letters = match[1] + match[2]
    east, north = _halves(match[3], text)
    corner_e, corner_n = _corner(letters, text)
    step = 10 ** (5 - len(east))
    return _inside(corner_e + int(east) * step, corner_n + int(north) * step, 2 * len(east), text)


def check_grid(text: str, where: Where | None = None) -> Finding | None:
    """What is wrong with a grid reference as typed; None when nothing is.

    Refused when it cannot be read, doubtful when its square holds no land of Great Britain or is
    coarser than 1 km, which finds no gate.
    """
    place = where or Where(field="grid reference")
    try:
        reference = read_grid(text)
    except ValueError as error:
        return Finding(
            "site.grid", Grade.REFUSED, str(error), "Write two letters and 6, 8 or 10 figures", place
        )
    if not is_in_great_britain(reference):
        what = f"{reference.spaced()} lies in the sea or outside Great Britain"
        return Finding("site.grid-sea", Grade.DOUBTFUL, what, "Look at the two letters again", place)
    if reference.square_m >= 1_000:
        what = f"{text.strip()} names a square of {reference.square_m // 1_000} km"
        return Finding("site.grid-coarse", Grade.DOUBTFUL, what, "Give at least 6 figures", place)
    return None


def is_in_great_britain(spot: Spot) -> bool:
    """Whether a spot lies in a 100 km square that holds some land of Great Britain.

    A coarse check for slips: the coast is not looked at, and a strip of Ireland and of France
    shares squares with Britain.
    """
    if isinstance(spot, LatLon):
        # Bounds of the grid in degrees, widened; the projection is not meant for the rest.
        if not (49 <= spot.latitude <= 61.5 and -9.5 <= spot.longitude <= 3):
            return False
        east, north = _grid_metres(spot)
    else:
        east, north = spot.easting_m, spot.northing_m
    inside = 0 <= east < EAST_END_M and 0 <= north < NORTH_END_M
    return inside and _letters(int(east), int(north)) in _LAND


def to_lat_lon(reference: GridReference) -> LatLon:
    """Latitude and longitude (degrees, WGS84) of the south-west corner that is named."""
    latitude, longitude = unproject(reference.easting_m, reference.northing_m)
    return LatLon(*_change_datum(latitude, longitude, _AIRY, _WGS84, sign=-1))


def to_grid(spot: LatLon) -> GridReference:
    """The ten-figure reference of the metre square a spot lies in. ValueError outside the grid."""
    words = f"{spot.latitude:.5f}, {spot.longitude:.5f}"
    if not (49 <= spot.latitude <= 61.5 and -9.5 <= spot.longitude <= 3):
        raise ValueError(f"{words} lies outside the grid of Great Britain")
    # 5 cm are added, so that a corner there and back does not fall into the square before.
    east, north = _grid_metres(spot)
    return _inside(int(east + 0.05), int(north + 0.05), 10, words)


def distance_m(first: Spot, second: Spot) -> int:
    """Metres in a straight line: on the grid inside Great Britain, else on the sphere.

    The grid's own scale makes it up to 4 m in 10 km short or 5 m long, which no rule here minds.
    """
    if is_in_great_britain(first) and is_in_great_britain(second):
        (e1, n1), (e2, n2) = _metres(first), _metres(second)
        return round(hypot(e2 - e1, n2 - n1))
    return round(_haversine(_degrees(first), _degrees(second)))


def near_m() -> int:
    """Metres within which other apiaries are near: 3 km, by the regulation named in ``sites.toml``."""
    return int(table("rules", "sites.toml")["near"]["radius_m"])


def within(centre: Spot, radius_m: int, spots: Mapping[Key, Spot]) -> list[tuple[Key, int]]:
    """Those of ``spots`` at most ``radius_m`` metres away, with the distance, nearest first."""
    found = [(key, distance_m(centre, spot)) for key, spot in spots.items()]
    return sorted((pair for pair in found if pair[1] <= radius_m), key=lambda pair: pair[1])


def _why_no_reference(plain: str, text: str) -> str:
    slip = plain[:2] + plain[2:].translate(_SLIPS)
    if slip != plain and _SHAPE.fullmatch(slip):
        return f"{text.strip()} has a letter among its figures; perhaps {slip} is meant"
    if re.match(r"[A-Z][01]\s*\d*\s*\d", plain) and len(re.sub(r"\D", "", plain)) % 2:
        letters = plain[0] + {"0": "O", "1": "L"}[plain[1]]
        return f"{text.strip()} has a figure among its letters; perhaps {letters}{plain[2:]} is meant"
    if re.fullmatch(r"[A-Z]\d.*", plain):
        return f"{text.strip()} has one letter where a grid reference has two"
    return f"{text.strip() or 'An empty field'} is not a grid reference"


def _halves(figures: str, text: str) -> tuple[str, str]:
    groups = re.findall(r"\d+", figures)
    total = len("".join(groups))
    if len(groups) > 2:
        raise ValueError(f"{text.strip()} has {len(groups)} groups of figures where there should be two")
    if len(groups) == 2 and len(groups[0]) != len(groups[1]):
        east, north = len(groups[0]), len(groups[1])
        raise ValueError(f"{text.strip()} has {east} figures east and {north} north; they must be as many")
    if total % 2:
        raise ValueError(f"{text.strip()} has {total} figures; an even number is needed, so that they halve")
    if total > 10:
        raise ValueError(f"{text.strip()} has {total} figures; ten name a metre and are the most")
    joined = "".join(groups)
    return joined[: total // 2], joined[total // 2 :]


def _corner(letters: str, text: str) -> tuple[int, int]:
    if "I" in letters:
        raise ValueError(f"{text.strip()} begins with {letters}; the grid has no letter I")
    first, second = (_LETTERS.index(letter) for letter in letters)
    # Squares of 500 km by the first letter, of 100 km by the second, both lettered from the
    # north-west in rows of five; the false origin is the south-west corner of S.
    east = (first % 5 - 2) * 5 + second % 5
    north = (3 - first // 5) * 5 + 4 - second // 5
    if not (0 <= east < EAST_END_M // _SQUARE_M and 0 <= north < NORTH_END_M // _SQUARE_M):
        raise ValueError(f"{text.strip()} begins with {letters}, which lies outside Great Britain")
    return east * _SQUARE_M, north * _SQUARE_M


def _letters(easting_m: int, northing_m: int) -> str:
    east, north = easting_m // _SQUARE_M, northing_m // _SQUARE_M
    first = (3 - north // 5) * 5 + 2 + east // 5
    second = (4 - north % 5) * 5 + east % 5
    return _LETTERS[first] + _LETTERS[second]


def _inside(easting_m: int, northing_m: int, figures: int, text: str) -> GridReference:
    if not (0 <= easting_m < EAST_END_M and 0 <= northing_m < NORTH_END_M):
        raise ValueError(f"{text.strip()} lies outside the grid of Great Britain")
    return GridReference(easting_m, northing_m, figures)


def _metres(spot: Spot) -> tuple[float, float]:
    return _grid_metres(spot) if isinstance(spot, LatLon) else (spot.easting_m, spot.northing_m)


def _degrees(spot: Spot) -> LatLon:
    return spot if isinstance(spot, LatLon) else to_lat_lon(spot)


def _grid_metres(spot: LatLon) -> tuple[float, float]:
    return project(*_change_datum(spot.latitude, spot.longitude, _WGS84, _AIRY, sign=1))


# Mean radius of the Earth, IUGG: (2a + b) / 3.
_EARTH_M = 6_371_008.8


def _haversine(first: LatLon, second: LatLon) -> float:
    lat1, lat2 = radians(first.latitude), radians(second.latitude)
    half_lon = radians(second.longitude - first.longitude) / 2
    chord = sin((lat2 - lat1) / 2) ** 2 + cos(lat1) * cos(lat2) * sin(half_lon) ** 2
    return 2 * _EARTH_M * asin(sqrt(min(1.0, chord)))


# Ellipsoids: semi-major and semi-minor axis in metres (the guide, annexe A.1).
_AIRY = (6_377_563.396, 6_356_256.909)
_WGS84 = (6_378_137.000, 6_356_752.3141)
# WGS84 to OSGB36 (annexe A): metres, parts per million, seconds of arc.
_SHIFT_M = (-446.448, 125.157, -542.060)
_SCALE_PPM = 20.4894
_TURN_SECONDS = (-0.1502, -0.2470, -0.8421)
# The National Grid projection (annexe A.2).
_F0, _E0, _N0 = 0.9996012717, 400_000.0, -100_000.0
_LAT0, _LON0 = radians(49), radians(-2)


def _change_datum(
    latitude: float, longitude: float, old: tuple[float, float], new: tuple[float, float], *, sign: int
) -> tuple[float, float]:
    """The seven-parameter change of datum (annexe B); ``sign`` −1 is the way back, as the guide allows."""
    lat, lon = radians(latitude), radians(longitude)
    a, b = old
    e2 = 1 - (b / a) ** 2
    nu = a / sqrt(1 - e2 * sin(lat) ** 2)
    x, y, z = nu * cos(lat) * cos(lon), nu * cos(lat) * sin(lon), nu * (1 - e2) * sin(lat)
    tx, ty, tz = (sign * value for value in _SHIFT_M)
    rx, ry, rz = (sign * radians(value / 3600) for value in _TURN_SECONDS)
    k = 1 + sign * _SCALE_PPM / 1e6
    x, y, z = tx + k * x - rz * y + ry * z, ty + rz * x + k * y - rx * z, tz - ry * x + rx * y + k * z
    a, b = new
    e2 = 1 - (b / a) ** 2
    flat = hypot(x, y)
    lat = atan2(z, flat * (1 - e2))
    for _ in range(5):
        nu = a / sqrt(1 - e2 * sin(lat) ** 2)
        lat = atan2(z + e2 * nu * sin(lat), flat)
    return degrees(lat), degrees(atan2(y, x))


def _meridian(lat: float) -> float:
    """Metres along the central meridian from the true origin (annexe C, formula C3)."""
    a, b = _AIRY
    n = (a - b) / (a + b)
    d, s = lat - _LAT0, lat + _LAT0
    return (
        b
        * _F0
        * (
            (1 + n + 1.25 * n**2 + 1.25 * n**3) * d
            - (3 * n + 3 * n**2 + 2.625 * n**3) * sin(d) * cos(s)
            + 1.875 * (n**2 + n**3) * sin(2 * d) * cos(2 * s)
            - 35 / 24 * n**3 * sin(3 * d) * cos(3 * s)
        )
    )


def _radii(lat: float) -> tuple[float, float, float]:
    """Transverse and meridional radius of curvature, and eta squared (annexe C, formula C2)."""
    a, b = _AIRY
    e2 = 1 - (b / a) ** 2
    squeeze = 1 - e2 * sin(lat) ** 2
    nu, rho = a * _F0 / sqrt(squeeze), a * _F0 * (1 - e2) / squeeze**1.5
    return nu, rho, nu / rho - 1


def project(latitude: float, longitude: float) -> tuple[float, float]:
    """Degrees on OSGB36 (not WGS84) to metres east and north (annexe C.1)."""
    lat, p = radians(latitude), radians(longitude) - _LON0
    nu, rho, eta2 = _radii(lat)
    s, c, t2 = sin(lat), cos(lat), tan(lat) ** 2
    north = (
        _meridian(lat)
        + _N0
        + p**2 * nu / 2 * s * c
        + p**4 * nu / 24 * s * c**3 * (5 - t2 + 9 * eta2)
        + p**6 * nu / 720 * s * c**5 * (61 - 58 * t2 + t2**2)
    )
    east = (
        _E0
        + p * nu * c
        + p**3 * nu / 6 * c**3 * (nu / rho - t2)
        + p**5 * nu / 120 * c**5 * (5 - 18 * t2 + t2**2 + 14 * eta2 - 58 * t2 * eta2)
    )
    return east, north


def unproject(easting_m: float, northing_m: float) -> tuple[float, float]:
    """Metres east and north to degrees on OSGB36 (not WGS84) (annexe C.2)."""
    lat = _LAT0
    while abs(rest := northing_m - _N0 - _meridian(lat)) >= 1e-5:
        lat += rest / (_AIRY[0] * _F0)
    nu, rho, eta2 = _radii(lat)
    t, sec, x = tan(lat), 1 / cos(lat), easting_m - _E0
    t2, t4, t6 = t**2, t**4, t**6
    latitude = (
        lat
        - t / (2 * rho * nu) * x**2
        + t / (24 * rho * nu**3) * (5 + 3 * t2 + eta2 - 9 * t2 * eta2) * x**4
        - t / (720 * rho * nu**5) * (61 + 90 * t2 + 45 * t4) * x**6
    )
    longitude = (
        _LON0
        + sec / nu * x
        - sec / (6 * nu**3) * (nu / rho + 2 * t2) * x**3
        + sec / (120 * nu**5) * (5 + 28 * t2 + 24 * t4) * x**5
        - sec / (5040 * nu**7) * (61 + 662 * t2 + 1320 * t4 + 720 * t6) * x**7
    )
    return latitude * 180 / pi, longitude * 180 / pi
