"""Lines of one round that name each other's hives."""

from __future__ import annotations

from beeledger.base.findings import Grade
from beeledger.rules.rounds.entry import Entry, Outcome, Split
from beeledger.rules.rounds.partners import check_partners

CARRIED = {"433": "Perry Tree", "445": "Perry Tree", "455": "Perry Tree", "900": "Lime Walk"}
LOOKED = Entry(outcome=Outcome.LOOKED)


def _told(*lines):
    return [(found.where.row, found.grade, found.what) for found in check_partners(lines, CARRIED)]


def test_a_hive_united_with_its_neighbour_is_in_order():
    assert _told(("445", LOOKED), ("455", Entry(united_into="445"))) == []


def test_a_hive_united_with_an_unknown_one_is_asked_about():
    assert _told(("455", Entry(united_into="544"))) == [(0, Grade.AGAINST, "no colony has the mark 544")]


def test_a_hive_united_with_a_split_of_the_same_day_is_in_order():
    assert _told(("445", Entry(split_to=(Split("626"),))), ("455", Entry(united_into="626"))) == []


def test_a_hive_cannot_be_united_with_one_that_is_dead_tonight():
    assert _told(("445", Entry(outcome=Outcome.DEAD)), ("455", Entry(united_into="445"))) == [
        (1, Grade.REFUSED, "united into 445, which is dead tonight")
    ]


def test_two_hives_cannot_be_united_with_each_other():
    lines = (("445", Entry(united_into="455")), ("455", Entry(united_into="445")))
    assert _told(*lines) == [(0, Grade.REFUSED, "united in a ring"), (1, Grade.REFUSED, "united in a ring")]


def test_a_chain_of_unites_is_no_ring():
    lines = (("433", Entry(united_into="445")), ("445", Entry(united_into="455")), ("455", LOOKED))
    assert _told(*lines) == []


def test_a_frame_of_brood_from_an_unknown_hive_is_asked_about():
    assert _told(("455", Entry(brood_given_from="999"))) == [(0, Grade.AGAINST, "no colony has the mark 999")]
    assert _told(("455", Entry(brood_given_from="900"))) == []


def test_a_frame_of_brood_from_a_hive_that_was_not_found_is_odd():
    assert _told(("433", Entry(outcome=Outcome.NOT_FOUND)), ("455", Entry(brood_given_from="433"))) == [
        (1, Grade.DOUBTFUL, "brood from 433, which is not found tonight")
    ]


def test_a_split_may_not_take_a_mark_in_use_unasked():
    assert _told(("445", Entry(split_to=(Split("900"), Split("901"))))) == [
        (0, Grade.AGAINST, "900 is a colony at Lime Walk")
    ]
