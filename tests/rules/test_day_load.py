"""What a van takes along and minds follows from what is due on its way: common practice, no source."""

from __future__ import annotations

from beeledger.base.resources import table
from beeledger.rules.day_load import cautions, take_along
from beeledger.rules.due import reason_figures


def test_supers_are_taken_where_they_are_wanted_and_two_people_lift_them():
    assert take_along({"super": 5}) == ("supers with frames, excluders: up to 5 hives",)
    assert cautions({"super": 5})[0] == "Full supers, drums and sacks are lifted by two people."


def test_a_caution_that_holds_twice_is_said_once():
    assert len(cautions({"super": 5, "light": 2})) == 2


def test_acids_bring_gloves_goggles_and_mask_as_the_label_says():
    (own, always) = cautions({"oxalic": 1})
    assert "gloves, goggles and mask as the label says" in own
    assert "Sting kit" in always


def test_the_sting_kit_goes_along_whatever_is_due():
    assert take_along({}) == ()
    assert len(cautions({})) == 1


def test_feed_for_light_hives_and_refills_is_one_line():
    assert take_along({"light": 2, "refill": 3}) == ("feed and feeders: up to 5 hives",)


def test_every_reason_named_in_the_load_is_one_of_the_rule_table():
    named = {code for row in table("rules", "day_plan.toml")["load"]["take"] for code in row["codes"]}
    assert named <= set(reason_figures())
