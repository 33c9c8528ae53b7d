"""A posted round opened again: the lines as they were posted, beside the record as it was before them."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import pytest

from beeledger.base.errors import Refused
from beeledger.database.ledger import Ledger
from beeledger.model.rounds import Round
from beeledger.operations.act import Done, perform
from beeledger.operations.rounds import Line, Swap, correct_round, post_round
from beeledger.operations.undo import undo
from beeledger.queries.round_again import RoundAgain, round_again, round_of_act, sheet_again
from beeledger.queries.round_start import DeskSheet
from beeledger.rules.rounds.entry import Cause, Entry, Outcome, Split, SplitQueen
from tests.builders.yards import DAY, LOOKED, Yard, rows, sound, yard

FIRST = date(2026, 5, 4)


@pytest.fixture
def drove(ledger: Ledger) -> Iterator[Yard]:
    """Three hives; the ledger is sound afterwards."""
    yield yard(ledger, "Long Drove", "1", "2", "3")
    assert sound(ledger)


def again(drove: Yard, done: Done) -> RoundAgain:
    with drove.ledger.read() as session:
        found = round_again(session, done.result.round_id)
    assert found is not None
    return found


def sheet(drove: Yard, one: RoundAgain) -> DeskSheet:
    with drove.ledger.read() as session:
        return sheet_again(session, one.round_id, one.on, [visit.colony_id for _, visit in one.lines])


def test_the_lines_come_back_as_they_were_posted_in_walking_order(drove: Yard) -> None:
    done = drove.post(FIRST, h3=LOOKED, h1=Entry(brood_tenths=80, outcome=Outcome.LOOKED))
    one = again(drove, done)
    assert [(mark, visit.entry) for mark, visit in one.lines] == [
        ("3", LOOKED),
        ("1", Entry(brood_tenths=80, outcome=Outcome.LOOKED)),
    ]
    assert (one.on, one.start_minute, one.end_minute, one.why_not) == (FIRST, 600, 720, "")
    assert one.version == done.act


def test_the_record_is_that_of_the_morning(drove: Yard) -> None:
    """What the round put on, ended and founded is not there yet."""
    drove.post(date(2026, 4, 20), h1=Entry(brood_tenths=40, supers_on=1))
    done = drove.post(
        FIRST,
        h1=Entry(brood_tenths=80, supers_on=2, split_to=(Split("9", 20, None, SplitQueen.QUEEN),)),
        h2=Entry(outcome=Outcome.DEAD, cause=Cause.WASPS),
    )
    read = sheet(drove, again(drove, done))
    hives = {line.mark: line for line in read.sheet.lines}
    assert list(hives) == ["1", "2", "3"]
    assert hives["1"].boxes is not None
    assert hives["1"].boxes.supers == 1
    assert hives["1"].last is not None
    assert hives["1"].last.entry.brood_tenths == 40
    assert hives["2"].record(drove.site, FIRST).alive
    assert "9" not in read.carried
    assert read.posted[drove.hives["1"]].supers_on == 2


def test_numbers_that_it_swapped_are_named_again(drove: Yard) -> None:
    swap = Swap("1", "3", FIRST)
    new = drove.round((Line(LOOKED, mark="1"), Line(LOOKED, mark="3")), DAY, swaps=(swap,))
    done = perform(drove.ledger, post_round, new)
    assert again(drove, done).swaps == (("1", "3", FIRST),)


def test_a_number_given_to_a_stranger_is_no_swap(drove: Yard) -> None:
    done = drove.post(FIRST, line=Line(Entry(outcome=Outcome.STRANGER, note="by the gate"), mark="77"))
    one = again(drove, done)
    assert one.swaps == ()
    assert [mark for mark, _ in one.lines] == ["77"]
    assert {line.mark for line in sheet(drove, one).sheet.lines} == {"1", "2", "3", "77"}


def test_an_act_leads_to_its_round_and_one_taken_back_to_none(drove: Yard) -> None:
    done = drove.post(FIRST, h1=LOOKED)
    with drove.ledger.read() as session:
        assert round_of_act(session, done.act) == done.result.round_id
        assert round_of_act(session, done.act - 1) is None
    undo(drove.ledger, done.act)
    with drove.ledger.read() as session:
        assert round_of_act(session, done.act) is None
        assert round_again(session, done.result.round_id) is None


def test_a_round_that_no_desk_posted_says_why_it_is_left_alone(drove: Yard) -> None:
    def import_looks(act) -> str:
        act.session.add(Round(uid="old", site_id=drove.site, on=FIRST, source="import"))
        return "Read old looks"

    perform(drove.ledger, import_looks)
    (old,) = rows(drove.ledger, Round)
    with drove.ledger.read() as session:
        found = round_again(session, old.id)
    assert found is not None
    assert "came with an import" in found.why_not


def test_a_correction_of_a_version_that_was_corrected_since_is_refused(drove: Yard) -> None:
    done = drove.post(FIRST, h1=LOOKED)
    first = again(drove, done)
    line = Line(Entry(brood_tenths=60, outcome=Outcome.LOOKED), drove.hives["1"])
    perform(drove.ledger, correct_round, first.round_id, drove.round((line,), FIRST), first.version)
    with pytest.raises(Refused, match="was corrected since it was opened"):
        perform(drove.ledger, correct_round, first.round_id, drove.round((line,), FIRST), first.version)
    assert again(drove, done).version > first.version
