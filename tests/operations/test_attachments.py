"""Papers: kept whole by their hash, hung on records, taken off and put back, and missed when they are gone."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from pathlib import Path

import pytest
from sqlalchemy import text

from beeledger.base.clock import FixedClock
from beeledger.base.errors import CannotNow, Refused
from beeledger.database import papers
from beeledger.database.checking.check import check_ledger
from beeledger.database.ledger import Ledger
from beeledger.database.opening import open_ledger
from beeledger.operations.act import Done, perform
from beeledger.operations.attachments import NewPaper, attach_file, detach_file
from beeledger.operations.sites import NewSite, add_site
from beeledger.operations.undo import undo
from beeledger.queries.attachments import papers_of
from tests.queries.counting import statements

SCAN = b"%PDF-1.4 permission for the meadow"
ABC = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
"""SHA-256 of "abc": FIPS 180-4, the standard's own one-block example."""


def scan(folder: Path, content: bytes = SCAN, name: str = "Permission.pdf") -> Path:
    path = folder / name
    path.write_bytes(content)
    return path


def site(ledger: Ledger, name: str = "Sallow Bank") -> int:
    return int(perform(ledger, add_site, NewSite(name)).result)


def hang(ledger: Ledger, path: Path, site_id: int) -> Done:
    return perform(ledger, attach_file, NewPaper(papers.take_in(ledger, path), ("site", site_id)))


def on_site(ledger: Ledger, site_id: int) -> list[tuple[str, bool]]:
    with ledger.read() as session:
        return [(paper.name, paper.there) for paper in papers_of(session, [("site", site_id)])]


def test_a_file_is_known_by_the_hash_of_its_bytes(sqlite_ledger: Ledger, tmp_path: Path) -> None:
    assert papers.take_in(sqlite_ledger, scan(tmp_path, b"abc", "abc.txt")) == papers.TakenIn(
        ABC, "abc.txt", "text/plain", 3
    )
    assert sqlite_ledger.file is not None
    folder = papers.folder_for(sqlite_ledger.file)
    assert papers.place_of(folder, ABC).read_bytes() == b"abc"
    assert [path.name for path in folder.glob("??/*")] == [ABC[2:]], "no half file is left beside it"


def test_a_paper_hangs_on_a_site_and_history_says_so(ledger: Ledger, tmp_path: Path) -> None:
    meadow = site(ledger)
    done = hang(ledger, scan(tmp_path), meadow)
    assert done.sentence == "Hung Permission.pdf on Sallow Bank"
    assert on_site(ledger, meadow) == [("Permission.pdf", True)]
    with ledger.read() as session:
        assert papers.bytes_of(session, hashlib.sha256(SCAN).hexdigest()) == SCAN
        copies = session.execute(text("SELECT image FROM act_image")).scalars()
        assert all(SCAN not in bytes(image) for image in copies)
    assert check_ledger(ledger).clean


def test_a_paper_taken_off_comes_back_with_its_file_when_that_is_taken_back(
    ledger: Ledger, tmp_path: Path
) -> None:
    meadow = site(ledger)
    hung = hang(ledger, scan(tmp_path), meadow)
    off = perform(ledger, detach_file, hung.result)
    assert off.sentence == "Took Permission.pdf off Sallow Bank"
    assert on_site(ledger, meadow) == []
    undo(ledger, off.act)
    assert on_site(ledger, meadow) == [("Permission.pdf", True)]
    assert check_ledger(ledger).clean


def test_one_file_hangs_on_two_sites_but_on_each_only_once(sqlite_ledger: Ledger, tmp_path: Path) -> None:
    meadow, wood = site(sqlite_ledger), site(sqlite_ledger, "Alder Wood")
    hang(sqlite_ledger, scan(tmp_path), meadow)
    hang(sqlite_ledger, scan(tmp_path), wood)
    with pytest.raises(Refused) as refused:
        hang(sqlite_ledger, scan(tmp_path, name="Again.pdf"), wood)
    assert "hangs there already, as Permission.pdf" in refused.value.findings[0].what
    assert on_site(sqlite_ledger, wood) == [("Permission.pdf", True)]


def test_a_site_that_bears_a_paper_is_not_taken_back_from_under_it(ledger: Ledger, tmp_path: Path) -> None:
    meadow = perform(ledger, add_site, NewSite("Sallow Bank"))
    hang(ledger, scan(tmp_path), meadow.result)
    with pytest.raises(Refused) as refused:
        undo(ledger, meadow.act)
    assert "Hung Permission.pdf on Sallow Bank" in refused.value.findings[0].what


