"""The list of the sites and the card of one."""

from __future__ import annotations

from datetime import date

import pytest

from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.colonies import end_colonies
from beeledger.operations.sites import NewSite, add_site, close_site
from beeledger.queries.records.sites import SiteCard, SiteLine, SiteLosses
from beeledger.queries.sites import landholders, list_sites, open_sites, site_card
from beeledger.rules.rounds.entry import Entry, Outcome
from tests.builders.yards import DAY, Yard, yard
from tests.queries.counting import statements

LATE_APRIL = date(2026, 4, 28)
LOOK = Entry(outcome=Outcome.LOOKED, eggs=True)


def add(ledger: Ledger, name: str, grid: str = "", **more) -> int:
    return int(perform(ledger, add_site, NewSite(name, grid=grid, **more)).result)


def listed(ledger: Ledger, *, closed: bool = False) -> dict[str, SiteLine]:
    with ledger.read() as session:
        return {line.name: line for line in list_sites(session, DAY, closed=closed)}


def card(ledger: Ledger, site_id: int) -> SiteCard:
    with ledger.read() as session:
        found = site_card(session, site_id, DAY)
    assert found is not None
    return found


@pytest.fixture
def drove(ledger: Ledger) -> Yard:
    return yard(ledger, "Long Drove", "3", "7", "12")


def test_a_site_says_how_many_stand_there(drove: Yard):
    add(drove.ledger, "Low Dyke", capacity=20)
    lines = listed(drove.ledger)
    assert (lines["Long Drove"].colonies, lines["Low Dyke"].colonies, lines["Low Dyke"].capacity) == (
        3,
        0,
        20,
    )


def test_a_site_says_when_somebody_was_there_and_what_is_late(drove: Yard):
    drove.post(LATE_APRIL, h3=LOOK, h7=LOOK, h12=LOOK)
    line = listed(drove.ledger)["Long Drove"]
    assert line.last_round_on == LATE_APRIL
    assert line.due_on is not None
    assert line.due_on < DAY
    assert line.colonies_due == 3


def test_distances_are_from_the_home_site_in_a_straight_line(ledger: Ledger):
    # A right triangle of 3 and 4 km: 5 km between the ends.
    add(ledger, "Home", "SO 40000 60000", kind="home")
    add(ledger, "Low Dyke", "SO 43000 64000")
    assert listed(ledger)["Low Dyke"].metres_from_home == 5_000


def test_without_a_home_no_distance_is_known(ledger: Ledger):
    add(ledger, "Low Dyke", "SO 43000 64000")
    assert listed(ledger)["Low Dyke"].metres_from_home is None


def test_sites_given_up_are_listed_apart(ledger: Ledger):
    gone, _kept = add(ledger, "Low Dyke"), add(ledger, "Orchard")
    perform(ledger, close_site, gone, DAY)
    assert list(listed(ledger)) == ["Orchard"]
    assert listed(ledger, closed=True)["Low Dyke"].closed_on == DAY
    with ledger.read() as session:
        assert [site.name for site in open_sites(session)] == ["Orchard"]


def test_own_sites_within_3_km_are_named_nearest_first(ledger: Ledger):
    # 3 km: Commission Delegated Regulation (EU) 2020/688, article 48.
    here = add(ledger, "Low Dyke", "SO 40000 60000")
    add(ledger, "At three", "SO 43000 60000")
    add(ledger, "Past three", "SO 43001 60000")
    add(ledger, "Near", "SO 40000 60500")
    found = card(ledger, here)
    assert [(one.name, one.metres) for one in found.near] == [("Near", 500), ("At three", 3_000)]
    assert found.near_m == 3_000


def test_a_site_without_a_place_has_nobody_near(ledger: Ledger):
    assert card(ledger, add(ledger, "Low Dyke")).near == ()


def test_losses_are_counted_where_the_colonies_stood_and_what_was_sold_is_none(drove: Yard):
    perform(drove.ledger, end_colonies, [drove.hives["3"]], DAY, "sold")
    perform(drove.ledger, end_colonies, [drove.hives["7"], drove.hives["12"]], LATE_APRIL, "damp")
    found = card(drove.ledger, drove.site)
    assert found.losses == (SiteLosses(2026, "damp", 2),)
    assert found.standing == ()


def test_the_last_visits_say_who_and_how_many(drove: Yard):
    drove.post(LATE_APRIL, h3=LOOK)
    drove.post(DAY, h3=LOOK, h7=LOOK)
    assert [(one.on, one.hives) for one in card(drove.ledger, drove.site).visits] == [
        (DAY, 2),
        (LATE_APRIL, 1),
    ]


def test_a_new_landholder_is_written_with_the_site_and_an_old_one_taken(ledger: Ledger):
    first = add(ledger, "Low Dyke", landholder="Fen Farm Partners")
    second = add(ledger, "Orchard", landholder="fen farm  partners")
    with ledger.read() as session:
        assert landholders(session) == ["Fen Farm Partners"]
    assert card(ledger, first).line.landholder == card(ledger, second).line.landholder == "Fen Farm Partners"


def test_the_card_of_nowhere_is_none(ledger: Ledger):
    with ledger.read() as session:
        assert site_card(session, 99, DAY) is None


def test_one_site_and_three_are_asked_for_alike(ledger: Ledger):
    said = []
    for number in (1, 2, 3):
        place = yard(ledger, f"Site {number}", str(number))
        place.post(DAY, **{f"h{number}": LOOK})
        with statements(ledger) as asked, ledger.read() as session:
            list_sites(session, DAY)
            site_card(session, place.site, DAY)
        said.append(len(asked))
    assert len(set(said)) == 1
