"""A round posted: entries, what follows from them, and the ledger as it was when it is taken back."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from uuid import uuid4

import pytest

from beeledger.base.errors import Refused
from beeledger.database.ledger import Ledger
from beeledger.model.colonies import BoxStack
from beeledger.model.due import Task
from beeledger.model.feeding import Feeding
from beeledger.model.honey import Take, TakeLine
from beeledger.model.medicines import MiteCount, Treatment
from beeledger.model.rounds import Round, RoundEntry
from beeledger.operations.act import perform, perform_draft
from beeledger.operations.rounds import Line, post_round
from beeledger.operations.undo import undo
from beeledger.queries.rounds import entries_of_colony, entries_of_round, recent_rounds
from beeledger.rules.rounds.entry import (
    Cause,
    CellsDone,
    CellStage,
    Entry,
    FeedKind,
    MiteMethod,
    NextAction,
    Outcome,
    QueenColour,
    QueenState,
    Split,
    SplitQueen,
)
from tests.builders.yards import DAY, LOOKED, Yard, rows, sound, strips, whole, yard

FULL = Entry(
    outcome=Outcome.LOOKED, queen_state=QueenState.RIGHT, queen_seen=True, queen_colour=QueenColour.BLUE, eggs=True,
    brood_tenths=80, bees_tenths=110, stores_tenths=15, stores_g=5000, super_fullness_tenths=7, temper=2,
    cells_stage=CellStage.OPEN, cells_count=3, cells_done=CellsDone.LEFT_ONE, supers_on=1, supers_off=0,
    clearers=False, feed_kind=FeedKind.SYRUP_1_1, feed_ml=2000, mites_count=4, mites_method=MiteMethod.WASH,
    mites_bees=300, signs="chalk brood, few cells", next_action=NextAction.LOOK, next_days=7, note="gate <left> open",
)  # fmt: skip


@pytest.fixture
def drove(ledger: Ledger) -> Iterator[Yard]:
    """Three hives; whatever a test does to them, the ledger is sound afterwards."""
    yield yard(ledger, "Long Drove", "1", "2", "3")
    assert sound(ledger)


def codes(refusal: pytest.ExceptionInfo[Refused]) -> list[tuple[str, int | None, str]]:
    return [(one.code, one.where.row, one.where.field) for one in refusal.value.findings]


def test_what_was_typed_is_read_back_field_by_field(drove: Yard) -> None:
    done = drove.post(h1=FULL, h2=Entry(outcome=Outcome.NOT_OPENED, note="rain"))
    assert done.sentence == "Posted round, Long Drove, 14 May: 2 hives"
    with drove.ledger.read() as session:
        posted = entries_of_round(session, done.result.round_id)
        again = entries_of_colony(session, drove.hives["1"])
    assert [visit.entry for visit in posted] == [FULL, Entry(outcome=Outcome.NOT_OPENED, note="rain")]
    assert again == posted[:1]
    assert drove.line("1").last == posted[0]
    assert drove.line("3").last is None


def test_a_posted_round_taken_back_leaves_the_ledger_as_it_was(drove: Yard) -> None:
    strips(drove.ledger)
    drove.post(date(2026, 5, 1), h1=LOOKED, h2=Entry(medicine_in_count=2), h3=LOOKED)
    before = whole(drove.ledger)
    done = drove.post(
        h3=Entry(queen_state=QueenState.CELLS, split_to=(Split("9", 20, 30, SplitQueen.QUEEN),)),
        h1=FULL,
        h2=Entry(medicine_out_count=2, united_into="1"),
    )
    assert whole(drove.ledger) != before
    undo(drove.ledger, done.act)
    assert whole(drove.ledger) == before


def test_lines_under_question_wait_and_the_rest_is_posted(drove: Yard) -> None:
    done = drove.post(h1=LOOKED, h2=Entry(brood_tenths=80, question="stores 1 or 7"), h3=Entry())
    assert done.result.waiting == (2,)
    assert list(done.result.entries) == [1]
    assert [row.colony_id for row in rows(drove.ledger, RoundEntry)] == [drove.hives["1"]]


def test_the_same_draft_is_posted_once(drove: Yard) -> None:
    new = drove.round((Line(LOOKED, colony_id=drove.hives["1"]),))
    draft = str(uuid4())
    perform_draft(drove.ledger, draft, post_round, new)
    for again in (None, draft):
        with pytest.raises(Refused, match="posted already"):
            perform_draft(drove.ledger, again, post_round, new)
    assert len(rows(drove.ledger, Round)) == 1


def test_two_desks_may_post_different_rounds_of_a_hive_on_one_day(drove: Yard) -> None:
    drove.post(h1=LOOKED)
    drove.post(h1=Entry(outcome=Outcome.NOT_OPENED, feed_g=1000, feed_kind=FeedKind.SUGAR))
    assert [row.outcome for row in rows(drove.ledger, RoundEntry)] == ["looked", "not_opened"]
    with drove.ledger.read() as session:
        assert [one.hives for one in recent_rounds(session, site_id=drove.site)] == [1, 1]


def test_tonights_walking_order_is_the_next_sheets(drove: Yard) -> None:
    drove.post(h3=LOOKED, h1=LOOKED, h2=LOOKED)
    assert drove.marks() == ["3", "1", "2"]
    drove.post(date(2026, 5, 2), h1=LOOKED, h2=LOOKED, h3=LOOKED)  # an older sheet, typed late
    assert drove.marks() == ["3", "1", "2"]
    drove.post(h2=LOOKED, h3=LOOKED)
    assert drove.marks() == ["2", "1", "3"]


def test_feed_is_counted_with_its_sugar(drove: Yard) -> None:
    drove.post(
        h1=Entry(feed_kind=FeedKind.SYRUP_1_1, feed_ml=2000),
        h2=Entry(feed_kind=FeedKind.SYRUP_2_1, feed_ml=5000),
        h3=Entry(feed_kind=FeedKind.FONDANT, feed_g=2500),
    )
    fed = rows(drove.ledger, Feeding)
    assert [(row.kind, row.volume_ml, row.weight_g) for row in fed] == [
        ("syrup_1_1", 2000, None), ("syrup_2_1", 5000, None), ("fondant", None, 2500),
    ]  # fmt: skip
    # Sucrose solutions at 20 °C: 50 % by weight 1229.6 g/l, 66.7 % by weight 1329 g/l (NBS Circular C440, table 109).
    assert fed[0].sugar_g == pytest.approx(2 * 1229.6 * 0.5, rel=0.002)
    assert fed[1].sugar_g == pytest.approx(5 * 1329 * 2 / 3, rel=0.003)
    assert fed[2].sugar_g is None  # nobody wrote what the fondant holds


def test_strips_go_in_and_come_out_by_two_rounds(drove: Yard) -> None:
    medicine = strips(drove.ledger)
    drove.post(date(2026, 3, 25), h1=Entry(medicine_in_count=2), h2=Entry(medicine_in="fen strips"))
    assert [one.product for one in drove.line("1").treatments] == ["Fen strips"]
    drove.post(date(2026, 5, 10), h1=Entry(medicine_out_count=2))
    kept = [
        (row.colony_id, row.medicine_id, row.in_on, row.out_on, row.pieces)
        for row in rows(drove.ledger, Treatment)
    ]
    assert kept == [
        (drove.hives["1"], medicine, date(2026, 3, 25), date(2026, 5, 10), 2),
        (drove.hives["2"], medicine, date(2026, 3, 25), None, None),
    ]
    assert drove.line("1").treatments == ()


def test_mites_counted_without_a_word_on_how_were_washed_or_fell(drove: Yard) -> None:
    drove.post(h1=Entry(mites_count=9, mites_bees=300), h2=Entry(mites_count=0, mites_days=7))
    kept = [(row.method, row.mites, row.bees, row.days) for row in rows(drove.ledger, MiteCount)]
    assert kept == [("wash", 9, 300, None), ("drop", 0, None, 7)]


def test_supers_change_the_boxes_and_a_late_sheet_carries_into_what_follows(drove: Yard) -> None:
    drove.post(date(2026, 5, 10), h1=Entry(supers_on=2))
    drove.post(h1=Entry(supers_off=1, super_fullness_tenths=10))
    drove.post(date(2026, 5, 3), h1=Entry(supers_on=1))
    assert [(row.on.day, row.supers) for row in rows(drove.ledger, BoxStack, colony_id=drove.hives["1"])] == [
        (20, 0), (10, 3), (14, 2), (3, 1),
    ]  # fmt: skip
    boxes = drove.line("1").boxes
    assert boxes is not None
    assert boxes.supers == 2


def test_supers_off_make_the_take_with_its_estimate(drove: Yard) -> None:
    drove.post(date(2026, 4, 20), h1=Entry(supers_on=2), h2=Entry(supers_on=1))
    drove.post(h1=Entry(supers_off=2, super_fullness_tenths=8), h2=Entry(supers_off=1), h3=LOOKED)
    (take,) = rows(drove.ledger, Take)
    assert (take.on, take.site_id) == (DAY, drove.site)
    lines = [(row.colony_id, row.supers, row.estimate_g) for row in rows(drove.ledger, TakeLine)]
    # Two boxes eight tenths full of 11.5 kg each are 18.4 kg; how full the third was nobody wrote.
    assert lines == [(drove.hives["1"], 2, 18400), (drove.hives["2"], 1, None)]


def test_a_next_action_is_a_task_until_the_next_look(drove: Yard) -> None:
    drove.post(date(2026, 5, 4), h1=Entry(eggs=True, next_action=NextAction.REQUEEN, next_days=7))
    (task,) = rows(drove.ledger, Task)
    assert (task.what, task.due_on, task.done_on) == ("requeen", date(2026, 5, 11), None)
    drove.post(h1=LOOKED)
    assert rows(drove.ledger, Task)[0].done_on == DAY


@pytest.mark.parametrize(
    ("entry", "code", "field"),
    [
        (
            Entry(outcome=Outcome.DEAD, feed_ml=1000, feed_kind=FeedKind.SYRUP_1_1),
            "rounds.dead_yet_alive",
            "feed_kind",
        ),
        (Entry(brood_tenths=120), "rounds.brood_beyond_the_box", "brood_tenths"),
        (Entry(temper=9), "rounds.temper_off_the_scale", "temper"),
        (Entry(note="a wasp"), "rounds.no_outcome", "outcome"),
        (Entry(medicine_in="moonshine"), "rounds.medicine_unknown", "medicine_in"),
    ],
)
def test_what_cannot_be_is_refused_with_its_row_and_field(
    drove: Yard, entry: Entry, code: str, field: str
) -> None:
    with pytest.raises(Refused) as refusal:
        drove.post(h1=LOOKED, h2=entry)
    assert codes(refusal) == [(code, 2, field)]
    assert rows(drove.ledger, Round) == []


def test_a_hive_on_two_lines_is_refused_on_both(drove: Yard) -> None:
    line = Line(LOOKED, colony_id=drove.hives["1"])
    with pytest.raises(Refused) as refusal:
        perform(drove.ledger, post_round, drove.round((line, Line(LOOKED, mark="1"))))
    assert codes(refusal) == [("rounds.twice", 1, "mark"), ("rounds.twice", 2, "mark")]


def test_a_round_of_tomorrow_or_before_the_hive_was_there_is_refused(drove: Yard) -> None:
    with pytest.raises(Refused, match="has not come yet"):
        drove.post(date(2026, 5, 15), h1=LOOKED)
    with pytest.raises(Refused) as refusal:
        drove.post(date(2026, 3, 19), h1=LOOKED)
    assert ("rounds.before_founding", 1, "outcome") in codes(refusal)


def test_a_dead_hive_ends_with_its_cause_and_leaves_the_sheet(drove: Yard) -> None:
    drove.post(
        h1=Entry(outcome=Outcome.DEAD, cause=Cause.STARVATION), h2=Entry(outcome=Outcome.EMPTY), h3=LOOKED
    )
    ended = {mark: (drove.line(mark).ended_on, drove.line(mark).end_cause) for mark in "123"}
    assert ended == {"1": (DAY, "starvation"), "2": (DAY, "dwindled"), "3": (None, None)}
    assert drove.marks(date(2026, 5, 15)) == ["3"]


def test_a_hive_that_lived_later_is_not_dead_before(drove: Yard) -> None:
    drove.post(h1=LOOKED)
    with pytest.raises(Refused, match="looked at on 14 May 2026"):
        drove.post(date(2026, 5, 2), h1=Entry(outcome=Outcome.DEAD))
