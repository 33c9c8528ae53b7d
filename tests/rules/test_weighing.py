"""The weight in the jar, against SI 2006/659 and Python's and SciPy's own statistics."""

from __future__ import annotations

import statistics
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from beeledger.base.findings import Grade
from beeledger.rules import weighing

WEIGHTS = st.lists(st.integers(4000, 5000), min_size=2, max_size=60)


# SI 2006/659 Sched. 3 worked for the trade's jars: nominal, TNE, T1, T2 in grams.
@pytest.mark.parametrize(
    ("nominal", "tne", "t1", "t2"),
    [(28, 2.6, 25.4, 22.8), (42, 3.8, 38.2, 34.4), (57, 4.5, 52.5, 48.0), (113, 5.1, 107.9, 102.8),
     (227, 9, 218, 209), (340, 10.2, 329.8, 319.6), (454, 13.7, 440.3, 426.6), (500, 15.0, 485.0, 470.0),
     (907, 15, 892, 877), (1360, 20.4, 1339.6, 1319.2), (3180, 47.7, 3132.3, 3084.6),
     (13_600, 150, 13_450, 13_300), (5, 0.5, 4.5, 4.0), (20_000, 200, 19_800, 19_600)],
)  # fmt: skip
def test_a_jar_has_the_tolerable_error_of_the_regulations(nominal, tne, t1, t2):
    limits = weighing.tolerance(nominal)
    scaled = (limits.tne_tenths_g, limits.t1_tenths_g, limits.t2_tenths_g)
    assert scaled == tuple(round(grams * 10) for grams in (tne, t1, t2))


@pytest.mark.parametrize("edge", [50, 100, 200, 300, 500, 1000, 10_000, 15_000])
def test_the_table_has_no_step_back_at_its_joins(edge):
    here, beyond = weighing.tolerance(edge).tne_tenths_g, weighing.tolerance(edge + 1).tne_tenths_g
    assert here <= beyond <= here + 2


@pytest.mark.parametrize("nominal", [4, 25_001])
def test_the_rules_reach_from_5_g_to_25_kg(nominal):
    assert not weighing.is_in_scope(nominal)
    with pytest.raises(ValueError, match="from 5 g to 25 kg"):
        weighing.tolerance(nominal)


def test_sound_jars_meet_the_three_rules():
    check = weighing.check_weights(454, [4545, 4550, 4538, 4541])
    assert check.met
    assert check.mean_g == pytest.approx(454.35)
    assert weighing.weight_findings(check) == []


def test_a_mean_a_hundredth_below_the_nominal_weight_is_not_met():
    check = weighing.check_weights(454, [4540] * 9 + [4539])
    assert (check.mean_met, check.short_met, check.none_inadequate) == (False, True, True)
    (found,) = weighing.weight_findings(check)
    assert (found.code, found.grade) == ("weight.mean", Grade.AGAINST)
    assert found.what == "the mean of 10 jars is 453.99 g, below 454 g"


@pytest.mark.parametrize(("short", "met"), [(1, True), (2, False)])
def test_one_short_jar_in_forty_is_allowed(short, met):
    # Guidance: generally no more than 2.5 % below T1, which is 1 in 40.
    check = weighing.check_weights(454, [4402] * short + [4560] * (40 - short))
    assert check.below_t1 == short
    assert check.short_met is met


def test_a_jar_on_the_limit_is_not_short():
    check = weighing.check_weights(454, [4403, 4266, 4265])
    assert (check.below_t1, check.below_t2) == (2, 1)


def test_an_inadequate_jar_may_not_be_sold():
    check = weighing.check_weights(454, [4265] + [4560] * 99)
    assert check.mean_met
    assert [f.code for f in weighing.weight_findings(check)] == ["weight.inadequate"]


def test_a_single_jar_has_no_deviation():
    assert weighing.check_weights(454, [4540]).deviation_g is None


def test_nothing_weighed_is_no_check():
    with pytest.raises(ValueError, match="nothing was weighed"):
        weighing.check_weights(454, [])


@given(WEIGHTS)
def test_mean_and_deviation_are_those_of_the_standard_library(weights):
    grams = [weight / 10 for weight in weights]
    check = weighing.check_weights(454, weights)
    assert check.mean_g == pytest.approx(statistics.mean(grams))
    assert check.deviation_g == pytest.approx(statistics.stdev(grams), abs=1e-9)


def test_the_tare_comes_off_each_jar():
    assert weighing.net_weights([6740, 6755], 2200) == (4540, 4555)


# SI 2006/659 reg. 9(5): the earlier of durability date and a year after leaving.
@pytest.mark.parametrize(
    ("left", "durable", "until"),
    [(date(2026, 9, 1), date(2028, 8, 31), date(2027, 9, 1)),
     (date(2026, 9, 1), date(2027, 3, 31), date(2027, 3, 31)),
     (date(2028, 2, 29), date(2031, 1, 31), date(2029, 3, 1))],
)  # fmt: skip
def test_the_record_of_a_weighing_is_kept_as_long_as_the_law_wants(left, durable, until):
    assert weighing.keep_record_until(left, durable) == until


def test_a_batch_is_met_only_when_all_three_rules_are():
    light, short, inadequate = [4539] * 50, [4402] * 2 + [4600] * 48, [4200] + [4600] * 49
    for weights in (light, short, inadequate):
        check = weighing.check_weights(454, weights)
        assert [check.mean_met, check.short_met, check.none_inadequate].count(False) == 1
        assert not check.met


def test_short_jars_are_told_by_their_number_and_share():
    (found,) = weighing.weight_findings(weighing.check_weights(454, [4402] * 2 + [4600] * 48))
    assert found.what == "2 of 50 jars (4.0 %) are below 440.3 g"
