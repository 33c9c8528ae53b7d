"""The evening's typing as a whole: sheets of notes into the window by real keys, posted, found in the record.

Every key is counted: opening, moving, filling, accepting and posting too; a chord is one key. Only the words
of free notes are left out. Budgets: 13 keys a hive by quick line, 18 by cells, 8 for an untidy evening. The time a key
stands for is 0.28 s for an average typist (Card, Moran & Newell, The Psychology of Human-Computer Interaction, 1983).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, date, datetime
from typing import Any

import pytest
from PySide6.QtCore import Qt

from beeledger.base.clock import FixedClock
from beeledger.database.opening import open_ledger
from beeledger.operations.act import perform
from beeledger.operations.colonies import Boxes, NewColony, found_colonies
from beeledger.operations.queens import NewQueen
from beeledger.operations.rounds import Line, RoundToPost, post_round
from beeledger.operations.sites import NewSite, add_site
from beeledger.queries.rounds import entries_of_round, recent_rounds, sheet_for
from beeledger.rules.rounds.entry import Entry, FeedKind, MiteMethod, Outcome, outcome_of, settled
from beeledger.ui.frame.app import make_desk
from beeledger.ui.frame.window import Window
from beeledger.ui.places.rounds.strip import Asking
from tests.builders.notes import (
    Noted,
    figure,
    late_notes,
    note_words,
    quick_line,
    spring_notes,
    supers,
    untidy_notes,
)
from tests.builders.yards import SPRING, sound, strips
from tests.ui.places.rounds.evening import Typist
from tests.ui.places.sitting import Seat

BY_LINE, BY_CELLS, UNTIDY = 13, 18, 8
SWARM_DAY, LATE_DAY = date(2026, 5, 12), date(2026, 8, 20)
SUPERS_DAY = date(2026, 5, 1)


class Evening:
    """A farm with one sheet's hives, and the window in front of it."""

    def __init__(self, target: str, qtbot: Any, notes: list[Noted], day: date, before: Entry) -> None:
        self.clock = FixedClock(datetime(day.year, day.month, day.day, 18, 0, tzinfo=UTC), "Europe/London")
        self.target = target
        self._found(notes, day, before)
        self.desk = make_desk(target, self.clock)
        self.window = Window(self.desk)
        qtbot.addWidget(self.window)
        self.window.show()
        with qtbot.waitActive(self.window):
            self.window.activateWindow()
        self.window.open_place("rounds")
        self.typist = Typist(Seat(self.desk, self.window.place, qtbot))
        self.typist.settle()
        self.window.place.setFocus(Qt.FocusReason.OtherFocusReason)

    def _found(self, notes: list[Noted], day: date, before: Entry) -> None:
        """The hives: a visit in spring that counted and fed as the farm does, then the supers the sheet takes off."""
        self.day = day
        ledger = open_ledger(self.target, self.clock)
        strips(ledger)
        site = perform(ledger, add_site, NewSite("Sedge Bank", code="SB")).result
        colonies = [
            NewColony(
                noted.mark, site, SPRING, queen=NewQueen(hatch_year=2025), stand=stand,
                boxes=Boxes("national", 2, 11, "national_brood", 0, 10),
            )
            for stand, noted in enumerate(notes, start=1)
        ]  # fmt: skip
        ids = perform(ledger, found_colonies, colonies).result
        first = RoundToPost("before", site, SPRING, tuple(Line(before, colony_id=number) for number in ids))
        perform(ledger, post_round, first)
        on = [
            Line(Entry(outcome=Outcome.NOT_OPENED, supers_on=noted.entry.supers_off), colony_id=number)
            for noted, number in zip(notes, ids, strict=True)
            if noted.entry.supers_off
        ]
        if on:
            perform(ledger, post_round, RoundToPost("supers on", site, SUPERS_DAY, tuple(on)))
        ledger.close()

    def posted(self) -> dict[str, Entry]:
        """What the record holds of the evening, by hive."""
        with self.desk.ledger.read() as session:
            (round_,) = [one for one in recent_rounds(session) if one.on == self.day]
            marks = {
                line.colony_id: line.mark or "" for line in sheet_for(session, round_.site_id, self.day).lines
            }
            return {
                marks[visit.colony_id]: visit.entry for visit in entries_of_round(session, round_.round_id)
            }

    def close(self) -> None:
        self.window.close()


