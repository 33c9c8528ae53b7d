"""The three daily jobs without a window: what they write is there, and the ledger is sound afterwards."""

from __future__ import annotations

from pathlib import Path

from beeledger.cli.daily import do_the_jobs
from beeledger.database.checking.check import check_ledger
from beeledger.database.ledger import Ledger
from beeledger.queries.contract_list import list_contracts
from beeledger.queries.labels import batches
from beeledger.queries.rounds import recent_rounds
from beeledger.reporting.pictures import page_count


def test_the_three_jobs_are_done_and_their_papers_written(sample_ledger: Ledger, tmp_path: Path) -> None:
    files = do_the_jobs(sample_ledger, tmp_path, seed=1)
    kinds = [(file.name.split(" ", maxsplit=1)[0], file.suffix) for file in files]
    assert kinds == [
        ("round", ".pdf"), ("round", ".xlsx"), ("labels", ".pdf"), ("batch", ".pdf"), ("batch", ".xlsx"),
        ("movement", ".pdf"), ("movement", ".xlsx"),
    ]  # fmt: skip
    assert all(page_count(file.read_bytes()) >= 1 for file in files if file.suffix == ".pdf")
    today = sample_ledger.clock.today()
    with sample_ledger.read() as session:
        newest = recent_rounds(session, limit=1)[0]
        batch = batches(session)[0]
        out = [row for row in list_contracts(session, today) if row.here]
    assert (newest.on, newest.source) == (today, "typed")
    assert batch.jarred_on == today
    assert out == [], "every hive came home"
    assert check_ledger(sample_ledger).findings == ()
