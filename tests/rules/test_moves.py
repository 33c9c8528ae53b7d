"""Moves and days on a crop, against the rule of 3 feet and 3 miles and days counted on a calendar."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime

import pytest

from beeledger.base.findings import Grade
from beeledger.rules import moves
from beeledger.rules.moves import Left, MovedHive, PlannedMove, Stay
from beeledger.rules.sites import read_grid

HOME = read_grid("SO 40000 70000")
DAY = date(2026, 7, 10)
FAR = PlannedMove(DAY, "Home field", "Bean field", HOME, read_grid("SO 45200 70000"))
HIVE = MovedHive("41", "Home field", founded=date(2024, 6, 1))


def codes(move=FAR, hives=(HIVE,)):
    return [finding.code for finding in moves.check_move(move, hives)]


def to(reference: str) -> PlannedMove:
    return replace(FAR, to_spot=read_grid(reference))


def test_a_hive_moved_5200_m_in_july_is_nothing_to_speak_of():
    assert codes() == []


def test_a_hive_moved_400_m_in_july_is_warned():
    """Under 3 ft or over 3 miles (4,828 m): good practice as associations publish it."""
    (finding,) = moves.check_move(to("SO 40400 70000"), [HIVE])
    assert (finding.code, finding.grade) == ("move.distance", Grade.DOUBTFUL)
    assert finding.what == (
        "Bean field is 400 m from Home field in a straight line, between 3 feet and 3 miles: "
        "flying bees go back to the old place"
    )


@pytest.mark.parametrize(
    ("metres", "between"), [(0, False), (1, False), (2, True), (4_600, True), (4_827, True), (4_828, False)]
)
def test_3_feet_and_3_miles_are_the_edges(metres, between):
    """3 ft = 0.914 m and 3 miles = 4,828.03 m by the international foot and mile."""
    assert moves.is_between(metres) is between


def test_the_straight_line_counts_and_not_the_road():
    """4.6 km as the crow flies, however long the road."""
    assert codes(to("SO 44600 70000")) == ["move.distance"]


def test_in_a_winter_cluster_distance_does_not_matter():
    assert codes(replace(to("SO 40400 70000"), exempt=True)) == []


def test_a_hive_brought_near_an_old_place_too_early_is_warned():
    """Gone 3 to 4 weeks, bees forget."""
    old = Left("Orchard", read_grid("SO 45200 72000"), date(2026, 6, 30))
    (finding,) = moves.check_move(FAR, [replace(HIVE, left=(old,))])
    assert finding.what == "41 left Orchard 10 days ago, 2.0 km from Bean field: its bees may fly back there"
    assert finding.mend == "Wait until 21 Jul"
    assert codes(hives=(replace(HIVE, left=(replace(old, on=date(2026, 6, 19)),)),)) == []
    assert codes(hives=(replace(HIVE, left=(replace(old, site="Bean field"),)),)) == []


def test_a_hive_that_stands_elsewhere_is_asked_about_and_not_refused():
    (finding,) = moves.check_move(FAR, [replace(HIVE, site="Orchard")])
    assert finding.grade is Grade.AGAINST
    assert finding.what == "The record has 41 at Orchard on 10 Jul, not at Home field"
    (lost,) = moves.check_move(FAR, [replace(HIVE, site=None)])
    assert lost.what == "The record has 41 unaccounted for on 10 Jul, not at Home field"


def test_a_dead_hive_is_asked_about_and_one_not_yet_founded_refused():
    assert codes(hives=(replace(HIVE, ended=DAY),)) == ["move.ended"]
    assert codes(hives=(replace(HIVE, ended=date(2026, 7, 11)),)) == []
    (finding,) = moves.check_move(FAR, [replace(HIVE, founded=date(2026, 7, 11))])
    assert (finding.code, finding.grade) == ("move.unborn", Grade.REFUSED)
    assert finding.what == "41 did not exist before 11 Jul 2026"


def test_a_hive_twice_in_the_list_is_refused():
    assert codes(hives=(HIVE, HIVE)) == ["move.twice"]


def test_a_move_to_where_it_begins_and_one_unloaded_before_it_is_loaded_are_refused():
    assert codes(replace(FAR, to_site="Home field", to_spot=HOME)) == ["move.nowhere"]
    late, early = datetime(2026, 7, 10, 21, 30, tzinfo=UTC), datetime(2026, 7, 10, 20, 45, tzinfo=UTC)
    assert codes(replace(FAR, loaded=late, unloaded=early)) == ["move.backward"]
    assert codes(replace(FAR, loaded=early, unloaded=late)) == []


def test_more_than_eight_hours_on_the_way_are_doubtful():
    loaded = datetime(2026, 7, 10, 21, 0, tzinfo=UTC)
    assert codes(replace(FAR, loaded=loaded, unloaded=datetime(2026, 7, 11, 5, 1, tzinfo=UTC))) == [
        "move.long"
    ]
    assert codes(replace(FAR, loaded=loaded, unloaded=datetime(2026, 7, 11, 5, 0, tzinfo=UTC))) == []


def test_hives_loaded_in_daylight_are_noted_and_after_sunset_not():
    """Sunset in Herefordshire on 10 July is about 21:30 BST."""
    (finding,) = moves.check_move(replace(FAR, loaded=datetime(2026, 7, 10, 13, 10, tzinfo=UTC)), [HIVE])
    assert (finding.code, finding.grade) == ("move.daylight", Grade.NOTED)
    assert finding.what.startswith("Loaded at 14:10 in daylight (sunrise 05:0")
    assert codes(replace(FAR, loaded=datetime(2026, 7, 10, 20, 45, tzinfo=UTC))) == []


def test_more_hives_than_there_is_room_for_are_doubtful():
    other = replace(HIVE, mark="42")
    assert codes(replace(FAR, room=1), (HIVE, other)) == ["move.room"]
    assert codes(replace(FAR, room=2), (HIVE, other)) == []


def test_days_on_the_crop_are_as_many_as_nights():
    """1 to 15 May: fourteen nights, counted on a calendar."""
    stay = Stay("41", date(2026, 5, 1), date(2026, 5, 15))
    season = (date(2026, 4, 1), date(2026, 7, 1))
    assert moves.days_on(stay, *season) == 14
    assert moves.days_on(replace(stay, off=date(2026, 5, 1)), *season) == 0
    assert moves.days_on(replace(stay, off=None), *season) == 61
    assert moves.days_on(stay, date(2026, 5, 10), date(2026, 5, 12)) == 2
    assert moves.days_on(stay, date(2026, 6, 1), date(2026, 7, 1)) == 0


def test_hive_days_are_the_sum_and_the_standing_are_counted_at_the_end_of_the_day():
    stays = [Stay("41", date(2026, 5, 1), date(2026, 5, 15)), Stay("42", date(2026, 5, 3))]
    assert moves.hive_days(stays, date(2026, 4, 1), date(2026, 5, 20)) == 14 + 17
    assert [moves.standing_on(stays, date(2026, 5, day)) for day in (1, 3, 14, 15)] == [1, 2, 2, 1]
