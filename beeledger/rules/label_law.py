"""The law's own look at a label: each particular met, not met, or advised, with its source.

What only a drawn label can tell (heights, contrast, what was cut off) is measured by whoever drew
it and handed in. The program advises; local law and its officers decide.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import folded, listed
from beeledger.rules.label_claims import check_claims, check_flower, check_name, check_place
from beeledger.rules.label_codes import is_gtin
from beeledger.rules.label_figures import label_figures
from beeledger.rules.label_particulars import Particular, State, advised, met, not_met, source_named
from beeledger.rules.labels import (
    Label,
    Market,
    date_words,
    is_date_form_enough,
    least_date_form,
    needs_shares,
    net_words,
    ranked_origins,
    shown_shares,
)
from beeledger.rules.weighing import is_in_scope

NOWHERE = Where()
_NOT_POSTAL = re.compile(r"\S+@\S+|https?://\S+|www\.\S+|\+?[\d\s()]{9,}")
_LETTERS_OF_AN_ADDRESS = 8
_POSTCODE = re.compile(r"\b[A-Z]{1,2}[0-9][A-Z0-9]?\s?[0-9][A-Z]{2}\b", re.IGNORECASE)
"""A British postcode's outward and inward parts (BS 7666), form only."""
_LOT = re.compile(r"L[\s:.]*[\w\-/. ]*\d[\w\-/. ]*")


@dataclass(frozen=True, slots=True)
class Measured:
    """What was measured on the label as drawn, at the size it is printed. Lengths in mm."""

    figure_height_mm: float
    """Of the figures of the net quantity."""
    x_height_mm: float
    """Of the smallest text that the law asks for."""
    largest_surface_cm2: float
    """Of the jar: its body without lid, base, shoulder and neck."""
    same_field: bool
    """Whether name and net quantity (and in the EU the origin) are seen at one glance."""
    contrast: float
    """Of the weakest text on its ground, 1 to 21 (WCAG 2)."""
    imperial_height_mm: float | None = None
    e_mark_height_mm: float | None = None
    cut: tuple[str, ...] = ()
    """What did not come out whole."""


def check_label(label: Label, measured: Measured) -> tuple[Particular, ...]:
    """Every particular the law asks of a jar of honey, in the order they are shown."""
    found: list[Particular | None] = [
        check_name(label),
        check_flower(label),
        check_place(label),
        check_origin(label),
        check_quantity(label, measured),
        check_imperial(label, measured),
        check_e_mark(label, measured),
        check_field(label, measured),
        check_date(label),
        check_lot(label),
        check_business(label),
        check_x_height(measured),
        check_contrast(measured),
        check_whole(measured),
        check_infant(label),
        check_gtin(label),
        *check_claims(label),
    ]
    return tuple(particular for particular in found if particular is not None)


def breaches(particulars: Iterable[Particular]) -> tuple[Particular, ...]:
    """The particulars that are not met: with any of them the label is not to be used."""
    return tuple(particular for particular in particulars if particular.state is State.NOT_MET)


def label_findings(particulars: Iterable[Particular], where: Where = NOWHERE) -> list[Finding]:
    """The breaches as findings that hold a printing, and the advice as notes."""
    grades = {State.NOT_MET: Grade.REFUSED, State.ADVICE: Grade.NOTED}
    return [
        Finding(f"label.{item.key}", grades[item.state], f"{item.title}: {item.words}", item.source, where)
        for item in particulars
        if item.state in grades
    ]


def figure_height_mm(net_g: int) -> float:
    """Least height in mm of the figures of a net quantity in grams (SI 1987/1538)."""
    bands = label_figures().figures
    return next(band.tenths_mm / 10 for band in bands if band.upto_g is None or net_g <= band.upto_g)


def least_x_height_mm(largest_surface_cm2: float) -> float:
    """Least x-height in mm of what the law asks for.

    1.2 mm, or 0.9 mm where the jar's largest surface is below 80 cm².
    Source: Regulation (EU) 1169/2011 art. 13(2) and (3).
    """
    text = label_figures().text
    if largest_surface_cm2 < text.small_surface_cm2:
        return text.small_x_height_tenths_mm / 10
    return text.x_height_tenths_mm / 10


