"""Readings of honey: water from a refractometer, blends, colour and the danger of fermenting.

What the law allows of them stands in ``honey_composition``, weight and volume in ``honey_density``.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Any

from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.resources import table
from beeledger.base.units import degrees, per_cent

HUNDRED_THOUSAND = 100_000
NOWHERE = Where()


@dataclass(frozen=True, slots=True)
class RefractometerFigures:
    """The constants of the refractometer's formula, as in honey.toml."""

    a: float
    b: float
    per_degree_hundred_thousandths: int
    reference_tenths: int
    least_moisture_hundredths: int
    most_moisture_hundredths: int
    least_temperature_tenths: int
    most_temperature_tenths: int
    source: str


@dataclass(frozen=True, slots=True)
class BrixFigures:
    """The sugar scale as a polynomial of the refractive index, highest power first."""

    polynomial: tuple[float, ...]
    least_ri: float
    most_ri: float
    source: str


@dataclass(frozen=True, slots=True)
class Colour:
    """A name and the deepest Pfund reading that still has it; None for the darkest."""

    name: str
    most_mm: int | None = None


@dataclass(frozen=True, slots=True)
class FermentBand:
    """What is said of honey up to a moisture; None for what is wetter than all bands."""

    risk: str
    words: str
    most_moisture_hundredths: int | None = None
    most_yeasts_per_g: int | None = None


@dataclass(frozen=True, slots=True)
class Portion:
    """A weighed quantity of honey with its moisture."""

    grams: int
    moisture_hundredths: int


@dataclass(frozen=True, slots=True)
class Ferment:
    """How likely a honey is to ferment, in a word and a sentence; ``sure`` is whether a source was found."""

    risk: str
    words: str
    source: str
    sure: bool


@cache
def refractometer_figures() -> RefractometerFigures:
    """The constants, read once from honey.toml."""
    return RefractometerFigures(**_rules()["refractometer"])


@cache
def brix_figures() -> BrixFigures:
    """The sugar scale, read once from honey.toml."""
    rules = _rules()["brix"]
    return BrixFigures(**{**rules, "polynomial": tuple(rules["polynomial"])})


@cache
def colours() -> tuple[Colour, ...]:
    """The names of colours, palest first."""
    return tuple(Colour(**row) for row in _rules()["colour"])


@cache
def ferment_bands() -> tuple[FermentBand, ...]:
    """The bands of moisture, driest first."""
    return tuple(FermentBand(**row) for row in _rules()["fermentation"]["band"])


def ri_at_20(ri_hundred_thousandths: int, temperature_tenths: int = 200) -> float:
    """The refractive index as it would be read at 20 °C.

    ``ri_hundred_thousandths``: the index read, 1.4903 = 149030; ``temperature_tenths``: of the
    prisms, tenths of a °C. Returns the plain index. Source: Wedmore's correction of 0.00023 a
    degree, in Bogdanov, *Book of Honey* ch. 4.
    """
    figures = refractometer_figures()
    shift = figures.per_degree_hundred_thousandths * (temperature_tenths - figures.reference_tenths) / 10
    return (ri_hundred_thousandths + shift) / HUNDRED_THOUSAND


def moisture_from_ri(ri_hundred_thousandths: int, temperature_tenths: int = 200) -> int:
    """Water in hundredths of a per cent (w/w) from a refractive index read at a temperature.

    Agrees with the published table within 0.03 % of water over 13 to 25 %. ValueError when the
    index is not above 1. A figure outside the table is still computed: ``check_refractometer``
    says so. Source: Wedmore's formula, in Bogdanov, *Book of Honey* ch. 4.
    """
    ri = ri_at_20(ri_hundred_thousandths, temperature_tenths)
    if ri <= 1:
        raise ValueError("a refractive index is above 1; honey reads about 1.49")
    return round(_moisture(ri) * 100)


def ri_from_moisture(moisture_hundredths: int, temperature_tenths: int = 200) -> int:
    """What a refractometer shows, in hundred-thousandths, for a honey of that moisture.

    The inverse of ``moisture_from_ri``; used to check a refractometer against a known honey.
    """
    figures = refractometer_figures()
    ri = 1 + 10 ** (figures.a - figures.b * moisture_hundredths / 100)
    shift = figures.per_degree_hundred_thousandths * (temperature_tenths - figures.reference_tenths) / 10
    return round(ri * HUNDRED_THOUSAND - shift)


def brix_from_ri(ri_hundred_thousandths: int) -> int:
    """Sucrose °Brix in hundredths from a refractive index at 20 °C (ICUMSA, fitted polynomial)."""
    return round(_brix(ri_hundred_thousandths / HUNDRED_THOUSAND) * 100)


