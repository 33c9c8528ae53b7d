"""A restricted place: nothing leaves it without a licence, whichever act would carry it, until it is released."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from beeledger.base.errors import Refused
from beeledger.database.checking.check import check_ledger
from beeledger.database.ledger import Ledger
from beeledger.model.restrictions import LicenceUse, Restriction
from beeledger.model.sites import Site
from beeledger.operations.act import perform
from beeledger.operations.colonies import end_colonies
from beeledger.operations.colony_making import Gift, give_frames
from beeledger.operations.colony_work import Answers
from beeledger.operations.moves import correct_move, deliver_move, drop_plan, plan_move, post_move
from beeledger.operations.restrictions import (
    NewRestriction,
    Release,
    change_restriction,
    impose_restriction,
    release_restriction,
)
from beeledger.operations.undo import undo
from beeledger.queries.stopped import CODE
from beeledger.rules.restrictions import Licence, Stops
from beeledger.rules.sites import GridReference
from tests.builders.yards import rows, sound, whole
from tests.operations.trips import Farm, farm

BEGAN = date(2026, 4, 20)
NOON = 12 * 60
LICENCE = Licence("L 12/26", "M Okoro", date(2026, 4, 22), "to a quarantine site")
OUT = date(2026, 4, 22)


@pytest.fixture
def there(sqlite_ledger: Ledger) -> Farm:
    return farm(sqlite_ledger)


def impose(there: Farm, **more: Any) -> int:
    said = {"reason": "European foul brood suspected", "begins_on": BEGAN, "begins_minute": NOON, **more}
    if not {"site_id", "vehicle_id", "middle"} & said.keys():
        said["site_id"] = there.sites["Home Yard"]
    return int(perform(there.ledger, impose_restriction, NewRestriction(**said)).result)


def asked(act: Callable[[], object]) -> str:
    """What is asked: one thing, answered by a licence and by nothing else."""
    with pytest.raises(Refused) as caught:
        act()
    codes = {finding.code for finding in caught.value.findings if finding.where.field == "licence"}
    assert codes == {CODE}
    return next(finding.what for finding in caught.value.findings if finding.code == CODE)


def test_a_move_out_of_a_restricted_site_wants_a_licence_and_keeps_it(there: Farm) -> None:
    number = impose(there)
    what = asked(lambda: there.post(["1", "2"], "Home Yard", "Ladder Hill", OUT))
    assert what == "Restricted since 20 Apr 2026 (European foul brood suspected): no hives out of Home Yard"
    asked(lambda: there.post(["1"], "Home Yard", "Ladder Hill", OUT, accepted=frozenset({CODE})))
    move = there.post(["1", "2"], "Home Yard", "Ladder Hill", OUT, licence=LICENCE)
    (use,) = rows(there.ledger, LicenceUse)
    assert (use.restriction_id, use.move_id, use.licence) == (number, move, "L 12/26")
    assert (use.issued_by, use.issued_on, use.what) == (
        "M Okoro",
        date(2026, 4, 22),
        "hives out of Home Yard",
    )
    assert sound(there.ledger)


def test_what_left_before_the_notification_and_after_the_release_is_not_asked_about(there: Farm) -> None:
    number = impose(there)
    there.post(["1"], "Home Yard", "Ladder Hill", BEGAN, left=NOON - 90, arrived=NOON - 30)
    asked(lambda: there.post(["2"], "Home Yard", "Ladder Hill", BEGAN, left=NOON, arrived=NOON + 30))
    perform(there.ledger, release_restriction, Release(number, date(2026, 5, 2), "R 7/26", minute=NOON))
    on = date(2026, 5, 2)
    asked(lambda: there.post(["2"], "Home Yard", "Ladder Hill", on, left=NOON - 1, arrived=NOON + 30))
    there.post(["2"], "Home Yard", "Ladder Hill", on, left=NOON, arrived=NOON + 30)
    assert sound(there.ledger)


def test_a_move_into_it_is_free_unless_it_says_otherwise(there: Farm) -> None:
    number = impose(there)
    there.post(["21"], "Far Drove", "Home Yard", OUT)
    stops = Stops(inward=True)
    change = NewRestriction("suspected", BEGAN, NOON, there.sites["Home Yard"], stops=stops)
    with pytest.raises(Refused, match="hives were moved on 22 Apr 2026"):
        perform(there.ledger, change_restriction, number, change)
    perform(there.ledger, change_restriction, number, replace(change, licence=LICENCE))
    asked(lambda: there.post(["22"], "Far Drove", "Home Yard", OUT))
    assert sound(there.ledger)


def test_a_hive_that_stands_there_is_asked_about_though_another_place_is_typed(there: Farm) -> None:
    impose(there)
    move = there.move(["1"], "Far Drove", "Ladder Hill", OUT)
    asked(lambda: perform(there.ledger, post_move, move))


def test_a_restricted_vehicle_carries_nothing_from_anywhere(there: Farm) -> None:
    impose(there, vehicle_id=there.van)
    there.post(["21"], "Far Drove", "Ladder Hill", OUT)
    what = asked(lambda: there.post(["22"], "Far Drove", "Ladder Hill", OUT, vehicle_id=there.van))
    assert "may carry no hives" in what
    there.post(["22"], "Far Drove", "Ladder Hill", OUT, vehicle_id=there.van, licence=LICENCE)
    assert sound(there.ledger)


def test_a_circle_stops_the_sites_inside_it_alone(there: Farm) -> None:
    with there.ledger.read() as session:
        home = session.get_one(Site, there.sites["Home Yard"])
        middle = GridReference((home.easting_m or 0) + 900, home.northing_m or 0)
    impose(there, middle=middle, radius_m=1_000)
    asked(lambda: there.post(["1"], "Home Yard", "Ladder Hill", OUT))
    there.post(["21"], "Far Drove", "Ladder Hill", OUT)


def test_a_plan_out_of_it_is_asked_about_and_so_is_its_delivery(there: Farm) -> None:
    impose(there)
    on = date(2026, 5, 20)
    plan = there.move(["1"], "Home Yard", "Ladder Hill", on)
    asked(lambda: perform(there.ledger, plan_move, plan))
    number = perform(there.ledger, plan_move, replace(plan, licence=LICENCE)).result
    really = there.move(["1"], "Home Yard", "Ladder Hill", OUT)
    asked(lambda: perform(there.ledger, deliver_move, number, really))
    perform(there.ledger, deliver_move, number, replace(really, licence=Licence("L 13/26")))
    assert [use.licence for use in rows(there.ledger, LicenceUse)] == ["L 13/26"]
    dropped = perform(there.ledger, plan_move, replace(plan, hives=there.move(["2"], "Home Yard", "Ladder Hill", on).hives, licence=LICENCE)).result  # fmt: skip
    perform(there.ledger, drop_plan, dropped)
    assert len(rows(there.ledger, LicenceUse)) == 1
    assert sound(there.ledger)


def test_an_old_move_corrected_into_it_is_asked_about_and_out_of_it_needs_no_licence_any_more(
    there: Farm,
) -> None:
    move = there.post(["1"], "Home Yard", "Ladder Hill", date(2026, 4, 10))
    impose(there)
    asked(
        lambda: perform(there.ledger, correct_move, move, there.move(["1"], "Home Yard", "Ladder Hill", OUT))
    )
    later = there.move(["1"], "Home Yard", "Ladder Hill", OUT, licence=LICENCE)
    perform(there.ledger, correct_move, move, later)
    perform(
        there.ledger, correct_move, move, there.move(["1"], "Home Yard", "Ladder Hill", date(2026, 4, 12))
    )
    assert rows(there.ledger, LicenceUse) == []
    assert sound(there.ledger)


def test_what_went_out_before_it_was_written_down_is_asked_about_and_named_by_the_check(there: Farm) -> None:
    there.post(["1"], "Home Yard", "Ladder Hill", OUT)
    with pytest.raises(Refused) as caught:
        impose(there)
    assert "hives were moved on 22 Apr 2026" in caught.value.findings[0].what
    impose(there, accepted=frozenset({caught.value.findings[0].code}))
    assert [finding.code for finding in check_ledger(there.ledger).findings] == ["restricted"]


def test_it_ends_by_the_written_release_alone(there: Farm) -> None:
    number = impose(there, expected_end_on=date(2026, 4, 21))
    asked(lambda: there.post(["1"], "Home Yard", "Ladder Hill", OUT))
    for release in (
        Release(number, date(2026, 5, 2), " "),
        Release(number, date(2026, 5, 15), "R 7/26"),
        Release(number, BEGAN, "R 7/26", minute=NOON),
    ):
        with pytest.raises(Refused):
            perform(there.ledger, release_restriction, release)
    perform(there.ledger, release_restriction, Release(number, date(2026, 5, 2), "R 7/26"))
    (row,) = rows(there.ledger, Restriction)
    assert (row.released_on, row.release_reference) == (date(2026, 5, 2), "R 7/26")
    with pytest.raises(Refused, match="already"):
        perform(there.ledger, release_restriction, Release(number, date(2026, 5, 3), "R 8/26"))
    # Without a time of day it holds until that day is over.
    asked(lambda: there.post(["1"], "Home Yard", "Ladder Hill", date(2026, 5, 2)))


def test_a_release_is_not_taken_back_once_hives_have_left(there: Farm) -> None:
    number = impose(there)
    done = perform(there.ledger, release_restriction, Release(number, date(2026, 5, 2), "R 7/26"))
    moved = perform(there.ledger, post_move, there.move(["1"], "Home Yard", "Ladder Hill", date(2026, 5, 4)))
    before = whole(there.ledger)
    with pytest.raises(Refused, match="hives were moved on 4 May 2026 against a restriction"):
        undo(there.ledger, done.act)
    assert whole(there.ledger) == before
    undo(there.ledger, moved.act)
    undo(there.ledger, done.act)
    assert sound(there.ledger)


def test_a_restriction_is_not_taken_back_while_a_licence_stands_on_it(there: Farm) -> None:
    imposed = perform(
        there.ledger, impose_restriction, NewRestriction("suspected", BEGAN, site_id=there.sites["Home Yard"])
    )
    moved = perform(
        there.ledger, post_move, there.move(["1"], "Home Yard", "Ladder Hill", OUT, licence=LICENCE)
    )
    with pytest.raises(Refused):
        undo(there.ledger, imposed.act)
    undo(there.ledger, moved.act)
    assert rows(there.ledger, LicenceUse) == []
    undo(there.ledger, imposed.act)
    assert sound(there.ledger)


@pytest.mark.parametrize(
    ("more", "field"),
    [
        ({"reason": " "}, "reason"),
        ({"stops": Stops(False, False, False, False, False)}, "stops"),
        ({"begins_on": date(2026, 5, 15)}, "begins_on"),
        ({"served_on": date(2026, 4, 19)}, "served_on"),
        ({"expected_end_on": date(2026, 4, 19)}, "expected_end_on"),
        ({"site_id": 99}, "where"),
        ({"vehicle_id": 1, "site_id": 1}, "where"),
        ({"middle": GridReference(339_200, 275_100)}, "radius"),
    ],
)
def test_a_restriction_that_says_too_little_or_too_much_is_refused(
    there: Farm, more: dict[str, Any], field: str
) -> None:
    with pytest.raises(Refused) as caught:
        impose(there, **more)
    assert field in {finding.where.field for finding in caught.value.findings}


def test_a_hive_is_not_sold_out_of_it_but_moved_out_under_the_licence_first(there: Farm) -> None:
    impose(there)
    with pytest.raises(Refused, match="no hives out of Home Yard"):
        perform(there.ledger, end_colonies, [there.hives["1"]], OUT, "sold")
    perform(there.ledger, end_colonies, [there.hives["2"]], OUT, "starvation")
    there.post(["1"], "Home Yard", "Ladder Hill", OUT, licence=LICENCE)
    perform(there.ledger, end_colonies, [there.hives["1"]], OUT, "sold")
    assert sound(there.ledger)


def test_a_restriction_over_a_sale_is_named_by_the_check(there: Farm) -> None:
    perform(there.ledger, end_colonies, [there.hives["1"]], OUT, "sold")
    impose(there)
    assert [finding.what for finding in check_ledger(there.ledger).findings] == [
        "a hive was sold on 22 Apr 2026 against a restriction"
    ]


def test_a_move_written_down_late_that_parts_hives_which_gave_a_frame_is_refused(
    ledger: Ledger,
) -> None:
    there = farm(ledger)
    impose(there)
    one, two = there.hives["1"], there.hives["2"]
    gift = perform(ledger, give_frames, date(2026, 4, 28), Gift(one, brood_tenths=10), [two])
    before = whole(ledger)
    late = there.move(["2"], "Home Yard", "Ladder Hill", date(2026, 4, 25), licence=LICENCE)
    with pytest.raises(Refused, match="by this, bees or combs went to another site on 28 Apr 2026"):
        perform(ledger, post_move, late)
    assert whole(ledger) == before
    undo(ledger, gift.act)
    perform(ledger, post_move, late)
    answers = Answers(frozenset({"colony.apart"}), "L 14/26")
    perform(ledger, give_frames, date(2026, 4, 28), Gift(one, brood_tenths=10), [two], answers)
    assert sound(ledger)


def test_what_was_accepted_as_gone_stands_in_the_way_of_nothing_later(there: Farm) -> None:
    there.post(["1"], "Home Yard", "Ladder Hill", OUT)
    impose(there, accepted=frozenset({"restriction.gone"}))
    there.post(["1"], "Ladder Hill", "Far Drove", date(2026, 4, 28))
    there.post(["21"], "Far Drove", "Ladder Hill", date(2026, 4, 28))
    assert [finding.code for finding in check_ledger(there.ledger).findings] == ["restricted"]
