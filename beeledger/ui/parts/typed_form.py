"""Reading what was typed in a form: dates, whole numbers and choices, with a finding for what cannot be read."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QStackedWidget, QWidget

from beeledger.base.dates import read_date
from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade, Where, holds
from beeledger.base.units import to_scale
from beeledger.ui.widgets.form import Form


class Typed:
    """The values of a form, read one by one; what could not be read is kept as findings."""

    def __init__(self, values: Mapping[str, str], today: date) -> None:
        self.values = values
        self.today = today
        self.findings: list[Finding] = []

    def text(self, field: str) -> str:
        """The words as typed."""
        return self.values.get(field, "").strip()

    def wanted(self, field: str, what: str) -> str:
        """Words that must be there; ``what`` says what is missing."""
        if not self.text(field):
            self.refuse(field, what)
        return self.text(field)

    def day(self, field: str, *, needed: bool = False) -> date | None:
        """A day, written in any usual way."""
        if not self.text(field):
            if needed:
                self.refuse(field, "a day is needed", "Type it as 14 May or 14/5")
            return None
        try:
            return read_date(self.text(field), self.today)
        except ValueError as error:
            self.refuse(field, str(error), "Type it as 14 May or 14/5")
            return None

    def whole(self, field: str, scale: int = 1) -> int | None:
        """A figure in whole units of 1/``scale``; None when the field is empty."""
        if not self.text(field):
            return None
        try:
            number = to_scale(self.text(field), scale)
        except ValueError as error:
            self.refuse(field, str(error), "Type a figure")
            return None
        if number < 0:
            self.refuse(field, "this cannot be less than nought")
        return number

    def yes(self, field: str) -> bool | None:
        """Yes, no, or not known."""
        return {"yes": True, "no": False}.get(self.text(field))

    def refuse(self, field: str, what: str, mend: str = "") -> None:
        """Say what is wrong with a field."""
        self.findings.append(Finding("form.unread", Grade.REFUSED, what, mend, Where(field=field)))


class TypedForm(Form):
    """A form whose values are read before they are handed on; what is wrong is said beside the field.

    ``read`` makes of the values what an act needs. Findings are looked at again at each change once
    there are some; before the first try nobody is told what is still empty.
    """

    ready = Signal(object)
    """What was read, when nothing is wrong with it."""

    def __init__(
        self, title: str, act_word: str, read: Callable[[Typed], Any], today: date, note: str = ""
    ) -> None:
        super().__init__(title, act_word, note)
        self._read = read
        self._today = today
        self._told = False
        self.asked: frozenset[str] = frozenset()
        """The codes of what the last try was refused for: pressing the button again accepts it. A change forgets it."""
        self.submitted.connect(self._try)
        self.changed.connect(self._look_again)

    def refused(self, refusal: Refused) -> None:
        """An act was refused: say why; the next change lifts it."""
        self._told = True
        self.asked |= {finding.code for finding in refusal.findings}
        self.show_findings(refusal.findings)
        self.come_to_wrong()

    def _try(self, values: dict[str, str]) -> None:
        typed = Typed(values, self._today)
        thing = self._read(typed)
        self._told = True
        self.show_findings(typed.findings)
        if holds(typed.findings):
            self.come_to_wrong()
        else:
            self.ready.emit(thing)

    def _look_again(self, values: dict[str, str]) -> None:
        self.asked = frozenset()
        if self._told:
            typed = Typed(values, self._today)
            self._read(typed)
            self.show_findings(typed.findings)


class SidePane(QStackedWidget):
    """The pane at the right: the card, or a form in its place until it is done or left."""

    def __init__(self, card: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.card = card
        self.back_to: QWidget | None = None
        self.addWidget(card)

    def open(self, form: Form, name: str) -> None:
        """Show a form in place of the card; each field gets its address."""
        self.close_form()
        form.setObjectName(name)
        for field, piece in form.fields.items():
            piece.setObjectName(f"{name}.{field}")
        self.addWidget(form)
        self.setCurrentWidget(form)
        form.cancelled.connect(self.leave)
        form.come()

    def form(self) -> Form | None:
        """The form that is open."""
        front = self.currentWidget()
        return front if isinstance(front, Form) else None

    def close_form(self) -> None:
        """Back to the card."""
        form = self.form()
        if form is not None:
            self.removeWidget(form)
            form.deleteLater()
        self.setCurrentWidget(self.card)

    def leave(self) -> None:
        """The form was left: the focus goes back to where one came from."""
        self.close_form()
        if self.back_to is not None:
            self.back_to.setFocus()
