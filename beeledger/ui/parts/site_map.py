"""The map of the sites at true scale: shapes by urgency, sized by colonies, over the lines of the grid.

It needs no network. Wheel and + − come nearer, dragging and arrows move it, 0 shows everything.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from math import sqrt

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPolygonF,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from beeledger.base.text import counted
from beeledger.ui.parts.map_ground import (
    Ground,
    ground_for,
    on_a_plane,
)
from beeledger.ui.parts.map_labels import Wanted, place_labels
from beeledger.ui.parts.map_painting import (
    circle_word,
    paint_bar,
    paint_circle,
    paint_grid,
    paint_house,
    radius,
)
from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.look import Token
from beeledger.ui.widgets.marks import Mark, paint_mark
from beeledger.ui.widgets.painting import fill, paint_text

_RANK = {Mark.HELD: 0, Mark.LATE: 0, Mark.TODAY: 1, Mark.ODD: 2, Mark.SOON: 3, None: 4}


@dataclass(frozen=True, slots=True)
class MapSite:
    """A site on the map; ``mark`` says how urgent it is, ``words`` why."""

    key: Hashable
    name: str
    easting_m: int | None
    northing_m: int | None
    latitude_e6: int | None = None
    longitude_e6: int | None = None
    colonies: int = 0
    mark: Mark | None = None
    home: bool = False
    words: str = ""


class SiteMap(QWidget):
    """The map. ``picked`` says on which site one clicked, ``opened`` on which twice."""

    picked = Signal(object)
    opened = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("map")
        self._sites: dict[Hashable, tuple[MapSite, tuple[float, float]]] = {}
        self._lettered = True
        self._chosen: list[Hashable] = []
        self._route: list[Hashable] = []
        self._circle: tuple[Hashable, int] | None = None
        self._circles: list[tuple[int, int, int]] = []
        self._ground: Ground | None = None
        self._own = False
        self._grip: QPointF | None = None
        self._dragged = False
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setAccessibleName("Map of the sites")
        self.nearer_button = Button("+", lambda: self.zoom(1.4), tip="nearer", parent=self)
        self.farther_button = Button("−", lambda: self.zoom(1 / 1.4), tip="farther", parent=self)
        for button, word in ((self.nearer_button, "Nearer"), (self.farther_button, "Farther")):
            button.setAccessibleName(word)
            button.setFocusPolicy(Qt.FocusPolicy.NoFocus)

    def set_sites(self, sites: Sequence[MapSite]) -> None:
        """Show these sites; the part of the land that is shown stays if the person has chosen it."""
        self._sites, self._lettered = _placed(sites)
        words = [f"{site.name} {site.mark.words}" for site, _spot in self._sites.values() if site.mark]
        self.setAccessibleDescription(f"{counted(len(self._sites), 'site')}: {', '.join(words)}")
        if not self._own:
            self.fit()
        self.update()

    def set_chosen(self, keys: Sequence[Hashable], *, near_m: int = 0, route: bool = False) -> None:
        """Ring these sites; ``near_m`` draws the circle around the last, ``route`` the order of a day's drive."""
        self._chosen = [key for key in keys if key in self._sites]
        self._circle = (self._chosen[-1], near_m) if self._chosen and near_m else None
        self._route = list(self._chosen) if route else []
        self.update()

    def set_circles(self, circles: Sequence[tuple[int, int, int]]) -> None:
        """Draw circles of their own: easting, northing and radius in metres of each."""
        self._circles = list(circles)
        self.update()

    def fit(self) -> None:
        """Show all sites."""
        self._own = False
        spots = [spot for _site, spot in self._sites.values()]
        self._ground = ground_for(spots, self.width(), self.height(), look.px(44))
        self.update()

    def zoom(self, factor: float) -> None:
        """Nearer around the middle."""
        self._change(self._shown().zoomed(factor, self.width() / 2, self.height() / 2))

    def where(self, key: Hashable) -> tuple[float, float] | None:
        """On which pixel a site stands; None when it is not on the map."""
        found = self._sites.get(key)
        return None if found is None else self._shown().pixel(*found[1])

    def at(self, x: float, y: float) -> Hashable | None:
        """The site under a pixel."""
        near = [
            (sqrt((px - x) ** 2 + (py - y) ** 2), key)
            for key, (site, spot) in self._sites.items()
            for px, py in [self._shown().pixel(*spot)]
            if sqrt((px - x) ** 2 + (py - y) ** 2) <= max(look.px(9), radius(site.colonies) + 3)
        ]
        return min(near, key=lambda pair: pair[0])[1] if near else None

    def _shown(self) -> Ground:
        if self._ground is None or self._ground.width != self.width() or self._ground.height != self.height():
            self.fit()
        assert self._ground is not None
        return self._ground

    def _change(self, ground: Ground) -> None:
        self._ground = ground
        self._own = True
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(look.px(480), look.px(420))

    def minimumSizeHint(self) -> QSize:
        return QSize(look.px(150), look.px(150))

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        ground = self._shown()
        fill(painter, self.rect(), "sunk")
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, on=False)
        paint_grid(painter, ground, lettered=self._lettered)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self._circle is not None:
            spot = self._sites[self._circle[0]][1]
            paint_circle(painter, ground, spot, self._circle[1])
        for east, north, metres in self._circles if self._lettered else ():
            paint_circle(painter, ground, (east, north), metres, "restricted")
        self._paint_route(painter, ground)
        order = sorted(self._sites.values(), key=lambda pair: -_RANK[pair[0].mark])
        for site, spot in order:
            self._paint_site(painter, site, *ground.pixel(*spot))
        self._paint_names(painter, ground)
        paint_bar(painter, ground)
        if self.hasFocus():
            painter.setPen(QPen(look.current().colour("accent"), 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))
        painter.end()

    def _paint_route(self, painter: QPainter, ground: Ground) -> None:
        if not self._route:
            return
        home = [spot for site, spot in self._sites.values() if site.home][:1]
        stops = [self._sites[key][1] for key in self._route]
        points = [QPointF(*ground.pixel(*spot)) for spot in [*home, *stops, *home]]
        painter.setPen(QPen(look.current().colour("accent"), 1.75))
        painter.drawPolyline(QPolygonF(points))

    def _paint_site(self, painter: QPainter, site: MapSite, x: float, y: float) -> None:
        size = radius(site.colonies)
        square = QRectF(x - size, y - size, 2 * size, 2 * size)
        if site.key in self._chosen:
            painter.setPen(QPen(look.current().colour("accent"), 1.75))
            painter.setBrush(look.current().colour("paper"))
            painter.drawEllipse(QPointF(x, y), size + look.px(5), size + look.px(5))
        if site.home:
            paint_house(painter, x, y, look.px(7))
            if site.mark in (None, Mark.SOON):
                return
            square = QRectF(x + look.px(7), y - look.px(13), look.px(9), look.px(9))
        if site.mark is not None:
            paint_mark(painter, square, site.mark)
        elif not site.home:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(look.current().colour("ink3"))
            painter.drawEllipse(QPointF(x, y), max(2.0, size * 0.55), max(2.0, size * 0.55))

    def _paint_names(self, painter: QPainter, ground: Ground) -> None:
        wanted, inks = [], {}
        order = sorted(
            self._sites.values(),
            key=lambda pair: (
                pair[0].key not in self._chosen,
                not pair[0].home,
                _RANK[pair[0].mark],
                -pair[0].colonies,
            ),
        )
        for site, spot in order:
            x, y = ground.pixel(*spot)
            if not (0 <= x <= self.width() and 0 <= y <= self.height()):
                continue
            bold = site.key in self._chosen or site.home
            metrics = look.metrics("small", 600 if bold else 400)
            extra = look.px(5) if site.key in self._chosen else 0
            inks[site.key] = (site, bold)
            wanted.append(
                Wanted(
                    site.key,
                    x,
                    y,
                    radius(site.colonies) + extra,
                    metrics.horizontalAdvance(site.name) + 1,
                    metrics.height(),
                )
            )
        for key, rect in place_labels(wanted, self._reserved(ground), QRectF(self.rect())).items():
            site, bold = inks[key]
            ink: Token = "ink" if bold or site.mark in (Mark.LATE, Mark.HELD) else "ink2"
            paint_text(painter, rect.toRect(), site.name, ink, role="small", weight=600 if bold else 400)

    def _reserved(self, ground: Ground) -> list[QRectF]:
        """Where the buttons, the bar, the figures of the grid and the word of the circle stand."""
        circle = self._circle and circle_word(ground, self._sites[self._circle[0]][1], self._circle[1])
        return [
            *([QRectF(circle)] if circle else []),
            QRectF(self.nearer_button.geometry()).united(QRectF(self.farther_button.geometry())),
            QRectF(self.width() - look.px(130), self.height() - look.px(52), look.px(130), look.px(52)),
            QRectF(0, 0, look.px(26), self.height()),
            QRectF(0, self.height() - look.px(18), self.width(), look.px(18)),
        ]

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._place_buttons()
        if self._ground is not None and self._own:
            old = self._ground
            self._ground = Ground(old.east, old.north, old.metres_a_pixel, self.width(), self.height())
        else:
            self.fit()

    def _place_buttons(self) -> None:
        side, right = look.px(28), self.width() - look.px(14)
        self.nearer_button.setGeometry(right - side, look.px(12), side, side)
        self.farther_button.setGeometry(right - side, look.px(12) + side + look.px(4), side, side)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.StyleChange and hasattr(self, "nearer_button"):
            self._place_buttons()

    def wheelEvent(self, event: QWheelEvent) -> None:
        steps = event.angleDelta().y() / 120
        self._change(self._shown().zoomed(1.2**steps, event.position().x(), event.position().y()))
        event.accept()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self._grip, self._dragged = event.position(), False

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._grip is None:
            over = self.at(event.position().x(), event.position().y())
            self.setCursor(Qt.CursorShape.ArrowCursor if over is None else Qt.CursorShape.PointingHandCursor)
            return
        way = event.position() - self._grip
        if self._dragged or way.manhattanLength() > 4:
            self._dragged = True
            self._grip = event.position()
            self._change(self._shown().moved(way.x(), way.y()))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        key = self.at(event.position().x(), event.position().y())
        if not self._dragged and key is not None:
            self.picked.emit(key)
        self._grip = None

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        key = self.at(event.position().x(), event.position().y())
        if key is not None:
            self.opened.emit(key)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        step = look.px(60)
        ways = {
            Qt.Key.Key_Left: (step, 0), Qt.Key.Key_Right: (-step, 0), Qt.Key.Key_Up: (0, step), Qt.Key.Key_Down: (0, -step),
        }  # fmt: skip
        key = Qt.Key(event.key())
        if key in ways and event.modifiers() in (
            Qt.KeyboardModifier.NoModifier,
            Qt.KeyboardModifier.KeypadModifier,
        ):
            self._change(self._shown().moved(*ways[key]))
        elif key in (Qt.Key.Key_Plus, Qt.Key.Key_Equal):
            self.zoom(1.4)
        elif key == Qt.Key.Key_Minus:
            self.zoom(1 / 1.4)
        elif key == Qt.Key.Key_0:
            self.fit()
        else:
            super().keyPressEvent(event)

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            key = self.at(event.pos().x(), event.pos().y())
            QToolTip.showText(event.globalPos(), "" if key is None else _said(self._sites[key][0]), self)
            return True
        return super().event(event)


def _said(site: MapSite) -> str:
    parts = [
        site.name,
        counted(site.colonies, "colony", "colonies"),
        site.mark.words if site.mark else "",
        site.words,
    ]
    return ", ".join(part for part in parts if part)


def _placed(sites: Sequence[MapSite]) -> tuple[dict[Hashable, tuple[MapSite, tuple[float, float]]], bool]:
    """Each site with its metres; on the National Grid if any of them is, else on a plane of its own."""
    on_grid = [site for site in sites if site.easting_m is not None and site.northing_m is not None]
    if on_grid:
        return {
            site.key: (site, (float(site.easting_m or 0), float(site.northing_m or 0))) for site in on_grid
        }, True
    abroad = [site for site in sites if site.latitude_e6 is not None and site.longitude_e6 is not None]
    spots = on_a_plane([((site.latitude_e6 or 0) / 1e6, (site.longitude_e6 or 0) / 1e6) for site in abroad])
    return {site.key: (site, spot) for site, spot in zip(abroad, spots, strict=True)}, False
