"""A colony is in one place at each moment of its life, whatever is put in, taken back, ended or brought again."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given

from beeledger.rules.placements import (
    Stay,
    Trip,
    check_chain,
    ended,
    reopened,
    stay_at,
    with_trip,
    without_trip,
)
from tests.rules.chains import SPAN, Life, Step, at, day, said_of, some_steps

HOME = Stay("site", at(0), day(0), site_id=1)


def trip(left: int, arrived: int, site: int | None, line: int = 1, vehicle: int | None = 1) -> Trip:
    return Trip(at(left), day(left), at(arrived), day(arrived), site, vehicle_id=vehicle, move_line_id=line)


@given(steps=some_steps)
def test_whatever_happens_the_chain_has_no_gap_and_no_overlap(steps: list[Step]) -> None:
    life = Life()
    for step in steps:
        life.take(step)
        assert check_chain(life.chain, alive=life.ended is None) == []


@given(steps=some_steps)
def test_the_chain_says_where_it_was_at_every_hour(steps: list[Step]) -> None:
    life = Life()
    for step in steps:
        life.take(step)
    for hour in range(-1, SPAN + 12):
        known, said = life.where(hour), said_of(life.chain, hour)
        if known in ("on the way", "lost"):
            assert said in ("vehicle", "unaccounted")
            assert known == "on the way" or said == "unaccounted"
        else:
            assert said == known


def test_a_trip_cuts_the_stay_it_left_and_what_follows_stands() -> None:
    twice = with_trip(with_trip([HOME], trip(10, 12, 2, line=1)), trip(30, 33, 3, line=2))
    between = with_trip(twice, trip(20, 21, 4, line=3))
    assert [(stay.place, stay.site_id, stay.from_at, stay.until_at) for stay in between] == [
        ("site", 1, at(0), at(10)), ("vehicle", None, at(10), at(12)),
        ("site", 2, at(12), at(20)), ("vehicle", None, at(20), at(21)),
        ("site", 4, at(21), at(30)), ("vehicle", None, at(30), at(33)),
        ("site", 3, at(33), None),
    ]  # fmt: skip
    assert without_trip(between, 3) == twice
    assert [stay.site_id for stay in without_trip(between, 1)] == [1, None, 4, None, 3]


@pytest.mark.parametrize(
    ("chain", "left", "arrived", "why"),
    [
        ([HOME], 10, 10, "arrived before it left"),
        ([HOME], 10, 9, "arrived before it left"),
        ([HOME], -5, 3, "was not there yet, or no longer"),
        ([HOME], 0, 3, "came there at that very moment"),
        (ended([HOME], at(20), day(20)), 20, 22, "was not there yet, or no longer"),
        (ended([HOME], at(20), day(20)), 18, 20, "moved on before it arrived"),
        (with_trip([HOME], trip(10, 12, 2)), 8, 10, "moved on before it arrived"),
        (with_trip([HOME], trip(10, 12, 2)), 8, 11, "moved on before it arrived"),
    ],
)
def test_a_trip_that_cannot_have_been_is_refused(
    chain: list[Stay], left: int, arrived: int, why: str
) -> None:
    with pytest.raises(ValueError, match=why):
        with_trip(chain, trip(left, arrived, 2))


def test_a_hive_lost_on_the_way_is_unaccounted_for() -> None:
    chain = with_trip([HOME], trip(10, 12, None, vehicle=None))
    assert [stay.place for stay in chain] == ["site", "unaccounted", "unaccounted"]
    assert check_chain(chain, alive=True) == []


def test_the_first_place_of_a_colony_is_no_trip_to_be_taken_back() -> None:
    with pytest.raises(ValueError, match="nothing is known of where the colony stood before"):
        without_trip([replace(HOME, move_line_id=7)], 7)


def test_a_colony_that_ended_and_lives_after_all_runs_on_where_it_stood() -> None:
    chain = with_trip([HOME], trip(10, 12, 2))
    over = ended(chain, at(40), day(40))
    assert over[-1].until_at == at(40)
    assert reopened(over) == chain
    assert ended(over, at(50), day(50)) == over  # it had ended already
    assert ended(chain, at(0), day(0)) == []
    assert reopened([]) == []


def test_at_the_moment_of_a_change_it_is_in_the_new_place() -> None:
    chain = with_trip([HOME], trip(10, 12, 2))
    assert stay_at(chain, at(10)) == chain[1]
    assert stay_at(chain, at(10) - timedelta(seconds=1)) == chain[0]
    assert stay_at(chain, at(-1)) is None


def test_every_breach_of_a_chain_is_named() -> None:
    def stay(start: int, end: int | None) -> Stay:
        return Stay("site", at(start), day(start), None if end is None else at(end), None if end is None else day(end), site_id=1)  # fmt: skip

    def codes(*chain: Stay, alive: bool = True) -> list[str]:
        return [finding.code for finding in check_chain(chain, alive=alive)]

    assert codes(stay(0, 5), stay(5, None)) == []
    assert codes(stay(0, 5), stay(6, None)) == ["gap"]
    assert codes(stay(0, 7), stay(6, None)) == ["overlap"]
    assert codes(stay(0, None), stay(6, None)) == ["overlap"]
    assert codes() == ["nowhere"]
    assert codes(stay(0, 5)) == ["nowhere"]
    assert codes(stay(0, None), alive=False) == ["ghost"]
    assert codes(alive=False) == []


def test_a_trip_over_the_night_the_clocks_go_back_keeps_its_order() -> None:
    # 25 October 2026: 01:30 local was twice (SI 2002/262); moments are UTC, so the trip still arrives after it left.
    left, arrived = datetime(2026, 10, 25, 0, 30, tzinfo=UTC), datetime(2026, 10, 25, 1, 30, tzinfo=UTC)
    night = date(2026, 10, 25)
    chain = with_trip([HOME], Trip(left, night, arrived, night, 2, vehicle_id=1))
    assert check_chain(chain, alive=True) == []
