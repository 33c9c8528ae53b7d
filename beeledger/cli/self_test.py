"""``beeledger self-test``: whether the program as installed here does its work on this computer."""

from __future__ import annotations

import argparse
import sys
import tempfile
import traceback
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from time import perf_counter

from beeledger.base.clock import DEFAULT_ZONE, CarriedClock, local_moment
from beeledger.base.errors import CannotNow, Refused
from beeledger.base.text import counted
from beeledger.cli.answering import DONE, REFUSED, Voice
from beeledger.cli.commands import EVENING, Commands, add_command
from beeledger.cli.working_day import STEPS, Day, Step

_DAY = date(2026, 5, 14)
"""The day it works on where none is given, so that each run does the same."""


@dataclass(frozen=True, slots=True)
class Found:
    """How one step went: ``good`` None where it could not be tried, for one before it failed."""

    words: str
    good: bool | None
    seconds: float
    detail: str

    def line(self) -> str:
        """As it is printed."""
        mark = {True: "✓", False: "✗", None: "·"}[self.good]
        return f"{mark} {self.words:<58}{self.seconds:7.2f} s  {self.detail}".rstrip()


def add_commands(commands: Commands) -> None:
    """Add ``self-test``."""
    add_command(
        commands,
        "self-test",
        run,
        "Do a day's work on a fresh ledger in a temporary folder, and say of each step whether it went well. "
        "No ledger of the farm is touched.",
        "beeledger self-test",
    )


def run(chosen: argparse.Namespace, voice: Voice) -> int:
    """Each step with a tick or a cross and its time. 1 when any failed."""
    clock = CarriedClock(local_moment(chosen.today or _DAY, EVENING, DEFAULT_ZONE))
    found: list[Found] = []
    with tempfile.TemporaryDirectory(prefix="beeledger-") as folder:
        day = Day(Path(folder), clock)
        try:
            for step in STEPS:
                found.append(
                    _tried(step, day, stopped=any(one.good is False and one.words in _FIRST for one in found))
                )
                if not voice.as_json:
                    print(found[-1].line(), flush=True)
        finally:
            day.close()
    good = all(one.good for one in found)
    failed = sum(not one.good for one in found)
    data = {
        "good": good,
        "steps": [
            {"words": one.words, "good": one.good, "seconds": round(one.seconds, 3), "detail": one.detail}
            for one in found
        ],
    }
    words = "The program does its work here." if good else f"{counted(failed, 'step')} did not go well."
    voice.answer(data, words)
    return DONE if good else REFUSED


_FIRST = {STEPS[0].words}
"""What everything else stands on."""


def _tried(step: Step, day: Day, *, stopped: bool) -> Found:
    if stopped:
        return Found(step.words, None, 0.0, "not tried")
    begun = perf_counter()
    try:
        detail, good = step.work(day), True
    except (CannotNow, Refused) as error:
        detail, good = str(error).replace("\n", "; "), False
    except Exception as error:  # noqa: BLE001  # whatever is wrong here is what it is asked to find
        traceback.print_exc(file=sys.stderr)
        detail, good = f"{type(error).__name__}: {error}".splitlines()[0], False
    return Found(step.words, good, perf_counter() - begun, detail)
