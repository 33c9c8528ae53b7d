"""A document in front of the place: its pages, saved as PDF or workbook, printed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QImage, QKeyEvent, QKeySequence, QPainter
from PySide6.QtPrintSupport import QPrinter, QPrinterInfo
from PySide6.QtWidgets import QWidget

from beeledger.base.errors import CannotNow
from beeledger.base.text import counted, tidy
from beeledger.queries.headings import heading_of
from beeledger.queries.records.heading import Farm, Made
from beeledger.reporting.catalogue import Document, Form, document
from beeledger.ui.desk.desk import Desk
from beeledger.ui.desk.jobs import Job
from beeledger.ui.widgets.buttons import Button
from beeledger.ui.widgets.page_preview import PagePreview
from beeledger.ui.widgets.panes import Band, Stack
from beeledger.ui.widgets.words import Words

if TYPE_CHECKING:
    from sqlalchemy.orm import Session

_SCREEN_DPI = 144.0
_PAPER_DPI = 300.0
_PATTERN = {Form.PDF: "PDF (*.pdf)", Form.WORKBOOK: "Workbooks (*.xlsx)"}


@dataclass(frozen=True, slots=True)
class Printed:
    """A document as it was made: its record, and its pages."""

    about: Document
    record: Any
    farm: Farm
    made: Made
    name: str
    """What a file of it is called, without its ending."""
    pdf: bytes
    pages: tuple[QImage, ...] = ()


class PaperPane(Stack):
    """Shows one document. ``closed`` says that the place wants to come back."""

    closed = Signal()
    shown = Signal(object)
    kept = Signal()
    """It was saved or printed."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent=parent)
        self._desk = desk
        self.printed: Printed | None = None
        self.preview = PagePreview()
        self.preview.setObjectName("paper.preview")
        self.title = Words("", weight=600)
        self.size_words = Words("", role="small", ink="ink2")
        self.zoom_words = Words("", role="small", ink="ink2")
        self.save_pdf = Button("Save as PDF", lambda: self.save(Form.PDF), kind="main")
        self.save_book = Button("Save as workbook", lambda: self.save(Form.WORKBOOK))
        self.print = Button("Print", self.to_printer, icon="print")
        self.close_it = Button("Close", self.closed.emit)
        self._build()

    def show_document(self, key: str, query: Callable[[Session], Any], name: str) -> None:
        """Make the document from what ``query`` finds, off the window's thread, and show it."""
        about = document(key)
        desk = self._desk

        def work(job: Job) -> Printed:
            job.progress(0, 2)
            with desk.ledger.read() as session:
                record = query(session)
                farm, made = heading_of(session, desk.clock, source_name(desk), desk.settings.who)
            pdf = about.render(record, farm, made)
            job.progress(1, 2)
            return Printed(about, record, farm, made, file_name(name), pdf, pages_of(pdf))

        desk.run(f"Making the {about.title.lower()}", work, owner=self, then=self._show)

    def show_printed(self, printed: Printed) -> None:
        """Show what a place has made itself, such as several sheets in one."""
        self._show(printed)

    def save(self, form: Form) -> None:
        """Ask where to, and write the file."""
        printed = self.printed
        if printed is None:
            return
        suggested = f"{printed.name}.{form.value}"

        def chosen(path: Path | None) -> None:
            if path is None:
                return
            whole = path if path.suffix else path.with_suffix(f".{form.value}")
            job = lambda _job: written(printed, form, whole)  # noqa: E731
            self._desk.run(f"Saving {whole.name}", job, owner=self, then=self._saved)

        self._desk.ask_file(
            f"Save {printed.about.title}", _PATTERN[form], chosen, save=True, suggested=suggested
        )

    def to_printer(self) -> None:
        """Print on the printer this computer uses by itself."""
        printed = self.printed
        if printed is None:
            return
        where = QPrinterInfo.defaultPrinter()
        if where.isNull():
            self._desk.say(
                "This computer has no printer set up", "watch", "Save as PDF and print it elsewhere."
            )
            return

        def work(_job: Job) -> tuple[QImage, ...]:
            return pages_of(printed.pdf, _PAPER_DPI)

        def ready(pages: tuple[QImage, ...]) -> None:
            paint_pages(QPrinter(where, QPrinter.PrinterMode.HighResolution), pages)
            self._desk.say(f"Sent to {where.printerName()}: {printed.about.title}", "done")
            self.kept.emit()

        self._desk.run(f"Printing the {printed.about.title.lower()}", work, owner=self, then=ready)

    def _build(self) -> None:
        names = {
            "pdf": self.save_pdf,
            "workbook": self.save_book,
            "print": self.print,
            "close": self.close_it,
        }
        for name, button in names.items():
            button.setObjectName(f"paper.{name}")
        nearer = Button("Nearer", self.preview.nearer, kind="quiet")
        farther = Button("Farther", self.preview.farther, kind="quiet")
        band = Band(self.title, self.size_words)
        band.air()
        for piece in (
            farther,
            self.zoom_words,
            nearer,
            self.print,
            self.save_book,
            self.save_pdf,
            self.close_it,
        ):
            band.add(piece)
        self.add(band)
        self.add(self.preview, 1)
        self.preview.zoomed.connect(lambda percent: self.zoom_words.setText(f"{percent} %"))
        self.setFocusProxy(self.preview)

    def _show(self, printed: Printed) -> None:
        self.printed = printed
        self.title.setText(printed.about.title)
        self.size_words.setText(f"{counted(len(printed.pages), 'page')} · Ctrl S saves, Esc comes back")
        self.size_words.setToolTip(printed.name)
        self.save_book.setVisible(Form.WORKBOOK in printed.about.forms)
        self.preview.set_pages(printed.pages, _SCREEN_DPI)
        self.preview.zoom(100)
        self.shown.emit(printed)
        self.preview.setFocus(Qt.FocusReason.OtherFocusReason)

    def _saved(self, path: Path) -> None:
        self._desk.say(f"Saved {path.name} in {path.parent}", "done")
        self.kept.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape leaves the paper, Ctrl+S saves it."""
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
        elif event.matches(QKeySequence.StandardKey.Save):
            self.save(Form.PDF)
        else:
            super().keyPressEvent(event)


def source_name(desk: Desk) -> str:
    """The database as people call it: its file's name, or the last part of its address."""
    return desk.ledger.target.rstrip("/").replace("\\", "/").rsplit("/", 1)[-1]


