"""Drawings on paper: shares as a bar, weights as dots against their limits, hives on a crop by day."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from reportlab.platypus import Flowable

from beeledger.base.dates import short
from beeledger.reporting.look.fonts import FOOT, QUIET, Role, text_width
from beeledger.reporting.look.ink import HAIR, SERIES, Ink, ink
from beeledger.reporting.look.marks import draw_mark
from beeledger.reporting.look.text import draw

_LABEL = replace(FOOT, face="SemiBold")


def series_ink(index: int) -> Ink:
    """The ink of the ``index``-th part; those past the fourth share a grey."""
    return SERIES[index] if index < len(SERIES) else "line5"


class ShareBar(Flowable):
    """Shares of a whole as one bar; parts past the fourth are grey and told apart by hairlines."""

    def __init__(self, shares: Sequence[int]) -> None:
        super().__init__()
        self.shares = list(shares)
        self.spaceAfter = 6

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:  # noqa: ARG002, N803
        """A bar as wide as the column."""
        self.room = aW
        return aW, 14.0

    def draw(self) -> None:
        """Parts from the left, a white hair between them."""
        whole = sum(self.shares)
        x = 0.0
        for index, share in enumerate(self.shares):
            wide = self.room * share / whole if whole else 0.0
            self.canv.setFillColor(ink(series_ink(index)))
            self.canv.rect(x, 2, max(wide - 1.2, 0.3), 11, stroke=0, fill=1)
            x += wide


@dataclass(frozen=True, slots=True)
class Threshold:
    """A named line across a chart."""

    value: float
    words: str
    ink: Ink = "ink2"
    dashed: bool = True


class _Plot(Flowable):
    """What the charts share: room, scale, horizontal hairlines, labels at the right that do not collide."""

    left, right, bottom, top = 30.0, 118.0, 16.0, 22.0

    def __init__(self, title: str, height: float) -> None:
        super().__init__()
        self.title, self.height_wanted = title, height
        self.low, self.high_value = 0.0, 1.0
        self.spaceAfter = 8

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:  # noqa: ARG002, N803
        """The room it takes."""
        self.room = aW
        return aW, self.height_wanted

    def split(self, aW: float, aH: float) -> list[Flowable]:  # noqa: ARG002, N803
        """A drawing stays whole."""
        return []

    def y(self, value: float) -> float:
        """Height of a value on paper."""
        share = (value - self.low) / (self.high_value - self.low)
        return self.bottom + share * (self.height_wanted - self.bottom - self.top)

    def grid(self, values: Sequence[float], places: int = 0) -> None:
        """The title, and hairlines with their figures at the left."""
        draw(self.canv, 0, self.height_wanted - 9, self.title, QUIET)
        self.canv.setLineWidth(HAIR)
        for value in values:
            self.canv.setStrokeColor(ink("line"))
            self.canv.line(self.left, self.y(value), self.room - self.right, self.y(value))
            draw(self.canv, self.left - 6, self.y(value) - 2.8, f"{value:.{places}f}", FOOT, "right")

    def thresholds(self, lines: Sequence[Threshold]) -> None:
        """Each line, named at its right end; names are moved apart where lines are close."""
        at = self.height_wanted
        for line in sorted(lines, key=lambda each: -each.value):
            y = self.y(line.value)
            self.canv.setStrokeColor(ink(line.ink))
            self.canv.setLineWidth(0.9)
            self.canv.setDash([3, 2] if line.dashed else [])
            self.canv.line(self.left, y, self.room - self.right, y)
            self.canv.setDash([])
            at = min(y - 2.8, at - 10)
            draw(self.canv, self.room - self.right + 6, at, line.words, replace(_LABEL, ink=line.ink))


def steps(low: float, high: float, most: int = 5) -> list[float]:
    """Round values between ``low`` and ``high``, at most ``most`` of them."""
    for step in (1, 2, 5, 10, 20, 25, 50, 100, 200, 250, 500, 1000, 2000, 5000, 10000, 100000):
        first = -(-low // step) * step
        count = int((high - first) // step) + 1
        if count <= most:
            return [first + step * index for index in range(max(count, 0))]
    return [low]


class WeightDots(_Plot):
    """Net weights in the order weighed, against mean, nominal and the limits; grams."""

    def __init__(self, weights: Sequence[float], thresholds: Sequence[Threshold], floor: float) -> None:
        super().__init__("Net weight, grams", 128)
        self.weights, self.lines, self.floor = list(weights), list(thresholds), floor
        values = [*self.weights, *(line.value for line in self.lines)]
        spread = max(max(values) - min(values), 1.0)
        self.low, self.high_value = min(values) - spread * 0.08, max(values) + spread * 0.08

    def draw(self) -> None:
        """Zone past the limit, hairlines, limits, dots."""
        canvas = self.canv
        wide = self.room - self.right - self.left
        canvas.setFillColor(ink("nowsoft"))
        canvas.rect(
            self.left, self.y(self.low), wide, self.y(self.floor) - self.y(self.low), stroke=0, fill=1
        )
        self.grid(steps(self.low, self.high_value))
        self.thresholds(self.lines)
        last = max(len(self.weights), 2)
        for index, weight in enumerate(self.weights):
            x = self.left + 5 + (wide - 10) * index / (last - 1)
            if weight < self.floor:
                draw_mark(canvas, "late", x, self.y(weight), 7)
            else:
                canvas.setFillColor(ink("c1"))
                canvas.circle(x, self.y(weight), 1.7, stroke=0, fill=1)
        draw(canvas, self.left, 4, "jar 1", FOOT)
        draw(canvas, self.room - self.right, 4, f"jar {len(self.weights)}", FOOT, "right")


class HivesByDay(_Plot):
    """How many hives stood on the crop from day to day, against the number promised."""

    def __init__(self, counts: Sequence[tuple[date, int]], first: date, last: date, promised: int) -> None:
        super().__init__("Hives on the crop", 84)
        self.counts, self.first, self.last, self.promised = list(counts), first, last, promised
        self.high_value = 1.12 * max([promised, 1, *(hives for _, hives in self.counts)])

    def x(self, day: date) -> float:
        """Place of a day's beginning; the last day has its own width."""
        days = (self.last - self.first).days + 1
        share = min(max((day - self.first).days, 0), days) / days
        return self.left + share * (self.room - self.right - self.left)

    def draw(self) -> None:
        """Hairlines, the promise, the stepped line with its last figure."""
        canvas = self.canv
        self.grid(steps(0, self.high_value))
        self.thresholds([Threshold(self.promised, f"{self.promised:,} promised")])
        path = canvas.beginPath()
        path.moveTo(self.x(self.first), self.y(0))
        before = 0
        for day, hives in self.counts:
            path.lineTo(self.x(day), self.y(before))
            path.lineTo(self.x(day), self.y(hives))
            before = hives
        path.lineTo(self.room - self.right, self.y(before))
        canvas.setStrokeColor(ink("c1"))
        canvas.setLineWidth(1.6)
        canvas.drawPath(path, stroke=1, fill=0)
        self._days()
        self._name(before)

    def _name(self, hives: int) -> None:
        role: Role = replace(_LABEL, ink="c1")
        at = self.y(hives) - 2.8
        if abs(hives - self.promised) < self.high_value * 0.14:
            at -= 11
        words = f"{hives:,} on the crop" if hives else "all home"
        draw(self.canv, self.room - self.right + 6, max(at, self.bottom - 2.8), words, role)

    def _days(self) -> None:
        first, last = short(self.first), short(self.last)
        draw(self.canv, self.left, 4, first, FOOT)
        end = self.room - self.right
        draw(self.canv, end, 4, last, FOOT, "right")
        busy = self.left + text_width(first, QUIET) + 6
        for day, _ in self.counts:
            x, word = self.x(day), short(day)
            half = text_width(word, FOOT) / 2
            if x - half > busy and x + half < end - text_width(last, FOOT) - 6:
                draw(self.canv, x, 4, word, FOOT, "centre")
                busy = x + half + 6
