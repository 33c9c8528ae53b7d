"""Dates as sheets have them, and as the program writes them."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from beeledger.base import dates

TODAY = date(2026, 5, 14)
DAYS = st.dates(date(2000, 1, 1), date(2099, 12, 31))
FORMS = ("{0.day}/{0.month}/{0.year}", "{0.day:02}.{0.month:02}.{0.year}", "{0.day}-{0.month}-{1}", "{0.day} {2} {0.year}", "{0.day}th {2}. {1}", "{0.day}-{2}-{1}", "{0.year}-{0.month:02}-{0.day:02}", "{0.year}-{0.month:02}-{0.day:02}T07:15:00")  # fmt: skip


@given(day=DAYS, form=st.sampled_from(FORMS), today=DAYS)
def test_a_whole_date_is_read_in_every_usual_form(day: date, form: str, today: date) -> None:
    text = form.format(day, f"{day:%y}", dates.MONTHS[day.month - 1])
    assert dates.read_date(text, today) == day


@given(day=DAYS)
def test_what_the_program_writes_it_reads(day: date) -> None:
    assert dates.read_date(dates.long(day), TODAY) == day


@given(today=DAYS, back=st.integers(0, 364))
def test_a_date_without_a_year_is_the_last_such_day(today: date, back: int) -> None:
    day = today - timedelta(days=back)
    assert dates.read_date(dates.short(day), today) == day
    assert dates.read_date(f"{day.day}/{day.month}", today) == day


def test_the_leap_day_without_a_year_is_the_last_there_was() -> None:
    assert dates.read_date("29 Feb", TODAY) == date(2024, 2, 29)
    assert dates.read_date("29/2", date(1904, 2, 28)) == date(1896, 2, 29)  # 1900 was no leap year


@pytest.mark.parametrize(
    "text", ["31/02/2026", "31/02", "30 Feb", "0/5/2026", "2026-13-01", "32.1.26", "29/02/2026"]
)
def test_a_day_that_is_in_no_calendar_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="there is no such day"):
        dates.read_date(text, TODAY)


@pytest.mark.parametrize(
    "text", ["", "May", "14", "14 May 2026 or so", "next week", "14//5", "14/5/2", "-14/5/2026"]
)
def test_what_is_no_date_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="is not read as a date"):
        dates.read_date(text, TODAY)


@pytest.mark.parametrize("text", ["5 Junk", "5 Marmalade", "5 xyz"])
def test_a_word_that_only_begins_like_a_month_names_none(text: str) -> None:
    with pytest.raises(ValueError, match="names no month"):
        dates.read_date(text, TODAY)


def test_months_may_be_written_out_or_cut() -> None:
    assert {dates.read_date(f"5 {word} 2025", TODAY) for word in ("Sep", "sept", "SEPTEMBER")} == {
        date(2025, 9, 5)
    }


def test_a_period_is_said_in_the_fewest_words() -> None:
    first = date(2026, 5, 3)
    assert dates.span(first, first) == "3 May 2026"
    assert dates.span(first, date(2026, 5, 28)) == "3 to 28 May 2026"
    assert dates.span(first, date(2026, 6, 1)) == "3 May to 1 Jun 2026"
    assert dates.span(date(2025, 12, 30), first) == "30 Dec 2025 to 3 May 2026"
    assert dates.weekday(TODAY) == "Thu 14 May"


def test_days_are_counted_over_the_clock_change_and_the_leap_day() -> None:
    assert dates.days_between(date(2026, 3, 28), date(2026, 3, 30)) == 2
    assert dates.days_between(date(2024, 2, 28), date(2024, 3, 1)) == 2