def file_name(words: str) -> str:
    """Words as the name of a file: without what file systems forbid."""
    kept = "".join(ch if ch not in '<>:"/\\|?*' else " " for ch in words)
    return tidy(kept)[:120].rstrip(". ") or "document"


def pages_of(pdf: bytes, dpi: float = _SCREEN_DPI) -> tuple[QImage, ...]:
    """The pages of a PDF as images."""
    from beeledger.reporting.pictures import page_pictures

    shape = QImage.Format.Format_RGBA8888
    return tuple(
        QImage(page.rgba, page.width, page.height, 4 * page.width, shape).copy()
        for page in page_pictures(pdf, dpi)
    )


def written(printed: Printed, form: Form, path: Path) -> Path:
    """Write a document into a file: whole, or not at all."""
    made = printed.pdf if form is Form.PDF else None
    whole = made or printed.about.render(printed.record, printed.farm, printed.made, form)
    beside = path.with_name(f".{path.name}.part")
    try:
        beside.write_bytes(whole)
        beside.replace(path)
    except OSError as error:
        beside.unlink(missing_ok=True)
        reason = error.strerror or "the file could not be written"
        raise CannotNow(f"{path.name} was not saved: {reason}.", "Choose another folder or name.") from error
    return path


def paint_pages(printer: QPrinter, pages: tuple[QImage, ...]) -> None:
    """Put the pages on paper, each as large as its sheet."""
    printer.setFullPage(True)
    painter = QPainter(printer)
    for number, page in enumerate(pages):
        if number:
            printer.newPage()
        painter.drawImage(QRectF(printer.pageLayout().fullRectPixels(printer.resolution())), page)
    painter.end()
