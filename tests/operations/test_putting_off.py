"""What is due is put off with a note, and comes back or goes as the record says; tasks are asked for and done."""

from __future__ import annotations

from datetime import date

import pytest

from beeledger.base.errors import Refused
from beeledger.database.ledger import Ledger
from beeledger.model.due import PutOff
from beeledger.operations.act import Done, perform
from beeledger.operations.checking import check_whole
from beeledger.operations.due import rebuild_all
from beeledger.operations.farm import set_farm
from beeledger.operations.putting_off import NewTask, PuttingOff, ask_task, finish_task, put_off_due
from beeledger.operations.undo import undo
from beeledger.queries.due import due_of_colony
from beeledger.queries.records.round_desk import DueKnown
from beeledger.rules.rounds.entry import Entry
from tests.builders.yards import DAY, LOOKED, Yard, rows, strips, whole, yard

LATER = date(2026, 5, 20)


@pytest.fixture
def drove(ledger: Ledger) -> Yard:
    made = yard(ledger, "Long Drove", "1", "2")
    made.post(date(2026, 5, 6), h1=LOOKED, h2=LOOKED)  # the next looks are due on 13 May, a day late
    return made


def due(drove: Yard, mark: str, code: str = "swarm_check") -> DueKnown | None:
    with drove.ledger.read() as session:
        return next((one for one in due_of_colony(session, drove.hives[mark]) if one.code == code), None)


def day(drove: Yard, mark: str, code: str = "swarm_check") -> date | None:
    one = due(drove, mark, code)
    return one.due_on if one else None


def put_off(
    drove: Yard, *marks: str, until: date = LATER, note: str = "rain", codes: tuple[str, ...] = ()
) -> Done:
    ids = tuple(drove.hives[mark] for mark in marks)
    return perform(drove.ledger, put_off_due, PuttingOff(until, note, "RS", ids, codes=codes))


def test_a_look_put_off_is_due_on_the_later_day_and_says_who_and_why(drove: Yard) -> None:
    done = put_off(drove, "1")
    one = due(drove, "1")
    assert one is not None
    assert (one.due_on, one.why) == (
        LATER,
        "last opened 6 May 2026, every 7 days; put off to 20 May by RS: rain",
    )
    assert done.sentence == "Put off to 20 May: 1 reason at 1 colony, rain"
    assert day(drove, "2") == date(2026, 5, 13)


def test_the_look_itself_ends_the_putting_off_and_the_next_is_due_as_ever(drove: Yard) -> None:
    put_off(drove, "1")
    drove.post(DAY, h1=LOOKED)
    assert day(drove, "1") == date(2026, 5, 21)


def test_a_putting_off_is_taken_back_like_any_act(drove: Yard) -> None:
    before = whole(drove.ledger)
    done = put_off(drove, "1")
    undo(drove.ledger, done.act)
    assert whole(drove.ledger) == before


def test_a_whole_site_is_put_off_and_nothing_else_of_later_days(drove: Yard) -> None:
    perform(drove.ledger, put_off_due, PuttingOff(LATER, "flooded", site_ids=(drove.site,)))
    assert {(row.code, row.first_on) for row in rows(drove.ledger, PutOff)} == {
        ("swarm_check", date(2026, 5, 13))
    }
    assert len(rows(drove.ledger, PutOff)) == 2
    perform(drove.ledger, rebuild_all)
    assert check_whole(drove.ledger).clean


def test_what_is_put_off_again_keeps_its_first_day(drove: Yard) -> None:
    put_off(drove, "1")
    put_off(drove, "1", until=date(2026, 5, 25), codes=("swarm_check",))
    one = due(drove, "1")
    assert one is not None
    assert one.due_on == date(2026, 5, 25)
    assert {row.first_on for row in rows(drove.ledger, PutOff)} == {date(2026, 5, 13)}


@pytest.mark.parametrize(
    ("until", "note", "words"),
    [
        (LATER, " ", "a putting off says why"),
        (DAY, "rain", "14 May 2026 is not to come"),
        (date(2027, 5, 20), "rain", "nothing is put off for over a year"),
    ],
)
def test_a_putting_off_is_to_a_day_to_come_and_says_why(
    drove: Yard, until: date, note: str, words: str
) -> None:
    with pytest.raises(Refused, match=words):
        put_off(drove, "1", until=until, note=note)


def test_nothing_due_cannot_be_put_off(drove: Yard) -> None:
    drove.post(DAY, h1=LOOKED)
    with pytest.raises(Refused, match="nothing is due there before 20 May"):
        put_off(drove, "1")


def test_the_farms_own_figure_works_out_everything_again_as_an_act(drove: Yard) -> None:
    done = perform(drove.ledger, set_farm, {"due": [["every_days", 5]], "due_off": ["count"]})
    assert day(drove, "1") == date(2026, 5, 11)
    assert due(drove, "1", "count") is None
    assert done.sentence == "Settings: when things fall due and reasons not wanted"
    undo(drove.ledger, done.act)
    assert day(drove, "1") == date(2026, 5, 13)
    assert due(drove, "1", "count") is not None


@pytest.mark.parametrize(
    "own", [{"due": [["every_days", 40]]}, {"due_off": ["task"]}, {"due": [["bees", 4]]}]
)
def test_a_figure_out_of_its_bounds_is_refused(drove: Yard, own: dict[str, object]) -> None:
    with pytest.raises(Refused):
        perform(drove.ledger, set_farm, own)


def test_a_task_is_due_until_somebody_says_it_is_done(drove: Yard) -> None:
    ids = (drove.hives["1"], drove.hives["2"])
    perform(drove.ledger, ask_task, NewTask("mend the roof", date(2026, 5, 16), ids))
    assert due(drove, "1", "task") is not None
    drove.post(DAY, h1=LOOKED)  # a look does not mend a roof
    assert due(drove, "1", "task") is not None
    done = perform(drove.ledger, finish_task, drove.hives["1"], "mend the roof")
    assert (due(drove, "1", "task"), due(drove, "2", "task") is not None) == (None, True)
    undo(drove.ledger, done.act)
    assert due(drove, "1", "task") is not None
    with pytest.raises(Refused, match="no such task"):
        perform(drove.ledger, finish_task, drove.hives["1"], "paint it")


def test_a_task_has_words_and_a_living_colony(drove: Yard) -> None:
    for task in (
        NewTask(" ", DAY, (drove.hives["1"],)),
        NewTask("mend it", DAY, ()),
        NewTask("mend it", DAY, (999,)),
    ):
        with pytest.raises(Refused):
            perform(drove.ledger, ask_task, task)


def test_strips_put_off_are_still_due_out_when_the_round_takes_them(drove: Yard) -> None:
    strips(drove.ledger)
    drove.post(date(2026, 4, 1), h1=Entry(medicine_in_count=2))
    put_off(drove, "1")
    assert day(drove, "1", "strips_out") == LATER
    drove.post(h1=Entry(medicine_out_count=2))
    assert due(drove, "1", "strips_out") is None
