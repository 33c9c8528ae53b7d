"""A form in a pane: fields, what is wrong beside each, one main button. Never modal."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from beeledger.base.findings import Finding, Grade, gravest
from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.cells import Run
from beeledger.ui.widgets.field import Field, MessageLine, State
from beeledger.ui.widgets.foot import ActFoot
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.panes import Stack
from beeledger.ui.widgets.words import Words

_STATE: dict[Grade, State] = {
    Grade.REFUSED: "now",
    Grade.AGAINST: "watch",
    Grade.DOUBTFUL: "watch",
    Grade.NOTED: "",
}
_MARK = {
    Grade.REFUSED: Mark.CANNOT,
    Grade.AGAINST: Mark.AGAINST,
    Grade.DOUBTFUL: Mark.ODD,
    Grade.NOTED: Mark.ADVICE,
}


class Form(QWidget):
    """Fields by name. ``submitted`` carries their values; findings come back beside the fields."""

    submitted = Signal(dict)
    cancelled = Signal()
    changed = Signal(dict)

    def __init__(self, title: str, act_word: str, note: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.fields: dict[str, Field] = {}
        self.main = Button(act_word, self.submit, kind="main")
        self.foot = ActFoot(Button("Cancel", self.cancelled.emit), self.main)
        self._row = 0
        self._asked: dict[str, Field] = {}
        self._grid = QGridLayout()
        self._build(title, note)
        self.setAccessibleName(title)
        shortcut = QShortcut(QKeySequence("Ctrl+Return"), self)
        shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        shortcut.activated.connect(self.submit)

    def add(self, name: str, field: Field) -> Field:
        """A field over the whole width."""
        self.add_side_by_side({name: field})
        return field

    def add_side_by_side(self, fields: Mapping[str, Field]) -> None:
        """Fields in one line; their messages share the line below."""
        row = QHBoxLayout()
        row.setSpacing(look.px(12))
        shared = MessageLine() if len(fields) > 1 else None
        for name, field in fields.items():
            self.fields[name] = field
            field.setObjectName(name)
            field.changed.connect(self._changed)
            if shared is not None:
                field.say_in(shared)
            row.addWidget(field)
        if all(
            field.sizePolicy().horizontalPolicy() == QSizePolicy.Policy.Fixed for field in fields.values()
        ):
            row.addStretch(1)
        self._grid.addLayout(row, self._row, 0)
        self._row += 1
        if shared is not None:
            self.add_piece(shared)

    def add_when_asked(self, fields: Mapping[str, Field]) -> None:
        """Fields one under another that stay hidden until a finding speaks of one of them."""
        for name, field in fields.items():
            self.add(name, field)
            field.hide()
        self._asked.update(fields)

    def add_piece(self, piece: QWidget) -> None:
        """Anything else between the fields: a small table, a balance line, a caution."""
        self._grid.addWidget(piece, self._row, 0)
        self._row += 1

    def caution(self, sentence: str) -> Words:
        """A caution where the work can hurt; it stays in view."""
        words = Words(sentence, role="small", ink="watch", wrap=True)
        self.add_piece(words)
        return words

    def values(self) -> dict[str, str]:
        """What stands in the fields, by name."""
        return {name: field.value() for name, field in self.fields.items()}

    def set_values(self, values: Mapping[str, str]) -> None:
        """Fill fields; names that are not there raise KeyError."""
        for name, value in values.items():
            self.fields[name].set_value(value)

    def show_findings(self, findings: Iterable[Finding]) -> None:
        """Say each finding beside its field, the rest in the foot; what is refused holds the button."""
        found = list(findings)
        if self._asked and any(finding.where.field in self._asked for finding in found):
            for field in self._asked.values():
                field.show()
        for field in self.fields.values():
            field.clear_message()
        loose = [one for one in found if not self._beside(one)]
        worst = gravest(found)
        self._say_foot(loose, found)
        if worst is Grade.REFUSED:
            self.main.off("Something here cannot be true")
        else:
            self.main.on()

    def submit(self) -> None:
        """Hand the values over, unless the button is off."""
        if self.main.isEnabled():
            self.submitted.emit(self.values())

    def come(self) -> None:
        """Take the focus to the first field."""
        for field in self.fields.values():
            field.setFocus(Qt.FocusReason.OtherFocusReason)
            return

    def come_to_wrong(self) -> None:
        """Take the focus to the first field that cannot be true, else to one that was asked for and is empty."""
        wrong = next((field for field in self.fields.values() if field.state == "now"), None)
        asked = (field for field in self._asked.values() if not field.isHidden() and not field.value())
        wrong = wrong or next(asked, None)
        if wrong is not None:
            wrong.setFocus(Qt.FocusReason.OtherFocusReason)

    def _beside(self, finding: Finding) -> bool:
        field = self.fields.get(finding.where.field)
        if field is None:
            return False
        words = f"{finding.what}. {finding.mend}" if finding.mend else finding.what
        if not (field.state == "now" and finding.grade is not Grade.REFUSED):
            field.say(_STATE[finding.grade], words)
        return True

    def _say_foot(self, loose: list[Finding], found: list[Finding]) -> None:
        if loose:
            first = loose[0]
            ink = _STATE[first.grade] or "ink2"
            words = f"{first.what}. {first.mend}" if first.mend else first.what
            self.foot.say([Run(words, ink, mark=_MARK[first.grade], small=True)])
            self.foot.first.setToolTip("\n".join(one.sentence() for one in loose))
            return
        held = sum(one.grade is Grade.REFUSED for one in found)
        self.foot.say([Run(f"{held} to mend", "now", 600, mark=Mark.CANNOT, small=True)] if held else [])

    def _changed(self, _text: str) -> None:
        self.changed.emit(self.values())

    def _build(self, title: str, note: str) -> None:
        inside = Stack()
        inside.column.setContentsMargins(look.px(16), look.px(12), look.px(16), look.px(12))
        inside.column.setSpacing(look.px(6))
        inside.add(Words(title, role="place", weight=600))
        if note:
            inside.add(Words(note, role="small", ink="ink2", wrap=True))
        self._grid.setContentsMargins(0, look.px(6), 0, 0)
        self._grid.setVerticalSpacing(look.px(4))
        inside.column.addLayout(self._grid)
        inside.column.addStretch(1)
        scroll = QScrollArea()
        scroll.setWidget(inside)
        scroll.setWidgetResizable(True)
        scroll.setFrameShape(QFrame.Shape.NoFrame)
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(scroll, 1)
        column.addWidget(self.foot)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.cancelled.emit()
        elif event.matches(QKeySequence.StandardKey.Undo):
            event.accept()  # in a form it takes back typing; the act behind it is not meant
        else:
            super().keyPressEvent(event)


Check = Callable[[Mapping[str, str]], Iterable[Finding]]


def check_as_typed(form: Form, check: Check) -> None:
    """Run ``check`` over the values at each change and show what it finds."""
    form.changed.connect(lambda values: form.show_findings(check(values)))
