"""``beeledger check``, ``backup`` and ``restore``: that the ledger is sound and stays so."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from beeledger.base.text import counted
from beeledger.cli.answering import DONE, REFUSED, Voice, finding_json
from beeledger.cli.commands import Commands, add_command, add_ledger, clock_of, opened


def add_commands(commands: Commands) -> None:
    """Add the three."""
    check = add_command(
        commands,
        "check",
        run_check,
        "Prove over a whole ledger what must always be true, and name each breach.",
        "beeledger check farm.beeledger",
    )
    check.add_argument("ledger", metavar="LEDGER", help="a file, or a postgresql:// address")
    backup = add_command(
        commands,
        "backup",
        run_backup,
        "Write a copy of a ledger, on a server too, while others work; open it, count its rows and check it.",
        "beeledger backup farm.beeledger --to /media/stick",
    )
    backup.add_argument("ledger", metavar="LEDGER", help="a file, or a postgresql:// address")
    backup.add_argument(
        "--to",
        type=Path,
        metavar="FOLDER",
        help="by default a folder beside the ledger, or in this desk's own for a server's",
    )
    restore = add_command(
        commands,
        "restore",
        run_restore,
        "Put a backup in the place of a ledger; the file that stood there is moved aside, never erased. "
        "On a server it goes into an empty database.",
        "beeledger restore 'farm backups/20260514-180000.db' --into farm.beeledger",
    )
    restore.add_argument("backup", type=Path, metavar="BACKUP", help="a backup written by this program")
    add_ledger(restore, "--into", "the ledger's file, or the postgresql:// address of an empty database")


def run_check(chosen: argparse.Namespace, voice: Voice) -> int:
    """Check a whole ledger. 1 when anything is broken."""
    from beeledger.operations.checking import check_whole

    def tell(number: int, total: int) -> None:
        if sys.stderr.isatty():  # ten years take a while: who looks on sees that it goes on
            print(f"\rChecking: {number + 1} of {total} lines", end="", file=sys.stderr, flush=True)

    with opened(chosen) as ledger:
        report = check_whole(ledger, tell)
    if sys.stderr.isatty():
        print(file=sys.stderr)
    data = {
        "clean": report.clean,
        "lines": [{"code": code, "words": words, "breaches": found} for code, words, found in report.lines],
        "findings": [finding_json(finding) for finding in report.findings],
    }
    lines = [
        f"{'holds' if not found else counted(found, 'breach', 'breaches'):>12}  {words}"
        for _, words, found in report.lines
    ]
    voice.answer(data, "\n".join(lines))
    voice.tell(report.findings)
    return DONE if report.clean else REFUSED


def run_backup(chosen: argparse.Namespace, voice: Voice) -> int:
    """Write a backup and say where it lies."""
    from beeledger.database.backup import backup

    with opened(chosen) as ledger:
        written = backup(ledger, chosen.to)
    voice.answer({"backup": str(written)}, f"Written and checked: {written}")
    return DONE


def run_restore(chosen: argparse.Namespace, voice: Voice) -> int:
    """Put a backup in place and say where the file before it went."""
    from beeledger.database.backup import restore, restore_on_server
    from beeledger.database.copying import address_shown

    if chosen.ledger.startswith("postgresql"):
        rows = restore_on_server(chosen.backup, chosen.ledger, clock_of(chosen))
        there = address_shown(chosen.ledger)
        words = f"Restored {counted(rows, 'row')} into {there}. Open that address on every desk."
        voice.answer({"restored": there, "rows": rows, "aside": None}, words)
        return DONE
    aside = restore(chosen.backup, Path(chosen.ledger), clock_of(chosen))
    data = {"restored": chosen.ledger, "aside": str(aside) if aside else None}
    moved = f" What stood there lies at {aside}." if aside else ""
    voice.answer(data, f"Restored {chosen.ledger}.{moved}")
    return DONE
