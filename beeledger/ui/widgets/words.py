"""Words on the window that keep their role, weight and ink when the look or the text size changes."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QRect, QSize, Qt
from PySide6.QtGui import QHelpEvent, QPainter, QPaintEvent, QPalette, QResizeEvent
from PySide6.QtWidgets import QLabel, QSizePolicy, QToolTip, QWidget

from beeledger.ui.widgets import look
from beeledger.ui.widgets.cells import Align, Run
from beeledger.ui.widgets.look import Role, Token
from beeledger.ui.widgets.painting import paint_runs, runs_width
from beeledger.ui.widgets.wrapping import wrapped_runs

_LINE = 20


class Words(QLabel):
    """A label in a role, a weight and an ink; plain text always, so that no name is read as markup."""

    def __init__(
        self,
        text: str = "",
        *,
        role: Role = "base",
        weight: int = 400,
        ink: Token = "ink",
        wrap: bool = False,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(text, parent)
        self._role: Role = role
        self._weight = weight
        self._ink: Token = ink
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setWordWrap(wrap)
        if wrap:
            policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
            policy.setHeightForWidth(True)
            self.setSizePolicy(policy)
        self._dress()

    def set_ink(self, ink: Token) -> None:
        """Change the ink."""
        self._ink = ink
        self._dress()

    def _dress(self) -> None:
        self.setFont(look.font(self._role, self._weight))
        palette = QPalette(self.palette())
        palette.setColor(QPalette.ColorRole.WindowText, look.current().colour(self._ink))
        self.setPalette(palette)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange and hasattr(self, "_ink"):
            self._dress()


class RunWords(QWidget):
    """One line of runs: words in several inks, with marks and discs; with ``wrap`` as many as they need."""

    def __init__(
        self,
        runs: Sequence[Run] = (),
        *,
        align: Align = Align.LEFT,
        shorten: bool = False,
        wrap: bool = False,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._runs: tuple[Run, ...] = ()
        self._align = align
        self._shorten = shorten or wrap
        self._wrap = wrap
        self.say(runs)

    def say(self, runs: Sequence[Run]) -> None:
        """Show other runs; a screen reader gets the marks as words."""
        self._runs = tuple(runs)
        self.setAccessibleName(spoken(self._runs))
        policy = QSizePolicy.Policy.Expanding if self._shorten else QSizePolicy.Policy.Preferred
        self.setSizePolicy(policy, QSizePolicy.Policy.Fixed)
        self.updateGeometry()
        self.update()

    def text(self) -> str:
        """The words alone."""
        return " ".join(run.text for run in self._runs)

    def sizeHint(self) -> QSize:
        return QSize(runs_width(self._runs) + 2, look.px(_LINE) * len(self._lines()))

    def minimumSizeHint(self) -> QSize:
        return QSize(look.px(40), self.sizeHint().height()) if self._shorten else self.sizeHint()

    def _lines(self) -> list[tuple[Run, ...]]:
        return (wrapped_runs(self._runs, self.width()) if self._wrap else []) or [self._runs]

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self._wrap and self.sizeHint().height() != self.height():
            self.updateGeometry()

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        lines = self._lines()
        height = look.px(_LINE) if len(lines) > 1 else self.height()
        for at, line in enumerate(lines):
            place = QRect(0, at * height, self.width(), height)
            paint_runs(painter, place, line, align=self._align, shorten=self._shorten)
        painter.end()

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ToolTip and not self.toolTip() and isinstance(event, QHelpEvent):
            cut = runs_width(self._runs) > self.width()
            QToolTip.showText(event.globalPos(), self.text() if cut else "", self)
            return True
        return super().event(event)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange:
            self.updateGeometry()


def spoken(runs: Sequence[Run]) -> str:
    """The runs as a screen reader says them."""
    parts = [f"{run.mark.words}: {run.text}" if run.mark else run.text for run in runs]
    return " ".join(part for part in parts if part)