@pytest.fixture
def sit(new_target: Callable[..., str], qtbot) -> Iterator[Callable[..., Evening]]:
    made: list[Evening] = []

    def begin(notes: list[Noted], day: date, before: Entry) -> Evening:
        made.append(Evening(new_target("sqlite"), qtbot, notes, day, before))
        return made[-1]

    yield begin
    for evening in made:
        evening.close()


LAST_SPRING = Entry(outcome=Outcome.LOOKED, eggs=True, stores_tenths=30)
LAST_LATE = replace(
    LAST_SPRING,
    mites_count=3,
    mites_method=MiteMethod.DROP,
    mites_days=7,
    feed_ml=1000,
    feed_kind=FeedKind.SYRUP_2_1,
)


def expected(noted: Noted) -> Entry:
    return settled(noted.entry)


def keys_a_hive(evening: Evening, notes: list[Noted]) -> float:
    return (evening.typist.pressed - sum(note_words(noted.entry) for noted in notes)) / len(notes)


def in_seconds(keys: float) -> float:
    """Seconds for so many keys by the keystroke-level model (0.28 s a key, average typist)."""
    return keys * 0.28


@pytest.mark.parametrize("seed", [3, 11])
def test_a_swarm_season_sheet_takes_at_most_13_keys_a_hive_by_quick_line(sit, seed):
    notes = spring_notes(seed)
    evening = sit(notes, SWARM_DAY, LAST_SPRING)
    evening.typist.open("SB")
    evening.typist.lines(*(quick_line(noted) for noted in notes))
    post(evening)
    assert evening.posted() == {noted.mark: expected(noted) for noted in notes}
    assert keys_a_hive(evening, notes) <= BY_LINE
    assert sound(evening.desk.ledger)


@pytest.mark.parametrize("seed", [5, 17])
def test_a_sheet_after_the_flow_takes_at_most_13_keys_a_hive_by_quick_line(sit, seed):
    notes = late_notes(seed)
    evening = sit(notes, LATE_DAY, LAST_LATE)
    evening.typist.open("SB")
    evening.typist.lines(*(quick_line(noted) for noted in notes))
    post(evening)
    assert evening.posted() == {noted.mark: expected(noted) for noted in notes}
    assert keys_a_hive(evening, notes) <= BY_LINE


def test_an_untidy_evening_takes_at_most_8_keys_a_hive(sit):
    notes = untidy_notes(7)
    evening = sit(notes, SWARM_DAY, LAST_SPRING)
    hand = evening.typist
    hand.open("SB")
    hand.press("F7")
    hand.type(f"l2sc-{notes[3].mark}={notes[9].mark}@6/5;gate code changed\n".replace("sc-", "sc- "))
    for place, noted in enumerate(notes):
        hand.type(f"{quick_line(noted)}\n")
        if place == 20:
            hand.type("/\nos;no number, strong\n")
    post(evening)
    said = evening.posted()
    fed = {"feed_ml": 2000, "feed_kind": FeedKind.SYRUP_1_1, "clearers": False}
    whole = {
        noted.mark: replace(expected(noted), **fed)
        if outcome_of(noted.entry) is Outcome.LOOKED
        else expected(noted)
        for noted in notes
    }
    stranger = said.pop("")
    assert (stranger.outcome, stranger.note) == (Outcome.STRANGER, "no number, strong")
    waiting = notes[39].mark
    assert said == {mark: entry for mark, entry in whole.items() if mark != waiting}
    words = (
        sum(note_words(noted.entry) for noted in notes) + len("gate code changed") + len("no number, strong")
    )
    assert (hand.pressed - words) / (len(notes) + 1) <= UNTIDY
    (left,) = evening.window.place.rounds.values()
    assert [line.mark for line in left.sheet.lines] == [waiting]