def check_origin(label: Label) -> Particular:
    """The country of harvest: each named, or a blend said to be one; in the EU with shares."""
    title, source = "Country of origin", "honey reg. 17(1)"
    countries = [origin.country for origin in ranked_origins(label.origins)]
    if not countries or not label.origin_words.strip():
        return not_met("origin", title, "the country where it was harvested is missing", source)
    words = folded(label.origin_words)
    if needs_shares(label.market, label.packed_on) and len(countries) > 1:
        return _origin_with_shares(label, words)
    unnamed = [country for country in countries if folded(country) not in words]
    blend = len(countries) > 1 and any(phrase in words for phrase in label_figures().origin.blends)
    if unnamed and not blend:
        return not_met("origin", title, f"{listed(unnamed)} is not named", source)
    return met("origin", title, f"“{label.origin_words}”", source)


def check_quantity(label: Label, measured: Measured) -> Particular:
    """The net quantity, by the height of its figures."""
    title = "Net quantity"
    if not is_in_scope(label.net_g):
        return not_met("quantity", title, f"{label.net_g:,} g lies outside 5 g to 25 kg", "e_mark")
    words = f"{net_words(label.net_g)}, figures"
    return _height(
        "quantity", title, words, measured.figure_height_mm, figure_height_mm(label.net_g), "weight"
    )


def check_imperial(label: Label, measured: Measured) -> Particular | None:
    """An imperial quantity stands second and is no larger than the metric one."""
    if not label.imperial:
        return None
    title, height = "Imperial quantity", measured.imperial_height_mm
    if height is None:
        return not_met("imperial", title, "it was not found on the label as drawn", "weight")
    if _rounded(height) > _rounded(measured.figure_height_mm):
        words = f"{height:.1f} mm, more prominent than the metric {measured.figure_height_mm:.1f} mm"
        return not_met("imperial", title, words, "weight")
    return met("imperial", title, f"{height:.1f} mm, no larger than the metric", "weight")


def check_e_mark(label: Label, measured: Measured) -> Particular | None:
    """The ℮, which is free to use, is at least 3 mm high where it is used."""
    if not label.e_mark:
        return None
    least = label_figures().text.e_mark_tenths_mm / 10
    return _height("e-mark", "℮ mark", "℮", measured.e_mark_height_mm or 0.0, least, "e_mark")


def check_field(label: Label, measured: Measured) -> Particular:
    """Name and quantity in one field of view; in the EU from 2026 the origin in the principal one."""
    title, source = "Same field of view", "food art. 13(5)"
    what = "name and net quantity"
    if needs_shares(label.market, label.packed_on):
        what, source = "name, net quantity and origin", "honey_eu art. 2"
    if measured.same_field:
        return met("field", title, f"{what} at one glance", source)
    return not_met("field", title, f"{what} have to be seen at one glance", source)


def check_date(label: Label) -> Particular:
    """The date of best before tells at least as much as the shelf life asks for (Annex X)."""
    title, source = "Best before", "food Annex X"
    if label.best_before <= label.packed_on:
        return not_met("date", title, "it does not lie after the jarring", source)
    least = least_date_form(label.packed_on, label.best_before)
    if not is_date_form_enough(label.date_form, least):
        return not_met("date", title, f"for this shelf life it has to give {least.value}", source)
    return met("date", title, f"“{date_words(label.best_before, label.date_form)}”", source)


def check_lot(label: Label) -> Particular:
    """The lot mark with its L, without which it must be unmistakable; this program always asks for it."""
    title, mark = "Lot mark", label.lot_mark.strip()
    if not mark:
        return not_met("lot", title, "no lot mark", "lot")
    if not _LOT.fullmatch(mark):
        return not_met("lot", title, f"“{mark}” does not begin with L, or names no lot", "lot")
    return met("lot", title, f"“{mark}”", "lot")


