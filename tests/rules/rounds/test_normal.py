"""What the farm calls normal, by the season."""

from __future__ import annotations

from datetime import date

import pytest

from beeledger.rules.rounds.entry import CellStage, Entry, FeedKind, MiteMethod, Outcome, QueenState
from beeledger.rules.rounds.normal import Normal, habits_for, normal_for


@pytest.mark.parametrize(
    ("day", "name"),
    [
        (date(2026, 1, 5), "winter"),
        (date(2026, 2, 28), "winter"),
        (date(2026, 3, 1), "spring"),
        (date(2026, 4, 10), "swarm season"),
        (date(2026, 7, 31), "swarm season"),
        (date(2026, 8, 1), "after the flow"),
        (date(2026, 11, 1), "winter"),
    ],
)
def test_each_season_has_its_normal(day, name):
    assert normal_for(day).name == name


def test_normal_in_the_swarm_season_is_queenright_by_eggs_without_cells():
    assert normal_for(date(2026, 5, 20)).entry == Entry(
        outcome=Outcome.LOOKED,
        queen_state=QueenState.RIGHT,
        queen_seen=False,
        eggs=True,
        cells_stage=CellStage.NONE,
    )


def test_after_the_flow_nobody_is_said_to_have_looked_for_cells():
    assert normal_for(date(2026, 8, 20)).entry.cells_stage is None


def test_a_farm_has_a_normal_of_its_own():
    own = (Normal("all year", 6, 1, Entry(outcome=Outcome.LOOKED)),)
    assert normal_for(date(2026, 1, 1), own).name == "all year"
    assert habits_for(date(2026, 1, 1), own).normal == Entry(outcome=Outcome.LOOKED)


def test_a_feed_by_weight_does_not_change_the_usual_syrup():
    habits = habits_for(date(2026, 5, 14)).after(Entry(feed_kind=FeedKind.SUGAR, feed_g=1000))
    assert (habits.feed_kind, habits.solid_kind) == (FeedKind.SYRUP_1_1, FeedKind.SUGAR)


def test_a_line_without_mites_keeps_the_usual_count():
    habits = habits_for(date(2026, 5, 14)).after(Entry(temper=2))
    assert (habits.mites_method, habits.mites_bees) == (MiteMethod.WASH, 300)
