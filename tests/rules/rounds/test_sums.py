"""The foot of a round, and filling many lines at once."""

from __future__ import annotations

from datetime import date

import pytest

from beeledger.rules.rounds.entry import CellStage, Entry, FeedKind, Outcome, QueenState, Split
from beeledger.rules.rounds.sums import (
    fill_down,
    fill_with,
    foot,
    next_blank,
    nothing_to_report,
    repeat_line,
)

DAY = date(2026, 5, 14)
SYRUP = Entry(feed_kind=FeedKind.SYRUP_1_1, feed_ml=2000)
LINES = [
    Entry(queen_seen=True, eggs=True, brood_tenths=75, bees_tenths=110, supers_on=1, next_days=7),
    Entry(eggs=True, brood_tenths=80, supers_off=2, feed_kind=FeedKind.SYRUP_2_1, feed_ml=5000, mites_count=4),
    Entry(cells_stage=CellStage.SEALED, cells_count=3, next_days=2, medicine_out="strips M", medicine_out_count=2),
    Entry(cells_stage=CellStage.CUPS, cells_count=5, feed_kind=FeedKind.FONDANT, feed_g=1000, question="1 or 7"),
    Entry(outcome=Outcome.DEAD),
    Entry(note="gate code changed"),
    Entry(),
]  # fmt: skip


def test_the_foot_adds_up_what_the_lines_say():
    """Added by hand from the seven lines above."""
    sums = foot(LINES, DAY)
    assert (sums.hives, sums.filled, sums.looked, sums.waiting) == (7, 6, 4, 1)
    assert sums.outcomes == {Outcome.LOOKED: 4, Outcome.DEAD: 1}
    assert (sums.queens_seen, sums.eggs, sums.brood_tenths, sums.bees_tenths) == (1, 2, 155, 110)
    assert (sums.cells_hives, sums.cells_count) == (1, 3)
    assert (sums.supers_on, sums.supers_off, sums.mites_counted) == (1, 2, 1)
    assert sums.feed_ml == {FeedKind.SYRUP_2_1: 5000}
    assert sums.feed_g == {FeedKind.FONDANT: 1000}
    assert (sums.medicine_in, sums.medicine_out) == ({}, {"strips M": 2})
    assert sums.next_look == date(2026, 5, 16)


def test_feed_and_a_heft_alone_are_told_apart_from_a_look():
    words = foot([SYRUP, SYRUP, Entry(stores_heft="light"), Entry(feed_ml=2000, eggs=True)], DAY).words()
    assert words["outcome"] == "1 of 4 looked at"
    assert words["not_opened"] == "2 fed, not opened · 1 not opened"
    assert foot(LINES, DAY).words()["not_opened"] == ""


def test_the_foot_reads_as_the_grid_shows_it():
    words = foot(LINES, DAY).words()
    assert words["outcome"] == "4 of 7 looked at"
    assert words["brood_tenths"] == "15.5"
    assert words["supers_on"] == "+1 −2"
    assert words["feed_ml"] == "5.0 L 1.0 kg"
    assert words["medicine_in"] == "2 out"
    assert words["next_days"] == "next look 16 May"
    assert words["stores_g"] == ""


def test_the_foot_of_an_empty_round_is_blank():
    words = foot([Entry(), Entry()], DAY).words()
    assert words.pop("outcome") == "0 of 2 looked at"
    assert set(words.values()) == {""}


def test_the_line_above_is_repeated_without_what_is_its_own():
    above = Entry(brood_tenths=80, supers_on=1, note="raise from her", split_to=(Split("9"),), signs="few")
    assert repeat_line(above) == Entry(brood_tenths=80, supers_on=1)
    assert repeat_line(above, Entry(brood_tenths=60, note="weak")) == Entry(
        brood_tenths=60, supers_on=1, note="weak"
    )


def test_a_dead_hive_is_not_repeated():
    assert repeat_line(Entry(outcome=Outcome.DEAD), Entry(temper=2)) == Entry(temper=2)


def test_a_stretch_is_filled_and_what_was_typed_stays():
    typed = Entry(feed_kind=FeedKind.SYRUP_1_1, feed_ml=3000)
    lines = [Entry(), typed, Entry(outcome=Outcome.DEAD), Entry(eggs=True), Entry()]
    assert fill_with(lines, range(4), SYRUP) == [
        SYRUP,
        typed,
        Entry(outcome=Outcome.DEAD),
        Entry(eggs=True, feed_kind=FeedKind.SYRUP_1_1, feed_ml=2000),
        Entry(),
    ]


def test_a_column_is_filled_down_from_its_first_line():
    lines = [Entry(temper=2, eggs=True), Entry(), Entry(temper=4), Entry()]
    assert fill_down(lines, slice(0, 3), ["temper"]) == [
        Entry(temper=2, eggs=True),
        Entry(temper=2),
        Entry(temper=4),
        Entry(),
    ]
    assert fill_down(lines, range(0), ["temper"]) == lines


def test_notes_are_not_filled_down():
    with pytest.raises(ValueError, match="note is not copied"):
        fill_down([Entry(note="x"), Entry()], slice(0, 2), ["note"])


def test_nothing_to_report_fills_blank_lines_only():
    normal = Entry(outcome=Outcome.LOOKED, queen_state=QueenState.RIGHT)
    lines = [Entry(), Entry(temper=2), Entry()]
    assert nothing_to_report(lines, slice(0, 2), normal) == [normal, Entry(temper=2), Entry()]


def test_the_next_line_to_fill_is_found_going_round():
    lines = [Entry(), Entry(temper=2), Entry(), Entry(temper=1)]
    assert next_blank(lines, 0) == 2
    assert next_blank(lines, 2) == 0
    assert next_blank([Entry(temper=2)], 0) is None
    assert next_blank([], -1) is None
