"""What paper can be made of, in words, in the same number of questions however much there is."""

from __future__ import annotations

from datetime import date

from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.jars import JarsOut, send_jars
from beeledger.operations.sites import NewSite, add_site
from beeledger.queries.paper_choices import paper_choices
from tests.operations import honey_room as room_of
from tests.queries.counting import statements

DAY = date(2026, 5, 13)


def test_an_empty_farm_offers_nothing(ledger: Ledger) -> None:
    with ledger.read() as session:
        found = paper_choices(session)
    assert (found.sites, found.rounds, found.batches, found.of("dispatches"), found.first_move) == (
        (), (), (), (), None,
    )  # fmt: skip


def test_batches_and_dispatches_are_said_by_mark_and_receiver(ledger: Ledger) -> None:
    _, number = room_of.jarred(ledger)
    perform(ledger, send_jars, JarsOut(number, DAY, 3, "Aldley Stores"))
    with ledger.read() as session:
        found = paper_choices(session)
    assert found.batches == ((number, "SB26-0001-40  Summer 340, 340 g"),)
    assert found.dispatches == ((1, "Aldley Stores, 13 May 2026"),)
    assert [words for _, words in found.sites] == ["Long Drove", "Low Dyke"]


def test_more_sites_and_dispatches_take_no_more_questions(ledger: Ledger) -> None:
    _, number = room_of.jarred(ledger)
    counts = []
    for name in ("One", "Two", "Three"):
        perform(ledger, add_site, NewSite(name))
        perform(ledger, send_jars, JarsOut(number, DAY, 1, name))
        with ledger.read() as session, statements(ledger) as said:
            paper_choices(session)
        counts.append(len(said))
    assert len(set(counts)) == 1