def test_a_paper_is_not_hung_on_what_is_not_there_nor_without_its_bytes(
    sqlite_ledger: Ledger, tmp_path: Path
) -> None:
    file = papers.take_in(sqlite_ledger, scan(tmp_path))
    lost = papers.TakenIn("0" * 64, "Lost.pdf", "application/pdf", 3)
    meadow = site(sqlite_ledger)
    for new in (NewPaper(file, ("site", 99)), NewPaper(file, ("act", 1)), NewPaper(lost, ("site", meadow))):
        with pytest.raises(Refused):
            perform(sqlite_ledger, attach_file, new)
    assert on_site(sqlite_ledger, meadow) == []


@pytest.mark.parametrize("harm", ["gone", "changed"])
def test_a_file_gone_or_changed_is_said_by_the_check_and_to_who_opens_it(
    sqlite_ledger: Ledger, tmp_path: Path, harm: str
) -> None:
    meadow = site(sqlite_ledger)
    hung = hang(sqlite_ledger, scan(tmp_path), meadow)
    assert sqlite_ledger.file is not None
    sha256 = hashlib.sha256(SCAN).hexdigest()
    place = papers.place_of(papers.folder_for(sqlite_ledger.file), sha256)
    place.unlink() if harm == "gone" else place.write_bytes(SCAN[:-1] + b"X")
    with sqlite_ledger.read() as session, pytest.raises(CannotNow) as told:
        papers.hand_out(session, sha256, "Permission.pdf", tmp_path / "out")
    said = {"gone": "is not there", "changed": "has been changed"}[harm]
    assert said in told.value.sentence
    (found,) = check_ledger(sqlite_ledger).findings
    assert (found.code, found.where.record) == ("papers", f"Permission.pdf (paper {hung.result})")
    assert said in found.what
    assert on_site(sqlite_ledger, meadow) == [("Permission.pdf", harm != "gone")]
    papers.take_in(sqlite_ledger, scan(tmp_path))
    assert check_ledger(sqlite_ledger).clean, "adding the file again mends it"


def test_a_copy_is_handed_out_under_its_own_name_and_never_overwrites_what_was_made_of_it(
    sqlite_ledger: Ledger, tmp_path: Path
) -> None:
    file = papers.take_in(sqlite_ledger, scan(tmp_path))
    out = tmp_path / "out"
    with sqlite_ledger.read() as session:
        first = papers.hand_out(session, file.sha256, file.name, out)
        assert (first.name, first.read_bytes()) == ("Permission.pdf", SCAN)
        assert papers.hand_out(session, file.sha256, file.name, out) == first
        first.write_bytes(b"written over by somebody")
        second = papers.hand_out(session, file.sha256, file.name, out)
    assert second != first
    assert second.read_bytes() == SCAN
    assert first.read_bytes() == b"written over by somebody"


def test_an_empty_file_a_folder_and_one_that_is_gone_are_refused_with_a_sentence(
    sqlite_ledger: Ledger, tmp_path: Path
) -> None:
    for path in (scan(tmp_path, b"", "empty.txt"), tmp_path, tmp_path / "nothing.pdf"):
        with pytest.raises(CannotNow):
            papers.take_in(sqlite_ledger, path)


def test_papers_are_carried_into_the_keeping_of_a_server_and_back(
    sqlite_ledger: Ledger, new_target: Callable[..., str], clock: FixedClock, tmp_path: Path
) -> None:
    hang(sqlite_ledger, scan(tmp_path), site(sqlite_ledger))
    server = open_ledger(new_target("postgresql"), clock)
    home = open_ledger(new_target("sqlite"), clock)
    try:
        site(server)
        assert papers.carry(sqlite_ledger, server) == 1
        hang(server, scan(tmp_path), 1)
        assert papers.carry(server, home) == 1
        with server.read() as there, home.read() as back:
            sha256 = hashlib.sha256(SCAN).hexdigest()
            assert papers.bytes_of(there, sha256) == papers.bytes_of(back, sha256) == SCAN
    finally:
        server.close()
        home.close()


def test_a_folder_of_papers_is_brought_up_to_another_one(sqlite_ledger: Ledger, tmp_path: Path) -> None:
    sha256 = papers.take_in(sqlite_ledger, scan(tmp_path)).sha256
    assert sqlite_ledger.file is not None
    here, there = papers.folder_for(sqlite_ledger.file), tmp_path / "elsewhere"
    assert papers.copy_missing(here, there) == 1
    assert papers.copy_missing(here, there) == 0
    assert papers.place_of(there, sha256).read_bytes() == SCAN


def test_three_papers_take_as_many_queries_as_one(sqlite_ledger: Ledger, tmp_path: Path) -> None:
    meadow, wood = site(sqlite_ledger), site(sqlite_ledger, "Alder Wood")
    hang(sqlite_ledger, scan(tmp_path), meadow)
    for number in range(3):
        hang(sqlite_ledger, scan(tmp_path, SCAN + bytes([number])), wood)
    counts = []
    for where in (meadow, wood):
        with sqlite_ledger.read() as session, statements(sqlite_ledger) as said:
            papers_of(session, [("site", where)])
        counts.append(len(said))
    assert counts[0] == counts[1]
