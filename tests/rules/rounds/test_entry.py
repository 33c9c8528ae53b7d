"""The record of one colony on one visit."""

from __future__ import annotations

from beeledger.rules.rounds.entry import (
    CellStage,
    Entry,
    FeedKind,
    Heft,
    Outcome,
    Split,
    blank,
    fields_filled,
    outcome_of,
    over,
    settled,
)


def test_a_new_entry_is_blank():
    assert blank(Entry())
    assert fields_filled(Entry()) == ()


def test_nought_frames_of_brood_is_something_looked_at():
    entry = Entry(brood_tenths=0, eggs=False)
    assert not blank(entry)
    assert fields_filled(entry) == ("eggs", "brood_tenths")


def test_a_split_is_something_done():
    assert fields_filled(Entry(split_to=(Split("626"),))) == ("split_to",)


def test_words_are_kept_tidy_and_no_words_are_nothing():
    assert Entry(note="  raise\n from   her ").note == "raise from her"
    assert blank(Entry(note=" \t "))


def test_a_figure_alone_says_that_the_hive_was_looked_at():
    assert outcome_of(Entry(temper=2)) is Outcome.LOOKED
    assert settled(Entry(brood_tenths=50, feed_kind=FeedKind.FONDANT, feed_g=1000)).outcome is Outcome.LOOKED


def test_feed_or_a_heft_alone_is_no_look_into_the_hive():
    assert settled(Entry(feed_kind=FeedKind.FONDANT, feed_g=1000)).outcome is Outcome.NOT_OPENED
    assert settled(Entry(stores_heft=Heft.LIGHT, note="entrance clear")).outcome is Outcome.NOT_OPENED


def test_a_note_alone_does_not_say_that_the_hive_was_looked_at():
    assert outcome_of(Entry(note="gate code changed")) is None
    assert settled(Entry(next_days=7)) == Entry(next_days=7)


def test_a_dead_hive_stays_dead_when_settled():
    assert settled(Entry(outcome=Outcome.DEAD, note="wet floor")).outcome is Outcome.DEAD


def test_what_is_laid_over_wins_and_the_rest_stays():
    normal = Entry(eggs=True, queen_seen=False, cells_stage=CellStage.NONE)
    assert over(normal, Entry(queen_seen=True, supers_on=1)) == Entry(
        eggs=True, queen_seen=True, cells_stage=CellStage.NONE, supers_on=1
    )
