"""The weighing check: jars typed one after another, judged at once by the packer's three rules."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from beeledger.base.units import per_cent, scaled, to_scale
from beeledger.rules.weighing import WeightCheck, check_weights, tolerance
from beeledger.ui.widgets import look
from beeledger.ui.widgets.cells import Run
from beeledger.ui.widgets.flow import Flow
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.weights_chart import Limit, Weight, WeightsChart
from beeledger.ui.widgets.words import RunWords, Words


class WeighingCheck(QWidget):
    """The chart and under it the field: Enter keeps a jar and makes room for the next."""

    weighed = Signal(list)
    """All net weights, tenths of a gram, with the newest at the end."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.nominal_g = 340
        self.wanted = 0
        self.jars = 0
        self.weights: list[int] = []
        self.waiting = 0
        """Jars typed whose act is not done yet: what stands here is newer than the ledger."""
        self.chart = WeightsChart()
        self.tare = QLineEdit()
        self.gross = QLineEdit()
        self.said = RunWords(shorten=True)
        self._number = Words("", role="small", ink="ink2")
        self._lay_out()
        self.gross.returnPressed.connect(self._typed)
        self.tare.returnPressed.connect(lambda: self.gross.setFocus(Qt.FocusReason.OtherFocusReason))

    def show_weights(self, nominal_g: int, weights: Sequence[int], wanted: int, jars: int) -> None:
        """Show the weights of a batch."""
        self.nominal_g, self.wanted, self.jars = nominal_g, wanted, jars
        self.weights = list(weights)
        self._draw()

    def summary(self) -> str:
        """For the head of the section."""
        tare = f" · empty jar {self.tare.text()} g" if self.tare.text().strip() else ""
        if len(self.weights) < self.wanted:
            return f"{len(self.weights)} of {self.wanted} jars{tare}"
        return f"{len(self.weights)} jars, {self.wanted} wanted{tare}"

    def _typed(self) -> None:
        try:
            net = net_tenths(self.gross.text(), self.tare.text())
        except ValueError as error:
            self._say_fault(str(error))
            return
        if not 0 < net < self.nominal_g * 20:
            words = f"{scaled(net, 10, 1)} g net is no jar of {self.nominal_g:,} g: look at the empty jar"
            self._say_fault(words)
            return
        if len(self.weights) >= self.jars:
            words = f"all {self.jars:,} jars of the batch are weighed"
            self._say_fault(words)
            return
        self.weights.append(net)
        self.waiting += 1
        self.gross.clear()
        self._draw()
        self.weighed.emit(list(self.weights))

    def _say_fault(self, words: str) -> None:
        """In place of the verdict, until the next jar is right."""
        self.said.say([Run(words, "now", mark=Mark.CANNOT, small=True)])

    def _draw(self) -> None:
        check = check_weights(self.nominal_g, self.weights) if self.weights else None
        self.chart.set_weights(
            weights_shown(self.nominal_g, self.weights), limits_shown(self.nominal_g, check),
            max(self.wanted, len(self.weights)),
        )  # fmt: skip
        self._number.setText(f"Jar {len(self.weights) + 1}, gross")
        self.said.say(verdict_runs(check))

    def _lay_out(self) -> None:
        self.tare.setObjectName("batches.card.tare")
        self.gross.setObjectName("batches.card.gross")
        self.tare.setAccessibleName("Empty jar with its lid, grams")
        self.gross.setAccessibleName("Weight of the next jar, full, grams")
        row = Flow(gap=12)
        row.set_widgets(
            *(
                _typed_in(words, field)
                for words, field in (
                    (Words("Empty jar", role="small", ink="ink2"), self.tare),
                    (self._number, self.gross),
                )
            )
        )
        row.setContentsMargins(look.px(16), 0, look.px(16), 0)
        under = QHBoxLayout()
        under.setContentsMargins(look.px(16), 0, look.px(16), 0)
        under.addWidget(self.said)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(look.px(2))
        column.addWidget(self.chart)
        column.addWidget(row)
        column.addLayout(under)


def _typed_in(words: Words, field: QLineEdit) -> QWidget:
    """A field with its name before it and its unit behind it."""
    piece = QWidget()
    row = QHBoxLayout(piece)
    row.setContentsMargins(0, 0, 0, 0)
    row.setSpacing(look.px(8))
    field.setFixedWidth(look.px(72))
    field.setAlignment(Qt.AlignmentFlag.AlignRight)
    for each in (words, field, Words("g", role="small", ink="ink2")):
        row.addWidget(each)
    return piece


def net_tenths(gross: str, tare: str) -> int:
    """The net weight from what was typed. ValueError with a sentence; an empty tare is a scale set to nought."""
    return to_scale(gross, 10) - (to_scale(tare, 10) if tare.strip() else 0)


def weights_shown(nominal_g: int, weights: Sequence[int]) -> list[Weight]:
    """Each jar as a dot, those below a limit with their mark and words."""
    limits = tolerance(nominal_g)
    shown = []
    for number, tenths in enumerate(weights, start=1):
        if tenths < limits.t1_tenths_g:
            words = f"jar {number}, {scaled(tenths, 10, 1)} g"
            shown.append(Weight(number, tenths / 10, Mark.LATE, words))
        else:
            shown.append(Weight(number, tenths / 10))
    return shown


def limits_shown(nominal_g: int, check: WeightCheck | None) -> list[Limit]:
    """The mean, the nominal weight and the limits below it; the lowest, T2, where a jar lies near it."""
    limits = tolerance(nominal_g)
    found = [
        Limit(nominal_g, f"{nominal_g:,} g nominal"),
        Limit(
            limits.t1_tenths_g / 10,
            f"{scaled(limits.t1_tenths_g, 10, 1)} g",
            short_words(nominal_g, limits.t1_tenths_g),
            ink="now",
            forbids=True,
        ),
    ]
    if check is not None:
        found.append(Limit(check.mean_g, f"mean {check.mean_g:.1f} g", ink="c1", dashed=True))
        if check.below_t2:
            found.append(
                Limit(
                    limits.t2_tenths_g / 10,
                    f"{scaled(limits.t2_tenths_g, 10, 1)} g",
                    "not to be sold",
                    ink="now",
                )
            )
    return found


def short_words(nominal_g: int, limit_tenths: int) -> str:
    """How far a limit lies below the nominal weight, as "3 % short"."""
    hundredths = (nominal_g * 10 - limit_tenths) * 1000 // nominal_g
    whole = hundredths % 100 == 0
    return f"{per_cent(hundredths, 0 if whole else 1)} % short"


def verdict_runs(check: WeightCheck | None) -> list[Run]:
    """The three rules in few words."""
    if check is None:
        return [Run("type the weight of a full jar, then Enter", small=True)]
    allowed = check.weighed * 25 // 1000
    rules = [
        ("mean ok" if check.mean_met else f"mean {check.mean_g:.1f} g, too low", check.mean_met),
        (f"{check.below_t1} short, {allowed} allowed", check.short_met),
    ]
    if not check.none_inadequate:
        rules.append((f"{check.below_t2} not to be sold", False))
    return [
        Run(words, "good" if met else "now", 600, mark=Mark.MET if met else Mark.LATE, small=True, gap=10)
        for words, met in rules
    ]
