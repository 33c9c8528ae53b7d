"""The bytes of papers hung on records, known by their hash and never changed.

Beside a SQLite ledger they lie in a folder, so that neither the ledger nor its hourly backups grow by every
photograph. On a server they lie in the database itself (``paper_bytes``): desks there share nothing else, and
the server's own dump then holds them with the rows. A file is written whole before any row names it, and is
never taken away: an act that took it off its record may be taken back.
"""

from __future__ import annotations

import hashlib
import mimetypes
import os
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from sqlalchemy import Connection, select, text

from beeledger.base.errors import CannotNow
from beeledger.base.paths import free_name
from beeledger.database.faults import faults
from beeledger.model.attachments import Attachment, PaperBytes

if TYPE_CHECKING:
    from sqlalchemy.orm import Session

    from beeledger.database.ledger import Ledger

MOST_BYTES = 100_000_000
"""A photograph or a scan is far below; a film would choke the backups of a server."""
_PORTION = 1 << 20


@dataclass(frozen=True, slots=True)
class TakenIn:
    """A file that the ledger has now: the hash of its bytes, and what it was called."""

    sha256: str
    name: str
    media_type: str
    size_bytes: int


def folder_for(ledger_file: Path) -> Path:
    """Where the papers of a SQLite ledger lie: beside it."""
    return ledger_file.with_name(ledger_file.stem + " papers")


def place_of(folder: Path, sha256: str) -> Path:
    """Where in the folder a file of this hash lies."""
    return folder / sha256[:2] / sha256[2:]


def take_in(ledger: Ledger, path: Path) -> TakenIn:
    """Copy a file into the keeping of the ledger, whole or not at all; it belongs to no record yet.

    Raises CannotNow for a file that is not there, is empty or is larger than ``MOST_BYTES``.
    """
    with faults():
        if not path.is_file():
            raise CannotNow(f"There is no file {path.name}.", "Choose another.")
        size = path.stat().st_size
        if not size:
            raise CannotNow(f"{path.name} is empty.", "Choose another.")
        if size > MOST_BYTES:
            raise CannotNow(
                f"{path.name} is larger than {MOST_BYTES // 1_000_000} MB.",
                "Keep it elsewhere, and note where.",
            )
        content = path.read_bytes()
        sha256 = hashlib.sha256(content).hexdigest()
        put(ledger, sha256, content)
    media_type = mimetypes.guess_type(path.name)[0] or "application/octet-stream"
    return TakenIn(sha256, path.name, media_type, len(content))


def put(ledger: Ledger, sha256: str, content: bytes) -> None:
    """Keep bytes under their hash; what is there already stays, unless it was spoilt."""
    if ledger.file is None:
        put_on_server(ledger, sha256, content)
        return
    place = place_of(folder_for(ledger.file), sha256)
    if place.exists() and _hash_of(place) == sha256:
        return
    _write_whole(place, content)


def put_on_server(ledger: Ledger, sha256: str, content: bytes) -> None:
    """Keep bytes in the database; two desks may bring the same file at once."""
    with ledger.engine.begin() as connection:
        connection.execute(
            text(
                "INSERT INTO paper_bytes (sha256, content) VALUES (:sha256, :content) "
                "ON CONFLICT (sha256) DO UPDATE SET content = excluded.content"
            ),
            {"sha256": sha256, "content": content},
        )


def bytes_of(session: Session, sha256: str) -> bytes:
    """The bytes of a paper, held against their hash. Raises CannotNow when they are gone or changed."""
    with faults():
        content = _read(session, sha256)
    if content is None:
        raise CannotNow(
            "The file of this paper is not there.",
            "Bring back the folder of papers from a backup, or hang it again.",
        )
    if hashlib.sha256(content).hexdigest() != sha256:
        raise CannotNow(
            "The file of this paper has been changed since it was hung.",
            "Bring back the folder of papers from a backup, or hang it again.",
        )
    return content


def hand_out(session: Session, sha256: str, name: str, folder: Path) -> Path:
    """Write a copy of a paper under its own name, for another program to open; what is done to it stays there."""
    content = bytes_of(session, sha256)
    place = folder / sha256[:16] / (Path(name).name or "paper")
    with faults():
        if not (place.is_file() and place.read_bytes() == content):
            place = free_name(place)
            _write_whole(place, content)
    return place


def there_of(session: Session, hashes: Iterable[str]) -> set[str]:
    """Which of these hashes have bytes in keeping; the bytes are not read. One query at most."""
    asked = set(hashes)
    folder = _folder_of(session.connection())
    found = {sha256 for sha256 in asked if folder is not None and place_of(folder, sha256).is_file()}
    if asked - found:
        found |= set(session.scalars(select(PaperBytes.sha256).where(PaperBytes.sha256.in_(asked - found))))
    return found


def wanted(session: Session) -> list[str]:
    """The hash of every file that a record bears."""
    return list(session.scalars(select(Attachment.sha256).distinct().order_by(Attachment.sha256)))


def copy_missing(source: Path, target: Path) -> int:
    """Copy what one folder of papers has and another has not; returns how many. What is there is not touched."""
    copied = 0
    for place in sorted(source.glob("??/*")) if source.is_dir() else ():
        there = target / place.parent.name / place.name
        if place.suffix != ".part" and not there.exists():
            _write_whole(there, place.read_bytes())
            copied += 1
    return copied


def carry(source: Ledger, target: Ledger) -> int:
    """Bring the papers of one ledger into the keeping of another, after its rows were copied; returns how many.

    One that is gone or spoilt there stays behind: the check of the copy names it, as it does in the ledger itself.
    """
    carried = 0
    with source.read() as session:
        for sha256 in wanted(session):
            try:
                content = bytes_of(session, sha256)
            except CannotNow:
                continue
            put(target, sha256, content)
            carried += 1
    return carried


def _read(session: Session, sha256: str) -> bytes | None:
    folder = _folder_of(session.connection())
    if folder is not None:
        with suppress(FileNotFoundError):
            return place_of(folder, sha256).read_bytes()
    return session.scalar(select(PaperBytes.content).where(PaperBytes.sha256 == sha256))


def _folder_of(connection: Connection) -> Path | None:
    name = connection.engine.url.database
    return folder_for(Path(name)) if connection.dialect.name == "sqlite" and name else None


def _hash_of(place: Path) -> str:
    with place.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _write_whole(place: Path, content: bytes) -> None:
    """Write beside the place, wait for the disk, then take the name: a power cut leaves no half file."""
    place.parent.mkdir(parents=True, exist_ok=True)
    part = place.with_name(f"{place.name}.{os.getpid()}.part")
    try:
        with part.open("wb") as file:
            for start in range(0, len(content), _PORTION):
                file.write(content[start : start + _PORTION])
            file.flush()
            os.fsync(file.fileno())
        part.replace(place)
    finally:
        part.unlink(missing_ok=True)
