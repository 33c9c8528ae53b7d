"""Colonies split, made of several, united and helped with a frame at the desk, on the day and written down late."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import pytest

from beeledger.base.errors import Refused
from beeledger.database.ledger import Ledger
from beeledger.model.colonies import Colony, ColonyTransfer, Placement
from beeledger.model.due import Due
from beeledger.model.queens import Queen, Tenure
from beeledger.operations.act import Done, perform
from beeledger.operations.colonies import end_colonies
from beeledger.operations.colony_making import (
    Daughter,
    Gift,
    Uniting,
    give_frames,
    make_nucleus,
    split_colony,
    unite_colonies,
)
from beeledger.operations.colony_work import Answers
from beeledger.operations.queens import NewQueen, put_queen
from beeledger.operations.undo import undo
from beeledger.rules.rounds.entry import SplitQueen
from tests.builders.yards import DAY, LOOKED, Yard, rows, sound, whole, yard

EARLY = date(2026, 5, 1)


@pytest.fixture
def drove(sqlite_ledger: Ledger) -> Iterator[Yard]:
    """Three hives; whatever a test does to them, the ledger is sound afterwards."""
    yield yard(sqlite_ledger, "Long Drove", "1", "2", "3")
    assert sound(sqlite_ledger)


def split(drove: Yard, *daughters: Daughter, on: date = DAY, accepted: str = "") -> Done:
    answers = Answers(frozenset({accepted} if accepted else ()))
    return perform(drove.ledger, split_colony, on, daughters, answers)


def daughter(
    drove: Yard, mark: str | None, queen: SplitQueen | None = None, site: int | None = None
) -> Daughter:
    return Daughter(mark, site or drove.site, (Gift(drove.hives["1"], 30, 40, 10),), queen=queen)


def reigns(drove: Yard, colony_id: int) -> list[tuple[date, date | None]]:
    return [(row.from_on, row.until_on) for row in rows(drove.ledger, Tenure, colony_id=colony_id)]


def test_a_split_makes_two_nuclei_one_with_the_queen(drove: Yard) -> None:
    before = whole(drove.ledger)
    done = split(
        drove, daughter(drove, "21", SplitQueen.QUEEN), daughter(drove, "22", SplitQueen.SEALED_CELL)
    )
    assert done.sentence == "Split hive 1 into 21 and 22, 14 May"
    first, second = done.result
    given = {row.to_colony_id: row for row in rows(drove.ledger, ColonyTransfer, kind="split")}
    assert (given[first].brood_tenths, given[first].stores_tenths, given[first].queen) == (
        30,
        10,
        "the queen",
    )
    assert given[second].cells == 1
    assert [row.kind for row in rows(drove.ledger, Colony)[-2:]] == ["nucleus", "nucleus"]
    assert reigns(drove, drove.hives["1"])[0][1] == DAY
    assert reigns(drove, first) == [(DAY, None)]
    assert reigns(drove, second) == []
    assert {row.colony_id for row in rows(drove.ledger, Due)} >= {first, second}
    undo(drove.ledger, done.act)
    assert whole(drove.ledger) == before


def test_the_queen_goes_into_one_of_them_only(drove: Yard) -> None:
    with pytest.raises(Refused, match="one of them only"):
        split(drove, daughter(drove, "21", SplitQueen.QUEEN), daughter(drove, "22", SplitQueen.QUEEN))


def test_a_split_may_stand_at_another_site(drove: Yard) -> None:
    other = yard(drove.ledger, "Low Dyke", "31")
    (new,) = split(drove, daughter(drove, "21", site=other.site)).result
    assert [row.site_id for row in rows(drove.ledger, Placement, colony_id=new)] == [other.site]


def test_a_split_written_down_late_asks_about_the_queen_that_came_since(drove: Yard) -> None:
    perform(drove.ledger, put_queen, drove.hives["1"], NewQueen(2026), date(2026, 5, 10))
    with pytest.raises(Refused, match="went on 10 May 2026"):
        split(drove, daughter(drove, "21", SplitQueen.QUEEN), on=EARLY)
    split(drove, daughter(drove, "21", SplitQueen.QUEEN), on=EARLY, accepted="queen.since")
    assert [until for _, until in reigns(drove, drove.hives["1"])] == [date(2026, 5, 10), None]


def test_a_number_in_use_and_a_day_to_come_are_refused(drove: Yard) -> None:
    for mark, on, what in (("2", DAY, "another living hive"), ("21", date(2026, 6, 1), "has not come yet")):
        with pytest.raises(Refused, match=what):
            split(drove, daughter(drove, mark), on=on)


def test_a_nucleus_is_made_of_several_hives(drove: Yard) -> None:
    gifts = tuple(Gift(drove.hives[mark], 10) for mark in ("1", "2", "3"))
    done = perform(
        drove.ledger, make_nucleus, DAY, Daughter("40", drove.site, gifts, queen=SplitQueen.VIRGIN)
    )
    assert done.sentence == "Made nucleus 40 from hives 1, 2 and 3, 14 May"
    assert len(rows(drove.ledger, ColonyTransfer, kind="nucleus", to_colony_id=done.result[0])) == 3
    assert len(reigns(drove, done.result[0])) == 1
    undo(drove.ledger, done.act)
    assert rows(drove.ledger, ColonyTransfer) == []


def unite(
    drove: Yard, *marks: str, into: str, stays: str = "into", on: date = DAY, accepted: str = ""
) -> Done:
    new = Uniting(tuple(drove.hives[mark] for mark in marks), drove.hives[into], stays)
    return perform(drove.ledger, unite_colonies, on, new, Answers(frozenset({accepted})))


def test_two_hives_are_united_and_the_queen_of_the_other_stays(drove: Yard) -> None:
    before = whole(drove.ledger)
    queen = rows(drove.ledger, Tenure, colony_id=drove.hives["2"])[0].queen_id
    done = unite(drove, "2", into="1", stays="from")
    assert done.sentence == "United hive 2 into hive 1, 14 May"
    gone = rows(drove.ledger, Colony, id=drove.hives["2"])[0]
    assert (gone.ended_on, gone.end_cause) == (DAY, "united")
    assert [(row.queen_id == queen, row.until_on) for row in rows(drove.ledger, Tenure, colony_id=drove.hives["1"])] == [
        (False, DAY), (True, None),
    ]  # fmt: skip
    assert rows(drove.ledger, Queen, id=queen)[0].ended_on is None
    undo(drove.ledger, done.act)
    assert whole(drove.ledger) == before


def test_hives_that_stood_apart_are_united_only_when_asked(drove: Yard) -> None:
    drove.hives |= yard(drove.ledger, "Low Dyke", "31").hives
    with pytest.raises(Refused, match="stood apart"):
        unite(drove, "31", into="1")
    unite(drove, "31", into="1", accepted="colony.apart")


def test_a_hive_looked_at_since_was_not_united_before(drove: Yard) -> None:
    drove.post(DAY, h2=LOOKED)
    with pytest.raises(Refused, match="looked at after"):
        unite(drove, "2", into="1", on=EARLY)


def test_a_frame_is_given_to_several(drove: Yard) -> None:
    gift = Gift(drove.hives["1"], brood_tenths=10, cells=1)
    done = perform(drove.ledger, give_frames, DAY, gift, [drove.hives["2"], drove.hives["3"]])
    assert done.sentence == "Gave brood and cells of hive 1 to hives 2 and 3, 14 May"
    assert [row.kind for row in rows(drove.ledger, ColonyTransfer)] == ["frame", "frame"]


def test_nothing_given_and_a_hive_to_itself_are_refused(drove: Yard) -> None:
    for gift, to in ((Gift(drove.hives["1"]), "2"), (Gift(drove.hives["1"], 10), "1")):
        with pytest.raises(Refused):
            perform(drove.ledger, give_frames, DAY, gift, [drove.hives[to]])


def test_a_hive_that_has_ended_gives_nothing(drove: Yard) -> None:
    perform(drove.ledger, end_colonies, [drove.hives["1"]], EARLY, "wasps")
    with pytest.raises(Refused, match="ended on 1 May 2026"):
        perform(drove.ledger, give_frames, DAY, Gift(drove.hives["1"], 10), [drove.hives["2"]])


def test_a_queen_given_late_reigns_until_the_one_the_record_has_after_her(drove: Yard) -> None:
    perform(drove.ledger, put_queen, drove.hives["1"], NewQueen(2026), date(2026, 5, 10))
    with pytest.raises(Refused, match="by the record"):
        perform(drove.ledger, put_queen, drove.hives["1"], NewQueen(2024), EARLY)
    perform(
        drove.ledger, put_queen, drove.hives["1"], NewQueen(2024), EARLY, accepted=frozenset({"queen.since"})
    )
    assert [until for _, until in sorted(reigns(drove, drove.hives["1"]), key=str)] == [
        EARLY, date(2026, 5, 10), None,
    ]  # fmt: skip
    ended = {
        row.hatch_year: row.ended_on for row in rows(drove.ledger, Queen)[:1] + rows(drove.ledger, Queen)[3:]
    }
    assert ended == {2025: EARLY, 2026: None, 2024: date(2026, 5, 10)}
