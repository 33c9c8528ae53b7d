"""Everything of one lot mark in view: where its jars are, whom to write to, which hives stand behind it."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from beeledger.base.dates import long, span
from beeledger.base.text import counted
from beeledger.base.units import kilograms, per_cent
from beeledger.queries.records.batch_record import Source
from beeledger.queries.records.jar_lot import JarLot
from beeledger.queries.records.recall import Buyer, HiveBehind, Recall, RelatedMark
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.card import Card
from beeledger.ui.widgets.cells import Run
from beeledger.ui.widgets.fact_rows import Fact, FactRows
from beeledger.ui.widgets.foot import ActFoot
from beeledger.ui.widgets.key_figures import Figure, KeyFigures
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.panes import Panes

_MOST_HIVES = 400
"""Hives shown on screen; the paper has them all."""

_MOST_PAPERS = 3


class RecallView(QWidget):
    """A recall; the place connects what is opened and printed."""

    closed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("dispatch.recall")
        self.shown: Recall | None = None
        self.print = Button("Recall paper", kind="main", icon="print")
        self.print.setObjectName("dispatch.recall.print")
        self.close_it = Button("Close", self.closed.emit)
        self.close_it.setObjectName("dispatch.recall.close")
        self.left, self.right = Card(), Card()
        self.figures = KeyFigures()
        self.buyers, self.here = FactRows(marks=True), FactRows(marks=True)
        self.sources, self.hives, self.related = FactRows(middle_at=150), FactRows(middle_at=110), FactRows()
        self.here.setObjectName("dispatch.recall.here")
        self.related.setObjectName("dispatch.recall.related")
        self.foot = ActFoot(self.close_it, self.print)
        self._lay_out()

    def show_recall(self, found: Recall) -> None:
        """Fill it."""
        self.shown = found
        self.left.say(
            f"L {found.lot_mark}", [Run(f"{found.product}, {found.jar_g:,} g")],
            f"Jarred {long(found.jarred_on)} · best before {long(found.best_before)}",
        )  # fmt: skip
        self.right.say(
            "The way back", (), "What the honey is made of, and what its hives were given in the year before"
        )
        self.figures.say(figures_of(found))
        self._say(
            "buyers", self.buyers, [buyer_fact(buyer) for buyer in found.buyers], "No jar has left the farm"
        )
        here = [here_fact(lot) for lot in found.lots if lot.left]
        self._say("here", self.here, here, "None is left on the farm")
        self._say("sources", self.sources, [_source(each) for each in found.sources], "")
        hives = [_hive(each) for each in found.hives[:_MOST_HIVES]]
        self._say("hives", self.hives, hives, "Taken by site, not by hive")
        self._say(
            "related", self.related, [_related(each) for each in found.related], "No other mark has any of it"
        )
        out = found.part("with buyers")
        told = counted(out.jars, "jar")
        self.sections["buyers"].say(
            f"{told} out with {counted(len(found.buyers), 'receiver')}" if found.buyers else ""
        )
        self.sections["hives"].say(counted(len(found.hives), "line"))
        self.foot.say([balance_run(found)])

    def _say(self, key: str, rows: FactRows, facts: list[Fact], nothing: str) -> None:
        rows.say(facts or [Fact(nothing, ink="ink2")])
        self.sections[key].say(counted(len(facts), "line") if facts else "")

    def _lay_out(self) -> None:
        self.left.add(self.figures)
        self.sections = {
            "buyers": self.left.section("dispatch.recall.buyers", "Who got them", self.buyers),
            "here": self.left.section("dispatch.recall.lots", "On the farm", self.here),
            "sources": self.right.section("dispatch.recall.sources", "Sites and lots", self.sources),
            "hives": self.right.section("dispatch.recall.hives", "Hives", self.hives),
            "related": self.right.section(
                "dispatch.recall.marks", "Other marks with some of this honey", self.related
            ),
        }
        panes = Panes(self.left, self.right)
        panes.share(640, 560)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(panes, 1)
        column.addWidget(self.foot)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
        else:
            super().keyPressEvent(event)


def figures_of(found: Recall) -> list[Figure]:
    """Packed, and where the jars are."""
    names = {"with buyers": "With buyers", "here": "Here", "here, held": "Here, held", "lost or opened": "Lost or opened", "in another lot": "In another lot"}  # fmt: skip
    figures = [Figure("Packed", f"{found.jars:,}", "jars", f"{kilograms(found.jars_g, 3)} kg")]
    return figures + [
        Figure(
            names[part.what], f"{part.jars:,}", "jars", f"{kilograms(part.grams, 3)} kg",
            Mark.HELD if part.what == "here, held" else None,
        )
        for part in found.parts
    ]  # fmt: skip


def balance_run(found: Recall) -> Run:
    """Whether every jar is somewhere, in words."""
    jars, grams = found.difference
    if not jars and not grams:
        return Run("Every jar and every gram that was packed is accounted for", "good", mark=Mark.MET)
    return Run(
        f"{jars:,} jars and {kilograms(grams, 3)} kg are not accounted for", "now", 600, mark=Mark.CANNOT
    )


def buyer_fact(buyer: Buyer) -> Fact:
    """Somebody who got jars, and how to reach them."""
    back = f", {buyer.back:,} back" if buyer.back else ""
    value = f"{counted(buyer.out, 'jar')} out: {buyer.jars:,} sent{back}"
    papers = [each.reference for each in buyer.deliveries if each.reference]
    reach = " · ".join(buyer.contact.lines())
    missing = "no address is known" if buyer.named else "no names: a notice where they were sold"
    more = [f"and {len(papers) - _MOST_PAPERS} more"] if len(papers) > _MOST_PAPERS else []
    when = " · ".join([span(*buyer.days), *papers[:_MOST_PAPERS], *more])
    return Fact(
        buyer.name, value, None if reach else Mark.ODD, f"{reach or missing} · {when}", weight=600,
        value_ink="ink", value_weight=600,
    )  # fmt: skip


def here_fact(lot: JarLot) -> Fact:
    """Jars that stand together; opened, they are held or freed."""
    value = f"{counted(lot.left, 'jar')}, {kilograms(lot.left_g, 3)} kg"
    name = "from the jarring" if lot.batch_id is not None else lot.name
    second = f"held: {lot.hold}" if lot.hold else "may go; open it to hold it"
    return Fact(name, value, Mark.HELD if lot.hold else None, second, weight=500, key=lot.lot_id)


def _source(source: Source) -> Fact:
    taken = f"taken {long(source.taken)}, {source.through}" if source.taken else source.through
    value = f"{kilograms(source.grams)} kg, {per_cent(source.share_hundredths)} %"
    return Fact(source.name, value, middle=taken, weight=500)


def _hive(hive: HiveBehind) -> Fact:
    given = "; ".join((*hive.treatments, *hive.feeds)) or "nothing given"
    reason = f"; taken for a reason: {hive.reason}" if hive.reason else ""
    name = f"hive {hive.mark}" if hive.mark else "the whole site"
    where = f"{hive.site}, {long(hive.taken_on)}"
    return Fact(name, counted(hive.supers, "super"), second=f"{given}{reason}", middle=where, weight=500)


def _related(mark: RelatedMark) -> Fact:
    value = f"{counted(mark.jars, 'jar')}, {long(mark.jarred_on)}"
    return Fact(f"L {mark.lot_mark}", value, second=mark.product, weight=500, key=mark.lot_mark)
