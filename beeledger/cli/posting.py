"""``beeledger post``: a round workbook that was filled elsewhere, posted as the entry grid would post it."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from beeledger.base.errors import Refused
from beeledger.base.findings import Finding, Grade, Where, holds
from beeledger.base.text import folded
from beeledger.cli.answering import DONE, Voice, finding_json
from beeledger.cli.commands import Commands, add_command, add_ledger, clock_of, opened

if TYPE_CHECKING:
    from beeledger.database.ledger import Ledger
    from beeledger.exchange.rounds import RoundRow, RoundWorkbook
    from beeledger.operations.rounds import Line, RoundToPost


def add_commands(commands: Commands) -> None:
    """Add ``post``."""
    command = add_command(
        commands,
        "post",
        run,
        "Post a round from a workbook that was written for it and filled. All of it, or nothing.",
        "beeledger post ash-lane.xlsx --into farm.beeledger",
    )
    command.add_argument("file", type=Path, metavar="FILE", help="the filled workbook")
    add_ledger(command, "--into", "the ledger")
    command.add_argument(
        "--accept",
        action="append",
        default=[],
        metavar="CODE",
        help="believe the sheet against the record for findings of this code; may be given again",
    )
    command.add_argument("--reason", metavar="WORDS", help="the written reason that some findings ask for")


def run(chosen: argparse.Namespace, voice: Voice) -> int:
    """Read, check and post. Refused rows are named by sheet, row and column, and nothing is written."""
    from beeledger.exchange.rounds import read_round_workbook
    from beeledger.operations.act import perform_draft
    from beeledger.operations.rounds import RoundPosted, post_round

    with opened(chosen) as ledger:
        book = read_round_workbook(chosen.file, clock_of(chosen).today())
        if holds(book.findings):
            raise Refused(book.findings)
        rows = book.filled
        new = _round(ledger, book, rows, chosen)
        try:
            done = perform_draft(ledger, book.uid, post_round, new)
        except Refused as refused:
            raise Refused([_in_sheet(finding, rows) for finding in refused.findings]) from refused
    posted: RoundPosted = done.result
    said = [*book.findings, *(_in_sheet(finding, rows) for finding in posted.findings)]
    waiting = [rows[row - 1].hive for row in posted.waiting]
    data = {
        "posted": done.sentence,
        "act": done.act,
        "round": posted.round_id,
        "hives": len(posted.entries),
        "waiting": waiting,
        "findings": [finding_json(finding) for finding in said],
    }
    left = f" Under question, not posted: {', '.join(waiting)}." if waiting else ""
    voice.answer(data, f"{done.sentence}.{left}")
    voice.tell(said)
    return DONE


def _round(
    ledger: Ledger, book: RoundWorkbook, rows: Sequence[RoundRow], chosen: argparse.Namespace
) -> RoundToPost:
    from beeledger.operations.rounds import RoundToPost

    line = book.line
    if line.day is None:
        what = "the sheet does not say on which day the round was"
        raise Refused([Finding("post.day", Grade.REFUSED, what, "Write the day on it", Where(sheet="Site"))])
    return RoundToPost(
        uid=book.uid,
        site_id=_site_id(ledger, book.site),
        on=line.day,
        lines=tuple(_line(book, row, chosen) for row in rows),
        start_minute=line.start_minute,
        end_minute=line.end_minute,
        crew=line.crew or None,
        weather=line.weather or None,
        note=line.note or None,
        source="workbook",
    )


def _line(book: RoundWorkbook, row: RoundRow, chosen: argparse.Namespace) -> Line:
    """A row with what was done at every hive alike laid under it; who was not looked at got none of it."""
    from beeledger.operations.rounds import Line
    from beeledger.rules.rounds.entry import Outcome, over, settled

    entry = settled(row.entry)
    if entry.outcome in (Outcome.LOOKED, Outcome.NOT_OPENED):
        entry = over(book.line.each, entry)
    return Line(
        entry,
        colony_id=row.colony_id,
        mark=row.hive or None,
        accepted=frozenset(chosen.accept),
        reason=chosen.reason,
    )


def _site_id(ledger: Ledger, name: str) -> int:
    from beeledger.queries.search import find

    with ledger.read() as session:
        found = [
            hit
            for hit in find(session, name, limit=500)
            if hit.kind == "site" and folded(hit.name) == folded(name)
        ]
    if not found:
        raise Refused([Finding("post.site", Grade.REFUSED, f"the ledger has no site {name}")])
    return found[0].id


def _in_sheet(finding: Finding, rows: Sequence[RoundRow]) -> Finding:
    """A finding of the post with the row of the workbook instead of the line of the round."""
    row = finding.where.row
    if row is None or not 1 <= row <= len(rows):
        return finding
    return replace(finding, where=replace(finding.where, sheet="Hives", row=rows[row - 1].row))
