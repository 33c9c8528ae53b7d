"""The table of reasons walked line by line: each has facts that trip it and facts that just do not.

Figures without a source are common practice; those with one are checked where they stand: the calendars of
queens in ``test_queens``, mites in ``test_mites``, feed in ``test_stores``.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from beeledger.rules.due import (
    Asked,
    ColonyFacts,
    Due,
    Fact,
    Fed,
    Grafted,
    adjustables,
    default_settings,
    due,
    reason_figures,
    with_own,
)

LOOKED = date(2026, 5, 5)
AUTUMN = date(2026, 9, 20)
GOOD = ColonyFacts(
    colony=1, since=date(2024, 6, 1), looked=LOOKED, visited=LOOKED, queen_state="right", queen_seen=LOOKED,
    stores_g=9_000, stores_on=LOOKED, mites_hundredths=100, mites_on=date(2026, 4, 20),
)  # fmt: skip
LATE = replace(GOOD, looked=AUTUMN, visited=AUTUMN, queen_seen=AUTUMN, mites_on=AUTUMN)
GRAFT = date(2026, 6, 1)
FED = Fed(date(2026, 5, 5), liquid=True, sugar_g=885)

TABLE: dict[str, tuple[ColonyFacts, date, ColonyFacts]] = {
    # the reason: facts that trip it, the day reckoned by hand, facts that just do not
    "cells": (replace(GOOD, cells="sealed"), date(2026, 5, 6), replace(GOOD, cells="supersedure")),
    "not_found": (
        replace(GOOD, not_found=LOOKED),
        date(2026, 5, 6),
        replace(GOOD, not_found=LOOKED - timedelta(days=1)),
    ),
    "strips_out": (
        replace(GOOD, strips_in=date(2026, 3, 20), strips_out_by=date(2026, 5, 1)),
        date(2026, 5, 1),
        replace(GOOD, strips_in=date(2026, 3, 20)),
    ),
    # Day 35 after the graft: laying queens are caught (common practice of queen rearers).
    "graft": (
        replace(GOOD, grafts=(Grafted(GRAFT, taken=True, emerged=True),)),
        date(2026, 6, 25),
        replace(GOOD, grafts=(Grafted(GRAFT, taken=True, emerged=True, mated=True),)),
    ),
    "dose": (
        replace(GOOD, dosed=(date(2026, 8, 10),)),
        date(2026, 8, 24),
        replace(GOOD, dosed=(date(2026, 8, 10), date(2026, 8, 24))),
    ),
    "swarm_check": (GOOD, date(2026, 5, 12), replace(GOOD, kind="nucleus")),
    # Under 5 kg in May: common practice, no source.
    "light": (replace(GOOD, stores_g=4_999), date(2026, 5, 7), replace(GOOD, stores_g=5_000)),
    "queenless": (
        replace(GOOD, queen_state="queenless"),
        date(2026, 5, 12),
        replace(GOOD, queen_state="virgin"),
    ),
    # 3 in 100 by wash or roll (USDA-ARS advice).
    "treat": (replace(GOOD, mites_hundredths=300), date(2026, 4, 27), replace(GOOD, mites_hundredths=299)),
    # A virgin unmated for three weeks becomes a drone layer; one that emerged on 13 June is feared one on 4 July.
    "drone_layer": (
        replace(GOOD, queen_state="virgin", queen_state_since=date(2026, 6, 13)),
        date(2026, 7, 4),
        replace(GOOD, queen_state="queenless"),
    ),
    "refill": (
        replace(GOOD, fed=FED, stores_g=4_000),
        date(2026, 5, 12),
        # 4.1 kg and 885 g of sugar × 1.05 = 929 g make 5.029 kg, over the 5 kg of May.
        replace(GOOD, fed=FED, stores_g=4_100),
    ),
    "super": (
        replace(GOOD, supers=1, super_fullness_tenths=7),
        date(2026, 5, 8),
        replace(GOOD, supers=1, super_fullness_tenths=6),
    ),
    "queen": (replace(GOOD, queen_seen=date(2026, 4, 10)), date(2026, 5, 15), GOOD),
    "action": (
        replace(GOOD, next_on=date(2026, 5, 8), next_action="unite"),
        date(2026, 5, 8),
        replace(GOOD, next_on=LOOKED, next_action="unite"),
    ),
    "task": (
        replace(GOOD, tasks=(Asked("mend the roof", LOOKED, date(2026, 5, 9)),)),
        date(2026, 5, 9),
        GOOD,
    ),
    # 1 % is 3 % after 53 days of doubling in 33 (Managing Varroa: an 80 % kill is made good in 2.5 months).
    "count": (GOOD, date(2026, 6, 12), replace(GOOD, strips_in=LOOKED, strips_out_by=date(2026, 6, 16))),
    "withdrawal": (
        replace(GOOD, withdrawal_from=date(2026, 5, 6), treated=date(2026, 4, 22)),
        date(2026, 5, 6),
        replace(GOOD, withdrawal_from=LOOKED, treated=date(2026, 4, 21)),
    ),
    "oxalic": (LATE, date(2026, 12, 10), replace(LATE, oxalic_on=date(2026, 10, 1))),
    "heft": (LATE, date(2027, 1, 1), replace(GOOD, looked=date(2026, 7, 31), visited=date(2026, 7, 31))),
    "unseen": (LATE, date(2026, 11, 19), GOOD),
    "question": (replace(GOOD, question="is this 41 or 47?"), date(2026, 5, 6), GOOD),
}


def of(facts: ColonyFacts, code: str) -> list[Due]:
    return [one for one in due(facts) if one.code == code]


def test_every_reason_of_a_colony_stands_in_this_table():
    assert set(TABLE) == {code for code, figures in reason_figures().items() if figures.scope == "colony"}


@pytest.mark.parametrize("code", TABLE)
def test_each_reason_is_tripped_and_just_not(code):
    trips, on, just_not = TABLE[code]
    assert of(trips, code)[0].due_on == on
    assert of(just_not, code) == []


@pytest.mark.parametrize("code", TABLE)
def test_each_reason_says_why_and_from_which_fact(code):
    (first, *_rest) = of(TABLE[code][0], code)
    assert first.why
    assert first.what
    assert first.fact in list(Fact)
    assert first.fact_on is not None


@pytest.mark.parametrize("code", TABLE)
def test_each_reason_can_be_switched_off_unless_it_must_stand(code):
    if reason_figures()[code].always:
        with pytest.raises(ValueError, match="is always shown"):
            with_own(default_settings(), {}, [code])
        return
    off = with_own(default_settings(), {}, [code])
    assert [one for one in due(TABLE[code][0], off) if one.code == code] == []


@pytest.mark.parametrize("one", adjustables(), ids=lambda one: one.name)
def test_each_figure_of_the_farm_moves_its_reason_or_is_within_bounds(one):
    own: int | str = "02-03" if one.unit == "day" else one.most
    changed = with_own(default_settings(), {one.name: own})
    assert changed != default_settings()
    assert one.reason in reason_figures()
    assert one.source
    if one.unit != "day":
        assert one.least <= one.shipped <= one.most
        for wrong in (one.least - 1, one.most + 1):
            with pytest.raises(ValueError, match=f"{one.words}: from"):
                with_own(default_settings(), {one.name: wrong})


def test_a_figure_that_is_not_the_farms_is_refused():
    for own in ({"summer_months": 3}, {"swarm_from": "02-30"}, {"swarm_from": 4}):
        with pytest.raises(ValueError):  # each with its own sentence
            with_own(default_settings(), own)
    with pytest.raises(ValueError, match="there is no reason bees"):
        with_own(default_settings(), {}, ["bees"])


def test_the_rearing_calendar_falls_due_step_by_step_and_goes_as_cells_are_counted():
    """A graft of 1 June: ripe cells placed on the 11th, laying about the 25th, caught on day 35."""
    steps = {one.what: one.due_on for one in of(replace(GOOD, grafts=(Grafted(GRAFT),)), "graft")}
    assert steps["count the cells accepted, move to the finisher"] == date(2026, 6, 2)
    assert steps["place the ripe cells"] == date(2026, 6, 11)
    assert steps["look for eggs"] == date(2026, 6, 25)
    left = of(replace(GOOD, grafts=(Grafted(GRAFT, taken=True),)), "graft")
    assert [one.due_on.day for one in left] == [10, 11, 25, 29, 6]


def test_a_colony_found_without_brood_in_november_has_its_oxalic_acid_a_week_on():
    """Once, broodless: Animal and Plant Health Agency. Laying stopped on 1 November leaves no brood on the 22nd."""
    facts = replace(
        LATE, looked=date(2026, 11, 22), visited=date(2026, 11, 22), broodless_on=date(2026, 11, 22)
    )
    (one,) = of(facts, "oxalic")
    assert (one.due_on, one.why) == (date(2026, 11, 29), "no brood on 22 Nov")


def test_a_count_is_due_sooner_the_nearer_the_line_but_never_the_next_day():
    """2 % is 3 % after 33 × log2(1.5) = 19.3 days; 2.9 % after 1.6, but a count within a fortnight says little."""
    near = {two: of(replace(GOOD, mites_hundredths=two), "count")[0] for two in (200, 290)}
    assert near[200].due_on == date(2026, 5, 10)
    assert near[290].due_on == date(2026, 5, 4)
    assert near[200].why == "2.0 % on 20 Apr doubles in about 33 days: 3 % about 10 May"


def test_a_drop_of_200_mites_reaches_a_thousand_in_77_days():
    """Projection with 33-day doubling: 200 → 1,000 after 77 days; the usual count after 75 comes before."""
    drop = replace(GOOD, mites_hundredths=None, mites_estimate=400, mites_on=date(2026, 5, 1))
    assert of(drop, "count")[0].due_on == date(2026, 5, 1) + timedelta(days=44)
    drop = replace(drop, mites_estimate=200)
    assert of(drop, "count")[0].due_on == date(2026, 5, 1) + timedelta(days=75)
