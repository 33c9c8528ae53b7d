"""The route card on paper: a page for each van, ways in, what to take, cautions, and who is left out."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from beeledger.queries.records.route_card import RouteCard, RouteStop, RouteVan
from beeledger.reporting.documents.route_card import render_pdf
from beeledger.reporting.pictures import page_count, page_text
from tests.reporting.examples import FARM, MADE

DAY = date(2026, 5, 15)
STOP = RouteStop(
    "Long Drove", "SO 430 640", "Second gate, key 4", "Ann Reed, 01234 567", 29_400, 34_800, 6_500, "9 swarm check"
)  # fmt: skip
VAN = RouteVan(
    "Blue van", "RS", 28_800, 36_000, 13_000, (STOP,), ("nucleus boxes",), ("Gloves and goggles.",)
)


def words_of(record: RouteCard) -> list[str]:
    pdf = render_pdf(record, FARM, MADE)
    return [" ".join(page_text(pdf, page).split()) for page in range(page_count(pdf))]


def test_each_van_has_its_page_with_times_way_in_contact_and_cautions():
    first, second = words_of(RouteCard(DAY, (VAN, replace(VAN, name="Red van"))))
    assert "leaves 08:00, home about 10:00, about 13.0 km" in first
    for words in ("Blue van, RS", "1 08:10 09:40 6.5 Long Drove SO 430 640", "Second gate, key 4"):
        assert words in first
    assert "nucleus boxes" in first
    assert "Gloves and goggles." in first
    assert "Red van, RS" in second
    assert "Weights are not reckoned" in second


def test_who_is_left_out_stands_there_with_why_and_an_empty_day_is_said():
    (page,) = words_of(RouteCard(DAY, (), (("Far Ley", "Blue van is home at 19:00"),)))
    assert "Far Ley Blue van is home at 19:00" in page
    (page,) = words_of(RouteCard(DAY, ()))
    assert "No van goes anywhere on this day." in page
