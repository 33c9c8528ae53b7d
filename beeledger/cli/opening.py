"""``beeledger open``: the window on a ledger, or on a copy of the sample farm."""

from __future__ import annotations

import argparse
import gc

from beeledger.base.clock import Clock
from beeledger.base.paths import desk_folder, settings_file
from beeledger.base.settings import load_settings
from beeledger.cli.answering import Voice
from beeledger.cli.commands import Commands, add_command, clock_of

FIRST_LEDGER = "farm.beeledger"
"""What a farm's ledger is called when nobody named one, in this desk's folder."""


def add_commands(commands: Commands) -> None:
    """Add ``open``."""
    command = add_command(
        commands,
        "open",
        run,
        "Open the window. Without a ledger: the one this desk had open last, else a new one.",
        "beeledger open farm.beeledger",
    )
    which = command.add_mutually_exclusive_group()
    which.add_argument("ledger", nargs="?", metavar="LEDGER", help="a file, or a postgresql:// address")
    which.add_argument(
        "--sample-copy", action="store_true", help="a fresh copy of the sample farm, to try everything on"
    )


def run(chosen: argparse.Namespace, voice: Voice) -> int:
    """Show the window until it is closed; the exit code is the window's."""
    gc.disable()  # all that is loaded now stays: the window lets the collector in again once it is there
    target, clock = _what(chosen)
    from beeledger.ui.frame.app import run_window

    code = run_window(target, clock)
    if voice.as_json:
        voice.answer({"ledger": target, "exit": code}, "")
    return code


def _what(chosen: argparse.Namespace) -> tuple[str, Clock]:
    if chosen.sample_copy:
        from beeledger.cli.sampling import sample_copy

        copy, clock = sample_copy(desk_folder())
        return str(copy), clock
    last = load_settings(settings_file()).ledger
    return chosen.ledger or last or str(desk_folder() / FIRST_LEDGER), clock_of(chosen)
