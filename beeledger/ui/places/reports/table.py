"""The list of documents: by room, with what each can be written as."""

from __future__ import annotations

from beeledger.reporting.catalogue import DOCUMENTS, Document, Form
from beeledger.ui.widgets.cells import Cell, Column, Row

COLUMNS = (
    Column("room", "Place", sample="Pollination", spare=2),
    Column("title", "Document", sample="Marks of the quick line", slack=True),
    Column("forms", "As", sample="PDF, workbook", spare=1),
)
ROOMS = {
    "rounds": "Rounds", "contracts": "Pollination", "moves": "Moves", "medicines": "Medicines", "labels": "Batches",
    "honey": "Batches", "dispatches": "Dispatch", "stock": "Stock", "words": "Help",
}  # fmt: skip
"""The place that a document's records are kept in."""
_ORDER = tuple(dict.fromkeys(ROOMS.values()))
_FORMS = {Form.PDF: "PDF", Form.WORKBOOK: "workbook"}


def room_words(about: Document) -> str:
    """The place of a document; a room without one is said by its own name."""
    return ROOMS.get(about.room, about.room.capitalize())


def documents() -> list[Document]:
    """Every document of the catalogue, room by room."""
    rooms = [*_ORDER, *sorted({room_words(each) for each in DOCUMENTS} - set(_ORDER))]
    return sorted(DOCUMENTS, key=lambda each: rooms.index(room_words(each)))


def document_row(about: Document) -> Row:
    """A document in the list."""
    forms = ", ".join(_FORMS[form] for form in about.forms)
    cells = (
        Cell(room_words(about), "ink2"),
        Cell(about.title, weight=600, tip=about.about),
        Cell(forms, "ink2"),
    )
    return Row(about.key, cells, search=f"{room_words(about)} {about.title} {about.about} {about.key}")
