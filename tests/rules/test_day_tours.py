"""The search for a good day, held against the best there is.

Small days: the optimum by dynamic programming over sets (Held and Karp, "A dynamic programming approach to
sequencing problems", 1962, with labels for time and load), written in ``tests/builders/days.py`` and itself held
against writing down every order.
"""

from __future__ import annotations

import pytest

from beeledger.rules.day_plan import check_plan, cost_s, pinned
from beeledger.rules.day_tours import proposed
from tests.builders.days import best_by_trying, best_cost_s, day


@pytest.mark.parametrize("seed", range(4))
def test_the_reckoned_best_is_the_best_of_every_order_written_down(seed):
    problem = day(seed, 5, 1, hours=4)
    assert best_cost_s(problem) == best_by_trying(problem)


@pytest.mark.parametrize("seed", range(20))
def test_a_small_day_is_within_two_per_cent_of_the_best(seed):
    problem = day(seed, 6 + seed % 2, 1 + seed % 3 // 2, hours=4 + seed % 3, payload_g=450_000)
    lanes = proposed(problem)
    assert check_plan(problem, lanes) == []
    assert cost_s(problem, lanes) <= best_cost_s(problem) * 1.02


def test_the_same_day_and_seed_give_the_same_plan():
    problem = day(3, 20, 2)
    assert proposed(problem, steps=200) == proposed(problem, steps=200)


def test_stopped_at_once_the_best_so_far_is_a_plan_without_fault():
    problem, told = day(5, 30, 3), []

    def stop(step: int, most: int) -> bool:
        told.append((step, most))
        return step == 5

    lanes = proposed(problem, progress=stop)
    assert told[0] == (1, 1500)
    assert len(told) == 5
    assert check_plan(problem, lanes) == []
    assert any(lanes)


def test_a_pinned_site_goes_with_its_van_and_before_any_other():
    problem = day(7, 12, 2, hours=4)
    for van in (0, 1):
        lanes = proposed(pinned(problem, 4, van), steps=300)
        assert 4 in lanes[van]
        assert check_plan(pinned(problem, 4, van), lanes) == []


def test_no_van_and_no_site_is_an_empty_plan():
    assert proposed(day(1, 0, 2)) == ((), ())
    assert proposed(day(1, 3, 0)) == ()
