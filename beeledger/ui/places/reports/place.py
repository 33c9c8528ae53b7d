"""Reports: every document of the farm with the choice it needs, before it is saved or printed.

Reads: queries.paper_choices.paper_choices
Prints: documents.round_sheet, documents.round_summary, documents.movement_report, documents.movement_register, documents.contacts, documents.medicine_register, documents.label_sheet, documents.batch_record, documents.delivery_note, documents.recall, documents.marks_sheet, documents.stock_list, documents.route_card, documents.glossary
"""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QStackedWidget

from beeledger.base.errors import CannotNow, Refused
from beeledger.base.text import counted
from beeledger.queries.headings import heading_of
from beeledger.queries.paper_choices import PaperChoices, paper_choices
from beeledger.reporting.catalogue import Document, document
from beeledger.ui.desk.desk import Desk
from beeledger.ui.desk.jobs import Job
from beeledger.ui.desk.place import Place
from beeledger.ui.parts.paper import PaperPane, Printed, file_name, pages_of, source_name
from beeledger.ui.parts.typed_form import SidePane
from beeledger.ui.places.reports.table import COLUMNS, document_row, documents, room_words
from beeledger.ui.widgets import look
from beeledger.ui.widgets.card import Card
from beeledger.ui.widgets.cells import Run
from beeledger.ui.widgets.fact_rows import Fact, FactRows
from beeledger.ui.widgets.filter_box import FilterBox
from beeledger.ui.widgets.foot import TableFoot
from beeledger.ui.widgets.panes import Band, Panes, Stack
from beeledger.ui.widgets.record_table import RecordTable

if TYPE_CHECKING:
    from beeledger.reporting.records import Wanted

_KEPT = 12
"""How many of the papers made lately are told of."""


@dataclass(frozen=True, slots=True)
class Lately:
    """A paper that was made since the window was opened."""

    about: Document
    wanted: Wanted
    name: str
    pages: int


