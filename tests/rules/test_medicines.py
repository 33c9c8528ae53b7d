"""Treatments by the day and the record the law wants, against worked dates and the regulations."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from beeledger.base.findings import Grade
from beeledger.rules import medicines
from beeledger.rules.medicines import MedicineRecord, RecordKind, Treatment

STRIPS = Treatment("amitraz", date(2025, 9, 12), date(2025, 10, 31), withdrawal_days=0)
GIVEN = MedicineRecord(
    RecordKind.GIVEN, "Strips A", "B 7", date(2025, 9, 12), "2 strips a hive", 0, ("41", "42")
)


def test_strips_are_due_out_after_six_weeks_and_a_trickle_never():
    assert medicines.out_due("amitraz", date(2026, 3, 20)) == date(2026, 5, 1)
    assert medicines.out_due("oxalic_trickle", date(2026, 12, 20)) is None


@pytest.mark.parametrize("active", sorted(medicines.courses()))
def test_every_course_is_in_order_and_says_where_it_comes_from(active):
    usual = medicines.course(active)
    assert 1 <= usual.least_days <= usual.out_days <= usual.most_days
    assert usual.source
    assert usual.supers_off


def test_strips_are_in_from_their_day_and_out_from_their_day():
    assert not medicines.is_in_treatment(STRIPS, date(2025, 9, 11))
    assert medicines.is_in_treatment(STRIPS, date(2025, 9, 12))
    assert medicines.is_in_treatment(STRIPS, date(2025, 10, 30))
    assert not medicines.is_in_treatment(STRIPS, date(2025, 10, 31))
    assert medicines.may_take_honey([STRIPS], date(2025, 10, 31))


def test_withdrawal_begins_the_day_strips_are_out():
    waiting = replace(STRIPS, withdrawal_days=14)
    assert medicines.is_in_withdrawal(waiting, date(2025, 10, 31))
    assert medicines.is_in_withdrawal(waiting, date(2025, 11, 13))
    assert not medicines.is_in_withdrawal(waiting, date(2025, 11, 14))
    assert medicines.free_from(waiting) == date(2025, 11, 14)
    assert not medicines.may_take_honey([waiting], date(2025, 11, 13))


def test_strips_never_taken_out_never_free_the_honey():
    left = Treatment("amitraz", date(2025, 9, 12))
    assert medicines.free_from(left) is None
    assert medicines.is_in_treatment(left, date(2026, 9, 12))
    assert not medicines.may_take_honey([left], date(2026, 9, 12))


def test_a_trickle_counts_for_its_day():
    trickle = Treatment("oxalic_trickle", date(2025, 12, 20), withdrawal_days=0)
    assert medicines.is_in_treatment(trickle, date(2025, 12, 20))
    assert medicines.may_take_honey([trickle], date(2025, 12, 21))


def test_a_course_too_short_or_too_long_is_doubtful_and_a_backward_one_refused():
    def findings(out, today=date(2026, 1, 1)):
        found = medicines.check_course(replace(STRIPS, taken_out=out), today)
        return [(finding.code, finding.grade) for finding in found]

    assert findings(date(2025, 10, 24)) == []
    assert findings(date(2025, 10, 23)) == [("medicine.short", Grade.DOUBTFUL)]
    assert findings(date(2025, 11, 21)) == []
    assert findings(date(2025, 11, 22)) == [("medicine.long", Grade.DOUBTFUL)]
    assert findings(None) == [("medicine.long", Grade.DOUBTFUL)]
    assert findings(None, date(2025, 10, 1)) == []
    assert findings(date(2025, 9, 11)) == [("medicine.out-before-in", Grade.REFUSED)]


def test_a_complete_record_of_giving_has_nothing_missing():
    """SI 2013/2033 regulation 19(2): product, date, quantity, withdrawal period, animals; a nought is written."""
    assert medicines.check_record(GIVEN) == []


@pytest.mark.parametrize(
    ("field", "blank"),
    [
        ("product", ""),
        ("batch", ""),
        ("on", None),
        ("quantity", ""),
        ("withdrawal_days", None),
        ("hives", ()),
    ],
)
def test_each_field_of_giving_is_asked_for(field, blank):
    found = medicines.check_record(replace(GIVEN, **{field: blank}))
    assert [finding.code for finding in found] == [f"medicine.missing-{field}"]


def test_buying_and_disposing_ask_for_their_own_fields():
    """Regulations 17 and 19(1); regulation 20."""
    bought = MedicineRecord(RecordKind.BOUGHT, "Strips A", "B 7", date(2025, 8, 1), "10 packs")
    assert [finding.code.split("-", 1)[1] for finding in medicines.check_record(bought)] == [
        "supplier",
        "supplier_address",
        "proof_of_purchase",
    ]
    disposed = MedicineRecord(RecordKind.DISPOSED, "Strips A", "", date(2025, 11, 1), "80 strips")
    assert [finding.what for finding in medicines.check_record(disposed)] == [
        "The way and place of disposal is missing"
    ]


def test_a_record_is_kept_five_years():
    """SI 2013/2033: used 12 September 2025, taken out 31 October 2025, kept to 31 October 2030."""
    assert medicines.keep_until(date(2025, 10, 31)) == date(2030, 10, 31)
    assert medicines.keep_until(date(2028, 2, 29)) == date(2033, 3, 1)


def test_acids_are_warned_of_first_and_the_label_always_decides():
    """Acid-proof gloves, goggles, mask: a study of the University of Tübingen on oxalic acid outdoors."""
    acid, *rest = medicines.cautions("oxalic_vapour")
    assert all(word in acid for word in ("gloves", "goggles", "mask", "label"))
    assert "Take it out" not in " ".join(rest)  # nothing stays in
    assert medicines.cautions("formic")[0] == acid
    strips = medicines.cautions("amitraz")
    assert acid not in strips
    assert strips[0].startswith("Take it out when the course ends")
    for active in medicines.courses():
        assert any(
            line.startswith("The label, the law and licensed practice decide")
            for line in medicines.cautions(active)
        )
        assert "unless the label allows" in medicines.supers_rule(active)


def test_a_medicine_may_be_given_on_the_day_it_expires_and_not_after():
    """Common practice, no source: the date printed is the last day."""
    last = date(2026, 6, 30)
    assert medicines.check_expiry("Strips A", last, last) == []
    (finding,) = medicines.check_expiry("Strips A", last, date(2026, 7, 1))
    assert (finding.grade, finding.what) == (
        Grade.DOUBTFUL,
        "Strips A was given after it expired on 30 Jun 2026",
    )
    assert medicines.check_expiry("Strips A", None, last) == []


def test_a_record_is_kept_to_the_end_of_its_five_years_and_one_without_a_day_always():
    """SI 2013/2033, regulations 17 to 20: five years, the last day still belongs to them."""
    assert medicines.must_be_kept(date(2025, 10, 31), date(2030, 10, 31))
    assert not medicines.must_be_kept(date(2025, 10, 31), date(2030, 11, 1))
    assert medicines.must_be_kept(None, date(2050, 1, 1))
