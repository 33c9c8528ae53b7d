"""The inspector's reference test: SI 2006/659 Sched. 2, Directive 76/211/EEC Annex II, and SciPy."""

from __future__ import annotations

import math

import pytest
from scipy import stats

from beeledger.rules.weighing_reference import (
    MeanPlan,
    Outcome,
    contents_check,
    defective,
    is_one_batch,
    mean_check,
    mean_outcome,
    mean_plan_for,
    plan_for,
)


# Annex II 2.2.1 (double sampling): batch, samples, accept and reject numbers of each stage.
@pytest.mark.parametrize(
    ("batch", "row"),
    [(100, (30, 1, 3, 30, 4, 5)), (500, (30, 1, 3, 30, 4, 5)), (501, (50, 2, 5, 50, 6, 7)),
     (3200, (50, 2, 5, 50, 6, 7)), (3201, (80, 3, 7, 80, 8, 9)), (10_000, (80, 3, 7, 80, 8, 9))],
)  # fmt: skip
def test_a_batch_is_sampled_by_the_published_plan(batch, row):
    plan = plan_for(batch)
    numbers = (
        plan.first,
        plan.first_accept,
        plan.first_reject,
        plan.second,
        plan.both_accept,
        plan.both_reject,
    )
    assert numbers == row


def test_a_destructive_test_takes_twenty():
    # Annex II 2.2.2: 20 packs, accept 1, reject 2.
    plan = plan_for(5000, destructive=True)
    assert (plan.first, plan.first_accept, plan.first_reject) == (20, 1, 2)
    assert [contents_check(plan, n) for n in (1, 2)] == [Outcome.ACCEPT, Outcome.REJECT]


@pytest.mark.parametrize("number", [30, 50])
@pytest.mark.parametrize("destructive", [False, True])
def test_k_is_students_t_over_the_root_of_the_sample(number, destructive):
    # Sched. 2 para. 4: k = t(0.995; n − 1) / √n.
    plan = mean_plan_for(500 if number == 30 else 900, destructive=destructive)
    assert plan.sample == (20 if destructive else number)
    oracle = stats.t.ppf(0.995, plan.sample - 1) / math.sqrt(plan.sample)
    assert plan.k == pytest.approx(oracle, abs=0.0006)


@pytest.mark.parametrize(
    ("first", "both", "outcome"),
    [(2, None, Outcome.ACCEPT), (3, None, Outcome.SECOND), (4, None, Outcome.SECOND), (4, 6, Outcome.ACCEPT),
     (4, 7, Outcome.REJECT), (5, None, Outcome.REJECT)],
)  # fmt: skip
def test_a_batch_of_800_goes_through_both_samples(first, both, outcome):
    assert contents_check(plan_for(800), first, both) is outcome


def test_three_short_jars_refuse_a_batch_of_400_outright():
    assert contents_check(plan_for(400), 3) is Outcome.REJECT


def test_both_samples_hold_at_least_what_the_first_held():
    with pytest.raises(ValueError, match="first one held"):
        contents_check(plan_for(400), 2, 1)


# Worked: 454 − 0.503 · 2.0 = 452.994; 340 − 0.379 · 3.0 = 338.863.
@pytest.mark.parametrize(
    ("nominal", "batch", "spread", "mean", "limit", "outcome"),
    [(454, 300, 2.0, 453.2, 452.994, Outcome.ACCEPT), (454, 300, 2.0, 452.9, 452.994, Outcome.REJECT),
     (340, 2000, 3.0, 338.9, 338.863, Outcome.ACCEPT), (454, 60, 2.0, 453.99, 454.0, Outcome.REJECT)],
)  # fmt: skip
def test_the_mean_is_held_against_its_limit(nominal, batch, spread, mean, limit, outcome):
    found = mean_outcome(nominal, mean, spread, mean_plan_for(batch))
    assert found == (outcome, pytest.approx(limit))


def test_a_small_batch_is_weighed_whole():
    assert plan_for(99) is None
    assert mean_plan_for(99) is None
    assert mean_check(3, 454, [4540, 4550, 4530]).outcome is Outcome.ACCEPT
    with pytest.raises(ValueError, match="3 packs are to be weighed, not 2"):
        mean_check(3, 454, [4540, 4550])


def test_the_mean_is_taken_over_the_plans_number_of_packs():
    # 30 of the 40 drawn count; the ten light ones at the end do not.
    check = mean_check(300, 454, [4540, 4545, 4535] * 10 + [4000] * 10)
    assert check.mean_g == pytest.approx(454.0)
    assert check.deviation_g == pytest.approx(stats.tstd([454.0, 454.5, 453.5] * 10))
    assert check.limit_g == pytest.approx(454 - MeanPlan(30, 0.503).k * check.deviation_g)


def test_a_large_batch_is_divided_unless_it_is_an_hour_of_the_line():
    assert is_one_batch(10_000)
    assert not is_one_batch(10_001)
    assert is_one_batch(12_000, one_hour_of_a_line=True)


def test_a_defective_pack_is_below_t1():
    # T1 of 454 g is 440.3 g.
    assert defective(454, [4403, 4402, 4540]) == 1


def test_a_light_batch_is_refused_by_its_mean():
    assert mean_check(300, 454, [4520, 4525, 4515] * 10).outcome is Outcome.REJECT
    assert mean_check(3, 454, [4540, 4540, 4539]).outcome is Outcome.REJECT


def test_a_second_sample_without_a_short_jar_leaves_the_count():
    assert contents_check(plan_for(400), 2, 2) is Outcome.ACCEPT
