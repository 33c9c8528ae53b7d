"""Contracts on their time line, and the movement report from the log and the checks alone."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

import pytest

from beeledger.database.ledger import Ledger
from beeledger.model.contracts import Contract
from beeledger.operations.act import perform
from beeledger.operations.contracts import (
    Counted,
    NewCheck,
    close_contract,
    record_bloom,
    record_strength_check,
)
from beeledger.operations.undo import undo
from beeledger.queries.contract_list import contract_years, list_contracts, season
from beeledger.queries.contract_report import check_results
from beeledger.queries.contract_stays import CheckMade, Count
from beeledger.queries.contracts import (
    contract_card,
    contract_choices,
    draw_sample,
    report_record,
)
from beeledger.queries.records.contract_desk import ContractCard, ContractRow, Look, Standing
from beeledger.queries.records.movement_report import MovementReport
from tests.operations.trips import Farm, farm
from tests.queries.test_moves import statements

TODAY = date(2026, 5, 14)
OUT, LATE, CHECKED, BACK = date(2026, 4, 10), date(2026, 4, 13), date(2026, 4, 20), date(2026, 5, 10)


class LastOnes:
    """Chance that draws the last of the list."""

    def sample(self, population: Sequence[str], k: int) -> list[str]:
        return list(population)[-k:]


@pytest.fixture
def yard(ledger: Ledger) -> Farm:
    return farm(ledger)


@pytest.fixture
def served(yard: Farm) -> Farm:
    """Six promised from 10 April to 10 May at £45: 1 to 4 on time, 5 three days late, 4 home two days early."""
    number = yard.contract(weak_share_hundredths=5_000, late_day_pence=50)
    yard.post(["1", "2", "3", "4"], "Home Yard", "Ladder Hill", OUT, contract_id=number)
    yard.post(["5"], "Home Yard", "Ladder Hill", LATE)
    lines = (
        Counted(yard.hives["1"], 90, 50),
        Counted(yard.hives["2"], 70, 40),
        Counted(yard.hives["3"], 80, 45),
    )
    perform(yard.ledger, record_strength_check, NewCheck(number, CHECKED, "RH", 11, lines, 5_000))
    yard.post(["4"], "Ladder Hill", "Far Drove", date(2026, 5, 8))
    yard.post(["1", "2", "3", "5"], "Ladder Hill", "Home Yard", date(2026, 5, 12))
    return yard


def report(yard: Farm, today: date = TODAY) -> MovementReport:
    with yard.ledger.read() as session:
        return report_record(session, 1, today)


def only_row(yard: Farm, today: date = TODAY) -> ContractRow:
    with yard.ledger.read() as session:
        rows = list_contracts(session, today)
    assert len(rows) == 1
    return rows[0]


def card_of(yard: Farm, today: date = TODAY) -> ContractCard:
    with yard.ledger.read() as session:
        card = contract_card(session, 1, today)
    assert card is not None
    return card


def test_each_hive_stands_in_the_report_with_where_from_when_and_how_strong(served: Farm) -> None:
    stays = [
        (stay.hive, stay.came_from, stay.on.day, stay.off and stay.off.day, stay.days, stay.bees_tenths, stay.went_to)
        for stay in report(served).stays
    ]  # fmt: skip
    # Days by hand: as many as nights. 10 April to 12 May is 20 + 12 = 32; to 8 May 28; 13 April to 12 May 29.
    assert stays == [
        ("1", "Home Yard", 10, 12, 32, 90, "Home Yard"),
        ("2", "Home Yard", 10, 12, 32, 70, "Home Yard"),
        ("3", "Home Yard", 10, 12, 32, 80, "Home Yard"),
        ("4", "Home Yard", 10, 8, 28, None, "Far Drove"),
        ("5", "Home Yard", 13, 12, 29, None, "Home Yard"),
    ]


def test_each_shortfall_is_said_in_words(served: Farm) -> None:
    assert {stay.hive: stay.shortfall for stay in report(served).stays} == {
        "1": "",
        "2": "1 frame of bees short",
        "3": "",
        "4": "left 2 days early",
        "5": "came 3 days late",
    }


def test_what_is_owed_adds_up_line_by_line(served: Farm) -> None:
    made = report(served)
    # By hand: 5 hives at £45 = £225; one short, nothing agreed for it; one weak at half price = −£22.50;
    # 2 days after 10 May for hives 1, 2, 3 and 5 at 50p a day = 8 × 50p = £4.
    assert [(line.what, line.quantity, line.price_pence, line.sum_pence) for line in made.owed] == [
        ("Hives brought", 5, 4_500, 22_500),
        ("Hives not brought", 1, 0, 0),
        ("Hives under strength", 1, -2_250, -2_250),
        ("Hive-days late to the crop", 3, 0, 0),
        ("Hive-days taken off early", 2, 0, 0),
        ("Hive-days left too long", 8, 50, 400),
    ]
    assert made.owed_pence == 22_500 - 2_250 + 400
    assert [line.unit for line in made.owed] == ["hives"] * 3 + ["hive-days"] * 3


def test_the_report_says_the_period_the_check_and_the_hives_by_day(served: Farm) -> None:
    made = report(served)
    assert (made.first, made.last, made.hive_days, made.hives_delivered) == (OUT, date(2026, 5, 12), 153, 5)
    assert [(count.on, count.hives) for count in made.counts] == [
        (OUT, 4), (LATE, 5), (date(2026, 5, 8), 4), (date(2026, 5, 12), 0),
    ]  # fmt: skip
    (check,) = made.strength
    # Mean of 9, 7 and 8 frames is 8; of 5, 4 and 4.5 of brood 4.5.
    assert (check.counted, check.of, check.mean_bees_tenths, check.mean_brood_tenths, check.below) == (
        3,
        5,
        80,
        45,
        1,
    )
    assert check.how == "50 % by lot 11"
    # By hand: s = 1, n = 3 of N = 5: 8 ± 4.303 · 1 · √((1 − 3/5) / 3) = 8 ± 1.571 (Cochran 1977, 2.6; t from the table).
    assert [note.words for note in made.notes] == [
        "Mean of all 5: 6.4 to 9.6 frames of bees (95 %)",
        "Days past the day agreed are charged as kept by the grower; where the farm came late they are not owed.",
    ]
    assert made.grower.contact == "01234 567"


def test_hives_still_on_the_crop_are_counted_to_today(yard: Farm) -> None:
    number = yard.contract()
    yard.post(["1"], "Home Yard", "Ladder Hill", OUT, contract_id=number)
    made = report(yard, date(2026, 4, 15))
    assert [(stay.off, stay.days) for stay in made.stays] == [(None, 5)]
    assert made.last == date(2026, 4, 15)
    assert made.notes[-1].words == "Hives still stand on the crop: days and sums run to this day."


def test_a_hive_that_went_home_and_came_again_is_paid_once(yard: Farm) -> None:
    number = yard.contract(hives=1)
    yard.post(["1"], "Home Yard", "Ladder Hill", OUT, contract_id=number)
    yard.post(["1"], "Ladder Hill", "Home Yard", LATE)
    yard.post(["1"], "Home Yard", "Ladder Hill", CHECKED, contract_id=number)
    made = report(yard)
    assert (len(made.stays), made.hives_delivered) == (2, 1)
    assert (made.owed[0].quantity, made.owed[0].sum_pence) == (1, 4_500)


def test_hives_on_the_site_long_before_are_not_of_the_contract(yard: Farm) -> None:
    yard.post(["6"], "Home Yard", "Ladder Hill", date(2026, 3, 5))
    yard.post(["6"], "Ladder Hill", "Home Yard", date(2026, 4, 1))
    yard.contract()
    assert report(yard).stays == ()


def test_hives_that_live_at_the_site_of_a_crop_are_not_brought(yard: Farm) -> None:
    yard.post(["6"], "Home Yard", "Ladder Hill", date(2026, 3, 5))
    yard.contract()
    yard.post(["1"], "Home Yard", "Ladder Hill", OUT)
    assert [stay.hive for stay in report(yard, OUT).stays] == ["1"]


def test_more_hives_than_agreed_are_counted_and_asked_about(yard: Farm) -> None:
    number = yard.contract(hives=2)
    yard.post(["1", "2", "3"], "Home Yard", "Ladder Hill", OUT, contract_id=number)
    row = only_row(yard, OUT)
    assert (row.found, row.beyond, row.short) == (3, 1, 0)


def test_a_contract_waits_is_on_site_is_home_and_is_closed(yard: Farm) -> None:
    number = yard.contract()
    assert only_row(yard, date(2026, 4, 9)).standing is Standing.WAITING
    yard.post(["1", "2"], "Home Yard", "Ladder Hill", OUT, contract_id=number)
    row = only_row(yard)
    assert (row.standing, row.came, row.here, row.found, row.short, row.ready) == (
        Standing.ON_SITE, 2, 2, 2, 4, None,
    )  # fmt: skip
    yard.post(["1", "2"], "Ladder Hill", "Home Yard", BACK)
    row = only_row(yard)
    assert (row.standing, row.here, row.first_on, row.last_off) == (Standing.HOME, 0, OUT, BACK)
    perform(yard.ledger, close_contract, number)
    assert (only_row(yard).standing, only_row(yard).short) == (Standing.CLOSED, 0)


def test_looks_at_the_bloom_stand_on_the_time_line(yard: Farm) -> None:
    number = yard.contract()
    perform(yard.ledger, record_bloom, number, CHECKED, 1_000)
    perform(yard.ledger, record_bloom, number, LATE, 200)
    assert only_row(yard).looks == (Look(LATE, 200), Look(CHECKED, 1_000))


def test_hives_never_counted_are_not_ready_and_their_site_is_told(yard: Farm) -> None:
    yard.contract(on=date(2026, 5, 20), off=date(2026, 6, 10))
    card = card_of(yard)
    assert (card.row.ready, card.row.short) == (0, 6)
    # By Pythagoras on the grid: 15 km west and 10 north is 18,028 m, 5 west and 20 north 20,616 m.
    assert [(each.site, each.ready, each.unknown, each.metres) for each in card.sources] == [
        ("Home Yard", 0, 8, 18_028),
        ("Far Drove", 0, 3, 20_616),
    ]


def test_a_sample_is_drawn_from_what_stands_there_that_day(served: Farm) -> None:
    with served.ledger.read() as session:
        half = draw_sample(session, 1, CHECKED, LastOnes(), 5_000)
        usual = draw_sample(session, 1, CHECKED, LastOnes())
        nobody = draw_sample(session, 1, TODAY, LastOnes())
    # Half of five, rounded up, is three; the usual tenth of five is one.
    assert [hive.mark for hive in half] == ["3", "4", "5"]
    assert ([hive.mark for hive in usual], nobody) == (["5"], ())


def test_years_and_choices_are_offered(served: Farm) -> None:
    with served.ledger.read() as session:
        assert contract_years(session) == (2026,)
        shown = season(session, TODAY)
        assert (shown.years, shown.year, len(shown.rows)) == ((2026,), 2026, 1)
        # In a year without contracts the newest that has some is shown; a contract asked for brings its own year.
        assert season(session, date(2031, 2, 1)).year == 2026
        assert season(session, date(2031, 2, 1), 2031, wanted=shown.rows[0].id).rows[0].id == shown.rows[0].id
        assert len(list_contracts(session, TODAY, 2026)) == 1
        assert list_contracts(session, TODAY, 2025) == ()
        choices = contract_choices(session)
        with pytest.raises(KeyError):
            report_record(session, 99, TODAY)
    assert [grower.name for grower in choices.growers] == ["Ladder Hill Fruit"]
    assert len(choices.sites) == 4


@pytest.mark.parametrize("contracts", [1, 3])
def test_the_list_takes_as_many_statements_for_one_contract_as_for_three(yard: Farm, contracts: int) -> None:
    for number in range(contracts):
        yard.contract(name=f"Contract {number}")
    with yard.ledger.read() as session, statements(yard.ledger) as said:
        assert len(list_contracts(session, TODAY)) == contracts
    assert (
        len([each for each in said if each.startswith("SELECT")]) == 4
    )  # none is to come: nobody counts what is ready


def test_a_mean_just_under_is_not_said_to_be_what_was_agreed() -> None:
    # By hand: 1,589 tenths in 20 hives are 79.45 tenths, 7.945 frames: 7.9, and not 7.95 and then 8.0.
    contract = Contract(least_bees_tenths=80, on_on=OUT, off_on=LATE)
    check = CheckMade(1, 1, OUT, "RB", 1_000, 7, 20)
    counts = [Count(1, number, OUT, 79 + (number <= 9), 45 + number % 2) for number in range(1, 21)]
    (result,) = check_results(contract, [check], counts)
    assert (result.mean_bees_tenths, result.mean_brood_tenths, result.below) == (79, 46, 11)


def test_what_is_owed_stands_still_once_the_contract_is_closed(yard: Farm) -> None:
    number = yard.contract(late_day_pence=50)
    yard.post(["1", "2"], "Home Yard", "Ladder Hill", OUT, contract_id=number)
    perform(yard.ledger, close_contract, number)
    at_closing = card_of(yard).owed_pence
    later = card_of(yard, TODAY + timedelta(days=40)).owed_pence
    assert later == at_closing
    undo(yard.ledger, yard.ledger.last_act())
    # Two hives, forty days more at 50p a hive and day, by hand.
    assert card_of(yard, TODAY + timedelta(days=40)).owed_pence == at_closing + 2 * 40 * 50
