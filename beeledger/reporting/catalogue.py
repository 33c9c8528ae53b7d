"""Every document the program prints, by its key: what it is called, its code, what it can be.

The key stands in the foot of each page, so that from a sheet of paper one finds the code. A
document module has ``render_pdf(record, farm, made)`` and, where it can be a workbook,
``render_workbook(record, farm, made)``; it is imported when it is first asked for.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from importlib import import_module
from typing import Any

from beeledger.queries.records.heading import Farm, Made


class Form(StrEnum):
    """What a document can be written as."""

    PDF = "pdf"
    WORKBOOK = "xlsx"


@dataclass(frozen=True, slots=True)
class Document:
    """One document."""

    key: str
    title: str
    room: str
    """The room whose records it prints: its place in the window and its query."""
    module: str
    """In ``reporting.documents``; the record stands under the same name in ``queries.records``."""
    forms: tuple[Form, ...]
    about: str
    """One sentence for lists and for the command line."""

    def render(self, record: Any, farm: Farm, made: Made, form: Form = Form.PDF) -> bytes:
        """The document's bytes. ValueError when it cannot be written in this form."""
        if form not in self.forms:
            raise ValueError(f"{self.title} is not written as {form.value}")
        code = import_module(f"beeledger.reporting.documents.{self.module}")
        name = "render_pdf" if form is Form.PDF else "render_workbook"
        written: bytes = getattr(code, name)(record, farm, made)
        return written


_BOTH = (Form.PDF, Form.WORKBOOK)
DOCUMENTS: tuple[Document, ...] = (
    Document(
        "movement-report", "Movement report", "contracts", "movement_report", _BOTH,
        "What stood on a crop, where from, how long and how strong, and what is owed for it.",
    ),
    Document(
        "movement-register", "Movement register", "moves", "movement_register", _BOTH,
        "Every hive that left or came, of a period and a site.",
    ),
    Document(
        "contacts", "Contacts and movements", "contacts", "contacts", _BOTH,
        "What a site may have reached in a period and by which way, whom to call, what stood, came and went.",
    ),
    Document(
        "medicine-register", "Medicine register", "medicines", "medicine_register", _BOTH,
        "What was given to which hives, the packs it came from and what was disposed of, as the medicines law asks.",
    ),
    Document(
        "stock-list", "Stock list", "stock", "stock_list", _BOTH,
        "What is there and where, what runs out when, what to order by when, and boxes by state.",
    ),
    Document(
        "route-card", "Route card", "today", "route_card", (Form.PDF,),
        "Which van goes where in which order on a day, the ways in, what it takes along and what to mind.",
    ),
    Document(
        "round-sheet", "Round sheet", "rounds", "round_sheet", _BOTH,
        "One line a hive in walking order with the last figures, to fill in at the hive.",
    ),
    Document(
        "round-summary", "Round as posted", "rounds", "round_summary", _BOTH,
        "What was posted of a round, with sums and findings.",
    ),
    Document(
        "label-sheet", "Labels", "labels", "label_sheet", (Form.PDF,),
        "Labels of a batch on any sheet or roll, checked against the law before they print.",
    ),
    Document(
        "batch-record", "Batch record", "honey", "batch_record", _BOTH,
        "One jarring: sources by share, readings, weights, label, jars, balance.",
    ),
    Document(
        "delivery-note", "Delivery note", "dispatches", "delivery_note", _BOTH,
        "What went to whom by lot mark, to sign and to keep.",
    ),
    Document(
        "recall-paper", "Recall", "dispatches", "recall", _BOTH,
        "Every jar of a lot mark: where it is, whom to write to, which hives stand behind it.",
    ),
    Document(
        "pedigree", "Pedigree", "queens", "pedigree", (Form.PDF,),
        "A queen and her ancestors, dam side and drone side apart, and what is not known of them.",
    ),
    Document(
        "marks-sheet", "Marks of the quick line", "rounds", "marks_sheet", (Form.PDF,),
        "What is typed for what, on one sheet beside the keyboard.",
    ),
    Document(
        "words-we-use", "Words we use", "words", "glossary", (Form.PDF,),
        "What a word of the trade means on our papers and screens.",
    ),
)  # fmt: skip
"""In the order they are listed."""


def document(key: str) -> Document:
    """A document by its key. KeyError with a sentence when there is none."""
    for each in DOCUMENTS:
        if each.key == key:
            return each
    raise KeyError(f"there is no document {key!r}; there are {', '.join(each.key for each in DOCUMENTS)}")
