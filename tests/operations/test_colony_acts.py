"""Colonies fed, treated, given other boxes and brought back at the desk, with the guards that a round has."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import pytest

from beeledger.base.errors import Refused
from beeledger.database.ledger import Ledger
from beeledger.model.colonies import BoxStack, Colony
from beeledger.model.feeding import Feeding
from beeledger.model.honey import TakeLine
from beeledger.model.medicines import Treatment
from beeledger.operations.act import perform
from beeledger.operations.colonies import end_colonies, found_colonies, hives_at
from beeledger.operations.colony_acts import (
    BoxChange,
    Dose,
    Feed,
    bring_back,
    change_boxes,
    feed_colonies,
    treat_colonies,
)
from beeledger.operations.colony_work import Answers
from beeledger.operations.undo import undo
from beeledger.rules.rounds.entry import Entry, FeedKind
from tests.builders.yards import DAY, LOOKED, Yard, rows, sound, strips, whole, yard

EARLY = date(2026, 5, 1)
SYRUP = Feed(FeedKind.SYRUP_1_1, 2000)


@pytest.fixture
def drove(sqlite_ledger: Ledger) -> Iterator[Yard]:
    """Three hives; whatever a test does to them, the ledger is sound afterwards."""
    yield yard(sqlite_ledger, "Long Drove", "1", "2", "3")
    assert sound(sqlite_ledger)


def hives(drove: Yard, *marks: str) -> list[int]:
    return [drove.hives[mark] for mark in marks]


def test_several_hives_are_fed_in_one_act(drove: Yard) -> None:
    before = whole(drove.ledger)
    done = perform(drove.ledger, feed_colonies, hives(drove, "1", "3"), DAY, SYRUP)
    assert done.sentence == "Fed hives 1 and 3, 2 l syrup 1:1, 14 May"
    assert [(row.volume_ml, row.entry_id) for row in rows(drove.ledger, Feeding)] == [(2000, None)] * 2
    undo(drove.ledger, done.act)
    assert whole(drove.ledger) == before


def test_feed_written_down_late_is_asked_about_where_honey_was_taken_since(drove: Yard) -> None:
    drove.post(date(2026, 4, 20), h1=Entry(supers_on=1))
    drove.post(DAY, h1=Entry(supers_off=1, eggs=True))
    with pytest.raises(Refused, match="hive 1: honey was taken since"):
        perform(drove.ledger, feed_colonies, hives(drove, "1", "2"), EARLY, SYRUP)
    answers = Answers(frozenset({"rounds.honey_taken_since"}))
    perform(drove.ledger, feed_colonies, hives(drove, "1", "2"), EARLY, SYRUP, answers)
    assert rows(drove.ledger, TakeLine)[0].reason


def test_medicine_under_supers_wants_a_written_reason(drove: Yard) -> None:
    pack = strips(drove.ledger)
    drove.post(EARLY, h1=Entry(supers_on=1))
    with pytest.raises(Refused, match="hive 1: treated"):
        perform(drove.ledger, treat_colonies, hives(drove, "1", "2"), DAY, Dose(pack, 2))
    perform(
        drove.ledger,
        treat_colonies,
        hives(drove, "1", "2"),
        DAY,
        Dose(pack, 2),
        Answers(reason="all is bees' own"),
    )
    assert [(row.pieces, row.reason) for row in rows(drove.ledger, Treatment)] == [
        (2, "all is bees' own"), (2, None),
    ]  # fmt: skip


def test_the_pack_that_was_chosen_is_the_pack_in_the_hive_and_comes_out_again(drove: Yard) -> None:
    first, _second = strips(drove.ledger), strips(drove.ledger, usual=False)
    perform(drove.ledger, treat_colonies, hives(drove, "1"), EARLY, Dose(first, 2))
    done = perform(drove.ledger, treat_colonies, hives(drove, "1"), DAY, Dose(first, out=True))
    assert done.sentence == "Took out of hive 1: Fen strips, 14 May"
    assert [(row.medicine_id, row.out_on) for row in rows(drove.ledger, Treatment)] == [(first, DAY)]


def test_boxes_changed_late_are_what_later_rounds_count_on_from(drove: Yard) -> None:
    drove.post(DAY, h1=Entry(supers_on=1))
    done = perform(
        drove.ledger, change_boxes, hives(drove, "1", "2"), EARLY, BoxChange(brood_boxes=2, supers=1)
    )
    boxes = drove.line("1").boxes
    assert boxes is not None
    assert (boxes.brood_boxes, boxes.supers) == (2, 2)
    undo(drove.ledger, done.act)
    again = drove.line("1").boxes
    assert again is not None
    assert (again.brood_boxes, again.supers) == (1, 1)


def test_supers_taken_off_at_the_desk_are_no_honey(drove: Yard) -> None:
    drove.post(EARLY, h1=Entry(supers_on=2))
    with pytest.raises(Refused, match="no honey taken"):
        perform(drove.ledger, change_boxes, hives(drove, "1"), DAY, BoxChange(supers=0))
    answers = Answers(frozenset({"colony.supers_off"}))
    perform(drove.ledger, change_boxes, hives(drove, "1"), DAY, BoxChange(supers=0), answers)
    assert rows(drove.ledger, BoxStack, colony_id=drove.hives["1"])[-1].supers == 0


def test_supers_written_down_late_over_medicine_are_asked_about(drove: Yard) -> None:
    perform(drove.ledger, treat_colonies, hives(drove, "1"), DAY, Dose(strips(drove.ledger), 2))
    with pytest.raises(Refused, match="medicine went in"):
        perform(drove.ledger, change_boxes, hives(drove, "1"), EARLY, BoxChange(supers=1))


def test_a_nucleus_hived_up_counts_as_full(drove: Yard) -> None:
    (small,) = perform(
        drove.ledger, found_colonies, hives_at(drove.site, EARLY, ["9"], kind="nucleus")
    ).result
    perform(drove.ledger, change_boxes, [small], DAY, BoxChange("full", brood_boxes=1, brood_frames=11))
    assert rows(drove.ledger, Colony, id=small)[0].kind == "full"


def test_a_hive_called_dead_in_error_is_brought_back_with_all_it_had(drove: Yard) -> None:
    before = whole(drove.ledger)
    perform(drove.ledger, end_colonies, hives(drove, "1"), EARLY, "starvation")
    done = perform(drove.ledger, bring_back, drove.hives["1"])
    assert done.sentence == "Brought back hive 1"
    assert whole(drove.ledger) == before
    with pytest.raises(Refused, match="has not ended"):
        perform(drove.ledger, bring_back, drove.hives["1"])


def test_a_hive_brought_back_gets_a_number_of_its_own_where_its_old_one_is_taken(drove: Yard) -> None:
    perform(drove.ledger, end_colonies, hives(drove, "1"), EARLY, "starvation")
    perform(drove.ledger, found_colonies, hives_at(drove.site, DAY, ["1"]))
    with pytest.raises(Refused, match="on another hive now"):
        perform(drove.ledger, bring_back, drove.hives["1"])
    perform(drove.ledger, bring_back, drove.hives["1"], "7")
    assert drove.line("7").colony_id == drove.hives["1"]


def test_a_hive_that_was_not_there_yet_gets_nothing(drove: Yard) -> None:
    with pytest.raises(Refused, match="was not there yet"):
        perform(drove.ledger, feed_colonies, hives(drove, "1"), date(2026, 1, 1), SYRUP)
    drove.post(DAY, h1=LOOKED)
