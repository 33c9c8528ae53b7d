"""Keys that mean the same in every field."""

from __future__ import annotations

from PySide6.QtGui import QKeyEvent, QKeySequence

_TAKE_BACK = QKeySequence("Ctrl+Shift+Z")


def takes_back(event: QKeyEvent) -> bool:
    """Whether it is the chord that takes back the last act; a field would take it for redoing its typing."""
    return QKeySequence(event.keyCombination()) == _TAKE_BACK
