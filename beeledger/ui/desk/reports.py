"""A fault in the program makes a report: a file in the desk's folder, without anything of the farm in it."""

from __future__ import annotations

import platform
import traceback
from datetime import datetime
from pathlib import Path

from PySide6.QtCore import qVersion

import beeledger

KEPT = 20
"""Reports that are kept; the oldest go first."""


class Reports:
    """The reports of one desk. The same fault at the same line is written once while the window is open."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._seen: dict[tuple[str, str, int], Path | None] = {}

    def write(self, error: BaseException, now: datetime) -> Path | None:
        """Write a report; None when it could not be written. A fault that was met before gives its file."""
        spot = _spot(error)
        if spot not in self._seen:
            self._seen[spot] = self._written(error, now)
        return self._seen[spot]

    def met(self, error: BaseException) -> bool:
        """Whether this fault at this line has been reported since the window was opened."""
        return _spot(error) in self._seen

    def _written(self, error: BaseException, now: datetime) -> Path | None:
        path = self._folder / f"fault {now:%Y%m%d-%H%M%S}-{len(self._seen) + 1}.txt"
        try:
            path.write_text(_words(error, now), encoding="utf-8")
            for old in sorted(self._folder.glob("fault *.txt"))[:-KEPT]:
                old.unlink(missing_ok=True)
        except OSError:
            return None  # the disk may be what is at fault; the sentence on the window is still said
        return path


def _spot(error: BaseException) -> tuple[str, str, int]:
    frames = traceback.extract_tb(error.__traceback__)
    last = frames[-1] if frames else None
    return type(error).__name__, last.filename if last else "", (last.lineno or 0) if last else 0


def _words(error: BaseException, now: datetime) -> str:
    lines = "".join(traceback.format_exception(error))
    return (
        f"BeeLedger {beeledger.__version__}, {now.isoformat()}\n"
        f"Python {platform.python_version()}, Qt {qVersion()}, {platform.system()} {platform.machine()}\n\n{lines}"
    )
