"""``beeledger print``: any document of the catalogue, as PDF, workbook or both."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from beeledger.base.errors import CannotNow
from beeledger.cli.answering import DONE, Voice
from beeledger.cli.commands import Commands, add_command, add_ledger, clock_of, opened
from beeledger.cli.papers import Wish, paper_for
from beeledger.reporting.catalogue import DOCUMENTS, Document, Form, document

if TYPE_CHECKING:
    from beeledger.database.ledger import Ledger

_UNFIT = '/\\:*?"<>|'
_FORMS = {"pdf": (Form.PDF,), "xlsx": (Form.WORKBOOK,), "both": (Form.PDF, Form.WORKBOOK)}


def add_commands(commands: Commands) -> None:
    """Add ``print``."""
    command = add_command(
        commands,
        "print",
        run,
        "Print a document of the record: " + ", ".join(each.key for each in DOCUMENTS) + ".",
        "beeledger print movement-report --from farm.beeledger --id 'Pippin Hill apples 2026' --out reports",
    )
    command.add_argument("document", choices=[each.key for each in DOCUMENTS], metavar="DOCUMENT")
    add_ledger(command, "--from", "the ledger")
    command.add_argument(
        "--id",
        default="",
        metavar="ID",
        help="number or name of the round, site, contract or batch (its lot mark); by default the newest",
    )
    command.add_argument(
        "--first", type=date.fromisoformat, metavar="DATE", help="of a register; day of a sheet"
    )
    command.add_argument("--last", type=date.fromisoformat, metavar="DATE", help="of a register")
    command.add_argument("--count", type=int, metavar="N", help="labels; by default one for each jar")
    command.add_argument(
        "--start", type=int, default=1, metavar="PLACE", help="first free place on the sheet"
    )
    command.add_argument(
        "--out", type=Path, default=Path(), metavar="PATH", help="a folder, or the file itself"
    )
    command.add_argument("--form", choices=sorted(_FORMS), help="pdf unless the file's name says otherwise")


def run(chosen: argparse.Namespace, voice: Voice) -> int:
    """Find the record, write the document, say where it lies."""
    about = document(chosen.document)
    forms = _forms(chosen, about)
    wish = Wish(
        chosen.id, clock_of(chosen).today(), chosen.first, chosen.last, chosen.count, max(1, chosen.start)
    )
    with opened(chosen) as ledger:
        files = write_document(ledger, about, wish, chosen.out, forms)
    names = [str(file) for file in files]
    voice.answer({"document": about.key, "files": names}, "\n".join(f"Written: {name}" for name in names))
    return DONE


def write_document(
    ledger: Ledger, about: Document, wish: Wish, out: Path, forms: tuple[Form, ...]
) -> list[Path]:
    """Write one document in each form; ``out`` is a folder, or the file where it ends like one."""
    from beeledger.queries.headings import heading_of

    with ledger.read() as session:
        paper = paper_for(about.key, session, wish)
        source = ledger.file.name if ledger.file else "the farm's database"
        farm, made = heading_of(session, ledger.clock, source)
    files = []
    for form in forms:
        file = _file(out, paper.name, form)
        try:
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_bytes(about.render(paper.record, farm, made, form))
        except OSError as error:
            raise CannotNow(
                f"{file} cannot be written: {error.strerror}.", "Choose another place."
            ) from error
        files.append(file)
    return files


def _forms(chosen: argparse.Namespace, about: Document) -> tuple[Form, ...]:
    end = chosen.out.suffix.removeprefix(".")
    wanted = _FORMS[chosen.form or (end if end in _FORMS else "pdf")]
    able = tuple(form for form in wanted if form in about.forms)
    if not able:
        raise CannotNow(f"{about.title} is not written as a workbook.", "Ask for a PDF.")
    return able


def _file(out: Path, name: str, form: Form) -> Path:
    if out.suffix in (".pdf", ".xlsx"):
        return out.with_suffix(f".{form.value}")
    plain = "".join("-" if letter in _UNFIT else letter for letter in name)
    return out / f"{plain}.{form.value}"
