"""Papers in a card: a file is added by keys, opened as a copy, taken off, and missed when it is gone."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt, QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtTest import QTest

from beeledger.database import papers as kept
from beeledger.database.ledger import Ledger
from beeledger.operations.act import perform
from beeledger.operations.attachments import NewPaper, attach_file
from beeledger.operations.official import NewVisit, record_visit
from beeledger.operations.sites import NewSite, add_site
from beeledger.operations.undo import undo
from beeledger.queries.attachments import papers_of
from beeledger.ui.desk.desk import FileQuestion
from beeledger.ui.parts.papers import Papers, size_words
from beeledger.ui.widgets.marks import Mark
from tests.ui.places.sitting import Seat, seated

SCAN = b"%PDF-1.4 permission"


@pytest.fixture
def seat(sqlite_ledger: Ledger, qapp: Any, qtbot: Any, tmp_path: Path) -> Iterator[Seat]:
    perform(sqlite_ledger, add_site, NewSite("Sallow Bank"))
    with seated(sqlite_ledger, "sites", qtbot, tmp_path / "desk") as made:
        yield made


@pytest.fixture
def opened(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The files that the desktop was asked to open."""
    asked: list[str] = []

    def note(url: QUrl) -> bool:
        asked.append(url.toLocalFile())
        return len(asked) == 1

    monkeypatch.setattr(QDesktopServices, "openUrl", note)
    return asked


def scan(folder: Path) -> Path:
    path = folder / "Permission.pdf"
    path.write_bytes(SCAN)
    return path


def section(seat: Seat) -> Papers:
    papers: Papers = seat.place.papers
    return papers


def hang(seat: Seat, folder: Path, record: tuple[str, int] = ("site", 1)) -> int:
    """A paper hung by another desk."""
    file = kept.take_in(seat.desk.ledger, scan(folder))
    done = perform(seat.desk.ledger, attach_file, NewPaper(file, record, "signed"))
    seat.desk._ask_for_news()
    seat.settle()
    return int(done.result)


def shown(seat: Seat) -> list[str]:
    cells = [row.cells[0] for row in section(seat).table.records.rows_shown()]
    return [f"{cell.text}: {cell.second}" for cell in cells]


def test_a_file_is_asked_for_kept_and_hung_with_its_note(seat: Seat, tmp_path: Path) -> None:
    asked: list[FileQuestion] = []
    seat.desk.asked.connect(asked.append)
    papers = section(seat)
    assert papers.head.summary == "none"
    papers.note.setFocus()
    QTest.keyClicks(papers.note.editor, "signed in March")
    papers.add_button.setFocus()
    QTest.keyClick(papers.add_button, Qt.Key.Key_Space)
    asked[0].then(None)
    assert seat.desk.newest_act == 1
    asked[0].then(scan(tmp_path))
    seat.until(lambda: shown(seat) == ["Permission.pdf: signed in March · 14 May 2026 · 1 kB"])
    assert papers.head.summary == "1 paper"
    assert papers.note.value() == ""
    assert seat.desk.last_done is not None
    assert seat.desk.last_done.sentence == "Hung Permission.pdf on Sallow Bank"


def test_enter_opens_a_copy_and_says_where_it_lies_when_no_program_does(
    seat: Seat, tmp_path: Path, opened: list[str]
) -> None:
    hang(seat, tmp_path)
    table = section(seat).table
    table.setFocus()
    for _time in range(2):
        QTest.keyClick(table, Qt.Key.Key_Return)
        seat.settle()
    assert [Path(path).name for path in opened] == ["Permission.pdf", "Permission.pdf"]
    assert Path(opened[0]).read_bytes() == SCAN
    assert Path(opened[0]) != tmp_path / "Permission.pdf"
    assert [(said.text, said.tone) for said in seat.said] == [
        ("No program here opens Permission.pdf", "watch")
    ]


def test_a_paper_is_taken_off_and_comes_back_when_that_is_taken_back(seat: Seat, tmp_path: Path) -> None:
    hang(seat, tmp_path)
    section(seat).off_button.click()
    seat.until(lambda: shown(seat) == [])
    assert section(seat).off_button.isHidden()
    undo(seat.desk.ledger, seat.desk.newest_act)
    seat.desk._ask_for_news()
    seat.until(lambda: shown(seat) == ["Permission.pdf: signed · 14 May 2026 · 1 kB"])


def test_a_missing_file_is_marked_and_opening_it_says_what_to_do(
    seat: Seat, tmp_path: Path, opened: list[str]
) -> None:
    assert seat.desk.ledger.file is not None
    number = hang(seat, tmp_path)
    paper = section(seat).papers[number]
    kept.place_of(kept.folder_for(seat.desk.ledger.file), paper.sha256).unlink()
    section(seat)._read()
    seat.settle()
    (row,) = section(seat).table.records.rows_shown()
    (cell,) = row.cells
    assert (cell.text, cell.mark) == ("Permission.pdf", Mark.CANNOT)
    assert cell.second == "the file is missing · signed · 14 May 2026 · 1 kB"
    section(seat).open_chosen()
    seat.settle()
    assert opened == []
    assert "is not there" in seat.said[-1].text
    assert "backup" in seat.said[-1].remedy


def test_a_paper_is_hung_on_an_inspectors_visit_from_the_card_of_the_site(seat: Seat, tmp_path: Path) -> None:
    visit = perform(
        seat.desk.ledger, record_visit, NewVisit(site_id=1, on=date(2026, 5, 4), inspector="Bee inspector")
    ).result
    seat.desk._ask_for_news()
    seat.settle()
    papers = section(seat)
    papers.on.set_value(f"official_visit {visit}")
    asked: list[FileQuestion] = []
    seat.desk.asked.connect(asked.append)
    papers.add_button.click()
    asked[0].then(scan(tmp_path))
    seat.until(lambda: shown(seat) == ["Permission.pdf: visit of 4 May 2026 · 14 May 2026 · 1 kB"])
    with seat.desk.ledger.read() as session:
        (paper,) = papers_of(session, [("official_visit", visit)])
        assert papers_of(session, [("site", 1)]) == ()
    assert paper.record == ("official_visit", visit)


def test_a_file_that_cannot_be_kept_is_said_and_nothing_is_hung(seat: Seat, tmp_path: Path) -> None:
    asked: list[FileQuestion] = []
    seat.desk.asked.connect(asked.append)
    section(seat).add_paper()
    (tmp_path / "empty.txt").touch()
    asked[0].then(tmp_path / "empty.txt")
    seat.until(lambda: bool(seat.said))
    assert seat.said[-1].text == "empty.txt is empty."
    assert seat.desk.newest_act == 1


@pytest.mark.parametrize(
    ("size", "words"), [(1, "1 kB"), (999, "1 kB"), (340_400, "340 kB"), (2_345_678, "2.3 MB")]
)
def test_sizes_are_said_as_people_say_them(size: int, words: str) -> None:
    assert size_words(size) == words
