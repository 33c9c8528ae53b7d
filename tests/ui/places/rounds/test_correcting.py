"""A posted round opened again at the desk and corrected, by keyboard: the old version stays in History."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any

import pytest

from beeledger.database.ledger import Ledger
from beeledger.model.acts import Act
from beeledger.model.colonies import BoxStack
from beeledger.model.honey import TakeLine
from beeledger.model.rounds import Round, RoundEntry
from beeledger.operations.act import perform
from beeledger.operations.rounds import Line, correct_round
from beeledger.operations.undo import undo
from beeledger.queries.records.round_desk import RoundKey
from beeledger.rules.rounds.entry import Entry, Outcome, QueenColour, Split
from tests.builders.yards import LOOKED, Yard, rows, sound, strips, yard
from tests.ui.places.rounds.evening import SINGLE, Typist, double_yard, evening

MARKS = ["301", "302", "305", "308"]
WEEKS_AGO = date(2026, 4, 20)
SEEN = Entry(outcome=Outcome.LOOKED, eggs=True, brood_tenths=60, note="calm")


@pytest.fixture
def fen(sqlite_ledger: Ledger) -> Iterator[Yard]:
    strips(sqlite_ledger)
    place = double_yard(sqlite_ledger, "Fen End", MARKS, boxes=SINGLE)
    yield place
    assert sound(sqlite_ledger)


@pytest.fixture
def desk(fen: Yard, qtbot, tmp_path) -> Iterator[Typist]:
    with evening(fen.ledger, qtbot, tmp_path / "desk") as typist:
        yield typist


def again(desk: Typist, round_id: int) -> Any:
    """The posted round in the grid, as another place opens it."""
    desk.seat.place.show_what(RoundKey(round_id))
    desk.settle()
    return desk.seat.place.pane.sheet


def post(desk: Typist) -> None:
    desk.press("Ctrl+Return")
    desk.settle()


def said(desk: Typist) -> str:
    return desk.seat.said[-1].text


def test_a_round_of_weeks_ago_is_chosen_from_the_list_and_corrected(desk: Typist, fen: Yard):
    done = fen.post(WEEKS_AGO, h301=SEEN, h302=LOOKED)
    fen.post(h301=LOOKED)
    desk.press("Ctrl+O")
    desk.settle()
    desk.press("Down", "Return")
    desk.settle()
    place = desk.seat.place
    sheet = place.pane.sheet
    assert place.visit.text().startswith("Correcting the round of 20 Apr")
    assert place.pane.bar.post.text() == "Post the correction"
    assert [line.mark for line in sheet.lines if not line.empty] == ["301", "302"]
    assert sheet.text(0) == "e b6 ;calm"
    desk.press("F2")
    place.pane.grid.go_to_field(0, "brood_tenths")
    desk.type("8\n")
    post(desk)
    posted = rows(fen.ledger, RoundEntry, round_id=done.result.round_id)
    assert [(row.brood_tenths, row.note) for row in posted] == [(80, "calm"), (None, None)]
    assert [row.kind for row in rows(fen.ledger, Act)][-1] == "correct_round"
    assert place.rounds == {}


def test_what_follows_from_a_round_follows_its_correction(desk: Typist, fen: Yard):
    fen.post(date(2026, 4, 10), h301=Entry(supers_on=2))
    done = fen.post(WEEKS_AGO, h301=Entry(supers_off=2), h302=LOOKED)
    fen.post(h301=Entry(supers_on=1))
    again(desk, done.result.round_id)
    desk.press("Ctrl+A")
    desk.lines("ol-1")
    post(desk)
    assert [row.supers for row in rows(fen.ledger, TakeLine)] == [1]
    newest = max(rows(fen.ledger, BoxStack, colony_id=fen.hives["301"]), key=lambda row: (row.on, row.id))
    assert newest.supers == 2 + 2 - 1 + 1


def test_the_round_is_opened_once_and_its_draft_is_kept(desk: Typist, fen: Yard, qtbot, tmp_path):
    done = fen.post(WEEKS_AGO, h301=SEEN)
    sheet = again(desk, done.result.round_id)
    desk.press("Ctrl+A")
    desk.lines("n")
    assert again(desk, done.result.round_id) is sheet
    assert len(desk.seat.place.rounds) == 1
    assert [draft.body["head"]["corrects"] for draft in desk.seat.desk.drafts.drafts("round")] == [
        done.result.round_id
    ]


def test_a_correction_goes_whole_and_a_line_that_holds_holds_it(desk: Typist, fen: Yard):
    done = fen.post(WEEKS_AGO, h301=SEEN, h302=LOOKED)
    again(desk, done.result.round_id)
    desk.press("Ctrl+A")
    desk.lines("14")
    assert not desk.seat.place.pane.bar.rest.isVisible()
    desk.press("Ctrl+Shift+Return")
    desk.settle()
    assert [act.kind for act in rows(fen.ledger, Act)][-1] == "post_round"
    assert "1 line holds the posting" in said(desk)
    assert desk.seat.place.pane.grid.row == 0


def test_a_hive_left_out_is_said_before_it_goes(desk: Typist, fen: Yard):
    done = fen.post(WEEKS_AGO, h301=SEEN, h302=LOOKED)
    again(desk, done.result.round_id)
    desk.press("Ctrl+A", "Backspace")
    told = desk.seat.place.pane.bar.words.accessibleName()
    assert "1 hive taken out of the round" in told
    post(desk)
    assert [row.colony_id for row in rows(fen.ledger, RoundEntry)] == [fen.hives["302"]]


def test_a_hive_that_was_forgotten_is_written_in(desk: Typist, fen: Yard):
    done = fen.post(WEEKS_AGO, h301=SEEN, h302=LOOKED)
    again(desk, done.result.round_id)
    desk.press("Ctrl+G")
    desk.type("308\n")
    desk.lines("n8")
    post(desk)
    posted = rows(fen.ledger, RoundEntry, round_id=done.result.round_id)
    assert [row.colony_id for row in posted][-1] == fen.hives["308"]


def test_what_the_posting_accepted_is_not_asked_about_again(desk: Typist, fen: Yard):
    """A colour that corrected the queen's mark, supers that were never on, a split into a hive of the round."""
    blue = Entry(queen_seen=True, queen_colour=QueenColour.RED, outcome=Outcome.LOOKED)
    done = fen.post(
        WEEKS_AGO,
        a=Line(blue, fen.hives["301"], accepted=frozenset({"rounds.other_colour"})),
        b=Line(Entry(supers_off=9), fen.hives["302"], accepted=frozenset({"rounds.supers_off_never_on"})),
        c=Line(Entry(eggs=True, split_to=(Split("309", 20),)), fen.hives["305"]),
        d=Line(SEEN, fen.hives["308"]),
    )
    sheet = again(desk, done.result.round_id)
    assert not any(view.held for view in sheet.views)
    desk.press("Down", "Down", "Down", "Ctrl+A")
    desk.lines("b7")
    post(desk)
    assert [act.kind for act in rows(fen.ledger, Act)][-1] == "correct_round"
    assert rows(fen.ledger, RoundEntry, colony_id=fen.hives["308"])[0].brood_tenths == 70


