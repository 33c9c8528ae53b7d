"""Files of documents: their names, whole or not at all, and pages as pictures."""

from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from beeledger.base.errors import CannotNow
from beeledger.queries.records.heading import Farm, Made
from beeledger.queries.records.movement_register import MovementRegister
from beeledger.reporting.catalogue import Form, document
from beeledger.ui.parts.paper import Printed, file_name, pages_of, written

RECORD = MovementRegister("all sites", date(2026, 4, 1), date(2026, 5, 14), ())
FARM, MADE = Farm("Tarrow Bees"), Made(datetime(2026, 5, 14, 18, 0, tzinfo=UTC), "tarrow.db", 7, "office")


@pytest.fixture
def printed() -> Printed:
    about = document("movement-register")
    return Printed(about, RECORD, FARM, MADE, "register", about.render(RECORD, FARM, MADE))


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ("Movement report Tŷ Gwyn 2026", "Movement report Tŷ Gwyn 2026"),
        ("a/b\\c: 1 < 2?", "a b c 1 2"),
        ("...", "document"),
        ("x" * 200, "x" * 120),
    ],
)
def test_a_file_is_named_without_what_file_systems_forbid(words: str, name: str) -> None:
    assert file_name(words) == name


def test_a_document_is_written_whole_in_both_forms(printed: Printed, tmp_path: Path) -> None:
    pdf = written(printed, Form.PDF, tmp_path / "a.pdf")
    book = written(printed, Form.WORKBOOK, tmp_path / "a.xlsx")
    assert pdf.read_bytes()[:5] == b"%PDF-"
    assert book.read_bytes()[:2] == b"PK"
    assert sorted(file.name for file in tmp_path.iterdir()) == ["a.pdf", "a.xlsx"]


def test_a_file_that_cannot_be_written_leaves_the_old_one_as_it_was(
    printed: Printed, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    old = tmp_path / "a.pdf"
    old.write_bytes(b"old")

    def full(_self: Path, _data: bytes) -> int:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "write_bytes", full)
    with pytest.raises(CannotNow) as fault:
        written(printed, Form.PDF, old)
    assert fault.value.sentence == "a.pdf was not saved: No space left on device."
    assert old.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [old]


def test_pages_are_pictures_at_the_resolution_asked_for(printed: Printed) -> None:
    (page,) = pages_of(printed.pdf, 72)
    # A4 lying: 842 by 595 points, one dot a point at 72 dpi; ISO 216 gives 297 by 210 mm.
    assert (page.width(), page.height()) == (842, 596)
