"""Visit every place and print every document once; say the peak memory. Run as a module: LEDGER FOLDER."""

from __future__ import annotations

import resource
import sys
from pathlib import Path

from tests.benchmarks.farms import clock
from tests.benchmarks.turning import opened, settle


def main(ledger: Path, folder: Path) -> int:
    from beeledger.base.errors import CannotNow
    from beeledger.cli.papers import Wish
    from beeledger.cli.printing import write_document
    from beeledger.reporting.catalogue import DOCUMENTS, Form
    from beeledger.ui.frame.registry import PLACES

    desk, window = opened(ledger, folder / "visit-desk")
    for entry in PLACES:
        window.open_place(entry.key)
        settle(desk)
    printed = 0
    for about in DOCUMENTS:
        try:
            printed += len(write_document(desk.ledger, about, Wish("", clock().today()), folder, (Form.PDF,)))
        except CannotNow as nothing:
            print(f"{about.key}: {nothing.sentence}", file=sys.stderr)
    window.close()
    desk.close()
    print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss, len(PLACES), printed)
    return 0


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]), Path(sys.argv[2])))
