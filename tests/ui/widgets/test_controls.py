"""Buttons, fields, chips, sections, tabs and forms at the desk, by keyboard."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QImage, QKeyEvent, QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget

from beeledger.base.findings import Finding, Grade, Where
from beeledger.ui.widgets.balance_line import BalanceLine, Part
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.card import Card
from beeledger.ui.widgets.cells import Run
from beeledger.ui.widgets.chips import Chips
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.empty_state import EmptyState
from beeledger.ui.widgets.fact_rows import Fact, FactRows
from beeledger.ui.widgets.field import Field, note_editor
from beeledger.ui.widgets.filter_box import FilterBox
from beeledger.ui.widgets.form import Form, check_as_typed
from beeledger.ui.widgets.key_figures import Figure, KeyFigures
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.page_preview import PagePreview
from beeledger.ui.widgets.painting import elisions
from beeledger.ui.widgets.panes import Panes
from beeledger.ui.widgets.progress_line import ProgressLine
from beeledger.ui.widgets.section import Section
from beeledger.ui.widgets.tabs import Tab, Tabs
from beeledger.ui.widgets.words import RunWords, Words


def test_a_button_that_is_off_says_why_beside_it(qapp: object, qtbot: object) -> None:
    pressed = []
    button, beside = Button("Print 812", lambda: pressed.append(1), kind="main"), Words()
    qtbot.addWidget(button)
    qtbot.addWidget(beside)
    button.say_reason_in(beside)
    button.off("1 to mend before printing")
    button.click()
    assert (pressed, beside.text()) == ([], "1 to mend before printing")
    assert button.accessibleDescription() == "1 to mend before printing"
    button.on()
    button.click()
    assert (pressed, beside.text()) == ([1], "")
    with pytest.raises(ValueError, match="says why"):
        button.off("")


def test_a_field_says_what_is_wrong_and_keeps_the_room_for_it(qapp: object, qtbot: object) -> None:
    field = Field("Day", "31 Feb")
    qtbot.addWidget(field)
    before = field.sizeHint().height()
    field.say("now", "31 Feb is no day. Type a day that is")
    assert (field.state, field.message()) == ("now", "31 Feb is no day. Type a day that is")
    assert field.editor.property("state") == "now"
    assert field.editor.accessibleDescription() == field.message()
    assert field.sizeHint().height() == before
    field.clear_message()
    assert (field.state, field.message()) == ("", "")


def test_a_choice_gives_its_key_and_words_of_ones_own_where_they_are_free(
    qapp: object, qtbot: object
) -> None:
    field = Field("To site", editor=Choice([("1", "Perry Tree"), ("2", "Lime Walk")]))
    qtbot.addWidget(field)
    field.set_value("2")
    assert field.value() == "2"
    free = Choice([("1", "Perry Tree")], free=True)
    qtbot.addWidget(free)
    assert free.key() == "1"
    free.setEditText("Ling")
    assert free.key() == ""


def test_a_note_of_several_lines_is_a_field_like_any_other(qapp: object, qtbot: object) -> None:
    field = Field("Note", editor=note_editor())
    qtbot.addWidget(field)
    with qtbot.waitSignal(field.changed):
        field.set_value("gate stiff\nkey under stone")
    assert field.value() == "gate stiff\nkey under stone"


def test_ctrl_f_comes_to_the_filter_and_down_leaves_it(qapp: object, qtbot: object) -> None:
    place = QWidget()
    qtbot.addWidget(place)
    box = FilterBox(parent=place)
    box.listen(place)
    other = QWidget(place)
    other.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    with qtbot.waitActive(place):
        place.show()
        place.activateWindow()
    other.setFocus()
    QTest.keyClick(other, Qt.Key.Key_F, Qt.KeyboardModifier.ControlModifier)
    assert box.hasFocus()
    with qtbot.waitSignal(box.left_down):
        QTest.keyClick(box, Qt.Key.Key_Down)


def test_a_chip_is_put_on_and_taken_away(qapp: object, qtbot: object) -> None:
    chips = Chips()
    qtbot.addWidget(chips)
    chips.set_chips([("late", "Late"), ("light", "Light")], on=["late"])
    chip = chips.add("due", "due to 21 May", on=True, removable=True)
    assert chips.on() == ["late", "due"]
    with qtbot.waitSignal(chips.removed) as told:
        QTest.keyClick(chip, Qt.Key.Key_Delete)
    assert (told.args, chips.on()) == (["due"], ["late"])


def test_of_chips_that_choose_a_view_one_is_always_on(qapp: object, qtbot: object) -> None:
    chips = Chips(one=True)
    qtbot.addWidget(chips)
    chips.set_chips([("a", "Time line"), ("b", "Moves")], on=["a"])
    with qtbot.waitSignal(chips.changed) as told:
        chips.choose("b")
    assert told.args == [["b"]]
    chips.choose("b")
    assert chips.on() == ["b"]


def test_a_folded_section_still_says_the_point(qapp: object, qtbot: object) -> None:
    section = Section("Boxes and what is due", QWidget(), "3 boxes, 4 due")
    qtbot.addWidget(section)
    section.show()
    QTest.keyClick(section.head, Qt.Key.Key_Space)
    assert section.is_folded()
    assert not section.body.isVisible()
    assert section.head.accessibleName() == "Boxes and what is due, 3 boxes, 4 due, folded"


def test_a_figure_not_known_is_said_so_and_shown_blank(qapp: object, qtbot: object) -> None:
    figures = KeyFigures([Figure("Mites", "", "%"), Figure("Stores", "6", "kg", "hefted, ±2", Mark.ODD)])
    qtbot.addWidget(figures)
    assert figures.accessibleDescription() == ("Mites not known; Stores 6 kg, hefted, ±2, odd, look at it")


def test_key_figures_go_on_in_a_second_line_when_the_card_is_narrow(qapp: object, qtbot: object) -> None:
    figures = KeyFigures(
        [Figure(name, "10", "frames", "counted 7 May") for name in ("Bees", "Brood", "Food")]
    )
    qtbot.addWidget(figures)
    assert figures.heightForWidth(700) * 2 == figures.heightForWidth(260)


def test_arrows_walk_through_the_tabs(qapp: object, qtbot: object) -> None:
    tabs = Tabs([Tab(1, "Perry Tree", "19 of 30"), Tab(2, "Lime Walk", "0 of 30")])
    qtbot.addWidget(tabs)
    tabs.resize(tabs.sizeHint())
    with qtbot.waitSignal(tabs.chosen) as told:
        QTest.keyClick(tabs, Qt.Key.Key_Right)
    assert told.args == [2]
    QTest.mouseClick(tabs, Qt.MouseButton.LeftButton, pos=tabs.place_of(1))
    assert tabs.current() == 1
    tabs.set_tabs([Tab(2, "Lime Walk")])
    assert tabs.current() == 2


def test_a_balance_says_in_words_whether_it_balances(qapp: object, qtbot: object) -> None:
    line = BalanceLine()
    qtbot.addWidget(line)
    parts = [Part("279.400", "in from drums", "kg"), Part("279.300", "jars", "kg", sign="=")]
    line.say(parts, "0.100 kg not accounted for", met=False)
    assert line.accessibleDescription() == (
        "279.400 kg in from drums = 279.300 kg jars; 0.100 kg not accounted for"
    )


def test_a_running_job_can_be_stopped(qapp: object, qtbot: object) -> None:
    line = ProgressLine()
    qtbot.addWidget(line)
    line.say("Reading workbook, tablet 2", 6, 10)
    assert line.share() == 0.6
    with qtbot.waitSignal(line.cancelled):
        line.cancel.click()
    line.say("Reading workbook, tablet 2")
    assert line.share() is None
    line.done()
    assert line.isHidden()


def test_an_empty_state_says_what_to_do_first(qapp: object, qtbot: object) -> None:
    done = []
    empty = EmptyState(
        "Nothing has left yet", "Jars can go out.", "Prepare a dispatch", lambda: done.append(1)
    )
    qtbot.addWidget(empty)
    empty.button.click()
    assert done == [1]
    empty.say("Nothing has left yet")
    assert empty.button.isHidden()


def test_a_line_of_facts_opens_with_enter(qapp: object, qtbot: object) -> None:
    facts = FactRows([Fact("Bloom", "4 %"), Fact("Swarm check", "4 days late", Mark.LATE, key=1187)])
    qtbot.addWidget(facts)
    facts.resize(300, 80)
    with qtbot.waitActive(facts):
        facts.show()
        facts.activateWindow()
    facts.setFocus()
    QTest.keyClick(facts, Qt.Key.Key_Down)
    with qtbot.waitSignal(facts.opened) as told:
        QTest.keyClick(facts, Qt.Key.Key_Return)
    assert told.args == [1187]
    assert facts.accessibleName() == "Bloom, 4 %; late, Swarm check, 4 days late"


def finding(grade: Grade, field: str) -> Finding:
    return Finding("test", grade, "31 Feb is no day", "Type a day that is", Where(field=field))


def test_a_form_says_each_finding_beside_its_field_and_holds_what_cannot_be(
    qapp: object, qtbot: object
) -> None:
    form = Form("Move hives", "Post the move")
    qtbot.addWidget(form)
    form.add_side_by_side({"day": Field("Day", "31 Feb"), "driver": Field("Driver", "RH")})
    form.show_findings([finding(Grade.REFUSED, "day"), finding(Grade.DOUBTFUL, "driver")])
    assert form.fields["day"].state == "now"
    assert form.fields["driver"].state == "watch"
    assert not form.main.isEnabled()
    with qtbot.assertNotEmitted(form.submitted):
        form.submit()
    form.show_findings([])
    with qtbot.waitSignal(form.submitted) as told:
        QTest.keyClick(form, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
        form.submit()
    assert told.args == [{"day": "31 Feb", "driver": "RH"}]


def test_a_finding_about_no_field_stands_in_the_foot(qapp: object, qtbot: object) -> None:
    form = Form("Move hives", "Post the move")
    qtbot.addWidget(form)
    form.add("day", Field("Day"))
    form.show_findings([finding(Grade.AGAINST, "vehicle")])
    assert form.foot.first.text() == "31 Feb is no day. Type a day that is"
    assert form.foot.first.accessibleName().startswith("against the record")
    assert form.main.isEnabled()


def test_taking_back_in_a_form_never_reaches_the_act_behind_it(qapp: object, qtbot: object) -> None:
    class Behind(QWidget):
        heard = 0

        def keyPressEvent(self, event: QKeyEvent) -> None:
            self.heard += event.matches(QKeySequence.StandardKey.Undo)

    behind, form = Behind(), Form("Feed hives", "Feed")
    form.setParent(behind)
    qtbot.addWidget(behind)
    form.add("kind", Field("Feed", editor=Choice([("a", "syrup"), ("b", "fondant")])))
    form.add("amount", Field("Amount"))
    for piece in (form.fields["kind"].editor, form.fields["amount"].editor, form.main):
        QTest.keyClick(piece, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert behind.heard == 0


def test_a_form_is_checked_as_it_is_typed(qapp: object, qtbot: object) -> None:
    form = Form("Move hives", "Post the move")
    qtbot.addWidget(form)
    form.add("day", Field("Day"))
    check_as_typed(form, lambda values: [finding(Grade.REFUSED, "day")] if values["day"] == "31 Feb" else [])
    QTest.keyClicks(form.fields["day"].editor, "31 Feb")
    assert form.fields["day"].state == "now"
    QTest.keyClick(form.fields["day"].editor, Qt.Key.Key_Backspace)
    assert form.fields["day"].state == ""


def test_a_card_keeps_its_sections_by_key(qapp: object, qtbot: object) -> None:
    card = Card()
    qtbot.addWidget(card)
    card.say("Hive 1187", [Run("green 24-118", disc="green")], "Perry Tree, stand 10")
    section = card.section("due", "What is due", QWidget(), "4 due")
    section.fold(shut=True)
    card.show_section("due")
    assert not section.is_folded()
    card.clear()
    assert card.sections == {}


def test_panes_meet_on_one_pixel(qapp: object, qtbot: object) -> None:
    panes = Panes(QWidget(), QWidget())
    qtbot.addWidget(panes)
    panes.resize(500, 200)
    panes.show()
    panes.share(300, 199)
    first, second = panes.widget(0).geometry(), panes.widget(1).geometry()
    assert second.left() - first.right() - 1 == 1


def test_a_page_stays_white_in_the_dark_and_comes_nearer(qapp: object, qtbot: object) -> None:
    from PySide6.QtGui import QColor

    from beeledger.ui.widgets import look

    page = QImage(200, 280, QImage.Format.Format_ARGB32)
    page.fill(0)
    preview = PagePreview()
    qtbot.addWidget(preview)
    preview.resize(500, 400)
    try:
        look.apply(qapp, look.DARK)
        preview.set_pages([page], dpi=96)
        centre = preview.viewport().grab().toImage().pixelColor(QPoint(250, 100))
    finally:
        look.apply(qapp, look.LIGHT)
    assert centre == QColor("white")
    preview.nearer()
    assert preview.percent() == 125
    preview.farther()
    preview.farther()
    assert preview.percent() == 75


def test_a_name_that_looks_like_markup_stays_a_name(qapp: object, qtbot: object) -> None:
    words = Words("<b>Perry</b> & Son")
    qtbot.addWidget(words)
    assert words.textFormat() == Qt.TextFormat.PlainText
    assert words.text() == "<b>Perry</b> & Son"


def test_marks_in_a_line_of_words_are_spoken(qapp: object, qtbot: object) -> None:
    line = RunWords([Run("3 cannot be true", "now", mark=Mark.CANNOT), Run("and hold the posting")])
    qtbot.addWidget(line)
    assert line.accessibleName() == "cannot be true: 3 cannot be true and hold the posting"


def test_a_long_name_pushes_the_middle_words_and_neither_is_cut(qapp: object, qtbot: object) -> None:
    facts = FactRows([Fact("Tarrow Bank yard", "9 kg", middle="24 May 2025", weight=500)], middle_at=60)
    qtbot.addWidget(facts)
    facts.resize(330, 30)
    elisions.clear()
    elisions.on = True
    try:
        facts.grab()
        assert elisions.shortened == []
    finally:
        elisions.on = False


def test_text_too_large_for_the_panes_squeezes_all_of_them_alike(qapp: object, qtbot: object) -> None:
    panes = Panes(QWidget(), QWidget(), QWidget())
    qtbot.addWidget(panes)
    panes.share(400, 200, 400)
    panes.resize(500, 100)
    panes.show()
    first, second, third = panes.sizes()
    assert first == pytest.approx(2 * second, abs=3)
    assert third == pytest.approx(first, abs=3)


def test_middle_words_that_would_be_cut_stand_under_the_name(qapp: object, qtbot: object) -> None:
    facts = FactRows([Fact("Tarrow Bank yard", "52.5 kg  18.9 %", middle="24 May 2025")], middle_at=60)
    qtbot.addWidget(facts)
    facts.resize(400, 60)
    wide = facts.sizeHint().height()
    facts.resize(240, 60)
    assert facts.sizeHint().height() > wide
    elisions.clear()
    elisions.on = True
    try:
        facts.grab()
        assert elisions.shortened == []
    finally:
        elisions.on = False
