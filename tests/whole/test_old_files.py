"""Ledgers of every earlier schema open, come to the present one, and are sound."""

from __future__ import annotations

import shutil
from contextlib import closing
from pathlib import Path

from alembic.config import Config
from alembic.script import ScriptDirectory

from beeledger.base.clock import FixedClock
from beeledger.database.checking.check import check_ledger
from beeledger.database.migrating import FOLDER
from beeledger.database.opening import open_ledger
from beeledger.database.schema import HEAD
from beeledger.operations.act import perform
from beeledger.operations.sites import NewSite, add_site
from beeledger.queries.counts import farm_size

KEPT = Path(__file__).parent.parent / "old_files"


def test_one_ledger_of_each_earlier_schema_is_kept() -> None:
    config = Config()
    config.set_main_option("script_location", str(FOLDER))
    revisions = {step.revision for step in ScriptDirectory.from_config(config).walk_revisions()}
    assert {file.stem for file in KEPT.glob("*.beeledger")} == revisions - {HEAD}


def test_each_kept_ledger_comes_to_the_present_schema_whole(tmp_path: Path, clock: FixedClock) -> None:
    for file in sorted(KEPT.glob("*.beeledger")):
        copy = tmp_path / file.name
        shutil.copyfile(file, copy)
        with closing(open_ledger(copy, clock, create=False)) as ledger:
            with ledger.read() as session:
                assert farm_size(session).colonies > 0, file.name
            assert check_ledger(ledger).clean, file.name
            perform(ledger, add_site, NewSite("A site of today"))
