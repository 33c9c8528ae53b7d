"""The label of a jar as a record, and the words that follow from it: date, weight, origin.

Whether the label does what the law wants is judged in ``label_law``.
"""

from __future__ import annotations

import calendar
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_HALF_UP, Decimal
from enum import StrEnum
from functools import cache

from beeledger.base.dates import long
from beeledger.base.resources import table
from beeledger.base.text import listed
from beeledger.base.units import GRAMS_PER_POUND, scaled, share_out
from beeledger.rules.label_figures import label_figures

_MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December")  # fmt: skip
OUNCES_PER_POUND = 16


class Market(StrEnum):
    """Where the jars are sold, because the law of origin differs."""

    GB = "Great Britain"
    EU = "the EU and Northern Ireland"


class DateForm(StrEnum):
    """How much of the date of best before stands on the jar."""

    DAY = "day, month and year"
    MONTH = "month and year"
    YEAR = "year"


@dataclass(frozen=True, slots=True)
class Product:
    """A kind of honey product that the law has a name for."""

    key: str
    names: tuple[str, ...]
    plain: bool
    """Whether it may simply be called honey."""
    claims: bool
    """Whether it may name a flower or a place."""
    must_say: str = ""


@dataclass(frozen=True, slots=True)
class Origin:
    """A country of harvest with its share of the mass; None when the share is not known."""

    country: str
    share_hundredths: int | None = None


@dataclass(frozen=True, slots=True)
class Label:
    """What is to stand on a jar, and what it is claimed of. Empty text is not printed."""

    name: str
    net_g: int
    origins: tuple[Origin, ...]
    origin_words: str
    lot_mark: str
    """As printed, with its L."""
    packed_on: date
    best_before: date
    date_form: DateForm
    business: str
    address: str
    product: str = "honey"
    infant_caution: str = ""
    floral: str = ""
    """The flower the name claims, and the share of it in hundredths of a per cent, None if unknown."""
    floral_share_hundredths: int | None = None
    region: str = ""
    """The place the name claims, and the share that comes from there."""
    region_share_hundredths: int | None = None
    other_words: tuple[str, ...] = ()
    imperial: bool = False
    e_mark: bool = False
    gtin: str = ""
    market: Market = Market.GB


@cache
def products() -> dict[str, Product]:
    """The reserved names of the law, by key (SI 2015/1348 regs 6 to 15)."""
    return {
        key: Product(key, tuple(row["names"]), row["plain"], row["claims"], row.get("must_say", ""))
        for key, row in table("rules", "labelling.toml")["product"].items()
    }


def months_later(day: date, months: int) -> date:
    """The same day some months on; the last of the month where that has no such day."""
    year, month = divmod(day.month - 1 + months, 12)
    last = calendar.monthrange(day.year + year, month + 1)[1]
    return date(day.year + year, month + 1, min(day.day, last))


def least_date_form(packed_on: date, best_before: date) -> DateForm:
    """The least that the date on the jar must tell, by how long the honey keeps.

    Up to 3 months day and month, up to 18 months month and year, longer the year alone.
    Source: Regulation (EU) 1169/2011 Annex X 1(c); the last step is from memory.
    """
    figures = label_figures()
    if best_before <= months_later(packed_on, figures.day_upto_months):
        return DateForm.DAY
    if best_before <= months_later(packed_on, figures.month_upto_months):
        return DateForm.MONTH
    return DateForm.YEAR


def date_words(best_before: date, form: DateForm) -> str:
    """The date as printed: "Best before" with a day, "Best before end" without one (Annex X 1(a))."""
    if form is DateForm.DAY:
        return f"Best before {long(best_before)}"
    if form is DateForm.MONTH:
        return f"Best before end {_MONTHS[best_before.month - 1]} {best_before.year}"
    return f"Best before end {best_before.year}"


