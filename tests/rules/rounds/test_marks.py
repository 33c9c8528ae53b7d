"""The table of marks: whole, without two meanings, and open to another language."""

from __future__ import annotations

import copy
from datetime import date

import pytest

from beeledger.base.resources import table
from beeledger.rules.rounds.entry import (
    Cause,
    CellsDone,
    CellStage,
    Entry,
    FeedKind,
    Heft,
    NextAction,
    Outcome,
    QueenColour,
    QueenState,
    SplitQueen,
)
from beeledger.rules.rounds.marks import english, head_marks, marks_list, read_marks, words_list
from beeledger.rules.rounds.normal import habits_for
from beeledger.rules.rounds.reading import parse
from beeledger.rules.rounds.writing import write

HABITS = habits_for(date(2026, 5, 14))


@pytest.mark.parametrize(
    ("name", "codes"),
    [
        ("outcome", set(Outcome) - {Outcome.DEAD}),
        ("dead", set(Cause)),
        ("queen", set(QueenState)),
        ("colour", set(QueenColour)),
        ("heft", set(Heft)),
        ("cells", set(CellStage)),
        ("cells_done", set(CellsDone)),
        ("feed_kind", set(FeedKind)),
        ("split", set(SplitQueen)),
        ("next", set(NextAction)),
    ],
)
def test_every_word_of_the_record_has_its_letter(name, codes):
    assert set(english()[name].words) == {str(code) for code in codes}


def test_f1_lists_every_mark_with_its_meaning():
    listed = dict(marks_list())
    assert listed["b8"] == "brood, frames"
    assert listed["z z/s z/q z/w …"] == "dead; of starvation, queen, wasps …"
    assert all(shows and meaning for shows, meaning in listed.items())


@pytest.mark.parametrize("name", ["outcome", "dead", "queen", "colour", "heft", "cells_done", "next"])
def test_every_letter_on_the_printed_sheet_is_read(name):
    typed = words_list(name)
    assert typed
    for mark, word in typed:
        (token,) = parse(mark, HABITS).tokens
        assert token.ok, (mark, word)
    assert dict(words_list("dead"))["z/w"] == "wasps"


def test_the_heads_of_the_grid_teach_the_marks():
    heads = head_marks()
    assert (heads["Brood"], heads["Temper"], heads["Strips"], heads["Mites"]) == (
        "b frames",
        "t 1–5",
        "x",
        "m /300",
    )


def test_a_table_in_another_language_is_read_and_written_alike():
    data = copy.deepcopy(table("words", "marks.toml"))
    for row in data["mark"]:
        if row["name"] == "eggs":
            row["mark"] = "y"
        if row["name"] == "cells":
            row["words"] = row["words"] | {"sealed": "v"}
    german = read_marks(data)
    entry = Entry(eggs=True, cells_stage=CellStage.SEALED, cells_count=3)
    assert write(entry, HABITS, german) == "y c3v"
    assert parse("y c3v", HABITS, german).entry == entry
    assert not parse("e", HABITS, german).ok


def test_one_letter_for_two_words_is_refused():
    data = copy.deepcopy(table("words", "marks.toml"))
    data["mark"][3]["words"]["virgin"] = "r"
    with pytest.raises(ValueError, match="one letter for two words"):
        read_marks(data)
