"""The whole-farm search."""

from __future__ import annotations

import pytest

from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.sites import NewSite, add_site
from beeledger.queries.search import Hit, find, shared_out
from beeledger.rules.rounds.entry import Entry, Outcome
from tests.builders.yards import LOOKED, yard


def found(ledger: Ledger, words: str, **named: int) -> list[tuple[str, str, str]]:
    with ledger.read() as session:
        return [(hit.kind, hit.name, hit.detail) for hit in find(session, words, **named)]


def test_a_hive_is_found_by_the_beginning_of_its_number_shortest_first(ledger: Ledger) -> None:
    yard(ledger, "Sedge Holt", "104", "1041", "2104")
    assert found(ledger, "104") == [("hive", "104", "Sedge Holt"), ("hive", "1041", "Sedge Holt")]


def test_a_site_is_found_by_any_part_of_its_name_and_in_any_case(ledger: Ledger) -> None:
    perform(ledger, add_site, NewSite("Sedge Holt"))
    perform(ledger, add_site, NewSite("Barley Drove"))
    assert [name for _kind, name, _detail in found(ledger, "HOLT")] == ["Sedge Holt"]


def test_a_dead_hive_is_found_by_its_whole_number_with_its_cause(ledger: Ledger) -> None:
    stand = yard(ledger, "Sedge Holt", "1041", "1042")
    stand.post(h1041=Entry(outcome=Outcome.DEAD, cause="queen_failure"), h1042=LOOKED)
    assert found(ledger, "1041") == [("ended", "1041", "queen failure")]
    assert found(ledger, "104") == [("hive", "1042", "Sedge Holt")]


@pytest.mark.parametrize("words", ["", "   ", "%", "_", "\\", "'; drop table site; --", "\x00"])
def test_nothing_and_signs_find_nothing(ledger: Ledger, words: str) -> None:
    yard(ledger, "Sedge Holt", "1041")
    assert found(ledger, words) == []


def test_every_hit_names_the_place_that_shows_it(ledger: Ledger) -> None:
    stand = yard(ledger, "1041 acre", "1041")
    with ledger.read() as session:
        hits = find(session, "1041")
    assert [(hit.kind, hit.place, hit.id) for hit in hits] == [
        ("hive", "colonies", stand.hives["1041"]), ("site", "sites", stand.site),
    ]  # fmt: skip


def test_no_more_of_a_kind_than_asked_for(ledger: Ledger) -> None:
    yard(ledger, "Sedge Holt", *[str(1000 + number) for number in range(9)])
    assert len(found(ledger, "10")) == 6
    assert len(found(ledger, "10", limit=9)) == 9


def test_a_kind_with_many_hits_leaves_room_for_the_others() -> None:
    hives = [Hit("hive", number, str(number), "", "colonies") for number in range(6)]
    sites = [Hit("site", 1, "10 acre", "", "sites")]
    shared = shared_out([hives, [], sites], 4)
    assert [hit.kind for hit in shared] == ["hive", "hive", "hive", "site"]
    assert [hit.name for hit in shared] == ["0", "1", "2", "10 acre"]
    assert shared_out([hives, [], sites], 40) == [*hives, *sites]
