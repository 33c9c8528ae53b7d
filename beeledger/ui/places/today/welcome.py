"""A ledger with nothing in it: what to do first."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QSizePolicy, QVBoxLayout, QWidget

from beeledger.queries.counts import UNNAMED, FarmSize
from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.field import Field
from beeledger.ui.widgets.panes import Stack
from beeledger.ui.widgets.words import Words


class Welcome(Stack):
    """Name the farm, bring in the old spreadsheet or add a first site, then the hives."""

    def __init__(
        self,
        name: Callable[[str], None],
        spreadsheet: Callable[[], None],
        site: Callable[[], None],
        hives: Callable[[], None],
    ) -> None:
        super().__init__()
        self.setObjectName("today.welcome")
        self._name = name
        self.farm = Field("Name of the farm", prompt="as customers know it", width=320, message=False)
        self.farm.setObjectName("today.welcome.farm")
        self.keep = Button("Keep the name", self.keep_name)
        self.spreadsheet = Button("Read an old spreadsheet", spreadsheet, kind="quiet")
        self.site = Button("Add the first site", site, kind="quiet")
        self.hives = Button("Bring in hives by their numbers", hives, kind="quiet")
        self.column.setContentsMargins(look.px(35), look.px(24), look.px(35), look.px(24))
        self.column.setSpacing(look.px(4))
        self.title = Words("This ledger is empty", role="card", weight=600)
        self.add(self.title)
        self.add(
            Words(
                "Each step can be taken back, and none of them is needed for the others.",
                ink="ink2",
                wrap=True,
            )
        )
        self._step("1  The farm", "Its name stands on every paper and label.", self._named())
        self._step(
            "2  What you have in a spreadsheet",
            "Sites and hives are read from a workbook or CSV in any layout. It is shown first and written only when you say so.",
            self.spreadsheet,
        )
        self._step(
            "3  Or by hand",
            "A site needs a name and, for the map, its grid reference. Then the hives that stand there, as 1-20.",
            self.site,
            self.hives,
        )
        self.column.addStretch(1)
        self.setFocusProxy(self.farm)

    def show_size(self, size: FarmSize) -> None:
        """Show the name that is kept, and what comes next; hives want a site first."""
        if not self.farm.editor.hasFocus():
            self.farm.set_value("" if size.name == UNNAMED else size.name)
        self.title.setText("No hive is in the record yet" if size.sites else "This ledger is empty")
        self.site.setText("Add another site" if size.sites else "Add the first site")
        if size.sites:
            self.hives.on()
        else:
            self.hives.off("Add a site first")

    def keep_name(self) -> None:
        """Write the name."""
        if self.farm.value():
            self._name(self.farm.value())

    def _named(self) -> QWidget:
        box = QWidget()
        row = QHBoxLayout(box)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(look.px(8))
        row.addWidget(self.farm)
        row.addWidget(self.keep, 0, Qt.AlignmentFlag.AlignBottom)
        row.addStretch(1)
        return box

    def _step(self, title: str, words: str, *pieces: QWidget) -> None:
        box = QWidget()
        box.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        column = QVBoxLayout(box)
        column.setContentsMargins(0, look.px(18), 0, 0)
        column.setSpacing(look.px(3))
        column.addWidget(Words(title, weight=600))
        column.addWidget(Words(words, role="small", ink="ink2", wrap=True))
        for piece in pieces:
            column.addWidget(piece, 0, Qt.AlignmentFlag.AlignLeft)
        self.add(box)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter in the field keeps the name."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and isinstance(self.focusWidget(), QLineEdit):
            self.keep_name()
        else:
            super().keyPressEvent(event)
