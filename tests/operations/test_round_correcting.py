"""A posted round opened again and put right, also weeks later: what had followed from it follows the new version."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import pytest

from beeledger.base.errors import Refused
from beeledger.database.ledger import Ledger
from beeledger.model.colonies import BoxStack, Colony, ColonyTransfer
from beeledger.model.due import Task
from beeledger.model.feeding import Feeding
from beeledger.model.honey import HoneyLot, Take, TakeLine
from beeledger.model.medicines import MiteCount, Treatment
from beeledger.model.rounds import Round, RoundEntry
from beeledger.operations.act import Done, perform
from beeledger.operations.rounds import Line, correct_round
from beeledger.operations.undo import undo
from beeledger.queries.rounds import entries_of_round
from beeledger.rules.rounds.entry import (
    Cause,
    Entry,
    FeedKind,
    NextAction,
    Outcome,
    QueenState,
    Split,
    SplitQueen,
)
from tests.builders.yards import DAY, LOOKED, Yard, rows, sound, strips, whole, yard

FIRST = date(2026, 5, 4)
FED = Entry(eggs=True, brood_tenths=80, feed_kind=FeedKind.SUGAR, feed_g=1000, mites_count=3, mites_bees=300)


@pytest.fixture
def drove(ledger: Ledger) -> Iterator[Yard]:
    """Three hives; whatever a test does to them, the ledger is sound afterwards."""
    yield yard(ledger, "Long Drove", "1", "2", "3")
    assert sound(ledger)


def correct(drove: Yard, done: Done, on: date = FIRST, **entries: Entry | Line) -> Done:
    lines = tuple(
        entry if isinstance(entry, Line) else Line(entry, mark=name.lstrip("h"))
        for name, entry in entries.items()
    )
    new = drove.round(lines, on)
    return perform(drove.ledger, correct_round, done.result.round_id, new)


def test_a_corrected_round_is_as_if_it_had_been_posted_so(drove: Yard) -> None:
    done = drove.post(FIRST, h1=FED, h2=Entry(outcome=Outcome.DEAD, cause=Cause.WASPS), h3=LOOKED)
    correct(drove, done, h1=LOOKED, h2=FED, h3=Entry(supers_on=1))
    assert [(row.colony_id, row.weight_g) for row in rows(drove.ledger, Feeding)] == [
        (drove.hives["2"], 1000)
    ]
    assert [row.colony_id for row in rows(drove.ledger, MiteCount)] == [drove.hives["2"]]
    assert drove.line("2").ended_on is None
    assert drove.line("3").boxes is not None
    assert [row.id for row in rows(drove.ledger, Round)] == [done.result.round_id]
    with drove.ledger.read() as session:
        said = [visit.entry.brood_tenths for visit in entries_of_round(session, done.result.round_id)]
    assert said == [None, 80, None]


def test_a_correction_taken_back_brings_the_old_version_and_can_be_made_again(drove: Yard) -> None:
    done = drove.post(FIRST, h1=FED, h2=Entry(eggs=True, split_to=(Split("9", 20, 30, SplitQueen.QUEEN),)))
    before = whole(drove.ledger)
    corrected = correct(drove, done, h1=LOOKED, h2=FED)
    assert rows(drove.ledger, ColonyTransfer) == []
    undo(drove.ledger, corrected.act)
    assert whole(drove.ledger) == before
    correct(drove, done, h1=LOOKED, h2=FED)
    correct(drove, done, h1=FED, h2=LOOKED)
    assert [row.colony_id for row in rows(drove.ledger, Feeding)] == [drove.hives["1"]]
    assert len(rows(drove.ledger, RoundEntry)) == 2


def test_box_counts_of_later_rounds_are_carried_along(drove: Yard) -> None:
    done = drove.post(FIRST, h1=Entry(supers_on=1))
    drove.post(date(2026, 5, 10), h1=Entry(supers_on=1))
    correct(drove, done, h1=Entry(supers_on=2))
    assert [(row.on, row.supers) for row in sorted(rows(drove.ledger, BoxStack, colony_id=drove.hives["1"]), key=lambda row: row.on)][1:] == [
        (FIRST, 2), (date(2026, 5, 10), 3),
    ]  # fmt: skip
    correct(drove, done, h1=LOOKED)
    boxes = drove.line("1").boxes
    assert boxes is not None
    assert boxes.supers == 1


def test_strips_taken_out_later_keep_their_end(drove: Yard) -> None:
    medicine = strips(drove.ledger)
    done = drove.post(date(2026, 3, 25), h1=Entry(medicine_in_count=2))
    drove.post(h1=Entry(medicine_out_count=2))
    correct(drove, done, date(2026, 3, 25), h1=Entry(medicine_in_count=4))
    (course,) = rows(drove.ledger, Treatment)
    assert (course.medicine_id, course.pieces, course.in_on, course.out_on) == (
        medicine,
        4,
        date(2026, 3, 25),
        DAY,
    )
    with pytest.raises(Refused, match="taken out later"):
        correct(drove, done, date(2026, 3, 25), h1=LOOKED)
    assert rows(drove.ledger, Treatment)[0].pieces == 4


def test_a_nucleus_with_a_record_of_its_own_stays_when_the_round_is_put_right(drove: Yard) -> None:
    split = Split("9", 20, 30, SplitQueen.QUEEN)
    done = drove.post(FIRST, h1=Entry(eggs=True, split_to=(split,)), h2=LOOKED)
    nucleus = drove.line("9").colony_id
    drove.post(h9=Line(LOOKED, mark="9"))
    more = Split("9", 30, 40, SplitQueen.QUEEN)
    correct(drove, done, h1=Entry(eggs=True, brood_tenths=60, split_to=(more,)), h2=LOOKED)
    assert drove.line("9").colony_id == nucleus
    assert [(row.to_colony_id, row.brood_tenths) for row in rows(drove.ledger, ColonyTransfer)] == [
        (nucleus, 30)
    ]
    assert (drove.line("9").queen.year, drove.line("1").queen.year) == (2025, None)
    with pytest.raises(Refused, match="Posted round, Long Drove, 14 May"):
        correct(drove, done, h1=LOOKED, h2=LOOKED)
    assert len(rows(drove.ledger, Colony)) == 4


def test_a_split_that_never_was_goes_with_its_colony(drove: Yard) -> None:
    done = drove.post(FIRST, h1=Entry(eggs=True, split_to=(Split("9", 20),)))
    correct(drove, done, h1=LOOKED)
    assert [row.id for row in rows(drove.ledger, Colony)] == list(drove.hives.values())
    assert drove.marks() == ["1", "2", "3"]


def test_a_take_from_which_honey_was_weighed_stays_and_cannot_vanish(drove: Yard) -> None:
    drove.post(date(2026, 4, 20), h1=Entry(supers_on=2), h2=Entry(supers_on=1))
    done = drove.post(FIRST, h1=Entry(supers_off=2))
    (take,) = rows(drove.ledger, Take)

    def weigh(act) -> str:
        act.session.add(HoneyLot(kind="supers", name="supers 1", opened_on=FIRST, take_id=take.id))
        return "Weighed"

    perform(drove.ledger, weigh)
    correct(drove, done, h1=Entry(supers_off=1), h2=Entry(supers_off=1))
    assert [(row.take_id, row.supers) for row in rows(drove.ledger, TakeLine)] == [(take.id, 1), (take.id, 1)]
    with pytest.raises(Refused, match="was weighed into supers 1"):
        correct(drove, done, h1=LOOKED)


def test_a_task_of_a_round_put_right_is_still_done_by_the_later_look(drove: Yard) -> None:
    done = drove.post(FIRST, h1=Entry(eggs=True, next_action=NextAction.REQUEEN, next_days=7))
    drove.post(h1=LOOKED)
    correct(drove, done, h1=Entry(eggs=True, next_action=NextAction.SPLIT, next_days=7))
    assert [(row.what, row.done_on) for row in rows(drove.ledger, Task)] == [("split", DAY)]


def test_a_dead_hive_that_something_stands_on_is_refused_by_its_name(drove: Yard) -> None:
    done = drove.post(FIRST, h1=Entry(queen_state=QueenState.VIRGIN))
    drove.post(h1=Entry(queen_state=QueenState.QUEENLESS))
    with pytest.raises(Refused, match="on it stands “Posted round, Long Drove, 14 May: 1 hive”"):
        correct(drove, done, h1=LOOKED)


def test_a_later_walk_in_another_order_does_not_hold_a_correction(drove: Yard) -> None:
    done = drove.post(FIRST, h1=LOOKED, h2=LOOKED, h3=LOOKED)
    drove.post(h3=LOOKED, h2=LOOKED, h1=LOOKED)
    correct(drove, done, h1=FED, h2=LOOKED, h3=LOOKED)
    assert drove.marks() == ["3", "2", "1"]


def test_the_stranger_of_a_round_stays_the_same_colony(drove: Yard) -> None:
    done = drove.post(FIRST, line=Line(Entry(outcome=Outcome.STRANGER, note="by the gate"), mark="77"))
    colony = done.result.colonies[1]
    correct(
        drove,
        done,
        line=Line(Entry(outcome=Outcome.STRANGER, note="by the gate", brood_tenths=30), mark="77"),
    )
    assert drove.line("77").colony_id == colony
    assert [row.colony_id for row in rows(drove.ledger, RoundEntry)] == [colony]


def test_a_super_cut_off_by_a_correction_is_there_again_when_it_is_put_back(drove: Yard) -> None:
    done = drove.post(FIRST, h1=Entry(supers_on=2))
    drove.post(date(2026, 5, 10), h1=Entry(supers_off=1, eggs=True))
    drove.post(date(2026, 5, 12), h1=Entry(supers_on=1))
    correct(drove, done, h1=LOOKED)
    assert [row.supers for row in _stacks(drove)] == [0, 0, 1]
    correct(drove, done, h1=Entry(supers_on=2))
    assert [row.supers for row in _stacks(drove)] == [0, 2, 1, 2]


def _stacks(drove: Yard) -> list[BoxStack]:
    return sorted(rows(drove.ledger, BoxStack, colony_id=drove.hives["1"]), key=lambda row: (row.on, row.id))
