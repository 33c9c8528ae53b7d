"""What may be sold as honey: SI 2015/1348 Sched. 1 and Directive 2001/110/EC Annex II, row by row."""

from __future__ import annotations

import pytest

from beeledger.base.findings import Grade
from beeledger.rules.honey_composition import (
    CRITERIA,
    Kind,
    Limit,
    Reading,
    Standing,
    composition_findings,
    judge,
    kinds,
    limit_of,
    standing,
)

SUCROSE_10 = ("false_acacia", "alfalfa", "banksia", "french_honeysuckle", "red_gum", "leatherwood", "citrus")
NO_CONDUCTIVITY = (
    "strawberry_tree",
    "bell_heather",
    "eucalyptus",
    "lime",
    "ling_heather",
    "manuka",
    "tea_tree",
)


def verdict_on(criterion, reading, kind):
    return next(verdict for verdict in judge(reading, kind) if verdict.criterion == criterion).met


# Annex II of the Directive, transcribed as limits.
@pytest.mark.parametrize(
    ("criterion", "kind", "limit"),
    [
        ("sugars", Kind(), Limit(least=6000)),
        ("sugars", Kind("honeydew"), Limit(least=4500)),
        ("sugars", Kind("honeydew_blend"), Limit(least=4500)),
        ("sucrose", Kind(), Limit(most=500)),
        *[("sucrose", Kind(key), Limit(most=1000)) for key in SUCROSE_10],
        ("sucrose", Kind("lavender"), Limit(most=1500)),
        ("sucrose", Kind("borage"), Limit(most=1500)),
        ("moisture", Kind(), Limit(most=2000)),
        ("moisture", Kind("ling_heather"), Limit(most=2300)),
        ("moisture", Kind("bell_heather"), Limit(most=2000)),
        ("moisture", Kind(bakers=True), Limit(most=2300)),
        ("moisture", Kind("ling_heather", bakers=True), Limit(most=2500)),
        ("insoluble", Kind(), Limit(most=10)),
        ("insoluble", Kind("ling_heather", pressed=True), Limit(most=50)),
        ("conductivity", Kind(), Limit(most=800)),
        ("conductivity", Kind("honeydew"), Limit(least=800)),
        ("conductivity", Kind("chestnut"), Limit(least=800)),
        *[("conductivity", Kind(key), Limit()) for key in NO_CONDUCTIVITY],
        ("free_acid", Kind(), Limit(most=500)),
        ("free_acid", Kind(bakers=True), Limit(most=800)),
        ("diastase", Kind(), Limit(least=80)),
        ("diastase", Kind(bakers=True), Limit()),
        ("hmf", Kind(), Limit(most=400)),
        ("hmf", Kind(tropical=True), Limit(most=800)),
        ("hmf", Kind(bakers=True), Limit()),
    ],
)
def test_each_limit_is_that_of_the_regulations(criterion, kind, limit):
    assert limit_of(criterion, kind) == limit


@pytest.mark.parametrize(
    ("moisture", "kind", "sold"),
    [
        (2000, Kind(), Standing.AS_NAMED),
        (2001, Kind(), Standing.BAKERS_ONLY),
        (2290, Kind("ling_heather"), Standing.AS_NAMED),
        (2290, Kind(), Standing.BAKERS_ONLY),
        (2310, Kind("ling_heather"), Standing.BAKERS_ONLY),
        (2400, Kind(), Standing.NOT_AS_HONEY),
        (2510, Kind("ling_heather"), Standing.NOT_AS_HONEY),
        (2300, Kind(bakers=True), Standing.AS_NAMED),
        (2301, Kind(bakers=True), Standing.NOT_AS_HONEY),
    ],
)
def test_moisture_decides_what_a_honey_may_be_sold_as(moisture, kind, sold):
    assert standing(Reading(moisture_hundredths=moisture), kind) is sold


@pytest.mark.parametrize(
    ("criterion", "reading", "kind", "met"),
    [
        ("sucrose", Reading(sucrose_hundredths=1400), Kind("borage"), True),
        ("sucrose", Reading(sucrose_hundredths=1510), Kind("borage"), False),
        ("hmf", Reading(hmf_tenths=400), Kind(), True),
        ("hmf", Reading(hmf_tenths=410), Kind(), False),
        ("conductivity", Reading(conductivity_us_cm=900), Kind(), False),
        ("conductivity", Reading(conductivity_us_cm=900), Kind("ling_heather"), True),
        ("diastase", Reading(diastase_tenths=50, hmf_tenths=120), Kind("citrus"), True),
        ("diastase", Reading(diastase_tenths=50, hmf_tenths=160), Kind("citrus"), False),
        ("diastase", Reading(diastase_tenths=29, hmf_tenths=120), Kind("citrus"), False),
        ("diastase", Reading(diastase_tenths=50, hmf_tenths=120), Kind(), False),
        ("diastase", Reading(diastase_tenths=50, hmf_tenths=150), Kind(low_enzyme=True), True),
        ("diastase", Reading(diastase_tenths=50), Kind("citrus"), None),
        ("diastase", Reading(), Kind(), None),
    ],
)
def test_a_reading_is_judged_by_its_kind(criterion, reading, kind, met):
    assert verdict_on(criterion, reading, kind) is met


def test_every_criterion_is_judged_for_every_kind_and_names_its_law():
    for key in kinds():
        verdicts = judge(Reading(), Kind(key))
        assert tuple(verdict.criterion for verdict in verdicts) == CRITERIA
        assert all("2015/1348" in verdict.source for verdict in verdicts)


def test_a_wet_honey_is_asked_about_in_plain_words():
    (found,) = composition_findings(judge(Reading(moisture_hundredths=2010), Kind()))
    assert found.grade is Grade.AGAINST
    assert found.what == "moisture 20.1 %, at most 20 % allowed"


def test_a_low_diastase_without_hmf_is_doubtful():
    (found,) = composition_findings(judge(Reading(diastase_tenths=50), Kind("citrus")))
    assert (found.code, found.grade) == ("honey.diastase", Grade.DOUBTFUL)
    assert "15 mg/kg" in found.mend


def test_what_nobody_measured_gives_no_finding_and_proves_nothing():
    assert composition_findings(judge(Reading(), Kind())) == []
    assert standing(Reading(), Kind()) is Standing.NOT_MEASURED


def test_a_nought_was_measured():
    assert standing(Reading(hmf_tenths=0), Kind()) is Standing.AS_NAMED


def test_a_high_hmf_leaves_the_baker():
    assert standing(Reading(hmf_tenths=900), Kind()) is Standing.BAKERS_ONLY


def test_an_unknown_kind_is_refused():
    with pytest.raises(ValueError, match="dandelion"):
        Kind("dandelion")


def test_a_limit_is_told_in_words():
    words = {v.criterion: v.allowed() for v in judge(Reading(), Kind("ling_heather"))}
    assert words["conductivity"] == "no limit for this kind"
    assert words["sugars"] == "at least 60 g/100 g required"
    assert words["hmf"] == "at most 40 mg/kg allowed"
