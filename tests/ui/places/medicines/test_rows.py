"""What the tables and cards of Medicines say of packs, of what was given, and of mites."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from beeledger.queries.records.medicines import (
    CountAt,
    Disposal,
    GivenCard,
    GivenKey,
    GivenLine,
    HiveGiven,
    MiteView,
    PackRow,
    SiteMites,
)
from beeledger.rules.medicines import courses
from beeledger.ui.places.medicines.card import course_facts, course_summary, course_words, law_facts
from beeledger.ui.places.medicines.given_card import given_facts
from beeledger.ui.places.medicines.mites_card import count_series, count_words
from beeledger.ui.places.medicines.table import (
    GIVEN,
    MITES,
    PACKS,
    given_row,
    mite_rows,
    mites_head,
    out_words,
    pack_row,
    state_of,
)
from beeledger.ui.widgets.cells import Cell, Row
from beeledger.ui.widgets.marks import Mark

TODAY = date(2026, 5, 14)
PACK = PackRow(
    1, "Fen strips", "amitraz", "B7", date(2027, 6, 30), date(2026, 3, 2), 1200, 42, 0, True, 1, "Marl Veterinary",
    "3 Low Row", "invoice 2214", used=1190, given=600,
)  # fmt: skip
KEY = GivenKey(1, date(2026, 4, 20), None, 3, 9, gone=False)
LINE = GivenLine(
    KEY,
    "Fen strips",
    "amitraz",
    "B7",
    date(2027, 6, 30),
    42,
    0,
    "Sedge Holt",
    "RH",
    hives=9,
    pieces=18,
    unmeasured=0,
)
KILN = SiteMites(3, "Kiln Field", 23, 21, 16, 31, 0, 200, 1, date(2026, 5, 8))


def cell(row: Row, columns: tuple[object, ...], key: str) -> Cell:
    names = [getattr(column, "key", "") for column in columns]
    return row.cells[names.index(key)]


@pytest.mark.parametrize(
    ("row", "columns"),
    [
        (pack_row(PACK, TODAY), PACKS),
        (given_row(LINE, TODAY), GIVEN),
        (mite_rows(MiteView(300, TODAY, (KILN,)))[0], MITES),
    ],
    ids=["pack", "given", "mites"],
)
def test_every_row_has_a_cell_and_a_sort_key_for_each_column(row, columns):
    assert len(row.cells) == len(columns)
    assert len(row.sort) == len(columns)


def test_a_complete_pack_has_no_mark_and_its_figures_are_grouped():
    row = pack_row(PACK, TODAY)
    assert [cell(row, PACKS, key).text for key in ("bought", "used", "left")] == ["1,200", "1,190", "10"]
    assert cell(row, PACKS, "missing") == Cell()
    assert cell(row, PACKS, "expires").mark is None


def test_one_missing_thing_is_named_and_several_are_counted_with_their_names_in_the_tip():
    one = cell(pack_row(replace(PACK, proof=""), TODAY), PACKS, "missing")
    assert (one.text, one.mark) == ("proof of purchase", Mark.ODD)
    bare = replace(PACK, batch="", proof="", withdrawal_days=None)
    several = cell(pack_row(bare, TODAY), PACKS, "missing")
    assert (several.text, several.tip) == ("3 to fill", "batch number, proof of purchase, withdrawal period")


def test_more_given_than_bought_stands_as_a_minus_and_an_expired_rest_is_marked():
    row = pack_row(replace(PACK, used=1207), TODAY)
    assert (cell(row, PACKS, "left").text, cell(row, PACKS, "left").ink) == ("−7", "watch")
    past = replace(PACK, expires_on=date(2026, 5, 13))
    assert cell(pack_row(past, TODAY), PACKS, "expires").mark is Mark.ODD
    assert cell(pack_row(replace(past, used=1200), TODAY), PACKS, "expires").mark is None
    assert cell(pack_row(replace(PACK, pieces=None), TODAY), PACKS, "left").text == ""


def test_strips_in_say_by_when_they_come_out_and_how_long_they_are_in():
    """42 days from 20 April are 1 June."""
    assert out_words(LINE, TODAY) == "by 1 Jun"
    assert state_of(LINE, TODAY) == ("24 days in", Mark.SOON, "ink2")
    assert state_of(LINE, date(2026, 6, 1))[:2] == ("out today", Mark.TODAY)
    assert state_of(LINE, date(2026, 6, 3))[:2] == ("2 days late", Mark.LATE)
    assert out_words(LINE, date(2027, 1, 2)) == "by 1 Jun 2026"


def test_a_quantity_nobody_wrote_down_is_asked_for_and_late_strips_before_it():
    open_line = replace(LINE, pieces=None, unmeasured=9)
    assert state_of(open_line, TODAY) == ("quantity", Mark.ODD, "watch")
    late = given_row(open_line, date(2026, 6, 3))
    state = cell(late, GIVEN, "state")
    assert (state.text, state.tip) == ("2 days late", "To fill: quantity")
    assert cell(late, GIVEN, "pieces").text == ""


def test_a_line_that_is_done_and_whole_has_no_state():
    out = replace(LINE, key=replace(KEY, out_on=date(2026, 6, 2)))
    assert state_of(out, date(2026, 7, 1)) == ("", None, "ink2")
    early = replace(LINE, key=replace(KEY, out_on=date(2026, 4, 30)))
    assert state_of(early, TODAY)[:2] == ("out early", Mark.ODD)
    ended = replace(LINE, key=replace(KEY, gone=True), gone_on=date(2026, 6, 5))
    assert state_of(ended, date(2026, 7, 1))[0] == "ended"
    once = replace(LINE, active="oxalic_trickle")
    assert (out_words(once, TODAY), state_of(once, TODAY)[0]) == ("", "")


def test_the_law_asks_eight_things_of_a_pack_and_each_is_met_or_to_fill():
    """SI 2013/2033 regulations 17 and 19(1), and the withdrawal period that 19(2) wants of what is given."""
    facts = law_facts(replace(PACK, supplier_address=""))
    assert [fact.name for fact in facts] == [
        "Product", "Batch number", "Acquired", "Quantity", "Withdrawal period", "Supplier", "Address of the supplier",
        "Proof of purchase",
    ]  # fmt: skip
    assert [fact.mark for fact in facts] == [Mark.MET] * 6 + [Mark.ODD, Mark.MET]
    assert facts[6].value == "to fill"
    long_name = law_facts(replace(PACK, supplier="Upper Marling Veterinary Wholesale"))[5]
    assert (long_name.value, long_name.second) == ("", "Upper Marling Veterinary Wholesale")


def test_a_disposal_without_its_way_is_to_fill_at_the_pack():
    row = replace(PACK, disposals=(Disposal(1, 1, TODAY, 4, ""),))
    assert "way and place of disposal" in [one.where.field for one in row.missing()]


def test_the_law_asks_six_things_of_what_was_given():
    """SI 2013/2033 regulation 19(2), and the batch, by which a recall works."""
    hives = tuple(HiveGiven(number, number, str(number), 2, "") for number in range(9))
    facts = given_facts(GivenCard(LINE, hives), [])
    assert [fact.name for fact in facts] == [
        "Product", "Batch number", "Put in", "Quantity", "Withdrawal period", "Hives treated",
    ]  # fmt: skip
    assert facts[3].value == "2 in each hive"
    done = replace(LINE, key=replace(KEY, out_on=date(2026, 6, 2)))
    assert given_facts(GivenCard(done, hives), [])[-1].value == "2 Jun 2031"


@pytest.mark.parametrize("active", sorted(courses()))
def test_every_substance_says_its_course_the_supers_and_where_the_figures_come_from(active):
    assert course_summary(active)
    assert course_facts(active, 42)[-1].name == "Brood"
    words = course_words(active)
    assert "Supers for harvest off" in words
    assert courses()[active].source in words


def test_sites_are_drawn_on_one_scale_that_holds_twice_the_line():
    view = MiteView(300, date(2025, 5, 14), (KILN, replace(KILN, site_id=4, most_hundredths=740, at_line=0)))
    first, second = mite_rows(view)
    drawn = cell(first, MITES, "spread").interval
    assert drawn is not None
    assert (drawn.low, drawn.value, drawn.high, drawn.middle, drawn.scale_high) == (0, 31, 200, 300, 800)
    assert cell(first, MITES, "over").mark is Mark.TODAY
    assert cell(second, MITES, "over") == Cell()
    assert mites_head(MiteView(250, TODAY, (KILN,))) == "0 to 5 %, upright: the farm's line at 2.5 %"


def test_a_mean_of_two_counts_is_too_thin_to_rank_by_and_none_is_blank():
    thin = cell(mite_rows(MiteView(300, TODAY, (replace(KILN, sampled=2),)))[0], MITES, "spread").interval
    assert thin is not None
    assert thin.thin
    bare = SiteMites(4, "Low Carr", 4, 0, 0, None, None, None, 0, None)
    row = mite_rows(MiteView(300, TODAY, (bare,)))[0]
    assert [one.text for one in row.cells] == ["Low Carr", "4", "", "", "", "", "", ""]


def test_counts_of_a_day_are_drawn_as_their_mean_and_drops_are_told_but_not_drawn():
    """9 in 300 are 3.0 %, 4 in 285 are 1.4 %."""
    counts = [
        CountAt(date(2026, 4, 2), "41", "wash", 9, None, None),
        CountAt(date(2026, 4, 2), "42", "wash", 4, 285, None),
        CountAt(date(2026, 5, 2), "41", "drop", 21, None, 7),
    ]
    (point,) = count_series(counts).points
    assert (point.day, point.value, point.words) == (date(2026, 4, 2), 2.2, "mean of 2 hives")
    assert [count_words(one) for one in counts] == [
        "9 in 300 by wash, 3.0 %", "4 in 285 by wash, 1.4 %", "21 dropped in 7 days",
    ]  # fmt: skip
