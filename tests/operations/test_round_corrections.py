"""The sheet against the record: asked about, and with one accepting key the record is corrected in the same post."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date

import pytest

from beeledger.base.errors import Refused
from beeledger.base.findings import Grade
from beeledger.database.ledger import Ledger
from beeledger.model.colonies import Colony, HiveMark, Placement
from beeledger.model.feeding import Feeding
from beeledger.model.honey import TakeLine
from beeledger.model.medicines import Treatment
from beeledger.model.moves import Move, MoveLine
from beeledger.model.queens import Queen, Tenure
from beeledger.operations.act import perform
from beeledger.operations.colonies import end_colonies
from beeledger.operations.placements import stay_of
from beeledger.operations.rounds import Line, Swap, post_round
from beeledger.operations.undo import undo
from beeledger.queries.rounds import elsewhere
from beeledger.rules.placements import check_chain
from beeledger.rules.rounds.entry import (
    Cause,
    Entry,
    FeedKind,
    Outcome,
    QueenColour,
    QueenState,
)
from tests.builders.yards import DAY, LOOKED, Yard, rows, sound, strips, whole, yard

EARLIER = date(2026, 5, 4)


@pytest.fixture
def drove(ledger: Ledger) -> Iterator[Yard]:
    """Three hives; whatever a test does to them, the ledger is sound afterwards."""
    yield yard(ledger, "Long Drove", "1", "2", "3")
    assert sound(ledger)


def accepted(drove: Yard, line: Line, code: str) -> Line:
    """The line with the finding accepted, after it was seen to be asked about and to hold the round."""
    with pytest.raises(Refused) as refusal:
        drove.post(line=line)
    assert [(one.code, one.grade, one.where.row) for one in refusal.value.findings] == [
        (code, Grade.AGAINST, 1)
    ]
    return replace(line, accepted=frozenset({code}))


def chain_is_whole(ledger: Ledger, colony: int, *, alive: bool = True) -> bool:
    stays = sorted(
        (stay_of(row) for row in rows(ledger, Placement, colony_id=colony)), key=lambda one: one.from_at
    )
    return check_chain(stays, alive=alive) == []


def test_a_hive_on_no_list_is_taken_on_under_its_number(drove: Yard) -> None:
    line = accepted(drove, Line(LOOKED, mark="44"), "rounds.unknown_mark")
    done = drove.post(line=line)
    new = drove.line("44")
    assert (new.colony_id, new.stand, new.founded_on) == (done.result.colonies[1], 1, DAY)
    assert rows(drove.ledger, Colony, id=new.colony_id)[0].founded_how == "stranger"


def test_a_stranger_without_a_number_is_a_colony_of_its_own(drove: Yard) -> None:
    done = drove.post(line=Line(Entry(outcome=Outcome.STRANGER, note="no number, strong")))
    (colony,) = rows(drove.ledger, Colony, founded_how="stranger")
    assert (colony.id, colony.note) == (done.result.colonies[1], "no number, strong")
    assert drove.marks() == [None, "1", "2", "3"]


def test_a_hive_that_stands_elsewhere_on_record_is_moved_here(drove: Yard) -> None:
    dyke = yard(drove.ledger, "Low Dyke", "20", "21")
    line = accepted(drove, Line(LOOKED, mark="20"), "rounds.stands_elsewhere")
    before = whole(drove.ledger)
    done = drove.post(line=line)
    with drove.ledger.read() as session:
        assert elsewhere(session, ["20"])["20"].site == "Long Drove"
    (moved,) = rows(drove.ledger, MoveLine)
    assert (moved.from_site_id, moved.to_site_id, moved.colony_id) == (
        dyke.site,
        drove.site,
        dyke.hives["20"],
    )
    assert rows(drove.ledger, Move)[0].note == "Found here at the round; nobody wrote down the move"
    assert chain_is_whole(drove.ledger, dyke.hives["20"])
    assert dyke.marks(date(2026, 5, 15)) == ["21"]
    undo(drove.ledger, done.act)
    assert whole(drove.ledger) == before


def test_a_hive_dead_on_record_lives_again_with_its_number_and_queen(drove: Yard) -> None:
    drove.post(EARLIER, h1=Entry(outcome=Outcome.DEAD, cause=Cause.STARVATION))
    line = accepted(drove, Line(LOOKED, mark="1"), "rounds.dead_on_record")
    drove.post(line=line)
    found = drove.line("1")
    assert (found.ended_on, found.queen.year, found.colony_id) == (None, 2025, drove.hives["1"])
    assert chain_is_whole(drove.ledger, found.colony_id)


def test_a_dead_hive_found_living_at_another_site_is_moved_there(drove: Yard) -> None:
    dyke = yard(drove.ledger, "Low Dyke", "20")
    perform(drove.ledger, end_colonies, [dyke.hives["20"]], EARLIER, "theft")
    line = accepted(drove, Line(LOOKED, mark="20"), "rounds.dead_on_record")
    drove.post(line=line)
    assert drove.line("20").ended_on is None
    assert chain_is_whole(drove.ledger, dyke.hives["20"])


def test_more_supers_off_than_were_on_leaves_none(drove: Yard) -> None:
    line = accepted(drove, Line(Entry(supers_off=2), mark="1"), "rounds.supers_off_never_on")
    drove.post(line=line)
    boxes = drove.line("1").boxes
    assert boxes is not None
    assert boxes.supers == 0
    assert [row.supers for row in rows(drove.ledger, TakeLine)] == [2]


def test_a_queen_seen_where_none_was_found_is_the_one_thought_lost(drove: Yard) -> None:
    drove.post(EARLIER, h1=Entry(queen_state=QueenState.QUEENLESS))
    assert [row.why_ended for row in rows(drove.ledger, Tenure, colony_id=drove.hives["1"])] == [
        "found queenless"
    ]
    seen = Entry(queen_seen=True, queen_state=QueenState.RIGHT)
    drove.post(line=accepted(drove, Line(seen, mark="1"), "rounds.queen_in_queenless"))
    (tenure,) = rows(drove.ledger, Tenure, colony_id=drove.hives["1"])
    assert tenure.until_on is None
    assert drove.line("1").queen.state is QueenState.RIGHT


def test_a_queen_of_another_colour_where_none_was_found_is_a_new_one(drove: Yard) -> None:
    drove.post(EARLIER, h1=Entry(queen_state=QueenState.QUEENLESS))
    seen = Entry(queen_seen=True, queen_colour=QueenColour.WHITE)
    drove.post(line=accepted(drove, Line(seen, mark="1"), "rounds.queen_in_queenless"))
    old, new = rows(drove.ledger, Tenure, colony_id=drove.hives["1"])
    assert (old.until_on, new.from_on, new.until_on) == (EARLIER, DAY, None)
    # White is for years that end in 1 or 6, by the international code.
    assert drove.line("1").queen.year == 2026


def test_another_colour_than_the_records_corrects_the_queens_year(drove: Yard) -> None:
    seen = Entry(queen_seen=True, queen_colour=QueenColour.GREEN)  # 2024; the record has 2025, blue
    drove.post(line=accepted(drove, Line(seen, mark="1"), "rounds.other_colour"))
    assert (drove.line("1").queen.year, drove.line("1").queen.marked) == (2024, True)
    assert len(rows(drove.ledger, Queen)) == 3


def test_strips_out_that_never_went_in_are_noted(drove: Yard) -> None:
    medicine = strips(drove.ledger)
    line = accepted(drove, Line(Entry(medicine_out_count=2), mark="1"), "rounds.out_never_in")
    drove.post(line=line)
    (course,) = rows(drove.ledger, Treatment)
    assert (course.medicine_id, course.in_on, course.out_on, course.pieces) == (medicine, DAY, DAY, 2)
    assert course.reason == "put in before, the day is not on record"


def test_feed_left_that_was_never_given_is_noted_as_given_before(drove: Yard) -> None:
    drove.post(EARLIER, h1=LOOKED)
    line = accepted(drove, Line(Entry(feed_left_ml=500), mark="1"), "rounds.left_never_fed")
    drove.post(line=line)
    (fed,) = rows(drove.ledger, Feeding)
    assert (fed.on, fed.kind, fed.volume_ml, fed.sugar_g) == (EARLIER, "unknown", 500, None)


@pytest.mark.parametrize(
    ("before", "entry", "code"),
    [
        (Entry(medicine_in_count=2), Entry(supers_off=1), "rounds.honey_under_treatment"),
        (Entry(feed_ml=2000, feed_kind=FeedKind.SYRUP_1_1), Entry(supers_off=1), "rounds.honey_with_feed"),
    ],
)
def test_honey_from_a_treated_or_fed_hive_wants_a_written_reason(
    drove: Yard, before: Entry, entry: Entry, code: str
) -> None:
    strips(drove.ledger)
    drove.post(date(2026, 4, 20), h1=Entry(supers_on=1))
    line = Line(before, mark="1", reason="brood box only", accepted=frozenset())
    drove.post(EARLIER, line=line)
    asked = accepted(drove, Line(entry, mark="1"), code)
    with pytest.raises(Refused):  # accepting is not enough
        drove.post(line=asked)
    drove.post(line=replace(asked, reason="kept apart for the bees"))
    assert [row.reason for row in rows(drove.ledger, TakeLine)] == ["kept apart for the bees"]


def test_strips_under_supers_want_a_written_reason(drove: Yard) -> None:
    strips(drove.ledger)
    drove.post(EARLIER, h1=Entry(supers_on=1))
    asked = accepted(drove, Line(Entry(medicine_in_count=2), mark="1"), "rounds.medicine_under_supers")
    drove.post(line=replace(asked, reason="super is empty"))
    assert rows(drove.ledger, Treatment)[0].reason == "super is empty"


def test_swapped_numbers_take_what_was_written_since_to_the_right_hive(drove: Yard) -> None:
    drove.post(date(2026, 4, 28), h1=Entry(brood_tenths=30), h2=Entry(brood_tenths=70))
    drove.post(
        EARLIER,
        h1=Entry(brood_tenths=80, supers_on=1),
        h2=Entry(brood_tenths=40, feed_kind=FeedKind.SUGAR, feed_g=500),
    )
    before = whole(drove.ledger)
    lines = (Line(Entry(brood_tenths=90), mark="1"), Line(Entry(outcome=Outcome.NOT_FOUND), mark="2"))
    done = perform(drove.ledger, post_round, drove.round(lines, swaps=(Swap("1", "2", date(2026, 5, 2)),)))
    one, two = drove.line("1"), drove.line("2")
    assert (one.colony_id, two.colony_id) == (drove.hives["2"], drove.hives["1"])
    assert one.last is not None
    assert one.last.entry.brood_tenths == 90
    assert [one.boxes.supers if one.boxes else None, two.boxes.supers if two.boxes else None] == [1, 0]
    assert [row.colony_id for row in rows(drove.ledger, Feeding)] == [drove.hives["1"]]
    assert drove.line("1", date(2026, 4, 30)).colony_id == drove.hives["1"]
    assert len(rows(drove.ledger, HiveMark)) == 5
    undo(drove.ledger, done.act)
    assert whole(drove.ledger) == before


def test_an_unknown_partner_is_kept_as_words_and_a_living_ones_number_is_not_split_to(drove: Yard) -> None:
    drove.post(
        line=accepted(
            drove, Line(Entry(eggs=True, brood_given_from="77"), mark="1"), "rounds.partner_unknown"
        )
    )
    last = drove.line("1").last
    assert last is not None
    assert last.entry.brood_given_from == "77"


def test_a_stranger_with_the_number_of_a_living_hive_is_refused(drove: Yard) -> None:
    yard(drove.ledger, "Low Dyke", "20")
    with pytest.raises(Refused, match="a stranger with the number of a living hive, 20"):
        drove.post(line=Line(Entry(outcome=Outcome.STRANGER, note="by the gate"), mark="20"))


def test_a_medicine_written_down_late_is_noted_on_the_honey_taken_since(drove: Yard) -> None:
    strips(drove.ledger)
    drove.post(date(2026, 4, 20), h1=Entry(supers_on=1))
    drove.post(h1=Entry(supers_off=1))
    line = Line(Entry(medicine_in_count=2), mark="1", reason="super was empty")
    with pytest.raises(Refused) as refusal:
        drove.post(EARLIER, line=line)
    assert [one.code for one in refusal.value.findings] == ["rounds.honey_taken_since"]
    drove.post(EARLIER, line=replace(line, accepted=frozenset({"rounds.honey_taken_since"})))
    assert [row.reason for row in rows(drove.ledger, TakeLine)] == ["super was empty"]


def test_a_later_move_leaves_from_where_the_hive_is_now_known_to_have_stood(drove: Yard) -> None:
    dyke = yard(drove.ledger, "Low Dyke", "20")
    fen = yard(drove.ledger, "Fen End", "30")
    here = frozenset({"rounds.stands_elsewhere"})
    fen.post(line=Line(LOOKED, mark="20", accepted=here))
    drove.post(EARLIER, line=Line(LOOKED, mark="20", accepted=here))
    ways = [(row.from_site_id, row.to_site_id) for row in rows(drove.ledger, MoveLine)]
    assert ways == [(drove.site, fen.site), (dyke.site, drove.site)]
