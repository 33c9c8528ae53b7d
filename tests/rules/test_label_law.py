"""The law's look at a label, particular by particular."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from beeledger.base.findings import Grade
from beeledger.rules import label_law
from beeledger.rules.label_law import Measured, breaches, check_label, label_findings
from beeledger.rules.label_particulars import State
from beeledger.rules.labels import DateForm, Label, Market, Origin

SOUND = Label(
    name="Honey",
    net_g=454,
    origins=(Origin("England", 10_000),),
    origin_words="Honey from England",
    lot_mark="L HG26-0143-39",
    packed_on=date(2026, 9, 14),
    best_before=date(2028, 9, 30),
    date_form=DateForm.MONTH,
    business="Hollin Gate Honey Farm",
    address="Hollin Gate, Withy Lane, Oldmere, ZZ9 9ZZ",
    infant_caution="Not for infants under 12 months.",
    gtin="6291041500213",
)
DRAWN = Measured(
    figure_height_mm=4.0, x_height_mm=1.2, largest_surface_cm2=180.0, same_field=True, contrast=13.0
)


def state(key, label=SOUND, drawn=DRAWN):
    return {particular.key: particular.state for particular in check_label(label, drawn)}.get(key)


def test_a_sound_label_meets_every_particular():
    particulars = check_label(SOUND, DRAWN)
    assert {particular.state for particular in particulars} == {State.MET}
    assert [particular.key for particular in particulars] == [
        "name", "origin", "quantity", "field", "date", "lot", "business", "x-height", "contrast", "whole",
        "infant", "gtin", "claim",
    ]  # fmt: skip
    assert all(particular.source for particular in particulars)
    assert label_findings(particulars) == []


# SI 1987/1538: height of the figures of the quantity.
@pytest.mark.parametrize(
    ("net_g", "height"),
    [(42, 2), (50, 2), (51, 3), (113, 3), (200, 3), (201, 4), (227, 4), (340, 4), (454, 4), (1000, 4),
     (1001, 6), (1360, 6), (13_600, 6)],
)  # fmt: skip
def test_figures_are_as_high_as_the_quantity_asks(net_g, height):
    assert label_law.figure_height_mm(net_g) == height
    label = replace(SOUND, net_g=net_g)
    assert state("quantity", label, replace(DRAWN, figure_height_mm=height)) is State.MET
    assert state("quantity", label, replace(DRAWN, figure_height_mm=height - 0.01)) is State.NOT_MET


def test_a_figure_too_low_tells_what_was_measured_and_what_is_wanted():
    (found,) = breaches(check_label(SOUND, replace(DRAWN, figure_height_mm=3.4)))
    assert (found.key, found.measured, found.least, found.unit) == ("quantity", 3.4, 4.0, "mm")
    assert found.words == "454 g, figures 3.4 mm high; at least 4.0 mm"
    assert "1987/1538" in found.source


def test_a_drawings_own_rounding_is_no_breach():
    assert state("quantity", drawn=replace(DRAWN, figure_height_mm=3.9999999)) is State.MET


# Regulation (EU) 1169/2011 art. 13(2) and (3).
@pytest.mark.parametrize(
    ("surface", "x_height", "stands"),
    [
        (80.0, 1.2, State.MET),
        (80.0, 1.19, State.NOT_MET),
        (79.9, 0.9, State.MET),
        (79.9, 0.89, State.NOT_MET),
    ],
)
def test_text_is_as_large_as_the_jar_asks(surface, x_height, stands):
    drawn = replace(DRAWN, largest_surface_cm2=surface, x_height_mm=x_height)
    assert state("x-height", drawn=drawn) is stands


@pytest.mark.parametrize(
    ("change", "key"),
    [
        ({"name": ""}, "name"),
        ({"origins": ()}, "origin"),
        ({"origin_words": " "}, "origin"),
        ({"origin_words": "Honey from Wales"}, "origin"),
        ({"net_g": 0}, "quantity"),
        ({"lot_mark": ""}, "lot"),
        ({"lot_mark": "HG26-0143-39"}, "lot"),
        ({"lot_mark": "L"}, "lot"),
        ({"best_before": date(2026, 9, 14)}, "date"),
        ({"best_before": date(2027, 9, 30), "date_form": DateForm.YEAR}, "date"),
        ({"business": ""}, "business"),
        ({"address": ""}, "business"),
        ({"address": "post@hollin-gate.example, www.hollin-gate.example, 01632 960 001"}, "business"),
        ({"gtin": "6291041500214"}, "gtin"),
        ({"other_words": ("A remedy for hay fever",)}, "claim"),
    ],
)
def test_a_missing_particular_is_not_met(change, key):
    found = breaches(check_label(replace(SOUND, **change), DRAWN))
    assert {particular.key for particular in found} == {key}


@pytest.mark.parametrize(
    ("change", "key"),
    [({"same_field": False}, "field"), ({"contrast": 2.9}, "contrast"), ({"cut": ("the address",)}, "whole")],
)
def test_what_the_drawing_gets_wrong_is_not_met(change, key):
    found = breaches(check_label(SOUND, replace(DRAWN, **change)))
    assert [particular.key for particular in found] == [key]


@pytest.mark.parametrize(
    ("change", "key"),
    [({"infant_caution": ""}, "infant"), ({"infant_caution": "Keep cool"}, "infant"),
     ({"address": "Hollin Gate, Withy Lane, Oldmere"}, "business"), ({"other_words": ("Raw honey",)}, "claim"),
     ({"name": "Heather honey"}, "name")],
)  # fmt: skip
def test_what_the_law_does_not_force_is_advised(change, key):
    particulars = check_label(replace(SOUND, **change), DRAWN)
    assert breaches(particulars) == ()
    assert [particular.key for particular in particulars if particular.state is State.ADVICE] == [key]


def test_a_weak_contrast_is_advised_against_before_it_is_a_breach():
    assert state("contrast", drawn=replace(DRAWN, contrast=4.4)) is State.ADVICE
    assert state("contrast", drawn=replace(DRAWN, contrast=4.5)) is State.MET


@pytest.mark.parametrize(
    ("height", "stands"), [(None, State.NOT_MET), (4.5, State.NOT_MET), (4.0, State.MET), (3.0, State.MET)]
)
def test_the_imperial_weight_is_no_larger_than_the_metric(height, stands):
    drawn = replace(DRAWN, imperial_height_mm=height)
    assert state("imperial", replace(SOUND, imperial=True), drawn) is stands
    assert state("imperial", drawn=drawn) is None


@pytest.mark.parametrize(
    ("height", "stands"), [(None, State.NOT_MET), (2.9, State.NOT_MET), (3.0, State.MET)]
)
def test_the_e_mark_is_three_millimetres_high(height, stands):
    # SI 2006/659; Directive 76/211/EEC: at least 3 mm.
    assert state("e-mark", replace(SOUND, e_mark=True), replace(DRAWN, e_mark_height_mm=height)) is stands


def test_a_british_blend_names_its_countries_or_says_that_it_is_one():
    blend = replace(SOUND, origins=(Origin("England", 6000), Origin("Chile", 4000)))
    assert state("origin", replace(blend, origin_words="Honey from England")) is State.NOT_MET
    assert state("origin", replace(blend, origin_words="Honey from England and Chile")) is State.MET
    phrase = "Blend of honeys from more than one country"
    assert state("origin", replace(blend, origin_words=phrase)) is State.MET
    assert state("origin", replace(SOUND, origin_words=phrase)) is State.NOT_MET


@pytest.mark.parametrize(
    ("words", "stands"),
    [
        ("England 60 %, Chile 40 %", State.MET),
        ("Blend of honeys from England 60 % and Chile 40 %", State.MET),
        ("Chile 40 %, England 60 %", State.NOT_MET),
        ("England 60 %, Chile", State.NOT_MET),
        ("England 60 %, Chile 140 %", State.NOT_MET),
        ("Blend of EU and non-EU honeys", State.NOT_MET),
    ],
)
def test_an_eu_blend_gives_every_share_largest_first(words, stands):
    # Directive (EU) 2024/1438, packs from 14 June 2026.
    origins = (Origin("Chile", 4000), Origin("England", 6000))
    label = replace(SOUND, market=Market.EU, origins=origins, origin_words=words)
    assert state("origin", label) is stands


def test_an_eu_blend_of_unknown_shares_is_not_met():
    origins = (Origin("Chile"), Origin("England", 6000))
    label = replace(SOUND, market=Market.EU, origins=origins, origin_words="England 60 %, Chile 40 %")
    (found,) = breaches(check_label(label, DRAWN))
    assert found.words == "the share of Chile is not known"


def test_breaches_hold_a_printing_and_advice_is_noted():
    label = replace(SOUND, lot_mark="", infant_caution="")
    found = label_findings(check_label(label, DRAWN))
    assert [(f.code, f.grade) for f in found] == [
        ("label.lot", Grade.REFUSED),
        ("label.infant", Grade.NOTED),
    ]
    assert found[0].what == "Lot mark: no lot mark"
