"""What the program has to say, sentence under sentence: mark, words, how to mend it; nothing is cut."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QWidget

from beeledger.base.findings import Finding, Grade
from beeledger.ui.widgets import look
from beeledger.ui.widgets.cells import Run
from beeledger.ui.widgets.look import Token
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.words import RunWords, Words

MARKS = {
    Grade.REFUSED: Mark.CANNOT,
    Grade.AGAINST: Mark.AGAINST,
    Grade.DOUBTFUL: Mark.ODD,
    Grade.NOTED: Mark.ADVICE,
}
INKS: dict[Grade, Token] = {
    Grade.REFUSED: "now",
    Grade.AGAINST: "watch",
    Grade.DOUBTFUL: "watch",
    Grade.NOTED: "ink2",
}
_MOST = 8


class Sayings(QWidget):
    """Findings one under another; hidden while there are none."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(look.px(4))
        self._grid.setVerticalSpacing(look.px(4))
        self._grid.setColumnStretch(1, 1)
        self._said: tuple[Finding, ...] = ()
        self.hide()

    def say(self, findings: Sequence[Finding]) -> None:
        """Show other findings; beyond eight they are counted."""
        if tuple(findings) == self._said:
            return
        self._said = tuple(findings)
        self._clear()
        for line, finding in enumerate(self._said[:_MOST]):
            words = f"{finding.what}. {finding.mend}." if finding.mend else f"{finding.what}."
            self._line(line, words, MARKS[finding.grade], INKS[finding.grade])
        if len(self._said) > _MOST:
            self._line(_MOST, f"and {len(self._said) - _MOST} more", None, "ink2")
        self.setAccessibleName(" ".join(finding.sentence() for finding in self._said))
        self.setVisible(bool(self._said))

    def findings(self) -> tuple[Finding, ...]:
        """What is said."""
        return self._said

    def _line(self, line: int, words: str, mark: Mark | None, ink: Token) -> None:
        if mark is not None:
            sign = RunWords([Run("", mark=mark)])
            self._grid.addWidget(sign, line, 0, Qt.AlignmentFlag.AlignTop)
        self._grid.addWidget(Words(words, role="small", ink=ink, wrap=True), line, 1)

    def _clear(self) -> None:
        while self._grid.count():
            item = self._grid.takeAt(0)
            widget = item.widget() if item else None
            if widget is not None:
                widget.hide()
                widget.deleteLater()
