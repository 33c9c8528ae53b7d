"""The list of the colonies and the card of one."""

from __future__ import annotations

from datetime import date

import pytest

from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.colonies import end_colonies, give_mark
from beeledger.operations.farm import set_farm
from beeledger.operations.queens import NewQueen, put_queen
from beeledger.queries.colonies import colonies_shown, colony_card, list_colonies
from beeledger.queries.records.colonies import ColonyCard, ColonyFilter, ColonyLine
from beeledger.rules.rounds.entry import Entry, Heft, MiteMethod, Outcome, QueenState
from tests.builders.yards import DAY, SPRING, Yard, strips, yard
from tests.queries.counting import statements

LATE_APRIL = date(2026, 4, 28)
LOOK = Entry(
    outcome=Outcome.LOOKED, bees_tenths=80, brood_tenths=65, stores_g=6000, queen_state=QueenState.RIGHT
)


@pytest.fixture
def drove(ledger: Ledger) -> Yard:
    return yard(ledger, "Long Drove", "12", "3", "7")


def listed(ledger: Ledger, **wanted) -> list[ColonyLine]:
    with ledger.read() as session:
        return list_colonies(session, ColonyFilter(**wanted))


def line(ledger: Ledger, mark: str) -> ColonyLine:
    return next(one for one in listed(ledger) if one.mark == mark)


def card(place: Yard, mark: str) -> ColonyCard:
    with place.ledger.read() as session:
        found = colony_card(session, place.hives[mark], DAY)
    assert found is not None
    return found


def test_hives_are_listed_in_the_order_of_their_numbers(drove: Yard):
    assert [one.mark for one in listed(drove.ledger)] == ["3", "7", "12"]


def test_a_colony_nobody_looked_at_has_no_figures(drove: Yard):
    one = line(drove.ledger, "3")
    assert (one.site, one.stand, one.queen_year) == ("Long Drove", 2, 2025)
    assert (one.looked_on, one.bees_tenths, one.brood_tenths, one.stores_g, one.mites_hundredths) == (
        None,
    ) * 5


def test_the_figures_are_those_of_the_last_look(drove: Yard):
    drove.post(LATE_APRIL, h3=Entry(outcome=Outcome.LOOKED, bees_tenths=60, brood_tenths=40, stores_g=9000))
    drove.post(DAY, h3=LOOK)
    one = line(drove.ledger, "3")
    assert (one.looked_on, one.bees_tenths, one.brood_tenths, one.stores_g) == (DAY, 80, 65, 6000)


def test_a_hive_hefted_later_keeps_its_frames_and_has_new_stores(drove: Yard):
    drove.post(LATE_APRIL, h3=LOOK)
    drove.post(DAY, h3=Entry(outcome=Outcome.NOT_OPENED, stores_heft=Heft.LIGHT))
    one = line(drove.ledger, "3")
    assert (one.looked_on, one.bees_tenths) == (LATE_APRIL, 80)
    assert (one.stores_g, one.stores_heft, one.stores_on) == (None, "light", DAY)


def test_mites_in_a_wash_are_shown_as_a_share_and_a_drop_is_not(drove: Yard):
    # 8 mites in 300 bees are 2.67 in 100: 8 / 300 = 0.02666...
    wash = Entry(outcome=Outcome.LOOKED, mites_count=8, mites_method=MiteMethod.WASH, mites_bees=300)
    drop = Entry(outcome=Outcome.LOOKED, mites_count=40, mites_method=MiteMethod.DROP, mites_days=7)
    drove.post(LATE_APRIL, h3=wash)
    drove.post(DAY, h3=drop)
    one = line(drove.ledger, "3")
    assert (one.mites_hundredths, one.mites_on) == (267, LATE_APRIL)


def test_a_queenless_colony_says_since_which_look(drove: Yard):
    drove.post(DAY, h3=Entry(outcome=Outcome.LOOKED, queen_state=QueenState.QUEENLESS))
    one = line(drove.ledger, "3")
    assert (one.queen_state, one.queen_state_on) == ("queenless", DAY)


