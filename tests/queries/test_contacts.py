"""Contacts of a site out of a ledger: along moves and gifts, with the ways, the sites near and the log."""

from __future__ import annotations

from datetime import date

import pytest

from beeledger.database.ledger import Ledger
from beeledger.queries.contacts import contacts_of_site
from beeledger.queries.records.contacts import ContactTrace
from tests.operations.trips import Farm, farm
from tests.queries.counting import statements

FIRST, LAST = date(2026, 4, 1), date(2026, 5, 14)


@pytest.fixture
def there(ledger: Ledger) -> Farm:
    """Hives 1 and 2 went from Home Yard to Ladder Hill on 22 April."""
    made = farm(ledger)
    made.post(["1", "2"], "Home Yard", "Ladder Hill", date(2026, 4, 22))
    return made


def traced(there: Farm, name: str, first: date = FIRST, *, back: bool = False) -> ContactTrace:
    with there.ledger.read() as session:
        return contacts_of_site(session, there.sites[name], first, LAST, back=back)


def test_what_went_to_another_site_is_in_contact_from_its_day(there: Farm) -> None:
    trace = traced(there, "Home Yard")
    hill = next(line for line in trace.lines if line.name == "Ladder Hill")
    assert (hill.kind, hill.on, hill.steps) == ("site", date(2026, 4, 22), 2)
    assert hill.way.endswith("22 Apr hive 1 to Ladder Hill")
    assert {(one.hive, one.went_to) for one in trace.log} == {("1", "Ladder Hill"), ("2", "Ladder Hill")}
    assert {one.hive for one in trace.stood} >= {"1", "2"}


def test_what_left_before_the_period_reaches_nothing(there: Farm) -> None:
    trace = traced(there, "Home Yard", date(2026, 4, 24))
    assert "Ladder Hill" not in {line.name for line in trace.lines}


def test_traced_back_the_giver_is_found_and_onward_the_taker_is_not(there: Farm) -> None:
    assert "Home Yard" in {line.name for line in traced(there, "Ladder Hill", back=True).lines}
    assert "Home Yard" not in {line.name for line in traced(there, "Ladder Hill").lines}


def test_more_moves_take_no_more_statements(there: Farm) -> None:
    with statements(there.ledger) as one:
        traced(there, "Home Yard")
    there.post(["1"], "Ladder Hill", "Home Yard", date(2026, 4, 29))
    with statements(there.ledger) as more:
        traced(there, "Home Yard")
    assert len(one) == len(more)
