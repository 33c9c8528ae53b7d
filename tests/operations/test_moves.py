"""Moves as the office posts them and puts them right."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime

import pytest

from beeledger.base.errors import Refused
from beeledger.database.checking.check import check_ledger
from beeledger.database.ledger import Ledger
from beeledger.model.moves import Move, MoveLine
from beeledger.operations.act import perform
from beeledger.operations.colonies import END_MINUTE, end_colonies
from beeledger.operations.moves import correct_move, deliver_move, drop_plan, plan_move, post_move
from beeledger.operations.undo import undo
from beeledger.queries.move_checks import accept_all, check_new_move
from beeledger.queries.records.move_desk import LEFT_BEHIND, LOST, Carried, NewMove, carried
from tests.operations.trips import EVENING, FOUNDED, Farm, farm

APRIL = date(2026, 4, 12)


@pytest.fixture
def yard(ledger: Ledger) -> Farm:
    return farm(ledger)


def refused(yard: Farm, move: NewMove) -> list[str]:
    with pytest.raises(Refused) as refusal:
        perform(yard.ledger, post_move, move)
    return [finding.code for finding in refusal.value.findings]


def said(yard: Farm, move: NewMove) -> list[tuple[str, str]]:
    with yard.ledger.read() as session:
        findings = check_new_move(session, move, yard.ledger.clock.zone, yard.ledger.clock.today())
    return [(finding.code, str(finding.grade)) for finding in findings]


def breaches(yard: Farm) -> list[str]:
    return [finding.sentence() for finding in check_ledger(yard.ledger).findings]


def test_hives_stand_where_they_were_brought_and_were_on_the_van_between(yard: Farm) -> None:
    done = perform(
        yard.ledger, post_move, yard.move(["1", "2"], "Home Yard", "Ladder Hill", APRIL, vehicle_id=yard.van)
    )
    assert done.sentence == "Moved 2 hives from Home Yard to Ladder Hill, 12 Apr"
    assert yard.stands("1") == [("Home Yard", FOUNDED, APRIL), ("Ladder Hill", APRIL, None)]
    with yard.ledger.read() as session:
        row = session.get_one(Move, done.result)
        # 20.30 British Summer Time is 19.30 UTC.
        assert (row.left_at, row.arrived_at) == (
            datetime(2026, 4, 12, 19, 30, tzinfo=UTC),
            datetime(2026, 4, 12, 20, 10, tzinfo=UTC),
        )
    assert breaches(yard) == []


def test_a_posted_move_is_undone_whole(yard: Farm) -> None:
    done = perform(yard.ledger, post_move, yard.move(["1", "2"], "Home Yard", "Ladder Hill", APRIL))
    undo(yard.ledger, done.act)
    assert yard.stands("1") == [("Home Yard", FOUNDED, None)]
    with yard.ledger.read() as session:
        assert session.query(MoveLine).count() == 0


def test_a_trip_over_midnight_arrives_the_next_day(yard: Farm) -> None:
    move = yard.move(["1"], "Home Yard", "Ladder Hill", APRIL, left=1400, arrived=10)
    assert refused(yard, move) == ["move.backward"]
    perform(yard.ledger, post_move, replace(move, arrived_on=date(2026, 4, 13)))
    assert yard.stands("1")[-1] == ("Ladder Hill", date(2026, 4, 13), None)


def test_a_hive_moved_before_it_was_founded_is_refused(yard: Farm) -> None:
    assert refused(yard, yard.move(["1"], "Home Yard", "Ladder Hill", date(2026, 2, 27))) == ["move.unborn"]


def test_a_move_that_has_not_come_yet_is_refused(yard: Farm) -> None:
    assert refused(yard, yard.move(["1"], "Home Yard", "Ladder Hill", date(2026, 5, 15))) == ["move.future"]


def test_a_move_of_nobody_is_refused(yard: Farm) -> None:
    assert refused(yard, yard.move([], "Home Yard", "Ladder Hill", APRIL)) == ["move.empty"]
    left = replace(yard.move([], "Home Yard", "Ladder Hill", APRIL), hives=carried([], [yard.hives["1"]]))
    assert refused(yard, left) == ["move.empty"]


def test_a_hive_named_twice_is_refused(yard: Farm) -> None:
    assert refused(yard, yard.move(["1", "1"], "Home Yard", "Ladder Hill", APRIL)) == ["move.twice"]


def test_a_hive_the_record_has_elsewhere_is_asked_about_then_corrected(yard: Farm) -> None:
    move = yard.move(["1", "21"], "Home Yard", "Ladder Hill", APRIL)
    assert refused(yard, move) == ["move.elsewhere"]
    assert yard.stands("21") == [("Far Drove", FOUNDED, None)]
    perform(yard.ledger, post_move, replace(move, accepted=frozenset({"move.elsewhere 21"})))
    assert yard.stands("21") == [
        ("Far Drove", FOUNDED, APRIL),
        ("Home Yard", APRIL, APRIL),
        ("Ladder Hill", APRIL, None),
    ]
    assert breaches(yard) == []


def test_accepting_one_hive_does_not_accept_another(yard: Farm) -> None:
    move = yard.move(["22", "21"], "Home Yard", "Ladder Hill", APRIL)
    accepted = replace(move, accepted=frozenset({"move.elsewhere 21"}))
    assert refused(yard, accepted) == ["move.elsewhere", "move.elsewhere"]


def test_a_hive_recorded_as_ended_lives_once_that_is_accepted(yard: Farm) -> None:
    perform(yard.ledger, end_colonies, [yard.hives["3"]], date(2026, 4, 2), "starvation", END_MINUTE)
    move = yard.move(["3"], "Home Yard", "Ladder Hill", APRIL)
    assert refused(yard, move) == ["move.ended"]
    perform(yard.ledger, post_move, replace(move, accepted=frozenset({"move.ended 3"})))
    assert yard.stands("3") == [("Home Yard", FOUNDED, APRIL), ("Ladder Hill", APRIL, None)]
    assert breaches(yard) == []


def test_a_hive_moved_400_m_in_april_is_warned(yard: Farm) -> None:
    # Under 3 feet or over 3 miles: published good practice of associations, see rules/moves.toml.
    move = yard.move(["1"], "Home Yard", "Near Bank", APRIL)
    assert said(yard, move) == [("move.distance", "doubtful")]
    assert said(yard, replace(move, exempt=True)) == []
    perform(yard.ledger, post_move, move)
    assert yard.stands("1")[-1][0] == "Near Bank"


def test_a_hive_brought_back_near_where_it_stood_a_week_ago_is_warned(yard: Farm) -> None:
    yard.post(["1"], "Home Yard", "Ladder Hill", APRIL)
    back = yard.move(["1"], "Ladder Hill", "Near Bank", date(2026, 4, 19))
    assert said(yard, back) == [("move.back", "doubtful")]
    assert said(yard, replace(back, on=date(2026, 5, 10))) == [("move.daylight", "noted")]


def test_more_hives_than_the_van_takes_are_said_and_not_refused(yard: Farm) -> None:
    marks = [str(n) for n in range(1, 8)]
    move = yard.move(marks, "Home Yard", "Ladder Hill", APRIL, vehicle_id=yard.van)
    assert said(yard, move) == [("move.places", "doubtful")]
    # 23 single brood boxes would be 23 × 25 kg = 575 kg by haulage.toml; seven are 175 kg, under 800 kg.
    perform(yard.ledger, post_move, move)


def test_a_van_on_two_trips_at_once_is_odd(yard: Farm) -> None:
    yard.post(["1"], "Home Yard", "Ladder Hill", APRIL, vehicle_id=yard.van)
    again = yard.move(["21"], "Far Drove", "Ladder Hill", APRIL, left=EVENING + 20, arrived=EVENING + 60, vehicle_id=yard.van)  # fmt: skip
    assert said(yard, again) == [("move.two-trips", "doubtful")]
    assert said(yard, replace(again, left_minute=EVENING + 40, arrived_minute=EVENING + 90)) == []


def test_a_full_site_is_odd(yard: Farm) -> None:
    yard.post([str(n) for n in range(1, 9)], "Home Yard", "Far Drove", APRIL)
    more = yard.move(["1", "2"], "Far Drove", "Ladder Hill", date(2026, 4, 20))
    assert said(yard, more) == []
    with yard.ledger.read() as session:
        facts = check_new_move(
            session, yard.move(["1"], "Far Drove", "Home Yard", date(2026, 4, 20)), "Europe/London", APRIL
        )
    assert [finding.code for finding in facts] == ["move.future"]


def test_a_hive_left_behind_is_written_down_and_stays(yard: Farm) -> None:
    move = yard.move(["1"], "Home Yard", "Ladder Hill", APRIL)
    hives = carried([yard.hives["1"]], [yard.hives["2"]])
    number = perform(yard.ledger, post_move, replace(move, hives=hives)).result
    assert yard.stands("2") == [("Home Yard", FOUNDED, None)]
    with yard.ledger.read() as session:
        lines = session.query(MoveLine).filter_by(move_id=number).order_by(MoveLine.id).all()
        assert [line.outcome for line in lines] == ["delivered", LEFT_BEHIND]


def test_a_hive_lost_on_the_way_is_unaccounted_for(yard: Farm) -> None:
    move = yard.move([], "Home Yard", "Ladder Hill", APRIL)
    lost = replace(move, hives=(Carried(yard.hives["1"]), Carried(yard.hives["2"], outcome=LOST)))
    done = perform(yard.ledger, post_move, lost)
    assert done.sentence == "Moved 2 hives from Home Yard to Ladder Hill, 12 Apr, 1 lost"
    assert yard.stands("2") == [("Home Yard", FOUNDED, APRIL)]
    assert breaches(yard) == []


def test_one_trip_takes_up_hives_at_two_sites(yard: Farm) -> None:
    move = yard.move(["1"], "Home Yard", "Ladder Hill", APRIL)
    both = (*move.hives, Carried(yard.hives["21"], from_site_id=yard.sites["Far Drove"]))
    done = perform(yard.ledger, post_move, replace(move, hives=both))
    assert done.sentence == "Moved 2 hives from 2 sites to Ladder Hill, 12 Apr"
    assert yard.stands("21") == [("Far Drove", FOUNDED, APRIL), ("Ladder Hill", APRIL, None)]


def test_an_old_move_goes_in_before_later_ones(yard: Farm) -> None:
    yard.post(["1"], "Home Yard", "Far Drove", date(2026, 5, 2))
    yard.post(["1"], "Home Yard", "Near Bank", date(2026, 4, 1), accepted=frozenset({"move.later 1"}))
    assert yard.stands("1") == [
        ("Home Yard", FOUNDED, date(2026, 4, 1)),
        ("Near Bank", date(2026, 4, 1), date(2026, 5, 2)),
        ("Far Drove", date(2026, 5, 2), None),
    ]
    assert breaches(yard) == []


def test_an_old_move_that_a_later_one_contradicts_is_asked_about(yard: Farm) -> None:
    yard.post(["1"], "Home Yard", "Far Drove", date(2026, 5, 2))
    old = yard.move(["1"], "Home Yard", "Ladder Hill", date(2026, 4, 1))
    assert said(yard, old) == [("move.later", "against")]
    there = yard.move(["1"], "Home Yard", "Far Drove", date(2026, 4, 1))
    assert said(yard, there) == [("move.later-nowhere", "refused")]


def test_a_hive_that_was_not_on_an_old_move_is_taken_out_of_it(yard: Farm) -> None:
    number = yard.post(["1", "2"], "Home Yard", "Ladder Hill", APRIL)
    yard.post(["1"], "Ladder Hill", "Far Drove", date(2026, 5, 2))
    really = yard.move(["1", "3"], "Home Yard", "Ladder Hill", date(2026, 4, 13))
    done = perform(yard.ledger, correct_move, number, really)
    assert done.sentence == "Corrected a move: 2 hives from Home Yard to Ladder Hill, 13 Apr"
    assert yard.stands("2") == [("Home Yard", FOUNDED, None)]
    assert yard.stands("3") == [
        ("Home Yard", FOUNDED, date(2026, 4, 13)),
        ("Ladder Hill", date(2026, 4, 13), None),
    ]
    assert yard.stands("1")[-1] == ("Far Drove", date(2026, 5, 2), None)
    assert breaches(yard) == []
    undo(yard.ledger, done.act)
    assert yard.stands("2") == [("Home Yard", FOUNDED, APRIL), ("Ladder Hill", APRIL, None)]
    assert yard.stands("3") == [("Home Yard", FOUNDED, None)]
    assert breaches(yard) == []


def test_taking_out_a_hive_that_went_on_from_there_is_asked_about(yard: Farm) -> None:
    number = yard.post(["1", "2"], "Home Yard", "Ladder Hill", APRIL)
    yard.post(["2"], "Ladder Hill", "Far Drove", date(2026, 5, 2))
    really = yard.move(["1"], "Home Yard", "Ladder Hill", APRIL)
    with pytest.raises(Refused) as refusal:
        perform(yard.ledger, correct_move, number, really)
    findings = refusal.value.findings
    assert [finding.code for finding in findings] == ["move.later"]
    perform(yard.ledger, correct_move, number, accept_all(really, findings))
    assert yard.stands("2") == [
        ("Home Yard", FOUNDED, date(2026, 5, 2)),
        ("Far Drove", date(2026, 5, 2), None),
    ]
    assert breaches(yard) == []


JUNE = date(2026, 6, 2)


def test_a_planned_move_stands_in_the_log_and_moves_nobody(yard: Farm) -> None:
    done = perform(yard.ledger, plan_move, yard.move(["1", "21"], "Home Yard", "Ladder Hill", JUNE))
    assert done.sentence == "Planned: 2 hives from Home Yard to Ladder Hill, 2 Jun"
    assert yard.stands("1") == [("Home Yard", FOUNDED, None)]
    with yard.ledger.read() as session:
        assert session.get_one(Move, done.result).state == "planned"
    assert breaches(yard) == []
    with pytest.raises(Refused):
        perform(yard.ledger, correct_move, done.result, yard.move(["1"], "Home Yard", "Ladder Hill", APRIL))


def test_a_planned_move_is_delivered_as_it_really_went_and_back_by_undo(yard: Farm) -> None:
    plan = yard.move(["1", "2"], "Home Yard", "Ladder Hill", date(2026, 5, 13))
    number = perform(yard.ledger, plan_move, plan).result
    really = yard.move(["1", "3"], "Home Yard", "Ladder Hill", date(2026, 5, 14))
    done = perform(yard.ledger, deliver_move, number, really)
    assert done.sentence == "Moved 2 hives from Home Yard to Ladder Hill, 14 May"
    assert [yard.stands(mark)[-1][0] for mark in ("1", "2", "3")] == [
        "Ladder Hill",
        "Home Yard",
        "Ladder Hill",
    ]
    assert breaches(yard) == []
    undo(yard.ledger, done.act)
    assert yard.stands("3") == [("Home Yard", FOUNDED, None)]
    with yard.ledger.read() as session:
        row = session.get_one(Move, number)
        assert (row.state, row.on) == ("planned", date(2026, 5, 13))


def test_a_plan_is_dropped_and_a_delivered_move_is_not(yard: Farm) -> None:
    number = perform(yard.ledger, plan_move, yard.move(["1"], "Home Yard", "Ladder Hill", JUNE)).result
    done = perform(yard.ledger, drop_plan, number)
    assert done.sentence == "Dropped the plan of 2 Jun: 1 hive"
    undo(yard.ledger, done.act)
    with yard.ledger.read() as session:
        assert session.query(MoveLine).filter_by(move_id=number).count() == 1
    gone = yard.post(["2"], "Home Yard", "Ladder Hill", APRIL)
    for operation in (drop_plan, deliver_move):
        rest = () if operation is drop_plan else (yard.move(["2"], "Home Yard", "Ladder Hill", APRIL),)
        with pytest.raises(Refused) as refusal:
            perform(yard.ledger, operation, gone, *rest)  # type: ignore[arg-type]  # two shapes of one loop
        assert codes_of(refusal) == ["move.move"]


def test_a_plan_that_cannot_be_is_refused(yard: Farm) -> None:
    with pytest.raises(Refused) as refusal:
        perform(yard.ledger, plan_move, yard.move([], "Home Yard", "Ladder Hill", JUNE, reason="whim"))
    assert codes_of(refusal) == ["move.empty", "move.reason"]


def codes_of(refusal: pytest.ExceptionInfo[Refused]) -> list[str]:
    return [finding.code for finding in refusal.value.findings]