def check_business(label: Label) -> Particular:
    """Name and postal address of the food business; an e-mail or web address alone is not enough."""
    title, source = "Name and address", "food art. 8(1), 9(1)(h)"
    if not label.business.strip():
        return not_met("business", title, "the name of the business is missing", source)
    postal = _NOT_POSTAL.sub(" ", label.address)
    if sum(ch.isalpha() for ch in postal) < _LETTERS_OF_AN_ADDRESS:
        return not_met("business", title, "a postal address is missing", source)
    if label.market is Market.GB and not _POSTCODE.search(postal):
        return advised("business", title, "no postcode found: can a letter reach this address?", source)
    return met("business", title, label.business, source)


def check_x_height(measured: Measured) -> Particular:
    """The smallest text the law asks for, by its x-height."""
    least = least_x_height_mm(measured.largest_surface_cm2)
    place = "art. 13(2)" if least > 1 else "art. 13(3)"
    return _height("x-height", "Size of text", "x-height", measured.x_height_mm, least, f"food {place}")


def check_contrast(measured: Measured) -> Particular:
    """Whether text stands out from its ground; the law says legible, the figures are a yardstick."""
    text, value = label_figures().text, measured.contrast
    wanted, least = text.contrast_hundredths / 100, text.least_contrast_hundredths / 100
    state = State.MET if value >= wanted else State.ADVICE if value >= least else State.NOT_MET
    words = f"{value:.1f} to 1; {wanted:.1f} to 1 reads easily"
    source = source_named("food art. 13(1)")
    return Particular("contrast", "Contrast", state, words, source, value, wanted, "to 1")


def check_whole(measured: Measured) -> Particular:
    """Nothing that belongs on the label was cut off."""
    if measured.cut:
        return not_met("whole", "All of the text", f"{listed(measured.cut)} cut off", "food art. 13(1)")
    return met("whole", "All of the text", "nothing cut off", "food art. 13(1)")


def check_infant(label: Label) -> Particular:
    """The caution for infants: advised everywhere, compulsory nowhere here."""
    title, text = "Caution for infants", folded(label.infant_caution)
    if any(words in text for words in label_figures().infant_must_say):
        return met("infant", title, f"“{label.infant_caution}”", "infant")
    return advised("infant", title, "say that it is not for infants under 12 months", "infant")


def check_gtin(label: Label) -> Particular | None:
    """An article number, where there is one, has a right check digit."""
    if not label.gtin.strip():
        return None
    if is_gtin(label.gtin):
        return met("gtin", "Article number", label.gtin, "gs1")
    return not_met("gtin", "Article number", f"{label.gtin} is mistyped somewhere", "gs1")


def _origin_with_shares(label: Label, words: str) -> Particular:
    """EU, packed from 14 June 2026: every country by falling share, each with its per cent."""
    title, source, at = "Country of origin", "honey_eu art. 2(4)", -1
    unknown = [origin.country for origin in label.origins if origin.share_hundredths is None]
    if unknown:
        return not_met("origin", title, f"the share of {listed(unknown)} is not known", source)
    for country, per_cent in shown_shares(label.origins):
        match = re.search(rf"{re.escape(folded(country))}\W*(?<!\d){per_cent}\s?%", words)
        if match is None:
            return not_met("origin", title, f"{country} with its per cent is missing", source)
        if match.start() < at:
            return not_met("origin", title, "countries have to stand by falling share", source)
        at = match.start()
    return met("origin", title, f"“{label.origin_words}”", source)


def _height(key: str, title: str, what: str, height: float, least: float, source: str) -> Particular:
    tall_enough = _rounded(height) >= least
    state = State.MET if tall_enough else State.NOT_MET
    words = f"{what} {height:.1f} mm high; at least {least:.1f} mm"
    return Particular(key, title, state, words, source_named(source), height, least, "mm")


def _rounded(height: float) -> float:
    """To the thousandth of a mm: a drawing's own rounding is no breach."""
    return round(height, 3)
