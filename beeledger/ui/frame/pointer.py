"""For developers: which object, class, file and line stands under the pointer.

On with ``BEELEDGER_DEVELOPER=1``; Ctrl+Shift+F12 tells it.
"""

from __future__ import annotations

import inspect
import os
from pathlib import Path

from PySide6.QtCore import QPoint
from PySide6.QtGui import QCursor
from PySide6.QtWidgets import QApplication, QWidget

CHORD = "Ctrl+Shift+F12"
_ROOT = Path(__file__).resolve().parents[3]


def wanted() -> bool:
    """Whether the pointer is switched on."""
    return os.environ.get("BEELEDGER_DEVELOPER") == "1"


def under(point: QPoint | None = None) -> str:
    """What stands under a point of the screen (the mouse when none is given), in one line."""
    widget = QApplication.widgetAt(point or QCursor.pos())
    return "nothing of this window" if widget is None else described(widget)


def described(widget: QWidget) -> str:
    """Address, class, file and line: of the widget, or of the nearest one above it that is ours."""
    ours: QWidget | None = widget
    while ours is not None and not type(ours).__module__.startswith("beeledger"):
        ours = ours.parentWidget()
    if ours is None:
        return f"{widget.objectName() or 'no name'}: {type(widget).__name__}, Qt's own"
    kind = type(ours)
    file = Path(inspect.getsourcefile(kind) or "")
    line = inspect.getsourcelines(kind)[1]
    shown = file.relative_to(_ROOT) if file.is_relative_to(_ROOT) else file
    return f"{_address(widget)}: {kind.__name__}, {shown.as_posix()}:{line}"


def _address(widget: QWidget) -> str:
    """The nearest object name, upwards."""
    at: QWidget | None = widget
    while at is not None:
        name = at.objectName()
        if name and not name.startswith("qt_"):
            return name
        at = at.parentWidget()
    return "no name"