def test_a_question_of_the_record_stays_with_its_line(desk: Typist, fen: Yard):
    done = fen.post(WEEKS_AGO, h301=SEEN, h302=LOOKED)
    sheet = again(desk, done.result.round_id)
    desk.press("End")
    desk.lines("?stores")
    assert not sheet.views[0].waits
    post(desk)
    assert len(rows(fen.ledger, RoundEntry)) == 2


def test_a_refusal_names_what_stands_on_the_round_and_the_draft_stays(desk: Typist, fen: Yard):
    done = fen.post(WEEKS_AGO, h301=Entry(eggs=True, split_to=(Split("309", 20),)), h302=LOOKED)
    fen.post(x=Line(LOOKED, mark="309"))
    again(desk, done.result.round_id)
    desk.press("Ctrl+A")
    desk.lines("n")
    post(desk)
    assert "on it stands “Posted round, Fen End, 14 May: 1 hive”" in said(desk)
    assert len(desk.seat.place.rounds) == 1


def test_a_round_corrected_at_another_desk_meanwhile_is_not_written_over(desk: Typist, fen: Yard):
    done = fen.post(WEEKS_AGO, h301=SEEN)
    again(desk, done.result.round_id)
    line = Line(Entry(brood_tenths=50, outcome=Outcome.LOOKED), fen.hives["301"])
    perform(fen.ledger, correct_round, done.result.round_id, fen.round((line,), WEEKS_AGO))
    desk.press("Ctrl+A")
    desk.lines("n9")
    post(desk)
    assert "was corrected since it was opened here" in said(desk)
    assert rows(fen.ledger, RoundEntry)[0].brood_tenths == 50


def test_a_correction_taken_back_brings_its_draft_again(desk: Typist, fen: Yard):
    done = fen.post(WEEKS_AGO, h301=SEEN)
    again(desk, done.result.round_id)
    desk.press("Ctrl+A")
    desk.lines("n9")
    post(desk)
    desk.seat.desk.undo(desk.seat.desk.last_done.act)
    desk.settle()
    assert rows(fen.ledger, RoundEntry)[0].brood_tenths == 60
    (one,) = desk.seat.place.rounds.values()
    assert one.head.corrects == done.result.round_id
    post(desk)
    assert rows(fen.ledger, RoundEntry)[0].brood_tenths == 90


def test_an_imported_round_says_why_it_is_left_alone(desk: Typist, fen: Yard):
    def import_looks(act) -> str:
        act.session.add(Round(uid="old", site_id=fen.site, on=WEEKS_AGO, source="import"))
        return "Read old looks"

    perform(fen.ledger, import_looks)
    (old,) = rows(fen.ledger, Round)
    desk.seat.place.show_what(RoundKey(old.id))
    desk.settle()
    assert "cannot be corrected here: it came with an import" in said(desk)
    assert desk.seat.place.rounds == {}


def test_a_round_taken_back_is_no_more(desk: Typist, fen: Yard):
    done = fen.post(WEEKS_AGO, h301=SEEN)
    undo(fen.ledger, done.act)
    desk.seat.place.show_what(RoundKey(done.result.round_id))
    desk.settle()
    assert "its posting was taken back" in said(desk)


def test_the_list_shows_the_rounds_of_the_site_in_front_and_escape_leaves_it(desk: Typist, fen: Yard):
    other = yard(fen.ledger, "Low Dyke", "77")
    fen.post(WEEKS_AGO, h301=SEEN)
    other.post(h77=LOOKED)
    desk.open("Fen")
    desk.press("Ctrl+O")
    desk.settle()
    place = desk.seat.place
    assert place.posted.table.records.rowCount() == 1
    desk.press("Escape")
    assert place.stack.currentWidget() is place.pane
