"""Colonies as rows, and the story on the card, without a window."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from beeledger.model.colonies import EXITS, LOSSES
from beeledger.queries.records.colonies import ColonyLine, SupersFrom
from beeledger.ui.parts.due_words import due_cell
from beeledger.ui.parts.queen_mark import queen_cell, queen_disc, queen_words
from beeledger.ui.places.colonies.acts import CAUSES
from beeledger.ui.places.colonies.story import super_spans
from beeledger.ui.places.colonies.table import COLUMNS, colony_row, haystack, is_due, is_light, sums
from beeledger.ui.widgets.marks import Mark

TODAY = date(2026, 5, 14)
LINE = ColonyLine(
    7, "1187", 1187, "full", "site", 1, "Perry Ground", 10, date(2024, 5, 1), queen_year=2024, queen_tag="24-118",
    looked_on=date(2026, 5, 7), bees_tenths=100, brood_tenths=90, stores_g=6000, stores_on=date(2026, 5, 7),
    mites_hundredths=267, mites_on=date(2026, 5, 7), due_code="swarm_check", due_what="look", due_on=date(2026, 5, 10),
)  # fmt: skip


def cell(line: ColonyLine, key: str):
    at = next(at for at, column in enumerate(COLUMNS) if column.key == key)
    return colony_row(line, TODAY, 300).cells[at]


@pytest.mark.parametrize(
    ("year", "colour"),
    # The international code by the last digit: 1, 6 white; 2, 7 yellow; 3, 8 red; 4, 9 green; 5, 0 blue.
    [(2021, "white"), (2022, "yellow"), (2023, "red"), (2024, "green"), (2025, "blue"), (2026, "white")],
)
def test_a_queen_has_the_colour_of_her_year(year, colour):
    assert queen_disc(year, marked=True) == colour


def test_a_queen_without_a_mark_has_no_disc():
    assert (queen_disc(2024, marked=False), queen_words(2024, False, None)) == ("", "unmarked 2024")


def test_a_queen_nobody_knows_is_blank():
    assert queen_cell(None, None, None).text == ""


def test_a_queenless_hive_says_none_and_since_when():
    found = queen_cell(2024, True, "24-118", "queenless", date(2026, 4, 29))
    assert (found.text, found.ink, found.disc) == ("none, 29 Apr", "now", "")


def test_a_row_says_the_figures_of_the_last_look():
    texts = [one.text for one in colony_row(LINE, TODAY, 300).cells]
    assert texts == [
        "1187",
        "Perry Ground",
        "green 24-118",
        "10",
        "9",
        "6",
        "2.7",
        "7 May",
        "swarm check 4 d late",
    ]


def test_nobody_looked_is_blank_and_looked_and_none_is_nought():
    bare = replace(LINE, bees_tenths=None, brood_tenths=0)
    assert (cell(bare, "bees").text, cell(bare, "brood").text) == ("", "0")


def test_mites_at_the_farms_line_are_red_and_near_it_amber():
    assert cell(LINE, "mites").ink == "watch"
    assert cell(replace(LINE, mites_hundredths=300), "mites").ink == "now"
    assert cell(replace(LINE, mites_hundredths=199), "mites").ink == "ink"


def test_light_stores_are_marked_by_the_line_of_the_month():
    # stores.toml: the line of May.
    from beeledger.rules.stores import light_line_g

    line = light_line_g(5)
    assert is_light(replace(LINE, stores_g=line - 1), TODAY)
    assert not is_light(replace(LINE, stores_g=line), TODAY)
    assert is_light(replace(LINE, stores_g=None, stores_heft="light"), TODAY)
    assert not is_light(replace(LINE, stores_g=None, stores_heft=None), TODAY)


@pytest.mark.parametrize(
    ("day", "text", "mark"),
    [
        (date(2026, 5, 10), "swarm check 4 d late", Mark.LATE),
        (TODAY, "swarm check", Mark.TODAY),
        (date(2026, 5, 16), "swarm check in 2 d", Mark.SOON),
        (date(2026, 6, 16), "swarm check, 16 Jun", None),
    ],
)
def test_what_is_due_has_a_shape_and_a_word(day, text, mark):
    found = due_cell("swarm_check", day, TODAY)
    assert (found.text, found.mark) == (text, mark)


def test_only_what_presses_counts_as_due():
    assert is_due(LINE, TODAY)
    assert not is_due(replace(LINE, due_on=date(2026, 6, 16)), TODAY)
    assert not is_due(replace(LINE, due_on=None), TODAY)


@pytest.mark.parametrize("words", ["at perry ground", "1187", "green 24-118", "late", "swarm check"])
def test_a_colony_is_found_by_what_stands_in_its_row(words):
    assert words in haystack(LINE, TODAY).lower()


def test_the_foot_says_on_how_many_the_means_rest():
    other = replace(
        LINE, colony_id=8, bees_tenths=60, brood_tenths=None, stores_g=None, mites_hundredths=None
    )
    words = " ".join(run.text for run in sums([LINE, other]))
    assert words == "2 colonies mean bees 8.0 brood 9.0 stores 6.0 kg · mites counted in 1 of 2"


def test_the_foot_of_nothing_says_nought_colonies():
    assert [run.text for run in sums([])] == ["0 colonies"]


def test_every_cause_of_an_end_can_be_chosen():
    assert {key for key, _word in CAUSES if key} == {*EXITS, *LOSSES}


def test_supers_are_drawn_for_as_long_as_they_were_on():
    days = [date(2026, 4, day) for day in (1, 10, 20, 20, 28)]
    stacks = tuple(SupersFrom(day, number) for day, number in zip(days, (0, 1, 1, 2, 0), strict=True))
    spans = super_spans(stacks, None)
    assert [(span.words, span.first, span.last) for span in spans] == [
        ("1 on", days[1], days[2]),
        ("2 on", days[2], days[4]),
    ]


def test_supers_that_are_on_last_until_now():
    (span,) = super_spans((SupersFrom(TODAY, 2),), None)
    assert span.last is None
