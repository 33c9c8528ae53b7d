"""The words beside the places."""

from __future__ import annotations

from beeledger.queries.counts import Waiting
from beeledger.ui.frame.waiting import waiting_words


def test_nothing_stands_beside_a_place_where_nothing_waits():
    assert waiting_words(Waiting(), 0) == {}


def test_what_the_law_asks_for_is_marked_as_short_and_the_rest_is_not():
    said = waiting_words(Waiting(sites_late=4, takes_to_weigh=3, medicines_to_fill=2), 1)
    assert said["medicines"] == ("2 to fill", True)
    assert said["today"] == ("4 late", False)
    assert said["rounds"] == ("1 draft", False)
    assert said["harvest"] == ("3 to weigh", False)
