"""Honey by weight and by volume, and the jars a weight fills.

The table of specific gravities is from memory, and so is the slope with temperature: what comes
out is for planning tanks and jars, never for a declared weight.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from beeledger.base.resources import table

HALF = Fraction(1, 2)


@dataclass(frozen=True, slots=True)
class DensityTable:
    """Specific gravity 20/20 °C in ten-thousandths, by whole per cents of moisture."""

    moisture_per_cent: tuple[int, ...]
    gravity: tuple[int, ...]
    water_g_per_l_hundredths: int
    per_degree_g_per_l_hundredths: int
    source: str
    sure: bool


@cache
def density_table() -> DensityTable:
    """The table, read once from honey.toml."""
    rules = table("rules", "honey.toml")["density"]
    rows = {"moisture_per_cent": tuple(rules["moisture_per_cent"]), "gravity": tuple(rules["gravity"])}
    return DensityTable(**{**rules, **rows})


def density_g_per_l(moisture_hundredths: int, temperature_tenths: int = 200) -> int:
    """Grams in a litre of honey, rounded, by moisture (hundredths of a %) and tenths of a °C.

    Between the rows of the table linear, beyond its ends (13 and 21 %) ValueError. Source: see
    [density] in honey.toml, marked there as from memory.
    """
    return math.floor(_density(moisture_hundredths, temperature_tenths) + HALF)


def millilitres_of(grams: int, moisture_hundredths: int, temperature_tenths: int = 200) -> int:
    """The room a weight of honey takes, in whole millilitres."""
    return math.floor(grams * 1000 / _density(moisture_hundredths, temperature_tenths) + HALF)


def grams_of(millilitres: int, moisture_hundredths: int, temperature_tenths: int = 200) -> int:
    """The weight of a volume of honey, in whole grams."""
    return math.floor(millilitres * _density(moisture_hundredths, temperature_tenths) / 1000 + HALF)


def jars_filled(grams: int, jar_g: int) -> tuple[int, int]:
    """How many jars of ``jar_g`` net a weight fills, and the grams left over."""
    if jar_g <= 0 or grams < 0:
        raise ValueError("jars need a weight above nought, and the honey may not be negative")
    return divmod(grams, jar_g)


def density_is_sure() -> bool:
    """Whether the density table was read in its source; when not, the figure is shown with "about"."""
    return density_table().sure


def _density(moisture_hundredths: int, temperature_tenths: int) -> Fraction:
    """Grams in a litre, exactly as the table gives it."""
    figures = density_table()
    rows = figures.moisture_per_cent
    if not rows[0] * 100 <= moisture_hundredths <= rows[-1] * 100:
        raise ValueError(f"the density of honey is known between {rows[0]} and {rows[-1]} % of water")
    below = min((moisture_hundredths // 100) - rows[0], len(rows) - 2)
    gravity = figures.gravity
    part = Fraction(moisture_hundredths - rows[below] * 100, 100)
    at_20 = gravity[below] + (gravity[below + 1] - gravity[below]) * part
    warmer = Fraction(temperature_tenths - 200, 10)
    lighter = Fraction(figures.per_degree_g_per_l_hundredths, 100) * warmer
    return at_20 / 10_000 * Fraction(figures.water_g_per_l_hundredths, 100) - lighter
