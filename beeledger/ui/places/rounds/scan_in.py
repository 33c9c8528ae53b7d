"""Scanned round sheets read into drafts: what is sure is filled in, the rest is asked beside its picture."""

from __future__ import annotations

from base64 import b64decode, b64encode
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject

from beeledger.base.findings import Finding, Grade, Where
from beeledger.base.text import counted
from beeledger.queries.records.round_desk import HiveLine
from beeledger.queries.round_start import RoundStart, round_start
from beeledger.queries.rounds import lines_of
from beeledger.rules.rounds.entry import EMPTY, Entry, over
from beeledger.rules.rounds.paper_code import check_sum, same_marks
from beeledger.rules.rounds.plain import from_plain
from beeledger.ui.desk.desk import Desk
from beeledger.ui.desk.jobs import Job
from beeledger.ui.places.rounds.beside import READ, kept_findings
from beeledger.ui.places.rounds.drafts import KIND
from beeledger.ui.places.rounds.scan_panel import SCAN
from beeledger.ui.places.rounds.state import Head, body_of, line_of

if TYPE_CHECKING:
    from beeledger.exchange.scans import Mark, ScannedPage

PATTERN = "Scans (*.pdf *.jpg *.jpeg *.png *.tif *.tiff)"
PICTURES = "round-pictures"
_STRIPS = ("medicine_in", "medicine_out")


@dataclass(slots=True)
class Draft:
    """One sheet on its way to a draft."""

    pages: list[ScannedPage]
    hives: dict[int, HiveLine]
    findings: list[Finding] = field(default_factory=list)
    entries: dict[int, Entry] = field(default_factory=dict)
    questions: list[dict[str, Any]] = field(default_factory=list)
    pictures: dict[str, str] = field(default_factory=dict)

    def mark(self, colony: int) -> str:
        """The number the hive carries."""
        return (self.hives[colony].mark or "") if colony in self.hives else ""

    def say(self, code: str, grade: Grade, what: str, mend: str = "", row: int | None = None) -> None:
        """A finding; ``row`` is the colony whose line it leads to."""
        self.findings.append(Finding(f"round-scan.{code}", grade, what, mend, Where(row=row)))


def read_sheets(
    desk: Desk, owner: QObject, open_now: Mapping[str, object], take_in: Callable[[dict[str, Any]], None]
) -> None:
    """Ask for a scan and hand over the body of a draft for each sheet in it."""
    today = desk.clock.today()

    def work(path: Path, job: Job) -> tuple[list[tuple[dict[str, Any], dict[str, str]]], tuple[Finding, ...]]:
        from beeledger.exchange.scans import read_scans

        scans = read_scans([path], job.progress)
        with desk.ledger.read() as session:
            start = round_start(session)
            sheets: dict[str, list[ScannedPage]] = {}
            for page in scans.pages:
                sheets.setdefault(page.sheet, []).append(page)
            drafts = []
            for pages in sheets.values():
                colonies = [one for page in pages for one in page.paper.hives if one is not None]
                known = {line.colony_id: line for line in lines_of(session, colonies, _day(pages, today))}
                drafts.append(Draft(pages, known))
        return [
            (body_of_scan(one, start, today, scans.findings), one.pictures) for one in drafts
        ], scans.findings

    def read(found: tuple[list[tuple[dict[str, Any], dict[str, str]]], tuple[Finding, ...]]) -> None:
        made, findings = found
        for body, pictures in made:
            _take(desk, open_now, take_in, body, pictures)
        if not made:
            what = findings[0] if findings else None
            words = f"No round sheet was read: {what.what}" if what else "No round sheet was read"
            desk.say(words, "now", what.mend if what else "", findings)

    def chosen(path: Path | None) -> None:
        if path is not None:
            desk.run(f"Reading {path.name}", lambda job: work(path, job), owner=owner, then=read)

    desk.ask_file("Read scanned round sheets", PATTERN, chosen)


def kept_pictures(desk: Desk, uid: str) -> dict[str, bytes]:
    """The pictures of a draft that came from a scan, by what they show."""
    draft = desk.drafts.load(_pictures_uid(uid))
    return {name: b64decode(data) for name, data in draft.body.items()} if draft else {}


def _take(
    desk: Desk, open_now: Mapping[str, object], take_in: Callable[[dict[str, Any]], None],
    body: dict[str, Any], pictures: dict[str, str],
) -> None:  # fmt: skip
    head = body["head"]
    if not head["site_id"]:
        desk.say("A sheet is of another site or another ledger: nothing was taken from it", "now")
        return
    if head["uid"] in open_now:
        desk.say(f"These pages of {head['site']} are open already; nothing typed there was changed", "watch")
        return
    alive = {draft.uid for draft in desk.drafts.drafts(KIND)}
    for draft in desk.drafts.drafts(PICTURES):
        if draft.uid.removesuffix("-pictures") not in alive:
            desk.drafts.forget(draft.uid)
    desk.drafts.save(_pictures_uid(head["uid"]), PICTURES, head["site"], pictures)
    take_in(body)
    left = len(body["place"][SCAN])
    ask = f", {counted(left, 'mark')} to say yes or no to: F3" if left else ""
    desk.say(
        f"Read {counted(len(body['lines']), 'line')} of {head['site']}{ask}", "watch" if left else "done"
    )


