"""Round a place: where the window is smaller than what the place needs, it scrolls and the window stays as it is."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QFrame, QScrollArea

from beeledger.ui.desk.place import Place


class PlaceFrame(QScrollArea):
    """Shows one place; large text in a small window must not push the foot of the window off the screen."""

    def __init__(self, place: Place) -> None:
        super().__init__()
        self.place = place
        self.setWidget(place)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)

    def sizeHint(self) -> QSize:
        return self.place.sizeHint()

    def minimumSizeHint(self) -> QSize:
        return QSize(0, 0)
