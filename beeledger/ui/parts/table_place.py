"""What the places with a table and a card share: the table and its filter, the card or a form beside it, a paper.

Not the layout, nor what is read: each place says those itself.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Mapping
from typing import Any, TypeVar

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QStackedWidget, QWidget

from beeledger.operations.act import Done
from beeledger.ui.desk.desk import Desk
from beeledger.ui.desk.place import Place
from beeledger.ui.parts.paper import PaperPane
from beeledger.ui.parts.typed_form import SidePane, TypedForm
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.filter_box import FilterBox
from beeledger.ui.widgets.record_table import RecordTable

T = TypeVar("T")


class TablePlace(Place):
    """A table, and beside it the card of the chosen row or a form in its place."""

    filter: FilterBox
    table: RecordTable
    side: SidePane

    def take_table(self, table: RecordTable, box: FilterBox) -> None:
        """The table of the place and the field that filters it."""
        self.table, self.filter = table, box
        table.setObjectName(f"{self.key}.table")
        box.setObjectName(f"{self.key}.filter")
        box.bind(table)
        box.listen(self)
        self.setFocusProxy(table)

    def take_card(self, card: QWidget, back_to: QWidget | None = None) -> None:
        """The card beside the table; when a form over it is left, the keys go back to the table."""
        self.side = SidePane(card)
        self.side.back_to = back_to or self.table

    def button(self, name: str, words: str, act: Callable[[], object], icon: str = "plus") -> Button:
        """A button of the tool row with its address."""
        made = Button(words, act, icon=icon)
        made.setObjectName(f"{self.key}.{name}")
        return made

    def open_form(self, form: TypedForm, name: str, ready: Callable[[Any], None]) -> None:
        """Show a form in place of the card; what is read from it goes to ``ready``."""
        form.ready.connect(ready)
        self.side.open(form, f"{self.key}.{name}")

    def ask(
        self,
        form: TypedForm,
        name: str,
        operation: Callable[..., str],
        *before: object,
        then: Callable[[Done], None] | None = None,
    ) -> None:
        """Show a form; what is read from it is handed to the act, after ``before``."""
        self.open_form(form, name, lambda thing: self.post(form, operation, *before, thing, then=then))

    def post(
        self,
        form: TypedForm,
        operation: Callable[..., str],
        *args: object,
        then: Callable[[Done], None] | None = None,
    ) -> None:
        """Carry out the act of a form: done, the form is left; refused, it stays and says why."""

        def done(what: Done) -> None:
            if self.side.form() is form:
                self.side.leave()
            if then is not None:
                then(what)

        self.desk.act(operation, *args, owner=self, then=done, refused=form.refused)

    def choose(self, wanted: Hashable = None) -> None:
        """Choose the row that is wanted, where it is shown; else the first, where none is chosen."""
        shown = [row.id for row in self.table.records.rows_shown()]
        if wanted is not None and wanted in shown:
            self.table.choose([wanted])
        elif not self.table.chosen():
            self.table.choose(shown[:1])


class PaperPlace(TablePlace):
    """A table and card with a paper that comes in front of both until it is closed."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.paper = PaperPane(desk)
        self.front = QStackedWidget()
        self.paper.closed.connect(self.close_paper)
        self.paper.shown.connect(lambda _printed: self.front.setCurrentWidget(self.paper))

    def fill_front(self, *views: QWidget) -> None:
        """Fill the place: the first view is what one comes back to."""
        for view in (*views, self.paper):
            self.front.addWidget(view)
        self.fill(self.front)

    def close_paper(self) -> None:
        """Back from the paper to the table and its card."""
        self.front.setCurrentIndex(0)
        if self.side.back_to is not None:
            self.side.back_to.setFocus(Qt.FocusReason.OtherFocusReason)

    def open_form(self, form: TypedForm, name: str, ready: Callable[[Any], None]) -> None:
        """Show a form in place of the card, and the card in front of a paper."""
        self.front.setCurrentIndex(0)
        super().open_form(form, name, ready)


def known(lines: Mapping[int, T], ids: Iterable[object]) -> list[T]:
    """The lines of these row ids, in their order; an id that is not there any more is left out."""
    return [lines[number] for number in ids if isinstance(number, int) and number in lines]


def shown_lines(lines: Mapping[int, T], table: RecordTable) -> list[T]:
    """The lines of the rows that the filter shows."""
    return known(lines, (row.id for row in table.records.rows_shown()))
