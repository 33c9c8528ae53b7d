"""What the farm decides about itself."""

from __future__ import annotations

from dataclasses import replace

import pytest

from beeledger.base.errors import Refused
from beeledger.database.ledger import Ledger
from beeledger.model.due import Due
from beeledger.operations.act import perform
from beeledger.operations.farm import set_farm
from beeledger.operations.undo import undo
from beeledger.queries.farm import FarmSettings, farm_settings, new_farm
from beeledger.rules import mites
from beeledger.rules.rounds.entry import Entry, Outcome
from beeledger.rules.rounds.normal import Normal
from tests.builders.yards import LOOKED, rows, yard


def settings(ledger: Ledger) -> FarmSettings:
    with ledger.read() as session:
        return farm_settings(session)


def test_a_new_farm_starts_with_the_rules_own_figures(ledger: Ledger) -> None:
    assert settings(ledger) == new_farm()
    assert settings(ledger).mite_line_hundredths == mites.figures().treat_hundredths
    assert settings(ledger).zone == "Europe/London"


def test_what_the_farm_sets_is_read_back_as_it_was_given(ledger: Ledger) -> None:
    quiet = (Normal("all year", 1, 1, Entry(outcome=Outcome.LOOKED, eggs=True)),)
    changes = {
        "name": "Fenlight Honey", "address": ("The Old Pump House", "Long Drove"), "normals": quiet,
        "gtins": ((340, "5012345678900"),), "mite_line_hundredths": 200, "infant_caution": False,
    }  # fmt: skip
    perform(ledger, set_farm, changes)
    assert settings(ledger) == replace(new_farm(), **changes)
    assert settings(ledger).gtin(340) == "5012345678900"
    assert settings(ledger).gtin(454) == ""


def test_a_setting_changed_twice_is_one_row_and_undo_brings_the_first(ledger: Ledger) -> None:
    perform(ledger, set_farm, {"name": "Fenlight Honey"})
    second = perform(ledger, set_farm, {"name": "Fenlight Bees"})
    undo(ledger, second.act)
    assert settings(ledger).name == "Fenlight Honey"


@pytest.mark.parametrize(
    ("key", "value"),
    [("colour", "red"), ("mite_line_hundredths", "3 %"), ("zone", "Fen/Land"), ("brood_frames", -1), ("gtins", 5), ("normals", [{"name": "x"}]),
     ("normals", [{"name": "x", "month": 2, "day": 30, "entry": {}}]), ("brood_frames", 0), ("brood_boxes", 10),
     ("super_frames", 21), ("nucleus_frames", 0), ("mite_line_hundredths", 0), ("best_before_months", 0),
     ("road_factor_hundredths", 99)],
)  # fmt: skip
def test_a_setting_no_farm_has_or_of_another_kind_is_refused_by_its_name(
    ledger: Ledger, key: str, value: object
) -> None:
    with pytest.raises(Refused) as refusal:
        perform(ledger, set_farm, {"name": "Fenlight Honey", key: value})
    assert [finding.where.field for finding in refusal.value.findings] == [key]
    assert settings(ledger).name == ""


def test_the_farms_own_mite_line_stands_behind_what_is_due_and_behind_the_checks(ledger: Ledger) -> None:
    drove = yard(ledger, "Long Drove", "1", "2")
    # 8 mites in 300 bees are 2.67 %, below the published line of 3 in 100 (USDA-ARS advice).
    drove.post(h1=Entry(eggs=True, mites_count=8, mites_bees=300), h2=LOOKED)
    assert "treat" not in {row.code for row in rows(ledger, Due)}
    set_line = perform(ledger, set_farm, {"mite_line_hundredths": 250})
    (treat,) = rows(ledger, Due, code="treat")
    assert (treat.colony_id, treat.why) == (drove.hives["1"], "2.7 % on 14 May, the line is 2.5 %")
    done = drove.post(h2=Entry(eggs=True, mites_count=9, mites_bees=300))
    assert [one.what for one in done.result.findings] == ["3.0 %, over your line of 2.5 %"]
    undo(ledger, done.act)
    undo(ledger, set_line.act)
    assert rows(ledger, Due, code="treat") == []
