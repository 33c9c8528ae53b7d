"""The clock of a copy of the sample: set to another evening, it goes on from there."""

from datetime import UTC, date, datetime, timedelta

from beeledger.base.clock import CarriedClock, FarmClock

EVENING = datetime(2026, 5, 14, 22, 59, 58, tzinfo=UTC)


def test_it_begins_at_the_moment_it_was_set_to_and_goes_on():
    now = FarmClock().now()
    clock = CarriedClock(EVENING, set_at=now - timedelta(seconds=5))
    passed = clock.now() - EVENING
    assert timedelta(seconds=5) <= passed < timedelta(minutes=1)
    assert clock.now().tzinfo is UTC


def test_the_day_turns_at_the_farms_midnight():
    now = FarmClock().now()
    # British summer time: 22:59:58 UTC is two seconds before midnight on the farm.
    assert CarriedClock(EVENING, set_at=now + timedelta(seconds=60)).today() == date(2026, 5, 14)
    assert CarriedClock(EVENING, set_at=now - timedelta(seconds=60)).today() == date(2026, 5, 15)
