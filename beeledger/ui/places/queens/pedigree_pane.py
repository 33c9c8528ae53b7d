"""The pedigree with its key and what it leaves out, under a tool row with Print."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QPointF, QRect, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QFrame, QScrollArea, QSizePolicy, QWidget

from beeledger.queries.records.pedigree import Pedigree
from beeledger.ui.places.queens.drawing import PedigreeDrawing
from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.cells import Run
from beeledger.ui.widgets.foot import TableFoot
from beeledger.ui.widgets.painting import paint_text
from beeledger.ui.widgets.panes import Band, Stack
from beeledger.ui.widgets.words import Words


class _Key(QWidget):
    """Which line is which."""

    def __init__(self) -> None:
        super().__init__()
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Solid line, square box: dam side. Dashed line, cut corners: drone side.")

    def sizeHint(self) -> QSize:
        return QSize(look.px(270), look.px(26))

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        x = 0
        for words, dashed in (("dam side", False), ("drone side, cut corners", True)):
            pen = QPen(look.current().colour("ink2"), 1)
            if dashed:
                pen.setDashPattern([4, 3])
            painter.setPen(pen)
            middle = self.height() / 2
            painter.drawLine(QPointF(x, middle), QPointF(x + look.px(22), middle))
            room = QRect(x + look.px(30), 0, self.width(), self.height())
            x += look.px(30) + paint_text(painter, room, words, "ink2", role="small") + look.px(16)
        painter.end()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange:
            self.updateGeometry()


class PedigreePane(Stack):
    """Tool row, drawing, foot."""

    def __init__(self, print_it: Callable[[], object]) -> None:
        super().__init__()
        self.setObjectName("queens.pedigree")
        self.drawing = PedigreeDrawing()
        self.title = Words("", weight=600)
        self.print = Button("Print", print_it, icon="print")
        self.print.setObjectName("queens.pedigree.print")
        band = Band(self.title, _Key(), inset=16)
        band.air()
        band.add(self.print)
        scroll = QScrollArea()
        scroll.setWidget(self.drawing)
        scroll.setWidgetResizable(True)
        scroll.setFrameShape(QFrame.Shape.NoFrame)
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.drawing.walked.connect(
            lambda rect: scroll.ensureVisible(
                rect.center().x(), rect.center().y(), rect.width(), rect.height()
            )
        )
        self.foot = TableFoot()
        self.add(band)
        self.add(scroll, 1)
        self.add(self.foot)
        self.setFocusProxy(self.drawing)

    def show_pedigree(self, pedigree: Pedigree | None) -> None:
        """Draw it, and say in the foot how far it goes."""
        self.drawing.show_pedigree(pedigree)
        if pedigree is None:
            self.title.setText("No queen chosen")
            self.foot.say([])
            self.print.off("No queen is chosen")
            return
        self.title.setText(f"Queen {pedigree.subject.words}")
        self.print.on()
        shared = [Run(pedigree.shared_words, "watch", 600, gap=16)] if pedigree.shared_words else []
        self.foot.say([*shared, Run(pedigree.reach)])
