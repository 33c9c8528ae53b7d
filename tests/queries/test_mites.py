"""Mites by site: the newest count of each colony, against the line the farm has drawn."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.farm import set_farm
from beeledger.queries.mites import counts_at, mites_by_site
from beeledger.queries.records.medicines import MiteView, SiteMites
from beeledger.rules.rounds.entry import Entry, MiteMethod
from tests.builders.yards import DAY, LOOKED, yard
from tests.queries.counting import statements

APRIL = date(2026, 4, 10)


def wash(mites: int, bees: int | None = None) -> Entry:
    return replace(LOOKED, mites_count=mites, mites_method=MiteMethod.WASH, mites_bees=bees)


def drop(mites: int, days: int) -> Entry:
    return replace(LOOKED, mites_count=mites, mites_method=MiteMethod.DROP, mites_days=days)


def view(ledger: Ledger, on: date = DAY) -> MiteView:
    with ledger.read() as session:
        return mites_by_site(session, on)


def only(ledger: Ledger, on: date = DAY) -> SiteMites:
    (site,) = view(ledger, on).sites
    return site


def test_the_mean_is_of_the_newest_counts_and_the_line_itself_is_over_it(ledger: Ledger) -> None:
    """9 in 300 are 3.0 %, 6 in 300 2.0 %, 4 in 285 1.4 % (common arithmetic of the sample, USDA-ARS line 3 in 100)."""
    place = yard(ledger, "Sedge Holt", "1041", "1042", "1043", "1044")
    place.post(APRIL, h1041=wash(15), h1042=wash(1))
    place.post(h1041=wash(9), h1042=wash(6), h1043=wash(4, 285))
    site = only(ledger)
    assert (site.standing, site.counted, site.sampled) == (4, 3, 3)
    assert (site.least_hundredths, site.mean_hundredths, site.most_hundredths) == (140, 213, 300)
    assert (site.at_line, site.at_line_hundredths, site.last_on) == (1, 3333, DAY)


def test_the_line_is_the_farms_own(ledger: Ledger) -> None:
    yard(ledger, "Sedge Holt", "1041").post(h1041=wash(6))
    assert only(ledger).at_line == 0
    perform(ledger, set_farm, {"mite_line_hundredths": 200})
    assert (only(ledger).at_line, view(ledger).line_hundredths) == (1, 200)


def test_a_drop_counts_by_what_it_means_for_the_colony_and_not_in_the_mean(ledger: Ledger) -> None:
    """May to August × 30: 234 in 7 days are over 1,000 mites, 56 in 7 days 240 (Managing Varroa)."""
    place = yard(ledger, "Sedge Holt", "1041", "1042", "1043")
    place.post(h1041=drop(234, 7), h1042=drop(56, 7), h1043=wash(3))
    site = only(ledger)
    assert (site.counted, site.sampled, site.mean_hundredths, site.at_line) == (3, 1, 100, 1)


def test_a_site_never_counted_stands_at_the_end_with_nothing_known(ledger: Ledger) -> None:
    yard(ledger, "Sedge Holt", "1041")
    yard(ledger, "Marl Bank", "2001").post(h2001=wash(1))
    counted, bare = view(ledger).sites
    assert (counted.site, bare.site) == ("Marl Bank", "Sedge Holt")
    assert (bare.counted, bare.mean_hundredths, bare.at_line_hundredths, bare.last_on) == (
        0,
        None,
        None,
        None,
    )


def test_a_count_of_more_than_a_year_ago_says_nothing_any_more(ledger: Ledger) -> None:
    yard(ledger, "Sedge Holt", "1041").post(h1041=wash(12))
    assert only(ledger, date(2027, 5, 14)).counted == 1
    assert only(ledger, date(2027, 5, 15)).counted == 0


def test_the_counts_of_a_site_stand_in_the_order_of_their_days(ledger: Ledger) -> None:
    place = yard(ledger, "Sedge Holt", "1041", "1042")
    place.post(APRIL, h1041=wash(15))
    place.post(h1042=drop(21, 7))
    with ledger.read() as session:
        counts = counts_at(session, place.site, DAY)
    assert [(one.on, one.mark, one.method, one.mites) for one in counts] == [
        (APRIL, "1041", "wash", 15),
        (DAY, "1042", "drop", 21),
    ]


def test_three_sites_are_asked_for_as_one_is(ledger: Ledger) -> None:
    def cost() -> int:
        with ledger.read() as session, statements(ledger) as said:
            mites_by_site(session, DAY)
        return len(said)

    yard(ledger, "Sedge Holt", "1041").post(h1041=wash(3))
    one = cost()
    yard(ledger, "Marl Bank", "2001").post(h2001=wash(1))
    yard(ledger, "Low Carr", "3001").post(h3001=wash(1))
    assert cost() == one
