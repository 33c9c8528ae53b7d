"""The book of queens: entered, described, mated, put into colonies, ended."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from beeledger.base.errors import Refused
from beeledger.database.ledger import Ledger
from beeledger.model.queens import Mating, MatingDroneMother, Queen, Tenure
from beeledger.operations.act import Done, perform
from beeledger.operations.queen_book import (
    NewMating,
    add_queen,
    describe_queen,
    introduce_queen,
    note_mating,
    retire_queen,
)
from beeledger.operations.queens import NewQueen, put_queen
from beeledger.operations.undo import undo
from beeledger.rules.pedigree import MatingKind
from tests.builders.yards import DAY, rows, sound, whole, yard


def enter(ledger: Ledger, tag: str, **more: Any) -> int:
    return int(perform(ledger, add_queen, NewQueen(tag=tag, **more)).result)


def refusal(ledger: Ledger, operation: Any, *args: Any) -> str:
    with pytest.raises(Refused) as refused:
        perform(ledger, operation, *args)
    return " ".join(finding.what for finding in refused.value.findings)


def test_a_queen_is_entered_described_and_mated(ledger: Ledger) -> None:
    home = yard(ledger, "Home Yard", "1")
    dam = enter(ledger, "24-011", hatch_year=2024, line="Alder")
    mother = enter(ledger, "23-007", hatch_year=2023)
    queen = enter(ledger, "25-114", hatch_year=2025)
    described = NewQueen(2025, marked=True, clipped=True, tag="25-114", line="Alder", dam_id=dam)
    said = perform(ledger, describe_queen, queen, described)
    assert said.sentence == "Described queen 25-114"
    mating = NewMating(MatingKind.DRONES, home.site, date(2025, 6, 12), (mother,))
    done = perform(ledger, note_mating, queen, mating)
    assert done.sentence == "Queen 25-114 was mated: drones of queen 23-007, at Home Yard, 12 Jun"
    row = rows(ledger, Queen, id=queen)[0]
    assert (row.dam_id, row.line, row.clipped) == (dam, "Alder", True)
    assert rows(ledger, Mating)[0].kind == "drones"
    assert [one.queen_id for one in rows(ledger, MatingDroneMother)] == [mother]
    assert sound(ledger)


def test_a_mating_written_again_takes_the_place_of_the_first_and_can_be_taken_back(ledger: Ledger) -> None:
    queen, first, second = (enter(ledger, tag) for tag in ("a", "b", "c"))
    perform(ledger, note_mating, queen, NewMating(MatingKind.DRONES, drone_mothers=(first, second)))
    before = whole(ledger)
    done = perform(ledger, note_mating, queen, NewMating(MatingKind.SINGLE, drone_mothers=(second,)))
    assert [one.queen_id for one in rows(ledger, MatingDroneMother)] == [second]
    assert len(rows(ledger, Mating)) == 1
    undo(ledger, done.act)
    assert whole(ledger) == before


def test_what_cannot_be_true_of_a_queen_is_refused(ledger: Ledger) -> None:
    old, young = enter(ledger, "20-1", hatch_year=2020), enter(ledger, "25-1", hatch_year=2025)
    assert "another queen carries" in refusal(ledger, add_queen, NewQueen(tag="20-1"))
    assert "no queen of today" in refusal(ledger, add_queen, NewQueen(2027, tag="x"))
    assert "after her" in refusal(ledger, describe_queen, old, NewQueen(2020, tag="20-1", dam_id=young))
    assert "nothing is known" in refusal(ledger, add_queen, NewQueen(marked=True))
    perform(ledger, describe_queen, young, NewQueen(tag="25-1", dam_id=old))
    assert "descend from herself" in refusal(ledger, describe_queen, old, NewQueen(tag="20-1", dam_id=young))


def test_a_mating_that_cannot_be_is_refused(ledger: Ledger) -> None:
    queen = enter(ledger, "24-1", hatch_year=2024)
    daughter = int(perform(ledger, add_queen, NewQueen(2025, tag="25-1", dam_id=queen)).result)
    other = enter(ledger, "23-1")
    kinds = MatingKind
    assert "not come yet" in refusal(ledger, note_mating, queen, NewMating(kinds.OPEN, on=date(2026, 6, 1)))
    assert "hatched only" in refusal(ledger, note_mating, queen, NewMating(kinds.OPEN, on=date(2023, 6, 1)))
    assert "own descendant" in refusal(
        ledger, note_mating, queen, NewMating(kinds.DRONES, drone_mothers=(daughter,))
    )
    assert "one mother" in refusal(
        ledger, note_mating, daughter, NewMating(kinds.SINGLE, drone_mothers=(queen, other))
    )
    assert "open mating" in refusal(
        ledger, note_mating, daughter, NewMating(kinds.OPEN, drone_mothers=(queen,))
    )


def test_a_queen_of_the_book_takes_the_place_of_the_one_that_was_there(ledger: Ledger) -> None:
    home = yard(ledger, "Home Yard", "12", "13")
    queen = enter(ledger, "25-114", hatch_year=2025)
    done = perform(ledger, introduce_queen, queen, home.hives["12"], date(2026, 5, 1), "failing")
    assert done.sentence == "Put queen 25-114 into hive 12, 1 May"
    old, new = rows(ledger, Tenure, colony_id=home.hives["12"])
    assert (old.until_on, old.why_ended) == (date(2026, 5, 1), "failing")
    assert (new.queen_id, new.until_on) == (queen, None)
    moved = perform(ledger, introduce_queen, queen, home.hives["13"], DAY)
    assert moved.sentence == "Put queen 25-114 into hive 13, 14 May"
    assert rows(ledger, Tenure, queen_id=queen)[0].until_on == DAY
    assert "heads this colony already" in refusal(ledger, introduce_queen, queen, home.hives["13"], DAY)
    assert "in another colony until" in refusal(
        ledger, introduce_queen, queen, home.hives["12"], date(2026, 5, 3)
    )
    assert sound(ledger)


def test_a_queen_ends_with_a_cause_and_her_tenure_with_her(ledger: Ledger) -> None:
    home = yard(ledger, "Home Yard", "12")
    queen = rows(ledger, Queen)[0].id
    before = whole(ledger)
    assert "cause" in refusal(ledger, retire_queen, queen, DAY, " ")
    done: Done = perform(ledger, retire_queen, queen, DAY, "failing")
    assert done.sentence == "Ended the queen of hive 12: failing, 14 May"
    assert rows(ledger, Tenure, colony_id=home.hives["12"])[0].until_on == DAY
    assert "ended already" in refusal(ledger, retire_queen, queen, DAY, "lost")
    assert "she ended on" in refusal(ledger, introduce_queen, queen, home.hives["12"], DAY)
    undo(ledger, done.act)
    assert whole(ledger) == before


def test_a_tag_is_given_once_by_whichever_act(ledger: Ledger) -> None:
    home = yard(ledger, "Home Yard", "12")
    enter(ledger, "25-114")
    assert "another queen carries" in refusal(
        ledger, put_queen, home.hives["12"], NewQueen(tag="25-114"), DAY
    )
