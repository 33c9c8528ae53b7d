"""A button whose menu holds the acts that are seldomer wanted, each with its chord."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QMenu, QWidget

from beeledger.ui.widgets.buttons import Button


class MoreButton(Button):
    """Space or Enter opens the menu, arrows choose, Escape leaves it."""

    def __init__(self, words: str = "More", parent: QWidget | None = None) -> None:
        super().__init__(f"{words} \N{HORIZONTAL ELLIPSIS}", parent=parent)
        self.acts = QMenu(self)
        self.clicked.connect(lambda _checked=False: self._open())

    def offer(self, words: str, chord: str, act: Callable[[], object]) -> None:
        """One more act; its chord is only shown here, the place listens to it."""
        entry = self.acts.addAction(f"{words}\t{chord}")
        entry.triggered.connect(lambda _checked=False: act())

    def _open(self) -> None:
        self.acts.setMinimumWidth(self.width())
        self.acts.popup(self.mapToGlobal(self.rect().bottomLeft()))
        if entries := self.acts.actions():
            self.acts.setActiveAction(entries[0])
