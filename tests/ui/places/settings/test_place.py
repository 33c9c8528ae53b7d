"""Settings in use: the farm as one act, the desk at once, backups and the check."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from beeledger.base.findings import Finding, Grade
from beeledger.base.settings import DeskSettings
from beeledger.database.backup import backups_of
from beeledger.database.checking.check import Report
from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.farm import set_farm
from beeledger.queries.farm import FarmSettings, farm_settings
from beeledger.ui.desk.desk import Question
from beeledger.ui.places.settings.place import RESTORE
from beeledger.ui.widgets.marks import Mark
from tests.ui.places.sitting import Seat, seated

CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def seat(sqlite_ledger: Ledger, qapp: Any, qtbot: Any, tmp_path: Path) -> Iterator[Seat]:
    perform(sqlite_ledger, set_farm, {"name": "Fenlight Honey"})
    with seated(sqlite_ledger, "settings", qtbot, tmp_path / "desk") as made:
        yield made


def farm(seat: Seat) -> FarmSettings:
    with seat.desk.ledger.read() as session:
        return farm_settings(session)


def put(seat: Seat, **values: str) -> None:
    for name, value in values.items():
        seat.place.form.fields[name].set_value(value)


def save(seat: Seat) -> None:
    seat.place.setFocus()  # as the window does when it opens the place
    QTest.keyClick(seat.place.form.fields["name"].editor, Qt.Key.Key_Return, CTRL)
    seat.settle()


def test_what_the_farm_has_settled_stands_in_the_form(seat: Seat) -> None:
    assert seat.place.form.values()["name"] == "Fenlight Honey"
    assert seat.place.form.values()["best_before_months"] == "24"
    assert seat.place.form.values()["mite_line"] == "3"


def test_ctrl_enter_saves_all_that_was_changed_as_one_act(seat: Seat) -> None:
    put(seat, address="The Old Pump House\nLong Drove\n", mite_line="2.5", lot_prefix="fh")
    save(seat)
    assert farm(seat).address == ("The Old Pump House", "Long Drove")
    assert farm(seat).mite_line_hundredths == 250
    assert farm(seat).lot_prefix == "FH"
    assert seat.desk.newest_act == 2
    assert seat.place.form.values()["lot_prefix"] == "FH"
    assert seat.place.form.main.isEnabled()


def test_saving_what_was_not_changed_writes_no_act(seat: Seat) -> None:
    save(seat)
    assert seat.desk.newest_act == 1
    assert seat.said[-1].text == "Nothing was changed"


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("mite_line", "three", "three"),
        ("best_before_months", "1.5", "finer than can be kept"),
        ("zone", "Fen/Land", "no time zone"),
        ("lot_prefix", "OIL", "2 to 4 capitals without"),
    ],
)
def test_what_is_wrong_is_said_beside_its_field_and_nothing_is_written(
    seat: Seat, field: str, value: str, said: str
) -> None:
    put(seat, name="Fenlight Bees", **{field: value})
    save(seat)
    marked = seat.place.form.fields[field]
    assert said in marked.message()
    assert marked.state == "now"
    assert marked.editor.hasFocus()
    assert seat.desk.newest_act == 1
    assert farm(seat).name == "Fenlight Honey"
    put(
        seat,
        **{
            field: {
                "mite_line": "3",
                "best_before_months": "18",
                "zone": "Europe/Dublin",
                "lot_prefix": "FH",
            }[field]
        },
    )
    save(seat)
    assert farm(seat).name == "Fenlight Bees"
    assert marked.message() == ""


def test_what_was_typed_stays_when_another_desk_settles_something(seat: Seat, sqlite_ledger: Ledger) -> None:
    put(seat, contact="01353 555 01")
    perform(sqlite_ledger, set_farm, {"name": "Fenlight Bees"})
    seat.desk._ask_for_news()
    seat.settle()
    assert seat.place.form.values()["contact"] == "01353 555 01"
    seat.place.form.cancelled.emit()
    assert seat.place.form.values()["contact"] == ""
    assert seat.place.form.values()["name"] == "Fenlight Bees"


def test_what_another_desk_settles_shows_where_nothing_was_typed(seat: Seat, sqlite_ledger: Ledger) -> None:
    perform(sqlite_ledger, set_farm, {"name": "Fenlight Bees"})
    seat.desk._ask_for_news()
    seat.settle()
    assert seat.place.form.values()["name"] == "Fenlight Bees"


def test_look_and_text_size_hold_at_once(seat: Seat) -> None:
    told: list[DeskSettings] = []
    seat.desk.settings_changed.connect(told.append)
    fields = seat.place.card.form.fields
    fields["look"].editor.setCurrentIndex(2)
    fields["base_pt"].editor.setCurrentIndex(5)
    fields["places_folded"].editor.setCurrentIndex(1)
    now = told[-1]
    assert (now.look, now.base_pt, now.places_folded) == ("dark", 16.0, "folded")
    assert len(told) == 3


def test_a_name_holds_when_the_field_is_left_and_not_at_each_letter(seat: Seat) -> None:
    told: list[DeskSettings] = []
    seat.desk.settings_changed.connect(told.append)
    who = seat.place.card.form.fields["who"].editor
    who.setFocus()
    who.selectAll()
    QTest.keyClicks(who, "MB")
    assert told == []
    QTest.keyClick(who, Qt.Key.Key_Tab)
    assert [settings.who for settings in told] == ["MB"]
    assert seat.desk.ledger.who == "MB"


def test_a_desk_without_a_name_is_asked_for_one_and_keeps_the_old(seat: Seat) -> None:
    field = seat.place.card.form.fields["desk"]
    field.editor.setFocus()
    field.editor.clear()
    QTest.keyClick(field.editor, Qt.Key.Key_Tab)
    assert field.state == "now"
    assert "wants a name" in field.message()
    assert seat.desk.settings.desk == "office"


def test_a_text_size_that_is_not_in_the_list_is_shown_all_the_same(seat: Seat) -> None:
    seat.desk.settings = seat.desk.settings.but(base_pt=10.5)
    seat.place.come_to_front()
    assert seat.place.card.form.fields["base_pt"].value() == "10.5"


def test_a_backup_is_written_checked_and_listed(seat: Seat) -> None:
    seat.place.card.back_up.click()
    seat.until(lambda: bool(seat.said))
    seat.settle()
    assert len(backups_of(seat.desk.ledger.file)) == 1
    (fact,) = seat.place.card.backups.facts()
    assert fact.name == "14 May 2026, 19:00"
    assert fact.value.endswith(" MB")
    assert seat.place.card.kept.head.summary == "1 backup"
    assert seat.said[-1].text.startswith("Backup written and checked")
    assert seat.desk.backed_up_to == 1


def test_no_backup_yet_is_said_as_something_to_mend(seat: Seat) -> None:
    (fact,) = seat.place.card.backups.facts()
    assert (fact.name, fact.mark, fact.key) == ("No backup yet", Mark.TODAY, None)


def test_a_backup_is_restored_only_after_a_question_whose_safe_answer_comes_first(seat: Seat) -> None:
    wanted: list[Path] = []
    questions: list[Question] = []
    seat.desk.restore_wanted.connect(wanted.append)
    seat.desk.asked.connect(questions.append)
    seat.place.back_up()
    seat.until(lambda: bool(seat.said))
    seat.settle()
    rows = seat.place.card.backups
    rows.setFocus()
    QTest.keyClick(rows, Qt.Key.Key_Return)
    (question,) = questions
    assert "14 May 2026, 19:00" in question.title
    assert "moved aside, not erased" in question.text
    assert question.answers[-1] == RESTORE
    question.then(None)
    question.then(question.answers[0])
    assert wanted == []
    question.then(RESTORE)
    assert wanted == backups_of(seat.desk.ledger.file)


def test_the_check_of_a_sound_ledger_ticks_every_line(seat: Seat) -> None:
    seat.place.card.prove.click()
    seat.until(lambda: bool(seat.said))
    facts = seat.place.card.check.facts()
    assert len(facts) > 8
    assert {fact.mark for fact in facts} == {Mark.MET}
    assert seat.place.card.proved.head.summary == "all met at 19:00"


def test_a_breach_is_counted_on_its_line_and_told_below(seat: Seat) -> None:
    findings = tuple(Finding("marks", Grade.REFUSED, f"hive {n} twice") for n in range(25))
    report = Report((("sound", "the file is sound", 0), ("marks", "one number, one hive", 25)), findings)
    seat.place.card.show_report(report, datetime(2026, 5, 14, 18, tzinfo=UTC), "Europe/London")
    facts = seat.place.card.check.facts()
    assert [(fact.name, fact.value, fact.mark) for fact in facts[:2]] == [
        ("The file is sound", "", Mark.MET), ("One number, one hive", "25 breaches", Mark.CANNOT),
    ]  # fmt: skip
    assert facts[2].name == "hive 0 twice."
    assert facts[-1].name == "and 5 more"
    assert seat.place.card.proved.head.summary == "25 breaches at 19:00"


def test_a_servers_ledger_is_not_replaced_from_a_window_but_it_is_said_how(seat: Seat, monkeypatch) -> None:
    asked: list[Question] = []
    wanted: list[object] = []
    seat.desk.asked.connect(asked.append)
    seat.desk.restore_wanted.connect(wanted.append)
    monkeypatch.setattr(Ledger, "file", None)
    seat.place._ask_restore(Path("farm backups", "20260514-180000.db"))
    monkeypatch.undo()
    (question,) = asked
    assert "beeledger restore" in question.text
    assert "20260514-180000.db" in question.text
    question.then(question.answers[0])
    assert wanted == []
