"""A round written down late, and lines of one round that cannot both be true."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from beeledger.base.errors import Refused
from beeledger.database.ledger import Ledger
from beeledger.model.colonies import BoxStack, Colony, ColonyTransfer
from beeledger.model.medicines import Treatment
from beeledger.operations.act import perform
from beeledger.operations.round_corrections import SUPERS_LATE
from beeledger.operations.rounds import Line, correct_round
from beeledger.operations.undo import undo
from beeledger.rules.rounds.entry import Entry, Outcome
from tests.builders.yards import DAY, LOOKED, Yard, rows, sound, strips, whole, yard

EARLIER, STRIPS_IN, LATER = date(2026, 4, 20), date(2026, 4, 25), date(2026, 4, 28)
STRIPS, SUPER = Entry(medicine_in_count=2), Entry(supers_on=1)
ASKED = frozenset({"rounds.strips_since"})


@pytest.fixture
def drove(ledger: Ledger) -> Yard:
    strips(ledger)
    return yard(ledger, "Long Drove", "1", "2")


def test_a_super_written_down_late_under_strips_is_asked_about_and_noted_on_them(drove: Yard) -> None:
    drove.post(STRIPS_IN, h1=STRIPS, h2=STRIPS)
    before = whole(drove.ledger)
    line = Line(SUPER, mark="1")
    with pytest.raises(Refused) as caught:
        drove.post(EARLIER, line=line)
    assert [(one.code, one.what, one.where.row) for one in caught.value.findings] == [
        ("rounds.strips_since", "medicine went in on 25 Apr 2026, under these supers", 1)
    ]
    posted = drove.post(EARLIER, line=replace(line, accepted=ASKED))
    assert [row.reason for row in rows(drove.ledger, Treatment)] == [SUPERS_LATE, None]
    assert sound(drove.ledger)
    undo(drove.ledger, posted.act)
    assert whole(drove.ledger) == before


def test_a_super_of_another_visit_of_the_day_of_the_strips_is_asked_about(drove: Yard) -> None:
    drove.post(STRIPS_IN, h1=STRIPS)
    with pytest.raises(Refused, match="under these supers"):
        drove.post(STRIPS_IN, h1=SUPER)
    drove.post(STRIPS_IN, h2=SUPER)
    assert sound(drove.ledger)


def test_supers_after_the_strips_and_on_other_hives_are_nothing_to_ask(drove: Yard) -> None:
    drove.post(STRIPS_IN, h1=STRIPS)
    drove.post(LATER, h1=SUPER, h2=SUPER)
    drove.post(EARLIER, h1=LOOKED, h2=SUPER)
    assert [row.supers for row in rows(drove.ledger, BoxStack, colony_id=drove.hives["2"])][-1] == 1
    assert sound(drove.ledger)


def test_a_corrected_round_asks_the_same(drove: Yard) -> None:
    done = drove.post(EARLIER, h1=LOOKED)
    drove.post(STRIPS_IN, h1=STRIPS)
    line = Line(SUPER, mark="1")
    number, ledger = done.result.round_id, drove.ledger
    with pytest.raises(Refused, match="under these supers"):
        perform(ledger, correct_round, number, drove.round((line,), EARLIER))
    answered = replace(line, accepted=ASKED, reason="label allows it")
    perform(ledger, correct_round, number, drove.round((answered,), EARLIER))
    assert [row.reason for row in rows(drove.ledger, Treatment)] == ["label allows it"]
    assert sound(drove.ledger)


def test_two_hives_are_not_united_with_each_other(drove: Yard) -> None:
    with pytest.raises(Refused, match="united in a ring"):
        drove.post(h1=Entry(eggs=True, united_into="2"), h2=Entry(eggs=True, united_into="1"))
    assert [row.ended_on for row in rows(drove.ledger, Colony)] == [None, None]
    assert rows(drove.ledger, ColonyTransfer) == []


def test_a_hive_is_not_united_into_one_found_dead_the_same_day(drove: Yard) -> None:
    with pytest.raises(Refused, match="united into 2, which is dead tonight"):
        drove.post(h1=Entry(eggs=True, united_into="2"), h2=Entry(outcome=Outcome.DEAD))
    drove.post(DAY, h1=Entry(eggs=True, united_into="2"), h2=LOOKED)
    assert sound(drove.ledger)
