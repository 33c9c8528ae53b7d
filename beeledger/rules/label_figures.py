"""The figures and word lists of labelling.toml, read once."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from functools import cache

from beeledger.base.resources import table


@dataclass(frozen=True, slots=True)
class FigureBand:
    """Least height of the figures of a quantity up to and with a weight; None for the last band."""

    tenths_mm: int
    upto_g: int | None = None


@dataclass(frozen=True, slots=True)
class TextFigures:
    """Sizes and contrasts of what is printed."""

    x_height_tenths_mm: int
    small_x_height_tenths_mm: int
    small_surface_cm2: int
    e_mark_tenths_mm: int
    contrast_hundredths: int
    least_contrast_hundredths: int


@dataclass(frozen=True, slots=True)
class OriginFigures:
    """What is asked of the countries of harvest."""

    eu_shares_from: date
    eu_tolerance_hundredths: int
    eu_most_named: int
    blends: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class DoubtfulWords:
    """Words that mislead or promise health, whether they are a breach, and why."""

    words: tuple[str, ...]
    breach: bool
    why: str


@dataclass(frozen=True, slots=True)
class LabelFigures:
    """All of labelling.toml but the products."""

    figures: tuple[FigureBand, ...]
    text: TextFigures
    day_upto_months: int
    month_upto_months: int
    origin: OriginFigures
    mainly_hundredths: int
    infant_words: str
    infant_must_say: tuple[str, ...]
    doubtful: tuple[DoubtfulWords, ...]
    sources: tuple[tuple[str, str], ...]


@cache
def label_figures() -> LabelFigures:
    """The figures, read once from labelling.toml."""
    rules = table("rules", "labelling.toml")
    return LabelFigures(
        figures=tuple(FigureBand(**row) for row in rules["figure"]),
        text=TextFigures(**rules["text"]),
        day_upto_months=rules["dates"]["day_upto_months"],
        month_upto_months=rules["dates"]["month_upto_months"],
        origin=OriginFigures(**{**rules["origin"], "blends": tuple(rules["origin"]["blends"])}),
        mainly_hundredths=rules["floral"]["mainly_hundredths"],
        infant_words=rules["infant"]["words"],
        infant_must_say=tuple(rules["infant"]["must_say"]),
        doubtful=tuple(DoubtfulWords(tuple(c["words"]), c["breach"], c["why"]) for c in rules["claim"]),
        sources=tuple(rules["sources"].items()),
    )
