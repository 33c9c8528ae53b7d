"""``beeledger import``: an old spreadsheet into the ledger; shown first, written only when accepted."""

from __future__ import annotations

import argparse
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from beeledger.base.errors import Refused
from beeledger.base.findings import Finding
from beeledger.base.text import counted
from beeledger.cli.answering import DONE, REFUSED, Voice
from beeledger.cli.commands import Commands, add_command, add_ledger, clock_of, opened

if TYPE_CHECKING:
    from beeledger.database.ledger import Ledger
    from beeledger.exchange.register import RegisterReading
    from beeledger.operations.imports import Register


class _OnlyTried(Exception):
    """Leaves an act without writing it; carries the sentence it would have written."""

    def __init__(self, sentence: str, left: list[Finding]) -> None:
        super().__init__(sentence)
        self.sentence, self.left = sentence, left


def add_commands(commands: Commands) -> None:
    """Add ``import``."""
    command = add_command(
        commands,
        "import",
        run,
        "Read sites and hives out of an old spreadsheet. Without --accept nothing is written.",
        "beeledger import hives.xlsx --into farm.beeledger --accept",
    )
    command.add_argument("file", type=Path, metavar="FILE", help="a workbook or a CSV file")
    add_ledger(command, "--into", "the ledger; made with --accept when it is not there")
    command.add_argument("--accept", action="store_true", help="write what can be read, as one act")
    command.add_argument("--without-doubtful", action="store_true", help="leave rows out that want a look")
    command.add_argument(
        "--dead",
        choices=("ended", "alive"),
        default="ended",
        help="how hives come in of which a comment says that they are dead",
    )
    command.add_argument(
        "--leave-out", action="store_true", help="leave rows out that the ledger cannot take, and name them"
    )
    command.add_argument(
        "--found-unknown",
        action="store_true",
        help="found hives that only old looks speak of on their first look",
    )


def run(chosen: argparse.Namespace, voice: Voice) -> int:
    """Read, show, and with ``--accept`` write. 1 when the act is refused, or rows were and nothing is written."""
    from beeledger.exchange.register import read_register

    reading = read_register(chosen.file, clock_of(chosen).today())
    leave_out = _doubtful(reading) if chosen.without_doubtful else set()
    try:
        way = _write if chosen.accept else _try
        sentence, left = way(chosen, reading, leave_out)
    except Refused as refused:
        _answer(voice, reading, list(refused.findings), "Nothing was written.")
        return REFUSED
    if chosen.accept:
        _answer(voice, reading, left, f"{sentence}.")
        return DONE
    _answer(voice, reading, left, f"Would write: {sentence}. Nothing was written; --accept writes it.")
    return REFUSED if reading.refused or left else DONE


def _doubtful(reading: RegisterReading) -> set[tuple[str, int]]:
    return {
        (finding.where.sheet, finding.where.row)
        for finding in reading.findings
        if finding.grade.value == "doubtful" and finding.where.row is not None
    }


def _write(
    chosen: argparse.Namespace, reading: RegisterReading, leave_out: set[tuple[str, int]]
) -> tuple[str, list[Finding]]:
    from beeledger.operations.act import perform
    from beeledger.operations.imports import import_register

    with opened(chosen, create=True) as ledger:
        done = perform(ledger, import_register, _register(ledger, chosen, reading, leave_out))
        return done.sentence, list(done.result.left)


def _try(
    chosen: argparse.Namespace, reading: RegisterReading, leave_out: set[tuple[str, int]]
) -> tuple[str, list[Finding]]:
    """Go through the whole act and leave it unwritten, so that the preview says what the act would say."""
    with _somewhere(chosen) as ledger:
        register = _register(ledger, chosen, reading, leave_out)
        try:
            _try_act(ledger, register)
        except _OnlyTried as tried:
            return tried.sentence, tried.left
    return "", []


def _try_act(ledger: Ledger, register: Register) -> None:
    from beeledger.operations.imports import import_register

    with ledger.act("import_register") as act:
        sentence = import_register(act, register)
        raise _OnlyTried(sentence, list(act.result.left))


@contextmanager
def _somewhere(chosen: argparse.Namespace) -> Iterator[Ledger]:
    """The ledger, or an empty one that is thrown away where there is none yet."""
    missing = not chosen.ledger.startswith("postgresql") and not Path(chosen.ledger).exists()
    if not missing:
        with opened(chosen) as ledger:
            yield ledger
        return
    with tempfile.TemporaryDirectory() as folder:
        there = argparse.Namespace(ledger=str(Path(folder) / "empty.beeledger"), today=chosen.today)
        with opened(there, create=True) as ledger:
            yield ledger


def _register(
    ledger: Ledger, chosen: argparse.Namespace, reading: RegisterReading, leave_out: set[tuple[str, int]]
) -> Register:
    from beeledger.exchange.register import to_register
    from beeledger.queries.farm import farm_settings

    with ledger.read() as session:
        farm = farm_settings(session)
    return to_register(
        reading,
        chosen.file.name,
        farm,
        leave_out,
        all_live=chosen.dead == "alive",
        leave_out_bad=chosen.leave_out,
        found_unknown=chosen.found_unknown,
    )


def _answer(voice: Voice, reading: RegisterReading, more: list[Finding], end: str) -> None:
    from beeledger.exchange.register import as_json
    from beeledger.exchange.register.answer import finding_row

    data = as_json(reading)
    data["findings"] += [finding_row(finding) for finding in more]
    read = f"{counted(len(reading.sites), 'site')} and {counted(len(reading.colonies), 'hive')} read"
    counts = ", ".join(
        f"{sum(row['grade'] == grade for row in data['findings'])} {grade}"
        for grade in ("refused", "doubtful", "noted")
    )
    voice.answer(data, f"{read}; findings: {counts}.\n{end}")
    voice.tell([*reading.findings, *more])
