"""A contract's line, its bars and the counts typed for it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from beeledger.operations.contracts import Counted
from beeledger.queries.records.contract_desk import ContractRow, Look, Standing, Terms
from beeledger.ui.parts.typed_form import Typed
from beeledger.ui.places.pollination.forms import (
    agreed_day,
    read_contract,
    read_counts,
    stocking_words,
    values_of,
)
from beeledger.ui.places.pollination.table import (
    contract_bars,
    contract_row,
    is_short,
    most_pressing,
    span_of,
    state_of,
)
from beeledger.ui.widgets.bar_rows import Bar, Kind
from beeledger.ui.widgets.marks import Mark

TODAY = date(2026, 5, 14)
TERMS = Terms(24, date(2026, 5, 17), date(2026, 5, 30), 6_200, 140_000, 80, 50, 5_000, 150, 60, "gate 4", "S")
ROW = ContractRow(
    3, "Ladder Hill", 1, "Ladder Fruit", 2, "Ladder", "apple", "apple", TERMS, Standing.WAITING, 0, 0, None,
    None, (), 16,
)  # fmt: skip
HERE = replace(ROW, standing=Standing.ON_SITE, came=24, here=24, first_on=date(2026, 5, 4), ready=None)


@pytest.mark.parametrize(
    ("row", "words", "mark"),
    [
        (ROW, "8 short", Mark.LATE),  # begins in three days
        (replace(ROW, terms=replace(TERMS, on=date(2026, 5, 25))), "8 short", Mark.TODAY),
        (replace(ROW, ready=30), "ready 30", Mark.SOON),
        (replace(ROW, standing=Standing.OFFERED), "offered", Mark.SOON),
        (HERE, "on site", None),
        (replace(HERE, came=20, here=20), "4 short", Mark.LATE),
        (replace(HERE, terms=replace(TERMS, off=date(2026, 5, 13))), "to fetch", Mark.LATE),
        (replace(ROW, terms=replace(TERMS, off=date(2026, 5, 13))), "no hive came", Mark.LATE),
        (replace(HERE, standing=Standing.HOME, here=0), "home, owed", None),
        (replace(HERE, standing=Standing.CLOSED, here=0), "closed", None),
    ],
)
def test_the_state_says_what_a_person_has_to_do(row: ContractRow, words: str, mark: Mark | None) -> None:
    assert state_of(row, TODAY)[:2] == (words, mark)


def test_found_stands_beside_promised_and_the_crop_under_the_name() -> None:
    cells = contract_row(ROW, TODAY).cells
    assert (cells[0].text, cells[0].second, cells[1].text) == ("Ladder Hill", "apple · 14 ha", "16 / 24")
    assert (cells[2].text, cells[2].mark) == ("8 short", Mark.LATE)


def test_only_a_contract_that_can_still_be_filled_is_short() -> None:
    assert is_short(ROW, TODAY)
    assert not is_short(replace(ROW, standing=Standing.OFFERED), TODAY)
    assert not is_short(replace(ROW, standing=Standing.HOME, came=2), TODAY)
    assert not is_short(HERE, TODAY)


def test_hives_on_the_crop_are_full_to_today_and_dashed_to_the_agreed_day() -> None:
    assert contract_bars(HERE, TODAY) == (
        Bar(date(2026, 5, 4), TODAY, Kind.FULL, lower=True),
        Bar(date(2026, 5, 15), date(2026, 5, 30), Kind.DASHED, lower=True),
    )


def test_promised_is_dashed_came_home_is_pale_and_closed_without_hives_is_nothing() -> None:
    home = replace(HERE, standing=Standing.HOME, here=0, last_off=date(2026, 5, 12))
    assert contract_bars(ROW, TODAY) == (Bar(TERMS.on, TERMS.off, Kind.DASHED, "24 hives", lower=True),)
    assert contract_bars(home, TODAY) == (Bar(date(2026, 5, 4), date(2026, 5, 12), Kind.PALE, lower=True),)
    assert contract_bars(replace(ROW, standing=Standing.CLOSED), TODAY) == ()


def test_bloom_runs_from_the_first_flowers_seen_to_the_look_that_found_none() -> None:
    looks = (Look(date(2026, 5, 1), 0), Look(date(2026, 5, 4), 500), Look(date(2026, 5, 12), 8_000))
    assert contract_bars(replace(ROW, looks=looks), TODAY)[0] == Bar(
        date(2026, 5, 4), date(2026, 5, 12), Kind.ENDS
    )
    over = (*looks, Look(date(2026, 5, 20), 0))
    assert contract_bars(replace(ROW, looks=over), TODAY)[0].last == date(2026, 5, 20)
    assert len(contract_bars(replace(ROW, looks=looks[:1]), TODAY)) == 1  # only the promised hives


def test_the_time_line_holds_whole_months() -> None:
    assert span_of([contract_bars(ROW, TODAY), contract_bars(HERE, TODAY)], TODAY) == (
        date(2026, 5, 1),
        date(2026, 5, 31),
    )
    assert span_of([], date(2026, 12, 5)) == (date(2026, 12, 1), date(2026, 12, 31))


def test_a_contract_shown_in_the_form_is_read_back_as_it_was() -> None:
    read = read_contract(Typed(values_of(ROW), TODAY), {"1": "Ladder Fruit"})
    assert read is not None
    new = read.new
    assert (new.name, new.grower_id, new.site_id, new.crop, read.grower) == ("Ladder Hill", 1, 2, "apple", "")
    assert (new.hives, new.price_pence, new.area_m2, new.on, new.off) == (
        24,
        6_200,
        140_000,
        TERMS.on,
        TERMS.off,
    )
    assert (new.least_bees_tenths, new.least_brood_tenths, new.weak_share_hundredths) == (80, 50, 5_000)
    assert (new.bonus_frame_pence, new.late_day_pence, new.terms, new.tax_code) == (150, 60, "gate 4", "S")


@pytest.mark.parametrize(
    ("typed", "day"),
    [("2 Jun", date(2026, 6, 2)), ("20 Apr", date(2026, 4, 20)), ("3 Aug", date(2026, 8, 3)), ("2/6/25", date(2025, 6, 2))],
)  # fmt: skip
def test_a_day_agreed_without_a_year_is_the_one_nearest_to_today(typed: str, day: date) -> None:
    assert agreed_day(Typed({"on": typed}, TODAY), "on") == day


def test_a_grower_nobody_knows_is_a_name_to_be_written_first() -> None:
    read = read_contract(Typed(values_of(ROW) | {"grower": "Pomona"}, TODAY), {"1": "Ladder Fruit"})
    assert read is not None
    assert (read.new.grower_id, read.grower) == (0, "Pomona")


def test_each_field_of_a_contract_says_its_own_fault() -> None:
    typed = Typed(values_of(ROW) | {"name": "", "on": "31/02", "price": "", "hives": "x"}, TODAY)
    assert read_contract(typed, {"1": "Ladder Fruit"}) is None
    assert sorted(finding.where.field for finding in typed.findings) == ["hives", "name", "on", "price"]


def test_the_rule_of_thumb_for_a_crop_is_advice_with_its_source() -> None:
    # 14 ha at 2.5 to 5 colonies a hectare: 35 to 70 (1 to 2 an acre, growers' guidance; Delaplane & Mayer 2000).
    assert stocking_words("apple", "14").startswith(
        "Advice: 35 to 70 hives for 14 ha of apple (1 to 2 an acre"
    )
    assert [
        stocking_words(crop, area) for crop, area in (("apple", ""), ("apple", "x"), ("phacelia", "3"))
    ] == [""] * 3


def test_counts_are_read_line_by_line() -> None:
    lines, findings = read_counts("12 8.5 5\n13 7\n14\n\n15, 9, 6.5", {"12": 1, "13": 2, "14": 3, "15": 4})
    assert findings == []
    assert lines == (Counted(1, 85, 50), Counted(2, 70), Counted(4, 90, 65))


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("99 8", "99: does not stand on the crop"),
        ("12 8 5 3", "12: has more than two figures"),
        ("12 many", "12: 'many' is not a number"),
        ("12 8.55", "12: 8.55 is finer than can be kept (steps of 1/10)"),
        ("12", "No hive is counted yet"),
    ],
)
def test_a_count_that_cannot_be_read_is_named_by_its_hive(text: str, what: str) -> None:
    _, findings = read_counts(text, {"12": 1})
    assert [finding.what for finding in findings] == [what]


def test_the_contract_shown_first_is_the_one_that_wants_a_person() -> None:
    closed = replace(HERE, id=1, standing=Standing.CLOSED, here=0)
    waiting, short = replace(ROW, id=2, ready=30), replace(ROW, id=3)
    assert most_pressing([closed, waiting, short], TODAY).id == 3
    assert most_pressing([closed, waiting], TODAY).id == 2
    assert most_pressing([closed], TODAY).id == 1
