"""Local times and UTC, on both nights on which British clocks change."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from beeledger.base.clock import FarmClock, FixedClock, local_date, local_moment

LONDON = "Europe/London"
# The Summer Time Order 2002 (SI 2002/262): from 01:00 GMT on the last Sunday in March until 01:00 GMT on the last
# Sunday in October. In 2026 those are 29 March and 25 October.
SPRING, AUTUMN = date(2026, 3, 29), date(2026, 10, 25)


@pytest.mark.parametrize(
    ("day", "minute", "utc"),
    [
        (date(2026, 1, 10), 600, datetime(2026, 1, 10, 10, 0, tzinfo=UTC)),
        (date(2026, 7, 10), 600, datetime(2026, 7, 10, 9, 0, tzinfo=UTC)),
        (SPRING, 0, datetime(2026, 3, 29, 0, 0, tzinfo=UTC)),
        (SPRING, 59, datetime(2026, 3, 29, 0, 59, tzinfo=UTC)),
        (SPRING, 90, datetime(2026, 3, 29, 1, 30, tzinfo=UTC)),  # 01:30 never was: 90 minutes after midnight
        (SPRING, 120, datetime(2026, 3, 29, 1, 0, tzinfo=UTC)),
        (AUTUMN, 0, datetime(2026, 10, 24, 23, 0, tzinfo=UTC)),
        (AUTUMN, 90, datetime(2026, 10, 25, 0, 30, tzinfo=UTC)),  # 01:30 was twice: the earlier is meant
        (AUTUMN, 120, datetime(2026, 10, 25, 2, 0, tzinfo=UTC)),
    ],
)
def test_a_wall_clock_time_becomes_its_moment(day: date, minute: int, utc: datetime) -> None:
    assert local_moment(day, minute, LONDON) == utc


@given(day=st.dates(date(2000, 1, 1), date(2099, 12, 31)), minute=st.integers(0, 1439))
def test_a_local_time_stays_on_its_local_date(day: date, minute: int) -> None:
    assert local_date(local_moment(day, minute, LONDON), LONDON) == day


def test_the_day_the_clocks_change_is_an_hour_shorter_or_longer() -> None:
    def hours(day: date) -> timedelta:
        return local_moment(day + timedelta(days=1), 0, LONDON) - local_moment(day, 0, LONDON)

    assert [hours(SPRING), hours(AUTUMN), hours(date(2026, 5, 14))] == [
        timedelta(hours=h) for h in (23, 25, 24)
    ]


def test_the_farms_day_is_local_and_not_the_servers() -> None:
    late = FixedClock(datetime(2026, 5, 14, 23, 30, tzinfo=UTC), LONDON)
    assert late.today() == date(2026, 5, 15)
    assert FixedClock(late.moment, "America/New_York").today() == date(2026, 5, 14)


def test_a_clock_set_in_another_zone_tells_utc() -> None:
    summer = timezone(timedelta(hours=1))
    assert (
        FixedClock(datetime(2026, 5, 14, 19, 0, tzinfo=summer)).now().isoformat()
        == "2026-05-14T18:00:00+00:00"
    )


def test_the_computers_clock_is_read_to_the_second_in_utc() -> None:
    clock = FarmClock()
    now = clock.now()
    assert (now.tzinfo, now.microsecond) == (UTC, 0)
    assert clock.today() in {local_date(now, LONDON), local_date(clock.now(), LONDON)}