def is_date_form_enough(form: DateForm, least: DateForm) -> bool:
    """Whether a form tells at least as much as is needed."""
    order = (DateForm.DAY, DateForm.MONTH, DateForm.YEAR)
    return order.index(form) <= order.index(least)


def net_words(net_g: int) -> str:
    """The metric quantity as printed: "454 g", from a kilogram on "1.36 kg"."""
    if net_g < 1000:
        return f"{net_g} g"
    text = scaled(net_g, 1000)
    return f"{text.rstrip('0').rstrip('.')} kg"


def imperial_words(net_g: int) -> str:
    """The imperial quantity that may stand behind the metric one, to a tenth of an ounce: "1 lb"."""
    ounces = (net_g * OUNCES_PER_POUND / GRAMS_PER_POUND).quantize(Decimal("0.1"), ROUND_HALF_UP)
    pounds, rest = divmod(ounces, OUNCES_PER_POUND)
    parts = [f"{pounds:.0f} lb"] if pounds else []
    if rest or not parts:
        parts.append(f"{rest} oz".replace(".0 ", " "))
    return " ".join(parts)


def origin_words(origins: Sequence[Origin], market: Market, packed_on: date) -> str:
    """The words for the countries of harvest that satisfy the law of the market on that day.

    Great Britain: the countries, or for a blend that it is one. EU from 14 June 2026: every
    country by falling share, with its per cent (Directive (EU) 2024/1438). Empty without origin.
    """
    ranked = ranked_origins(origins)
    if not ranked:
        return ""
    if len(ranked) == 1:
        return f"Honey from {ranked[0].country}"
    if needs_shares(market, packed_on) and all(o.share_hundredths is not None for o in ranked):
        shares = [f"{country} {per_cent} %" for country, per_cent in shown_shares(ranked)]
        return f"Blend of honeys from {listed(shares)}"
    return f"Blend of honeys from {listed([o.country for o in ranked])}"


def ranked_origins(origins: Sequence[Origin]) -> list[Origin]:
    """Countries by falling share, those of unknown share last; each as given where equal."""
    return sorted(origins, key=lambda origin: -(origin.share_hundredths or 0))


def shown_shares(origins: Sequence[Origin]) -> list[tuple[str, int]]:
    """Countries by falling share with whole per cents that sum as the shares do.

    By largest remainders, so that the whole makes 100. ValueError when a share is not known.
    """
    ranked = ranked_origins(origins)
    shares = [origin.share_hundredths for origin in ranked if origin.share_hundredths is not None]
    if len(shares) < len(ranked) or not shares:
        raise ValueError("the share of a country is not known")
    whole = share_out((sum(shares) + 50) // 100, shares)
    return [(origin.country, per_cent) for origin, per_cent in zip(ranked, whole, strict=True)]


def needs_shares(market: Market, packed_on: date) -> bool:
    """Whether the share of each country has to be on the label (EU, packed from 14 June 2026)."""
    return market is Market.EU and packed_on >= label_figures().origin.eu_shares_from


def may_name_four(origins: Sequence[Origin]) -> bool:
    """Whether the four largest shares exceed half, so that a Member State may let those do.

    Source: Directive (EU) 2024/1438. False when a share is unknown, or there are no more than four.
    """
    most = label_figures().origin.eu_most_named
    shares = [origin.share_hundredths for origin in ranked_origins(origins)]
    if len(shares) <= most or None in shares:
        return False
    return sum(share or 0 for share in shares[:most]) > 5000


def is_share_tolerated(declared_hundredths: int, measured_hundredths: int) -> bool:
    """Whether a share lies within the 5 % allowed, read as relative to the declared share.

    Source: Directive (EU) 2024/1438; that the 5 % is relative is this program's own reading.
    """
    allowed = label_figures().origin.eu_tolerance_hundredths
    return abs(declared_hundredths - measured_hundredths) * 10_000 <= allowed * declared_hundredths


def infant_caution() -> str:
    """The caution as this program words it."""
    return label_figures().infant_words
