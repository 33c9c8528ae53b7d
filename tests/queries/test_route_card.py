"""The route card read from the ledger: ways in, whom to call, what is due, and what is said where nothing goes."""

from __future__ import annotations

from datetime import date

import pytest

from beeledger.base.errors import CannotNow
from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.parties import NewParty, NewVehicle, add_party, add_vehicle
from beeledger.operations.sites import NewSite, add_site, change_site
from beeledger.queries.day_plan import day_problem
from beeledger.queries.route_card import proposed_card, route_card
from beeledger.rules.day_plan import Van
from tests.builders.yards import LOOKED, Yard, yard

TODAY = date(2026, 5, 14)
VANS = (Van("Blue van", 8 * 3600, 17 * 3600, crew="RS"), Van("Red van", 8 * 3600, 17 * 3600))


@pytest.fixture
def drove(ledger: Ledger) -> Yard:
    """3 km east and 4 km north of home: 5 km straight, 6.5 km by the shipped road factor of 1.3."""
    perform(ledger, add_site, NewSite("Home", grid="SO 400 600", kind="home"))
    perform(ledger, add_party, NewParty("Drove Farm", ("landholder",), "Ann Reed", phone="01234 567"))
    place = yard(ledger, "Long Drove", "3", "7")
    site = NewSite("Long Drove", grid="SO 430 640", way_in="Second gate", landholder="Drove Farm")
    perform(ledger, change_site, place.site, site)
    place.post(date(2026, 4, 28), h3=LOOKED, h7=LOOKED)
    return place


def test_a_stop_has_its_grid_reference_way_in_contact_times_and_what_is_due(drove: Yard):
    with drove.ledger.read() as session:
        problem = day_problem(session, TODAY, [drove.site], VANS)
        (van,) = route_card(session, TODAY, problem, ((0,), ())).vans
    (stop,) = van.stops
    assert (van.name, van.crew, van.metres) == ("Blue van", "RS", 13_000)
    assert (stop.site, stop.grid, stop.way_in) == ("Long Drove", "SO 430 640", "Second gate")
    assert stop.contact == "Ann Reed, 01234 567"
    assert (stop.metres, stop.leave_s - stop.begin_s) == (6_500, problem.stops[0].work_s)
    assert "2 swarm check" in stop.words
    assert "nucleus boxes" in van.take[0]
    assert "up to 2 hives" in van.take[0]


def test_what_is_left_out_stands_on_the_card_with_its_reason(drove: Yard):
    late = (Van("Blue van", 8 * 3600, 8 * 3600 + 600),)
    with drove.ledger.read() as session:
        card = route_card(session, TODAY, day_problem(session, TODAY, [drove.site], late), ((),))
    assert card.vans == ()
    ((site, why),) = card.left
    assert site == "Long Drove"
    assert "after 08:10" in why


def test_a_card_without_a_plan_sends_every_van_that_is_not_retired(drove: Yard):
    with drove.ledger.read() as session, pytest.raises(CannotNow, match="No van"):
        proposed_card(session, TODAY)
    perform(drove.ledger, add_vehicle, NewVehicle("Old van", 9, retired=True))
    perform(drove.ledger, add_vehicle, NewVehicle("Blue van", 9))
    with drove.ledger.read() as session:
        card = proposed_card(session, TODAY)
        with pytest.raises(CannotNow, match="No site"):
            proposed_card(session, date(2026, 1, 2))
    assert [(van.name, len(van.stops)) for van in card.vans] == [("Blue van", 1)]
