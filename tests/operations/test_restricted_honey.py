"""Honey, frames and bees of a restricted site: supers taken, jars sent, brood given and bees united elsewhere."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest

from beeledger.base.errors import Refused
from beeledger.base.findings import Grade
from beeledger.database.ledger import Ledger
from beeledger.model.honey import Take
from beeledger.model.moves import Move
from beeledger.model.restrictions import LicenceUse
from beeledger.operations.act import perform
from beeledger.operations.colony_acts import BoxChange, change_boxes
from beeledger.operations.colony_making import (
    Daughter,
    Gift,
    Uniting,
    give_frames,
    split_colony,
    unite_colonies,
)
from beeledger.operations.colony_work import Answers
from beeledger.operations.dispatches import DispatchLine, NewDispatch, post_dispatch
from beeledger.operations.honey_lots import NewSink, sink_honey
from beeledger.operations.restrictions import NewRestriction, Release, impose_restriction, release_restriction
from beeledger.operations.rounds import Line, correct_round, post_round
from beeledger.operations.takes import NewTake, NewTakeLine, record_take
from beeledger.operations.undo import undo
from beeledger.rules.restrictions import ALL_OUT, Licence, Stops
from beeledger.rules.rounds.entry import Entry, Outcome, Split
from tests.builders.yards import LOOKED, Yard, rows, sound, yard
from tests.operations import honey_room as room

LICENCE = Licence("L 3/26")
EARLY = date(2026, 5, 2)


def impose(ledger: Ledger, site: int, on: date, stops: Stops = ALL_OUT) -> int:
    new = NewRestriction("American foul brood suspected", on, site_id=site, stops=stops)
    return int(perform(ledger, impose_restriction, new).result)


def asked(act: Callable[[], object]) -> list[tuple[int | None, str, str]]:
    with pytest.raises(Refused) as caught:
        act()
    assert {finding.grade for finding in caught.value.findings} == {Grade.AGAINST}
    return [(one.where.row, one.where.field, one.what.split("): ")[-1]) for one in caught.value.findings]


def test_supers_are_taken_from_a_restricted_site_by_licence_alone(sqlite_ledger: Ledger) -> None:
    site, other = room.farm(sqlite_ledger)
    impose(sqlite_ledger, site, EARLY)
    new = NewTake(site, room.TAKEN, (NewTakeLine(1),))
    assert asked(lambda: perform(sqlite_ledger, record_take, new)) == [
        (None, "licence", "no supers out of Long Drove")
    ]
    perform(sqlite_ledger, record_take, replace(new, site_id=other))
    take = perform(sqlite_ledger, record_take, replace(new, licence=LICENCE)).result
    assert [(use.take_id, use.licence) for use in rows(sqlite_ledger, LicenceUse)] == [(take, "L 3/26")]
    assert sound(sqlite_ledger)


def test_supers_may_be_taken_where_only_bees_are_stopped(sqlite_ledger: Ledger) -> None:
    site, _ = room.farm(sqlite_ledger)
    impose(sqlite_ledger, site, EARLY, Stops(comb=False, honey=False, boxes=False, tools=False))
    perform(sqlite_ledger, record_take, NewTake(site, room.TAKEN, (NewTakeLine(1),)))
    assert sound(sqlite_ledger)


def test_honey_taken_after_the_notification_goes_out_by_licence_however_often_it_was_run_together(
    ledger: Ledger,
) -> None:
    there = room.extracted(ledger)
    new = NewRestriction("suspected", EARLY, site_id=there.sites[0], licence=LICENCE)
    number = perform(ledger, impose_restriction, new).result
    out = NewDispatch(room.JARRED, (DispatchLine(there.drums[0]),), "Wold Shop")
    assert asked(lambda: perform(ledger, post_dispatch, out)) == [(None, "licence", "no honey of Long Drove")]
    gift = NewSink(there.drums[1], room.JARRED, "gift", 500)
    asked(lambda: perform(ledger, sink_honey, gift))
    sent = perform(ledger, post_dispatch, replace(out, licence=LICENCE)).result
    perform(ledger, sink_honey, replace(gift, licence=LICENCE))
    uses = rows(ledger, LicenceUse)
    assert uses[0].take_id == there.takes[0]
    assert sent in [use.dispatch_id for use in uses]
    perform(ledger, release_restriction, Release(number, date(2026, 5, 13), "R 1/26", minute=0))
    perform(ledger, sink_honey, replace(gift, on=date(2026, 5, 14)))
    assert sound(ledger)


def test_honey_that_had_left_before_the_notification_goes_out_freely(sqlite_ledger: Ledger) -> None:
    there = room.extracted(sqlite_ledger)
    impose(sqlite_ledger, there.sites[0], date(2026, 5, 5))
    perform(
        sqlite_ledger, post_dispatch, NewDispatch(room.JARRED, (DispatchLine(there.drums[0]),), "Wold Shop")
    )
    assert sound(sqlite_ledger)


@pytest.fixture
def yards(sqlite_ledger: Ledger) -> tuple[Yard, Yard]:
    """Two yards, of which the first is restricted."""
    long, far = yard(sqlite_ledger, "Long Drove", "1", "2", "3"), yard(sqlite_ledger, "Far Drove", "21", "22")
    impose(sqlite_ledger, long.site, EARLY)
    return long, far


def test_a_round_asks_line_by_line_and_the_reason_is_the_licence(yards: tuple[Yard, Yard]) -> None:
    long, _ = yards
    off = Entry(outcome=Outcome.LOOKED, supers_on=0, supers_off=1)
    line = Line(off, long.hives["1"], accepted=frozenset({"rounds.supers_off_never_on", "rounds.restricted"}))
    assert (1, "supers_off", "no supers out of Long Drove") in asked(lambda: long.post(h1=line, h2=LOOKED))
    posted = long.post(h1=replace(line, reason="L 3/26"), h2=LOOKED)
    (take,) = rows(long.ledger, Take)
    assert [(use.take_id, use.licence) for use in rows(long.ledger, LicenceUse)] == [(take.id, "L 3/26")]
    assert sound(long.ledger)
    undo(long.ledger, posted.act)
    assert rows(long.ledger, LicenceUse) == []


def test_a_frame_given_to_another_site_is_asked_about_and_within_the_site_it_is_not(
    yards: tuple[Yard, Yard],
) -> None:
    long, far = yards
    given = Entry(outcome=Outcome.LOOKED, eggs=True, brood_given_tenths=10, brood_given_from="1")
    assert asked(lambda: far.post(h21=given)) == [(1, "brood_given_from", "no combs out of Long Drove")]
    far.post(h21=Line(given, far.hives["21"], reason="L 4/26"))
    long.post(h2=given)
    (use,) = rows(long.ledger, LicenceUse)
    assert (use.transfer_id is not None, use.licence, use.what) == (True, "L 4/26", "combs out of Long Drove")
    assert sound(long.ledger)


def test_bees_united_with_or_split_to_a_hive_elsewhere_are_asked_about(yards: tuple[Yard, Yard]) -> None:
    long, far = yards
    united, split = Entry(eggs=False, united_into="21"), Entry(eggs=True, split_to=(Split("22", 20, 30),))
    elsewhere = frozenset({"rounds.united_elsewhere"})
    with pytest.raises(Refused) as caught:
        long.post(h1=Line(united, long.hives["1"], accepted=elsewhere), h2=split)
    restricted = [one for one in caught.value.findings if one.code == "rounds.restricted"]
    assert [(one.where.row, one.where.field) for one in restricted] == [(1, "united_into"), (2, "split_to")]
    assert far.line("22") is not None


def test_a_hive_found_elsewhere_that_should_stand_there_is_asked_about(yards: tuple[Yard, Yard]) -> None:
    long, far = yards
    found = Line(LOOKED, mark="3", accepted=frozenset({"rounds.stands_elsewhere"}))
    assert asked(lambda: far.post(h21=LOOKED, h3=found)) == [(2, "outcome", "no hives out of Long Drove")]
    far.post(h21=LOOKED, h3=replace(found, reason="told M Okoro, 15 May"))
    (move,) = rows(long.ledger, Move)
    assert [use.move_id for use in rows(long.ledger, LicenceUse)] == [move.id]
    assert sound(long.ledger)


def test_a_corrected_round_keeps_one_licence_for_what_it_took(yards: tuple[Yard, Yard]) -> None:
    long, _ = yards
    long.post(date(2026, 5, 1), h1=Entry(outcome=Outcome.LOOKED, supers_on=2))
    off = Line(Entry(outcome=Outcome.LOOKED, supers_off=1), long.hives["1"], reason="L 3/26")
    first = long.round((off,))
    number = perform(long.ledger, post_round, first).result.round_id
    two = replace(off, entry=Entry(outcome=Outcome.LOOKED, supers_off=2), reason="L 5/26")
    perform(long.ledger, correct_round, number, replace(first, lines=(two,)))
    assert [use.licence for use in rows(long.ledger, LicenceUse)] == ["L 5/26"]
    none = replace(two, entry=LOOKED, reason=None)
    perform(long.ledger, correct_round, number, replace(first, lines=(none,)))
    assert rows(long.ledger, LicenceUse) == []
    assert sound(long.ledger)


def test_a_frame_given_at_the_desk_to_a_hive_elsewhere_wants_its_licence_too(
    yards: tuple[Yard, Yard],
) -> None:
    long, far = yards
    gift, on = Gift(long.hives["1"], brood_tenths=10), date(2026, 5, 12)
    apart = Answers(frozenset({"colony.apart"}))
    with pytest.raises(Refused) as caught:
        perform(long.ledger, give_frames, on, gift, [far.hives["21"]], apart)
    (asks,) = caught.value.findings
    assert (asks.code, asks.where.field) == ("rounds.restricted", "reason")
    perform(long.ledger, give_frames, on, gift, [far.hives["21"]], replace(apart, reason="L 6/26"))
    perform(long.ledger, give_frames, on, gift, [long.hives["2"]])
    assert [use.licence for use in rows(long.ledger, LicenceUse)] == ["L 6/26"]
    assert sound(long.ledger)


def test_on_the_day_it_began_the_desk_is_asked_about_bees_and_combs_as_a_round_is(
    yards: tuple[Yard, Yard],
) -> None:
    long, far = yards
    one, answers = long.hives["1"], Answers(frozenset({"colony.apart"}))
    new = Daughter("31", far.site, (Gift(one, brood_tenths=20),))
    acts: tuple[tuple[Callable[..., str], tuple[Any, ...]], ...] = (
        (give_frames, (EARLY, Gift(one, brood_tenths=10), [far.hives["21"]])),
        (split_colony, (EARLY, [new])),
        (unite_colonies, (EARLY, Uniting((long.hives["2"],), far.hives["21"]))),
    )
    for operation, said in acts:
        with pytest.raises(Refused, match="out of Long Drove"):
            perform(long.ledger, operation, *said, answers)
        perform(long.ledger, operation, *said, replace(answers, reason="L 7/26"))
    assert len(rows(long.ledger, LicenceUse)) == len(acts)
    assert sound(long.ledger)


def test_supers_off_at_the_desk_stay_at_a_restricted_site_or_go_by_a_take_under_its_licence(
    yards: tuple[Yard, Yard],
) -> None:
    long, _ = yards
    hive = [long.hives["1"]]
    perform(long.ledger, change_boxes, hive, EARLY - timedelta(days=1), BoxChange(supers=2))
    empty = Answers(frozenset({"colony.supers_off"}), "empty")
    with pytest.raises(Refused, match="no supers out of Long Drove"):
        perform(long.ledger, change_boxes, hive, EARLY, BoxChange(supers=0), empty)
    stay = replace(empty, accepted=empty.accepted | {"colony.restricted"})
    perform(long.ledger, change_boxes, hive, EARLY, BoxChange(supers=0), stay)
    assert sound(long.ledger)


def test_a_round_whose_take_got_its_licence_with_the_restriction_can_still_be_put_right(
    ledger: Ledger,
) -> None:
    long = yard(ledger, "Long Drove", "1", "2")
    line = Line(Entry(outcome=Outcome.LOOKED, supers_off=1), long.hives["1"], accepted=frozenset({"rounds.supers_off_never_on"}))  # fmt: skip
    number = long.post(h1=line, h2=LOOKED).result.round_id
    new = NewRestriction("American foul brood suspected", EARLY, site_id=long.site, licence=LICENCE)
    perform(ledger, impose_restriction, new)
    assert [use.licence for use in rows(ledger, LicenceUse)] == ["L 3/26"]
    nothing = long.round((replace(line, entry=LOOKED),))
    corrected = perform(ledger, correct_round, number, nothing)
    assert (rows(ledger, LicenceUse), rows(ledger, Take)) == ([], [])
    assert sound(ledger)
    undo(ledger, corrected.act)
    assert [use.licence for use in rows(ledger, LicenceUse)] == ["L 3/26"]
    assert sound(ledger)
