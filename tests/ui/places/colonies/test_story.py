"""The story of one colony on its card, from what rounds wrote."""

from __future__ import annotations

from datetime import date

import pytest

from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.colonies import end_colonies
from beeledger.operations.colony_making import Gift, give_frames
from beeledger.operations.queens import NewQueen, put_queen
from beeledger.queries.colonies import colony_card
from beeledger.queries.records.colonies import ColonyCard
from beeledger.rules.rounds.entry import Entry, FeedKind, Heft, MiteMethod, Outcome
from beeledger.rules.stores import light_line_g
from beeledger.ui.places.colonies import story
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.time_lanes import Shape
from tests.builders.yards import DAY, SPRING, Yard, strips, yard

APRIL = date(2026, 4, 14)


@pytest.fixture
def drove(sqlite_ledger: Ledger) -> Yard:
    return yard(sqlite_ledger, "Long Drove", "3", "7")


def card(place: Yard, today: date = DAY) -> ColonyCard:
    with place.ledger.read() as session:
        found = colony_card(session, place.hives["3"], today)
    assert found is not None
    return found


def figures(place: Yard) -> dict[str, tuple[str, str, str]]:
    return {one.name: (one.value, one.unit, one.source) for one in story.key_figures(card(place), DAY)}


def lane(place: Yard, name: str):
    return next(one for one in story.lanes(card(place), SPRING) if one.name == name)


def test_a_colony_nobody_opened_has_blank_figures(drove: Yard):
    assert {value for value, _unit, _source in figures(drove).values()} == {""}


def test_each_figure_says_when_and_how_it_was_got(drove: Yard):
    drove.post(
        APRIL, h3=Entry(outcome=Outcome.LOOKED, bees_tenths=80, brood_tenths=55, temper=2, mites_count=8,
        mites_method=MiteMethod.WASH, mites_bees=300),
    )  # fmt: skip
    drove.post(DAY, h3=Entry(outcome=Outcome.NOT_OPENED, stores_g=6_000))
    # 8 in 300 are 2.67 in 100.
    assert figures(drove) == {
        "Bees": ("8", "fr", "14 Apr"), "Brood": ("5.5", "fr", "14 Apr"), "Stores": ("6", "kg", "hefted 14 May"),
        "Mites": ("2.7", "%", "8 in 300, 14 Apr"), "Temper": ("2", "of 5", "14 Apr"),
    }  # fmt: skip


def test_a_word_of_the_heft_stays_a_word(drove: Yard):
    drove.post(DAY, h3=Entry(outcome=Outcome.NOT_OPENED, stores_heft=Heft.HEAVY))
    assert figures(drove)["Stores"] == ("heavy", "", "hefted 14 May")


def test_a_drop_is_said_a_day_and_never_as_a_share(drove: Yard):
    drop = Entry(outcome=Outcome.NOT_OPENED, mites_count=21, mites_method=MiteMethod.DROP, mites_days=7)
    drove.post(DAY, h3=drop)
    assert figures(drove)["Mite drop"] == ("3.0", "a day", "21 in 7 days")
    assert story.mite_series(card(drove), DAY)[0].points == ()


def test_mites_at_the_line_are_marked(drove: Yard):
    wash = Entry(outcome=Outcome.LOOKED, mites_count=9, mites_method=MiteMethod.WASH, mites_bees=300)
    drove.post(DAY, h3=wash)
    mark = next(one.mark for one in story.key_figures(card(drove), DAY) if one.name == "Mites")
    assert mark is Mark.TODAY


def test_the_boxes_are_drawn_from_the_bottom_with_the_newest_figures(drove: Yard):
    drove.post(DAY, h3=Entry(outcome=Outcome.LOOKED, brood_tenths=70, supers_on=2, super_fullness_tenths=7))
    boxes = story.stack(card(drove))
    assert [(box.brood, box.words, box.second) for box in boxes] == [
        (True, "7 of 11 brood", "14 May"), (False, "7 tenths full", "14 May"), (False, "empty", "14 May"),
    ]  # fmt: skip
    assert [box.excluder_below for box in boxes] == [False, True, False]


def test_what_happened_stands_in_lanes(drove: Yard):
    strips(drove.ledger)
    syrup = Entry(outcome=Outcome.LOOKED, feed_kind=FeedKind.SYRUP_1_1, feed_ml=2_000)
    drove.post(SPRING, h3=syrup)
    drove.post(APRIL, h3=Entry(outcome=Outcome.LOOKED, medicine_in="Fen strips", medicine_in_count=2))
    drove.post(DAY, h3=Entry(outcome=Outcome.NOT_OPENED, stores_heft=Heft.GOOD))
    assert [(one.day, one.shape) for one in lane(drove, "Looks").moments] == [
        (DAY, Shape.RING), (APRIL, Shape.DOT), (SPRING, Shape.DOT),
    ]  # fmt: skip
    assert [one.words for one in lane(drove, "Feed").moments] == ["syrup 1:1 2.0 l"]
    assert [(one.words, one.first, one.last) for one in lane(drove, "Treated").spans] == [
        ("Fen strips", APRIL, None)
    ]
    assert [one.words for one in lane(drove, "Stood").spans] == ["Long Drove"]


def test_a_new_queen_stands_in_her_lane_with_her_colour(drove: Yard):
    perform(drove.ledger, put_queen, drove.hives["3"], NewQueen(hatch_year=2026, tag="26-004"), APRIL)
    found = lane(drove, "Queen")
    assert [(one.day, one.disc) for one in found.moments] == [(SPRING, "blue"), (APRIL, "white")]
    assert [(one.first, one.last) for one in found.spans] == [(SPRING, APRIL), (APRIL, None)]


def test_the_last_visits_are_quick_lines_with_the_crew(drove: Yard):
    drove.post(DAY, h3=Entry(outcome=Outcome.LOOKED, eggs=True, brood_tenths=90, bees_tenths=100, temper=2))
    (fact,) = story.visit_facts(card(drove))
    assert fact.name == "14 May"
    assert {"e", "b9", "f10", "t2"} <= set(fact.middle.split())


def test_the_charts_of_a_colony_that_ended_show_its_last_twelve_months(drove: Yard):
    drove.post(SPRING, h3=Entry(outcome=Outcome.LOOKED, bees_tenths=60))
    perform(drove.ledger, end_colonies, [drove.hives["3"]], APRIL, "damp")
    later = date(2027, 12, 1)
    found = card(drove, later)
    assert story.first_day(found, later) == date(2025, 4, 14)
    assert [point.value for point in story.strength_series(found, APRIL)[0].points] == [6.0]
    assert "damp" in story.facts_line(found)
    assert story.day_words(SPRING, later) == "20 Mar 2026"


def test_what_passed_between_hives_has_a_lane_of_its_own(drove: Yard):
    assert "Hives" not in [one.name for one in story.lanes(card(drove), SPRING)]
    gift = Gift(drove.hives["3"], brood_tenths=10)
    perform(drove.ledger, give_frames, DAY, gift, [drove.hives["7"]])
    assert [(one.day, one.words) for one in lane(drove, "Hives").moments] == [(DAY, "frame to 7")]


def test_stores_are_drawn_in_kilograms_over_the_line_of_the_month(drove: Yard):
    drove.post(APRIL, h3=Entry(outcome=Outcome.NOT_OPENED, stores_g=9_500))
    (series,) = story.stores_series(card(drove), DAY)
    assert [(point.day, point.value) for point in series.points] == [(APRIL, 9.5)]
    assert [line.value for line in story.stores_lines(card(drove), DAY)] == [light_line_g(5) / 1000]
