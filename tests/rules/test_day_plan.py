"""A plan reckoned by hand: times, loads, what is wrong with it, where a stop fits and why not."""

from __future__ import annotations

from dataclasses import replace

from beeledger.rules.day_plan import (
    Problem,
    Stop,
    Van,
    best_place,
    check_plan,
    clock,
    cost_s,
    left_out,
    moved,
    pinned,
    tour,
    urgency_s,
    why_left,
)

HOUR = 3600
NEAR = Stop(11, "Gorse Ley", HOUR, 2 * HOUR, out_g=40_000, back_g=100_000)
FAR = Stop(12, "Low Dyke", 2 * HOUR, 3 * HOUR, out_g=60_000)
# Home to Gorse Ley 15 km, on to Low Dyke 30 km, Low Dyke home 45 km; at 45 km/h: 20, 40 and 60 minutes.
ROADS = ((0, 15_000, 45_000), (15_000, 0, 30_000), (45_000, 30_000, 0))
DAY = Problem((Van("Blue van", 8 * HOUR, 14 * HOUR, 200_000),), (NEAR, FAR), ROADS, 45_000)


def test_times_and_loads_follow_the_order():
    made = tour(DAY, 0, (0, 1))
    assert [(clock(v.arrive_s), clock(v.leave_s), v.load_g) for v in made.visits] == [
        ("08:20", "09:20", 160_000), ("10:00", "12:00", 100_000),
    ]  # fmt: skip
    assert (clock(made.home_s), made.metres, made.start_load_g, made.most_g) == (
        "13:00",
        90_000,
        100_000,
        160_000,
    )
    assert cost_s(DAY, ((0, 1),)) == 2 * HOUR
    assert check_plan(DAY, ((0, 1),)) == []


def test_a_crew_that_comes_too_soon_waits():
    late = replace(DAY, stops=(replace(NEAR, opens_s=10 * HOUR), FAR))
    assert clock(tour(late, 0, (0,)).visits[0].begin_s) == "10:00"


def test_what_is_left_out_costs_what_the_visit_is_worth():
    assert left_out(DAY, ((0,),)) == (1,)
    assert cost_s(DAY, ((0,),)) == 40 * 60 + 3 * HOUR


def test_home_a_second_after_hours_is_a_fault_and_on_the_hour_is_none():
    hour = replace(DAY, vans=(replace(DAY.vans[0], until_s=13 * HOUR),))
    assert check_plan(hour, ((0, 1),)) == []
    short = replace(DAY, vans=(replace(DAY.vans[0], until_s=13 * HOUR - 1),))
    assert [found.code for found in check_plan(short, ((0, 1),))] == ["plan.hours"]


def test_the_heaviest_moment_counts_and_not_the_start():
    full = replace(DAY, vans=(replace(DAY.vans[0], payload_g=160_000),))
    assert check_plan(full, ((0, 1),)) == []
    over = replace(DAY, vans=(replace(DAY.vans[0], payload_g=159_999),))
    assert [found.code for found in check_plan(over, ((0, 1),))] == ["plan.load"]


def test_too_late_at_a_site_and_twice_and_the_wrong_van_are_faults():
    closed = replace(DAY, stops=(replace(NEAR, closes_s=8 * HOUR), FAR))
    assert [found.code for found in check_plan(closed, ((0,),))] == ["plan.window"]
    assert [found.code for found in check_plan(DAY, ((0, 0),))] == ["plan.twice"]
    two = replace(DAY, vans=(*DAY.vans, replace(DAY.vans[0], name="Red van")))
    assert [found.code for found in check_plan(pinned(two, 0, 1), ((0,), ()))] == ["plan.pinned"]


def test_a_stop_is_dragged_to_another_place_van_or_out():
    lanes = ((0, 1, 2), (3,))
    assert moved(lanes, 2, 0, 0) == ((2, 0, 1), (3,))
    assert moved(lanes, 0, 1, 9) == ((1, 2), (3, 0))
    assert moved(lanes, 1, None, 0) == ((0, 2), (3,))


def test_a_stop_goes_where_the_drive_grows_least():
    assert best_place(DAY, ((1,),), 0) in {((0, 1),), ((1, 0),)}


def test_why_a_stop_is_left_out_is_said():
    short = replace(DAY, vans=(replace(DAY.vans[0], until_s=11 * HOUR),))
    assert best_place(short, ((0,),), 1) is None
    assert "is home at 13:00, after 11:00" in why_left(short, ((0,),), 1)
    assert why_left(replace(DAY, vans=()), (), 1) == "no van goes out"
    assert why_left(DAY, ((0,),), 1).startswith("it would fit")


def test_the_longer_late_the_more_a_visit_is_worth_up_to_two_weeks():
    # Common practice, no source: 3 h for today, 20 minutes more a day late, 15 less a day ahead.
    assert [urgency_s(*days) // 60 for days in ((0, 0), (3, 0), (20, 0), (0, 2), (0, 30))] == [
        180, 240, 460, 150, 60,
    ]  # fmt: skip
