"""What is due, by site and by colony, as acts leave it."""

from __future__ import annotations

from datetime import date

import pytest

from beeledger.database.ledger import Ledger
from beeledger.model.due import Due
from beeledger.operations.act import perform
from beeledger.operations.due import rebuild_all
from beeledger.operations.sites import NewSite, add_site
from beeledger.operations.undo import undo
from beeledger.queries.due import SiteDue, due_by_site, due_of_colony
from beeledger.queries.rounds import sheet_for
from beeledger.rules.due import Grade
from beeledger.rules.rounds.entry import Cause, Entry, Outcome
from tests.builders.yards import DAY, LOOKED, Yard, rows, strips, whole, yard


@pytest.fixture
def drove(ledger: Ledger) -> Yard:
    return yard(ledger, "Long Drove", "1", "2", "3")


def sites(ledger: Ledger, on: date, horizon: int | None = None) -> list[SiteDue]:
    with ledger.read() as session:
        return due_by_site(session, on, horizon)


def codes(drove: Yard, mark: str) -> dict[str, date]:
    with drove.ledger.read() as session:
        return {one.code: one.due_on for one in due_of_colony(session, drove.hives[mark])}


def test_a_look_in_may_puts_the_next_swarm_check_a_week_on(drove: Yard) -> None:
    drove.post(h1=LOOKED)
    # Every seven days in the swarm season: National Bee Unit, Best Practice Guidelines 1, from memory.
    assert codes(drove, "1")["swarm_check"] == date(2026, 5, 21)


def test_strips_put_in_are_due_out_until_a_round_takes_them_out(drove: Yard) -> None:
    strips(drove.ledger)
    drove.post(date(2026, 4, 1), h1=Entry(medicine_in_count=2))
    assert codes(drove, "1")["strips_out"] == date(2026, 5, 13)  # 42 days
    out = drove.post(h1=Entry(medicine_out_count=2))
    assert "strips_out" not in codes(drove, "1")
    undo(drove.ledger, out.act)
    assert codes(drove, "1")["strips_out"] == date(2026, 5, 13)


def test_nothing_is_due_at_a_dead_hive(drove: Yard) -> None:
    assert codes(drove, "1") != {}
    drove.post(h1=Entry(outcome=Outcome.DEAD, cause=Cause.WASPS))
    assert codes(drove, "1") == {}


def test_only_what_an_act_touched_is_worked_out_again_and_a_whole_rebuild_says_the_same(drove: Yard) -> None:
    others = [row.id for row in rows(drove.ledger, Due, colony_id=drove.hives["2"])]
    drove.post(h1=LOOKED)
    assert [row.id for row in rows(drove.ledger, Due, colony_id=drove.hives["2"])] == others
    before = whole(drove.ledger)
    perform(drove.ledger, rebuild_all)
    assert whole(drove.ledger) == before


def test_sites_come_worst_first_with_their_reasons_counted(drove: Yard) -> None:
    perform(drove.ledger, add_site, NewSite("Home", kind="home", grid="TF 400 100"))
    dyke = yard(drove.ledger, "Low Dyke", "20")
    drove.post(date(2026, 5, 6), h1=LOOKED, h2=LOOKED, h3=LOOKED)
    dyke.post(date(2026, 5, 12), h20=LOOKED)
    (worst,) = sites(drove.ledger, DAY)
    assert (worst.site, worst.grade, worst.late_days, worst.colonies_due, worst.colonies) == (
        "Long Drove",
        Grade.LATE,
        1,
        3,
        3,
    )
    assert worst.words == "3 swarm check"
    assert worst.metres_from_home is None
    assert [one.site for one in sites(drove.ledger, DAY, 5)] == ["Long Drove", "Low Dyke"]


def test_the_way_from_home_is_the_straight_line(ledger: Ledger) -> None:
    perform(ledger, add_site, NewSite("Home", kind="home", grid="TF4000010000"))
    far = yard(ledger, "Long Drove", "1")
    from beeledger.operations.sites import change_site

    perform(ledger, change_site, far.site, NewSite("Long Drove", grid="TF4300014000"))
    (one,) = sites(ledger, date(2026, 8, 1))
    assert one.metres_from_home == 5000  # a triangle of 3, 4 and 5 km


def test_the_sheet_says_why_each_hive_is_due(drove: Yard) -> None:
    drove.post(date(2026, 5, 6), h1=LOOKED)
    with drove.ledger.read() as session:
        line = next(line for line in sheet_for(session, drove.site, DAY).lines if line.mark == "1")
    assert line.due[0].code == "swarm_check"
    assert line.due[0].why == "last opened 6 May 2026, every 7 days"
