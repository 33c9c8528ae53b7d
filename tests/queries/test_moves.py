"""The log of moves as the desk pages it, and the register."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import date

import pytest
from sqlalchemy import event

from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.colonies import give_mark
from beeledger.operations.moves import correct_move, post_move
from beeledger.queries.move_checks import check_new_move
from beeledger.queries.moves import (
    LogFilter,
    colonies_marked,
    first_move,
    hives_at,
    move_card,
    move_choices,
    move_log,
    register_record,
)
from beeledger.queries.records.move_desk import LOST, Carried, carried
from tests.operations.trips import Farm, farm

OUT, BACK, LATER = date(2026, 4, 9), date(2026, 5, 2), date(2026, 5, 10)


@pytest.fixture
def yard(ledger: Ledger) -> Farm:
    return farm(ledger)


@pytest.fixture
def moved(yard: Farm) -> Farm:
    """Hives 1 to 3 out and back by the van, 21 out alone."""
    yard.post(["1", "2", "3"], "Home Yard", "Ladder Hill", OUT, vehicle_id=yard.van, driver="RH")
    yard.post(["1", "2", "3"], "Ladder Hill", "Home Yard", BACK, reason="home")
    yard.post(["21"], "Far Drove", "Ladder Hill", LATER)
    return yard


@contextmanager
def statements(ledger: Ledger) -> Iterator[list[str]]:
    said: list[str] = []

    def note(_connection: object, _cursor: object, statement: str, *_rest: object) -> None:
        said.append(statement)

    event.listen(ledger.engine, "before_cursor_execute", note)
    yield said
    event.remove(ledger.engine, "before_cursor_execute", note)


def test_the_log_has_the_newest_move_first_with_its_way_and_hives(moved: Farm) -> None:
    with moved.ledger.read() as session:
        rows = move_log(session)
    assert [(row.on, row.from_sites, row.to_sites, row.hives) for row in rows] == [
        (LATER, ("Far Drove",), ("Ladder Hill",), 1),
        (BACK, ("Ladder Hill",), ("Home Yard",), 3),
        (OUT, ("Home Yard",), ("Ladder Hill",), 3),
    ]
    assert (rows[2].vehicle, rows[2].driver, rows[0].vehicle) == ("Blue van", "RH", "")


def test_the_log_is_filtered_by_period_site_hive_and_vehicle(moved: Farm) -> None:
    sites, hives = moved.sites, moved.hives
    asked = {
        LogFilter(first=BACK, last=BACK): [BACK],
        LogFilter(site_id=sites["Home Yard"]): [BACK, OUT],
        LogFilter(site_id=sites["Near Bank"]): [],
        LogFilter(colony_id=hives["21"]): [LATER],
        LogFilter(vehicle_id=moved.van): [OUT],
        LogFilter(contract_id=1): [],
    }
    with moved.ledger.read() as session:
        assert {each: [row.on for row in move_log(session, each)] for each in asked} == asked


def test_the_log_is_paged_by_its_last_row(moved: Farm) -> None:
    with moved.ledger.read() as session:
        first = move_log(session, limit=2)
        rest = move_log(session, before=(first[-1].on, first[-1].id))
        assert [row.on for row in (*first, *rest)] == [LATER, BACK, OUT]
        assert first_move(session) == OUT


@pytest.mark.parametrize("trips", [1, 3])
def test_the_log_takes_as_many_statements_for_one_move_as_for_three(yard: Farm, trips: int) -> None:
    for number in range(1, trips + 1):
        yard.post([str(number)], "Home Yard", "Ladder Hill", OUT)
    with yard.ledger.read() as session, statements(yard.ledger) as said:
        assert len(move_log(session)) == trips
    assert len([each for each in said if each.startswith("SELECT")]) == 2


@pytest.mark.parametrize("hives", [1, 6])
def test_a_move_is_checked_by_as_many_statements_for_one_hive_as_for_six(yard: Farm, hives: int) -> None:
    move = yard.move(
        [str(n) for n in range(1, hives + 1)], "Home Yard", "Ladder Hill", OUT, vehicle_id=yard.van
    )
    with yard.ledger.read() as session, statements(yard.ledger) as said:
        check_new_move(session, move, "Europe/London", LATER)
    assert len([each for each in said if each.startswith("SELECT")]) == 10


def test_a_card_shows_each_hive_and_can_be_typed_over(moved: Farm) -> None:
    with moved.ledger.read() as session:
        number = move_log(session)[-1].id
        card = move_card(session, number)
    assert card is not None
    assert [(hive.mark, hive.from_site, hive.to_site) for hive in card.hives] == [
        (mark, "Home Yard", "Ladder Hill") for mark in ("1", "2", "3")
    ]
    typed = moved.move(["1", "2", "3"], "Home Yard", "Ladder Hill", OUT, vehicle_id=moved.van, driver="RH")
    assert card.as_typed == typed
    perform(moved.ledger, correct_move, number, replace(card.as_typed, driver="JP"))
    with moved.ledger.read() as session:
        assert move_log(session)[-1].driver == "JP"
        assert move_card(session, 999) is None


def test_a_form_offers_open_sites_with_their_hives(moved: Farm) -> None:
    contract = moved.contract()
    with moved.ledger.read() as session:
        choices = move_choices(session, LATER)
    assert [(site.name, site.hives, site.capacity) for site in choices.sites] == [
        ("Far Drove", 2, 12),
        ("Home Yard", 8, 12),
        ("Ladder Hill", 1, 12),
        ("Near Bank", 0, 12),
    ]
    assert [(van.name, van.places) for van in choices.vehicles] == [("Blue van", 6)]
    assert [each.id for each in choices.contracts] == [contract]


def test_who_stood_at_a_site_on_a_day_is_by_number(moved: Farm) -> None:
    with moved.ledger.read() as session:
        there = [hive.mark for hive in hives_at(session, moved.sites["Ladder Hill"], date(2026, 4, 20))]
        gone = hives_at(session, moved.sites["Ladder Hill"], date(2026, 5, 5))
    assert (there, gone) == (["1", "2", "3"], ())


def test_a_number_names_the_hive_that_carried_it_that_day(moved: Farm) -> None:
    perform(moved.ledger, give_mark, moved.hives["8"], "", date(2026, 5, 1))
    perform(moved.ledger, give_mark, moved.hives["7"], "8", date(2026, 5, 3))
    with moved.ledger.read() as session:
        assert colonies_marked(session, ["8", "77"], date(2026, 4, 20)) == {"8": moved.hives["8"]}
        assert colonies_marked(session, ["8"], date(2026, 5, 6)) == {"8": moved.hives["7"]}


def test_the_register_has_one_line_a_hive_and_not_those_left_behind(moved: Farm) -> None:
    trip = moved.move([], "Home Yard", "Ladder Hill", date(2026, 5, 12))
    hives = (
        *carried([moved.hives["4"]], [moved.hives["6"]]),
        Carried(moved.hives["5"], outcome=LOST, note="strap broke"),
    )
    perform(moved.ledger, post_move, replace(trip, hives=hives))
    with moved.ledger.read() as session:
        register = register_record(session, BACK, date(2026, 5, 14))
        site = register_record(session, OUT, OUT, site_id=moved.sites["Ladder Hill"])
    assert [(line.on, line.hive, line.came_from, line.went_to) for line in register.lines] == [
        (BACK, "1", "Ladder Hill", "Home Yard"),
        (BACK, "2", "Ladder Hill", "Home Yard"),
        (BACK, "3", "Ladder Hill", "Home Yard"),
        (LATER, "21", "Far Drove", "Ladder Hill"),
        (date(2026, 5, 12), "4", "Home Yard", "Ladder Hill"),
        (date(2026, 5, 12), "5", "Home Yard", "lost on the way"),
    ]
    assert (register.moves, register.hives, register.scope) == (3, 6, "all sites")
    assert register.lines[-1].reason == "crop, strap broke"
    assert register.lines[0].left is not None
    assert f"{register.lines[0].left:%H:%M}" == "20:30"  # the farm's clock, not UTC
    assert (site.scope, len(site.lines), site.lines[0].vehicle) == ("Ladder Hill", 3, "Blue van")
