"""Counts of mites, against worked figures and the leaflet's factors."""

from __future__ import annotations

from datetime import date

import pytest

from beeledger.rules import mites
from beeledger.rules.mites import Judgement


@pytest.mark.parametrize(
    ("counted", "bees", "hundredths"),
    [(9, 300, 300), (6, None, 200), (15, 300, 500), (4, 285, 140), (0, 300, 0)],
)
def test_a_sample_gives_the_share_of_bees_with_mites(counted, bees, hundredths):
    """Mites ÷ bees × 100, by hand: 4 ÷ 285 = 1.40 %."""
    assert mites.infestation_hundredths(counted, bees) == hundredths


@pytest.mark.parametrize(
    ("counted", "days", "month", "colony"),
    [(21, 7, 7, 90), (56, 7, 6, 240), (140, 7, 8, 600), (28, 14, 1, 800), (35, 7, 3, 500)],
)
def test_a_daily_drop_is_multiplied_by_the_season(counted, days, month, colony):
    """*Managing Varroa* (National Bee Unit): × 30 May to August, × 400 November to February, × 100 between."""
    assert mites.mites_from_drop(counted, days, month) == colony


def test_a_daily_drop_is_kept_in_hundredths_and_march_is_less_accurate():
    assert mites.daily_drop_hundredths(20, 7) == 286
    assert not mites.drop_is_accurate(3)
    assert mites.drop_is_accurate(7)


def test_mites_double_in_33_days():
    """80 % kill made good in two and a half months: × 5 in 76 days (log2 5 × 33 = 76.6)."""
    assert mites.projected(100, 33) == 200
    assert mites.days_until(200) == 77
    assert mites.days_until(400) == 44
    assert mites.days_until(100) == 110
    assert mites.projected(200, 77) >= 1_000 > mites.projected(200, 76)


def test_the_limit_is_now_when_it_is_passed_and_never_from_no_mites():
    assert mites.days_until(1_000) == 0
    assert mites.days_until(2_500) == 0
    assert mites.days_until(0) is None


def test_three_in_a_hundred_is_treated_and_just_under_is_watched():
    """The line of 3 per 100: USDA-ARS advice."""
    assert mites.judge(300) is Judgement.TREAT
    assert mites.judge(299) is Judgement.WATCH
    assert mites.judge(199) is Judgement.FINE


def test_a_farm_may_draw_its_own_line_and_is_told_of_it_without_needless_decimals():
    assert [mites.judge(share, 250) for share in (250, 249, 199)] == list(Judgement)[::-1]
    assert [mites.judge(share, 100) for share in (100, 99)] == [Judgement.TREAT, Judgement.FINE]
    assert [mites.line_words(line) for line in (300, 250, 275, 1000)] == ["3", "2.5", "2.75", "10"]


@pytest.mark.parametrize(
    ("counted", "days", "judgement"),
    [(234, 7, Judgement.TREAT), (233, 7, Judgement.WATCH), (100, 7, Judgement.FINE)],
)
def test_a_drop_of_33_a_day_in_july_is_a_thousand_mites(counted, days, judgement):
    assert mites.judge_drop(counted, days, date(2026, 7, 1)) is judgement


def test_efficacy_is_the_share_killed():
    """5.0 % before, 0.5 % after: 90 %; with an untreated control rising 3 → 4: 92.5 % (Henderson & Tilton 1955)."""
    assert mites.efficacy_hundredths(500, 50) == 9_000
    assert mites.efficacy_hundredths(500, 50, (300, 400)) == 9_250
    assert mites.efficacy_hundredths(100, 150) == -5_000


def test_a_count_of_nothing_is_refused():
    for wrong in (lambda: mites.infestation_hundredths(3, 0), lambda: mites.mites_from_drop(3, 0, 7)):
        with pytest.raises(ValueError):
            wrong()
    with pytest.raises(ValueError, match="efficacy needs mites"):
        mites.efficacy_hundredths(0, 0)
