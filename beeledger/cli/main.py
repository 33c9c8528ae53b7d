"""``beeledger``: the command line, a second window on the same acts, queries and documents.

Each group of commands is a module with ``add_commands(commands)``; it imports what it needs when it runs.
Exit codes: 0 done, 1 refused or not possible now, 2 wrong usage.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence

from beeledger import __version__
from beeledger.base.errors import CannotNow, Refused
from beeledger.cli import (
    copying,
    headless,
    importing,
    keeping,
    opening,
    posting,
    printing,
    sampling,
    self_test,
)
from beeledger.cli.answering import Voice

GROUPS = (opening, sampling, importing, posting, printing, keeping, copying, headless, self_test)
_ABOUT = (
    "The office of a bee farm: one ledger of hives, honey and moves. It advises; the label, local law and "
    "licensed practice stand above it."
)
_EXITS = "Exit codes: 0 done, 1 refused or not possible now, 2 wrong usage."


def parser() -> argparse.ArgumentParser:
    """The whole grammar."""
    whole = argparse.ArgumentParser(
        prog="beeledger",
        description=_ABOUT,
        epilog=f"example: beeledger open --sample-copy\n\n{_EXITS}",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    whole.add_argument("--version", action="version", version=f"beeledger {__version__}")
    commands = whole.add_subparsers(dest="command", metavar="COMMAND", title="commands")
    for group in GROUPS:
        group.add_commands(commands)
    return whole


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; without any the window opens. Returns the exit code."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    chosen = parser().parse_args(given or ["open"])
    voice = Voice(as_json=chosen.json)
    try:
        code: int = chosen.run(chosen, voice)
    except Refused as refused:
        return voice.refused(refused)
    except CannotNow as error:
        return voice.cannot(error)
    return code


if __name__ == "__main__":
    sys.exit(main())