def test_what_is_due_first_stands_with_the_colony(drove: Yard):
    drove.post(LATE_APRIL, h3=LOOK)
    one = line(drove.ledger, "3")
    # The look of 28 April wants the next after nine days, in swarm season (rules.queens: 7 to 9 days).
    assert one.due_code == "swarm_check"
    assert one.due_on is not None
    assert 7 <= (one.due_on - LATE_APRIL).days <= 9


def test_one_site_alone_can_be_listed(drove: Yard):
    other = yard(drove.ledger, "Low Dyke", "31")
    assert [one.mark for one in listed(drove.ledger, site_id=other.site)] == ["31"]


def test_what_ended_is_listed_apart_with_its_cause_and_its_last_number(drove: Yard):
    perform(drove.ledger, end_colonies, [drove.hives["3"]], DAY, "starvation")
    assert [one.mark for one in listed(drove.ledger)] == ["7", "12"]
    (gone,) = listed(drove.ledger, alive=False)
    assert (gone.mark, gone.end_cause, gone.ended_on, gone.place) == ("3", "starvation", DAY, "ended")
    assert gone.site == "Long Drove"


def test_a_hive_without_a_number_comes_last(drove: Yard):
    perform(drove.ledger, give_mark, drove.hives["3"], "", DAY)
    assert [one.mark for one in listed(drove.ledger)] == ["7", "12", None]


def test_the_farms_own_line_for_mites_goes_with_the_list(drove: Yard):
    perform(drove.ledger, set_farm, {"mite_line_hundredths": 250})
    with drove.ledger.read() as session:
        assert colonies_shown(session).mite_line_hundredths == 250


def test_the_list_asks_as_often_for_three_colonies_as_for_one(ledger: Ledger):
    said = []
    for number in (1, 3):
        place = yard(ledger, f"Site {number}", *(f"{number}{at}" for at in range(number)))
        place.post(DAY, **{f"h{mark}": LOOK for mark in place.hives})
        with statements(ledger) as asked, ledger.read() as session:
            list_colonies(session, ColonyFilter(site_id=place.site))
        said.append(len(asked))
    assert said[0] == said[1]


def test_the_card_tells_the_whole_story(drove: Yard):
    strips(drove.ledger)
    drove.post(LATE_APRIL, h3=LOOK, h7=LOOK)
    wash = Entry(outcome=Outcome.LOOKED, mites_count=3, mites_method=MiteMethod.WASH, mites_bees=300)
    drove.post(DAY, h3=wash)
    perform(drove.ledger, put_queen, drove.hives["3"], NewQueen(hatch_year=2026, tag="26-004"), DAY)
    found = card(drove, "3")
    assert [visit.on for visit in found.visits] == [DAY, LATE_APRIL]
    assert [(one.mites, one.bees) for one in found.mites] == [(3, 300)]
    assert [(queen.tag, queen.from_on, queen.until_on) for queen in found.queens] == [
        (None, SPRING, DAY),
        ("26-004", DAY, None),
    ]
    assert [(stay.name, stay.until_on) for stay in found.stood] == [("Long Drove", None)]
    assert found.marks == (("3", SPRING, None),)
    assert (found.place, found.line.queen.tag) == ("site", "26-004")


def test_the_card_of_nobody_is_none(ledger: Ledger):
    with ledger.read() as session:
        assert colony_card(session, 99, DAY) is None


def test_the_card_asks_as_often_for_a_long_story_as_for_a_short_one(drove: Yard):
    said = []
    for day in (None, date(2026, 4, 14), DAY):
        if day is not None:
            drove.post(day, h3=LOOK)
        with statements(drove.ledger) as asked, drove.ledger.read() as session:
            colony_card(session, drove.hives["3"], DAY)
        said.append(len(asked))
    assert len(set(said[1:])) == 1
