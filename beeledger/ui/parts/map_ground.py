"""The ground of the site map: which metre stands on which pixel, the grid over it, the scale bar. No window here."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import cos, pi, radians

from beeledger.rules.sites import EAST_END_M, NORTH_END_M, GridReference

LEAST_M, MOST_M = 400.0, 900_000.0
"""How few and how many metres the window's shorter side may show."""
_EARTH_M = 6_371_008.8


@dataclass(frozen=True, slots=True)
class Ground:
    """What part of the land is shown: the middle in metres east and north, metres a pixel, pixels."""

    east: float
    north: float
    metres_a_pixel: float
    width: int
    height: int

    def pixel(self, east: float, north: float) -> tuple[float, float]:
        """Where a spot stands."""
        return (
            self.width / 2 + (east - self.east) / self.metres_a_pixel,
            self.height / 2 - (north - self.north) / self.metres_a_pixel,
        )

    def metres(self, x: float, y: float) -> tuple[float, float]:
        """Which spot stands on a pixel."""
        return (
            self.east + (x - self.width / 2) * self.metres_a_pixel,
            self.north - (y - self.height / 2) * self.metres_a_pixel,
        )

    def moved(self, dx: float, dy: float) -> Ground:
        """Dragged by so many pixels."""
        return replace(
            self, east=self.east - dx * self.metres_a_pixel, north=self.north + dy * self.metres_a_pixel
        )

    def zoomed(self, factor: float, x: float, y: float) -> Ground:
        """Nearer by ``factor`` (above 1) with the spot under a pixel staying where it is."""
        side = max(1, min(self.width, self.height))
        wanted = min(max(self.metres_a_pixel / factor, LEAST_M / side), MOST_M / side)
        east, north = self.metres(x, y)
        return replace(
            self,
            metres_a_pixel=wanted,
            east=east - (x - self.width / 2) * wanted,
            north=north + (y - self.height / 2) * wanted,
        )


def ground_for(spots: Iterable[tuple[float, float]], width: int, height: int, pad: int) -> Ground:
    """The ground on which all of ``spots`` are seen, at least 4 km across."""
    places = list(spots) or [(0.0, 0.0)]
    east = [place[0] for place in places]
    north = [place[1] for place in places]
    room_x, room_y = max(1, width - 2 * pad), max(1, height - 2 * pad)
    scale = max(
        (max(east) - min(east)) / room_x,
        (max(north) - min(north)) / room_y,
        4_000 / max(1, min(width, height)),
    )
    return Ground((max(east) + min(east)) / 2, (max(north) + min(north)) / 2, scale, width, height)


@dataclass(frozen=True, slots=True)
class GridLines:
    """Lines east and north in metres: fine ones every kilometre, firm ones with their figures."""

    fine: tuple[tuple[int, ...], tuple[int, ...]]
    firm: tuple[tuple[int, ...], tuple[int, ...]]
    step_m: int


def grid_lines(ground: Ground, least_px: int) -> GridLines:
    """The grid for a ground: 1 km and 5 km lines as on a walker's map, coarser where they would crowd."""
    fine_m, firm_m = _steps(ground.metres_a_pixel, least_px)
    west, south = ground.metres(0, ground.height)
    east, north = ground.metres(ground.width, 0)
    return GridLines(
        (_multiples(west, east, fine_m), _multiples(south, north, fine_m)),
        (_multiples(west, east, firm_m), _multiples(south, north, firm_m)),
        firm_m,
    )


def grid_figure(metres: int) -> str:
    """The figure of a grid line: kilometres within the 100 km square, two figures."""
    return f"{metres // 1000 % 100:02d}"


def square_letters(ground: Ground) -> str:
    """The letters of the 100 km square in the middle; blank outside the grid of Great Britain."""
    if not (0 <= ground.east < EAST_END_M and 0 <= ground.north < NORTH_END_M):
        return ""
    return GridReference(int(ground.east), int(ground.north)).spaced()[:2]


def bar_m(ground: Ground, most_px: int) -> int:
    """The longest round length whose bar is no wider than ``most_px``."""
    lengths: list[int] = [factor * 10**power for power in range(2, 6) for factor in (1, 2, 5)]
    fitting = [length for length in lengths if length / ground.metres_a_pixel <= most_px]
    return fitting[-1] if fitting else lengths[0]


def on_a_plane(degrees: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """Latitudes and longitudes as metres on a plane around their middle, for farms outside the grid.

    An equirectangular plane: true north and south, true east and west at the middle latitude; within
    50 km it is wrong by less than 1 in 200 at 60 degrees.
    """
    if not degrees:
        return []
    middle = sum(lat for lat, _lon in degrees) / len(degrees)
    a_degree = _EARTH_M * pi / 180
    return [(lon * a_degree * cos(radians(middle)), lat * a_degree) for lat, lon in degrees]


def _steps(metres_a_pixel: float, least_px: int) -> tuple[int, int]:
    for fine, firm in ((1_000, 5_000), (5_000, 10_000), (10_000, 50_000), (50_000, 100_000)):
        if fine / metres_a_pixel >= least_px:
            return fine, firm
    return 100_000, 100_000


def _multiples(low: float, high: float, step: int) -> tuple[int, ...]:
    first = int(-(-low // step))
    return tuple(at * step for at in range(first, int(high // step) + 1))
