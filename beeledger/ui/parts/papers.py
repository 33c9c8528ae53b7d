"""The papers of a record in its card: listed, added, opened as a copy, taken off again.

Reading, hashing and copying run off the window's thread.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from PySide6.QtCore import QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QVBoxLayout, QWidget

from beeledger.base.dates import short
from beeledger.base.paths import desk_folder
from beeledger.base.text import counted
from beeledger.database.papers import TakenIn, hand_out, take_in
from beeledger.operations.act import Done
from beeledger.operations.attachments import NewPaper, attach_file, detach_file
from beeledger.queries.attachments import Paper, Record, papers_of
from beeledger.ui.desk.desk import Desk
from beeledger.ui.desk.jobs import Job
from beeledger.ui.widgets import look
from beeledger.ui.widgets.buttons import Button, ButtonRow
from beeledger.ui.widgets.card import Card
from beeledger.ui.widgets.cells import Cell, Column, Row
from beeledger.ui.widgets.choice import Choice
from beeledger.ui.widgets.field import Field
from beeledger.ui.widgets.marks import Mark
from beeledger.ui.widgets.record_table import RecordTable
from beeledger.ui.widgets.section import Section

COLUMNS = (Column("paper", "Paper", slack=True, marks=True),)
_OPENED = "papers opened"
"""The folder of the desk in which copies lie that other programs look at."""


class Papers(Section):
    """The section. ``show_of`` says of which record; without one it is hidden."""

    def __init__(self, desk: Desk, place: str) -> None:
        super().__init__("Papers")
        self.setObjectName(f"{place}.papers")
        self._desk = desk
        self._record: Record | None = None
        self._words: dict[Record, str] = {}
        self.papers: dict[int, Paper] = {}
        self.table = RecordTable(COLUMNS, many=False, lines=2, head=False)
        self.note = Field("Note for a paper to add", message=False)
        self.on = Field("Hang it on", editor=Choice(), message=False)
        self.add_button = Button("Add a paper", self.add_paper, icon="plus")
        self.open_button = Button("Open", self.open_chosen)
        self.off_button = Button("Take off", self.take_off)
        names = {"table": self.table, "note": self.note, "on": self.on, "add": self.add_button}
        for name, piece in (names | {"open": self.open_button, "off": self.off_button}).items():
            piece.setObjectName(f"{place}.papers.{name}")
        self.add(self.table)
        self.add(self._below())
        self.table.opened.connect(lambda _id: self.open_chosen())
        self.table.chosen_changed.connect(lambda _ids: self._switch())
        desk.changed.connect(self._heard)
        self.hide()

    def show_of(self, record: Record | None, others: Mapping[Record, str] | None = None) -> None:
        """Show the papers of a record, and of ``others`` that belong to it, each with its words."""
        self._record = record
        self._words = dict(others or {})
        self.setVisible(record is not None)
        if record is None:
            return
        offered = [("", "this record"), *((_key(one), words) for one, words in self._words.items())]
        choice = self.on.editor
        if isinstance(choice, Choice):
            choice.set_options(offered)
        self.on.setVisible(bool(self._words))
        self._read()

    def add_paper(self) -> None:
        """Ask for a file, keep it, and hang it on the record."""
        if self._record is not None:
            wanted = self._wanted(self._record)
            self._desk.ask_file("Add a paper", "All files (*)", lambda path: self._keep(path, wanted))

    def open_chosen(self) -> None:
        """Open a copy of the chosen paper in the program that the desktop has for it."""
        paper = self._chosen()
        if paper is None:
            return

        def work() -> Path:
            with self._desk.ledger.read() as session:
                return hand_out(session, paper.sha256, paper.name, desk_folder() / _OPENED)

        self._desk.fetch(work, owner=self, then=self._open)

    def take_off(self) -> None:
        """Take the chosen paper off its record; the file stays, so this can be taken back."""
        paper = self._chosen()
        if paper is not None:
            self._desk.act(detach_file, paper.id, owner=self)

    def _wanted(self, record: Record) -> Record:
        return next((one for one in self._words if _key(one) == self.on.value()), record)

    def _keep(self, path: Path | None, record: Record) -> None:
        if path is None:
            return

        def work(_job: Job) -> TakenIn:
            return take_in(self._desk.ledger, path)

        def kept(file: TakenIn) -> None:
            new = NewPaper(file, record, self.note.value())
            self._desk.act(attach_file, new, owner=self, then=lambda _done: self.note.set_value(""))

        self._desk.run(f"Keeping {path.name}", work, owner=self, then=kept)

    def _open(self, path: Path) -> None:
        if not QDesktopServices.openUrl(QUrl.fromLocalFile(str(path))):
            self._desk.say(
                f"No program here opens {path.name}", "watch", f"A copy of it lies in {path.parent}"
            )

    def _heard(self, done: Done) -> None:
        if self._record is not None and ({"attachment", "*"} & done.touched):
            self._read()

    def _read(self) -> None:
        record = self._record
        if record is not None:
            records = [record, *self._words]
            self._desk.read(papers_of, records, owner=self, then=self._show, key="papers")

    def _show(self, papers: Sequence[Paper]) -> None:
        self.papers = {paper.id: paper for paper in papers}
        self.say(counted(len(papers), "paper") if papers else "none")
        self.table.set_rows([paper_row(paper, self._words.get(paper.record, "")) for paper in papers])
        self.table.setFixedHeight(len(papers) * self.table.verticalHeader().defaultSectionSize() + 2)
        self.table.setVisible(bool(papers))
        self.table.take_current()
        self._switch()

    def _switch(self) -> None:
        for button in (self.open_button, self.off_button):
            button.setVisible(bool(self.papers))
            if self._chosen() is None:
                button.off("Choose a paper")
            else:
                button.on()

    def _chosen(self) -> Paper | None:
        return next((self.papers[key] for key in self.table.chosen() if isinstance(key, int)), None)

    def _below(self) -> QWidget:
        box = QWidget()
        column = QVBoxLayout(box)
        column.setContentsMargins(look.px(16), look.px(6), look.px(16), 0)
        column.setSpacing(look.px(6))
        column.addWidget(self.on)
        column.addWidget(self.note)
        column.addWidget(ButtonRow(self.add_button, self.open_button, self.off_button))
        return box


def hang_papers(card: Card, desk: Desk, place: str) -> Papers:
    """The section of papers at the end of a card; it goes with the others where nothing is chosen."""
    papers = Papers(desk, place)
    card.sections["papers"] = papers
    card.add(papers)
    return papers


def paper_row(paper: Paper, on: str) -> Row:
    """A paper as a row of two lines: what it is called, then its note, when it was hung, how large it is."""
    hung = f"{short(paper.on)} {paper.on.year}"
    said = " · ".join(part for part in (on, paper.note, hung, size_words(paper.size_bytes)) if part)
    if paper.there:
        return Row(paper.id, (Cell(paper.name, second=said, tip=paper.name),))
    missing = f"the file is missing · {said}"
    return Row(paper.id, (Cell(paper.name, ink="now", mark=Mark.CANNOT, second=missing, tip=paper.name),))


def size_words(size_bytes: int) -> str:
    """A file's size as people say it."""
    if size_bytes >= 1_000_000:
        return f"{size_bytes / 1e6:,.1f} MB"
    return f"{max(1, round(size_bytes / 1e3))} kB"


def _key(record: Record) -> str:
    return f"{record[0]} {record[1]}"
