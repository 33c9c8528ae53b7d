"""A trip in the chain of a colony: the sheet against the record, and what stands after it.

Expected chains are worked out by hand from what half-open stays mean: no gap, no overlap.
"""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

from beeledger.rules.journeys import contradicted, departures, found_at, spliced, without_trips
from beeledger.rules.placements import Stay, Trip, check_chain

HOME, ORCHARD, RAPE = 1, 2, 3


def at(day: int, hour: int = 20, minute: int = 0) -> datetime:
    return datetime(2026, 5, day, hour, minute, tzinfo=UTC)


def founded_at_home() -> list[Stay]:
    return [Stay("site", at(1, 0), date(2026, 5, 1), site_id=HOME)]


def trip(day: int, to: int, line: int) -> Trip:
    return Trip(at(day), date(2026, 5, day), at(day, 21), date(2026, 5, day), to, move_line_id=line)


def where(chain: list[Stay]) -> list[tuple[int | None, datetime]]:
    return [(stay.site_id, stay.from_at) for stay in chain]


def test_a_hive_taken_from_where_it_stood_needs_no_correction() -> None:
    chain = spliced(founded_at_home(), trip(5, ORCHARD, 11), HOME)
    assert where(chain) == [(HOME, at(1, 0)), (None, at(5)), (ORCHARD, at(5, 21))]


def test_a_hive_taken_from_elsewhere_is_found_there_a_minute_before() -> None:
    chain = spliced(founded_at_home(), trip(5, ORCHARD, 11), RAPE)
    assert where(chain) == [(HOME, at(1, 0)), (RAPE, at(5, 19, 59)), (None, at(5)), (ORCHARD, at(5, 21))]
    assert check_chain(chain, alive=True) == []


def test_a_hive_nobody_had_yet_is_found_nowhere() -> None:
    with pytest.raises(ValueError, match="not there yet"):
        found_at(founded_at_home(), RAPE, datetime(2026, 4, 30, tzinfo=UTC), date(2026, 4, 30))


def test_a_hive_that_came_that_very_moment_is_not_found_elsewhere() -> None:
    with pytest.raises(ValueError, match="that very moment"):
        found_at(founded_at_home(), RAPE, at(1, 0), date(2026, 5, 1))


def test_a_found_hive_that_the_record_has_there_is_left_alone() -> None:
    assert found_at(founded_at_home(), HOME, at(3), date(2026, 5, 3)) == founded_at_home()


def test_an_older_trip_put_in_makes_the_later_one_leave_from_elsewhere() -> None:
    later = spliced(founded_at_home(), trip(10, ORCHARD, 11), HOME)
    both = spliced(later, trip(5, RAPE, 12), HOME)
    assert departures(both) == {12: HOME, 11: RAPE}
    assert contradicted(both, {11: HOME, 12: HOME}) == {11: RAPE}
    assert check_chain(both, alive=True) == []


def test_a_line_of_another_chain_is_not_contradicted() -> None:
    chain = spliced(founded_at_home(), trip(5, ORCHARD, 11), HOME)
    assert contradicted(chain, {11: HOME, 99: RAPE}) == {}
    assert contradicted(chain, {11: None}) == {}


def test_a_trip_taken_out_leaves_the_chain_as_it_was() -> None:
    chain = spliced(founded_at_home(), trip(5, ORCHARD, 11), HOME)
    assert without_trips(chain, [11]) == founded_at_home()
