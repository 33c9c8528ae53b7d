"""What the commands share: how one is added, which day it is, and a ledger opened and closed again."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date
from typing import TYPE_CHECKING, Any

from beeledger.base.clock import DEFAULT_ZONE, CarriedClock, Clock, FarmClock, local_moment
from beeledger.cli.answering import Voice

if TYPE_CHECKING:
    from beeledger.database.ledger import Ledger

Run = Callable[[argparse.Namespace, Voice], int]
Commands = Any
"""What ``add_subparsers`` gives; its class has no public name."""
EVENING = 19 * 60
"""Minutes after midnight: where a day given by ``--today`` begins."""


def add_command(commands: Commands, name: str, run: Run, about: str, example: str) -> argparse.ArgumentParser:
    """A command with its one-line description, an example, ``--json`` and ``--today``."""
    command: argparse.ArgumentParser = commands.add_parser(
        name,
        help=about,
        description=about,
        epilog=f"example: {example}",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    command.add_argument("--json", action="store_true", help="answer with one JSON object")
    command.add_argument(
        "--today", type=_day, metavar="DATE", help="work as on the evening of that day (YYYY-MM-DD)"
    )
    command.set_defaults(run=run)
    return command


def add_ledger(command: argparse.ArgumentParser, option: str, about: str) -> None:
    """The ledger a command works on: a file, or a ``postgresql://`` address."""
    command.add_argument(option, dest="ledger", metavar="LEDGER", required=True, help=about)


def clock_of(chosen: argparse.Namespace) -> Clock:
    """The computer's clock, or the evening of the day given."""
    if chosen.today is None:
        return FarmClock()
    return CarriedClock(local_moment(chosen.today, EVENING, DEFAULT_ZONE))


@contextmanager
def opened(chosen: argparse.Namespace, *, create: bool = False) -> Iterator[Ledger]:
    """The ledger of a command, open; closed at the end."""
    from beeledger.database.opening import open_ledger
    from beeledger.operations.due_rule import keep_due

    ledger = open_ledger(chosen.ledger, clock_of(chosen), create=create, desk="command line")
    try:
        keep_due(ledger)
        yield ledger
    finally:
        ledger.close()


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text!r} is no day such as 2026-05-14") from None
