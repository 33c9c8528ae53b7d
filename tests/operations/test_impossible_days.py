"""What cannot have been on a day, or on a colony that is no more, is refused and leaves nothing behind."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from beeledger.base.errors import Refused
from beeledger.database.ledger import Ledger
from beeledger.operations.act import Done, perform
from beeledger.operations.colonies import end_colonies, give_mark
from beeledger.operations.hive_marks import swap_marks
from beeledger.operations.honey_lots import NewLot, NewSink, open_lot, sink_honey
from beeledger.operations.moves import post_move
from beeledger.operations.queens import NewQueen, end_queen, put_queen
from beeledger.operations.sites import close_site
from beeledger.operations.takes import NewTake, NewTakeLine, NewWeighing, Weighed, record_take, weigh_take
from beeledger.operations.undo import undo
from beeledger.queries.records.move_desk import Carried, NewMove
from beeledger.rules.rounds.entry import Entry, Outcome
from tests.builders.yards import DAY, LOOKED, Yard, sound, whole, yard

MAY_1, MAY_10, JUNE = date(2026, 5, 1), date(2026, 5, 10), date(2026, 6, 1)


def refused(ledger: Ledger, operation: Callable[..., str], *said: Any) -> str:
    before = whole(ledger)
    with pytest.raises(Refused) as caught:
        perform(ledger, operation, *said)
    assert whole(ledger) == before
    assert sound(ledger)
    return str(caught.value.findings[0].what)


@pytest.fixture
def drove(ledger: Ledger) -> Yard:
    return yard(ledger, "Long Drove", "1", "2")


@pytest.fixture
def moved(drove: Yard) -> Yard:
    """Hive 1 went to another site on 10 May."""
    far = yard(drove.ledger, "Far Drove", "7")
    move = NewMove(drove.site, far.site, MAY_10, 21 * 60, 22 * 60, (Carried(drove.hives["1"]),), exempt=True)
    perform(drove.ledger, post_move, move)
    return drove


def test_a_hive_that_was_moved_later_did_not_end_before(moved: Yard) -> None:
    hive = [moved.hives["1"]]
    said = refused(moved.ledger, end_colonies, hive, MAY_1, "starvation")
    assert said == "hive 1 was moved after that, by the record"
    perform(moved.ledger, end_colonies, hive, DAY, "starvation")
    assert sound(moved.ledger)


def test_a_hive_that_was_moved_later_is_not_found_dead_before(moved: Yard) -> None:
    with pytest.raises(Refused, match="ended, and moved on 10 May 2026"):
        moved.post(MAY_1, h1=Entry(outcome=Outcome.DEAD), h2=LOOKED)
    with pytest.raises(Refused, match="ended, and moved on 10 May 2026"):
        moved.post(MAY_1, h1=Entry(eggs=True, united_into="2"), h2=LOOKED)
    assert sound(moved.ledger)


def test_nobody_ends(drove: Yard) -> None:
    assert refused(drove.ledger, end_colonies, [77], DAY, "starvation") == "there is no such colony"
    assert refused(drove.ledger, end_colonies, [], DAY, "starvation") == "there is no such colony"


def test_a_colony_that_ended_carries_no_number_and_none_is_given_in_time_to_come(drove: Yard) -> None:
    first, second = drove.hives.values()
    perform(drove.ledger, end_colonies, [first], MAY_1, "starvation")
    give = (drove.ledger, give_mark)
    assert refused(*give, first, "9", DAY) == "a colony that has ended carries no number"
    assert refused(*give, second, "9", JUNE) == "1 Jun 2026 has not come yet"
    assert refused(*give, second, "9", date(2026, 1, 1)) == "it was not there yet on 1 Jan 2026"
    assert refused(*give, 77, "9", DAY) == "there is no such colony"


def test_numbers_are_not_swapped_in_time_to_come(drove: Yard) -> None:
    assert refused(drove.ledger, swap_marks, "1", "2", JUNE) == "1 Jun 2026 has not come yet"


def test_a_queen_comes_and_goes_on_days_that_were(drove: Yard) -> None:
    hive = drove.hives["1"]
    put, end = (drove.ledger, put_queen, hive, NewQueen(2026)), (drove.ledger, end_queen, hive)
    assert refused(*put, JUNE) == "1 Jun 2026 has not come yet"
    assert refused(*put, date(2026, 1, 1)) == "the colony was not there yet on that day"
    assert refused(*end, JUNE, "lost") == "1 Jun 2026 has not come yet"
    done = perform(drove.ledger, put_queen, hive, NewQueen(2026), DAY)
    assert done.sentence == "Requeened hive 1, 14 May"


def test_a_site_is_given_up_once_and_not_before_its_last_hive_left(drove: Yard) -> None:
    perform(drove.ledger, end_colonies, list(drove.hives.values()), MAY_10, "sold")
    close = (drove.ledger, close_site, drove.site)
    assert refused(*close, MAY_1) == "hives stood at Long Drove until 10 May 2026"
    assert refused(*close, JUNE) == "1 Jun 2026 has not come yet"
    perform(drove.ledger, close_site, drove.site, MAY_10)
    assert refused(*close, DAY) == "Long Drove was given up on 10 May 2026"


def test_a_drum_filled_again_gets_a_name_no_filling_has_had_since_one_was_taken_back(ledger: Ledger) -> None:
    acts = []
    for _ in range(3):
        opened = perform(ledger, open_lot, NewLot("drum 114", MAY_1, 1000))
        acts += [opened.act, perform(ledger, sink_honey, NewSink(opened.result, MAY_1, "feed", 1000)).act]
    undo(ledger, acts[3])
    undo(ledger, acts[2])
    again = perform(ledger, open_lot, NewLot("drum 114", MAY_1, 1000))
    assert again.sentence == "Opened with drum 114, filling 4, 1.0 kg"


def test_a_take_of_the_same_day_gets_a_name_of_its_own_since_one_was_taken_back(drove: Yard) -> None:
    def weigh() -> Done:
        take = perform(drove.ledger, record_take, NewTake(drove.site, MAY_1, (NewTakeLine(1),))).result
        return perform(drove.ledger, weigh_take, NewWeighing(take, MAY_1, (Weighed(20_000, 7_500),)))

    names = [weigh() for _ in range(3)]
    undo(drove.ledger, names[1].act)
    assert weigh().sentence == "Weighed supers Long Drove, 1 May 2026, take 4: 12.5 kg"