class Here(Place):
    """The documents, room by room; beside them what one asks for, and its pages."""

    key: ClassVar[str] = "reports"
    title: ClassVar[str] = "Reports"
    reads: ClassVar[frozenset[str]] = frozenset(
        {"site", "round", "contract", "batch", "dispatch", "party", "move"}
    )

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.choices: PaperChoices | None = None
        self.lately: list[Lately] = []
        self._made: tuple[Document, Wanted] | None = None
        self._build()
        self._lay_out()
        self._connect()
        self.setFocusProxy(self.table)
        self.table.set_rows([document_row(each) for each in documents()])
        self.set_subtitle(counted(len(documents()), "document"))

    def refresh(self) -> None:
        """Read what documents can be made of; a form that is being filled stays as it is."""
        self.desk.read(paper_choices, owner=self, then=self._offer, key="choices")

    def show_what(self, what: object) -> None:
        """A document by its key."""
        if isinstance(what, str):
            self.table.choose([what])

    def help_text(self) -> str:
        """What the place is for."""
        return (
            "<p>Choose a document, say which site, round, contract, batch or period, and press <b>Show</b>. What you see is "
            "what is saved and printed. Each page says at its foot when it was made and from which data.</p><p>Labels are "
            "shown only when each particular that the law asks for stands on them.</p>"
        )

    def ask(self) -> None:
        """Go to the form of the chosen document; one that asks for nothing is shown at once."""
        form = self.form.form()
        if form is None:
            return
        if form.fields:
            form.come()
        else:
            form.submit()

    def to_printer(self) -> None:
        """Print the paper in view."""
        if self.front.currentWidget() is self.paper:
            self.paper.to_printer()
        else:
            self.desk.say("Show a document first")

    def make(self, about: Document, wanted: Wanted) -> None:
        """Make a document off the window's thread, and show it."""
        from beeledger.reporting.records import paper_for  # start-up time: draws paper

        desk = self.desk

        def work(job: Job) -> Printed:
            job.progress(0, 2)
            with desk.ledger.read() as session:
                paper = paper_for(about.key, session, wanted)
                farm, made = heading_of(session, desk.clock, source_name(desk), desk.settings.who)
            pdf = about.render(paper.record, farm, made)
            job.progress(1, 2)
            return Printed(about, paper.record, farm, made, file_name(paper.name), pdf, pages_of(pdf))

        self._made = (about, wanted)
        desk.run(
            f"Making the {about.title.lower()}", work, owner=self, then=self._show, failed=self._not_made
        )

    def _show(self, printed: Printed) -> None:
        self.front.setCurrentWidget(self.paper)
        self.paper.show_printed(printed)
        if self._made is not None and self._made[0] is printed.about:
            about, wanted = self._made
            new = Lately(about, wanted, printed.name, len(printed.pages))
            self.lately = [new, *(each for each in self.lately if each.name != new.name)][:_KEPT]
            self._say_lately()

    def _not_made(self, error: BaseException) -> None:
        form = self.form.form()
        if isinstance(error, Refused) and form is not None:
            form.show_findings(error.findings)
            self.desk.say(error.findings[0].sentence(), "now", findings=error.findings)
        elif isinstance(error, CannotNow):
            self.desk.say(error.sentence, "watch", error.remedy)
        else:
            self.desk.fault(error)

    def _offer(self, choices: PaperChoices) -> None:
        self.choices = choices
        if not self.table.chosen():
            self.table.choose([documents()[0].key])
        elif self.form.form() is None:
            self._chosen(self.table.chosen())

    def _chosen(self, ids: list[Hashable]) -> None:
        if not ids or self.choices is None:
            return
        from beeledger.ui.places.reports.wishes import wish_form

        about = document(str(ids[-1]))
        form = wish_form(about, self.choices, self.desk.clock.today())
        form.ready.connect(lambda wanted: self.make(about, wanted))
        had_focus = self.table.hasFocus() or self.filter.hasFocus()
        self.form.open(form, f"reports.{about.key}")
        form.cancelled.connect(self._begin_again)
        if had_focus:
            self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def _begin_again(self) -> None:
        """The form as it was before anything was typed."""
        self._chosen(self.table.chosen())

    def _say_lately(self) -> None:
        facts = [
            Fact(each.name, counted(each.pages, "page"), middle=room_words(each.about), weight=500, key=at)
            for at, each in enumerate(self.lately)
        ]
        nothing = Fact("Nothing yet since the window was opened", ink="ink2")
        self.made_lately.say(facts or [nothing])
        self.resting.sections["reports.lately"].say(counted(len(facts), "paper") if facts else "")

    def _again(self, at: object) -> None:
        each = self.lately[int(str(at))]
        self.make(each.about, each.wanted)

    def _rest(self) -> None:
        self.front.setCurrentWidget(self.resting)
        self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def _build(self) -> None:
        self.filter = FilterBox("Document or place", width=230)
        self.filter.setObjectName("reports.filter")
        self.table = RecordTable(COLUMNS, many=False)
        self.table.setObjectName("reports.table")
        self.table.setAccessibleName("Documents, room by room")
        self.foot = TableFoot()
        self.foot.say([Run(counted(len(documents()), "document"), "ink", 600)])
        self.form = SidePane(Stack())
        self.form.back_to = self.table
        self.paper = PaperPane(self.desk)
        self.paper.save_pdf.setProperty("main", "false")  # the one main button here is that of the form
        self.resting = Card()
        self.resting.say("Papers", (), "Choose a document at the left, say of what, and press Show.")
        self.made_lately = FactRows(middle_at=420)
        self.made_lately.setObjectName("reports.lately")
        self.resting.section("reports.lately", "Made lately", self.made_lately)
        self._say_lately()

    def _lay_out(self) -> None:
        upper = Stack(Band(self.filter), self.table, self.foot, grows=self.table)
        left = Panes(upper, self.form, upright=True)
        left.share(370, 330)
        left.setMinimumWidth(look.px(272))
        self.front = QStackedWidget()
        self.front.addWidget(self.resting)
        self.front.addWidget(self.paper)
        panes = Panes(left, self.front)
        panes.share(420, 840)
        panes.setStretchFactor(0, 0)
        panes.setStretchFactor(1, 1)
        self.fill(panes)

    def _connect(self) -> None:
        self.filter.bind(self.table)
        self.filter.listen(self)
        self.table.chosen_changed.connect(self._chosen)
        self.table.opened.connect(lambda _id: self.ask())
        self.made_lately.opened.connect(self._again)
        self.paper.closed.connect(self._rest)
        self.command("Ctrl+E", "say of what it is to be made", self.ask)
        self.command("Ctrl+P", "print the paper in view", self.to_printer)
