"""``beeledger copy``: the whole ledger from a file to a database server, or back."""

from __future__ import annotations

import argparse
import sys
from dataclasses import dataclass, field

from beeledger.base.text import counted
from beeledger.cli.answering import DONE, REFUSED, Voice, finding_json
from beeledger.cli.commands import Commands, add_command, clock_of, opened

_ABOUT = (
    "Copy a whole ledger from a file to a PostgreSQL database, or back, and prove that both hold the same: every "
    "row counted, every column summed, every value compared by hash. The ledger copied from stays as it is; nobody "
    "else can write to it meanwhile. What is being typed on a desk and not posted is not in it: post it first."
)


def add_commands(commands: Commands) -> None:
    """Add ``copy``."""
    copy = add_command(
        commands,
        "copy",
        run_copy,
        _ABOUT,
        "beeledger copy farm.beeledger postgresql://bees@office/farm",
    )
    copy.add_argument("ledger", metavar="FROM", help="a file, or a postgresql:// address")
    copy.add_argument(
        "target", metavar="TO", help="a file that is not there yet, or an empty PostgreSQL database"
    )


def run_copy(chosen: argparse.Namespace, voice: Voice) -> int:
    """Copy, prove, check the copy. 1 when it was not done, or when the check of the copy finds a breach."""
    from beeledger.database.copying import address_shown, copy_ledger
    from beeledger.database.opening import open_ledger
    from beeledger.database.papers import carry
    from beeledger.operations.checking import check_whole

    with opened(chosen) as ledger:
        copied = copy_ledger(ledger, chosen.target, ledger.clock, _Passing())
        made = open_ledger(chosen.target, clock_of(chosen), create=False, desk="command line")
        try:
            papers = carry(ledger, made) if ledger.is_sqlite else 0  # from a server they came with the rows
            report = check_whole(made)
        finally:
            made.close()
    there = address_shown(chosen.target)
    data = {
        "from": address_shown(chosen.ledger),
        "to": there,
        "rows": copied.rows,
        "papers": papers,
        "alike": True,
        "check": "clean" if report.clean else "breached",
        "tables": [
            {"table": one.table, "rows": one.rows, "sums": dict(one.sums), "hash": one.mark}
            for one in copied.tables
        ],
        "findings": [finding_json(finding) for finding in report.findings],
    }
    words = (
        f"Copied to {there}: {counted(copied.rows, 'row')} in {counted(len(copied.tables), 'table')}, "
        "counts, sums and hashes alike on both sides.\n"
        + (f"With it went the files of {counted(papers, 'paper')}.\n" if papers else "")
        + (
            "The copy checks clean."
            if report.clean
            else "The copy is true, and what the check finds in it was there before:"
        )
        + "\nFrom now on open the copy on every desk: what is done in the old ledger does not reach it."
    )
    voice.answer(data, words)
    voice.tell(report.findings)
    return DONE if report.clean else REFUSED


@dataclass(slots=True)
class _Passing:
    """How far it is, at a terminal only."""

    last: int = field(default=-1)

    def __call__(self, done: int, total: int) -> None:
        percent = 100 * done // max(total, 1)
        if percent != self.last and sys.stderr.isatty():
            self.last = percent
            print(f"\r{percent:3d} %", end="\n" if done >= total else "", file=sys.stderr, flush=True)
