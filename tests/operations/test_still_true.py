"""Taking back and correcting the past where later records took it for granted: refused, with what would not hold."""

from __future__ import annotations

from datetime import date

import pytest

from beeledger.base.errors import Refused
from beeledger.database.ledger import Ledger
from beeledger.operations.act import Done, perform
from beeledger.operations.colonies import end_colonies, found_colonies, give_mark, hives_at
from beeledger.operations.honey import NewBlend, blend
from beeledger.operations.honey_lots import Draw
from beeledger.operations.rounds import Line, correct_round
from beeledger.operations.takes import NewTake, NewTakeLine, NewWeighing, Weighed, record_take, weigh_take
from beeledger.operations.undo import undo
from beeledger.rules.rounds.entry import Entry
from tests.builders.yards import LOOKED, Yard, sound, strips, whole, yard
from tests.operations import honey_room as room

IN, OUT, SUPERS, TAKEN = (date(2026, *day) for day in ((3, 25), (4, 25), (4, 26), (5, 4)))


def undone(ledger: Ledger, done: Done) -> str:
    before = whole(ledger)
    with pytest.raises(Refused) as caught:
        undo(ledger, done.act)
    assert whole(ledger) == before
    assert sound(ledger)
    return str(caught.value.findings[0].what)


def test_a_weighing_is_not_taken_back_once_its_honey_is_extracted(ledger: Ledger) -> None:
    there = room.weighed(ledger)
    second = perform(ledger, weigh_take, NewWeighing(there.takes[0], room.TAKEN, (Weighed(20_000, 7_500),)))
    room.extract(ledger, [there.supers[0]], 40_000)
    assert undone(ledger, second) == (
        "Later records rest on this: supers Long Drove, 4 May 2026 gave 12.500 kg more than it had"
    )


def test_a_blend_is_not_brought_again_once_its_honey_went_elsewhere(ledger: Ledger) -> None:
    drum = room.extracted(ledger).drums[0]
    first = perform(ledger, blend, NewBlend(room.RUN, (Draw(drum, 20_000),), "tank 1"))
    back = undo(ledger, first.act)
    second = perform(ledger, blend, NewBlend(room.RUN, (Draw(drum, 20_000),), "tank 2"))
    assert "drum 7 gave 20.000 kg more than it had" in undone(ledger, back)
    undo(ledger, second.act)
    undo(ledger, back.act)
    assert sound(ledger)


def test_a_number_is_not_taken_back_for_the_days_another_hive_carried_it(ledger: Ledger) -> None:
    drove = yard(ledger, "Long Drove", "5")
    other = perform(ledger, give_mark, drove.hives["5"], "6", date(2026, 4, 10))
    new = perform(ledger, found_colonies, hives_at(drove.site, date(2026, 4, 10), ["5"]))
    ended = perform(ledger, end_colonies, new.result, date(2026, 4, 20), "starvation")
    assert "the number 5 was on two hives at 10 Apr 2026" in undone(ledger, other)
    undo(ledger, ended.act)
    undo(ledger, new.act)
    undo(ledger, other.act)
    assert drove.line("5").colony_id == drove.hives["5"]


@pytest.fixture
def honey_off(ledger: Ledger) -> tuple[Yard, Done]:
    """Strips out, a super on, and its honey taken: with the round that took the strips out."""
    drove = yard(ledger, "Long Drove", "1")
    strips(ledger)
    drove.post(IN, h1=Entry(medicine_in_count=2))
    out = drove.post(OUT, h1=Entry(medicine_out_count=2))
    drove.post(SUPERS, h1=Entry(supers_on=1))
    perform(ledger, record_take, NewTake(drove.site, TAKEN, (NewTakeLine(1, drove.hives["1"]),)))
    return drove, out


def test_strips_out_are_not_taken_back_once_honey_was_taken(honey_off: tuple[Yard, Done]) -> None:
    drove, out = honey_off
    said = "honey was taken on 4 May 2026 while medicine was in place"
    assert undone(drove.ledger, out) == f"Later records rest on this: {said}"


def test_strips_out_are_not_corrected_away_once_honey_was_taken(honey_off: tuple[Yard, Done]) -> None:
    drove, out = honey_off
    new = drove.round((Line(LOOKED, colony_id=drove.hives["1"]),), OUT)
    with pytest.raises(Refused, match="while medicine was in place"):
        perform(drove.ledger, correct_round, out.result.round_id, new)
    assert sound(drove.ledger)