def _pictures_uid(uid: str) -> str:
    return f"{uid}-pictures"


def _day(pages: Sequence[ScannedPage], today: date) -> date:
    day = pages[0].paper.day
    return date.fromordinal(day) if day else today


def body_of_scan(draft: Draft, start: RoundStart, today: date, findings: Sequence[Finding]) -> dict[str, Any]:
    """The draft that a scanned sheet makes, in the order that was walked."""
    first = draft.pages[0]
    site = next((one for one in start.sites if one.id == first.paper.site_id), None)
    if site is None or check_sum([site.name]) != first.paper.site_print:
        return {"head": {"site_id": 0, "uid": "", "site": ""}, "lines": [], "place": {SCAN: []}}
    draft.findings += findings
    for page in draft.pages:
        _read_page(draft, page)
    _say_missing(draft)
    numbers = "".join(f"-{page.paper.page}" for page in draft.pages)
    head = Head(f"scan-{first.sheet}{numbers}", site.id, site.name, _day(draft.pages, today), source="scan")
    lines = [
        line_of(mark=draft.mark(colony), colony_id=colony, typed=draft.entries.get(colony, EMPTY))
        for page in draft.pages
        for colony in page.paper.hives
        if colony in draft.hives
    ]
    hives = {colony: draft.mark(colony) for colony in draft.hives}
    kept = [one | {"where": ""} if one["hive"] else one for one in kept_findings(draft.findings, hives)]
    place = {"row": 0, "mode": "cells", READ: kept, SCAN: draft.questions}
    return body_of(head, lines, place)


def _read_page(draft: Draft, page: ScannedPage) -> None:
    from beeledger.exchange.scans import head_picture, line_picture

    number = page.paper.page
    if not same_marks(page.paper, {colony: draft.mark(colony) for colony in draft.hives}):
        what = f"a hive of page {number} has another number now than when it was printed"
        draft.say("renumbered", Grade.DOUBTFUL, what, "Look at each line of it")
    if page.paper.start == 0:
        draft.pictures["head"] = b64encode(head_picture(page)).decode()
    for row, colony in enumerate(page.paper.hives):
        marks = [mark for mark in page.marks if mark.box.row == row]
        if colony is not None and colony in draft.hives:
            draft.pictures[str(colony)] = b64encode(line_picture(page, row)).decode()
            _read_line(draft, page, colony, marks)
        elif any(mark.says == "marked" or not mark.sure for mark in marks):
            what = f"line {row + 1} of page {number} is marked, and no hive of the record is on it"
            draft.say("no-hive", Grade.DOUBTFUL, what, "Look at the paper")


def _read_line(draft: Draft, page: ScannedPage, colony: int, marks: Sequence[Mark]) -> None:
    entry = EMPTY
    ladder = [mark for mark in marks if mark.box.column.ladder and mark.says == "marked" and mark.sure]
    for mark in marks:
        tick = mark.box.tick
        marked = mark.says == "marked"
        if tick.field in _STRIPS:
            if marked or not mark.sure:
                be = "is" if mark.sure else "may be"
                what = f"strips {tick.word} {be} ticked"
                draft.say("strips", Grade.DOUBTFUL, what, "Type which and how many", colony)
        elif not mark.sure or (len(ladder) > 1 and mark in ladder):
            _ask(draft, page, colony, mark)
        elif marked:
            entry = over(entry, from_plain({tick.field: tick.value}))
    draft.entries[colony] = entry


def _ask(draft: Draft, page: ScannedPage, colony: int, mark: Mark) -> None:
    from beeledger.exchange.scans import box_picture

    box = mark.box
    name = f"{colony}.{box.tick.field}.{box.tick.value}"
    draft.pictures[name] = b64encode(box_picture(page, mark)).decode()
    draft.questions.append(
        {
            "hive": draft.mark(colony), "colony": colony, "field": box.tick.field, "value": box.tick.value,
            "what": f"{box.column.title} {box.tick.word}".strip(), "says": str(mark.says),
            "why": mark.why or "more than one of the row is marked", "picture": name,
        }
    )  # fmt: skip


def _say_missing(draft: Draft) -> None:
    total = draft.pages[0].paper.total
    there = sum(one is not None for page in draft.pages for one in page.paper.hives)
    if there < total:
        what = f"{there} of the {total} hives of the sheet are on the pages that were read"
        draft.say("page-missing", Grade.DOUBTFUL, what, "Scan the other pages too")
