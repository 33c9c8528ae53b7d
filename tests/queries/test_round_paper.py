"""A posted round and a site's sheet as records for paper."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from zoneinfo import ZoneInfo

import pytest

from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.rounds import Line, post_round
from beeledger.queries.records.round_sheet import LastFigures
from beeledger.queries.records.round_summary import RoundFinding, SummaryLine
from beeledger.queries.round_paper import printed_sheet, round_summary
from beeledger.rules.rounds.entry import Cause, CellStage, Entry, FeedKind, Outcome, QueenState, Split
from tests.builders.yards import DAY, LOOKED, Yard, strips, yard

EARLIER = date(2026, 5, 4)


@pytest.fixture
def drove(ledger: Ledger) -> Yard:
    return yard(ledger, "Long Drove", "1", "2", "3")


def test_the_summary_says_every_line_the_sums_and_the_reasons(drove: Yard) -> None:
    strips(drove.ledger)
    drove.post(EARLIER, h1=Entry(supers_on=1, brood_tenths=60))
    lines = (
        Line(
            Entry(
                queen_state=QueenState.RIGHT, queen_seen=True, eggs=True, brood_tenths=0, stores_g=5000, temper=2,
                cells_stage=CellStage.OPEN, cells_count=3, medicine_in_count=2, mites_count=4, mites_bees=300,
                feed_kind=FeedKind.SYRUP_1_1, feed_ml=2000, next_days=7, note="gate",
            ),
            mark="1", reason="super is empty",
        ),
        Line(Entry(outcome=Outcome.DEAD, cause=Cause.STARVATION), mark="2"),
        Line(Entry(eggs=False, split_to=(Split("9", 20),), feed_kind=FeedKind.SYRUP_1_1, feed_ml=2000), mark="3"),
    )  # fmt: skip
    new = replace(drove.round(lines), crew="AB, CD", weather="dry, 16 °C", note="gate code changed")
    done = perform(drove.ledger, post_round, new)
    with drove.ledger.read() as session:
        said = round_summary(session, done.result.round_id)
    assert said.lines == (
        SummaryLine(
            "1", "", "right, seen", "seen", 0, None, "5 kg", 2, "3 open", None, "2 l 1:1", "2 in",
            "4 in 300", date(2026, 5, 21), "gate",
        ),
        SummaryLine("2", "dead, starvation"),
        SummaryLine("3", eggs="none", feed="2 l 1:1", note="split to 9"),
    )  # fmt: skip
    zone = ZoneInfo("Europe/London")
    assert (said.begun, said.ended) == (
        datetime(2026, 5, 14, 10, 0, tzinfo=zone),
        datetime(2026, 5, 14, 12, 0, tzinfo=zone),
    )
    assert (said.site, said.day, said.crew, said.posted_by, said.act) == (
        "Long Drove",
        DAY,
        "AB, CD",
        "office",
        done.act,
    )
    assert said.whole_site == ("all fed 2 l 1:1", "gate code changed")
    assert ("Looked at", "2 of 3", "hives") in said.sums
    assert ("Liquid feed", "4", "l") in said.sums
    assert said.findings[0] == RoundFinding("1", "against", "posted against the record", "super is empty")
    assert RoundFinding("1", "doubtful", "no brood, 6 frames last time") in said.findings


def test_the_printed_sheet_carries_last_figures_and_what_is_due(drove: Yard) -> None:
    drove.post(
        EARLIER,
        h1=Entry(
            queen_seen=True,
            eggs=True,
            brood_tenths=75,
            bees_tenths=110,
            stores_tenths=20,
            temper=1,
            supers_on=2,
        ),
    )
    drove.post(EARLIER, h2=Entry(outcome=Outcome.DEAD))
    with drove.ledger.read() as session:
        sheet = printed_sheet(session, drove.site, DAY)
    assert [line.hive for line in sheet.lines] == ["1", "3"]
    first = sheet.lines[0]
    assert first.last == LastFigures(
        queen="q", eggs="e", brood="7.5", bees="11", stores="2 fr.", temper="1", supers="+2"
    )
    assert (first.queen_colour, first.queen) == ("blue", "blue '25")
    assert first.due.startswith("light, swarm check")
    assert sheet.last_visit == EARLIER
    assert sheet.lines[1].last == LastFigures()


def test_a_line_not_looked_at_is_blank_everywhere(drove: Yard) -> None:
    done = drove.post(h1=LOOKED)
    with drove.ledger.read() as session:
        (line,) = round_summary(session, done.result.round_id).lines
    assert line == SummaryLine("1", eggs="seen")


def test_the_sheet_says_how_a_hive_stands_without_a_laying_queen(drove: Yard) -> None:
    drove.post(EARLIER, h1=Entry(queen_state=QueenState.VIRGIN), h2=Entry(queen_state=QueenState.QUEENLESS))
    with drove.ledger.read() as session:
        first, second, third = printed_sheet(session, drove.site, DAY).lines
    assert (first.queen, first.queen_colour) == ("virgin", "")
    assert (second.queen, second.queen_colour) == ("none", "")
    assert third.queen == "blue '25"
