"""A list that the farm keeps of others: a table that filters, and at the right its card or a form."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from PySide6.QtWidgets import QWidget

from beeledger.operations.act import Done
from beeledger.ui.desk.desk import Desk
from beeledger.ui.parts.typed_form import SidePane, TypedForm
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.card import Card
from beeledger.ui.widgets.cells import Column, Row
from beeledger.ui.widgets.empty_state import EmptyState
from beeledger.ui.widgets.fact_rows import Fact, FactRows
from beeledger.ui.widgets.filter_box import FilterBox
from beeledger.ui.widgets.panes import Band, Stack
from beeledger.ui.widgets.record_table import RecordTable


class ListCard(Card):
    """One row of a list: its facts, what can be done with it."""

    def __init__(self, name: str, nothing: str, *buttons: Button) -> None:
        super().__init__()
        self.setObjectName(f"{name}.card")
        self._nothing = nothing
        self.buttons = buttons
        self.head.set_acts(*buttons)
        self.facts = FactRows(middle_at=130)
        self.facts.setObjectName(f"{name}.card.facts")
        self.add(self.facts)
        self.show_nothing()

    def show_nothing(self) -> None:
        """Nothing is chosen."""
        self.say(self._nothing)
        for piece in (self.facts, *self.buttons):
            piece.hide()

    def show_facts(self, title: str, facts: Sequence[Fact], under: str = "") -> None:
        """Fill the card."""
        self.say(title, (), under)
        self.facts.say(facts)
        for piece in (self.facts, *self.buttons):
            piece.show()


class Listing(Stack):
    """The table; ``side`` is what stands at the right while it is in front."""

    def __init__(
        self,
        desk: Desk,
        name: str,
        columns: Sequence[Column],
        new: str,
        empty: tuple[str, str],
        card: QWidget,
    ) -> None:
        super().__init__()
        self.desk = desk
        self.name = name
        self.table = RecordTable(columns, many=False)
        self.table.setObjectName(f"{name}.table")
        self.filter = FilterBox()
        self.filter.setObjectName(f"{name}.filter")
        self.filter.bind(self.table)
        self.filter.listen(self)
        self.add_button = Button(new, self.new, icon="plus")
        self.add_button.setObjectName(f"{name}.new")
        self.empty = EmptyState(*empty, new, self.new)
        self.add(Band(self.filter, right=[self.add_button]))
        self.add(self.empty)
        self.add(self.table, 1)
        self.side = SidePane(card)
        self.side.back_to = self.table
        self.table.chosen_changed.connect(lambda _ids: self.show_chosen())
        self.table.opened.connect(lambda _id: self.change())
        self.setFocusProxy(self.table)

    def refresh(self) -> None:
        """Read the list."""

    def new(self) -> None:
        """Open the form of a new row."""

    def change(self) -> None:
        """Open the form of the chosen row."""

    def show_chosen(self) -> None:
        """Show the card of the chosen row."""

    def set_rows(self, rows: Sequence[Row]) -> None:
        """Show the list; the first row is chosen where none is."""
        self.table.set_rows(rows)
        self.empty.stand_for(self.table, nothing=not rows)
        self.table.take_current()
        self.show_chosen()

    def chosen(self) -> int | None:
        """The number of the chosen row."""
        return next((number for number in self.table.chosen() if isinstance(number, int)), None)

    def ask(self, form: TypedForm, post: Callable[[Any, Callable[..., None]], None]) -> None:
        """Show a form; ``post`` is given what was read, and with what to send it to its act."""

        def send(operation: Callable[..., str], *args: object, **named: Any) -> None:
            self.desk.act(operation, *args, owner=self, then=done, refused=form.refused, **named)

        def done(_what: Done) -> None:
            if self.side.form() is form:
                self.side.leave()

        form.ready.connect(lambda thing: post(thing, send))
        self.side.open(form, f"{self.name}.form")
