"""History in readable words: every table and field of the ledger."""

from __future__ import annotations

import re

import pytest

from beeledger.model.base import Base
from beeledger.queries.acts import FieldChange, RowChange
from beeledger.ui.places.history.card import broken, change_facts
from beeledger.ui.places.history.words import field_word, table_word, value_words

LONDON = "Europe/London"
AUDITED = sorted(
    (mapper.class_.__tablename__, mapper.class_) for mapper in Base.registry.mappers if mapper.class_.audited
)


@pytest.mark.parametrize("name", [name for name, _model in AUDITED])
def test_every_table_has_a_word_of_the_trade(name: str) -> None:
    from beeledger.base.resources import table

    assert name in table("words", "history.toml")["tables"]
    assert "_" not in table_word(name)


def test_no_field_is_told_with_the_ending_of_its_scale() -> None:
    fields = {column.key for _name, model in AUDITED for column in model.__table__.columns}
    said = {name: field_word(name) for name in fields}
    bad = re.compile(r"_| (g|ml|tenths|hundredths|pence|id|e5|e6|m2)$")
    assert {name: word for name, word in said.items() if bad.search(word) or not word} == {}
    assert len(fields) > 150


def test_every_word_listed_belongs_to_a_table_or_a_field_that_is_there() -> None:
    from beeledger.base.resources import table

    words = table("words", "history.toml")
    fields = {column.key for _name, model in AUDITED for column in model.__table__.columns}
    assert set(words["tables"]) <= {name for name, _model in AUDITED}
    assert set(words["fields"]) <= fields


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("stores_g", "13608", "13.608 kg"),
        ("grams", "27250", "27.250 kg"),
        ("feed_ml", "2500", "2.50 l"),
        ("brood_tenths", "75", "7.5"),
        ("price_pence", "148800", "£1,488.00"),
        ("share_hundredths", "1250", "12.50 %"),
        ("area_m2", "85000", "8.5 ha"),
        ("start_minute", "605", "10:05"),
        ("latitude_e6", "52331000", "52.331000"),
        ("net_tenths_g", "3405", "340.5 g"),
        ("temperature_tenths", "205", "20.5 °C"),
        ("refractive_index_e5", "149123", "1.49123"),
        ("on", "2026-05-14", "14 May 2026"),
        ("permission_until", "2027-03-31", "31 Mar 2027"),
        ("until_at", "2026-05-14T18:00:00+00:00", "14 May 2026, 19:00"),
        ("excluder", "True", "yes"),
        ("queen_seen", "False", "no"),
        ("end_cause", "queen_failure", "queen failure"),
        ("note", "took_the_lid", "took_the_lid"),
        ("value", '["The Old Pump House","Long Drove"]', "The Old Pump House, Long Drove"),
        ("value", '"FH"', "FH"),
        ("value", "300", "300"),
        ("value", "true", "yes"),
        ("stores_g", None, "blank"),
        ("stores_g", "not a number", "not a number"),
        ("brood_given_from", "1041", "1041"),
        ("value", "[", "["),
    ],
)
def test_a_value_is_told_as_a_person_would_say_it(field: str, value: str | None, said: str) -> None:
    assert value_words(field, value, LONDON) == said


def test_a_change_shows_before_and_after_and_leaves_out_what_says_nothing() -> None:
    fields = (
        FieldChange("stores_g", None, "6000"),
        FieldChange("temper", "2", None),
        FieldChange("uid", "a", "b"),
    )
    change = RowChange("round_entry", 7, "changed", fields)
    facts = change_facts([change], LONDON)
    assert [(fact.name, fact.value, fact.middle) for fact in facts] == [
        ("Entry of a round 7", "changed", ""),
        ("stores", "", "blank → 6.000 kg"),
        ("temper", "", "2 → blank"),
    ]


def test_a_row_with_a_name_is_called_by_it() -> None:
    site = RowChange("site", 3, "added", (FieldChange("name", None, "Sedge Holt"),), "Sedge Holt")
    setting = RowChange("farm_setting", 2, "removed", (FieldChange("value", '"FH"', None),), "lot_prefix")
    facts = change_facts([site, setting], LONDON)
    assert [(fact.name, fact.middle) for fact in facts] == [
        ("Site Sedge Holt", ""), ("name", "Sedge Holt"), ("Setting lot prefix", ""), ("value", "FH"),
    ]  # fmt: skip
    assert facts[2].value == "taken out"


def test_a_long_note_goes_on_in_the_lines_below_and_loses_no_word(qapp: object) -> None:
    note = "Queen cells knocked down twice, superseded in July; strong on the heather but robbed in September"
    change = RowChange("site", 3, "added", (FieldChange("note", None, note),))
    facts = change_facts([change], LONDON, 200)
    assert [fact.name for fact in facts[:3]] == ["Site 3", "note", ""]
    assert len(facts) > 3
    assert " ".join(fact.middle for fact in facts[1:]) == note
    assert broken("oneverylongwordwithoutablank", 20) == ["oneverylongwordwithoutablank"]
    assert broken("two\nlines", 0) == ["two lines"]
