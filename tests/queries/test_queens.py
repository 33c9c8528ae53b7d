"""What the lists and cards of queens say, and what the pedigree is made from."""

from __future__ import annotations

from datetime import date
from typing import Any

from beeledger.database.ledger import Ledger
from beeledger.model.queens import Queen
from beeledger.operations.act import perform
from beeledger.operations.grafts import NewGraft, post_graft
from beeledger.operations.queen_book import (
    NewMating,
    add_queen,
    describe_queen,
    introduce_queen,
    note_mating,
)
from beeledger.operations.queens import NewQueen
from beeledger.queries.pedigrees import list_grafts, pedigree_of
from beeledger.queries.queens import list_queens, queen_card, queen_choices
from beeledger.queries.records.queens import QueenCard, QueenLine
from beeledger.queries.search import find
from beeledger.rules.pedigree import MatingKind, Unknown
from beeledger.rules.rounds.entry import CellStage, Entry, MiteMethod, Outcome, QueenState
from tests.builders.yards import DAY, Yard, rows, yard
from tests.queries.counting import statements


def bred(ledger: Ledger) -> tuple[Yard, dict[str, int]]:
    """A farm with a dam, her two daughters and a mother of drones."""
    home = yard(ledger, "Home Yard", "1", "2", "3")
    by: dict[str, int] = {}

    def enter(tag: str, year: int, dam: str = "") -> None:
        new = NewQueen(year, marked=True, tag=tag, line="Alder", dam_id=by.get(dam))
        by[tag] = perform(ledger, add_queen, new).result

    enter("22-009", 2022)
    enter("23-061", 2023)
    enter("25-114", 2025, "23-061")
    enter("25-115", 2025, "23-061")
    drones = NewMating(MatingKind.DRONES, home.site, date(2023, 6, 12), (by["22-009"],))
    perform(ledger, note_mating, by["23-061"], drones)
    perform(ledger, introduce_queen, by["25-114"], home.hives["1"], date(2026, 4, 1))
    return home, by


def card(ledger: Ledger, number: int) -> QueenCard:
    with ledger.read() as session:
        found = queen_card(session, number)
    assert found is not None
    return found


def listed(ledger: Ledger, *, living: bool = True) -> dict[str, QueenLine]:
    with ledger.read() as session:
        return {line.name: line for line in list_queens(session, living=living)}


def test_the_list_says_where_a_queen_is_and_whose_daughter(ledger: Ledger) -> None:
    home, _ = bred(ledger)
    home.post(h1=Entry(outcome=Outcome.LOOKED, queen_state=QueenState.RIGHT))
    lines = listed(ledger)
    line = lines["25-114"]
    assert (line.hive, line.site, line.since, line.dam) == ("1", "Home Yard", date(2026, 4, 1), "23-061")
    assert (line.state, line.state_on) == ("right", DAY)
    assert (lines["23-061"].mating, lines["23-061"].mated_at) == (MatingKind.DRONES, "Home Yard")
    assert lines["22-009"].colony_id is None
    assert "of hive 2" in lines
    assert [line.end_cause for line in listed(ledger, living=False).values()] == ["replaced"]


def test_what_was_written_before_she_came_is_not_said_of_her(ledger: Ledger) -> None:
    home = yard(ledger, "Home Yard", "1")
    home.post(date(2026, 4, 20), h1=Entry(outcome=Outcome.LOOKED, queen_state=QueenState.RIGHT, temper=5))
    number = perform(ledger, add_queen, NewQueen(2025, tag="25-1")).result
    perform(ledger, introduce_queen, number, home.hives["1"], date(2026, 5, 1))
    assert listed(ledger)["25-1"].state is None
    assert card(ledger, number).says.temper.mean is None


def test_her_colonies_say_how_calm_they_were_and_on_how_many_looks_that_rests(ledger: Ledger) -> None:
    home, by = bred(ledger)
    cells: dict[str, Any] = {"cells_stage": CellStage.OPEN, "cells_count": 2}
    wash: dict[str, Any] = {"mites_count": 6, "mites_method": MiteMethod.WASH, "mites_bees": 300}
    home.post(date(2026, 4, 20), h1=Entry(outcome=Outcome.LOOKED, temper=2, brood_tenths=40))
    home.post(date(2026, 5, 2), h1=Entry(outcome=Outcome.LOOKED, temper=3, brood_tenths=61, **cells, **wash))
    home.post(date(2026, 5, 8), h1=Entry(outcome=Outcome.LOOKED, cells_stage=CellStage.NONE))
    home.post(date(2026, 5, 12), h1=Entry(outcome=Outcome.LOOKED, cells_stage=CellStage.CUPS))
    says = card(ledger, by["25-114"]).says
    assert (says.temper.mean, says.temper.count) == (2.5, 2)
    assert (says.brood_tenths.mean, says.brood_tenths.count) == (50.5, 2)
    assert (says.mites_hundredths.mean, says.mites_hundredths.count) == (200.0, 1)
    assert (round(says.cells.mean or 0, 3), says.cells.count) == (0.333, 3)
    assert (says.honey_g, says.takes) == (None, 0)


