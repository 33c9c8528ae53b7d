"""``beeledger headless``: the three daily jobs and a picture of every place, where there is no screen."""

from __future__ import annotations

import argparse
import os
import tempfile
from pathlib import Path

from beeledger.base.clock import Clock
from beeledger.cli.answering import DONE, REFUSED, Voice
from beeledger.cli.commands import Commands, add_command

_OWN_DESK = "BEELEDGER_DESK"


def add_commands(commands: Commands) -> None:
    """Add ``headless``."""
    command = add_command(
        commands,
        "headless",
        run,
        "Do the three daily jobs on a copy of the sample farm and take a picture of every place.",
        "beeledger headless --out out",
    )
    command.add_argument("--out", type=Path, default=Path("out"), metavar="FOLDER", help="where the files go")
    command.add_argument("--seed", type=int, default=514, metavar="N", help="of what is typed that evening")
    command.add_argument("--look", choices=("light", "dark"), default="light", help="of the pictures")


def run(chosen: argparse.Namespace, voice: Voice) -> int:
    """Copy the sample, do the jobs, take the pictures, check the ledger, name the files."""
    from beeledger.cli.daily import do_the_jobs
    from beeledger.cli.sampling import sample_copy
    from beeledger.database.opening import open_ledger
    from beeledger.operations.checking import check_whole

    chosen.out.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        copy, clock = sample_copy(Path(folder))
        ledger = open_ledger(copy, clock, create=False, desk="headless")
        try:
            files = do_the_jobs(ledger, chosen.out, chosen.seed)
            report = check_whole(ledger)
        finally:
            ledger.close()
        files += _pictures(copy, clock, chosen.out / "places", chosen.look, Path(folder))
    data = {"files": [str(file) for file in files], "check": "clean" if report.clean else "breached"}
    voice.answer(
        data, "\n".join([*(f"Written: {file}" for file in files), f"The ledger checks {data['check']}."])
    )
    voice.tell(report.findings)
    return DONE if report.clean else REFUSED


def _pictures(copy: Path, clock: Clock, folder: Path, look: str, desk: Path) -> list[Path]:
    """The window draws without a screen, at a desk of its own."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    before = os.environ.get(_OWN_DESK)
    os.environ[_OWN_DESK] = str(desk / "desk")
    try:
        from beeledger.ui.frame.pictures import picture_places

        return picture_places(copy, clock, folder, look)
    finally:
        if before is None:
            del os.environ[_OWN_DESK]
        else:
            os.environ[_OWN_DESK] = before