def moisture_from_brix(brix_hundredths: int) -> int:
    """Water in hundredths of a per cent from a sucrose °Brix scale, already right for 20 °C.

    Such a scale does not read 100 less water on honey: the index behind the °Brix is sought and
    Wedmore's formula applied. ValueError outside about 67 to 87 °Brix, where there is no honey.
    """
    brix = brix_hundredths / 100
    low, high = brix_figures().least_ri, brix_figures().most_ri
    if not _brix(low) <= brix <= _brix(high):
        raise ValueError(f"honey reads between {_brix(low):.0f} and {_brix(high):.0f} °Brix")
    for _ in range(50):  # halving: the polynomial rises all the way between the two ends
        middle = (low + high) / 2
        low, high = (middle, high) if _brix(middle) < brix else (low, middle)
    return round(_moisture(low) * 100)


def check_refractometer(
    ri_hundred_thousandths: int, temperature_tenths: int = 200, where: Where = NOWHERE
) -> list[Finding]:
    """What is odd about a reading: an index, a temperature or a moisture outside the table."""
    figures = refractometer_figures()
    if ri_at_20(ri_hundred_thousandths, temperature_tenths) <= 1:
        return [
            _finding(
                "no-index", Grade.REFUSED, "a refractive index is above 1", "Honey reads about 1.49", where
            )
        ]
    found = []
    if not figures.least_temperature_tenths <= temperature_tenths <= figures.most_temperature_tenths:
        what = f"{degrees(temperature_tenths)} °C is no temperature to read honey at"
        found.append(_finding("temperature", Grade.DOUBTFUL, what, "Look at the thermometer again", where))
    moisture = moisture_from_ri(ri_hundred_thousandths, temperature_tenths)
    if not figures.least_moisture_hundredths <= moisture <= figures.most_moisture_hundredths:
        span = f"{figures.least_moisture_hundredths // 100}–{figures.most_moisture_hundredths // 100} %"
        what = f"{per_cent(moisture)} % of water lies outside the published table ({span})"
        found.append(
            _finding("outside-table", Grade.DOUBTFUL, what, "Clean the prisms and read again", where)
        )
    return found


def blended_moisture(portions: Sequence[Portion]) -> int:
    """Moisture of a blend in hundredths of a per cent: the mean by mass, rounded half up.

    Water is a share of the mass, so it adds exactly. ValueError without any honey.
    """
    whole = sum(portion.grams for portion in portions)
    if whole <= 0 or any(portion.grams < 0 for portion in portions):
        raise ValueError("a blend needs some honey, and no portion may be negative")
    water = Fraction(sum(portion.grams * portion.moisture_hundredths for portion in portions), whole)
    return math.floor(water + Fraction(1, 2))


def grams_to_dry(wet: Portion, dry_moisture_hundredths: int, wanted_hundredths: int) -> int | None:
    """Least grams of a drier honey to bring ``wet`` down to the wanted moisture.

    0 when it is dry enough already, None when the other honey is too wet to do it. From the
    balance of water: g = wet · (w − wanted) / (wanted − dry), rounded up to the gram.
    """
    if wet.moisture_hundredths <= wanted_hundredths:
        return 0
    if dry_moisture_hundredths >= wanted_hundredths:
        return None
    above = wet.grams * (wet.moisture_hundredths - wanted_hundredths)
    return -(-above // (wanted_hundredths - dry_moisture_hundredths))


def colour_name(pfund_mm: int) -> str:
    """The trade's name for a colour read in mm Pfund (USDA grades of extracted honey, 1985).

    A reading on a boundary has the paler name. ValueError below nought.
    """
    if pfund_mm < 0:
        raise ValueError("a Pfund reading is not below 0 mm")
    return next(row.name for row in colours() if row.most_mm is None or pfund_mm <= row.most_mm)


def fermentation(moisture_hundredths: int, yeasts_per_g: int | None = None) -> Ferment:
    """How likely a honey is to ferment, by moisture, and by yeast cells in a gram where counted.

    After Lochhead (1933), from memory: show it as advice, never as law. With a count within the
    band's bound the risk is "low" (it keeps), above it "certain".
    """
    band = next(band for band in ferment_bands() if _is_within(moisture_hundredths, band))
    rules = _rules()["fermentation"]
    risk, words = band.risk, band.words
    if yeasts_per_g is not None and band.most_yeasts_per_g is not None:
        keeps = yeasts_per_g <= band.most_yeasts_per_g
        risk = "low" if keeps else "certain"
        words = f"{'keeps' if keeps else 'will ferment in time'}: {yeasts_per_g:,} yeast cells in a gram"
    return Ferment(risk, words, rules["source"], rules["sure"])


def _is_within(moisture_hundredths: int, band: FermentBand) -> bool:
    return band.most_moisture_hundredths is None or moisture_hundredths <= band.most_moisture_hundredths


def _moisture(ri: float) -> float:
    figures = refractometer_figures()
    return (figures.a - math.log10(ri - 1)) / figures.b


def _brix(ri: float) -> float:
    value = 0.0
    for factor in brix_figures().polynomial:
        value = value * ri + factor
    return value


def _finding(code: str, grade: Grade, what: str, mend: str, where: Where) -> Finding:
    return Finding(f"honey.{code}", grade, what, mend, where)


def _rules() -> dict[str, Any]:
    return table("rules", "honey.toml")
