"""Feed and stores: what is in the syrup, what a colony has, what it still needs.

Figures and sources stand in ``resources/rules/stores.toml``. White granulated sugar only, never honey
of unknown origin; no feed with supers on whose honey is to be sold (nothing but honey may be in it:
Honey (England) Regulations 2015, schedule 1). What a colony will use is common practice and no more.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from functools import cache

from beeledger.base.resources import table

_FULL = "full"
_LITRE_ML = 1_000


@dataclass(frozen=True, slots=True)
class Mix:
    """A strength of syrup: parts of sugar and water by weight."""

    code: str
    words: str
    sugar: int
    water: int

    @property
    def brix_hundredths(self) -> int:
        """Hundredths of a per cent of sugar by weight: 2:1 is 6667."""
        return round(Fraction(self.sugar * 10_000, self.sugar + self.water))


@dataclass(frozen=True, slots=True)
class Feed:
    """Syrup to be made: what goes in and what comes out."""

    mix: str
    sugar_g: int
    water_ml: int
    syrup_ml: int
    syrup_g: int


@dataclass(frozen=True, slots=True)
class StoresFigures:
    """The figures of the room; the two calendars run from January to December."""

    density: tuple[float, ...]
    mixes: Mapping[str, Mix]
    frames_g: Mapping[str, int]
    winter_target_g: Mapping[str, int]
    stores_per_sugar_hundredths: int
    use_month_g: tuple[int, ...]
    light_month_g: tuple[int, ...]
    nucleus_share_hundredths: int
    good_for_days: int


@cache
def figures() -> StoresFigures:
    """The figures of ``stores.toml``, read once."""
    toml = table("rules", "stores.toml")
    return StoresFigures(
        density=tuple(toml["density"]["coefficients"]),
        mixes={
            row["code"]: Mix(row["code"], row["words"], row["sugar"], row["water"]) for row in toml["mix"]
        },
        frames_g=_in_grams(toml["frames"]),
        winter_target_g=_in_grams(toml["winter_target"]),
        stores_per_sugar_hundredths=toml["conversion"]["stores_per_sugar_hundredths"],
        use_month_g=tuple(toml["use"]["month_g"]),
        light_month_g=tuple(toml["light"]["month_g"]),
        nucleus_share_hundredths=toml["light"]["nucleus_share_hundredths"],
        good_for_days=toml["light"]["good_for_days"],
    )


def mix(code: str) -> Mix:
    """A strength by its code, "2:1". KeyError when the rules file has none of that code."""
    return figures().mixes[code]


def density_g_per_litre(brix_hundredths: int) -> float:
    """Grams in a litre of sugar solution at 20 °C; ``brix_hundredths`` from 0 to 7000.

    Raises ValueError beyond, where sugar no longer dissolves.
    """
    if not 0 <= brix_hundredths <= 7_000:
        raise ValueError("a sugar solution holds between 0 and 70 per cent of sugar")
    w = brix_hundredths / 10_000
    return float(sum(factor * w**power for power, factor in enumerate(figures().density)))


def sugar_g_in(syrup_ml: int, code: str) -> int:
    """Grams of sugar in so many millilitres of syrup of a strength."""
    strength = mix(code)
    grams = density_g_per_litre(strength.brix_hundredths) * syrup_ml / _LITRE_ML
    return round(grams * strength.sugar / (strength.sugar + strength.water))


def syrup_for(sugar_g: int, code: str) -> Feed:
    """The syrup that so much sugar makes. Less than the sum of volumes: dissolved sugar takes 0.62 l a kg."""
    strength = mix(code)
    water_g = round(Fraction(sugar_g * strength.water, strength.sugar))
    syrup_g = sugar_g + water_g
    syrup_ml = round(syrup_g * _LITRE_ML / density_g_per_litre(strength.brix_hundredths))
    return Feed(code, sugar_g, water_g, syrup_ml, syrup_g)


def sugar_needed_g(target_g: int, stores_g: int) -> int:
    """Grams of sugar that lift the stores to the target; 0 when they are there.

    (target − stores) ÷ 1.05: the bees use some of the sugar in storing it.
    """
    short = max(0, target_g - stores_g)
    return round(Fraction(short * 100, figures().stores_per_sugar_hundredths))


def stores_from_sugar_g(sugar_g: int) -> int:
    """Grams of stores that so much sugar makes, by the same 1.05."""
    return sugar_g * figures().stores_per_sugar_hundredths // 100


def feed_needed(target_g: int, stores_g: int, code: str) -> Feed:
    """The syrup of a strength that lifts the stores to the target."""
    return syrup_for(sugar_needed_g(target_g, stores_g), code)


def stores_from_frames_g(frames_tenths: int, frame_type: str) -> int:
    """Grams in so many tenths of full frames, both sides. KeyError for an unknown frame type."""
    return round(Fraction(frames_tenths * figures().frames_g[frame_type], 10))


def winter_target_g(boxes: str) -> int:
    """Grams wanted for the winter by what it sits in: single, brood_and_a_half, double, nucleus."""
    return figures().winter_target_g[boxes]


def expected_use_g(first: date, until: date) -> int:
    """Grams a full colony is expected to use from ``first`` up to, not including, ``until``."""
    days = (until - first).days
    return round(sum((_daily(first + timedelta(days=day)) for day in range(days)), Fraction(0)))


def lasts_until(stores_g: int, on: date) -> date:
    """The first day on which stores of ``stores_g`` on ``on`` would be gone without forage or feed."""
    left, day = Fraction(stores_g), on
    while left > 0:
        left -= _daily(day)
        day += timedelta(days=1)
    return day


def light_line_g(month: int, kind: str = _FULL) -> int:
    """Below so many grams a colony is light in that month; less for anything but a full colony."""
    own = figures()
    line = own.light_month_g[month - 1]
    return line if kind == _FULL else line * own.nucleus_share_hundredths // 100


def is_light(stores_g: int | None, day: date, kind: str = _FULL) -> bool | None:
    """Whether a colony is light for the season; None when its stores are not known."""
    return None if stores_g is None else stores_g < light_line_g(day.month, kind)


def light_from(stores_g: int, looked: date, kind: str = _FULL) -> date | None:
    """The first day on which stores seen on ``looked`` are light, while the figure is still good.

    Nothing is taken off for what was used since: that would be a guess on a guess.
    """
    for days in range(figures().good_for_days):
        day = looked + timedelta(days=days)
        if (days == 0 or day.day == 1) and is_light(stores_g, day, kind):
            return day
    return None


def _daily(day: date) -> Fraction:
    following = date(day.year + day.month // 12, day.month % 12 + 1, 1)
    length = (following - day.replace(day=1)).days
    return Fraction(figures().use_month_g[day.month - 1], length)


def _in_grams(rows: Mapping[str, object]) -> dict[str, int]:
    return {name.removesuffix("_g"): value for name, value in rows.items() if isinstance(value, int)}
