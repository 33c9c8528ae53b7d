"""Reasons graded on a day, counted in words and in minutes."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from beeledger.rules.due import (
    Due,
    Grade,
    counted_words,
    default_settings,
    grade,
    grade_words,
    pressing,
    reason_figures,
    work_minutes,
)

TODAY = date(2026, 5, 14)


def one(colony: int, code: str, days: int) -> Due:
    return Due(colony, code, "", "", TODAY + timedelta(days=days), reason_figures()[code].minutes)


@pytest.mark.parametrize(
    ("days", "expected", "words"),
    [
        (-4, Grade.LATE, "late, 4 days"),
        (-1, Grade.LATE, "late, 1 day"),
        (0, Grade.TODAY, "today"),
        (1, Grade.SOON, "in 1 day"),
        (3, Grade.SOON, "in 3 days"),
        (4, Grade.LATER, "in 4 days"),
    ],
)
def test_a_date_is_late_today_soon_or_later(days, expected, words):
    due_on = TODAY + timedelta(days=days)
    assert grade(due_on, TODAY) is expected
    assert grade_words(due_on, TODAY) == words


def test_a_site_counts_its_reasons_in_words():
    dues = [one(n, "light", -1) for n in range(2)]
    dues += [one(n, "swarm_check", -2) for n in range(9)]
    dues += [one(n, "strips_out", -2) for n in range(4)]
    assert counted_words(dues, TODAY) == "9 swarm check · 4 strips out · 2 light"


def test_what_is_late_stands_before_what_is_only_soon_however_many():
    dues = [one(n, "swarm_check", 2) for n in range(9)] + [one(1, "light", -1)]
    assert counted_words(dues, TODAY) == "1 light · 9 swarm check"


def test_equal_reasons_go_by_urgency():
    assert counted_words([one(1, "light", 0), one(1, "cells", 0)], TODAY) == "1 cells · 1 light"


def test_nothing_due_has_no_words():
    assert counted_words([], TODAY) == ""


def test_what_is_pressing_comes_worst_first_and_the_rest_waits():
    dues = [one(1, "count", 60), one(2, "light", 0), one(3, "swarm_check", -3)]
    assert [each.colony for each in pressing(dues, TODAY)] == [3, 2]


def test_a_hive_open_for_one_thing_takes_less_for_the_next():
    """Common practice, no source: a swarm check 9 minutes alone, strips out 4 alone and 1 beside it."""
    assert work_minutes([one(1, "swarm_check", 0), one(1, "strips_out", 0)]) == 10
    assert work_minutes([one(1, "swarm_check", 0), one(2, "strips_out", 0)]) == 13
    assert work_minutes([]) == 0


def test_every_reason_has_words_and_minutes_and_every_setting_is_read():
    assert all(
        figures.words and figures.minutes > figures.extra >= 0
        for figures in reason_figures().values()
        if figures.scope == "colony"
    )
    assert default_settings().swarm_from == (4, 1)
