"""A line said back in words."""

from __future__ import annotations

from beeledger.rules.rounds.entry import (
    Cause,
    CellsDone,
    CellStage,
    Entry,
    FeedKind,
    Heft,
    MiteMethod,
    NextAction,
    Outcome,
    QueenColour,
    QueenState,
    Split,
    SplitQueen,
)
from beeledger.rules.rounds.readback import read_back


def test_the_line_of_the_picture_is_said_back_cell_by_cell():
    """4 in 300 is 1.3 % (mites ÷ bees × 100: Dietemann et al. 2013, J. Apic. Res. 52(1), 4.2.3)."""
    entry = Entry(
        queen_seen=True,
        eggs=True,
        brood_tenths=80,
        bees_tenths=110,
        stores_g=5000,
        cells_stage=CellStage.OPEN,
        cells_count=3,
        supers_on=1,
        mites_count=4,
        mites_method=MiteMethod.WASH,
        mites_bees=300,
    )
    assert read_back(entry, supers_before=1) == [
        ("queen", "seen"),
        ("eggs", "seen"),
        ("brood", "8 frames"),
        ("bees", "11 frames"),
        ("stores", "5 kg"),
        ("cells", "3 open"),
        ("supers", "1 on, now 2"),
        ("mites", "4 in 300, 1.3 %"),
    ]


def test_all_else_that_a_line_can_say_has_its_words():
    entry = Entry(
        outcome=Outcome.LOOKED,
        queen_state=QueenState.VIRGIN,
        queen_colour=QueenColour.UNMARKED,
        stores_tenths=10,
        stores_heft=Heft.LIGHT,
        super_fullness_tenths=7,
        temper=3,
        cells_stage=CellStage.EMERGENCY,
        cells_done=CellsDone.LEFT_ONE,
        supers_off=2,
        clearers=True,
        feed_kind=FeedKind.SYRUP_2_1,
        feed_ml=2500,
        feed_left_ml=500,
        medicine_in="strips M",
        medicine_in_count=2,
        medicine_batch="L7",
        mites_count=44,
        mites_method=MiteMethod.DROP,
        mites_days=7,
        signs="chalkbrood, few cells",
        split_to=(Split("626", 30, 40, SplitQueen.SEALED_CELL),),
        brood_given_from="433",
        brood_given_tenths=10,
        next_action=NextAction.FEED,
        next_days=1,
        question="1 or 7",
    )
    assert read_back(entry) == [
        ("hive", "looked"),
        ("queen", "virgin, unmarked"),
        ("stores", "1 frame, light by hand"),
        ("supers full", "7 tenths full"),
        ("temper", "3 of 5"),
        ("cells", "emergency, left one"),
        ("supers", "2 off"),
        ("clearers", "in"),
        ("feed", "2.5 litres syrup 2:1"),
        ("left in feeder", "0.5 litres"),
        ("medicine in", "2 strips M, batch L7"),
        ("mites", "44 in 7 days fallen"),
        ("signs", "chalkbrood, few cells"),
        ("split to", "626 with 3 frames of brood, 4 frames of bees, a sealed cell"),
        ("brood given", "1 frame from 433"),
        ("next look", "in 1 day, feed"),
        ("question", "1 or 7"),
    ]


def test_a_dead_hive_is_said_with_its_cause():
    assert read_back(Entry(outcome=Outcome.DEAD, cause=Cause.ANIMALS)) == [
        ("hive", "dead, mice, woodpecker or livestock")
    ]


def test_nothing_looked_at_is_nothing_said():
    assert read_back(Entry()) == []


def test_no_eggs_and_nought_frames_are_said():
    assert read_back(Entry(eggs=False, brood_tenths=0)) == [("eggs", "none"), ("brood", "0 frames")]
