"""What a cell takes and shows, what the line of the whole site says, which site and time a form means."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given

from beeledger.queries.round_start import RoundStart, SiteChoice
from beeledger.rules.rounds.entry import (
    CellsDone,
    CellStage,
    Entry,
    FeedKind,
    Heft,
    MiteMethod,
    Outcome,
    QueenColour,
    QueenState,
    Split,
    SplitQueen,
    fields_filled,
)
from beeledger.rules.rounds.normal import habits_for
from beeledger.ui.places.rounds.columns import grid_columns, read_cell
from beeledger.ui.places.rounds.keys import CHORDS
from beeledger.ui.places.rounds.new_round import find_site, read_form, read_time
from beeledger.ui.places.rounds.paste import spreadsheet_words
from beeledger.ui.places.rounds.site_line import read_site_line
from beeledger.ui.places.rounds.state import Head, Swapped, body_of, head_from, line_of, lines_from, read_line
from tests.rules.rounds.strategies import entries

DAY = date(2026, 5, 14)
HABITS = replace(habits_for(DAY), medicine="Fen strips")
COLUMNS = {column.key: column for column in grid_columns(HABITS)}
SITES = (SiteChoice(1, "FE", "Fen End"), SiteChoice(2, "LD", "Long Drove"), SiteChoice(3, "LW", "Low Dyke"))


@pytest.mark.parametrize(
    ("column", "text", "entry", "shown"),
    [
        ("seen", "q", Entry(queen_seen=True), "q"),
        ("seen", "-", Entry(queen_seen=False), "−"),
        ("seen", "n", Entry(queen_state=QueenState.QUEENLESS), "none"),
        ("seen", "v", Entry(queen_state=QueenState.VIRGIN), "virgin"),
        ("seen", "iw", Entry(queen_colour=QueenColour.WHITE), "white"),
        ("eggs", "e", Entry(eggs=True), "e"),
        ("eggs", "-", Entry(eggs=False), "−"),
        ("brood", "7.5", Entry(brood_tenths=75), "7.5"),
        ("brood", "0", Entry(brood_tenths=0), "0"),
        ("stores", "12.5", Entry(stores_g=12_500), "12.5"),
        ("stores", "h4", Entry(stores_tenths=40), "4 fr"),
        ("stores", "l", Entry(stores_heft=Heft.LIGHT), "light"),
        ("temper", "3", Entry(temper=3), "3"),
        (
            "cells",
            "3o/l",
            Entry(cells_stage=CellStage.OPEN, cells_count=3, cells_done=CellsDone.LEFT_ONE),
            "3 open/l",
        ),
        ("cells", "-", Entry(cells_stage=CellStage.NONE), "none"),
        ("supers", "+1-2", Entry(supers_on=1, supers_off=2), "+1 −2"),
        ("supers", "7", Entry(super_fullness_tenths=7), "7/10"),
        ("feed", "2", Entry(feed_ml=2000, feed_kind=FeedKind.SYRUP_1_1), "2.0"),
        ("feed", "2t", Entry(feed_ml=2000, feed_kind=FeedKind.SYRUP_2_1), "2.0t"),
        ("feed", "a1", Entry(feed_g=1000, feed_kind=FeedKind.FONDANT), "1 kg"),
        ("strips", "2", Entry(medicine_in="Fen strips", medicine_in_count=2), "in"),
        ("strips", "o", Entry(medicine_out="Fen strips", medicine_out_count=2), "out"),
        ("mites", "9", Entry(mites_count=9, mites_method=MiteMethod.WASH, mites_bees=300), "9"),
        ("mites", "44/d7", Entry(mites_count=44, mites_method=MiteMethod.DROP, mites_days=7), "44/d7"),
        ("again", "7/f", None, "7/f"),
        ("rest", "z/s", None, "dead, starvation"),
        ("rest", "queen clipped", Entry(note="queen clipped"), "queen clipped"),
        ("rest", "p626:b3f4s", Entry(split_to=(Split("626", 30, 40, SplitQueen.SEALED_CELL),)), None),
    ],
)
def test_a_cell_takes_its_mark_and_shows_it(column, text, entry, shown):
    read, problem = read_cell(COLUMNS[column], text, HABITS)
    assert problem == ""
    assert read is not None
    assert entry is None or read == entry
    assert shown is None or COLUMNS[column].show(read, HABITS) == shown


@pytest.mark.parametrize(
    ("column", "text"), [("brood", "8w"), ("temper", "x9y"), ("mites", "m"), ("again", "soon")]
)
def test_a_cell_says_what_it_cannot_read(column, text):
    read, problem = read_cell(COLUMNS[column], text, HABITS)
    assert read is None
    assert problem.startswith(f"{column}: ")


def test_every_field_of_an_entry_has_a_cell():
    held = {name for column in COLUMNS.values() for name in column.fields}
    assert set(Entry.__dataclass_fields__) - held == set()


def test_the_heads_name_the_measure_of_the_round():
    frames = {column.key: column.second for column in grid_columns(replace(HABITS, stores_in_frames=True))}
    assert (COLUMNS["stores"].second, frames["stores"]) == ("k kg", "h frames")


@given(entries)
def test_a_draft_brings_back_any_entry(entry: Entry):
    line = line_of(mark="7", typed=entry, accepted=frozenset({"a"}), reason="why")
    head = Head("u", 1, "Fen End", DAY, each=Entry(feed_ml=2000), swaps=(Swapped("1", "2", DAY),))
    body = body_of(head, [line], {"row": 0})
    assert (head_from(body), lines_from(body, HABITS)) == (head, [line])


def test_a_line_keeps_its_text_and_the_marks_that_were_not_read():
    line = read_line(line_of(mark="7"), "8 y3", HABITS)
    (again,) = lines_from({"lines": [line.plain]}, HABITS)
    assert (again.text, [token.problem for token in again.unread]) == ("8 y3", ["y3 is no mark"])


def test_the_whole_sites_line_holds_feed_swaps_and_the_note_of_the_round():
    said = read_site_line("l2 sc- 416=430@6/5; gate code changed", HABITS, DAY)
    assert said.each == Entry(feed_ml=2000, feed_kind=FeedKind.SYRUP_1_1, clearers=False)
    assert (said.swaps, said.note, said.problem) == (
        (Swapped("416", "430", date(2026, 5, 6)),),
        "gate code changed",
        "",
    )


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("z", "that is said of one hive, not of the whole site"),
        ("j445", "that belongs to one hive, not to the whole site"),
        ("1=2@31/2", "there is no such day as 31/2"),
    ],
)
def test_what_is_not_said_of_a_whole_site_is_named(text, problem):
    assert read_site_line(text, HABITS, DAY).problem == problem


@pytest.mark.parametrize(
    ("typed", "name", "words"),
    [
        ("fe", "Fen End", ""),
        ("long drove", "Long Drove", ""),
        ("lo", None, "Long Drove and Low Dyke"),
        ("dyke", "Low Dyke", ""),
        ("moor", None, "no site is called moor"),
    ],
)
def test_a_site_is_meant_by_code_name_or_beginning(typed, name, words):
    site, said = find_site(SITES, typed)
    assert (site.name if site else None, said) == (name, words)


@pytest.mark.parametrize(
    ("text", "minute"), [("09:10", 550), ("910", 550), ("9.10", 550), ("9", 540), ("", None)]
)
def test_a_time_is_read_as_it_is_typed(text, minute):
    assert read_time(text) == minute


FORM = {
    "site": "FE", "day": "13 May", "begun": "9:40", "ended": "12:10", "crew": "RH", "weather": "dry", "stores": "frames",
    "feed": "syrup_2_1", "medicine": "", "mites": "drop",
}  # fmt: skip


def test_a_form_makes_the_head_of_a_round():
    head, findings = read_form(FORM, RoundStart(SITES, ("Fen strips",)), DAY, None)
    assert findings == []
    assert head is not None
    assert (head.site_id, head.on, head.start_minute, head.end_minute) == (1, date(2026, 5, 13), 580, 730)
    assert (head.stores_in_frames, head.feed_kind, head.medicine) == (True, FeedKind.SYRUP_2_1, "Fen strips")


@pytest.mark.parametrize(
    ("changes", "field", "what"),
    [
        ({"day": "31/2"}, "day", "there is no such day as 31/2"),
        ({"day": "15 May 2027"}, "day", "15 May 2027 has not come yet"),
        ({"begun": "25:00"}, "begun", "25:00 is no time of day"),
        ({"begun": "12:30"}, "ended", "it ended before it began"),
        ({"site": "moor"}, "site", "no site is called moor"),
    ],
)
def test_a_form_says_what_is_wrong_beside_the_field(changes, field, what):
    head, findings = read_form(FORM | changes, RoundStart(SITES, ()), DAY, None)
    assert head is None
    assert [(one.where.field, one.what) for one in findings] == [(field, what)]


@pytest.mark.parametrize(
    ("key", "value", "mark"),
    [("seen", "yes", "q"), ("eggs", "No", "e-"), ("cells", "none", "-"), ("supers", "−1", "-1")],
)
def test_the_words_of_a_spreadsheet_become_marks(key, value, mark):
    assert spreadsheet_words(COLUMNS[key], value) == mark


def test_no_two_commands_have_the_same_keys():
    keys = [chord.keys for chord in CHORDS]
    assert len(keys) == len(set(keys))
    assert len({chord.name for chord in CHORDS}) == len(CHORDS)


def test_a_stranger_says_only_what_it_is():
    read, _problem = read_cell(COLUMNS["rest"], "os; strong", HABITS)
    assert read == Entry(outcome=Outcome.STRANGER, note="strong")
    assert fields_filled(read) == ("outcome", "note")
