"""Feed kept out of honey for sale: what was on a hive when it was fed, and what went on since.

"Honey" has nothing added to it: Council Directive 2001/110/EC, annex II, and in England the Honey (England)
Regulations 2015 (SI 2015/1348), schedule 1. Which supers were on while a hive was fed is reckoned here by hand.
"""

from __future__ import annotations

from datetime import date

import pytest

from beeledger.base.errors import Refused
from beeledger.database.checking.check import check_ledger
from beeledger.database.ledger import Ledger
from beeledger.model.honey import TakeLine
from beeledger.operations.act import perform
from beeledger.operations.colony_acts import BoxChange, Feed, change_boxes, feed_colonies
from beeledger.operations.colony_work import Answers
from beeledger.operations.rounds import Line
from beeledger.operations.takes import NewTake, NewTakeLine, record_take
from beeledger.queries.hives import supers_put_on
from beeledger.rules.rounds.entry import Entry, FeedKind, Outcome
from tests.builders.yards import Yard, rows, sound, yard

ON, FED, MORE, TAKEN = date(2026, 4, 1), date(2026, 4, 15), date(2026, 4, 20), date(2026, 5, 10)
SYRUP = Feed(FeedKind.SYRUP_1_1, 1000)
UNDER = Answers(frozenset({"rounds.feed_under_supers"}), "starving")


@pytest.fixture
def drove(ledger: Ledger) -> Yard:
    return yard(ledger, "Long Drove", "1")


def supers(on: int = 0, off: int = 0) -> Entry:
    return Entry(outcome=Outcome.LOOKED, supers_on=on or None, supers_off=off or None)


def feed(drove: Yard) -> None:
    perform(drove.ledger, feed_colonies, [drove.hives["1"]], FED, SYRUP, UNDER)


def take(drove: Yard, many: int, on: date = TAKEN, reason: str | None = None) -> None:
    line = NewTakeLine(many, drove.hives["1"], reason=reason)
    perform(drove.ledger, record_take, NewTake(drove.site, on, (line,)))


def put_on(drove: Yard) -> date | None:
    with drove.ledger.read() as session:
        return supers_put_on(session, [drove.hives["1"]], TAKEN).get(drove.hives["1"])


def test_a_second_super_makes_no_honey_of_the_first_that_was_on_when_it_was_fed(drove: Yard) -> None:
    drove.post(ON, h1=supers(on=1))
    feed(drove)
    drove.post(MORE, h1=supers(on=1))
    assert put_on(drove) == ON
    with pytest.raises(Refused, match="honey where feed was on, 15 Apr"):
        take(drove, 2)
    take(drove, 2, reason="kept as feed for the bees")
    assert sound(drove.ledger)


def test_the_check_names_such_honey_where_the_reason_is_gone(sqlite_ledger: Ledger) -> None:
    drove = yard(sqlite_ledger, "Long Drove", "1")
    drove.post(ON, h1=supers(on=1))
    feed(drove)
    drove.post(MORE, h1=supers(on=1))
    take(drove, 2, reason="kept as feed for the bees")
    (line,) = rows(sqlite_ledger, TakeLine)
    with sqlite_ledger.engine.begin() as connection:
        connection.exec_driver_sql(f"UPDATE take_line SET reason = NULL WHERE id = {line.id}")
    assert "no-fed-honey" in {finding.code for finding in check_ledger(sqlite_ledger).findings}


def test_supers_that_went_on_an_empty_hive_at_the_desk_after_the_feed_are_free(drove: Yard) -> None:
    drove.post(ON, h1=supers(on=1))
    take(drove, 1, date(2026, 4, 10))
    feed(drove)
    perform(drove.ledger, change_boxes, [drove.hives["1"]], MORE, BoxChange(supers=2))
    assert put_on(drove) == MORE
    take(drove, 2)
    assert sound(drove.ledger)


def test_supers_that_were_on_at_the_desk_when_it_was_fed_want_a_reason(drove: Yard) -> None:
    perform(drove.ledger, change_boxes, [drove.hives["1"]], ON, BoxChange(supers=1))
    feed(drove)
    drove.post(MORE, h1=supers(on=1))
    with pytest.raises(Refused, match="honey where feed was on"):
        take(drove, 2)


def test_supers_that_one_visit_put_on_in_the_place_of_all_others_are_free(drove: Yard) -> None:
    drove.post(ON, h1=supers(on=1))
    feed(drove)
    accepted = frozenset({"rounds.honey_with_feed"})
    drove.post(MORE, h1=Line(supers(on=2, off=1), drove.hives["1"], accepted=accepted, reason="kept as feed"))
    assert put_on(drove) == MORE
    take(drove, 2)
    assert sound(drove.ledger)


def test_a_hive_fed_before_its_supers_is_not_asked_about(drove: Yard) -> None:
    feed(drove)
    drove.post(MORE, h1=supers(on=1))
    take(drove, 1)
    assert sound(drove.ledger)
