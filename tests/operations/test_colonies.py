"""Colonies founded many at a time, at a site, under their numbers."""

from __future__ import annotations

from datetime import date

import pytest

from beeledger.base.errors import Refused
from beeledger.database.ledger import Ledger
from beeledger.model.colonies import BoxStack, Colony, HiveMark, Placement
from beeledger.model.queens import Queen
from beeledger.operations.act import perform
from beeledger.operations.colonies import Boxes, NewColony, end_colonies, found_colonies, hives_at, number_in
from beeledger.operations.farm import set_farm
from beeledger.operations.queens import NewQueen
from beeledger.operations.sites import NewSite, add_site
from beeledger.operations.undo import undo
from tests.builders.yards import DAY, SPRING, rows, whole, yard


@pytest.fixture
def site(ledger: Ledger) -> int:
    return int(perform(ledger, add_site, NewSite("Long Drove")).result)


def test_twenty_hives_are_founded_in_one_act_and_taken_back(ledger: Ledger, site: int) -> None:
    before = whole(ledger)
    marks = [str(number) for number in range(1, 21)]
    done = perform(ledger, found_colonies, hives_at(site, SPRING, marks, queen_year=2025))
    assert done.sentence == "Founded 20 colonies at Long Drove"
    assert [row.number for row in rows(ledger, HiveMark)] == list(range(1, 21))
    assert [row.stand for row in rows(ledger, Placement)] == list(range(1, 21))
    assert {row.hatch_year for row in rows(ledger, Queen)} == {2025}
    assert len(done.result) == 20
    undo(ledger, done.act)
    assert whole(ledger) == before


def test_a_hive_without_boxes_named_has_the_farms_usual_ones(ledger: Ledger, site: int) -> None:
    perform(
        ledger, set_farm, {"hive_type": "Langstroth", "brood_frame": "langstroth_deep", "brood_frames": 10}
    )
    double = Boxes("National", 2, 11, "national_brood", 3, 10)
    new = [NewColony("1", site, SPRING), NewColony("2", site, SPRING, boxes=double, queen=NewQueen(tag="W1"))]
    perform(ledger, found_colonies, new)
    kept = [
        (row.hive_type, row.brood_boxes, row.brood_frames, row.brood_frame, row.supers)
        for row in rows(ledger, BoxStack)
    ]
    assert kept == [("Langstroth", 1, 10, "langstroth_deep", 0), ("National", 2, 11, "national_brood", 3)]


def test_each_bad_row_is_named_and_nothing_is_founded(ledger: Ledger, site: int) -> None:
    yard(ledger, "Low Dyke", "7")
    new = [
        NewColony("1", site, SPRING),
        NewColony("7", site, SPRING),
        NewColony("8", site, SPRING),
        NewColony(" 8 ", site, SPRING),
        NewColony("9", 99, SPRING),
        NewColony("10", site, date(2027, 1, 1), kind="giant"),
    ]
    with pytest.raises(Refused) as refusal:
        perform(ledger, found_colonies, new)
    assert [(one.where.row, one.where.field) for one in refusal.value.findings] == [
        (2, "mark"), (3, "mark"), (4, "mark"), (5, "site"), (6, "kind"), (6, "on"),
    ]  # fmt: skip
    assert len(rows(ledger, Colony)) == 1


def test_the_number_of_a_dead_hive_is_given_again(ledger: Ledger) -> None:
    drove = yard(ledger, "Long Drove", "7")
    perform(ledger, end_colonies, [drove.hives["7"]], date(2026, 5, 1), "damp")
    perform(ledger, found_colonies, [NewColony("7", drove.site, DAY, kind="nucleus", how="bought")])
    assert [(row.mark, row.until_on) for row in rows(ledger, HiveMark)] == [
        ("7", date(2026, 5, 1)),
        ("7", None),
    ]


def test_a_hive_written_down_late_has_its_number_from_the_day_it_was_free(ledger: Ledger) -> None:
    drove = yard(ledger, "Long Drove", "7")
    perform(ledger, end_colonies, [drove.hives["7"]], DAY, "damp")
    perform(ledger, found_colonies, [NewColony("7", drove.site, date(2026, 5, 1), how="swarm")])
    assert [(row.from_on, row.until_on) for row in rows(ledger, HiveMark)] == [(SPRING, DAY), (DAY, None)]


@pytest.mark.parametrize(("mark", "number"), [("7", 7), ("H007", 7), ("P3-12", 3), ("gate", None)])
def test_hives_are_sorted_by_the_figures_in_their_number(mark: str, number: int | None) -> None:
    assert number_in(mark) == number
