"""What passes between colonies in a round: splits, unites, frames of brood, queens lost and found."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import pytest

from beeledger.database.ledger import Ledger
from beeledger.model.colonies import ColonyTransfer
from beeledger.model.queens import Tenure
from beeledger.operations.act import perform
from beeledger.operations.colonies import end_colonies, give_mark
from beeledger.operations.queens import NewQueen, end_queen, put_queen
from beeledger.operations.rounds import Line
from beeledger.rules.rounds.entry import Cause, Entry, QueenColour, QueenState, Split, SplitQueen
from tests.builders.yards import DAY, LOOKED, Yard, rows, sound, yard

EARLIER = date(2026, 5, 4)


@pytest.fixture
def drove(ledger: Ledger) -> Iterator[Yard]:
    """Three hives; whatever a test does to them, the ledger is sound afterwards."""
    yield yard(ledger, "Long Drove", "1", "2", "3")
    assert sound(ledger)


def went(ledger: Ledger) -> list[tuple[str, int, int, int | None, int | None]]:
    return [
        (row.kind, row.from_colony_id, row.to_colony_id, row.brood_tenths, row.cells)
        for row in rows(ledger, ColonyTransfer)
    ]


def test_a_split_founds_a_nucleus_beside_its_mother(drove: Yard) -> None:
    split = Split("9", 30, 40, SplitQueen.SEALED_CELL)
    drove.post(h1=Entry(queen_state=QueenState.CELLS, split_to=(split,)), h2=LOOKED, h3=LOOKED)
    new = drove.line("9")
    assert (new.kind, new.founded_on, new.queen.year) == ("nucleus", DAY, None)
    assert new.boxes is not None
    assert (new.boxes.brood_boxes, new.boxes.brood_frames, new.boxes.supers) == (1, 6, 0)
    assert went(drove.ledger) == [("split", drove.hives["1"], new.colony_id, 30, 1)]
    assert drove.marks() == ["1", "2", "3", "9"]


def test_a_strong_split_with_the_queen_is_a_full_colony_and_takes_her_along(drove: Yard) -> None:
    drove.post(h1=Entry(eggs=True, split_to=(Split("9", 50, 80, SplitQueen.QUEEN),)))
    new = drove.line("9")
    assert (new.kind, new.queen.year) == ("full", 2025)
    assert drove.line("1").queen.year is None


def test_a_nucleus_from_two_hives_is_one_colony(drove: Yard) -> None:
    drove.post(
        h1=Entry(eggs=True, split_to=(Split("9", 20),)),
        h2=Entry(eggs=True, split_to=(Split("9", 10),)),
        h3=LOOKED,
    )
    new = drove.line("9").colony_id
    assert went(drove.ledger) == [
        ("split", drove.hives["1"], new, 20, None),
        ("split", drove.hives["2"], new, 10, None),
    ]


def test_a_united_colony_ends_and_its_number_is_free(drove: Yard) -> None:
    drove.post(h2=Entry(queen_state=QueenState.DRONE_LAYER, united_into="1"), h1=LOOKED)
    assert went(drove.ledger) == [("unite", drove.hives["2"], drove.hives["1"], None, None)]
    assert (drove.line("2").ended_on, drove.line("2").end_cause) == (DAY, "united")
    perform(drove.ledger, give_mark, drove.hives["3"], "2", DAY)
    assert drove.line("2", date(2026, 5, 15)).colony_id == drove.hives["3"]


def test_a_colony_is_united_with_one_split_off_in_the_same_round(drove: Yard) -> None:
    drove.post(h1=Entry(eggs=True, split_to=(Split("9"),)), h2=Entry(eggs=False, united_into="9"))
    assert [(kind, giver) for kind, giver, *_ in went(drove.ledger)] == [
        ("split", drove.hives["1"]),
        ("unite", drove.hives["2"]),
    ]


def test_a_frame_of_brood_given_is_written_from_giver_to_taker(drove: Yard) -> None:
    drove.post(h3=Entry(queen_state=QueenState.QUEENLESS, brood_given_from="1", brood_given_tenths=10))
    assert went(drove.ledger) == [("frame", drove.hives["1"], drove.hives["3"], 10, None)]


def test_a_split_to_a_living_hive_is_asked_about_and_gives_it_the_bees(drove: Yard) -> None:
    entry = Entry(eggs=True, split_to=(Split("2", 20, 20),))
    drove.post(line=Line(entry, mark="1", accepted=frozenset({"rounds.split_to_known"})))
    assert went(drove.ledger) == [("split", drove.hives["1"], drove.hives["2"], 20, None)]


def test_a_virgin_found_ends_the_old_queen_and_is_written_once(drove: Yard) -> None:
    drove.post(EARLIER, h1=Entry(queen_state=QueenState.VIRGIN))
    drove.post(h1=Entry(queen_state=QueenState.VIRGIN))
    old, new = rows(drove.ledger, Tenure, colony_id=drove.hives["1"])
    assert (old.until_on, old.why_ended, new.from_on, new.until_on) == (
        EARLIER,
        "a virgin found",
        EARLIER,
        None,
    )
    assert (drove.line("1").queen.year, drove.line("1").queen.marked) == (2026, False)


def test_the_first_colour_seen_says_which_year_she_is_of(ledger: Ledger) -> None:
    dyke = yard(ledger, "Low Dyke", "20", "21", year=None)
    dyke.post(h20=Entry(queen_seen=True, queen_colour=QueenColour.GREEN), h21=LOOKED)
    # Green is for years that end in 4 or 9, by the international code: 2024 is the last before May 2026.
    assert (dyke.line("20").queen.year, dyke.line("20").queen.colour) == (2024, "green")
    assert dyke.line("21").queen.year is None


def test_a_requeened_colony_has_one_queen_and_keeps_the_memory_of_the_old(drove: Yard) -> None:
    colony = drove.hives["1"]
    perform(
        drove.ledger,
        put_queen,
        colony,
        NewQueen(hatch_year=2026, marked=True, tag="W14"),
        EARLIER,
        "too fierce",
    )
    assert (drove.line("1").queen.tag, drove.line("1").queen.colour) == ("W14", "white")
    assert drove.line("1", date(2026, 5, 1)).queen.year == 2025
    perform(drove.ledger, end_queen, colony, DAY, "balled")
    assert [row.why_ended for row in rows(drove.ledger, Tenure, colony_id=colony)] == ["too fierce", "balled"]


def test_a_colony_is_not_ended_before_it_was_looked_at_nor_twice_nor_without_a_known_cause(
    drove: Yard,
) -> None:
    from beeledger.base.errors import Refused

    drove.post(h1=LOOKED)
    for day, cause, why in ((EARLIER, "theft", "looked at after"), (DAY, "boredom", "no cause of an end")):
        with pytest.raises(Refused, match=why):
            perform(drove.ledger, end_colonies, [drove.hives["1"]], day, cause)
    perform(drove.ledger, end_colonies, [drove.hives["1"]], DAY, Cause.THEFT)
    with pytest.raises(Refused, match="ended on 14 May 2026"):
        perform(drove.ledger, end_colonies, [drove.hives["1"]], DAY, Cause.THEFT)


def test_a_number_is_never_on_two_living_hives(drove: Yard) -> None:
    from beeledger.base.errors import Refused

    with pytest.raises(Refused, match="hive 2 is on another living hive"):
        perform(drove.ledger, give_mark, drove.hives["1"], "2", DAY)
    perform(drove.ledger, give_mark, drove.hives["1"], "1A", DAY)
    assert drove.marks() == ["1A", "2", "3"]