def test_the_card_names_her_tenures_her_sisters_and_her_daughters(ledger: Ledger) -> None:
    home, by = bred(ledger)
    own = card(ledger, by["25-114"])
    assert [(one.hive, one.since, one.until) for one in own.tenures] == [("1", date(2026, 4, 1), None)]
    assert [one.tag for one in own.sisters] == ["25-115"]
    assert [one.tag for one in card(ledger, by["23-061"]).daughters] == ["25-114", "25-115"]
    mated = card(ledger, by["23-061"]).mated
    assert mated is not None
    assert [mother.tag for mother in mated.drone_mothers] == ["22-009"]
    with ledger.read() as session:
        assert queen_card(session, 999) is None
        assert queen_choices(session).hives["1"] == home.hives["1"]
        assert set(queen_choices(session).tags) == {"22-009", "23-061", "25-114", "25-115"}


def test_the_pedigree_names_the_drones_of_the_dam_and_says_what_is_unknown(ledger: Ledger) -> None:
    _, by = bred(ledger)
    with ledger.read() as session:
        drawn = pedigree_of(session, by["25-114"])
    assert drawn is not None
    said = {
        (box.generation, box.place): [drawn.names[one].tag for one in box.queen_ids] or box.unknown
        for box in drawn.boxes
    }
    assert said[1, 0] == ["23-061"]
    assert said[1, 1] == ["22-009"]
    assert (said[2, 0], said[2, 2]) == (Unknown.DAM, Unknown.DAM)
    assert drawn.mated == ""
    with ledger.read() as session:
        assert pedigree_of(session, 999) is None


def test_a_pedigree_asks_no_more_often_for_many_ancestors(ledger: Ledger) -> None:
    home, by = bred(ledger)
    with statements(ledger) as few, ledger.read() as session:
        pedigree_of(session, by["25-115"])
    for tag in ("22-009", "23-061"):
        dam = perform(ledger, add_queen, NewQueen(2020, tag=f"dam of {tag}")).result
        old = next(row for row in rows(ledger, Queen, tag=tag))
        perform(ledger, describe_queen, old.id, NewQueen(old.hatch_year, tag=tag, dam_id=dam))
    mating = NewMating(MatingKind.DRONES, home.site, None, (by["22-009"],))
    perform(ledger, note_mating, dam, mating)
    with statements(ledger) as many, ledger.read() as session:
        drawn = pedigree_of(session, by["25-115"])
    assert drawn is not None
    assert by["22-009"] in drawn.both_sides  # and her own dam above her
    assert len(many) <= len(few) + 6


def test_the_list_asks_as_often_for_three_queens_as_for_one(ledger: Ledger) -> None:
    perform(ledger, add_queen, NewQueen(2024, tag="a"))
    with statements(ledger) as one, ledger.read() as session:
        list_queens(session)
    bred(ledger)
    with statements(ledger) as more, ledger.read() as session:
        assert len(list_queens(session)) > 3
    assert len(one) == len(more)


def test_grafts_are_listed_newest_first_with_their_dam(ledger: Ledger) -> None:
    home, by = bred(ledger)
    for day in (date(2026, 5, 2), date(2026, 5, 10)):
        perform(ledger, post_graft, NewGraft(day, by["23-061"], 30, home.hives["2"]))
    with ledger.read() as session:
        found = list_grafts(session)
    assert [(one.on.day, one.dam.words, one.finisher, one.grafted) for one in found] == [
        (10, "23-061", "2", 30),
        (2, "23-061", "2", 30),
    ]


def test_a_tag_is_found_wherever_she_is_and_opens_her_card(ledger: Ledger) -> None:
    _, by = bred(ledger)
    with ledger.read() as session:
        hits = find(session, "25-11")
    assert [(hit.kind, hit.id, hit.place, hit.detail) for hit in hits] == [
        ("queen", by["25-114"], "queens", "1"),
        ("queen", by["25-115"], "queens", ""),
    ]
