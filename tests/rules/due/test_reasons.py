"""When a colony falls due. The periods are common practice without a source; the dates are reckoned by hand.

What has a source is checked where it stands: cells and virgins in ``test_queens``, mites in
``test_mites``, stores in ``test_stores``.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from time import thread_time

import pytest

from beeledger.rules.due import ColonyFacts, default_settings, due

LOOKED = date(2026, 5, 5)
GOOD = ColonyFacts(
    colony=1,
    since=date(2024, 6, 1),
    looked=LOOKED,
    visited=LOOKED,
    queen_state="right",
    queen_seen=LOOKED,
    stores_g=9_000,
    stores_on=LOOKED,
    mites_hundredths=100,
    mites_on=date(2026, 4, 20),
)


def dated(facts: ColonyFacts) -> dict[str, date]:
    return {one.code: one.due_on for one in due(facts)}


def why(facts: ColonyFacts, code: str) -> str:
    return next(one.why for one in due(facts) if one.code == code)


def test_a_good_colony_in_may_has_its_swarm_check_and_its_next_count():
    # 1 % doubles in 33 days (Managing Varroa, 80 % made good in 2.5 months): 3 % after 33 × log2(3) = 52.3, so 53 days.
    assert dated(GOOD) == {"swarm_check": date(2026, 5, 12), "count": date(2026, 6, 12)}
    assert why(GOOD, "swarm_check") == "last opened 5 May 2026, every 7 days"


def test_a_clipped_queen_gives_two_more_days():
    assert dated(replace(GOOD, clipped=True))["swarm_check"] == date(2026, 5, 14)


def test_a_typed_day_stands_above_the_seven():
    facts = replace(GOOD, next_on=date(2026, 5, 15))
    assert dated(facts)["swarm_check"] == date(2026, 5, 15)
    assert "action" not in dated(facts)
    assert why(facts, "swarm_check") == "asked for at the look of 5 May"


def test_a_typed_day_that_a_look_has_answered_is_gone():
    assert dated(replace(GOOD, next_on=date(2026, 5, 5)))["swarm_check"] == date(2026, 5, 12)


def test_a_typed_action_is_due_beside_the_swarm_check():
    facts = replace(GOOD, next_on=date(2026, 5, 8), next_action="unite to 14")
    assert next((one.code, one.what, one.due_on) for one in due(facts)) == (
        "action",
        "unite to 14",
        date(2026, 5, 8),
    )
    assert dated(facts)["swarm_check"] == date(2026, 5, 12)


@pytest.mark.parametrize(
    ("looked", "check"),
    [
        (date(2026, 3, 10), date(2026, 4, 1)),
        (date(2026, 7, 24), date(2026, 7, 31)),
        (date(2026, 7, 25), date(2027, 4, 1)),
        (date(2026, 11, 1), date(2027, 4, 1)),
    ],
)
def test_swarm_checks_keep_to_their_season(looked, check):
    assert dated(replace(GOOD, looked=looked))["swarm_check"] == check


def test_the_farm_may_have_another_season():
    own = replace(default_settings(), swarm_until=(8, 15))
    codes = {one.code: one.due_on for one in due(replace(GOOD, looked=date(2026, 7, 25)), own)}
    assert codes["swarm_check"] == date(2026, 8, 1)


def test_nuclei_and_colonies_with_a_virgin_have_no_swarm_check():
    assert "swarm_check" not in dated(replace(GOOD, kind="nucleus"))
    assert "swarm_check" not in dated(replace(GOOD, queen_state="virgin"))


def test_sealed_cells_with_nothing_done_are_due_the_day_after():
    assert dated(replace(GOOD, cells="sealed"))["cells"] == date(2026, 5, 6)
    assert dated(replace(GOOD, cells="open"))["cells"] == date(2026, 5, 8)
    for quiet in (replace(GOOD, cells="sealed", cells_done="cut all"), replace(GOOD, cells="supersedure")):
        assert "cells" not in dated(quiet)


def test_strips_are_due_out_at_the_end_of_their_course():
    facts = replace(GOOD, strips_in=date(2026, 3, 20), strips_out_by=date(2026, 5, 1))
    assert dated(facts)["strips_out"] == date(2026, 5, 1)
    assert "count" not in dated(facts)
    assert "strips_out" not in dated(GOOD)


def test_a_light_colony_is_fed_within_two_days():
    assert dated(replace(GOOD, stores_g=4_900))["light"] == date(2026, 5, 7)
    assert "light" not in dated(replace(GOOD, stores_g=5_000))
    assert "light" not in dated(replace(GOOD, stores_g=None))
    assert (
        why(replace(GOOD, stores_g=4_900), "light")
        == "4.9 kg of stores on 5 May, less than 5.0 kg is light then; "
        "by the usual use of the months gone about 5 Aug"
    )


def test_stores_enough_in_july_fall_due_when_august_comes():
    assert dated(replace(GOOD, stores_g=6_000, stores_on=date(2026, 7, 20)))["light"] == date(2026, 8, 1)


def test_a_full_super_or_a_full_brood_box_wants_a_super():
    assert dated(replace(GOOD, supers=1, super_fullness_tenths=7))["super"] == date(2026, 5, 8)
    assert dated(replace(GOOD, bees_tenths=90))["super"] == date(2026, 5, 8)
    for quiet in (
        replace(GOOD, supers=1, super_fullness_tenths=6),
        replace(GOOD, bees_tenths=89),
        replace(GOOD, bees_tenths=90, supers=1),
        replace(GOOD, bees_tenths=90, looked=date(2026, 9, 1)),
        replace(GOOD, bees_tenths=90, strips_in=date(2026, 5, 1)),
    ):
        assert "super" not in dated(quiet)


def test_a_virgin_is_looked_at_when_she_should_lay():
    facts = replace(GOOD, queen_state="virgin", queen_state_since=date(2026, 5, 1))
    assert dated(facts)["queen"] == date(2026, 5, 13)


def test_a_colony_left_with_a_sealed_cell_is_looked_at_three_weeks_on():
    """Eight days to emerging at the latest, twelve to laying."""
    facts = replace(
        GOOD, queen_state="cells", queen_state_since=LOOKED, cells="sealed", cells_done="left one"
    )
    assert dated(facts)["queen"] == date(2026, 5, 25)


def test_a_queenless_colony_is_due_within_a_week():
    assert dated(replace(GOOD, queen_state="queenless"))["queenless"] == date(2026, 5, 12)
    assert why(replace(GOOD, queen_state="drone_layer"), "queenless") == "a drone layer on 5 May"


def test_a_queen_unseen_at_later_looks_is_to_be_seen():
    assert dated(replace(GOOD, queen_seen=date(2026, 4, 10)))["queen"] == date(2026, 5, 15)
    assert "queen" not in dated(replace(GOOD, queen_seen=None))


def test_mites_at_the_line_ask_for_a_decision_until_treated():
    high = replace(GOOD, mites_hundredths=300)
    assert dated(high)["treat"] == date(2026, 4, 27)
    assert "treat" not in dated(replace(GOOD, mites_hundredths=299))
    assert "treat" not in dated(replace(high, strips_in=date(2026, 4, 21)))
    treated = dated(replace(high, treated=date(2026, 6, 2)))
    assert ("treat" in treated, treated["count"]) == (False, date(2026, 6, 14))
    assert why(high, "treat") == "3.0 % on 20 Apr, the line is 3 %"


def test_a_drop_that_speaks_of_a_thousand_mites_asks_for_a_decision():
    # The line of about 1,000 mites: Managing Varroa (National Bee Unit); the estimate is checked in ``test_mites``.
    high = replace(GOOD, mites_hundredths=None, mites_estimate=1_000)
    assert dated(high)["treat"] == date(2026, 4, 27)
    assert why(high, "treat") == "about 1,000 mites by the drop of 20 Apr, the line is 1,000"
    assert "treat" not in dated(replace(high, mites_estimate=999))


def test_counts_wait_for_march():
    assert dated(replace(GOOD, mites_on=date(2026, 9, 20)))["count"] == date(2027, 3, 1)


def test_a_colony_nobody_opened_is_due_after_four_weeks():
    facts = replace(GOOD, looked=date(2026, 8, 1), queen_seen=date(2026, 8, 1))
    assert dated(facts)["unseen"] == date(2026, 8, 29)
    assert why(facts, "unseen") == "last opened 1 Aug 2026"


def test_over_the_winter_a_heft_every_two_months_is_enough():
    autumn = replace(GOOD, looked=date(2026, 9, 20), queen_seen=date(2026, 9, 20))
    assert dated(autumn)["unseen"] == date(2026, 11, 19)
    assert dated(replace(autumn, visited=date(2026, 12, 1)))["unseen"] == date(2027, 1, 30)
    assert dated(replace(autumn, visited=date(2027, 2, 20)))["unseen"] == date(2027, 3, 29)


def test_a_swarm_check_makes_nobody_looked_idle():
    assert "unseen" not in dated(GOOD)


def test_a_colony_never_opened_counts_from_the_day_it_came():
    facts = ColonyFacts(colony=2, kind="nucleus", since=date(2026, 6, 1))
    assert dated(facts) == {"unseen": date(2026, 6, 29)}
    assert why(facts, "unseen") == "never opened since it is in the record"


def test_a_colony_of_which_nothing_is_known_makes_no_reasons():
    assert due(ColonyFacts(colony=3)) == []


def test_a_hive_not_found_is_looked_for_the_next_day_until_it_is_seen():
    assert dated(replace(GOOD, not_found=date(2026, 5, 9)))["not_found"] == date(2026, 5, 10)
    assert "not_found" not in dated(replace(GOOD, not_found=date(2026, 5, 1)))


def test_a_question_for_the_crew_is_asked_the_next_day():
    facts = replace(GOOD, question="is this 41 or 47?")
    assert [(one.what, one.due_on) for one in due(facts) if one.code == "question"] == [
        ("is this 41 or 47?", date(2026, 5, 6))
    ]


def test_two_thousand_colonies_take_no_time():
    start = thread_time()
    for number in range(2_000):
        due(replace(GOOD, colony=number, cells="sealed", stores_g=4_000, mites_hundredths=400))
    # Measured at about 0.04 s; a slow machine gets room.
    assert thread_time() - start < 1.0