@pytest.mark.parametrize(
    ("notes", "day", "before"),
    [(spring_notes(3), SWARM_DAY, LAST_SPRING), (late_notes(5), LATE_DAY, LAST_LATE)],
    ids=["swarm season", "after the flow"],
)
def test_a_sheet_takes_at_most_18_keys_a_hive_by_cells(sit, notes, day, before):
    evening = sit(notes, day, before)
    evening.typist.open("SB")
    type_by_cells(evening.typist, notes)
    post(evening)
    assert evening.posted() == {noted.mark: expected(noted) for noted in notes}
    assert keys_a_hive(evening, notes) <= BY_CELLS


def type_by_cells(hand: Typist, notes: list[Noted]) -> None:
    """Down the margin for what is out of the ordinary, normal for the rest, then down each column in use."""
    hand.press("F2", "End")
    for noted in notes:
        hand.type(f"{_margin(noted)}\n")
    hand.press("Home", "Up") if hand.seat.place.pane.grid.row else hand.press("Home")
    _to_top(hand)
    hand.press("Ctrl+F8")
    looked = [noted if outcome_of(noted.entry) is Outcome.LOOKED else None for noted in notes]
    late = any(noted and noted.entry.mites_count is not None for noted in looked)
    hand.press("Right", "Right")
    _down(
        hand,
        looked,
        lambda entry: (
            figure(entry.brood_tenths)
            + ("q" if entry.queen_seen else "")
            + ("x" if entry.medicine_in else "")
            + ("" if entry.eggs else "e-")
        ),
    )
    _down(hand, looked, lambda entry: figure(entry.bees_tenths))
    _down(hand, looked, lambda entry: figure(entry.stores_tenths))
    _down(hand, looked, lambda entry: str(entry.temper))
    if late:
        hand.press("Right")
    else:
        _down(hand, looked, _cells)
    _down(hand, looked, supers)
    if late:
        _down(hand, looked, lambda entry: str(entry.feed_ml // 1000) if entry.feed_ml else "")
        hand.press("Right")
        _down(hand, looked, lambda entry: "" if entry.mites_count is None else str(entry.mites_count))
    _wrong_queens(hand, notes)


def _to_top(hand: Typist) -> None:
    """Back to the first line, as a person would: the walk down the last column ends at its foot."""
    while hand.seat.place.pane.grid.row > 0:
        hand.press("PgUp")


def _down(hand: Typist, looked: list[Noted | None], words: Callable[[Entry], str]) -> None:
    for noted in looked:
        hand.type(f"{words(noted.entry) if noted else ''}\n")


def _cells(entry: Entry) -> str:
    from tests.builders.notes import _cells as marks

    return "".join(marks(entry)).removeprefix("c")


def _margin(noted: Noted) -> str:
    entry = noted.entry
    if outcome_of(entry) is Outcome.LOOKED:
        return entry.note or ""
    return quick_line(noted)


def _wrong_queens(hand: Typist, notes: list[Noted]) -> None:
    """Where the sheet does not say queenright, what normal filled is cleared again."""
    for noted in notes:
        entry = noted.entry
        if entry.outcome is Outcome.LOOKED and entry.queen_state is None:
            hand.type(f"/{noted.mark}\n")
            hand.press("Home")
            if entry.queen_seen:
                hand.press("Delete")
            hand.type("q-\n" if entry.queen_seen is False else "q\n")


def post(evening: Evening) -> None:
    """Post; what the record speaks against is accepted first, and odd things only looked at."""
    hand = evening.typist
    hand.press("Ctrl+Return")
    hand.settle()
    sheet = evening.window.place.pane.sheet
    for _ in range(4):
        held = [view.open for view in sheet.views if view.held]
        if not evening.window.place.rounds or not held:
            return
        hand.press("Shift+F4")
        if evening.window.place.pane.strip.asking is Asking.REASON:
            hand.type("label read\n")
        hand.press("Ctrl+Return")
        hand.settle()
        sheet = evening.window.place.pane.sheet
    raise AssertionError(f"still held: {held}")


def test_the_keystroke_model_says_what_the_budget_is_in_time():
    assert in_seconds(BY_LINE * 30) == pytest.approx(109.2)  # under two minutes for a site of thirty hives
