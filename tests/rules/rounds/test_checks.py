"""Every check of a round line: one line that trips it, and one that just does not."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

import pytest

from beeledger.base.findings import Grade
from beeledger.rules.rounds.checks import CHECKS, REASON_CODES, check_entry, needs_reason
from beeledger.rules.rounds.entry import (
    Cause,
    CellStage,
    Entry,
    FeedKind,
    MiteMethod,
    Outcome,
    QueenColour,
    QueenState,
    Split,
)
from beeledger.rules.rounds.record import HiveRecord, Treatment

DAY = date(2026, 5, 14)
HIVE = HiveRecord(
    mark="1174",
    colony_id=7,
    site="Perry Tree",
    queen_state=QueenState.RIGHT,
    queen_year=2024,
    brood_boxes=1,
    frames_per_box=11,
    frame_type="national_brood",
    supers_on=1,
    last=Entry(brood_tenths=60, stores_g=13_000),
    last_date=date(2026, 5, 5),
    feed_on=False,
)
DOUBLE = replace(HIVE, brood_boxes=2)
TREATED = replace(HIVE, treatment=Treatment("strips M", date(2026, 5, 1), ends=None))
FREE = Treatment("strips M", date(2026, 3, 1), ends=DAY, in_hive=False)
NOT_YET_FREE = Treatment("strips M", date(2026, 3, 1), ends=date(2026, 5, 15), in_hive=False)
DEAD, LOOKED = Outcome.DEAD, Outcome.LOOKED
STORES_AUGUST = date(2026, 8, 20)


@dataclass(frozen=True)
class Pair:
    """A check, the line and record that trip it, and those that just do not."""

    code: str
    trips: Entry
    words: str
    passes: Entry
    record: HiveRecord = HIVE
    other: HiveRecord | None = None
    field: str = ""
    day: date = DAY


PAIRS = [
    Pair("dead_yet_alive", Entry(outcome=DEAD, feed_ml=2000, feed_kind=FeedKind.SYRUP_1_1), "dead, and feed syrup 1:1", Entry(outcome=DEAD, supers_off=1, brood_tenths=0, eggs=False), field="feed_kind"),
    Pair("empty_yet_alive", Entry(outcome=Outcome.EMPTY, bees_tenths=5), "empty, and bees 0.5 frames", Entry(outcome=Outcome.EMPTY, stores_tenths=5), field="bees_tenths"),
    Pair("not_found_yet_seen", Entry(outcome=Outcome.NOT_FOUND, temper=2), "not found, and temper 2 of 5", Entry(outcome=Outcome.NOT_FOUND, next_days=3), field="temper"),
    Pair("not_opened_yet_seen", Entry(outcome=Outcome.NOT_OPENED, eggs=True), "not opened, and eggs seen", Entry(outcome=Outcome.NOT_OPENED, supers_on=1, queen_seen=False), field="eggs"),
    Pair("cause_of_the_living", Entry(outcome=LOOKED, cause=Cause.WASPS), "a cause, but not dead", Entry(outcome=DEAD, cause=Cause.WASPS), field="cause"),
    Pair("below_nought", Entry(brood_tenths=-5), "below nought: brood −0.5 frames", Entry(brood_tenths=0), field="brood_tenths"),
    Pair("below_nought", Entry(split_to=(Split("9", -10),)), "below nought: split to 9 with −1 frames of brood", Entry(split_to=(Split("9", 0),)), field="split_to"),
    Pair("temper_off_the_scale", Entry(temper=6), "temper 6, it goes from 1 to 5", Entry(temper=5), field="temper"),
    Pair("temper_off_the_scale", Entry(temper=0), "temper 0, it goes from 1 to 5", Entry(temper=1), field="temper"),
    Pair("fuller_than_full", Entry(super_fullness_tenths=11), "11 tenths full", Entry(super_fullness_tenths=10), field="super_fullness_tenths"),
    Pair("brood_beyond_the_box", Entry(brood_tenths=115), "11.5 brood, its box holds 11", Entry(brood_tenths=110), field="brood_tenths"),
    Pair("brood_beyond_the_box", Entry(brood_tenths=225), "22.5 brood, its 2 boxes hold 22", Entry(brood_tenths=220), record=DOUBLE, field="brood_tenths"),
    Pair("brood_beyond_laying", Entry(brood_tenths=310), "82,646 cells of brood, no queen lays 82,472", Entry(brood_tenths=309), record=replace(HIVE, brood_boxes=3), field="brood_tenths"),
    Pair("cells_and_none", Entry(cells_stage=CellStage.NONE, cells_count=1), "no cells, and 1 counted", Entry(cells_stage=CellStage.NONE, cells_count=0), field="cells_count"),
    Pair("queen_seen_and_none", Entry(queen_state=QueenState.QUEENLESS, queen_seen=True), "queenless, and queen seen", Entry(queen_state=QueenState.DRONE_LAYER, queen_seen=True), field="queen_seen"),
    Pair("colour_unseen", Entry(queen_colour=QueenColour.GREEN, queen_seen=False), "queen green, but not seen", Entry(queen_colour=QueenColour.GREEN), field="queen_colour"),
    Pair("no_sample", Entry(mites_count=0, mites_bees=0), "mites counted in no bees", Entry(mites_count=0, mites_bees=1), field="mites_bees"),
    Pair("no_sample", Entry(mites_count=0, mites_days=0), "mites counted in no days", Entry(mites_count=0, mites_days=1), field="mites_days"),
    Pair("with_itself", Entry(united_into="1174"), "1174 with itself", Entry(united_into="1175"), field="united_into"),
    Pair("split_without_mark", Entry(split_to=(Split(""),)), "split to a hive without a mark", Entry(split_to=(Split("9"),)), field="split_to"),
    Pair("unknown_mark", Entry(temper=2), "no colony has the mark 99", Entry(outcome=Outcome.STRANGER, note="at the gate"), record=HiveRecord("99"), field="outcome"),
    Pair("stands_elsewhere", Entry(temper=2), "on record at Lime Walk", Entry(outcome=Outcome.NOT_FOUND), record=replace(HIVE, stands_here=False, site="Lime Walk"), field="outcome"),
    Pair("dead_on_record", Entry(temper=2), "on record dead", Entry(outcome=DEAD), record=replace(HIVE, alive=False), field="outcome"),
    Pair("supers_off_never_on", Entry(supers_off=2), "2 supers off, 1 was on", Entry(supers_off=1), field="supers_off"),
    Pair("supers_off_never_on", Entry(supers_off=3, supers_on=1), "3 supers off, 1 was on", Entry(supers_off=2, supers_on=1), field="supers_off"),
    Pair("queen_in_queenless", Entry(queen_seen=True), "queen seen, on record queenless", Entry(queen_seen=False), record=replace(HIVE, queen_state=QueenState.QUEENLESS), field="queen_seen"),
    Pair("queen_in_queenless", Entry(queen_state=QueenState.RIGHT), "queenright, on record queenless", Entry(queen_state=QueenState.VIRGIN), record=replace(HIVE, queen_state=QueenState.QUEENLESS), field="queen_state"),
    Pair("other_colour", Entry(queen_colour=QueenColour.RED), "red, on record green of 2024", Entry(queen_colour=QueenColour.GREEN), field="queen_colour"),
    Pair("out_never_in", Entry(medicine_out="strips M"), "strips out, none on record", Entry(medicine_out="strips M"), other=TREATED, field="medicine_out"),
    Pair("left_never_fed", Entry(feed_left_ml=500), "feed left, none on record", Entry(feed_left_ml=0), field="feed_left_ml"),
    Pair("honey_under_treatment", Entry(supers_off=1), "honey taken under treatment: strips M since 1 May", Entry(supers_on=1), record=TREATED, field="supers_off"),
    Pair("honey_under_treatment", Entry(supers_off=1), "honey taken under treatment: strips M since 1 Mar, honey again from 15 May 2026", Entry(supers_off=1), record=replace(HIVE, treatment=NOT_YET_FREE), other=replace(HIVE, treatment=FREE), field="supers_off"),
    Pair("honey_with_feed", Entry(supers_off=1), "honey taken where feed was on", Entry(supers_off=0), record=replace(HIVE, feed_on=True), field="supers_off"),
    Pair("medicine_under_supers", Entry(medicine_in="strips M"), "treated, and 1 super stays on", Entry(medicine_in="strips M", supers_off=1), field="medicine_in"),
    Pair("much_brood", Entry(brood_tenths=158), "42,122 cells of brood, more than 42,000", Entry(brood_tenths=157), record=DOUBLE, field="brood_tenths"),
    Pair("brood_and_stores_beyond_frames", Entry(brood_tenths=80, stores_tenths=35), "brood and stores on 11.5 frames, it has 11", Entry(brood_tenths=80, stores_tenths=30), field="brood_tenths"),
    Pair("more_brood_than_bees", Entry(brood_tenths=75, bees_tenths=60), "7.5 brood, bees on 6 only", Entry(brood_tenths=70, bees_tenths=60), field="bees_tenths"),
    Pair("more_bees_than_frames", Entry(bees_tenths=215), "bees on 21.5 frames, it has 21 with its supers", Entry(bees_tenths=210), field="bees_tenths"),
    Pair("brood_gone", Entry(brood_tenths=0), "no brood, 6 frames last time", Entry(brood_tenths=5), field="brood_tenths"),
    Pair("perhaps_queenless", Entry(eggs=False, cells_stage=CellStage.NONE), "no eggs, no queen, no cells", Entry(eggs=False, cells_stage=CellStage.CUPS), field="eggs"),
    Pair("swarm_gone", Entry(cells_stage=CellStage.SEALED, cells_count=3), "sealed; swarm gone?", Entry(cells_stage=CellStage.SEALED, queen_seen=True), field="cells_stage"),
    Pair("stores_fell", Entry(stores_g=3000), "10 kg less in 9 days", Entry(stores_g=4000), field="stores_g"),
    Pair("stores_beyond_the_hive", Entry(stores_g=39_300), "39.3 kg of stores, it holds 39", Entry(stores_g=39_200), field="stores_g"),
    Pair("honey_it_needs", Entry(supers_off=1, stores_tenths=30), "supers off, 6.6 kg left and no feed", Entry(supers_off=1, stores_tenths=30, feed_ml=5000), field="supers_off", day=STORES_AUGUST),
    Pair("honey_it_needs", Entry(supers_off=1, stores_g=7999), "supers off, 8.0 kg left and no feed", Entry(supers_off=1, stores_g=8000), field="supers_off", day=STORES_AUGUST),
    Pair("mites_over_the_line", Entry(mites_count=9, mites_bees=300), "3.0 %, at your line of 3 %", Entry(mites_count=8, mites_bees=300), field="mites_count"),
    Pair("drop_over_the_line", Entry(mites_count=234, mites_days=7), "about 1,003 mites by this drop", Entry(mites_count=233, mites_days=7), field="mites_count"),
    Pair("more_mites_than_bees", Entry(mites_count=301, mites_bees=300), "301 mites in 300 bees", Entry(mites_count=300, mites_bees=300), field="mites_count"),
    Pair("treated_twice", Entry(medicine_in="strips M"), "strips M is in already", Entry(medicine_in="strips M", medicine_out="strips M"), record=TREATED, field="medicine_in"),
    Pair("treated_twice", Entry(medicine_in_count=2), "strips M is in already", Entry(medicine_in_count=2, medicine_out_count=2), record=TREATED, field="medicine_in"),
    Pair("supers_over_medicine", Entry(supers_on=1), "supers on, and strips M is in", Entry(supers_on=1, medicine_out_count=2), record=TREATED, field="supers_on"),
    Pair("syrup_under_supers", Entry(feed_ml=2000), "fed with supers on", Entry(feed_ml=2000, supers_off=1), field="feed_ml"),
    Pair("many", Entry(supers_on=5), "5 supers on", Entry(supers_on=4), field="supers_on"),
    Pair("many", Entry(feed_ml=50_000), "50,000 ml of feed", Entry(feed_ml=15_000), field="feed_ml"),
    Pair("split_beyond_brood", Entry(brood_tenths=50, split_to=(Split("8", 30), Split("9", 30))), "6 brood gone, 5 were there", Entry(brood_tenths=60, split_to=(Split("8", 30), Split("9", 30))), field="split_to"),
    Pair("note_of_marks", Entry(outcome=LOOKED, note="p21 done"), "the note begins with p21, which reads as: split to 21", Entry(outcome=LOOKED, note="21 done, 2nd box wanted"), field="note"),
    Pair("stranger_unnamed", Entry(outcome=Outcome.STRANGER), "a stranger without a word", Entry(outcome=Outcome.STRANGER, note="at the gate"), field="note"),
]  # fmt: skip


def _named(code, entry, record, day):
    return [finding for finding in check_entry(entry, record, day) if finding.code == f"rounds.{code}"]


@pytest.mark.parametrize("pair", PAIRS, ids=lambda pair: pair.code)
def test_a_line_trips_the_check_and_is_told_why(pair):
    (finding,) = _named(pair.code, pair.trips, pair.record, pair.day)
    assert finding.what == pair.words
    assert finding.where.field == pair.field
    assert finding.where.record == pair.record.mark
    assert finding.mend


@pytest.mark.parametrize("pair", PAIRS, ids=lambda pair: pair.code)
def test_a_line_that_just_does_not_trip_it_is_let_through(pair):
    assert _named(pair.code, pair.passes, pair.other or pair.record, pair.day) == []


def test_every_check_of_the_table_has_its_pair():
    assert {check.code for check in CHECKS} == {f"rounds.{pair.code}" for pair in PAIRS}
    assert len({check.code for check in CHECKS}) == len(CHECKS)


def test_every_field_of_the_table_is_a_field_of_the_entry():
    assert {check.field for check in CHECKS} - {""} <= set(Entry.__slots__)


def test_honey_under_treatment_and_strips_under_supers_want_a_written_reason():
    assert set(REASON_CODES) == {
        "rounds.honey_under_treatment",
        "rounds.honey_with_feed",
        "rounds.medicine_under_supers",
        "rounds.restricted",
    }
    (finding,) = check_entry(Entry(supers_off=1), TREATED, DAY)
    assert needs_reason(finding)
    assert finding.grade is Grade.AGAINST


def test_what_contradicts_the_record_never_holds_the_line():
    grades = {check.grade for check in CHECKS if check.trips.__module__.endswith("against")}
    assert grades == {Grade.AGAINST}


def test_the_gravest_finding_comes_first():
    found = check_entry(Entry(temper=9, supers_off=2, mites_count=9, mites_bees=300), HIVE, DAY)
    assert [finding.grade for finding in found] == [Grade.REFUSED, Grade.AGAINST, Grade.DOUBTFUL]


def test_a_usual_line_finds_nothing_to_say():
    entry = Entry(
        outcome=LOOKED,
        queen_seen=True,
        eggs=True,
        brood_tenths=70,
        bees_tenths=110,
        stores_g=11_000,
        temper=2,
        cells_stage=CellStage.NONE,
        supers_on=1,
        mites_count=4,
        mites_method=MiteMethod.WASH,
        mites_bees=300,
    )
    assert check_entry(entry, HIVE, DAY) == []


def test_a_blank_line_finds_nothing_to_say():
    assert check_entry(Entry(), HIVE, DAY) == []
    assert check_entry(Entry(), HiveRecord("99"), DAY) == []


@pytest.mark.parametrize("month", range(1, 13))
def test_no_season_makes_brood_odd(month):
    day = date(2026, month, 15)
    assert check_entry(Entry(brood_tenths=80, bees_tenths=90), HIVE, day) == []
    assert check_entry(Entry(brood_tenths=0), replace(HIVE, last=None), day) == []


def test_nothing_is_checked_against_what_the_record_does_not_know():
    unknown = HiveRecord("1174", colony_id=7)
    entry = Entry(brood_tenths=200, supers_off=4, stores_g=90_000, queen_colour=QueenColour.RED)
    assert check_entry(entry, unknown, DAY) == []
