"""The round as a workbook for a tablet: written from the draft, read back into one."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

from PySide6.QtCore import QObject

from beeledger.base.dates import long
from beeledger.base.text import counted
from beeledger.queries.round_paper import printed_sheet
from beeledger.queries.round_start import round_start
from beeledger.rules.rounds.entry import Entry, Outcome, over
from beeledger.ui.desk.desk import Desk
from beeledger.ui.desk.jobs import Job
from beeledger.ui.places.rounds.beside import READ, kept_findings
from beeledger.ui.places.rounds.sheet import Sheet
from beeledger.ui.places.rounds.state import Head, Line, body_of, line_of

PATTERN = "Workbooks (*.xlsx)"


def write_workbook(desk: Desk, sheet: Sheet, owner: QObject) -> None:
    """Ask where to, and write the workbook with what the draft holds already."""
    head = sheet.head
    colonies = {line.mark: line.colony_id for line in sheet.lines if line.mark and line.colony_id is not None}
    entries = {line.mark: line.typed for line in sheet.lines if line.mark and not line.empty}
    act = sheet.desk_sheet.last_act

    def work(path: Path, _job: Job) -> Path:
        from beeledger.exchange.rounds import write_round_workbook

        with desk.ledger.read() as session:
            paper = printed_sheet(session, head.site_id, head.on)
        kept = tuple(line for line in paper.lines if line.hive in colonies)
        paper = replace(paper, lines=kept, uid=head.uid, crew=head.crew)
        wanted = {line.hive: colonies[line.hive] for line in kept}
        path.write_bytes(write_round_workbook(paper, wanted, act, entries))
        return path

    def chosen(path: Path | None) -> None:
        if path is not None:
            whole = path if path.suffix else path.with_suffix(".xlsx")
            desk.run(
                f"Writing {whole.name}", lambda job: work(whole, job), owner=owner,
                then=lambda done: desk.say(f"Written: {done.name}. Fill it, and read it back with Ctrl Shift O", "done"),
            )  # fmt: skip

    name = f"Round {head.site} {long(head.on)}.xlsx"
    desk.ask_file("Write the round as a workbook", PATTERN, chosen, save=True, suggested=name)


def read_workbook(desk: Desk, owner: QObject, then: Callable[[dict[str, Any]], None]) -> None:
    """Ask for a filled workbook and hand over the body of a draft; what could not be read is said by its cell."""
    today = desk.clock.today()

    def work(path: Path, _job: Job) -> tuple[Any, Any]:
        from beeledger.exchange.rounds import read_round_workbook

        with desk.ledger.read() as session:
            start = round_start(session)
        return read_round_workbook(path, today), start

    def read(found: tuple[Any, Any]) -> None:
        book, start = found
        site = next((one for one in start.sites if one.name == book.site), None)
        if site is None:
            desk.say(f"The workbook is of {book.site}, and no open site is called that", "now")
            return
        then(body_from(book, site.id, today))
        _tell(desk, book)

    def chosen(path: Path | None) -> None:
        if path is not None:
            desk.run(f"Reading {path.name}", lambda job: work(path, job), owner=owner, then=read)

    desk.ask_file("Read a filled round workbook", PATTERN, chosen)


def body_from(book: Any, site_id: int, today: date) -> dict[str, Any]:
    """The draft that a workbook makes: its rows in their order, refused ones under question with what they said."""
    said = book.line
    lines = [_line(row) for row in book.rows if not row.is_blank or row.colony_id is not None]
    head = Head(
        book.uid, site_id, book.site, said.day or today, said.start_minute, said.end_minute, said.crew, said.weather,
        source="workbook", each=said.each, note=said.note, stores_in_frames=_in_frames(lines),
    )  # fmt: skip
    hives = {row.row: row.hive for row in book.rows}
    return body_of(head, lines, {"row": 0, "mode": "cells", READ: kept_findings(book.findings, hives)})


def _line(row: Any) -> Line:
    entry: Entry = row.entry
    if row.refused:
        told = ", ".join(f"{name} {value}" for name, value in _told(row.raw).items())
        entry = over(entry, Entry(question=f"workbook row {row.row} not read whole: {told}"))
    if row.colony_id is None and not row.hive and entry.outcome is None and not row.is_blank:
        entry = replace(entry, outcome=Outcome.STRANGER)
    return line_of(mark=row.hive, colony_id=row.colony_id, typed=entry)


def _told(raw: Mapping[str, str]) -> Mapping[str, str]:
    return {name.replace("_", " "): value for name, value in raw.items()}


def _in_frames(lines: list[Line]) -> bool:
    return any(line.typed.stores_tenths is not None for line in lines)


def _tell(desk: Desk, book: Any) -> None:
    filled = counted(len(book.filled), "hive")
    if book.findings:
        found = counted(len(book.findings), "finding")
        desk.say(f"Read {filled}, with {found} beside the grid", "watch", "F3 goes to them.", book.findings)
    else:
        desk.say(f"Read {filled} of {book.site} from the workbook", "done")
