"""Colours and calendars, against the code as it is published and worked dates."""

from __future__ import annotations

from datetime import date

import pytest

from beeledger.base.findings import Grade
from beeledger.rules import queens
from beeledger.rules.queens import Caste, Colour


@pytest.mark.parametrize(
    ("year", "colour"),
    [(2011, "white"), (2018, "red"), (2019, "green"), (2020, "blue"), (2022, "yellow"), (2026, "white")],
)
def test_the_marking_colour_follows_the_last_figure_of_the_year(year, colour):
    """The international code: 1 or 6 white, 2 or 7 yellow, 3 or 8 red, 4 or 9 green, 5 or 0 blue."""
    assert queens.marking_colour(year) == colour


def test_a_colour_is_read_from_a_word_or_a_letter():
    assert [queens.read_colour(text) for text in ("Blue", " g ", "W", "yellow")] == [
        Colour.BLUE,
        Colour.GREEN,
        Colour.WHITE,
        Colour.YELLOW,
    ]
    with pytest.raises(ValueError, match="is no marking colour"):
        queens.read_colour("pink")


def test_a_colour_seen_gives_the_latest_year_it_can_be():
    assert queens.year_of(Colour.BLUE, date(2026, 5, 1)) == 2025
    assert queens.year_of(Colour.WHITE, date(2026, 5, 1)) == 2026
    assert queens.year_of(Colour.YELLOW, date(2026, 5, 1)) == 2022


def test_a_colour_that_does_not_fit_the_year_is_doubtful():
    finding = queens.check_colour(Colour.RED, 2024)
    assert (finding.grade, finding.what) == (Grade.DOUBTFUL, "red seen, but a queen of 2024 is marked green")
    assert queens.check_colour(Colour.GREEN, 2024) is None
    assert queens.check_colour(Colour.RED, None) is None


def test_an_egg_of_1_may_becomes_a_worker_a_queen_or_a_drone_on_its_day():
    """3, 8 and 16 days for a queen; 21 for a worker; 24 for a drone: Winston 1987."""
    laid = date(2026, 5, 1)
    assert queens.sealed_on(Caste.WORKER, laid) == date(2026, 5, 10)
    assert queens.emerges_on(Caste.WORKER, laid) == date(2026, 5, 22)
    assert queens.emerges_on(Caste.QUEEN, laid) == date(2026, 5, 17)
    assert queens.emerges_on(Caste.DRONE, laid) == date(2026, 5, 25)
    assert queens.drones_mature(laid) == date(2026, 6, 8)


def test_drones_for_a_mating_on_10_june_are_laid_by_3_may():
    assert queens.drone_eggs_by(date(2026, 6, 10)) == date(2026, 5, 3)


def test_a_colony_whose_queen_stopped_on_1_november_is_broodless_three_weeks_later():
    assert queens.broodless_from(date(2026, 11, 1)) == date(2026, 11, 22)
    assert queens.broodless_from(date(2026, 11, 1), with_drones=True) == date(2026, 11, 25)


def test_a_graft_of_1_june_has_its_dated_jobs():
    """A rearing calendar as worked by hand: sealed 6, placed 11, emerge 13, mating 18, laying 25, judged 29."""
    days = {job.code: job.on for job in queens.graft_calendar(date(2026, 6, 1))}
    assert days == {
        "confine": date(2026, 5, 27),
        "cell_bar": date(2026, 5, 31),
        "graft": date(2026, 6, 1),
        "accepted": date(2026, 6, 2),
        "sealed": date(2026, 6, 6),
        "make_nuclei": date(2026, 6, 10),
        "place_cells": date(2026, 6, 11),
        "emerge": date(2026, 6, 13),
        "mating": date(2026, 6, 18),
        "laying": date(2026, 6, 25),
        "pattern": date(2026, 6, 29),
        "drone_layer": date(2026, 7, 4),
        "catch": date(2026, 7, 6),
    }


def test_the_calendar_agrees_with_the_days_of_development():
    own, jobs = queens.figures(), {job.code: job.day for job in queens.graft_calendar(date(2026, 6, 1))}
    assert jobs["emerge"] + own.graft_day_from_laying == own.development[Caste.QUEEN].emerges
    assert jobs["drone_layer"] - jobs["emerge"] == own.drone_layer
    assert jobs["mating"] - jobs["emerge"] == own.mating_from
    assert list(jobs.values()) == sorted(jobs.values())


def test_a_virgin_of_13_june_without_eggs_on_4_july_is_likely_a_drone_layer():
    virgin = queens.virgin(date(2026, 6, 13))
    assert (virgin.mating_from, virgin.mating_until) == (date(2026, 6, 18), date(2026, 6, 28))
    assert (virgin.laying_about, virgin.drone_layer_from) == (date(2026, 6, 25), date(2026, 7, 4))


def test_cells_seen_say_when_a_virgin_may_emerge():
    seen = date(2026, 5, 10)
    assert queens.cell_emerges(seen, sealed=True) == (date(2026, 5, 10), date(2026, 5, 18))
    assert queens.cell_emerges(seen, sealed=False) == (date(2026, 5, 17), date(2026, 5, 26))


def test_swarm_checks_are_every_7_days_and_9_with_a_clipped_queen():
    assert queens.swarm_check_days(clipped=False) == 7
    assert queens.swarm_check_days(clipped=True) == 9
